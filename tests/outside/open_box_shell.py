"""Shell models of an open box on one line, in PyNite, from the case file alone.

What is modeled: floor, side walls and dividers as quadrilateral shells of their sheet thickness at their middle
surfaces; stiffeners as beams at their own centroid, tied by stiff links to the wall at both seams (top and bottom
of the tube), or to its top edge where they cap it; cross-members and end tubes as beams with their torsion constant
at their own depth. Each end is tied to the foot of the wall at both edges of the member, where it is welded; between
the ends the floor bears on the member, or is welded to both its edges (`welded_floor`). The hinge is two points, held
along the floor and square to it, free to turn in every way, one of them held across; they are tied to the member
at the head. The line is one truss bar from perch to hanger on the left side; the hanger is tied to the
stiffener over the width of its lug.

Axes are those of the box, so that no element is skewed: PyNite's X is s, its Y is n, its Z is -y; gravity leans with
the pitch. Loads are static and unfactored: steel and sheet where they are with the allowance on all of them, mats,
bed and water on the inside floor with the moment of their height, the person at the tail on the side of the line.
"""

import itertools
import math
from dataclasses import dataclass, field

import numpy as np
from Pynite import FEModel3D

from tests.outside.open_box_case import STEEL, Box, Cross

YOUNG, SHEAR, POISSON = 29.0e6, 11.2e6, 0.3
COMBOS = {"running": ("dead", "bed", "water"), "cleanout": ("dead", "bed", "person")}
SIDES = {"left": 1.0, "right": -1.0}
NEAR = 0.3  # mesh lines closer than this fall together [in]


def lines(wanted: list[float], *, largest: float) -> np.ndarray:
    """Mesh lines through all stations wanted, the first of those that nearly meet, none further apart than asked."""
    kept: list[float] = []
    for one in wanted:
        if all(abs(one - other) > NEAR for other in kept):
            kept.append(one)
    kept.sort()
    parts = [
        np.linspace(a, b, max(1, math.ceil((b - a) / largest - 1e-9)) + 1)[:-1] for a, b in itertools.pairwise(kept)
    ]
    return np.append(np.concatenate(parts), kept[-1])


def shares(at: np.ndarray) -> np.ndarray:
    """Length that belongs to each mesh line."""
    half = 0.5 * np.diff(at)
    return np.concatenate([half, [0.0]]) + np.concatenate([[0.0], half])


def nearest(at: np.ndarray, value: float) -> int:
    """The mesh line next to a station."""
    return int(np.argmin(np.abs(at - value)))


@dataclass
class Shell:
    """The model while it is being built.

    Attributes:
        stations: Mesh lines along the floor. [in]
        across: Mesh lines across, left positive, from right to left. [in]
        up: Mesh lines up the wall from the middle of the floor sheet. [in]
        loads: Force along s and n and moment about y by node and load case.
    """

    box: Box
    size: float
    welded_floor: bool
    model: FEModel3D = field(default_factory=FEModel3D)
    loads: dict[tuple[str, str], np.ndarray] = field(default_factory=dict)
    joints: list[tuple[float, list[Cross]]] = field(default_factory=list)
    links: int = 0

    def __post_init__(self) -> None:
        box = self.box
        for cross in sorted(box.crosses, key=lambda one: one.at):
            if self.joints and cross.at - self.joints[-1][0] < cross.section.width:
                self.joints[-1][1].append(cross)
            else:
                self.joints.append((cross.at, [cross]))
        wanted = [0.0, box.length]
        for at, members in self.joints:
            half = 0.5 * members[0].section.width
            wanted += [at - half, at + half, at]
        wanted += [box.hanger[0] + k * box.lug for k in (-0.5, 0.0, 0.5)]
        self.stations = lines([one for one in wanted if 0.0 <= one <= box.length], largest=self.size)
        self.half = 0.5 * (box.width + box.side_sheet)
        self.dividers = [box.width * (0.5 - k / box.channels) for k in range(1, box.channels)]
        inside = [-self.half, self.half, *self.dividers]
        inside += [s * box.hinge_half for s in (-1.0, 1.0) if box.hinge_half < self.half]
        self.across = lines(inside, largest=self.size)
        self.foot = -0.5 * box.sheet
        seams = [self.foot, box.side]
        if box.stiffener and not box.cap:
            seams.append(box.side - box.stiffener.depth)
        self.up = lines(seams, largest=self.size)

    def node(self, name: str, s: float, y: float, n: float) -> str:
        """A node in box coordinates, made once."""
        if name not in self.model.nodes:
            self.model.add_node(name, float(s), float(n), float(-y))
        return name

    def floor(self, i: int, j: int) -> str:
        """Node of the floor."""
        return self.node(f"F{i},{j}", self.stations[i], self.across[j], self.foot)

    def wall(self, i: int, k: int, side: float) -> str:
        """Node of a side wall; its lowest one belongs to the floor too."""
        if k == 0:
            return self.floor(i, len(self.across) - 1 if side > 0 else 0)
        return self.node(f"W{side:+.0f},{i},{k}", self.stations[i], side * self.half, self.up[k])

    def link(self, a: str, b: str) -> None:
        """Tie two nodes by a very stiff bar."""
        self.links += 1
        self.model.add_member(f"link{self.links}", a, b, "steel", "stiff")

    def load(self, node: str, case: str, weight: float, height: float = 0.0) -> None:
        """A weight that acts a height over a node."""
        down = np.array([math.sin(self.box.pitch), -math.cos(self.box.pitch)]) * weight
        kept = self.loads.setdefault((node, case), np.zeros(3))
        kept += [down[0], down[1], -height * down[0]]


def _sheet(shell: Shell, name: str, grid: list[list[str]], *, thickness: float, a: np.ndarray, b: np.ndarray) -> None:
    """Quadrilaterals over a grid of nodes, and their weight."""
    for i in range(len(a) - 1):
        for j in range(len(b) - 1):
            shell.model.add_quad(
                f"{name}{i},{j}", grid[i][j], grid[i + 1][j], grid[i + 1][j + 1], grid[i][j + 1], thickness, "steel"
            )
    heavy = np.outer(shares(a), shares(b)) * thickness * STEEL * (1.0 + shell.box.allowance)
    for i in range(len(a)):
        for j in range(len(b)):
            shell.load(grid[i][j], "dead", float(heavy[i, j]))


def _sheets(shell: Shell) -> None:
    box, s, y, n = shell.box, shell.stations, shell.across, shell.up
    floor = [[shell.floor(i, j) for j in range(len(y))] for i in range(len(s))]
    _sheet(shell, "floor", floor, thickness=box.sheet, a=s, b=y)
    for name, side in SIDES.items():
        grid = [[shell.wall(i, k, side) for k in range(len(n))] for i in range(len(s))]
        _sheet(shell, f"{name} wall", grid, thickness=box.side_sheet, a=s, b=n)
    for d, offset in enumerate(shell.dividers):
        j = nearest(y, offset)
        up = lines([shell.foot, box.divider_height], largest=shell.size)
        grid = [
            [shell.floor(i, j), *(shell.node(f"D{d},{i},{k}", s[i], y[j], up[k]) for k in range(1, len(up)))]
            for i in range(len(s))
        ]
        _sheet(shell, f"divider {d + 1} ", grid, thickness=box.divider_sheet, a=s, b=up)


def _stiffeners(shell: Shell) -> None:
    box, tube, s = shell.box, shell.box.stiffener, shell.stations
    if tube is None:
        return
    shell.model.add_section("stiffener", tube.area, tube.flat, tube.upright, tube.torsion)
    off = 0.0 if box.cap else 0.5 * (box.side_sheet + tube.width)
    n = box.side + tube.centroid if box.cap else box.side - tube.depth + tube.centroid
    seams = {len(shell.up) - 1} if box.cap else {len(shell.up) - 1, nearest(shell.up, box.side - tube.depth)}
    heavy = shares(s) * tube.heavy * STEEL * (1.0 + box.allowance)
    for name, side in SIDES.items():
        for i in range(len(s)):
            here = shell.node(f"S{side:+.0f},{i}", s[i], side * (shell.half + off), n)
            for k in seams:
                shell.link(here, shell.wall(i, k, side))
            shell.load(here, "dead", float(heavy[i]))
            if i:
                shell.model.add_member(f"{name} stiffener {i - 1}", f"S{side:+.0f},{i - 1}", here, "steel", "stiffener")


def _crosses(shell: Shell) -> None:
    """Members across: welded to the foot of the walls at both their edges, the floor bearing on them or welded too."""
    box, s, y = shell.box, shell.stations, shell.across
    for number, (at, members) in enumerate(shell.joints):
        first = members[0].section
        n = shell.foot - 0.5 * box.sheet - first.depth + first.centroid
        edges = [nearest(s, at + k * first.width) for k in (-0.5, 0.5)]
        middle = nearest(s, at)
        for j in range(len(y)):
            here = shell.node(f"C{number},{j}", s[middle], y[j], n)
            if j in (0, len(y) - 1) or shell.welded_floor:
                for i in edges:
                    shell.link(here, shell.floor(i, j))
            else:
                shell.model.add_spring(f"bearing {number},{j}", here, shell.floor(middle, j), 1e8)
        heavy = shares(y) * STEEL * (1.0 + box.allowance)
        for cross in members:
            one = cross.section
            shell.model.add_section(cross.name, one.area, one.flat, one.upright, one.torsion)
            for j in range(len(y)):
                shell.load(f"C{number},{j}", "dead", float(heavy[j] * one.heavy))
                if j:
                    shell.model.add_member(
                        f"{cross.name} {j - 1}", f"C{number},{j - 1}", f"C{number},{j}", "steel", cross.name
                    )


def _held(shell: Shell) -> None:
    """Hinge points and the line."""
    box, s, y, model = shell.box, shell.stations, shell.across, shell.model
    for name, side in SIDES.items():
        hinge = shell.node(f"{name} hinge", 0.0, side * box.hinge_half, box.hinge_n)
        model.def_support(hinge, True, True, side > 0, False, False, False)
        shell.link(hinge, f"C0,{nearest(y, side * box.hinge_half)}")
    at, half, n = box.hanger
    hanger = shell.node("hanger", at, half, n)
    within = [i for i in range(len(s)) if abs(s[i] - at) <= 0.5 * box.lug + NEAR]
    for i in within:
        shell.link(hanger, f"S+1,{i}" if box.stiffener else shell.wall(i, len(shell.up) - 1, 1.0))
    perch = shell.node("perch", *box.perch)
    model.def_support(perch, True, True, True, True, True, True)
    model.add_section("line", 1.0, 1.0, 1.0, 1.0)
    model.add_member("line", hanger, perch, "steel", "line")
    model.def_releases("line", Rxi=True, Ryi=True, Rzi=True, Ryj=True, Rzj=True)


def _contents(shell: Shell) -> None:
    box, s, y = shell.box, shell.stations, shell.across
    spread = np.outer(shares(s), shares(y))
    spread *= box.length * box.width / np.sum(spread)
    dry = box.width - (box.channels - 1) * box.divider_sheet
    for case, pressure, height in box.floor_load:
        part = 1.0 if case == "dead" else dry / box.width
        for i in range(len(s)):
            for j in range(len(y)):
                shell.load(shell.floor(i, j), case, float(pressure * part * spread[i, j]), height - shell.foot)
    for case, weight, at, off, height in box.lumps:
        i = min(nearest(s, at), len(s) - 2) if s[nearest(s, at)] <= at else max(nearest(s, at) - 1, 0)
        far = min(max((at - s[i]) / (s[i + 1] - s[i]), 0.0), 1.0)
        across = shares(y) / np.sum(shares(y)) if off is None else np.eye(len(y))[nearest(y, off)]
        for k, part in ((i, 1.0 - far), (i + 1, far)):
            for j in np.flatnonzero(across):
                shell.load(shell.floor(k, int(j)), case, float(weight * part * across[j]), height - shell.foot)


def build(box: Box, *, size: float, welded_floor: bool = False) -> Shell:
    """The model of a box with elements no larger than a size, loaded and not yet solved."""
    shell = Shell(box=box, size=size, welded_floor=welded_floor)
    model = shell.model
    model.add_material("steel", YOUNG, SHEAR, POISSON, 0.0)
    model.add_section("stiff", 10.0, 20.0, 20.0, 20.0)
    _sheets(shell)
    _stiffeners(shell)
    _crosses(shell)
    _held(shell)
    _contents(shell)
    for (node, case), (along, square, turn) in shell.loads.items():
        for direction, value in (("FX", along), ("FY", square), ("MZ", turn)):
            if value:
                model.add_node_load(node, direction, value, case)
    for name, cases in COMBOS.items():
        model.add_load_combo(name, dict.fromkeys(cases, 1.0))
    return shell


def solve(shell: Shell) -> None:
    """Solve, and hold the reactions against the loads."""
    model = shell.model
    model.analyze_linear(check_stability=False, check_statics=False)
    for name, cases in COMBOS.items():
        given = sum((load for (_, case), load in shell.loads.items() if case in cases), np.zeros(3))[:2]
        held = [model.nodes[one] for one in ("left hinge", "right hinge", "perch")]
        found = np.array([sum(node.RxnFX[name] for node in held), sum(node.RxnFY[name] for node in held)])
        if not np.allclose(found, -given, atol=1e-4 * float(np.abs(given).max())):
            raise ArithmeticError(f"{shell.box.name} {name}: {found} against {given}")

"""The hung box as a space frame while it is put together for an outside solver."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, dist, sin
from typing import Any, Literal

import numpy as np

from rigcheck.arrays.types import Array, Mask
from rigcheck.crosscheck.frame_box import SHEAR, YOUNG, Box, Tie
from rigcheck.crosscheck.without_plots import without_plots

Point = tuple[float, float, float]

CELLS = 8  # equal parts of a rail from hinge to hanger, and half as many beyond; M at every node is exact
SIDE = (1.0, -1.0)
RAILS = "LR"
HINGES = ("left hinge", "right hinge")
DOFS = ("DX", "DY", "DZ", "RX", "RY", "RZ")
_HANGERS = ("left hanger", "right hanger")
_TOUCH = 2e-5  # stations nearer than this share of the length are one node
_SAME = 1e-6  # heights and widths nearer than this share of the length are one
_RIGID = 3e4  # stiffness of an offset over that of the rail, both over their own length
_TIP = 3e6  # the same of one that carries a force at its tip alone, over that of the rail as a cantilever
_TAUT, _SLACK = 1e-6, 1e3  # least and most give of a line over that of the rail as a cantilever to the hanger
_HOP = 0.3  # rise of a detour round nodes that a member must not meet, over the spacing of the rails


@dataclass(frozen=True, slots=True)
class Held:
    """How a box hangs.

    Attributes:
        lines: Which lines hold it; "alike" where both pull with one force, however the box twists.
        rolls: Whether its hinge gives no roll couple, so that both groups carry alike.
        twist: What joins the rails: nothing, members as built, or members that do not twist.
        give: What one line gives. [in/lbf]
    """

    lines: Literal["both", "alike", "left", "right"]
    rolls: bool = False
    twist: Literal["none", "as built", "rigid"] = "as built"
    give: float = 0.0


def mesh(length: float, *, hanger: float, at: Sequence[float]) -> Array:
    """Stations of the nodes: every place where something begins, ends or acts, and equal parts between.

    Args:
        length: Of the rail. [in]
        hanger: Station of the hangers. [in]
        at: Further places that should be nodes, but not those nearer than a few hundred-thousandths of the length. [in]

    Returns:
        Shape (node,). [in]
    """
    kept = [0.0, hanger] if abs(length - hanger) <= _TOUCH * length else [0.0, hanger, length]
    even = [*np.linspace(0.0, hanger, CELLS + 1), *np.linspace(hanger, length, CELLS // 2 + 1)]
    for places, least in ((at, _TOUCH * length), (even, 0.25 * hanger / CELLS)):
        for s in places:
            if all(abs(s - other) > least for other in kept):
                kept.append(float(s))
    return np.sort(np.array(kept))


class Model:
    """The frame while it is put together: points by their box coordinates, the solver's axes those of the plant.

    Attributes:
        box: The box.
        nodes: Stations of the nodes of the rails, shape (node,). [in]
        cos: Of the floor above level.
        sin: The same.
        frame: The solver's model.
        places: Nodes by their box coordinates.
        grounded: Nodes that the plant holds, and whether it does along x, y and z.
        parts: Names of the parts of each rail, in order.
        members: Names of what joins the rails, empty for what twists nothing.
        pulls: For each line of the frame the share of its pull that is the tension of the left and the right line.
        foot: Node that takes what goes across the box.
    """

    def __init__(self, box: Box, *, nodes: Array, angle: float) -> None:
        with without_plots():  # needed for the second opinion only, and slow to load even so
            from Pynite import FEModel3D

        self.box, self.nodes = box, nodes
        self.cos, self.sin = cos(angle), sin(angle)
        self.frame: Any = FEModel3D()
        self.frame.add_material("steel", YOUNG, SHEAR, 0.3, 0.0)
        self.frame.add_section("rail", box.area, box.inertia, box.inertia, 1e-6 * box.inertia)
        self.places: dict[str, Point] = {}
        self.grounded: dict[str, Mask] = {}
        self.parts: tuple[list[str], list[str]] = ([], [])
        self.members: list[str] = []
        self.pulls: dict[str, Array] = {}
        self.foot = ""

    def node(self, name: str, place: Point) -> str:
        """A node at a point in box coordinates, made where there is none of this name; its name."""
        if name not in self.places:
            s, y, n = place[0], place[1], place[2] - self.box.hinge_n
            self.frame.add_node(name, s * self.cos - n * self.sin, y, s * self.sin + n * self.cos)
            self.places[name] = place
        return name

    def stiff(self, name: str, i: str, j: str, *, tip: bool = False, **released: bool) -> None:
        """A part that hardly bends, by its length against that of the rail; softer where only a force acts on its tip.

        What is stiffer than needed costs digits, and a short stub soon is.
        """
        share = dist(self.places[i], self.places[j]) / self.box.length
        area, twist = _RIGID * share * self.box.area, 2.0 * _RIGID * share * self.box.inertia
        inertia = (_TIP * share**3 if tip else _RIGID * share) * self.box.inertia
        self.frame.add_section(name, area, inertia, inertia, twist)
        self.frame.add_member(name, i, j, "steel", name)
        if released:
            self.frame.def_releases(name, **released)

    def ground(self, name: str, *dofs: str) -> None:
        """Let the plant hold a node in some directions."""
        self.frame.def_support(name, **{f"support_{dof}": dof in dofs for dof in DOFS})
        self.grounded[name] = np.array([dof in dofs for dof in DOFS[:3]])

    def rail_node(self, side: int, s: float) -> str:
        """The node of a rail at a station."""
        return f"{RAILS[side]}{int(np.abs(self.nodes - s).argmin())}"

    def level(self, n: float) -> bool:
        """Whether a height is that of the rails."""
        return abs(n - self.box.axis) <= _SAME * self.box.length


def _rails(model: Model) -> None:
    """Two rails that bend square to the floor and stretch; the floor keeps them from all other movement."""
    for side, letter in enumerate(RAILS):
        names = [
            model.node(f"{letter}{i}", (float(s), 0.5 * SIDE[side] * model.box.spacing, model.box.axis))
            for i, s in enumerate(model.nodes)
        ]
        for name in names:
            model.frame.def_support(name, support_DY=True, support_RX=True, support_RZ=True)
        for i, j in pairwise(names):
            model.frame.add_member(f"rail {i}", i, j, "steel", "rail")
            model.parts[side].append(f"rail {i}")


def _ties(model: Model, *, rigid: bool) -> None:
    """Cross-members and end tubes: ends turn with the rails, and free to tilt and to bend."""
    known = (*model.box.ties, *model.box.own) or (Tie(0.0, 0.0),)
    for k, tie in enumerate(known):
        name = f"tie {k}"
        if tie.twist == 0.0 and not rigid:
            model.members.append("")
            continue
        ends = [model.rail_node(side, tie.s) for side in range(2)]
        if model.level(model.box.hinge_n) or model.level(model.box.hanger[1]):
            # the solver joins a member to any node on its way, such as the middle of an arm: keep below them
            for side in range(2):
                s, y, n = model.places[ends[side]]
                ear = model.node(f"{name} {RAILS[side]} ear", (s, y, n - _HOP * model.box.spacing * (1.0 + 0.01 * k)))
                model.stiff(f"{name} {RAILS[side]} stub", ends[side], ear)
                ends[side] = ear
        hard = _RIGID * YOUNG * model.box.inertia * model.box.spacing / model.box.length
        model.frame.add_section(name, 1e-6, 1e-6, 1e-6, (hard if rigid else tie.twist) / SHEAR)
        model.frame.add_member(name, *ends, "steel", name)
        # a member that is stiff along itself would tie the rails across, which the floor does
        model.frame.def_releases(name, Dxi=True, Ryi=True, Rzi=True, Ryj=True, Rzj=True)
        model.members.append(name)


def _arm(model: Model, word: str, *, s: float, n: float, ends: float, names: tuple[str, str]) -> str:
    """A rigid arm across the box at a height: it rests on both rails along and square to the floor, and on the floor.

    Turned about its own length it goes with the left rail; nothing loads it so. Its foot in the plane of the floor is
    where forces across the box go out. The solver joins a member to every node on its way, so that what must not meet
    the ends of the rails goes round by a crown.

    Returns:
        The node of its foot.
    """
    middle, crown = model.node(f"{word} middle", (s, 0.0, n)), f"{word} crown"
    model.stiff(f"{word} post", middle, model.node(crown, (s, 0.0, n + _HOP * model.box.spacing)))
    for side, letter in enumerate(RAILS):
        y = 0.5 * SIDE[side] * model.box.spacing
        rest = model.rail_node(side, s)
        if not model.level(n):
            top = model.node(f"{word} {letter} top", (s, y, n))
            model.stiff(f"{word} {letter} stub", rest, top, tip=True)
            rest = top
        out = 0.5 * ends if abs(ends - model.box.spacing) > _SAME * model.box.length else abs(y)
        end = model.node(names[side], (s, SIDE[side] * out, n))
        model.stiff(f"{word} {letter} end", crown, end)
        # an end that stands on the way to the rail is where the way begins
        start = end if out < abs(y) else middle
        model.stiff(f"{word} {letter}", start, rest, tip=True, Dxj=True, Ryj=True, Rzj=True, Rxj=side == 1)
    if abs(n) <= _SAME * model.box.length:
        return middle
    model.stiff(f"{word} leg", middle, model.node(f"{word} foot", (s, 0.0, 0.0)), tip=True)
    return f"{word} foot"


def _floor(model: Model, *, hanger: str) -> None:
    """The floor in its own plane: stiff, held at the head arm, and pushed across by the foot of the hanger arm."""
    aside = 2.7 * model.box.spacing  # a force across may be handed over anywhere along its own line
    corner = model.node("floor corner", (0.0, aside, 0.0))
    far = model.node("floor far", (model.box.hanger[0], aside, 0.0))
    model.stiff("floor across", "head crown", corner)
    model.stiff("floor along", corner, far)
    model.frame.add_spring("floor push", hanger, far, _RIGID * YOUNG * model.box.area / model.box.length)


def _perch(model: Model, *, y: float) -> Point:
    x, z = model.box.perch
    return x * model.cos + z * model.sin, y, z * model.cos - x * model.sin + model.box.hinge_n


def _lines(model: Model, *, held: Held) -> None:
    """The lines as springs from hanger to perch."""
    box = model.box
    give = line_give(box, give=held.give)
    for side, name in enumerate(("left", "right")):
        if held.lines not in ("both", name):
            continue
        perch = model.node(f"{name} perch", _perch(model, y=0.5 * SIDE[side] * box.perch_spacing))
        model.ground(perch, *DOFS)
        model.frame.add_spring(f"{name} line", f"{name} hanger", perch, 1.0 / give)
        model.pulls[f"{name} line"] = np.array([side == 0, side == 1], dtype=np.float64)
    if held.lines == "alike":
        # two equal pulls are one in the middle; T sqrt(1 - u_y^2) each, and the give by the square of that share
        perch = model.node("perch", _perch(model, y=0.0))
        plane = dist(model.places[perch], model.places["hanger middle"])
        share = plane / float(np.hypot(plane, 0.5 * (box.perch_spacing - box.hanger_spacing)))
        model.ground(perch, *DOFS)
        model.frame.add_spring("line", "hanger middle", perch, 2.0 * share**2 / give)
        model.pulls["line"] = np.full(2, 0.5 / share)


def line_give(box: Box, *, give: float) -> float:
    """What a line gives in the frame: within what its numbers can hold beside the rail. [in/lbf]"""
    rail = box.hanger[0] ** 3 / (3.0 * YOUNG * box.inertia)
    return min(max(give, _TAUT * rail), _SLACK * rail)


def built(box: Box, *, held: Held, angle: float, nodes: Array) -> Model:
    """The whole frame but its loads.

    Args:
        box: The box.
        held: How it hangs.
        angle: Floor above level. [rad]
        nodes: Stations of the nodes, shape (node,). [in]
    """
    model = Model(box, nodes=nodes, angle=angle)
    _rails(model)
    if held.twist != "none":
        _ties(model, rigid=held.twist == "rigid")
    model.foot = _arm(model, "head", s=0.0, n=box.hinge_n, ends=box.hinge_spacing, names=HINGES)
    hanger = _arm(model, "hanger", s=box.hanger[0], n=box.hanger[1], ends=box.hanger_spacing, names=_HANGERS)
    _floor(model, hanger=hanger)
    _lines(model, held=held)
    for name in HINGES:
        model.ground(name, "DX") if held.rolls else model.ground(name, "DX", "DZ")
    model.ground("head middle", *(("DY", "DZ") if held.rolls else ("DY",)))
    return model

"""A box on a free center pivot as a space frame of its own, by PyNiteFEA: lines, pivot and rail moments fall out.

The frame is put together from the case file and the loads of a row alone, in the axes of the box. Rails bend; at every
station a bar that does not bend joins them and stands on the floor, a spine that goes aside but neither bends up nor
twists; members across twist. Two ropes run to fixed perches. The head is held at one point, free to turn about the axis
across and about the level line along the plant, and kept from swinging by a strut that does nothing else.
"""

import tomllib
from itertools import pairwise
from math import cos, sin
from pathlib import Path

import numpy as np
import pytest
from Pynite import FEModel3D

from rigcheck.analysis.across import beside, members_across, own_torsion
from rigcheck.analysis.solve import solve
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import BOUNDS

CASE = Path(__file__).parents[2] / "cases" / "teasel-cut.toml"
E, G = 29.0e6, 11.2e6
TINY = 1.0e-5
FAR = 40.0
STEP = 3.0
LOOSE = BOUNDS.index("loose")


def hung():
    """The shipped box with its hangers over its rails, so that a line pulls on one rail alone, and level in roll."""
    data = tomllib.loads(CASE.read_text(encoding="utf-8"))
    data["hanger"]["spacing"], data["perch"]["spacing"] = "19.1345 in", "25 in"
    data["hinge"]["off_level"] = "0 deg"
    return Rig(check_case(data))


class Frame:
    """X along the floor from the pivot, Y to the left, Z square to the floor; rails at the height of their axis."""

    def __init__(self, solution):
        rig, section, points = solution.rig, solution.section, solution.layout
        self.axis, self.b = float(section.axis), float(points.rail_spacing)
        every = beside(members_across(rig), own_torsion(rig, spacing=points.rail_spacing))
        length, self.hanger = float(points.length), float(points.hanger_s)
        places = {0.0, length, self.hanger, *(float(s) for s in every.at), *np.arange(0.0, length, STEP)}
        self.nodes = np.array([s for s, after in pairwise([*sorted(places), 1e9]) if after - s > 1e-6])
        self.frame = FEModel3D()
        self.frame.add_material("steel", E, G, 0.3, 0.0)
        inertia = float(section.inertia)
        self.hard = 200.0 * inertia
        self.frame.add_section("hard", self.hard, self.hard, self.hard, self.hard)
        self.frame.add_section("rail", float(section.area), inertia, TINY, TINY)
        self.frame.add_section("spine", TINY, TINY, self.hard, TINY)
        twist = np.zeros(len(self.nodes))
        for s, j in zip(every.at, every.torsion, strict=True):
            twist[self.near(s)] += float(j)
        self._across(twist)
        self._along()
        self._held(points)

    def near(self, s):
        return int(np.abs(self.nodes - s).argmin())

    def _across(self, twist):
        for i, s in enumerate(self.nodes):
            for name, y, z in (("L", self.b / 2, self.axis), ("R", -self.b / 2, self.axis), ("M", 0.0, self.axis),
                               ("F", 0.0, 0.0)):  # fmt: skip
                self.frame.add_node(f"{name}{i}", s, y, z)
            whole = i == self.near(self.hanger)  # the hangers go along with their rails
            self.frame.add_section(f"bar{i}", self.hard, self.hard, self.hard if whole else TINY, twist[i] + TINY)
            self.frame.add_section(f"post{i}", self.hard, self.hard, self.hard, TINY if whole else self.hard)
            for side in "LR":
                self.frame.add_member(f"bar{side}{i}", f"M{i}", f"{side}{i}", "steel", f"bar{i}")
            self.frame.add_member(f"post{i}", f"M{i}", f"F{i}", "steel", f"post{i}")

    def _along(self):
        for i in range(len(self.nodes) - 1):
            for side in "LR":
                self.frame.add_member(f"rail{side}{i}", f"{side}{i}", f"{side}{i + 1}", "steel", "rail")
            self.frame.add_member(f"spine{i}", f"F{i}", f"F{i + 1}", "steel", "spine")

    def _held(self, points):
        at, pitch, height = self.near(self.hanger), float(points.pitch), float(points.hinge_height)
        self.frame.add_section("rope", 1.0, TINY, TINY, TINY)
        x, z = float(points.perch_x), float(points.perch_z)
        self.perch = np.array([x * cos(pitch) - z * sin(pitch), 0.0, x * sin(pitch) + z * cos(pitch) + height])
        for side, sign in (("L", 1.0), ("R", -1.0)):
            self.frame.add_node(f"H{side}", self.hanger, sign * self.b / 2, float(points.hanger_n))
            self.frame.add_member(f"lug{side}", f"{side}{at}", f"H{side}", "steel", "hard")
            y = sign * float(points.perch_spacing) / 2
            self.frame.add_node(f"P{side}", self.perch[0], y, self.perch[2])
            self.frame.def_support(f"P{side}", *(True,) * 6)
            self.frame.add_member(f"rope{side}", f"H{side}", f"P{side}", "steel", "rope")
        self.frame.add_node("pin", 0.0, 0.0, height)
        self.frame.add_section("beam", self.hard, self.hard, self.hard, TINY)  # turns with neither rail
        self.frame.add_member("floor", "F0", "pin", "steel", "hard")  # what goes aside leaves by the floor
        for side, sign in (("L", 1.0), ("R", -1.0)):
            self.frame.add_node(f"A{side}", 0.0, sign * self.b / 2, height)
            self.frame.add_member(f"arm{side}", f"{side}0", f"A{side}", "steel", "hard")
            self.frame.add_member(f"beam{side}", "pin", f"A{side}", "steel", "beam")
        self.frame.def_support("pin", True, True, True)
        # level along the plant: stiff against swinging alone
        self.frame.add_node("far", -FAR * cos(pitch), 0.0, height - FAR * sin(pitch))
        self.frame.add_section("strut", TINY, TINY, self.hard, TINY)
        self.frame.add_member("strut", "far", "pin", "steel", "strut")
        self.frame.def_support("far", *(True,) * 6)

    def weigh(self, s, y, n, force):
        """A force at a point by the lever rule on both rails, its side part and the couple of that on the floor."""
        f_s, f_y, f_n = force
        i = int(np.clip(np.searchsorted(self.nodes, s, side="right") - 1, 0, len(self.nodes) - 2))
        t = (s - self.nodes[i]) / (self.nodes[i + 1] - self.nodes[i])
        for place, share in ((i, 1.0 - t), (i + 1, t)):
            self.frame.add_node_load(f"F{place}", "FY", share * f_y, "Case 1")
            for side, sign in (("L", 1.0), ("R", -1.0)):
                along = share * f_s * (0.5 + sign * y / self.b)
                self.frame.add_node_load(f"{side}{place}", "FX", along, "Case 1")
                self.frame.add_node_load(f"{side}{place}", "MY", along * (n - self.axis), "Case 1")
                up = share * (0.5 * f_n + sign * (y * f_n - n * f_y) / self.b)
                self.frame.add_node_load(f"{side}{place}", "FZ", up, "Case 1")

    def moments(self, side):
        """Moment about the axis across at the head end of every part of a rail."""
        found = []
        for i in range(len(self.nodes) - 1):
            piece = next(iter(self.frame.members[f"rail{side}{i}"].sub_members.values()))
            found.append((np.asarray(piece.T()).T @ np.asarray(piece.f("Combo 1")).reshape(12))[4])
        return np.array(found)

    def tension(self, side):
        piece = next(iter(self.frame.members[f"rope{side}"].sub_members.values()))
        return abs(float(np.asarray(piece.f("Combo 1")).reshape(12)[0]))

    def reaction(self, name, what):
        node = self.frame.nodes[name]
        return np.array([getattr(node, f"Rxn{what}{axis}")["Combo 1"] for axis in "XYZ"])

    def pin(self):
        """Force of pin and strut on the box, and their couple about the pin."""
        pin, far = (self.reaction(name, "F") for name in ("pin", "far"))
        arm = np.array([getattr(self.frame.nodes["far"], axis) for axis in "XYZ"])
        arm = arm - [getattr(self.frame.nodes["pin"], axis) for axis in "XYZ"]
        return pin + far, self.reaction("far", "M") + np.cross(arm, far)


def solved(solution, row):
    frame, one, pitch = Frame(solution), solution.rows[row], float(solution.layout.pitch)
    g_x, g_y, g_z = (float(part) for part in one.gravity)
    pull = np.array([g_x * cos(pitch) - g_z * sin(pitch), g_y, g_x * sin(pitch) + g_z * cos(pitch)])
    for strip in one.strips:
        start, end = float(strip.start), float(strip.end)
        cells = np.linspace(start, end, 1 + max(int((end - start) / 1.0), 3))
        for middle, wide in zip(0.5 * (cells[1:] + cells[:-1]), np.diff(cells), strict=True):
            t = (middle - start) / (end - start)
            w = float(strip.w_start) + t * (float(strip.w_end) - float(strip.w_start))
            n = float(strip.n_start) + t * (float(strip.n_end) - float(strip.n_start))
            frame.weigh(middle, float(strip.y), n, float(strip.gain) * w * wide * pull)
    for lump in one.lumps:
        frame.weigh(float(lump.s), float(lump.y), float(lump.n), float(lump.gain) * float(lump.weight) * pull)
    frame.frame.analyze_linear(check_stability=False)
    return frame


def ours(solution, row, nodes):
    pair, run = solution.bent.place(row, LOOSE), solution.bent.forces.curves
    found = []
    for side in range(2):
        start = np.broadcast_to(run.start, run.moment.shape[:-1])[pair, side]
        piece = np.searchsorted(start, nodes[:-1] + 1e-7, side="right") - 1
        t, d = nodes[:-1] - start[piece], run.moment[pair, side, piece]
        found.append(d[:, 0] + t * (d[:, 1] + t / 2.0 * (d[:, 2] + t / 3.0 * d[:, 3])))
    return np.array(found)


@pytest.mark.parametrize("state", ["packed", "lopsided", "cleanout"])
def test_lines_pivot_and_rails_are_those_of_a_space_frame(state):
    solution = solve(hung(), only=frozenset({"empty", state}))
    row = next(row for row, bound in solution.bent.pairs if bound == LOOSE and solution.rows[row].state == state)
    frame, at = solved(solution, row), (row, LOOSE)
    total = float(solution.demand.total[row])
    for k, side in enumerate("LR"):
        assert solution.demand.tension[(*at, k)] == pytest.approx(frame.tension(side), abs=2e-3 * total)
    hinge, pitch = solution.demand.hinge[at], float(solution.layout.pitch)
    x, y, z = hinge.sum(0)
    told = np.array([x * cos(pitch) - z * sin(pitch), y, x * sin(pitch) + z * cos(pitch)])
    force, turned = frame.pin()
    assert np.allclose(force, told, atol=3e-3 * total)
    couple = -0.5 * float(solution.layout.hinge_spacing) * (hinge[0, 0] - hinge[1, 0])
    assert turned[2] * cos(pitch) - turned[0] * sin(pitch) == pytest.approx(couple, abs=0.02 * total)
    moment, theirs = ours(solution, row, frame.nodes), np.array([frame.moments(side) for side in "LR"])
    assert np.abs(np.abs(theirs) - np.abs(moment)).max() < 0.01 * np.abs(moment).max()

"""A box whose sides run apart against a space frame of its own: skewed rails, members across, solved by PyNiteFEA.

The frame is put together here from points and sections alone. Rails bend and stretch along their own skewed axes and do
not twist; at every station a bar that does not bend joins them and rests on the floor at its own level, which keeps it
from going aside; members across twist. What the lines pull follows from the moments about the hinge, added up here.
"""

from dataclasses import replace
from itertools import pairwise
from math import cos, sin
from pathlib import Path

import numpy as np
import pytest
from Pynite import FEModel3D

from rigcheck.analysis.across import beside, members_across, own_torsion_along
from rigcheck.analysis.along import rails_along
from rigcheck.analysis.solve import solve
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.crosscheck.second_opinion import confirm
from rigcheck.loads.pieces import BOUNDS

CASE = Path(__file__).parent / "data" / "thistle-apron.toml"
E, G = 29.0e6, 11.2e6
HARD = 1.0e4  # stiffness of a rigid part over that of the rail
TINY = 1.0e-6


def stations_of(length, *, more, step=2.0):
    nodes = sorted({0.0, length, *np.arange(0.0, length, step), *(float(s) for s in more)})
    kept = [nodes[0]]
    for s in nodes[1:]:
        if s - kept[-1] > 1e-6:
            kept.append(s)
    return np.array(kept)


class Frame:
    """The frame in box coordinates: X along the floor, Y to the left, Z square to the floor."""

    def __init__(self, along, *, across, nodes, hinge_n):
        self.along, self.nodes = along, nodes
        self.frame = FEModel3D()
        self.frame.add_material("steel", E, G, 0.3, 0.0)
        first = along.pieces[0]
        hard = HARD * float(first.inertia)
        self.frame.add_section("hard", hard, hard, hard, hard)
        self.b = along.spacing(nodes)
        self.piece = [int(k) for k in along.place(nodes)]
        for k, piece in enumerate(along.pieces):
            inertia = float(piece.inertia)
            self.frame.add_section(f"rail {k}", float(piece.area), inertia, TINY, TINY)
        self._rails()
        self._bars(across)
        self._head(hinge_n)

    def rail_node(self, side, i, *, after=True):
        return f"{'LR'[side]}{i}{'' if after or (i, side) not in self.doubled else 'a'}"

    def _rails(self):
        self.doubled = set()
        pieces = self.along.pieces
        for side, sign in enumerate((1.0, -1.0)):
            for i, s in enumerate(self.nodes):
                k = self.piece[i]
                self.frame.add_node(f"{'LR'[side]}{i}", s, sign * self.b[i] / 2.0, float(pieces[k].axis))
                before = self.piece[i - 1] if i else k
                if before != k and abs(float(pieces[before].axis - pieces[k].axis)) > 1e-9:
                    name = f"{'LR'[side]}{i}a"
                    self.frame.add_node(name, s, sign * self.b[i] / 2.0, float(pieces[before].axis))
                    self.frame.add_member(f"step {name}", name, f"{'LR'[side]}{i}", "steel", "hard")
                    self.doubled.add((i, side))
            for i in range(len(self.nodes) - 1):
                ends = self.rail_node(side, i), self.rail_node(side, i + 1, after=False)
                self.frame.add_member(f"rail {'LR'[side]}{i}", *ends, "steel", f"rail {self.piece[i]}")

    def _bars(self, across):
        twist = dict.fromkeys(range(len(self.nodes)), 0.0)
        for s, j in zip(across.at, across.torsion, strict=True):
            twist[int(np.abs(self.nodes - s).argmin())] += float(j)
        hard = HARD * float(self.along.pieces[0].inertia)
        for i, s in enumerate(self.nodes):
            axis = float(self.along.pieces[self.piece[i]].axis)
            self.frame.add_node(f"M{i}", s, 0.0, axis)
            self.frame.add_node(f"F{i}", s, 0.0, 0.0)
            self.frame.add_section(f"bar {i}", hard, hard, TINY, twist[i] + TINY)
            for side in range(2):
                self.frame.add_member(f"bar {i}{'LR'[side]}", f"M{i}", f"{'LR'[side]}{i}", "steel", f"bar {i}")
            self.frame.add_member(f"post {i}", f"M{i}", f"F{i}", "steel", "hard")
            self.frame.def_support(f"F{i}", support_DY=True, support_RZ=True)

    def _head(self, hinge_n):
        for side, sign in enumerate((1.0, -1.0)):
            self.frame.add_node(f"pin{side}", 0.0, sign * self.b[0] / 2.0, hinge_n)
            self.frame.add_member(f"ear{side}", f"{'LR'[side]}0", f"pin{side}", "steel", "hard")
            self.frame.def_support(f"pin{side}", support_DX=True, support_DZ=True)

    def push(self, s, *, side, f_s, f_n, height):
        """A force on a rail at a height over the floor, between two nodes by the lever rule."""
        i = int(np.clip(np.searchsorted(self.nodes, s, side="right") - 1, 0, len(self.nodes) - 2))
        t = (s - self.nodes[i]) / (self.nodes[i + 1] - self.nodes[i])
        for place, share in ((i, 1.0 - t), (i + 1, t)):
            if share < 1e-12:
                continue
            axis = float(self.along.pieces[self.piece[place]].axis)
            node = f"{'LR'[side]}{place}"
            self.frame.add_node_load(node, "FX", share * f_s, "Case 1")
            self.frame.add_node_load(node, "FZ", share * f_n, "Case 1")
            self.frame.add_node_load(node, "MY", share * f_s * (height - axis), "Case 1")

    def solved(self):
        self.frame.analyze_linear(check_stability=False)
        return self

    def moments(self, side):
        """Moment about the axis across at the head end of every part of a rail, size and sign of sagging."""
        found = []
        for i in range(len(self.nodes) - 1):
            member = self.frame.members[f"rail {'LR'[side]}{i}"]
            piece = next(iter(member.sub_members.values()))
            turned = np.asarray(piece.T()).T @ np.asarray(piece.f("Combo 1")).reshape(12)
            found.append(turned[4])
        return np.array(found)

    def hinge(self, side):
        node = self.frame.nodes[f"pin{side}"]
        return node.RxnFX["Combo 1"], node.RxnFZ["Combo 1"]


def row_of(solution, state, bound):
    for row, one in solution.bent.pairs:
        if solution.rows[row].state == state and BOUNDS[one] == bound:
            return row, one
    raise LookupError((state, bound))


def framed(solution, row, lines):
    """The frame of one row, its loads as they come from the row, its lines pulling what is given."""
    rig, points = solution.rig, solution.layout
    along = rails_along(rig)
    members = members_across(rig)
    every = beside(members, own_torsion_along(rig, along=along))
    assert every.at.shape[-1] == members.at.shape[-1] + 4  # places of the own torsion of the box
    more = [*every.at, *(float(piece.start) for piece in along.pieces), float(points.hanger_s)]
    frame = Frame(
        along, across=every, nodes=stations_of(float(along.length), more=more), hinge_n=float(points.hinge_height)
    )
    one = solution.rows[row]
    angle = float(one.fold) - float(points.pitch)
    g_x, g_y, g_z = (float(part) for part in one.gravity)
    g_s, g_n = g_x * cos(angle) + g_z * sin(angle), g_z * cos(angle) - g_x * sin(angle)
    turn = 0.0

    def weigh(s, y, n, weight):
        nonlocal turn
        b = float(along.spacing(np.array([s]))[0])
        for side, sign in enumerate((1.0, -1.0)):
            f_n = 0.5 * weight * g_n + sign * weight * (y * g_n - n * g_y) / b
            f_s = weight * g_s * (0.5 + sign * y / b)
            frame.push(s, side=side, f_s=f_s, f_n=f_n, height=n)
        x, z = (
            s * cos(angle) - (n - float(points.hinge_height)) * sin(angle),
            s * sin(angle) + (n - float(points.hinge_height)) * cos(angle),
        )
        turn += weight * (-x * g_z + z * g_x)

    for strip in one.strips:
        start, end = float(strip.start), float(strip.end)
        cells = np.linspace(start, end, 1 + max(int((end - start) / 0.5), 4))
        for a, b in pairwise(cells):
            middle = 0.5 * (a + b)
            t = (middle - start) / (end - start)
            w = float(strip.w_start) + t * (float(strip.w_end) - float(strip.w_start))
            n = float(strip.n_start) + t * (float(strip.n_end) - float(strip.n_start))
            weigh(middle, float(strip.y), n, float(strip.gain) * w * (b - a))
    for lump in one.lumps:
        weigh(float(lump.s), float(lump.y), float(lump.n), float(lump.gain) * float(lump.weight))
    # the line from hanger to perch, in box coordinates
    x, z = float(points.perch_x), float(points.perch_z)
    perch = np.array([x * cos(angle) + z * sin(angle), 0.5 * float(points.perch_spacing),
                      z * cos(angle) - x * sin(angle) + float(points.hinge_height)])  # fmt: skip
    hanger = np.array([float(points.hanger_s), 0.5 * float(points.hanger_spacing), float(points.hanger_n)])
    u = (perch - hanger) / np.linalg.norm(perch - hanger)
    arm = hanger[0] * u[2] - (hanger[2] - float(points.hinge_height)) * u[0]
    pull = turn / arm  # both lines together, sum of moments about the hinge
    b = float(along.spacing(np.array([hanger[0]]))[0])
    left, right = (share * pull for share in lines)
    for side, sign in enumerate((1.0, -1.0)):
        f_s = (left + right) * u[0] * 0.5 + sign * (left - right) * hanger[1] * u[0] / b
        roll = (left - right) * (hanger[1] * u[2] - hanger[2] * u[1])
        f_n = (left + right) * u[2] * 0.5 + sign * roll / b
        frame.push(hanger[0], side=side, f_s=f_s, f_n=f_n, height=hanger[2])
    return frame.solved(), pull


def ours(solution, row, bound, nodes):
    """Our moments about the neutral axis just beyond each node but the last, of both rails."""
    pair = solution.bent.place(row, bound)
    run = solution.bent.forces.curves
    found = []
    for side in range(2):
        start = np.broadcast_to(run.start, run.moment.shape[:-1])[pair, side]
        piece = np.searchsorted(start, nodes[:-1] + 1e-7, side="right") - 1
        t = nodes[:-1] - start[piece]
        d = run.moment[pair, side, piece]
        found.append(d[:, 0] + t * (d[:, 1] + t / 2.0 * (d[:, 2] + t / 3.0 * d[:, 3])))
    return np.array(found)


@pytest.mark.parametrize(
    ("state", "bound", "lines"),
    [("packed", "stiff", (0.5, 0.5)), ("empty", "left", (1.0, 0.0)), ("running", "right", (0.0, 1.0)),
     ("lopsided", "stiff", (0.5, 0.5))],
)  # fmt: skip
def test_line_hinge_and_rail_moments_of_a_flared_box_are_those_of_a_space_frame(state, bound, lines):
    solution = solve(Rig(read_case(CASE)), only=frozenset({state}))
    row, one = row_of(solution, state, bound)
    frame, pull = framed(solution, row, lines)
    assert solution.demand.total[row] == pytest.approx(pull, rel=2e-4)
    moment = ours(solution, row, one, frame.nodes)
    theirs = np.array([frame.moments(side) for side in range(2)])
    largest = np.abs(moment).max()
    assert np.abs(np.abs(theirs) - np.abs(moment)).max() < 0.002 * largest
    pair = solution.bent.place(row, one)
    for side in range(2):
        f_s, f_n = frame.hinge(side)
        assert solution.bent.forces.hinge_s[pair, side] == pytest.approx(f_s, abs=0.001 * pull)
        assert solution.bent.forces.hinge_n[pair, side] == pytest.approx(f_n, abs=0.001 * pull)


MOVED = {"sag", "tail drop", "roll"}


@pytest.mark.parametrize(("state", "bound"), [("empty", "left"), ("lopsided", "limp"), ("packed", "loose")])
def test_the_frame_of_a_confirmation_is_askew_too(state, bound):
    """What goes through the box to a fifth of a percent, what moves in it to half; undo either and it is not."""
    solution = solve(Rig(read_case(CASE)), only=frozenset({state}))
    row, one = row_of(solution, state, bound)
    found = confirm(solution, state=row, bound=one)
    assert found.ok
    assert max(pair.difference for pair in found.comparisons if pair.quantity not in MOVED) < 0.002
    assert {pair.quantity for pair in found.comparisons} >= {"line tension", "hinge force", "peak rail moment", *MOVED}
    less = replace(solution, sag=replace(solution.sag, tail_deflection=0.97 * solution.sag.tail_deflection))
    assert not confirm(less, state=row, bound=one).ok

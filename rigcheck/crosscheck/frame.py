"""The hung box as a space frame under its loads, solved by an outside library, and a check of its answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.crosscheck.frame_box import Box, Loading
from rigcheck.crosscheck.frame_built import built
from rigcheck.crosscheck.frame_model import DOFS, HINGES, RAILS, SIDE, Held, Model

_FAR = 1e6  # movement over the length of the box: small movements are taken, but soft parts move far
_AT_NODE = 1e-9  # share of the length within which a load stands at a node
_EXACT = 2e-6  # share of all loads from which on what an answer leaves over is solved for once more
_LOADS = ("FX", "FY", "FZ", "MX", "MY", "MZ")
_LEFT_OVER = 1e-4  # share of all loads that a sound answer may leave over


class FrameError(Exception):
    """The outside solver's answer does not satisfy its own equations, or the frame is a mechanism."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What the frame says of one set of loads.

    Attributes:
        tension: Of the left and of the right line, shape (2,); below zero where a line would have to push. [lbf]
        hinge: Plant on box, left and right, plant axes x, y, z, shape (2, 3). [lbf]
        moment: Of each rail at both ends of every part, sagging positive, shape (2, part, 2). [lbf*in]
        peak: Its largest size anywhere, shape (2,). [lbf*in]
        fall: Of each rail square to the floor, downward, shape (2, node). [in]
        slope: Of that fall along the floor, shape (2, node). [rad]
        torque: That each member puts on the left rail, sagging beyond it where positive, shape (member,). [lbf*in]
        imbalance: Largest force, or moment over length, that the frame leaves over. [lbf]
        whole: Sum of the sizes of all loads. [lbf]
    """

    tension: Array
    hinge: Array
    moment: Array
    peak: Array
    fall: Array
    slope: Array
    torque: Array
    imbalance: float
    whole: float

    def proven(self) -> Answer:
        """The answer itself.

        Raises:
            FrameError: If it leaves more over than a ten-thousandth of all loads.
        """
        if not self.imbalance <= _LEFT_OVER * self.whole:
            raise FrameError(f"the frame leaves {self.imbalance:.3g} lbf of {self.whole:.3g} lbf over")
        return self


def _load(model: Model, loads: Loading, *, case: str) -> Array:
    """Forces to the rails by the lever rule, where they act; what goes across, into the floor.

    Returns:
        By how much the middle of each part hangs through over the line between its ends, shape (2, part). [lbf*in]
    """
    box, nodes = model.box, model.nodes
    places, which = np.unique(loads.s, return_inverse=True)
    cell = np.clip(np.searchsorted(nodes, places, side="right") - 1, 0, len(nodes) - 2)
    span = nodes[cell + 1] - nodes[cell]
    x = np.clip(places - nodes[cell], 0.0, span)
    along, across, square = loads.force.T
    bulge = np.zeros((2, len(nodes) - 1))
    apart = box.apart(loads.s)
    owner = [box.part_at(float(s)) for s in nodes[:-1]]
    axis = np.array([owner[one].axis for one in cell])[which]
    longer = np.array([one.longer for one in owner])
    for side, sign in enumerate(SIDE):
        f_s = along * (0.5 + sign * loads.y / apart)
        f_n = 0.5 * square + sign * (loads.y * square - loads.n * across) / apart
        summed = [np.bincount(which, weights=one) for one in (f_s, f_n, f_s * (loads.n - axis))]
        for part, at, free, *values in zip(cell, x, span - x, *summed, strict=True):
            if min(at, free) > _AT_NODE * box.length:
                directions = ("Fx", "Fz", "My") if box.plain else ("FX", "FZ", "MY")
                if not box.plain:  # a rail askew has axes of its own
                    f_x, f_z, couple = values
                    values = [f_x * model.cos - f_z * model.sin, f_x * model.sin + f_z * model.cos, couple]
                place = float(at) if box.plain else float(at * longer[part])
                for direction, value in zip(directions, values, strict=True):
                    if value:
                        model.frame.add_member_pt_load(model.parts[side][part], direction, value, place, case)
                continue
            f_x, f_z, couple = values  # what stands at a node, so that all its jumps are one
            node = model.end_of(side, part=part, far=bool(at > free))
            turned = f_x * model.cos - f_z * model.sin, f_x * model.sin + f_z * model.cos
            for direction, value in zip(("FX", "FZ", "MY"), (*turned, couple), strict=True):
                if value:
                    model.frame.add_node_load(node, direction, value, case)
        # two points that stand for an even load have P t (1 - t) = P / 6 each, and an even load hangs by w l^2 / 8
        np.add.at(bulge[side], cell, -0.75 * summed[1] * x * (1.0 - x / span) * longer[cell])
    model.frame.add_node_load(model.foot, "FY", float(across.sum()), case)
    yaw = float((across * loads.s).sum())  # about the normal of the floor
    model.frame.add_node_load(model.foot, "MX", -yaw * model.sin, case)
    model.frame.add_node_load(model.foot, "MZ", yaw * model.cos, case)
    return bulge


@dataclass(frozen=True, slots=True)
class _Found:
    """The solver's answer to one set of loads, the first and what was added to it.

    Attributes:
        cases: Names of the load sets that make it up.
        ends: Forces on both ends of every piece, by its name, shape (12,).
        reaction: What the plant puts on each grounded node, plant axes, shape (3,). [lbf]
        left: What every other node leaves over, forces and moments, shape (6,).
    """

    cases: tuple[str, ...]
    ends: dict[str, Array]
    reaction: dict[str, Array]
    left: dict[str, Array]

    def moved(self, model: Model, nodes: Sequence[str]) -> Array:
        """Movements and turns of nodes, shape (node, 6)."""
        every = [model.frame.nodes[name] for name in nodes]
        return np.array([[sum(getattr(node, dof)[case] for case in self.cases) for dof in DOFS] for node in every])


def _found(model: Model, *, cases: tuple[str, ...]) -> _Found:
    """Put an answer back: what every node leaves over, and what the plant therefore holds."""
    left = {name: np.zeros(6) for name in model.places}
    for name, node in model.frame.nodes.items():
        for direction, value, of in node.NodeLoads:
            if of == cases[0]:
                left[name][_LOADS.index(direction)] += value
    parts = [piece for member in model.frame.members.values() for piece in member.sub_members.values()]
    ends = {}
    for piece in (*parts, *model.frame.springs.values()):
        force = np.asarray(sum(piece.f(case) for case in cases), dtype=np.float64).reshape(12)
        ends[piece.name] = force
        turned = np.asarray(piece.T(), dtype=np.float64).T @ force
        left[piece.i_node.name] -= turned[:6]
        left[piece.j_node.name] -= turned[6:]
    reaction = {}
    for name, held in model.grounded.items():
        reaction[name] = np.where(held, -left[name][:3], 0.0)
        left[name][:3][held] = 0.0
    return _Found(cases, ends, reaction, left)


def _left_over(model: Model, loads: Loading, *, found: _Found) -> float:
    """The largest force, or moment over length, that a node or the whole frame leaves over under the loads as given."""
    length = model.box.length
    scale = np.array([1.0] * 3 + [1.0 / length] * 3)
    worst = max(float(np.abs(left * scale).max()) for left in found.left.values())
    place = np.stack([loads.s, loads.y, loads.n - model.box.hinge_n], axis=-1)
    turn = np.array([[model.cos, 0.0, -model.sin], [0.0, 1.0, 0.0], [model.sin, 0.0, model.cos]])
    force, moment = turn @ loads.force.sum(0), turn @ np.cross(place, loads.force).sum(0)
    for name, taken in found.reaction.items():
        node = model.frame.nodes[name]
        force = force + taken
        moment = moment + np.cross([node.X, node.Y, node.Z], taken)
    return max(worst, float(np.abs(force).max()), float(np.abs(moment).max()) / length)


def _solve(model: Model) -> None:
    try:
        # a few hundred equations: solving them takes less than loading a library for sparse ones
        model.frame.analyze_linear(check_stability=False, check_statics=False, sparse=False)
    except Exception as error:  # the solver raises nothing narrower
        raise FrameError(f"the frame could not be solved: {error}") from error
    moved = np.array([[getattr(node, dof)[case] for dof in DOFS[:3] for case in model.frame.load_combos]
                      for node in model.frame.nodes.values()])  # fmt: skip
    if not np.isfinite(moved).all() or np.abs(moved).max() > _FAR * model.box.length:
        raise FrameError("the frame moves without end: it is a mechanism")


def _settled(model: Model, loads: Mapping[str, Loading]) -> dict[str, _Found]:
    """Answers to all sets of loads; what one leaves over by rounding is put on again as a load and added.

    Stiff offsets beside soft lines cost digits, and this brings them back.
    """
    _solve(model)
    found = {case: _found(model, cases=(case,)) for case in loads}
    poor = [case for case in loads if _left_over(model, loads[case], found=found[case]) > _EXACT * _whole(loads[case])]
    for case in poor:
        rest = f"{case} rest"
        model.frame.add_load_combo(rest, {rest: 1.0})
        for name, left in found[case].left.items():
            for direction, value in zip(_LOADS, left, strict=True):
                if value:
                    model.frame.add_node_load(name, direction, float(value), rest)
    if poor:
        _solve(model)
        found.update({case: _found(model, cases=(case, f"{case} rest")) for case in poor})
    return found


def _whole(loads: Loading) -> float:
    """Sum of the sizes of all loads. [lbf]"""
    return float(np.abs(loads.force).sum())


def _peak(moment: Array, *, bulge: Array) -> Array:
    """Largest moment of each rail: a parabola in every part, by its ends and what hangs through between them."""
    start, rise = moment[..., 0], moment[..., 1] - moment[..., 0]
    curved = np.abs(bulge) > 0.0
    t = np.clip(np.where(curved, 0.5 + rise / np.where(curved, 8.0 * bulge, 1.0), 0.0), 0.0, 1.0)
    inside = start + rise * t + 4.0 * bulge * t * (1.0 - t)
    return np.asarray(np.maximum(np.abs(moment).max((-2, -1)), np.abs(inside).max(-1)))


def _answer(model: Model, loads: Loading, *, found: _Found, bulge: Array) -> Answer:
    pulled = {name: -found.ends[name][0] * share for name, share in model.pulls.items()}
    groups = np.array([found.reaction[name] for name in (*HINGES, "head middle")])
    hinge = groups[:2] + np.array([0.0, 0.0, 0.5]) * groups[2]  # where the middle carries, for both groups alike
    # thrust bears on the group that the box is pushed against
    hinge[:, 1] = min(groups[2, 1], 0.0), max(groups[2, 1], 0.0)
    moved = np.array([found.moved(model, [f"{x}{i}" for i in range(len(model.nodes))]) for x in RAILS])
    ends = np.array([[found.ends[f"{part}a"][[4, 10]] for part in one] for one in model.parts])
    moment = ends * np.array([1.0, -1.0])
    return Answer(
        tension=sum(pulled.values(), np.zeros(2)),
        hinge=hinge,
        moment=moment,
        peak=_peak(moment, bulge=bulge),
        fall=moved[..., 0] * model.sin - moved[..., 2] * model.cos,
        slope=moved[..., 4],
        torque=np.array([found.ends[f"{name}a"][3] if name else 0.0 for name in model.members]),
        imbalance=_left_over(model, loads, found=found),
        whole=_whole(loads),
    )


def solve_frame(box: Box, *, held: Held, angle: float, nodes: Array, loads: Mapping[str, Loading]) -> dict[str, Answer]:
    """Rails, members across, rigid offsets and lines under several sets of loads.

    Rails bend square to the floor and stretch along it, and members twist: a grillage. In its own plane the floor is
    stiff, and hands what goes across the box to the hinge at its own height.

    Args:
        box: The box.
        held: How it hangs.
        angle: Floor above level. [rad]
        nodes: Stations of the nodes, shape (node,). [in]
        loads: Sets of loads by their names.

    Returns:
        An answer for each set; `proven` says whether it satisfies equilibrium.

    Raises:
        FrameError: If the frame is a mechanism.
    """
    model = built(box, held=held, angle=angle, nodes=nodes)
    model.frame.load_combos.clear()
    bulges = {}
    for case, one in loads.items():
        model.frame.add_load_combo(case, {case: 1.0})
        bulges[case] = _load(model, one, case=case)
    found = _settled(model, loads)
    return {case: _answer(model, one, found=found[case], bulge=bulges[case]) for case, one in loads.items()}

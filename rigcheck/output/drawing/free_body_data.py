"""The free body of the governing case: all forces on the box in the row and sharing in which it is used most."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import LEGAL, SIDES, Worst, bound_names
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment
from rigcheck.output.drawing.data import box_pose
from rigcheck.output.drawing.folded_body_data import folded_forces, vector
from rigcheck.parts.tie_down.ways import RoadWay
from rigcheck.statics.balance import Balance
from rigcheck.statics.geometry import SIDE
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

_NO_FORCES = (RoadWay.NUMBER, RoadWay.SUM, RoadWay.HOLD_DOWN)
"""Rules of the road that count or add up, and are of no free body."""


def governing_body(assessment: Assessment, *, scale: Scale) -> Plain | None:
    """Forces on the box in the governing case, unfactored and amplified, each side by itself.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        Plain dict; None where no row has an answer. Under `folded` stand the forces of a parked or hauled box, None for
        one that hangs. Where what governs is no force on the box, such as a number of tie-downs or a legal height, it
        is the highest check of forces, and `governs` is false.
    """
    solution = assessment.solution
    usable = [one for one in assessment.worst if float(one.utilization) >= 0.0 and _has_body(solution, one)]
    if not usable:
        return None
    top = max(usable, key=lambda one: float(one.utilization))
    row, bound = int(top.state), int(top.bound)
    name, on = bound_names(solution.rows[row].ultimate)[bound]
    on_road = row >= solution.before_road
    return {
        "part": top.check.part,
        "mode": top.check.mode,
        "utilization": ratio(top.utilization),
        "governs": top is assessment.worst[int(assessment.governing)],
        "state": solution.rows[row].state,
        "variant": scale.variant(solution.rows[row].variant),
        "bound": None if on_road else name,
        "on": None if on_road else on,
        "side": None if on_road else SIDES[int(top.side)],
        "dynamic_factor": solution.rows[row].factor,
        "fold_deg": scale.one(solution.fold[row], dimension="angle"),
        "weight": scale.one(solution.service.weight[row], dimension="force"),
        "pose": box_pose(solution.layout, fold=float(solution.fold[row]), scale=scale, rig=solution.rig),
        "lever_arm": scale.one(solution.pose.arm[row], dimension="length"),
        "cg": _center(solution, row=row, scale=scale),
        "unfactored": None if on_road else _forces(solution, solution.held, at=(row, bound), scale=scale),
        "amplified": None if on_road else _forces(solution, solution.demand, at=(row, bound), scale=scale),
        "loads": None if on_road else _loads(solution, at=(row, bound), scale=scale),
        "folded": folded_forces(solution, row=row, scale=scale) if on_road else None,
    }


def _has_body(solution: Solution, one: Worst) -> bool:
    """Whether a check is of forces on the box in a row where all of them are known."""
    row, hung = int(one.state), solution.before_road
    if one.check.group == LEGAL or one.check.way in _NO_FORCES:
        return False
    if row < hung:
        return not bool(solution.held.dead[row])
    return solution.road is not None and not bool(solution.road.restraint.unrestrained[row - hung])


def _center(solution: Solution, *, row: int, scale: Scale) -> list[float | None]:
    center, n_h = solution.service.center[row], float(solution.layout.hinge_height)
    along, normal = solution.pose.along[row], solution.pose.normal[row]
    return [scale.one(center[0] * along[i] + (center[2] - n_h) * normal[i], dimension="length") for i in range(2)]


def _line_vectors(solution: Solution, found: Balance, *, at: tuple[int, int]) -> Array:
    """Pull of each line on the box in plant axes, shape (side, 3). [lbf]"""
    row, pose = at[0], solution.pose
    ways = np.stack([np.array([pose.ux[row], pose.uy[row] * side, pose.uz[row]]) for side in SIDE])
    return np.asarray(found.tension[at][:, None] * ways)


def _forces(solution: Solution, found: Balance, *, at: tuple[int, int], scale: Scale) -> Plain:
    lines, hinge = _line_vectors(solution, found, at=at), found.hinge[at]
    return {
        "tension": {side: scale.one(found.tension[at][i], dimension="force") for i, side in enumerate(SIDES)},
        "line": {side: vector(lines[i], scale=scale) for i, side in enumerate(SIDES)},
        "hinge": {side: vector(hinge[i], scale=scale) for i, side in enumerate(SIDES)},
    }


def _loads(solution: Solution, *, at: tuple[int, int], scale: Scale) -> Plain:
    """The unfactored loads, and what their sum with lines and hinge leaves."""
    row = at[0]
    load, turn = solution.service.force[row], float(solution.service.moment[row, 1])
    lines = _line_vectors(solution, solution.held, at=at)
    held = -float(solution.held.total[row]) * float(solution.pose.arm[row])
    left = load + lines.sum(0) + solution.held.hinge[at].sum(0)
    return {
        "force": vector(load, scale=scale),
        "moment": scale.one(turn, dimension="moment"),
        "line_moment": scale.one(held, dimension="moment"),
        "residual": {**vector(left, scale=scale), "moment": scale.one(turn + held, dimension="moment")},
    }

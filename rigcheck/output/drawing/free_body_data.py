"""The free body of the governing case: all forces on the box in the row and sharing in which it is used most."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import SIDES, bound_names
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment
from rigcheck.output.drawing.data import box_pose
from rigcheck.statics.balance import Balance
from rigcheck.statics.geometry import SIDE
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

_AXES = ("x", "y", "z")


def governing_body(assessment: Assessment, *, scale: Scale) -> Plain | None:
    """Forces on the box in the governing case, unfactored and amplified, each side by itself.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        Plain dict; None where no row in which the box hangs has an answer. Where what governs is no row of the hung
        box, such as one of the road, it is the highest check of the hung box, and `governs` is false.
    """
    solution = assessment.solution
    hung = len(solution.life.loads.rows)
    usable = [
        one
        for one in assessment.worst
        if float(one.utilization) >= 0.0 and int(one.state) < hung and not solution.held.dead[int(one.state)]
    ]
    if not usable:
        return None
    top = max(usable, key=lambda one: float(one.utilization))
    row, bound = int(top.state), int(top.bound)
    name, on = bound_names(solution.rows[row].ultimate)[bound]
    return {
        "part": top.check.part,
        "mode": top.check.mode,
        "utilization": ratio(top.utilization),
        "governs": top is assessment.worst[int(assessment.governing)],
        "state": solution.rows[row].state,
        "variant": scale.variant(solution.rows[row].variant),
        "bound": name,
        "on": on,
        "side": SIDES[int(top.side)],
        "dynamic_factor": solution.rows[row].factor,
        "fold_deg": scale.one(solution.fold[row], dimension="angle"),
        "weight": scale.one(solution.service.weight[row], dimension="force"),
        "pose": box_pose(solution.layout, fold=float(solution.fold[row]), scale=scale, rig=solution.rig),
        "lever_arm": scale.one(solution.pose.arm[row], dimension="length"),
        "cg": _center(solution, row=row, scale=scale),
        "unfactored": _forces(solution, solution.held, at=(row, bound), scale=scale),
        "amplified": _forces(solution, solution.demand, at=(row, bound), scale=scale),
        "loads": _loads(solution, at=(row, bound), scale=scale),
    }


def _vector(values: Array, *, scale: Scale) -> Plain:
    return {axis: scale.one(value, dimension="force") for axis, value in zip(_AXES, values, strict=True)}


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
        "line": {side: _vector(lines[i], scale=scale) for i, side in enumerate(SIDES)},
        "hinge": {side: _vector(hinge[i], scale=scale) for i, side in enumerate(SIDES)},
    }


def _loads(solution: Solution, *, at: tuple[int, int], scale: Scale) -> Plain:
    """The unfactored loads, and what their sum with lines and hinge leaves."""
    row = at[0]
    load, turn = solution.service.force[row], float(solution.service.moment[row, 1])
    lines = _line_vectors(solution, solution.held, at=at)
    held = -float(solution.held.total[row]) * float(solution.pose.arm[row])
    left = load + lines.sum(0) + solution.held.hinge[at].sum(0)
    return {
        "force": _vector(load, scale=scale),
        "moment": scale.one(turn, dimension="moment"),
        "line_moment": scale.one(held, dimension="moment"),
        "residual": {**_vector(left, scale=scale), "moment": scale.one(turn + held, dimension="moment")},
    }

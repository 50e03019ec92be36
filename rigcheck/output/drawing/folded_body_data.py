"""The free body of the folded box, parked or on the road: weight, what throws it about, and all that holds it."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.folded import Folded
from rigcheck.analysis.rows import SIDES
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import Row
from rigcheck.parts.tie_down.checks import strap_name
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

STRAP, STOP, LINE = "strap", "stop", "line"
_AXES = "xyz"


def vector(values: Array, *, scale: Scale) -> Plain:
    """A force by its axes."""
    return {axis: scale.one(value, dimension="force") for axis, value in zip(_AXES, values, strict=True)}


def folded_forces(solution: Solution, *, row: int, scale: Scale) -> Plain:
    """Forces on the folded box in one of its rows, as they are: nothing there is multiplied afterwards.

    Args:
        solution: The statics of one rig.
        row: The row on the state axis, behind those of the hung box.
        scale: Units of the output.

    Returns:
        Weight, acceleration, wind and where it acts, what can hold, hinge, and what their sum leaves.
    """
    road = solution.road
    assert road is not None
    at = row - solution.before_road
    force, held_by = road.restraint.force[at], road.held_by
    pull, moment = force[:, None] * held_by.way[at], -force * held_by.arm[at]
    hinge, load, turn = road.restraint.hinge[at], road.service.force[at], float(road.service.moment[at, 1])
    left = load + pull.sum(0) + hinge.sum(0)
    weight, wind = float(road.service.weight[at]), _wind(road.rows[at])
    return {
        "weight": scale.one(weight, dimension="force"),
        "acceleration": vector(load - wind - np.array([0.0, 0.0, -weight]), scale=scale),
        "wind": vector(wind, scale=scale),
        "wind_at": _wind_at(solution, row=row, scale=scale),
        "loads": vector(load, scale=scale),
        "moment": scale.one(turn, dimension="moment"),
        "held_moment": scale.one(moment.sum(), dimension="moment"),
        "members": [
            {
                "name": name,
                "kind": kind,
                "number": count,
                "at": [scale.one(held_by.point[at, i, axis], dimension="length") for axis in (0, 2)],
                "force": scale.one(force[i], dimension="force"),
                "vector": vector(pull[i], scale=scale),
            }
            for i, (name, kind, count) in enumerate(_named(road))
        ],
        "hinge": {side: vector(hinge[i], scale=scale) for i, side in enumerate(SIDES)},
        "residual": {**vector(left, scale=scale), "moment": scale.one(turn + moment.sum(), dimension="moment")},
    }


def _named(road: Folded) -> list[tuple[str, str, int]]:
    """Straps, stops and lines in the order of the restraint, with their kinds and numbers."""
    straps = [(strap_name(road.rig, i), STRAP, i + 1) for i in range(road.strap.shape[-1])]
    stops = [(f"stop {i + 1}", STOP, i + 1) for i in range(road.stop.shape[-1])]
    return [*straps, *stops, *((f"{side} line", LINE, i + 1) for i, side in enumerate(SIDES))]


def _wind(row: Row) -> Array:
    """Wind on the box in plant axes, shape (3,). [lbf]"""
    found = np.zeros(3)
    for push in row.pushes:
        found = found + np.array([float(push.fx), float(push.fy), float(push.fz)])
    return found


def _wind_at(solution: Solution, *, row: int, scale: Scale) -> list[float | None] | None:
    """Where the wind acts in the side view, plant axes; None where it does not blow."""
    pushes = solution.rows[row].pushes
    if not pushes:
        return None
    s, n = float(pushes[0].s), float(pushes[0].n) - float(solution.layout.hinge_height)
    along, normal = solution.pose.along[row], solution.pose.normal[row]
    return [scale.one(s * along[i] + n * normal[i], dimension="length") for i in range(2)]

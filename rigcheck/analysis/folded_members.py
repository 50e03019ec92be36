"""What the case gives to hold the folded box: straps, stops and both lines, as members of its restraint."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.restraint import STOP_WAY, Members, plant_point


def _strap_stiffness(rig: Rig, *, length: Array) -> Array:
    """Stiffness of each strap: as stated, else by length with the mean E A of those stated (any, if none is)."""
    straps = rig.value("haul.tie_down")
    stated = [rig.has(f"haul.tie_down.{i}.stiffness") for i in range(len(straps))]
    safe = np.where(length > 0.0, length, 1.0)
    given = [
        rig.number(f"haul.tie_down.{i}.stiffness")[..., None] if has else np.zeros(()) for i, has in enumerate(stated)
    ]
    rows = [np.broadcast_to(value, length[..., i].shape) for i, value in enumerate(given)]
    table = side_by_side(*rows)
    known = np.array(stated)
    shared = (table * safe)[..., known].mean(-1, keepdims=True) if known.any() else np.ones(())
    return np.asarray(np.where(known, table, shared / safe) * rig.column("haul.tie_down", "count")[..., None, :])


def members(rig: Rig, *, layout: Layout, pose: Pose, lines: Mask, straps: Mask) -> Members:
    """Straps, stops and both lines of a rig, in that order.

    A strap pulls from its point on the box straight to its anchor; one that goes over the box is one such leg, which
    presses the box down onto hinge and stop. `count` alike make one member.

    Args:
        rig: The rig.
        layout: Its points.
        pose: The folded box, shapes (..., state).
        lines: Rows in which the lines are on, shape (state,).
        straps: Rows in which the straps are on, shape (state,).

    Returns:
        The members.

    Source: own derivation, docs/method.md#folded.
    """
    ties, stops = rig.value("haul.tie_down"), rig.value("haul.stop")
    one = np.zeros_like(pose.angle)
    points, ways, stiffness = [], [], []
    for strap in ties:
        s, y, n = strap.start
        point = plant_point(one + s, y=one + y, n=one + n, pose=pose, layout=layout)
        reach = np.asarray(strap.end) - point
        length = np.sqrt((reach**2).sum(-1))
        points.append(point)
        ways.append(reach / np.where(length > 0.0, length, 1.0)[..., None])
        stiffness.append(length)
    if ties:
        found = _strap_stiffness(rig, length=side_by_side(*stiffness))
        stiffness = [found[..., i] for i in range(len(ties))]
    for stop in stops:
        s, y, n = stop.at
        points.append(plant_point(one + s, y=one + y, n=one + n, pose=pose, layout=layout))
        ways.append(np.asarray(STOP_WAY[stop.direction]) + one[..., None])
        stiffness.append(one + 1.0)
    for sign in SIDE:
        points.append(side_by_side(pose.hanger_x, sign * pose.hanger_y, pose.hanger_z))
        ways.append(side_by_side(pose.ux, sign * pose.uy, pose.uz))
        stiffness.append(one + 1.0)
    kinds = np.repeat([0, 1, 2], [len(ties), len(stops), 2])
    return Members(
        point=side_by_side(*points, axis=-2),
        way=side_by_side(*ways, axis=-2),
        stiffness=side_by_side(*stiffness),
        rigid=kinds == 1,
        live=np.select([kinds == 0, kinds == 1], [straps[:, None], np.ones_like(straps)[:, None]], lines[:, None]),
    )

"""Weight, first moments, force and moment of each row's loads about the middle of the hinge axis."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import Loads
from rigcheck.statics.along import arm_of_force
from rigcheck.statics.geometry import Layout, Pose


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Spread:
    """Integrals of each strip, shapes (..., state, strip): weight [lbf], first moments [lbf*in], height [in]."""

    weight: Array
    moment_s: Array
    moment_n: Array
    centroid_n: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Resultant:
    """Loads of a row as one force and one moment.

    Attributes:
        weight: Weight, shape (..., state). [lbf]
        center: Center of gravity in box coordinates s, y, n, shape (..., state, 3). [in]
        force: In plant axes x, y, z, shape (..., state, 3). [lbf]
        moment: About the middle of the hinge axis, x (roll), y (pitch), z (yaw), shape (..., state, 3). [lbf*in]
        rail_difference: Moment of the left rail's share less the right one's, shape (..., state). [lbf*in]
        tilt: Roll moment that each radian of roll about x adds where the hinge leaves the box free to roll, else
            nothing, shape (..., state). [lbf*in]
    """

    weight: Array
    center: Array
    force: Array
    moment: Array
    rail_difference: Array
    tilt: Array


def spread(loads: Loads) -> Spread:
    """Exact integrals of linear strips: of w, w s and w n over s.

    Args:
        loads: Stacked rows.

    Returns:
        Integrals per strip, shapes (..., state, strip).

    Source: own derivation, docs/method.md#strips.
    """
    t = loads.strip
    span = t["end"] - t["start"]
    w0, w1, n0, n1 = t["w_start"], t["w_end"], t["n_start"], t["n_end"]
    weight = 0.5 * (w0 + w1) * span
    moment_s = weight * t["start"] + (w0 + 2.0 * w1) * span**2 / 6.0
    moment_n = span * (2.0 * w0 * n0 + w0 * n1 + w1 * n0 + 2.0 * w1 * n1) / 6.0
    heavy = weight > 0.0
    centroid = np.where(heavy, moment_n, 0.0) / np.where(heavy, weight, 1.0)
    return Spread(weight=weight, moment_s=moment_s, moment_n=moment_n, centroid_n=centroid)


def resultant(loads: Loads, *, layout: Layout, pose: Pose) -> Resultant:
    """One force and moment for every row, and how the rails share it by the lever rule.

    Args:
        loads: Stacked rows.
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.

    Returns:
        Resultants, shapes (..., state[, 3]).

    Source: own derivation, docs/method.md#balance.
    """
    strips, lump, push = spread(loads), loads.lump, loads.push
    weight = strips.weight.sum(-1) + lump["weight"].sum(-1)
    first_s = strips.moment_s.sum(-1) + (lump["weight"] * lump["s"]).sum(-1)
    first_y = (strips.weight * loads.strip["y"]).sum(-1) + (lump["weight"] * lump["y"]).sum(-1)
    first_n = strips.moment_n.sum(-1) + (lump["weight"] * lump["n"]).sum(-1)
    lift = first_n - weight * layout.hinge_height[..., None]
    along_x, along_z = pose.along[..., 0], pose.along[..., 1]
    normal_x, normal_z = pose.normal[..., 0], pose.normal[..., 1]
    arm = side_by_side(first_s * along_x + lift * normal_x, first_y, first_s * along_z + lift * normal_z)
    force = weight[..., None] * loads.gravity
    moment = np.cross(arm, loads.gravity)

    shoved = side_by_side(push["fx"], push["fy"], push["fz"])
    offset = push["n"] - layout.hinge_height[..., None, None]
    at = side_by_side(
        push["s"] * along_x[..., None] + offset * normal_x[..., None],
        push["y"],
        push["s"] * along_z[..., None] + offset * normal_z[..., None],
    )
    heavy = weight > 0.0
    center = side_by_side(first_s, first_y, first_n)
    tilt = np.zeros_like(weight)
    if layout.rolled is not None:  # r turns by (0, -z, y) for each radian
        tilt = -(arm[..., 1:] * loads.gravity[..., 1:]).sum(-1) - (at[..., 1:] * shoved[..., 1:]).sum((-2, -1))
    return Resultant(
        weight=weight,
        center=np.where(heavy[..., None], center, 0.0) / np.where(heavy, weight, 1.0)[..., None],
        force=force + shoved.sum(-2),
        moment=moment + np.cross(at, shoved).sum(-2),
        rail_difference=(_rail_difference if layout.along is None else _unlike_along)(
            loads, strips=strips, layout=layout, pose=pose
        ),
        tilt=tilt,
    )


def box_components(vector: Array, *, pose: Pose) -> tuple[Array, Array]:
    """Components along and square to the floor of vectors in plant axes, (..., state, 3) to two of (..., state)."""
    along = vector[..., 0] * pose.along[..., 0] + vector[..., 2] * pose.along[..., 1]
    normal = vector[..., 0] * pose.normal[..., 0] + vector[..., 2] * pose.normal[..., 1]
    return along, normal


def _rail_difference(loads: Loads, *, strips: Spread, layout: Layout, pose: Pose) -> Array:
    """Moment about the hinge axis of the left rail's loads less the right rail's, by the lever rule at +-b/2."""
    g_s, g_n = (part[..., None] for part in box_components(loads.gravity, pose=pose))
    g_y = loads.gravity[..., 1, None]
    half = 0.5 * layout.rail_spacing[..., None]
    n_h = layout.hinge_height[..., None, None]

    def difference(weight: Array, first_s: Array, first_n: Array, y: Array, centroid_n: Array) -> Array:
        across = first_s * (y * g_n - centroid_n * g_y)
        return np.asarray((y * g_s * (first_n - n_h * weight) - across).sum(-1) / half)

    lump, push = loads.lump, loads.push
    first = difference(
        strips.weight, strips.moment_s, strips.moment_n, loads.strip["y"], strips.centroid_n
    ) + difference(lump["weight"], lump["weight"] * lump["s"], lump["weight"] * lump["n"], lump["y"], lump["n"])
    f_s = push["fx"] * pose.along[..., 0, None] + push["fz"] * pose.along[..., 1, None]
    f_n = push["fx"] * pose.normal[..., 0, None] + push["fz"] * pose.normal[..., 1, None]
    shoved = push["y"] * f_s * (push["n"] - n_h) - push["s"] * (push["y"] * f_n - push["n"] * push["fy"])
    return np.asarray(first + shoved.sum(-1) / half)


def _unlike_along(loads: Loads, *, strips: Spread, layout: Layout, pose: Pose) -> Array:
    """The same where the rails do not stand alike all along.

    The lever rule is that of each load's own place, its arm the one of `arm_of_force`, and b_0/b of the moment of what
    goes along the floor counts.

    Source: own derivation, docs/method.md#stretches.
    """
    assert layout.along is not None
    along, n_h = layout.along, layout.hinge_height[..., None, None]
    g_s, g_n = (part[..., None] for part in box_components(loads.gravity, pose=pose))
    g_y, first = loads.gravity[..., 1, None], along.first[..., None, None]
    strip, lump, push = loads.strip, loads.lump, loads.push
    heavy = strips.weight != 0.0
    center = np.where(heavy, strips.moment_s, 0.0) / np.where(heavy, strips.weight, 1.0)

    def difference(at: Array, arm: Array, f_s: Array, f_n: Array, f_y: Array, y: Array, n: Array) -> Array:
        half = 0.5 * along.spacing(at, axes=2)
        raised = y * f_s * (n * 0.5 * first / half - n_h)
        turned = arm_of_force(along, s=arm, axes=2) * (y * f_n - n * f_y)
        return np.asarray(((raised - turned) / half).sum(-1))

    return np.asarray(
        difference(0.5 * (strip["start"] + strip["end"]), center, strips.weight * g_s, strips.weight * g_n,
                   strips.weight * g_y, strip["y"], strips.centroid_n)
        + difference(lump["s"], lump["s"], lump["weight"] * g_s, lump["weight"] * g_n, lump["weight"] * g_y,
                     lump["y"], lump["n"])
        + difference(push["s"], push["s"],
                     push["fx"] * pose.along[..., 0, None] + push["fz"] * pose.along[..., 1, None],
                     push["fx"] * pose.normal[..., 0, None] + push["fz"] * pose.normal[..., 1, None], push["fy"],
                     push["y"], push["n"])
    )  # fmt: skip

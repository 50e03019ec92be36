"""Line tensions and hinge forces of a hung box from the six equations of the whole box, for every way of sharing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import BOUNDS
from rigcheck.statics.along import arm_of_force
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.resultant import Resultant

DEAD_POINT = 0.05  # a lever arm under 5 % of the hanger radius has no usable tension; our own rule
LEAST_GRIP = 0.05  # the limp split is held to this share of its plain lever rule; our own rule
LOOSE = BOUNDS.index("loose")
_SQUARE = 1e-6  # a roll arm under this share of the hanger spacing gives no split


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Balance:
    """Forces that hold the box, bounds in the order of `rigcheck.loads.pieces.BOUNDS`.

    Attributes:
        total: Sum of both tensions, shape (..., state). [lbf]
        tension: Shape (..., state, bound, side). [lbf]
        hinge: Plant on box, x, y, z, shape (..., state, bound, side, 3). [lbf]
        roll: Roll couple at the hinge, shape (..., state, bound). [lbf*in]
        rail_split: Pull that enters the left rail less the right one's in a limp box, shape (..., state). [lbf]
        twist: Torque along the box between hanger and hinge, over the limp box's, shape (..., state, bound). [lbf*in]
        dead: True at a dead point, shape (..., state); forces there are set to zero.
        unsplit: True where the loose bound has no roll arm, shape (..., state).
        lifted: True where the loads lift the box off its lines, which are slack, shape (..., state).
        residual: Largest force or moment-over-length left over, shape (..., state, bound); NaN where it was not asked
            for. [lbf]
    """

    total: Array
    tension: Array
    hinge: Array
    roll: Array
    rail_split: Array
    twist: Array
    dead: NDArray[np.bool_]
    unsplit: NDArray[np.bool_]
    lifted: NDArray[np.bool_]
    residual: Array


def balance(
    loads: Resultant, *, layout: Layout, pose: Pose, prove: bool = True, may_lift: NDArray[np.bool_] | None = None
) -> Balance:
    """Solve the six equilibrium equations of the whole box for each bound.

    sum T d = M_pitch; the bound fixes T_L - T_R; the hinge carries what is left. A split never asks a line to push:
    that line is slack, the other one carries all, and the hinge takes what roll is left.

    Args:
        loads: Resultants of the loads, shapes (..., state[, 3]).
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle, shapes (..., state).
        prove: Whether to put the answer back into the equations.
        may_lift: Rows in which the box may be lifted off its lines, shape (state,): they are slack there, nothing
            resists the turn, and the hinge takes the forces.

    Returns:
        Tensions, hinge forces and the residual put back into the equations.

    Source: own derivation, docs/method.md#balance.
    """
    dead = np.abs(pose.arm) < DEAD_POINT * pose.radius
    arm = np.where(dead, 1.0, pose.arm)
    total = np.where(dead, 0.0, loads.moment[..., 1] / arm)
    lifted = np.zeros_like(dead) if may_lift is None else may_lift & (total < 0.0)
    if lifted.any():
        total = np.where(lifted, 0.0, total)
    # each line's moment about x per pound: y u_z - z u_y, the right one's has the other sign
    roll_arm = pose.hanger_y * pose.uz - pose.hanger_z * pose.uy
    square = np.abs(roll_arm) < _SQUARE * pose.hanger_y
    rail_split = np.where(dead, 0.0, loads.rail_difference / arm)
    limp = rail_split * line_per_rail(layout, pose=pose)
    free = ~(dead | square)
    loose = np.where(free, -loads.moment[..., 0] / np.where(square, 1.0, roll_arm), 0.0)
    off_level = np.zeros(1)
    if layout.rolled is not None:
        more = rolled_off(loads, total=total, layout=layout, pose=pose)
        loose, off_level = _off_level(loose, more=np.where(free, more, 0.0), arm=np.where(square, 1.0, roll_arm))
    most = np.abs(total)
    split = side_by_side(np.clip(limp, -most, most), np.zeros_like(total), np.clip(loose, -most, most), total, -total)
    tension = 0.5 * side_by_side(total[..., None] + split, total[..., None] - split)
    about_x = loads.moment[..., 0, None] + off_level
    hinge = _hinge(
        total, split=split, roll=about_x + split * roll_arm[..., None], loads=loads, layout=layout, pose=pose
    )
    lift = hinge[..., 2]
    roll = 0.5 * layout.hinge_spacing[..., None, None] * (lift[..., 0] - lift[..., 1])
    left_over = np.broadcast_to(np.nan, split.shape)
    if prove:
        left_over = _residual(tension, hinge=hinge, loads=loads, off_level=off_level, layout=layout, pose=pose)
        if lifted.any():
            left_over = np.where(lifted[..., None], 0.0, left_over)
    if dead.any():
        hinge = np.where(dead[..., None, None, None], 0.0, hinge)
        roll = np.where(dead[..., None], 0.0, roll)
    return Balance(
        total=total,
        tension=tension,
        hinge=hinge,
        roll=roll,
        rail_split=rail_split,
        twist=np.abs((split - limp[..., None]) * _torque_arm(layout, pose=pose)[..., None]),
        dead=dead,
        unsplit=square,
        lifted=lifted,
        residual=left_over,
    )


def _off_level(loose: Array, *, more: Array, arm: Array) -> tuple[Array, Array]:
    """The split pushed farther the way it goes, and the roll moment for it, shape (..., state, bound)."""
    more = np.where(loose < 0.0, 1.0, -1.0) * np.sign(arm) * more
    none = np.zeros_like(more)
    return loose - more / arm, side_by_side(*(more if bound == LOOSE else none for bound in range(len(BOUNDS))))


def rolled_off(loads: Resultant, *, total: Array, layout: Layout, pose: Pose) -> Array:
    """Roll moment that comes of a box standing off level on a hinge that leaves it free to roll, either way.

    For each radian about x the loads bring `loads.tilt`, and the lines, whose hangers and so whose directions move,
    -T [z_H u_z + y_H u_y + (y_H^2 + z_H^2 - a^2)/l], l their length and a their roll arm.

    Args:
        loads: Resultants of the loads.
        total: Sum of both tensions, shape (..., state). [lbf]
        layout: Points of the rig; how far it may stand off level.
        pose: The box at each row's fold angle.

    Returns:
        Its size, shape (..., state). [lbf*in]

    Source: own derivation to the first order of the angle, docs/method.md#center-pivot.
    """
    assert layout.rolled is not None
    y, z = pose.hanger_y, pose.hanger_z
    length = np.where(pose.line_length > 0.0, pose.line_length, 1.0)
    swings = (y**2 + z**2 - (y * pose.uz - z * pose.uy) ** 2) / length
    return np.abs(layout.rolled[..., None] * (loads.tilt - total * (z * pose.uz + y * pose.uy + swings)))


def line_per_rail(layout: Layout, *, pose: Pose) -> Array:
    """Difference of the lines over the difference of pull that the rails of a limp box ask for, b / (h (1 - roll)).

    roll = 2 s_H n_H u_y / (d h): the side pull T u_y of unlike lines enters at the height of the hangers and leaves
    through the floor, and that couple rolls the box. What is left of the lever rule is never taken under a twentieth,
    where no split could be told any more.

    Args:
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.

    Returns:
        The ratio, shape (..., state); by virtual work also the ratio of give at a rail to give of a line.

    Source: own derivation, docs/method.md#balance.
    """
    return np.asarray(
        (layout.rail_spacing / layout.hanger_spacing)[..., None] / np.maximum(grip(layout, pose=pose), LEAST_GRIP)
    )


def grip(layout: Layout, *, pose: Pose) -> Array:
    """What the side pull leaves of the lever rule, 1 - roll of `line_per_rail`, however little or below nothing.

    Args:
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.

    Returns:
        The share, shape (..., state); by virtual work also how far a hanger goes along its line as the rails fall
        apart, over what it would without going aside.

    Source: own derivation, docs/method.md#balance.
    """
    arm = np.where(np.abs(pose.arm) < DEAD_POINT * pose.radius, 1.0, pose.arm)
    if layout.along is not None:
        return np.asarray(_grip_along(layout, pose=pose) / (layout.hanger_spacing[..., None] * arm))
    roll = 2.0 * (layout.hanger_s * layout.hanger_n / layout.hanger_spacing)[..., None] * pose.uy / arm
    return np.asarray(1.0 - roll)


def _grip_along(layout: Layout, *, pose: Pose) -> Array:
    """Moment that a pound of unlike pull leaves open on rails that do not stand alike, times b at the hangers.

    a (h u_n - 2 n_H u_y) - (n_H b_0/b - n_h) h u_s, with a the arm of a force at the hangers: h d (1 - roll) where the
    rails are parallel.

    Source: own derivation, docs/method.md#stretches.
    """
    assert layout.along is not None
    along, h, n = layout.along, layout.hanger_spacing[..., None], layout.hanger_n[..., None]
    arm = arm_of_force(along, s=layout.hanger_s, axes=0)[..., None]
    raised = n * (along.first / layout.rail_spacing)[..., None] - layout.hinge_height[..., None]
    return np.asarray(arm * (h * pose.u_n - 2.0 * n * pose.uy) - raised * h * pose.u_s)


def _torque_arm(layout: Layout, *, pose: Pose) -> Array:
    """Moment of a pound in the left line about the box's own length, y_H u_n - (n_H - n_h) u_y, shape (..., state)."""
    height = (layout.hanger_n - layout.hinge_height)[..., None]
    return np.asarray(pose.hanger_y * pose.u_n - height * pose.uy)


def _line_force(tension: Array, *, pose: Pose) -> Array:
    """Pull of each line on the box in plant axes, shape (..., state, bound, side, 3)."""
    direction = np.stack(
        [
            pose.ux[..., None] + 0.0 * SIDE,
            pose.uy[..., None] * SIDE,
            pose.uz[..., None] + 0.0 * SIDE,
        ],
        axis=-1,
    )
    return np.asarray(tension[..., None] * direction[..., None, :, :])


def _hanger(pose: Pose) -> Array:
    """Hangers from the middle of the hinge axis, shape (..., state, 1, side, 3)."""
    x, z = pose.hanger_x[..., None] + 0.0 * SIDE, pose.hanger_z[..., None] + 0.0 * SIDE
    return np.stack([x, pose.hanger_y[..., None] * SIDE, z], axis=-1)[..., None, :, :]


def _hinge(total: Array, *, split: Array, roll: Array, loads: Resultant, layout: Layout, pose: Pose) -> Array:
    """Hinge forces, (..., state, bound, side, 3): the sum of both lines turns, the difference rolls and yaws."""
    fx, fy, fz = (loads.force[..., i, None] for i in range(3))
    yaw_arm = pose.hanger_x * pose.uy - pose.hanger_y * pose.ux
    return _on_both(
        fx + (total * pose.ux)[..., None],
        fy=fy + split * pose.uy[..., None],
        fz=fz + (total * pose.uz)[..., None],
        roll=roll,
        yaw=loads.moment[..., 2, None] + split * yaw_arm[..., None],
        spacing=layout.hinge_spacing[..., None, None],
    )


def _on_both(fx: Array, *, fy: Array, fz: Array, roll: Array, yaw: Array, spacing: Array) -> Array:
    """What both hinge groups add for balance, shape (..., side, 3); `fx` and `fz` broadcast to the others."""
    # left and right at y = +-c/2: roll sum(y F_z) and yaw -sum(y F_x) close; thrust bears on one barrel end
    fore, lift = -0.5 * fx, -0.5 * fz
    turned, rolled = yaw / spacing, -roll / spacing
    left = side_by_side(fore + turned, np.minimum(-fy, 0.0), lift + rolled)
    right = side_by_side(fore - turned, np.maximum(-fy, 0.0), lift - rolled)
    return side_by_side(left, right, axis=-2)


def hinge_forces(force: Array, *, moment: Array, spacing: Array) -> Array:
    """What the two hinge groups add for balance: both couples over their spacing, side thrust on one of them.

    Args:
        force: Sum of everything else on the box, plant axes, shape (..., 3). [lbf]
        moment: Its moment about the middle of the hinge axis, shape (..., 3); not the hinge's: pitch. [lbf*in]
        spacing: Between the hinge groups, shape (...). [in]

    Returns:
        Plant on box, left and right, shape (..., side, 3). [lbf]

    Source: own derivation, docs/method.md#balance.
    """
    return _on_both(
        force[..., 0], fy=force[..., 1], fz=force[..., 2], roll=moment[..., 0], yaw=moment[..., 2], spacing=spacing
    )


def _residual(tension: Array, *, hinge: Array, loads: Resultant, off_level: Array, layout: Layout, pose: Pose) -> Array:
    """Put the answer back: largest component of sum F, and of sum M over the hanger radius, about the perch line.

    Moments are about a point far from the hinge (the middle of the perch line), so that hinge forces enter them.
    """
    pull = _line_force(tension, pose=pose)
    far = np.stack(
        [layout.perch_x[..., None] + 0.0 * pose.arm, 0.0 * pose.arm, layout.perch_z[..., None] + 0.0 * pose.arm],
        axis=-1,
    )
    y = 0.5 * layout.hinge_spacing[..., None, None, None] * SIDE
    knuckle = np.stack([0.0 * y, y, 0.0 * y], axis=-1)
    force = loads.force[..., None, :] + pull.sum(-2) + hinge.sum(-2)
    about = loads.moment[..., None, :] - np.cross(far, loads.force)[..., None, :]
    about = about + np.cross(_hanger(pose) - far[..., None, None, :], pull).sum(-2)
    about = about + np.cross(knuckle - far[..., None, None, :], hinge).sum(-2)
    about[..., 0] += off_level
    left_over = np.maximum(np.abs(force).max(-1), np.abs(about).max(-1) / pose.radius[..., None])
    return np.where((np.abs(pose.arm) < DEAD_POINT * pose.radius)[..., None], 0.0, left_over)

"""What holds a folded box: its hinge, and members that only pull or only push against its one free turn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array, Mask
from rigcheck.statics.balance import DEAD_POINT, hinge_forces
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.resultant import Resultant

STOP_WAY = {
    "downstream": (1.0, 0.0, 0.0), "upstream": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0),
}  # fmt: skip
_STILL = 1e-9  # a pitch moment under this share of all force times reach turns nothing


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Members:
    """What can hold the folded box against turning about the hinge, member axis last but one where a vector follows.

    Attributes:
        point: Where each acts on the box, plant axes from the hinge, shape (..., state, member, 3). [in]
        way: Unit vector of its force on the box, shape (..., state, member, 3). [1]
        stiffness: Force for an inch, shape (..., state, member); only ratios within one kind matter. [lbf/in]
        rigid: True for stops, shape (member,).
        live: Where it may act, shape (state, member).
    """

    point: Array
    way: Array
    stiffness: Array
    rigid: Mask
    live: Mask

    @property
    def arm(self) -> Array:
        """Lever arm about the hinge axis, positive where it holds the tail up, shape (..., state, member). [in]"""
        return np.asarray(self.point[..., 0] * self.way[..., 2] - self.point[..., 2] * self.way[..., 0])


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Restraint:
    """How the folded box is held.

    Attributes:
        force: Pull or push of each member, never negative, shape (..., state, member). [lbf]
        hinge: Plant on box, shape (..., state, side, 3). [lbf]
        turn: Pitch moment of the loads, positive where the tail wants down and out, shape (..., state). [lbf*in]
        unrestrained: Where nothing resists that turn, shape (..., state); forces there are set to zero.
        residual: Largest force or moment over reach left over, shape (..., state). [lbf]
    """

    force: Array
    hinge: Array
    turn: Array
    unrestrained: Mask
    residual: Array


def plant_point(s: Array, *, y: Array, n: Array, pose: Pose, layout: Layout) -> Array:
    """A point of the box in plant axes from the middle of the hinge axis.

    Args:
        s: Along the floor, shape (..., state). [in]
        y: Across, shape (..., state). [in]
        n: Above the floor, shape (..., state). [in]
        pose: The box in each row.
        layout: Points of the rig.

    Returns:
        Shape (..., state, 3). [in]
    """
    lift = n - layout.hinge_height[..., None]
    x = s * pose.along[..., 0] + lift * pose.normal[..., 0]
    z = s * pose.along[..., 1] + lift * pose.normal[..., 1]
    return side_by_side(x, y + 0.0 * x, z)


def restrain(loads: Resultant, *, layout: Layout, held_by: Members) -> Restraint:
    """Share the pitch moment among what resists it, and let the hinge take the rest.

    The box is rigid and can only turn about the hinge axis. That turn stretches a strap by arm x turn, so straps share
    M by F_i = M k_i a_i / sum(k a^2); a strap that would have to push is slack. Stops are rigid beside straps and alike
    among themselves: where one resists, the straps on that side stay as they were, with nothing. A member whose arm is
    under 5 % of its reach from the hinge axis holds nothing. Preload of ratchets is not counted.

    Args:
        loads: Resultants, shapes (..., state[, 3]).
        layout: Points of the rig.
        held_by: What can resist.

    Returns:
        Forces, and the residual put back into all six equations.

    Source: own derivation, docs/method.md#folded.
    """
    turn, arm = loads.moment[..., 1], held_by.arm
    reach = np.hypot(held_by.point[..., 0], held_by.point[..., 2])
    scale = np.sqrt((loads.force**2).sum(-1)) * np.maximum(layout.length[..., None], 1.0)
    still = np.abs(turn) <= _STILL * scale
    resists = held_by.live & (np.abs(arm) >= DEAD_POINT * reach) & (arm * turn[..., None] > 0.0)
    firm = (resists & held_by.rigid).any(-1, keepdims=True)
    works = resists & (held_by.rigid | ~firm)
    part = np.where(works, held_by.stiffness * arm, 0.0)
    whole = (part * arm).sum(-1)
    unrestrained = ~works.any(-1) & ~still
    held = works.any(-1) & (whole > 0.0)
    force = np.where(held, turn, 0.0)[..., None] * part / np.where(held, whole, 1.0)[..., None] + 0.0  # no minus zero
    pull = force[..., None] * held_by.way
    hinge = hinge_forces(
        loads.force + pull.sum(-2),
        moment=loads.moment + np.cross(held_by.point, pull).sum(-2),
        spacing=layout.hinge_spacing[..., None],
    )
    hinge = np.where(unrestrained[..., None, None], 0.0, hinge)
    left_over = _residual(loads, layout=layout, held_by=held_by, pull=pull, hinge=hinge)
    return Restraint(
        force=force,
        hinge=hinge,
        turn=turn,
        unrestrained=unrestrained,
        residual=np.where(unrestrained, 0.0, left_over),
    )


def _residual(loads: Resultant, *, layout: Layout, held_by: Members, pull: Array, hinge: Array) -> Array:
    """Largest part of sum F, and of sum M over the length, about a point a length above and behind the hinge."""
    length = layout.length[..., None]
    far = side_by_side(-length, length, length)
    y = 0.5 * layout.hinge_spacing[..., None, None] * SIDE
    knuckle = side_by_side(0.0 * y, y, 0.0 * y)
    force = loads.force + pull.sum(-2) + hinge.sum(-2)
    moment = loads.moment - np.cross(far, loads.force)
    moment = moment + np.cross(held_by.point - far[..., None, :], pull).sum(-2)
    moment = moment + np.cross(knuckle - far[..., None, :], hinge).sum(-2)
    return np.asarray(np.maximum(np.abs(force).max(-1), np.abs(moment).max(-1) / length))

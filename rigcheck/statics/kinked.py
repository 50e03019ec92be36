"""Rails that turn in plan where the sides of the box run apart: what they hand to each other there."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.statics.along import Along, kinks
from rigcheck.statics.beam import Terms, evaluate, join
from rigcheck.statics.geometry import SIDE


def _unlike(moment: Terms) -> Terms:
    """Left rail less the right one, from terms (..., state, side, term)."""
    coefficient = moment.coefficient[..., 0, :, :] - moment.coefficient[..., 1, :, :]
    at = np.broadcast_to(moment.at, moment.coefficient.shape[:-1])[..., 0, :]
    return Terms(at, coefficient)


def handed_over(moment: Terms, *, along: Along) -> list[tuple[Array, Array]]:
    """What the left rail gets from the right one at every place where they turn in plan.

    A rail carries its moment square to itself alone. Where it turns, the rest is a couple about the length of the box,
    which the members across bring from the other rail: with D = M_L - M_R, b the spacing and b' its slope, the torque
    of the box (b D' - b' D)/2 goes on unchanged, so that D' grows by D (b'_after - b'_before)/b.

    Args:
        moment: Terms of both rails about the floor, shape (..., state, side, term).
        along: The rails.

    Returns:
        Station, shape (...), and force on the left rail more than on the right one, shape (..., state). [in, lbf]

    Source: own derivation, docs/method.md#stretches.
    """
    unlike = _unlike(moment)
    found: list[tuple[Array, Array]] = []
    for place, more in kinks(along):
        there = evaluate(unlike, x=place[..., None, None])[..., 0]
        for before, force in found:
            there = there + force * (place - before)[..., None]
        found.append((place, there * (more / along.spacing(place, axes=0))[..., None]))
    return found


def rolled_hinge(moment: Terms, *, along: Along, hinge_n: Array, beyond: Array) -> Array:
    """What the hinge holds each rail with, square to the floor, so that the whole box does not roll.

    Past the tail the torque left over is b_L D'/2; a force r on the left rail at the head, and its like the other way
    on the right one, takes b_0 r/2.

    Args:
        moment: Terms of both rails without the hinge, shape (..., state, side, term).
        along: The rails.
        hinge_n: What each rail by itself asks for, shape (..., state, side, 1). [lbf]
        beyond: A place past everything, shape (..., state, side, 1). [in]

    Returns:
        Shape (..., state, side, 1). [lbf]

    Source: own derivation, docs/method.md#stretches.
    """
    slope = evaluate(_unlike(moment), x=beyond[..., 0, :], integrals=-1)[..., 0]
    for _, force in handed_over(moment, along=along):
        slope = slope + force
    roll = -slope * (along.last / along.first)[..., None]
    return np.asarray(hinge_n.mean(-2, keepdims=True) + 0.5 * (roll[..., None] * SIDE)[..., None])


def joined_stretches(parts: Sequence[Terms], *, along: Along, unlike: bool) -> list[Terms]:
    """Moment, shear and axial terms of rails with a station at every joint, and there what they hand to each other.

    Args:
        parts: The terms, shapes (..., state, side, term).
        along: The rails.
        unlike: Whether both rails are loaded each for itself, so that they hand something over.

    Returns:
        The same with more terms.
    """
    moment, shear, axial = parts
    shape = np.broadcast_shapes(*(part.coefficient.shape[:-2] for part in parts))
    none = np.zeros(shape)
    for place, force in (
        handed_over(moment, along=along)
        if unlike and along.flared
        else [(place, np.zeros(shape[:-1])) for place, _ in kinks(along)]
    ):
        at = np.broadcast_to(place[..., None, None], shape)[..., None]
        pushed = 0.5 * force[..., None] * (SIDE if unlike else np.zeros(shape[-1]))
        zero = none[..., None]
        force_term = Terms(at, side_by_side(zero, pushed[..., None] + zero, zero, zero))
        nothing = Terms(at, side_by_side(zero, zero, zero, zero))
        moment, shear, axial = join(moment, force_term), join(shear, force_term), join(axial, nothing)
    return [moment, shear, axial]

"""The open box as a grillage where section or spacing of its rails change along it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.statics.along import Along
from rigcheck.statics.geometry import Layout
from rigcheck.statics.grillage import SHEAR_MODULUS, Across, Grillage, joined
from rigcheck.statics.rail import Curves


def grillage_along(across: Across, *, along: Along, own: int = 0) -> Grillage:
    """Solve the box for unit right-hand sides.

    With b the spacing of the rails, D = M_L - M_R, e = E I cos^3 of a rail and F(s) = int b^2/e ds, a couple t_k of a
    member on the left rail and its like the other way on the right one leave D = 2 t_k b/b_k beyond it, and the rails'
    slopes differ by [b_0 D_0 + int b D/e ds]/b. So the members' law t_j = (G J_j/b_j) (slope_L - slope_R at s_j) and
    rest at the tail read

        b_j t_j - (G J_j/b_j) [b_0 D_0 + 2 sum t_k <F_j - F_k>/b_k] = (G J_j/b_j) int_0^s_j b D/e ds
        2 sum t_k b_L/b_k = -D(L)

    The rows are divided by b_j + G J_j F(L)/b_j^2, as those of `grillage`.

    Args:
        across: The members, padded with such of no torsion constant.
        along: The rails.
        own: How many of the members, the last ones, stand for the box's own resistance to twist.

    Returns:
        The answers; the right-hand side of each member is int b D/e ds.

    Source: own derivation, docs/method.md#stretches.
    """
    at, stiff = np.broadcast_arrays(across.at, SHEAR_MODULUS * across.torsion)
    count = at.shape[-1]
    b, turned = along.spacing(at), along.turned(at)
    whole = along.turned(along.length, axes=0)[..., None]
    scale = b + stiff * whole / b**2
    pull = stiff / (scale * b)
    shape = np.broadcast_shapes(pull.shape[:-1], whole.shape[:-1])
    pull, b = (np.broadcast_to(part, (*shape, count)) for part in (pull, b))
    matrix = np.zeros((*shape, count + 1, count + 1))
    apart = np.where(at[..., :, None] > at[..., None, :], turned[..., :, None] - turned[..., None, :], 0.0)
    matrix[..., :count, :count] = (
        np.eye(count) * (b / scale)[..., None] - 2.0 * pull[..., None] * apart / b[..., None, :]
    )
    # the unknown slope is told in F(L)/b_0^2, so that all terms of the matrix are of one size
    matrix[..., :count, count] = -pull * whole / along.first[..., None]
    matrix[..., count, :count] = 2.0 * along.last[..., None] / b
    loose = ~joined(across)
    matrix[..., count, count] = np.where(loose, 1.0, 0.0)
    answers = np.linalg.inv(matrix)
    right = np.concatenate([pull, -np.ones((*shape, 1))], axis=-1)
    answers = np.where(loose[..., None, None], 0.0, answers * right[..., None, :])
    return Grillage(
        at=at,
        own=own,
        bending=np.ones(()),
        torque=answers[..., :count, :],
        head=answers[..., count, :] * whole / along.first[..., None] ** 2,
    )


def on_own_axis(run: Curves, *, along: Along) -> Curves:
    """Rails whose moments are about the floor, with those about the neutral axis of each stretch, M + n_0 N.

    Args:
        run: The rails, shapes (..., state, rail, piece).
        along: What they are.
    """
    axis = along.value("axis", s=run.start, axes=3)
    moment = run.moment - run.axial * axis[..., None]
    return Curves(run.start, run.span, moment, run.axial, run.shear, run.beyond)


def turn_of_loads(run: Curves, *, along: Along, at: Array) -> Array:
    """Integral of b D/e from the head to each member for what runs through the rails, shape (..., state, member).

    Args:
        run: Both rails about their own axes.
        along: What they are.
        at: Stations of the members, shape (..., member). [in]
    """
    unlike = run.moment[..., 0, :, :] - run.moment[..., 1, :, :]
    start, span = (np.broadcast_to(part, run.moment.shape[:-1])[..., 0, :] for part in (run.start, run.span))
    b, more, soft = along.spacing(start, axes=2), along.slope(start, axes=2), along.value("soft", s=start, axes=2)
    total: Array | float = 0.0
    power = span
    for order in range(unlike.shape[-1]):  # int (b + b' t) d_p t^p/p! dt
        total = total + unlike[..., order] * power * (b / (order + 1) + more * span / (order + 2))
        power = power * span / (order + 1)
    within = (start[..., :, None] >= 0.0) & (start[..., :, None] < at[..., None, None, :])
    return np.asarray(((total * soft)[..., :, None] * within).sum(-2))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PoundAlong:
    """What a pound more on the left rail's hanger than on the right one's does; fields as those of `Unheld`."""

    turn_of_n: Array
    left_of_n: Array
    turn_of_s: Array
    left_of_s: Array


def pound_along(layout: Layout, *, at: Array) -> PoundAlong:
    """Right-hand sides for unlike pull.

    A pound square to the floor at the hangers leaves D = -b_H b min(c, c_H) with c = int ds/b^2, for it is held at the
    head by b_H/b_0; a pound along the floor D = b (n_H/b_H beyond the hangers - n_h/b_0) about the floor, and one pound
    of unlike push up to them.

    Args:
        layout: Points of the rig.
        at: Stations of the members, shape (..., member). [in]

    Source: own derivation, docs/method.md#stretches.
    """
    along = layout.along
    assert along is not None
    hanger = layout.hanger_s
    far, near = along.turned(at), np.minimum(at, hanger[..., None])
    b_h, rolled = along.spacing(hanger, axes=0), along.rolled(hanger, axes=0)
    past = far - along.turned(near)
    low, high = layout.hinge_height / along.first, layout.hanger_n / b_h
    return PoundAlong(
        turn_of_n=-b_h[..., None] * (along.turned_by_rolled(near) + rolled[..., None] * past),
        left_of_n=-b_h * along.last * rolled,
        turn_of_s=high[..., None] * past - low[..., None] * far + along.turned_by_axis(near),
        left_of_s=along.last * (high - low),
    )

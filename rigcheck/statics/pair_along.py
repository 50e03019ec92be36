"""Both rails of a box in stretches: what their pulls and couples add, and what each rail feels of it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.statics.geometry import SIDE, Layout
from rigcheck.statics.grillage_along import on_own_axis
from rigcheck.statics.rail import Curves
from rigcheck.statics.unheld import Unheld


def of_rows(values: Array, *, of: NDArray[np.intp]) -> Array:
    """Derivatives of the rows of some pairs, (..., pair, side, piece, order), with the orders outermost in memory."""
    return np.moveaxis(np.ascontiguousarray(np.moveaxis(values, -1, 0)[..., of, :, :]), 0, -1)


def held_at_head(layout: Layout, *, pull_n: Array) -> Array:
    """What the pulls ask the hinge for at either rail: unlike ones by the rails' spacings, so that nothing rolls."""
    if layout.along is None:
        return pull_n
    mean = pull_n.mean(-1, keepdims=True)
    return np.asarray(mean + (pull_n - mean) * (layout.rail_spacing / layout.along.first)[..., None, None])


def held_along(found: Unheld, *, of: NDArray[np.intp], pull_s: Array, pull_n: Array, torque: Array) -> Curves:
    """`_held_curves` of rails that change along the box, about the neutral axis of each stretch.

    What both rails get alike is as in a box of parallel rails; of what one gets over the other, D runs as b ds/b^2.

    Source: own derivation, docs/method.md#stretches.
    """
    own, points = found.curves, found.layout
    along = points.along
    assert along is not None
    start = own.start[..., 0, :]
    hanger, low, high = (part[..., None, None] for part in (points.hanger_s, points.hinge_height, points.hanger_n))
    on, there = (start >= 0.0) * 1.0, (start >= hanger) * 1.0
    step_on = there - on
    b, more, rolled = (of_(start, axes=2) for of_ in (along.spacing, along.slope, along.rolled))
    b_h = points.rail_spacing[..., None, None]
    rolled_h, first = along.rolled(points.hanger_s, axes=0)[..., None, None], along.first[..., None, None]
    near = np.minimum(rolled, rolled_h)
    alike = [step_on * start - there * hanger, step_on, there * high - on * low, np.zeros_like(step_on)]
    raised = there * high / b_h - on * low / first
    unlike = [-b_h * b * near * on, -b_h * (more * near + (1.0 - there) / b) * on, b * raised, more * raised]
    order = np.argsort(found.box.at, axis=-1)
    every = np.broadcast_to(order[..., None, :], torque.shape)
    each = torque / along.spacing(found.box.at)[..., None, :]
    added = np.cumsum(np.take_along_axis(each, every, axis=-1), axis=-1)
    added = np.concatenate([np.zeros((*added.shape[:-1], 1)), added], axis=-1)
    past = (start[..., None] >= found.box.at[..., None, None, :]).sum(-1)
    step = np.take_along_axis(added, np.broadcast_to(past[..., of, :], (*added.shape[:-1], past.shape[-1])), axis=-1)

    def rows(values: Array) -> Array:
        return values[..., of, None, :]

    mean_n, mean_s = (pull.mean(-1, keepdims=True)[..., None] for pull in (pull_n, pull_s))
    apart_n, apart_s = (pull[..., None] - mean for pull, mean in ((pull_n, mean_n), (pull_s, mean_s)))
    turned = SIDE[:, None] * step[..., None, :]
    moment, axial, shear = (of_rows(part, of=of) for part in (own.moment, own.axial, own.shear))
    moment[..., 0] += mean_n * rows(alike[0]) + mean_s * rows(alike[2])
    moment[..., 0] += apart_n * rows(unlike[0]) + apart_s * rows(unlike[2]) + turned * rows(b)
    slope = mean_n * rows(alike[1]) + apart_n * rows(unlike[1]) + apart_s * rows(unlike[3]) + turned * rows(more)
    moment[..., 1] += slope
    shear[..., 0] += slope
    axial[..., 0] += pull_s[..., None] * rows(step_on)
    mean_left = mean_n[..., 0] * -points.hanger_s[..., None, None] + mean_s[..., 0] * (high - low)
    left = apart_n[..., 0] * found.left_of_n[..., None] + apart_s[..., 0] * found.left_of_s[..., None]
    tail = (torque / along.spacing(found.box.at)[..., None, :]).sum(-1) * along.last[..., None]
    beyond = own.beyond[..., of, :] + mean_left + left + SIDE * tail[..., None]

    def row(values: Array) -> Array:
        return np.asarray(values[..., of, :, :] if values.ndim > 2 else values[of])

    return on_own_axis(Curves(row(own.start), row(own.span), moment, axial, shear, beyond), along=along)


def open_spread(start: Array, *, layout: Layout) -> Array:
    """What a couple at the head comes to at the start of each piece and its slope, over what it is at the tail."""
    if layout.along is None:
        return np.array([1.0, 0.0])
    last = layout.along.last[..., None, None, None]
    b, more = (of_(start, axes=3) / last for of_ in (layout.along.spacing, layout.along.slope))
    return np.stack(np.broadcast_arrays(b, more), axis=-1)


def felt(run: Curves, *, layout: Layout, stretch: int) -> Curves:
    """What a rail feels in one stretch, bent square to itself: M/cos and N/cos of its angle in plan, else nothing."""
    along = layout.along
    assert along is not None
    here = along.place(run.start, axes=3) == stretch
    share = here / along.value("cos", s=run.start, axes=3)
    return Curves(
        run.start, run.span * here, run.moment * share[..., None], run.axial * share[..., None],
        run.shear * here[..., None], run.beyond,
    )  # fmt: skip


def steps_of(derivative: Array, *, span: Array) -> Array:
    """What begins at the start of each piece of a polynomial by pieces, and ends at the end of the last one.

    Args:
        derivative: Value and derivatives at the start of each piece, shape (piece, order).
        span: Their lengths, shape (piece,). [in]

    Returns:
        Shape (piece + 1, order).
    """
    orders = derivative.shape[-1]
    ends = np.zeros_like(derivative)
    for order in range(orders):
        rise = np.ones_like(span)
        for more in range(order, orders):
            ends[:, order] += derivative[:, more] * rise
            rise = rise * span / (more - order + 1)
    none = np.zeros((1, orders))
    return np.asarray(np.concatenate([derivative, none]) - np.concatenate([none, ends]))

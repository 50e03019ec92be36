"""Worst values over a rail: N, V, M and fiber stress at every discontinuity and every zero of their derivatives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.statics.beam import quadratic_zeros
from rigcheck.statics.rail import Curves, Section


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class RailPeaks:
    """Worst values over the rail, shapes (..., state, share) unless said.

    Attributes:
        x: Every station looked at, shape (..., state, share, station). [in]
        moment: M there, sagging positive. [lbf*in]
        axial: N there, tension positive. [lbf]
        shear: V there. [lbf]
        max_moment: Largest |M|. [lbf*in]
        max_shear: Largest |V|. [lbf]
        max_axial: Largest |N|. [lbf]
        stress: Largest fiber stress |N/A +- M c/I|. [psi]
        stress_at: Where it stands. [in]
        compression: Largest compressive fiber stress at the top edge. [psi]
        end_moment: M at the far end, zero by equilibrium. [lbf*in]
        at_head: From which station on all that members would carry is put on the head, where none is known.
    """

    x: Array
    moment: Array
    axial: Array
    shear: Array
    max_moment: Array
    max_shear: Array
    max_axial: Array
    stress: Array
    stress_at: Array
    compression: Array
    end_moment: Array
    at_head: int


def _slopes(found: Curves, *, section: Section) -> tuple[Array, ...]:
    """dM/dx and the slope of either fiber stress: value, first and second derivative, (fiber, ..., rail, piece)."""
    levers = [
        ((section.axis - fiber) * section.area / section.inertia)[..., None, None, None]
        for fiber in (section.top, section.bottom)
    ]
    return tuple(_unlike(found.moment[..., k], found.axial[..., k], levers=levers) for k in (1, 2, 3))


def _unlike(moment: Array, axial: Array, *, levers: Sequence[Array]) -> Array:
    """The moment, and the moment at each lever less the axial force, (1 + lever, ..., piece)."""
    found = np.empty((1 + len(levers), *np.broadcast_shapes(moment.shape, axial.shape)))
    found[0] = moment
    for place, lever in enumerate(levers, start=1):
        np.multiply(lever, moment, out=found[place])
        found[place] -= axial
    return found


def inside(where: NDArray[np.bool_]) -> tuple[NDArray[np.intp], ...]:
    """Where values found inside some pieces go, in as few columns as they need, from (..., rail, piece) masks.

    Args:
        where: The pieces.

    Returns:
        Index of the rail for each of them, with its column last.
    """
    column = np.cumsum(where, axis=-1)[where] - 1
    return (*np.nonzero(where)[:-1], column)


def put_inside(first: Array, *, at: tuple[NDArray[np.intp], ...], values: Array) -> Array:
    """Values inside some pieces of each rail as columns, the first value of the rail where it has fewer.

    Args:
        first: A value of each rail, shape (..., rail).
        at: From `inside`.
        values: Some of each piece, shape (found, point).

    Returns:
        Shape (..., rail, column x point).
    """
    columns = int(at[-1].max(initial=-1)) + 1
    full = np.empty((*first.shape, columns, values.shape[-1]))
    full[...] = first[..., None, None]
    full[at] = values
    return full.reshape(*first.shape, columns * values.shape[-1])


def _power(derivative: Array, *, t: Array) -> Array:
    """Sum of d_p t^p / p!, shapes (..., order) and (..., point)."""
    total = np.zeros(t.shape)
    for power in range(derivative.shape[-1] - 1, -1, -1):
        total = total * t / (power + 1) + derivative[..., power, None]
    return total


def _roots(turns: NDArray[np.bool_], *, t: Array) -> tuple[NDArray[np.intp], tuple[NDArray[np.intp], ...], Array]:
    """The zeros that lie inside some pieces, in as few columns of each rail as they need.

    Args:
        turns: The pieces, shape (..., rail, piece).
        t: Distances into each of them, zero where there is none, shape (found, root).

    Returns:
        Of each zero which of the pieces it lies in, its rail with its column last, and its distance, shape (zero, 1).
    """
    piece, root = np.nonzero(t > 0.0)
    *rail, _ = np.nonzero(turns)
    rail = [axis[piece] for axis in rail]
    place = np.arange(len(piece))
    first = np.ones(len(piece), dtype=np.bool_)
    first[1:] = np.any([axis[1:] != axis[:-1] for axis in rail], axis=0)
    column = place - np.maximum.accumulate(np.where(first, place, 0))
    return piece, (*rail, column), t[piece, root][:, None]


def rail_peaks(found: Curves, *, section: Section) -> RailPeaks:
    """N, V, M and fiber stress at every discontinuity and at every zero of their derivatives.

    Only the pieces in which one of these derivatives, or its own, changes sign between the ends can hold such a zero.

    Args:
        found: The rails.
        section: Rail section, shapes (...).

    Returns:
        Peaks. Sagging (positive M) presses the top fiber.

    Source: own derivation, docs/method.md#rail; sigma = N/A + M c/I, any strength-of-materials text.
    """
    c0, c1, c2 = _slopes(found, section=section)
    end = c0 + found.span * (c1 + 0.5 * found.span * c2)
    live = found.span > 0.0  # between loads at one and the same station there is nothing to cut
    turns = live & ((c0 * end < 0.0) | (c1 * (c1 + found.span * c2) < 0.0)).any(0)
    t = quadratic_zeros(c0[:, turns], c1=c1[:, turns], c2=0.5 * c2[:, turns], span=found.span[turns])
    piece, at, t = _roots(turns, t=np.moveaxis(t, 0, -2).reshape(-1, 2 * len(c0)))
    ends = found.span[..., None]

    def everywhere(pieces: Array) -> Array:
        first, last = (np.where(live, values, 0.0) for values in (pieces[..., 0], _power(pieces, t=ends)[..., 0]))
        within = put_inside(first[..., 0], at=at, values=_power(pieces[turns][piece], t=t))
        return np.concatenate([first, last, within], axis=-1)

    x = np.concatenate(
        [found.start, found.start + found.span,
         put_inside(found.start[..., 0], at=at, values=found.start[turns][piece, None] + t)], axis=-1
    )  # fmt: skip
    moment, axial, shear = everywhere(found.moment), -everywhere(found.axial), everywhere(found.shear)
    area, inertia, n = (v[..., None, None, None] for v in (section.area, section.inertia, section.axis))
    top = axial / area - moment * (section.top[..., None, None, None] - n) / inertia
    bottom = axial / area + moment * (n - section.bottom[..., None, None, None]) / inertia
    worst = np.maximum(np.abs(top), np.abs(bottom))
    place = worst.argmax(-1)[..., None]
    return RailPeaks(
        x=x,
        moment=moment,
        axial=axial,
        shear=shear,
        max_moment=np.abs(moment).max(-1),
        max_shear=np.abs(shear).max(-1),
        max_axial=np.abs(axial).max(-1),
        stress=worst.max(-1),
        stress_at=np.take_along_axis(x, place, axis=-1)[..., 0],
        compression=np.maximum(-top, 0.0).max(-1),
        end_moment=found.beyond,
        at_head=x.shape[-1],
    )


def worse(one: RailPeaks, *, other: RailPeaks) -> RailPeaks:
    """What is looked at in either, and the larger of the peaks."""

    def both(name: str) -> Array:
        return np.asarray(np.concatenate([getattr(one, name), getattr(other, name)], axis=-1))

    def most(name: str) -> Array:
        return np.asarray(np.maximum(getattr(one, name), getattr(other, name)))

    return RailPeaks(
        **{name: both(name) for name in ("x", "moment", "axial", "shear")},
        **{name: most(name) for name in ("max_moment", "max_shear", "max_axial", "stress", "compression")},
        stress_at=np.where(one.stress >= other.stress, one.stress_at, other.stress_at),
        end_moment=one.end_moment,
        at_head=one.x.shape[-1],
    )

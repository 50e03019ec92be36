"""Loads on a straight beam as Macaulay terms: shear, moment, slope and deflection as exact polynomials."""

from __future__ import annotations

from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ORDERS = 4  # a term carries p = 0 couple, 1 force, 2 force per length, 3 its slope


@dataclass(frozen=True, slots=True)
class Terms:
    """Sum of c_p <x - a>^p / p!, which is the bending moment of the loads left of x.

    Attributes:
        at: Where each term begins, shape (..., term). [in]
        coefficient: Order p from 0 to 3, shape (..., term, 4). [lbf*in^(1-p)]
    """

    at: Array
    coefficient: Array


def join(*parts: Terms) -> Terms:
    """Terms of several loads in one, batch shapes broadcast."""
    shape = np.broadcast_shapes(*(part.at.shape[:-1] for part in parts), *(p.coefficient.shape[:-2] for p in parts))
    return Terms(
        at=np.concatenate([np.broadcast_to(p.at, (*shape, p.at.shape[-1])) for p in parts], axis=-1),
        coefficient=np.concatenate(
            [np.broadcast_to(p.coefficient, (*shape, *p.coefficient.shape[-2:])) for p in parts], axis=-2
        ),
    )


def evaluate(terms: Terms, *, x: Array, integrals: int = 0, before: bool = False) -> Array:
    """The sum of terms at stations, integrated or differentiated.

    Args:
        terms: Loads, shapes (..., term).
        x: Stations, shape (..., station). [in]
        integrals: 0 for the moment, -1 for its derivative, 1 and 2 for its integrals.
        before: At a station where a term begins, leave the term out (the value just uphill).

    Returns:
        Values, shape (..., station).

    Source: Macaulay's method (singularity functions), any strength-of-materials text; docs/method.md#rail.
    """
    t = x[..., :, None] - terms.at[..., None, :]
    on = (t > 0.0) if before else (t >= 0.0)
    np.maximum(t, 0.0, out=t)
    scaled = [
        terms.coefficient[..., None, :, p] / factorial(p + integrals) if p + integrals >= 0 else None
        for p in range(ORDERS)
    ]
    total: Array | None = None
    for level in reversed(scaled):  # Horner, from the highest power down to the constant
        if level is not None:
            total = level if total is None else total * t + level
    total = np.asarray(total)
    # a constant left at the end acts only beyond its own start; every power of t is nothing there already
    total = np.where(on, total, 0.0) if integrals <= 0 else total * t**integrals
    return np.asarray(total.sum(-1))


def quadratic_zeros(first: Array, *, middle: Array, last: Array) -> tuple[Array, Array]:
    """Fractions of a segment at which a quadratic, given at its ends and middle, is zero.

    Args:
        first: Value at the start of each segment, shape (..., segment).
        middle: Value at its middle.
        last: Value at its end.

    Returns:
        Two fractions, shape (..., segment, 2), clipped to 0..1, and 0.5 where there is no root: harmless
        as one more station, and True where a real root lies inside, shape (..., segment, 2).
    """
    a = 2.0 * (first - 2.0 * middle + last)
    b = 4.0 * middle - 3.0 * first - last
    disc = b * b - 4.0 * a * first
    real = disc >= 0.0
    root = np.sqrt(np.where(real, disc, 0.0))
    q = -0.5 * (b + np.where(b >= 0.0, root, -root))
    with_a, with_q = a != 0.0, q != 0.0
    one = np.where(with_a, q, 0.5) / np.where(with_a, a, 1.0)
    two = np.where(with_q, first, 0.5) / np.where(with_q, q, 1.0)
    found = np.stack([one, two], axis=-1)
    inside = (found > 0.0) & (found < 1.0) & np.stack([real & with_a, real & with_q], axis=-1)
    return np.where(inside, found, 0.5), inside


def interior_zeros(values: tuple[Array, Array, Array], *, stations: Array) -> Array:
    """Stations at which a piecewise quadratic is zero, two per segment.

    Args:
        values: Just after each start, at each middle, just before each end, shapes (..., segment).
        stations: Sorted ends of the segments, shape (..., segment + 1). [in]

    Returns:
        Shape (..., 2 * segment); segment middles stand where there is no zero. [in]
    """
    first, middle, last = values
    where, _ = quadratic_zeros(first, middle=middle, last=last)
    start, span = stations[..., :-1, None], np.diff(stations, axis=-1)[..., None]
    found = start + span * where
    return np.asarray(found.reshape(*found.shape[:-2], 2 * found.shape[-2]))

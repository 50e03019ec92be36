"""Loads on a straight beam as Macaulay terms: shear, moment, slope and deflection as exact polynomials."""

from __future__ import annotations

from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_BISECTIONS = 28  # to a third of a billionth of the segment
ORDERS = 4  # a term carries p = 0 couple, 1 force, 2 force per length, 3 its slope


@dataclass(frozen=True, slots=True, eq=False, repr=False)
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


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Segments:
    """A piecewise polynomial by its derivatives just after the start of each segment.

    Attributes:
        start: Where each segment begins, shape (..., segment). [in]
        span: Its length. [in]
        derivative: Value and derivatives there, shape (..., segment, order).
    """

    start: Array
    span: Array
    derivative: Array


def segments(terms: Terms, *, stations: Array) -> Segments:
    """The sum of terms as one polynomial per segment, so that looking at a point costs no sum over the loads.

    Args:
        terms: Loads, shapes (..., term).
        stations: Sorted discontinuities, shape (..., segment + 1). [in]

    Returns:
        Exact: between stations the sum is a cubic.
    """
    start = stations[..., :-1]
    each = [evaluate(terms, x=start, integrals=-order) for order in range(ORDERS)]
    return Segments(start=start, span=np.diff(stations, axis=-1), derivative=np.stack(each, axis=-1))


def at(pieces: Segments, *, t: Array, order: int = 0) -> Array:
    """Value or a derivative of a piecewise polynomial at distances into its segments.

    Args:
        pieces: The polynomial.
        t: Distance from the start of the segment, shape (..., segment, point). [in]
        order: Which derivative.

    Returns:
        Shape (..., segment, point).
    """
    total = np.zeros(np.broadcast_shapes(t.shape, (*pieces.derivative.shape[:-1], 1)))
    for power in range(pieces.derivative.shape[-1] - 1, order - 1, -1):  # Horner on sum of d_p t^p / p!
        total = total * t / (power - order + 1) + pieces.derivative[..., power, None]
    return total


def crossings(pieces: Segments, *, t: Array) -> Array:
    """Where a piecewise polynomial crosses zero between points among which it is monotone, by bisection.

    Args:
        pieces: The polynomial.
        t: Sorted distances into each segment, shape (..., segment, point). [in]

    Returns:
        One distance between each two points, shape (..., segment, point - 1); the first where it does not cross.
    """
    low, high = t[..., :-1], t[..., 1:]
    value = at(pieces, t=t)
    below = value[..., :-1] < 0.0
    crosses = below != (value[..., 1:] < 0.0)
    left = low
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        same = (at(pieces, t=middle) < 0.0) == below
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    return np.where(crosses, 0.5 * (low + high), left)


def quadratic_zeros(c0: Array, *, c1: Array, c2: Array, span: Array) -> Array:
    """Where c0 + c1 t + c2 t^2 is zero within 0 < t < span.

    Args:
        c0: Value at the start of each segment, shape (..., segment).
        c1: Slope there. [1/in]
        c2: Half of the curvature. [1/in2]
        span: Length of the segment. [in]

    Returns:
        Two distances, shape (..., segment, 2); zero, the start itself, where there is no root inside. [in]
    """
    disc = c1 * c1 - 4.0 * c2 * c0
    root = np.sqrt(np.maximum(disc, 0.0))
    q = -0.5 * (c1 + np.where(c1 >= 0.0, root, -root))
    bent, sloped = c2 != 0.0, q != 0.0
    one = np.where(bent, q, 0.0) / np.where(bent, c2, 1.0)
    two = np.where(sloped, c0, 0.0) / np.where(sloped, q, 1.0)
    found = np.stack([one, two], axis=-1)
    inside = (found > 0.0) & (found < span[..., None]) & (disc >= 0.0)[..., None]
    return np.where(inside, found, 0.0)

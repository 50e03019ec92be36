"""Loads on a straight beam as Macaulay terms: shear, moment, slope and deflection as exact polynomials."""

from __future__ import annotations

from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array

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


def in_order(terms: Terms, *, order: NDArray[np.intp]) -> Terms:
    """The same terms in another order, shape (..., term) of the places they come from."""
    shape = np.broadcast_shapes(order.shape, terms.coefficient.shape[:-1])
    order = np.broadcast_to(order, shape)
    coefficient = np.broadcast_to(terms.coefficient, (*shape, ORDERS))
    return Terms(
        at=np.take_along_axis(np.broadcast_to(terms.at, shape), order, axis=-1),
        coefficient=np.take_along_axis(coefficient, order[..., None], axis=-2),
    )


def segments(terms: Terms, *, integrals: int = 0) -> Segments:
    """The sum of terms as one polynomial per segment, so that looking at a point costs no sum over the loads.

    Each segment takes over what the one before it ends with and adds what begins there.

    Args:
        terms: Loads in the order of their places, shapes (..., term); the last one ends the last segment.
        integrals: How often integrated, from nothing at the first place.

    Returns:
        Exact: between the places the sum is a cubic, and its integrals two powers more. Orders begin with the highest
        integral.
    """
    start = terms.at[..., :-1]
    span = np.diff(terms.at, axis=-1)
    count = span.shape[-1]
    begin = np.ascontiguousarray(np.moveaxis(terms.coefficient, (-2, -1), (0, 1)))
    step = np.ascontiguousarray(np.moveaxis(span, -1, 0))
    orders = ORDERS + integrals
    found = np.empty((count, orders, *np.broadcast_shapes(step.shape[1:], begin.shape[2:])))
    powers = [step**rise / factorial(rise) for rise in range(1, orders)]
    for i in range(count):
        here = found[i]
        if i == 0:
            here[:integrals], here[integrals:] = 0.0, begin[i]
            continue
        before = found[i - 1]
        np.copyto(here, before)
        for rise, power in enumerate(powers, start=1):  # Taylor's series, which ends
            here[:-rise] += before[rise:] * power[i - 1]
        here[integrals:] += begin[i]
    return Segments(start=start, span=span, derivative=np.moveaxis(found, (0, 1), (-2, -1)))


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
    below = at(pieces, t=t) < 0.0
    here = np.nonzero(below[..., :-1] != below[..., 1:])
    left, right = low[here], high[here]
    bent = np.broadcast_to(pieces.derivative, (*t.shape[:-1], pieces.derivative.shape[-1]))[here[:-1]]
    few = Segments(np.zeros_like(left), right, bent)
    for _ in range(_BISECTIONS):
        middle = 0.5 * (left + right)
        same = (at(few, t=middle[..., None])[..., 0] < 0.0) == below[..., :-1][here]
        left, right = np.where(same, middle, left), np.where(same, right, middle)
    found = low.copy()
    found[here] = 0.5 * (left + right)
    return found


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
    found = side_by_side(one, two)
    inside = (found > 0.0) & (found < span[..., None]) & (disc >= 0.0)[..., None]
    return np.where(inside, found, 0.0)

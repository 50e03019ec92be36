"""Array type and guarded arithmetic that every capacity formula shares.

Capacities never carry NaN or infinity: a denominator is made positive first and the answer masked after.
"""

from typing import cast

import numpy as np

from rigcheck.arrays.traced import Traced
from rigcheck.arrays.tracing import quotient, rounded_up
from rigcheck.arrays.types import Array

Values = Array | float
"""What a numeric function accepts: an array of any batch shape, or one number; a traced one in a worked calculation."""

UNLIMITED = 1.0e12
"""Stands for "no limit" in a ratio or a capacity, far over any part of a small box and still exact in sums. [any]"""

ROUND = 1e-9
"""A number that is over a whole one by less differs from it by rounding alone. [1]"""


def as_array(values: Values) -> Array:
    """Read numbers as a float array without copying one that already is.

    Args:
        values: Numbers, shape (...).

    Returns:
        The same numbers, shape (...).
    """
    if isinstance(values, Traced):
        return cast(Array, values)  # it does for a formula what an array does
    return np.asarray(values, dtype=np.float64)


def divide(numerator: Values, denominator: Values, *, where_zero: float = 0.0) -> Array:
    """Divide where the denominator is not zero.

    Args:
        numerator: Upper numbers, shape (...). [any]
        denominator: Lower numbers, shape (...). [any]
        where_zero: The answer where the denominator is zero.

    Returns:
        The quotient, shape (...).
    """
    if isinstance(denominator, Traced) or isinstance(numerator, Traced):
        return cast(Array, quotient(numerator, lower=denominator, where_zero=where_zero))
    lower = as_array(denominator)
    if lower.size == 1 and abs(lower.item()) >= 1.0e-300:  # one number for all, as in a single case
        return np.asarray(as_array(numerator) / lower)
    dead = np.abs(lower) < 1.0e-300
    if not dead.any():
        return np.asarray(as_array(numerator) / lower)
    return np.where(dead, where_zero, as_array(numerator) / np.where(dead, 1.0, lower))


def root(values: Values) -> Array:
    """Square root of what is positive, zero of what is not.

    Args:
        values: Numbers, shape (...). [any]

    Returns:
        The roots, shape (...).
    """
    return np.sqrt(np.maximum(as_array(values), 0.0))


def round_up(values: Values) -> Array:
    """Round up to a whole number; what is over one by rounding alone counts as that.

    Args:
        values: Numbers, shape (...). [1]

    Returns:
        Whole numbers, shape (...).
    """
    if isinstance(values, Traced):
        return cast(Array, rounded_up(values, up=lambda value: float(np.ceil(value - ROUND))))
    return np.ceil(as_array(values) - ROUND)

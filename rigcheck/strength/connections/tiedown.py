"""Road tie-down rules as arithmetic: how many, how strong together, how much hold-down, how wide and how high."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.types import Array
from rigcheck.tables import tiedown
from rigcheck.tables.loader import load

FOOT = 12.0
WIDEST = 102.0
"""Overall width on the road. Source: 23 CFR 658.15 (memory); states permit more and less. [in]"""
HIGHEST = 162.0
"""Overall height on the road, 13 ft 6 in. Source: state law, the commonest limit (memory). [in]"""
_ROUND = 1e-9  # lengths that differ by rounding count as the same


def least_number(length: Values, *, weight: Values, blocked: Values) -> Array:
    """How many tie-downs an article needs.

    Args:
        length: Extent along the vehicle, shape (...). [in]
        weight: Weight, shape (...). [lbf]
        blocked: True where something stops it from moving forward, shape (...).

    Returns:
        The number, shape (...). [1]

    Source: 49 CFR 393.110(b), (c) (seen).
    """
    data = load("tiedown_wll")
    free, block = data["min_number_not_blocked_forward"], data["min_number_blocked_forward"]
    feet, pounds = as_array(length) / FOOT, as_array(weight)
    beyond = np.maximum(feet - free["two_for_first_ft"], 0.0)
    many = 2.0 + np.ceil(beyond / free["then_one_more_per_ft_or_fraction"] - _ROUND)
    short = (feet <= free["one_if_length_ft_at_most"] + _ROUND) & (pounds <= free["one_if_also_weight_lb_at_most"])
    held = np.maximum(np.ceil(feet / block["one_per_ft_or_fraction"] - _ROUND), 1.0)
    return np.where(np.asarray(blocked, dtype=np.bool_), held, np.where(short, 1.0, many))


def aggregate_limit(limits: Array, *, counts: Array | Sequence[int], kinds: Sequence[str]) -> Array:
    """Sum of working load limits, each with the credit of its way of tying.

    Args:
        limits: Working load limit of one strap of each kind, shape (..., strap). [lbf]
        counts: How many of each, shape (..., strap).
        kinds: "to anchor", "over, same side" or "over, other side".

    Returns:
        The sum, shape (...). [lbf]

    Source: 49 CFR 393.106(d) (seen).
    """
    credit = np.array([tiedown.credit(kind).value for kind in kinds]) * np.asarray(counts, dtype=np.float64)
    return np.asarray((limits * credit).sum(-1))


def least_aggregate(weight: Values) -> Array:
    """What that sum must reach, half of the weight.

    Args:
        weight: Weight, shape (...). [lbf]

    Returns:
        The least sum, shape (...). [lbf]

    Source: 49 CFR 393.106(d) (seen).
    """
    return np.asarray(tiedown.aggregate_fraction().value * as_array(weight))


def hold_down(limits: Array, *, counts: Array | Sequence[int], down: Array) -> Array:
    """Downward force that straps can give at their working load limits.

    Args:
        limits: Working load limit of one strap of each kind, shape (..., strap). [lbf]
        counts: How many of each, shape (..., strap).
        down: Downward part of each strap's direction, shape (..., strap). [1]

    Returns:
        The force, shape (...). [lbf]

    Source: 49 CFR 393.102(b) (seen); geometry.
    """
    return np.asarray((limits * np.asarray(counts, dtype=np.float64) * np.maximum(down, 0.0)).sum(-1))


def least_hold_down(weight: Values) -> Array:
    """What it must reach, a fifth of the weight.

    Args:
        weight: Weight, shape (...). [lbf]

    Returns:
        The least force, shape (...). [lbf]

    Source: 49 CFR 393.102(b) (seen).
    """
    return np.asarray(tiedown.hold_down().value * as_array(weight))

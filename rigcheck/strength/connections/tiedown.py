"""Road tie-down rules as arithmetic: how many, how strong together, how much hold-down, how wide and how high."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rigcheck.arrays.guarded import ROUND, Values, as_array, round_up
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import LENGTH, NUMBER
from rigcheck.tables import tiedown
from rigcheck.tables.loader import load

WIDEST = 102.0
"""Overall width on the road. Source: 23 CFR 658.15 (memory); states permit more and less. [in]"""
HIGHEST = 162.0
"""Overall height on the road, 13 ft 6 in. Source: state law, the commonest limit (memory). [in]"""
_FOOT = Quantity(12.0, "l_f", LENGTH, "a foot of length")
_COUNT = "49 CFR 393.110 (seen)"
_SUM = "49 CFR 393.106(d) (seen)"
_DOWN = "49 CFR 393.102(b) (seen)"


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
    each = Quantity(block["one_per_ft_or_fraction"], "c_1", NUMBER, "feet for each, blocked forward")
    first = Quantity(free["two_for_first_ft"], "c_0", NUMBER, "feet for the first two, not blocked forward")
    more = Quantity(free["then_one_more_per_ft_or_fraction"], "c_1", NUMBER, "feet for each one more")
    feet = step(as_array(length) / beside(_FOOT, length), "F", "Length along the vehicle in feet")
    pounds = as_array(weight)
    short = (feet <= free["one_if_length_ft_at_most"] + ROUND) & (pounds <= free["one_if_also_weight_lb_at_most"])
    if np.all(blocked):
        return step(np.maximum(round_up(feet / beside(each, feet)), 1.0), "N", "Tie-downs asked for", clause=_COUNT)
    beyond = np.maximum(feet - beside(first, feet), 0.0)
    many = 2.0 + round_up(beyond / beside(more, feet))
    held = np.maximum(round_up(feet / each.value), 1.0) if np.any(blocked) else many
    least = np.where(np.asarray(blocked, dtype=np.bool_), held, np.where(short, 1.0, many))
    return step(least, "N", "Tie-downs asked for", clause=_COUNT)


def _each(values: Array | Sequence[Values]) -> Sequence[Values]:
    """What each kind of strap has, of a list of them or of a last axis."""
    return [values[..., i] for i in range(values.shape[-1])] if isinstance(values, np.ndarray) else values


def aggregate_limit(
    limits: Array | Sequence[Values], *, counts: Array | Sequence[Values], kinds: Sequence[str]
) -> Array:
    """Sum of working load limits, each with the credit of its way of tying.

    Args:
        limits: Working load limit of one strap of each kind, shape (..., strap). [lbf]
        counts: How many of each, shape (..., strap).
        kinds: "to anchor", "over, same side" or "over, other side".

    Returns:
        The sum, shape (...). [lbf]

    Source: 49 CFR 393.106(d) (seen).
    """
    terms = (
        as_array(limit) * beside(Quantity(tiedown.credit(kind).value * as_array(count), f"c_{i}", NUMBER,
                                          f"its number times its credit, {kind}"), limit)
        for i, (limit, count, kind) in enumerate(zip(_each(limits), _each(counts), kinds, strict=True), start=1)
    )  # fmt: skip
    return step(sum(terms, start=as_array(0.0)), "R", "Sum that there is", clause=_SUM)


def least_aggregate(weight: Values) -> Array:
    """What that sum must reach, half of the weight.

    Args:
        weight: Weight, shape (...). [lbf]

    Returns:
        The least sum, shape (...). [lbf]

    Source: 49 CFR 393.106(d) (seen).
    """
    share = Quantity(tiedown.aggregate_fraction().value, "c_w", NUMBER, "of the weight")
    return step(beside(share, weight) * as_array(weight), "S", "Sum that is asked for", clause=_SUM)


def hold_down(
    limits: Array | Sequence[Values], *, counts: Array | Sequence[Values], down: Array | Sequence[Values]
) -> Array:
    """Downward force that straps can give at their working load limits.

    Args:
        limits: Working load limit of one strap of each kind, shape (..., strap). [lbf]
        counts: How many of each, shape (..., strap).
        down: Downward part of each strap's direction, shape (..., strap). [1]

    Returns:
        The force, shape (...). [lbf]

    Source: 49 CFR 393.102(b) (seen); geometry.
    """
    terms = (
        as_array(limit) * beside(Quantity(as_array(count) * np.maximum(way, 0.0), f"v_{i}", NUMBER,
                                          "its number times what of it points down"), limit)
        for i, (limit, count, way) in enumerate(zip(_each(limits), _each(counts), _each(down), strict=True), start=1)
    )  # fmt: skip
    return step(sum(terms, start=as_array(0.0)), "R", "Hold-down that there is", clause=_DOWN)


def least_hold_down(weight: Values) -> Array:
    """What it must reach, a fifth of the weight.

    Args:
        weight: Weight, shape (...). [lbf]

    Returns:
        The least force, shape (...). [lbf]

    Source: 49 CFR 393.102(b) (seen).
    """
    share = Quantity(tiedown.hold_down().value, "c_d", NUMBER, "of the weight")
    return step(beside(share, weight) * as_array(weight), "S", "Hold-down that is asked for", clause=_DOWN)

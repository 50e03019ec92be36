"""The second opinion as a plain dict: both methods quantity by quantity, and an error where they part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from rigcheck.analysis.rows import bound_names
from rigcheck.assessment.assess import Assessment
from rigcheck.crosscheck.frame import FrameError
from rigcheck.crosscheck.second_opinion import (
    LIMIT,
    QUANTITIES,
    Comparison,
    Confirmation,
    confirm_governing,
    worst_difference,
)
from rigcheck.output.check.result import Extras
from rigcheck.quantities import System
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import bound_word, state_word, variant_words

NOTHING = "Independent frame check: the lines hold the box in no load case, so there was nothing to compare."
NOT_HAD = "Independent frame check: none could be had ({}). Nothing here is confirmed by a frame."
FAR = np.radians(5.0)
"""Roll from which movements are no longer small: the default of `rail.roll_limit`, at which a box stops a rig."""
FAR_TOLD = (
    " The box rolls {:.0f} degrees in one of them. Both methods take movements as small, so past {:g} degrees their"
    " agreement confirms the arithmetic and not where the box ends up."
)


class SecondOpinionError(Exception):
    """The frame does not confirm the closed forms: a mistake in this program and not in the rig."""


def with_second_opinion(extras: Extras, *, assessment: Assessment, system: System) -> Extras:
    """The extras of a result with the second opinion on its governing states.

    Args:
        extras: What studies add to the result so far.
        assessment: The answer for one rig.
        system: Units of the output.

    Raises:
        SecondOpinionError: A difference is over the limit.
    """
    return replace(extras, confirm=second_opinion(assessment, scale=Scale(system)))


def second_opinion(assessment: Assessment, *, scale: Scale) -> Plain:
    """The second opinion on the governing rows of a rig, or why there is none.

    A frame whose own answer does not hold together, far out of proportion, is no mistake of either method.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Raises:
        SecondOpinionError: A difference is over the limit.
    """
    try:
        confirmations = confirm_governing(assessment)
    except FrameError as error:
        return _without(NOT_HAD.format(error))
    return confirmed(confirmations, scale=scale)


def _without(text: str) -> Plain:
    """What stands in place of a second opinion."""
    return {
        "largest_difference": None,
        "limit": LIMIT,
        "agrees": None,
        "rolls_far": False,
        "rows": [],
        "text": text,
        "largest": dict.fromkeys(QUANTITIES),
    }


def confirmed(confirmations: Sequence[Confirmation], *, scale: Scale) -> Plain:
    """What both methods say, ready for JSON.

    Args:
        confirmations: Both methods on the governing rows; may be none.
        scale: Units of the output.

    Returns:
        Rows with their comparisons, the largest difference of all and of each kind of quantity, whether it is within
        the limit (null where there was nothing to compare), whether the box rolls too far for small movements, and a
        sentence.

    Raises:
        SecondOpinionError: A difference is over the limit.
    """
    for one in confirmations:
        if not one.ok:
            raise SecondOpinionError(_complaint(one, scale=scale))
    if not confirmations:
        return _without(NOTHING)
    worst = worst_difference(confirmations)
    roll = max(
        (abs(pair.ours) for one in confirmations for pair in one.comparisons if pair.quantity == "roll"), default=0
    )
    far = FAR_TOLD.format(np.degrees(roll), np.degrees(FAR)) if roll > FAR else ""
    largest = {quantity: _largest(confirmations, quantity=quantity) for quantity in QUANTITIES}
    told = ", ".join(f"{name} {_share(value)}" for name, value in largest.items() if value is not None)
    return {
        "largest_difference": worst,
        "limit": LIMIT,
        "agrees": True,
        "rows": [_row(one, scale=scale) for one in confirmations],
        "text": (
            "Independent frame check: a space frame of the box, built from the case file, rails, cross-members, lines,"
            f" differs by {_share(worst)} at most, within the {100.0 * LIMIT:g} % allowed. It checks how the loads go"
            f" through box, lines and hinge, not the loads and not the capacities. Largest differences: {told}.{far}"
        ),
        "rolls_far": bool(roll > FAR),
        "largest": largest,
    }


def _row(one: Confirmation, *, scale: Scale) -> Plain:
    """One row and share with every quantity."""
    pairs = []
    for pair in one.comparisons:
        dimension: Any = pair.kind
        pairs.append(
            {
                "name": pair.name,
                "quantity": pair.quantity,
                "factored": pair.factored,
                "ours": scale.one(pair.ours, dimension=dimension),
                "frame": scale.one(pair.frame, dimension=dimension),
                "unit": scale.label(dimension),
                "difference": pair.difference,
            }
        )
    return {
        "label": _label(one, scale=scale),
        "comparisons": pairs,
        "left_over": scale.one(one.imbalance, dimension="force"),
    }


def _label(one: Confirmation, *, scale: Scale) -> str:
    """Row and sharing in words."""
    if one.row is None:
        return one.label
    words = variant_words(scale.variant(one.row.variant), unit=scale.label("length"), short=True)
    bound, on = bound_names(one.row.ultimate)[one.bound]
    sharing = bound_word(bound, state=one.row.state) + (f" on the {on}" if on else "")
    return ", ".join(text for text in (state_word(one.row.state), words, sharing) if text)


def _largest(confirmations: Sequence[Confirmation], *, quantity: str) -> float | None:
    """Largest relative difference in one quantity; None where it was not compared."""
    pairs = [pair.difference for one in confirmations for pair in one.comparisons if pair.quantity == quantity]
    return max(pairs, default=None)


def _complaint(one: Confirmation, *, scale: Scale) -> str:
    pair = max(one.comparisons, key=lambda pair: pair.difference)
    ours, frame = (_told(value, pair=pair, scale=scale) for value in (pair.ours, pair.frame))
    return (
        f"independent frame check: {pair.name} in {one.label} is {ours} by the closed forms and {frame} by the frame,"
        f" {_share(pair.difference)} apart; {100.0 * LIMIT:g} % is the most allowed, so this result is not to be used"
    )


def _told(value: float, *, pair: Comparison, scale: Scale) -> str:
    dimension: Any = pair.kind
    return f"{scale.one(value, dimension=dimension):.6g} {scale.label(dimension)}"


def _share(value: float) -> str:
    """A relative difference; what is only rounding is told as such."""
    return "under 0.0001 %" if value < 1e-6 else f"{100.0 * value:.2g} %"

"""The second opinion for a check: the largest difference of each quantity, and an error where one is too large."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from rigcheck.check.assess import Assessment
from rigcheck.quantities import System
from rigcheck.studies.frame import FrameError
from rigcheck.studies.second_opinion import LIMIT, Comparison, Confirmation, confirm_governing
from rigcheck.views.report_confirm import confirm_result, not_had
from rigcheck.views.result import Extras
from rigcheck.views.scale import Scale

Plain = dict[str, Any]

KINDS = ("line tension", "hinge force", "peak rail moment", "sag")


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
    try:
        confirmations = confirm_governing(assessment)
    except FrameError as error:  # far out of proportion, which is no mistake of either method
        return replace(extras, confirm={**not_had(error), "largest": dict.fromkeys(KINDS)})
    return replace(extras, confirm=confirmed(confirmations, scale=Scale(system)))


def confirmed(confirmations: Sequence[Confirmation], *, scale: Scale) -> Plain:
    """What both methods say, with the largest difference of each kind of quantity.

    Args:
        confirmations: Both methods on the governing rows; may be none.
        scale: Units of the output.

    Returns:
        As `rigcheck.views.report_confirm.confirm_result`, with `largest` by quantity and its sentence.

    Raises:
        SecondOpinionError: A difference is over the limit.
    """
    for one in confirmations:
        if not one.ok:
            raise SecondOpinionError(_complaint(one, scale=scale))
    found = confirm_result(confirmations, scale=scale)
    found["largest"] = {kind: _largest(confirmations, kind=kind) for kind in KINDS}
    told = ", ".join(f"{kind} {_share(value)}" for kind, value in found["largest"].items() if value is not None)
    if told:
        found["text"] = f"{found['text']} Largest differences: {told}."
    return found


def _largest(confirmations: Sequence[Confirmation], *, kind: str) -> float | None:
    """Largest relative difference among the quantities whose name begins alike; None where there is none."""
    pairs = [pair.difference for one in confirmations for pair in one.comparisons if pair.name.startswith(kind)]
    return max(pairs, default=None)


def _complaint(one: Confirmation, *, scale: Scale) -> str:
    pair = max(one.comparisons, key=lambda pair: pair.difference)
    ours, frame = (_told(value, pair=pair, scale=scale) for value in (pair.ours, pair.frame))
    return (
        f"second opinion: {pair.name} in {one.label} is {ours} by the closed forms and {frame} by the frame,"
        f" {_share(pair.difference)} apart; {100.0 * LIMIT:g} % is the most allowed, so this result is not to be used"
    )


def _told(value: float, *, pair: Comparison, scale: Scale) -> str:
    dimension: Any = pair.kind
    return f"{scale.one(value, dimension=dimension):.6g} {scale.label(dimension)}"


def _share(value: float) -> str:
    """A relative difference; what is only rounding is told as such."""
    return "under 0.0001 %" if value < 1e-6 else f"{100.0 * value:.2g} %"

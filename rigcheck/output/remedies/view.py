"""Remedies as plain data, as two or three lines for the screen of a check, and as a whole list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigcheck.output.instructions import stop_words
from rigcheck.studies.remedies.record import Remedy
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import ratio
from rigcheck.wording.words import percent, state_word

LINES = 3
NONE = "Nothing tried cures it: several things must change at once, or the whole layout."


def remedies_data(found: Sequence[Remedy]) -> list[Plain]:
    """Remedies ready for JSON, in their order.

    Args:
        found: What the study found.

    Returns:
        One entry each; utilization null where something still stops the rig.
    """
    return [
        {
            "changes": [step.words for step in one.steps],
            "cures": one.cures,
            "counted": one.counted,
            "effort": one.effort,
            "utilization": None if one.stops else ratio(one.utilization),
            "highest_utilization": ratio(one.utilization),
            "part": one.part,
            "mode": one.mode,
            "state": one.state,
            "stops": list(one.stops),
        }
        for one in found
    ]


def remedy_lines(found: Sequence[Mapping[str, Any]], *, most: int | None = LINES) -> list[str]:
    """Remedies in sentences, for a rig that is over.

    Args:
        found: As `remedies_data` gives them.
        most: No more than so many; all of them for None.

    Returns:
        One line each, those that cure first; where none cures, the first line says so.
    """
    lines = [] if any(one["cures"] for one in found) else [NONE]
    return [*lines, *(_line(one) for one in found)][:most]


def _line(one: Mapping[str, Any]) -> str:
    what = ", and ".join(one["changes"])
    words = what[:1].upper() + what[1:]
    then = f"{one['part']}, {one['mode']}, {percent(one['highest_utilization'])} in {state_word(one['state'])}"
    if one["cures"] and one["counted"] == "check":
        return f"{words}: nothing is over then; the highest is {then}."
    if one["cures"]:
        return (
            f"{words}: with the load shared by stretch nothing is over; the highest is {then}. Not counted are its own"
            f" steel and footing, and `check` goes on without it: see `rigcheck {one['counted']}`."
        )
    stops = f", stopped by {', '.join(map(stop_words, one['stops']))}" if one["stops"] else ""
    return f"{words}: does not fix it alone; it leaves {then}{stops}."

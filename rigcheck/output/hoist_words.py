"""The window of a hoist as plain values and as a sentence, the same on every page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rigcheck.studies.hoist_window.study import HoistWindow
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number


def hoist_plain(windows: Iterable[HoistWindow], *, scale: Scale) -> list[Plain]:
    """Windows ready for JSON.

    Args:
        windows: The windows of a line.
        scale: Units of the output.

    Returns:
        One entry for each hoist; `most` null where nothing that it pulls on is described.
    """
    return [
        {
            "part": one.part,
            "marked": scale.one(one.marked, dimension="force"),
            "least": scale.one(one.least, dimension="force"),
            "most": None if one.most is None else scale.one(one.most, dimension="force"),
            "limit": ", ".join(one.limit) or None,
            "empty": bool(one.empty),
        }
        for one in windows
    ]


def rating_text(least: float, most: float | None, *, unit: str) -> str:
    """What to look for on a tag, from the least to the most that it may say.

    Args:
        least: Least rating, in the unit.
        most: Largest, None where none is known.
        unit: Word of the unit.
    """
    told = number(least, unit=unit, rounding="up")
    if most is None:
        return f"at least {told}"
    if most < least:
        return f"no mark fits: {told} or more is needed, {number(most, unit=unit, rounding='down')} is the most"
    return f"{told}, not over {number(most, unit=unit, rounding='down')}"


def hoist_sentence(one: Mapping[str, Any], *, unit: str) -> str:
    """What the tag of one hoist may say, and what goes first beyond it.

    Args:
        one: An entry of `hoist_plain`.
        unit: Word of the unit.
    """
    beyond = f"; beyond that a snagged box is over at: {one['limit']}" if one["limit"] else ""
    return f"Mark of {one['part']}: {rating_text(one['least'], one['most'], unit=unit)}{beyond}."

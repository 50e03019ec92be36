"""Say what governs a rig and why, in sentences a welder can act on, from the rows of the result alone."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.analysis.items import AT_MID_WIDTH
from rigcheck.analysis.rows import LEGAL
from rigcheck.output.instructions import stop_words
from rigcheck.output.rig_words import missing_words
from rigcheck.tables.load_cases import SNAGGED
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import (
    bound_sentence,
    case_word,
    number,
    percent,
    ratio_words,
    state_opening,
    variant_words,
)

NO_SIDE = frozenset({"floor", "road", LEGAL})
"""Groups of parts that have no left and right."""


def headline(result: PlainView) -> str:
    """The verdict in one line."""
    word = str(result["verdict"]).upper()
    stops = [one for one in result["findings"] if one["stops"]]
    parts = []
    if stops:
        parts.append("; ".join(dict.fromkeys(stop_words(one["code"]) for one in stops)))
    row = result["governing"]
    over_by_number = row is not None and row["verdict"] == "over"
    if row is not None and (over_by_number or not stops):
        use = result["highest_utilization"]
        parts.append(f"{row['part']}, {row['mode']}, {percent(use)}, {case_word(row)}")
        if _forbidden(row, result["findings"]):
            parts.append("a case that the cautions forbid: block the box before anybody is on it")
    missing = len(result["not_assessed"])
    if result["verdict"] == "incomplete":
        lead = "tight: " if result["tight"] else "highest: "
        known = [f"{lead}{parts[0]}", *parts[1:]] if parts else []
        parts = [f"nothing checked is over, {missing_words(missing)}", *known]
    elif missing:
        parts.append(missing_words(missing))
    return f"{word}: {'; '.join(parts)}" if parts else word


def _forbidden(row: PlainView, findings: Sequence[PlainView]) -> bool:
    """Whether somebody is on a box that a hoist or come-along holds in a row; a backup holds it under some sharings."""
    people = [one for one in findings if one["code"] == "person_on_hung_box" and one["state"] == row["state"]]
    return any(one.get("bound") in (None, row["bound"]) for one in people)


def closing(result: PlainView) -> str:
    """The verdict once more, in few words."""
    word, row = str(result["verdict"]).upper(), result["governing"]
    stops = list(dict.fromkeys(stop_words(one["code"]) for one in result["findings"] if one["stops"]))
    if stops:
        return f"{word}: {'; '.join(stops)}"
    missing = f": {missing_words(len(result['not_assessed']))}" if result["verdict"] == "incomplete" else ""
    return (
        f"{word}{missing}"
        if row is None
        else f"{word}{missing}; highest {percent(result['highest_utilization'])}, {row['part']}"
    )


def why(result: PlainView, *, over_beside: int | None = None, counted: bool = True) -> list[str]:
    """Sentences on what governs, and how many others are over or tight.

    Args:
        result: The result without its own sentences.
        over_beside: How many others are over, where the result holds only the rows nearest their limit.
        counted: Say too how the load is shared, and the factor and basis behind the numbers.

    Returns:
        Sentences, the stopping findings first.
    """
    sentences = []
    first: dict[str, str] = {}
    for one in result["findings"]:
        if one["stops"]:
            first.setdefault(one["text"], one["state"])
    sentences += [f"{state_opening(state)}: {text}." for text, state in first.items()]
    row = result["governing"]
    if row is not None:
        length = result["units"]["length"]
        sentences.append(f"{_opening(row, unit=length)}{_body(row)}")
        if counted:
            sentences.append(_counted(row))
    others = _others_over(result) if over_beside is None else over_beside
    if others:
        sentences.append(f"{others} other check{'s are' if others > 1 else ' is'} over too; see the table.")
    return sentences


def _others_over(result: PlainView) -> int:
    """How many rows of a whole result are over besides what governs."""
    row = result["governing"]
    own = None if row is None else (row["part"], row["mode"])
    return sum(one["verdict"] == "over" and (one["part"], one["mode"]) != own for one in result["checks"])


def _opening(row: PlainView, *, unit: str) -> str:
    words = variant_words(row["variant"], unit=unit)
    snagged = ", snagged there and the hoist at its full rating" if row.get("snag") and row["state"] != SNAGGED else ""
    return f"{state_opening(row['state'])}{f' ({words})' if words else ''}{snagged}, "


def _body(row: PlainView) -> str:
    """The demand against the capacity, worded for the group of the part."""
    demand = number(row["demand"], unit=row["unit"], rounding="up")
    capacity = number(row["capacity"], unit=row["unit"], rounding="down")
    part, mode = row["part"], row["mode"]
    side = "" if row["group"] in NO_SIDE or row["part"] in AT_MID_WIDTH else f"{row['side']} "
    use = "" if row["utilization"] is None else f" ({percent(row['utilization'])})"
    if row["group"] == LEGAL:
        return f"the {mode} is {demand}; {capacity} is allowed{use}."
    if row["group"] == "plant":
        return f"plant and box are turned over by {demand}, {mode}; {capacity} is allowed{use}."
    if row["unit"] == "" and row["capacity"] == 1.0:
        return f"the {side}{part} has an interaction ratio of {ratio_words(row['demand'])} in {mode}{use}."
    if row["unit"] == "":
        return f"the {mode} of {part} asked for is {demand}; there are {capacity}{use}."
    if row["group"] == "line" and row["unit"] in ("lbf", "N"):
        return f"the {side}line puts {demand} on {_short(part)}; its {mode} is {capacity}{use}."
    if row["group"] == "rail" and "stress" in mode:
        return f"the {side}rail is stressed to {demand}; {capacity} is allowed{use}."
    if row["group"] == "rail" and row["unit"] in ("in", "mm"):
        return f"the {mode} of the {side}rail is {demand}; the yardstick is {capacity}{use}."
    return f"the {side}{part} sees {demand}; {capacity} is allowed{use} in {mode}."


def _short(part: str) -> str:
    """A link as its owner names it: `line link 2: lever hoist` is `its lever hoist (line link 2)`."""
    place, colon, name = part.partition(": ")
    return f"its {name} ({place})" if colon else part


def _counted(row: PlainView) -> str:
    """The bound and the dynamic factor behind a row."""
    factor = row["dynamic_factor"] or "unfactored"
    parts = (bound_sentence(row["bound"], state=row["state"]), factor, row["basis"])
    return f"Basis: {'; '.join(text for text in parts if text)}."

"""The first page of a card, read at arm's length: whether it hangs, how deep, which hoist, who stays away, no more."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from typing import Any

from rigcheck.case.rig import Rig
from rigcheck.output.bed_words import bed_beyond, bed_paragraph
from rigcheck.output.card.sizes import SLIGHT, shortened, tens
from rigcheck.output.card.words import AT_WORK, HANGS, KEEP_OUT
from rigcheck.output.rig_words import missing_words
from rigcheck.wording.plain import Plain, PlainView
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import case_word, number, percent

DO_NOT_HANG = "DO NOT HANG"
TRIAL = "TRIAL HANG ONLY"
NAME, TITLE, SHORT = 32, 84, 76  # letters that stand there; the whole name stands on the last page
_HOISTS, _REASONS = 2, 3  # entries
_FOOT, _DECIMETRE = 12.0, 100.0  # in, mm


def headings(result: Mapping[str, Any], *, mark: Plain | None, trial: bool) -> tuple[str, str, str]:
    """The large line, what is said below it, and what the last page adds.

    Args:
        result: The result.
        mark: The bed mark in words; None where something is over.
        trial: Whether the box is only tacked.
    """
    if mark is None or (mark["depth"] is None and result["verdict"] != "incomplete"):
        return DO_NOT_HANG, "this box as it is described: something is over. Mend it and check again.", ""
    said = bed_paragraph(mark)
    if trial and len(result["not_assessed"]) == 1:  # that it hangs for trial alone
        return TRIAL, "empty, on its tacks, blocks under its tail, nobody on it or under it.", said
    if not result["complete"]:
        missing = missing_words(len(result["not_assessed"]))
        return DO_NOT_HANG, f"this box before it is described: INCOMPLETE, {missing}.", said
    return mark["text"], "", bed_beyond(mark)


def reasons(result: Mapping[str, Any]) -> list[str]:
    """What is over, the worst first, each part once."""
    stops = [one for one in result["findings"] if one["stops"]]
    found = list(dict.fromkeys(f"{one['text'][:1].upper()}{one['text'][1:]}" for one in stops))
    rows: dict[str, str] = {}
    for row in result["checks"]:
        if row["verdict"] == "over":
            use = percent(row["utilization"])
            rows.setdefault(row["part"], f"{row['part']}: {row['mode']}, {use}, in {case_word(row)}")
    return [*found, *rows.values()]


def keep_out(rig: Rig, *, scale: Scale) -> Plain:
    """How far everybody stays away and when, and when nobody is under the box.

    Source: the length of the box and three feet are common practice without a source.
    """
    reach = float(rig.number("box.length")) + KEEP_OUT
    value = scale.one(reach, dimension="length") or 0.0
    if scale.system == "us":
        words = f"{ceil(value / _FOOT - 1e-9)} ft"
    else:
        words = f"{ceil(value / _DECIMETRE - 1e-9) / 10.0:g} m"
    return {"reach": value, "words": words, "while": AT_WORK, "under": HANGS}


def points(
    card: PlainView, *, fold: Mapping[str, Any] | None, snub: float, straps: int, leveled: tuple[str, str] | None = None
) -> list[list[str]]:
    """What stands beside the picture: a name, the figure to remember, and what it is about.

    Args:
        card: The card as far as it is made.
        fold: The fold study; None where folding is not described.
        snub: What a snub line holds, with the factor of folding; zero where the fold needs none. [force of the card]
        straps: Tie-downs that are described.
        leveled: What an inch of one line does to a box that is free to roll.
    """
    hoists = [one for one in card["tags"] if one["hoist"]]
    found = [["Hoist mark", one["window"], f"({shortened(one['link'], most=NAME)})"] for one in hoists[:_HOISTS]]
    if len(hoists) > _HOISTS:
        found.append(["Hoist mark", "", f"{len(hoists) - _HOISTS} more hoists are listed with the tags."])
    far = card["keep_out"]
    found += [["Keep out", far["words"], far["while"]], ["Nobody", "", far["under"]]]
    if card["verdict"] == "over" or card["trial"]:
        return found
    if leveled:
        found.append(["Leveling", *leveled])
    if fold is None or fold["alone"]["verdict"] == "over":
        said = "it is not described" if fold is None else "something is over on the way"
        found.append(["Folding", "do NOT fold it", f"on its lines: {said}."])
    else:
        up = number(fold["to"], unit="deg", rounding="down")
        found.append(["Folding", f"{up} up", "from the hung box and no further; pin it there."])
        if snub > SLIGHT:
            found.append(["Snub line", *_snub(snub, fold=fold, unit=card["units"]["force"])])
    road = f"{straps} tie-downs; marks: see Road." if straps else "No tie-down: NOT for the road."
    return [*found, ["Road", "", road]]


def _snub(pull: float, *, fold: Mapping[str, Any], unit: str) -> tuple[str, str]:
    """The mark of the snub line, and from where it holds."""
    slack = fold["angles"]["slack"]
    start = f", on before {number(slack[0], unit='deg', rounding='down')}" if slack else ""
    return f"{tens(pull, unit=unit)} or more", f"on its tag{start}."


def told_first(card: PlainView) -> tuple[str, list[str]]:
    """What stands under the large line of a box that does not hang: a heading and the worst few."""
    if card["verdict"] == "over":
        return "Over", _few(card["over"])
    return ("Not assessed", _few(card["not_assessed"])) if card["not_assessed"] else ("", [])


def _few(texts: Sequence[str]) -> list[str]:
    left = len(texts) - _REASONS
    shown = [shortened(text, most=SHORT) for text in texts[:_REASONS]]
    return [*shown, f"and {left} more, on the last page"] if left > 0 else shown

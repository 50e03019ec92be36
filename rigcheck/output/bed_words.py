"""The bed mark in shop words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.output.instructions import stop_words
from rigcheck.studies.bed_mark.study import BedMark
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number, state_word


def bed_plain(bed: BedMark, *, scale: Scale) -> Plain:
    """The bed mark as a plain dict with its sentences; depth null where there is none.

    Args:
        bed: The mark.
        scale: Units of the output.

    Returns:
        Depth over all states and of the running box alone, and what is said of each.
    """
    beyond = f"{_plainly(bed.limit)}, {state_word(bed.state)}" if bed.limit else ""
    if bed.trial:
        text, limit = "No bed mark: the box is only tacked, and nothing may be in it.", ""
    elif not bed.checked:
        text, limit = "No bed mark: no part of the rig can be checked yet.", ""
    elif bed.depth is None:
        text = f"No bed mark: something is over without any bed ({beyond})."
        limit = ""
    else:
        sure = "" if bed.complete else ", as far as checked"
        text = f"Bed mark, all states{sure}: stop feeding at {_whole(bed.depth, scale=scale)} of bed"
        text += ": the top of the sides." if bed.to_the_top else "."
        limit = "" if bed.to_the_top else f"Beyond it is over: {beyond}."
    return {
        "depth": None if bed.depth is None else scale.one(bed.depth, dimension="length"),
        "unit": scale.label("length"),
        "text": text,
        "limit": limit,
        "running_depth": None if bed.running is None else scale.one(bed.running, dimension="length"),
        "running_text": _running(bed, scale=scale),
    }


def bed_paragraph(mark: Mapping[str, Any]) -> str:
    """The bed mark, what is over beyond it, and the depth of the running box alone."""
    return f"{mark['text']} {bed_beyond(mark)}".strip()


def bed_beyond(mark: Mapping[str, Any]) -> str:
    """What is over beyond the bed mark, and the depth of the running box alone."""
    return " ".join(mark[key] for key in ("limit", "running_text") if mark.get(key))


def _running(bed: BedMark, *, scale: Scale) -> str:
    """The depth for the running box alone, so labeled; nothing where it is the mark itself, or where there is none."""
    if bed.depth is None or bed.running is None or bed.running == bed.depth:
        return ""
    return f"Running alone, no mark for the shop: {_whole(bed.running, scale=scale)}."


def _plainly(limit: str) -> str:
    """What limits the bed, the code of a finding without its lines."""
    return stop_words(limit)


def _whole(inches: float, *, scale: Scale) -> str:
    """A depth for a tape, never more than it is: eighths of an inch, or whole millimetres."""
    if scale.system == "us":
        whole, eighths = divmod(int(inches * 8.0 + 1e-9), 8)
        part = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[eighths]
        words = " ".join(text for text in (str(whole) if whole or not part else "", part) if text)
        return f"{words} in"
    return number(scale.one(inches, dimension="length"), unit="mm", rounding="down", digits=3)

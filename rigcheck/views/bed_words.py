"""The bed mark in shop words."""

from __future__ import annotations

from typing import Any

from rigcheck.studies.bed_mark import BedMark
from rigcheck.views.scale import Scale
from rigcheck.views.words import number

Plain = dict[str, Any]


def bed_plain(bed: BedMark, *, scale: Scale) -> Plain:
    """The bed mark as a plain dict with its sentence."""
    depth = scale.one(bed.depth, dimension="length")
    unit = scale.label("length")
    if not bed.any_bed:
        text = f"NO BED: over even with a clean floor while running ({_plainly(bed.limit)})."
    elif bed.to_the_top:
        text = f"Bed mark: stop feeding at {_whole(bed.depth, scale=scale)} of bed: the top of the sides."
    else:
        text = f"Bed mark: stop feeding at {_whole(bed.depth, scale=scale)} of bed."
    limit = "" if bed.to_the_top or not bed.any_bed else f"Beyond it is over: {_plainly(bed.limit)}."
    return {"depth": depth, "unit": unit, "text": text, "limit": limit}


def _plainly(limit: str) -> str:
    """What limits the bed, the code of a finding without its lines."""
    return limit.replace("_", " ")


def _whole(inches: float, *, scale: Scale) -> str:
    """A depth for a tape, never more than it is: eighths of an inch, or whole millimetres."""
    if scale.system == "us":
        whole, eighths = divmod(int(inches * 8.0 + 1e-9), 8)
        part = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[eighths]
        words = " ".join(text for text in (str(whole) if whole or not part else "", part) if text)
        return f"{words} in"
    return number(scale.one(inches, dimension="length"), unit="mm", rounding="down", digits=3)

"""Marks of sources in words that a reader understands; in code and tables they are `seen` and `memory`."""

from __future__ import annotations

import re

CHECKED, NOT_CHECKED, IN_PART = "source checked", "source not checked", "source checked in part"
WORDS = {"seen": CHECKED, "memory": NOT_CHECKED, "seen and memory": IN_PART}
"""Mark of a row of a table to words."""
LEGEND = (
    f"{CHECKED}: the figure was read in the document or a copy of its table; {NOT_CHECKED}: it was not, look it up"
    " before you rely on it."
)
_BOTH = re.compile(r"\((?:seen, memory|memory, seen)\)")
_ONE = re.compile(r"\b(seen|memory)\b(?=[^()]*\))")


def marked(source: str) -> str:
    """A clause or source with its marks in words."""
    if "seen" not in source and "memory" not in source:
        return source
    return _ONE.sub(lambda found: WORDS[found[0]], _BOTH.sub(f"({IN_PART})", source))

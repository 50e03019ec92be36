"""Marks of sources in words that a reader understands; in code and tables they are `seen` and `memory`."""

from __future__ import annotations

import re
from enum import Enum


class Mark(Enum):
    """What is known of a source, and its words."""

    CHECKED = "source checked"
    IN_PART = "source checked in part"
    NOT_CHECKED = "source not checked"
    DERIVATION = "derivation"
    CASE_FILE = "case file"
    OWN = "own"


class Sourced(str):
    """A clause or source that carries its mark with it, since its words have none.

    Attributes:
        mark: The mark.
    """

    __slots__ = ("mark",)
    mark: Mark

    def __new__(cls, text: str, *, mark: Mark) -> Sourced:
        """The words and their mark."""
        made = super().__new__(cls, text)
        made.mark = mark
        return made


OWN_YARDSTICK = Sourced("yardstick of our own; no code sets one", mark=Mark.OWN)
"""Clause of a limit that no document sets."""
CHECKED, NOT_CHECKED, IN_PART = (one.value for one in (Mark.CHECKED, Mark.NOT_CHECKED, Mark.IN_PART))
KNOWN = {"seen": Mark.CHECKED, "memory": Mark.NOT_CHECKED, "seen and memory": Mark.IN_PART}
"""Mark of a row of a table."""
WORDS = {sign: mark.value for sign, mark in KNOWN.items()}
"""Mark of a row of a table to words."""
LEGEND = (
    f"{CHECKED}: the figure was read in the document or a copy of its table; {NOT_CHECKED}: it was not, look it up"
    " before you rely on it."
)
_BOTH = re.compile(r"\((?:seen, memory|memory, seen)\)")
_ONE = re.compile(r"\b(seen|memory)\b(?=[^()]*\))")
_SIGNS = {"seen": Mark.CHECKED, "memory": Mark.NOT_CHECKED, "derivation": Mark.DERIVATION}
_SIGN = re.compile(r"\b(seen|memory|derivation)\b(?=[^()]*\))")


def marked(source: str) -> str:
    """A clause or source with its marks in words."""
    if "seen" not in source and "memory" not in source:
        return source
    return _ONE.sub(lambda found: WORDS[found[0]], _BOTH.sub(f"({IN_PART})", source))


def marks_of(source: str) -> tuple[Mark, ...]:
    """Marks of a clause or source as code and tables have it: that which it carries, else its signs in brackets.

    Args:
        source: Before `marked` puts its signs into words.
    """
    if isinstance(source, Sourced):
        return (source.mark,)
    found = [Mark.IN_PART for _ in _BOTH.findall(source)]
    found += [_SIGNS[sign] for sign in _SIGN.findall(_BOTH.sub("", source))]
    return tuple(dict.fromkeys(found))

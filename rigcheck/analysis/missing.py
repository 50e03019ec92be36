"""A part of the load path that nobody could assess as the case stands: what it is of, and how much it may decide."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

DECIDES = ("line", "hanger", "perch", "hinge", "rail", "fold", "floor", "road")
"""Rooms of the rig in the order of what they may decide: what the box hangs from first, the road last."""


class Missing(str):
    """The sentence that people read, which knows what it is of; two of one wording are the same.

    Attributes:
        id: Stable name for programs, such as "hinge.pin"; that of the key or part it is about.
        group: Room of the rig it belongs to, as in `Check`.
        accident: Only the rows in which one line is broken cannot be assessed.
    """

    __slots__ = ("accident", "group", "id")

    id: str
    group: str
    accident: bool

    def __new__(cls, text: str, *, id: str, group: str, accident: bool = False) -> Self:
        """Make one."""
        one = super().__new__(cls, text)
        one.id, one.group, one.accident = id, group, accident
        return one


def ranked(found: Iterable[Missing]) -> list[Missing]:
    """Each once, the most decisive first: what is missing at work before what is missing only when a line breaks."""
    every = list(dict.fromkeys(found))
    return sorted(every, key=lambda one: (one.accident, DECIDES.index(one.group)))

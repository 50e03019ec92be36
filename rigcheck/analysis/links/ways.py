"""Ways in which the strength of a link is known, and what a mark is held against before it is believed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from rigcheck.arrays.guarded import as_array
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.models.case import Link
from rigcheck.case.rig import Rig
from rigcheck.tables import hardware, rope

MOST_OVER = 1.5
"""A mark over so many times the highest published rating of its size is asked about. Source: a bound of our own, over
the spread of the makers' tables seen."""


@dataclass(frozen=True, slots=True)
class Factor:
    """Something that a strength is multiplied or divided by.

    Attributes:
        symbol: As the worked calculation writes it.
        value: The factor, shape (...). [1]
        words: What it is.
        divides: True where the strength is divided by it.
    """

    symbol: str
    value: Array | float
    words: str
    divides: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way in which a strength is known; the least of all ways holds.

    Attributes:
        symbol: "WLL" or "MBF".
        start: Mark or published force, shape (...). [lbf]
        words: What that is.
        factors: What it is multiplied and divided by.
    """

    symbol: str
    start: Array
    words: str
    factors: tuple[Factor, ...] = ()

    @property
    def value(self) -> Array:
        """The strength, shape (...). [lbf]"""
        value = as_array(self.start)
        for one in self.factors:
            value = value / one.value if one.divides else value * one.value
        return as_array(value)


@dataclass(frozen=True, slots=True, eq=False)
class Remark:
    """What must be said about a link.

    Attributes:
        code: Name of the finding.
        text: The sentence, without the link.
        where: Designs of which it holds, shape (...).
    """

    code: str
    text: str
    where: Mask = field(default_factory=lambda: np.ones((), dtype=np.bool_))


@dataclass(frozen=True, slots=True)
class Assumed:
    """What was taken for something that the case does not say.

    Attributes:
        word: Key of the link.
        value: What was taken, in words.
        source: Where that comes from.
    """

    word: str
    value: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rated:
    """The rating of one link, new and pulled in its plane.

    Attributes:
        working: Ways to its working value.
        ultimate: Ways to its breaking strength; none where none is published.
        basis: How the working value comes about, in words.
        clause: Source of the numbers.
        remarks: What must be said about it.
        assumed: What was taken for what the case does not say.
        unknown: Why nothing can be held against it, empty where it can.
    """

    working: tuple[Way, ...]
    ultimate: tuple[Way, ...]
    basis: str
    clause: str
    remarks: tuple[Remark, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    unknown: str = ""


def least(ways: Sequence[Way]) -> Array:
    """The least of some ways, shape (...). [lbf]"""
    value = ways[0].value
    for way in ways[1:]:
        value = np.minimum(value, way.value)
    return value


def published(link: Link) -> hardware.Rating | None:
    """The table's rating of a link that names its size, that of an unmarked one where mark and grade are missing."""
    if link.size is None:
        return None
    if link.kind == "shackle":
        bare = link.grade is None and link.wll is None
        return hardware.shackle_without_mark(link.size) if bare else _shackle(link.size, link.grade)
    if link.kind == "chain" and link.grade:
        return hardware.chain(link.size, grade=link.grade)
    if link.kind == "turnbuckle":
        return hardware.turnbuckle(link.size, end=link.end or "hook")
    return hardware.eyebolt(link.size) if link.kind == "eyebolt" else None


def _shackle(size: float, grade: str | None) -> hardware.Rating:
    return hardware.shackle(size, grade=grade or "carbon")


def highest(link: Link) -> float:
    """The highest rating published for a link of this size, 0 where none is. [lbf]"""
    if link.kind == "wire rope" and link.table and link.diameter:
        row = rope.rope(link.table, diameter=link.diameter, column=link.column or "")
        return row.mbf / hardware.least_design_factor(link.kind)
    if link.size is None:
        return 0.0
    if link.kind == "shackle" and link.grade is None:
        size = hardware.shackle(link.size).size
        grades = [one for one in hardware.SHACKLE_GRADES if size in hardware.shackle_sizes(one)]
        return max(hardware.shackle(size, grade=one).wll for one in grades)
    if link.kind == "turnbuckle" and link.end is None:
        return hardware.turnbuckle(link.size, end="jaw").wll
    listed = published(link)
    if listed is None:
        return 0.0
    return max(listed.wll, hardware.eyebolt_most(link.size)) if link.kind == "eyebolt" else listed.wll


def mark_of(rig: Rig, *, key: str, link: Link, otherwise: float, remarks: list[Remark]) -> tuple[Array, str, str]:
    """The mark of a link, its words, and how its basis tells it; what is published where nobody marks it so high."""
    mark, most = rig.number(f"{key}.wll"), MOST_OVER * highest(link)
    odd = (mark > most) & (most > 0.0)
    if not np.any(odd):
        return mark, "working load limit marked on it", "marked working load limit"
    text = (
        f"marked over {MOST_OVER:g} times the {most / MOST_OVER:,.0f} lb that is published for its size: what is on the"
        f" tag? {otherwise:,.0f} lb is taken until that is known"
    )
    remarks.append(Remark("mark_over_size", text, where=np.asarray(odd)))
    words = "published for its size, as its mark is too high for it"
    return np.where(odd, np.minimum(otherwise, mark), mark), f"working load limit {words}", words


def broken_under(rig: Rig, *, key: str, factor: float, rating: Array, remarks: list[Remark]) -> bool:
    """Whether a stated breaking force is under what a standard asks of a rated load; says so."""
    low = np.asarray(rig.number(f"{key}.mbf") < factor * rating * (1.0 - 1e-9))
    if low.any():
        text = (
            f"its breaking force is under {factor:g} times its working load limit, the least design factor of its"
            " standard: the breaking force over that factor is taken"
        )
        remarks.append(Remark("design_factor_low", text, where=low))
    return bool(low.any())


def low_factor(rig: Rig, *, key: str, least_factor: float) -> list[Remark]:
    """What must be said of a design factor of the case that is under its standard's."""
    low = np.asarray(rig.number(key) < least_factor)
    if not low.any():
        return []
    text = f"{key} is under {least_factor:g}, the least of the standard (ASME B30.9): {least_factor:g} is used"
    return [Remark("design_factor_low", text, where=low)]

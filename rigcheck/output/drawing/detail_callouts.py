"""Callouts of a detail drawing: words and weld symbols under each other, each with a leader to what it names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcheck.output.drawing.labels import Point, width_of
from rigcheck.output.drawing.sheet import Sheet

_LINE = 1.45  # of the type: room of a line of words
_SYMBOL = 3.3  # of it: room of a weld symbol
_GAP = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Weld:
    """A fillet weld as its symbol says it (AWS A2.4, memory): leg left of the triangle, length right of it.

    Attributes:
        leg: Leg in words.
        length: Length, or length and pitch, in words; empty for all of it.
        both: Welded on both sides of the joint: a triangle above the line too.
        around: Welded all round: a circle at the bend of the arrow.
        tail: What stands behind the line, such as the electrode.
    """

    leg: str
    length: str = ""
    both: bool = False
    around: bool = False
    tail: str = ""


@dataclass(frozen=True, slots=True)
class Callout:
    """What names a point: words or a weld symbol."""

    at: Point
    what: str | Weld


def callouts(sheet: Sheet, entries: Sequence[Callout], *, x: float) -> None:
    """Draw callouts under each other, the highest point first, so that no leader crosses another's words.

    Args:
        sheet: The drawing.
        entries: Points and what is said of them.
        x: Where the words begin. [picture]
    """
    placed = sorted(((sheet.place(one.at), one.what) for one in entries), key=lambda one: (one[0][1], one[0][0]))
    heights = [(_SYMBOL if isinstance(what, Weld) else _LINE) * sheet.small for _, what in placed]
    spare = max(sheet.tall - sum(heights) - 2.0 * _GAP, 0.0)
    step = min(spare / max(len(placed), 1), 1.2 * sheet.small)
    y = max(0.5 * (sheet.tall - sum(heights) - step * (len(placed) - 1)), _GAP)
    for (at, what), high in zip(placed, heights, strict=True):
        middle = y + 0.5 * high
        sheet.leader(at, (x - 12.0, middle), (x - 3.0, middle))
        if isinstance(what, Weld):
            _symbol(sheet, what, x=x, y=middle)
        else:
            sheet.write_at((x, middle), what)
        y += high + step


def _symbol(sheet: Sheet, weld: Weld, *, x: float, y: float) -> None:
    """The reference line with its triangles, the leg before and the length behind them."""
    small, side = sheet.small, 0.85 * sheet.small
    start = x + (0.5 * small if weld.around else 0.0)
    leg_wide = width_of(weld.leg, size=small)
    triangle = start + leg_wide + 2.0 * _GAP
    length_at = triangle + side + _GAP
    end = length_at + width_of(weld.length, size=small) + _GAP
    sheet.leader((x - 3.0, y), (end, y))
    if weld.around:
        sheet.ring((x - 3.0, y), radius=0.32 * small)
    for sign in (1.0, -1.0) if weld.both else (1.0,):
        sheet.triangle((triangle, y), (triangle, y + sign * side), (triangle + side, y))
        middle = y + sign * (0.6 * small + _GAP)
        sheet.write_at((start + _GAP, middle), weld.leg)
        if weld.length:
            sheet.write_at((length_at, middle), weld.length)
    if weld.tail:
        sheet.write_at((end + 2.0 * _GAP, y), weld.tail)


def reach(entries: Sequence[Callout], *, small: float) -> float:
    """Room that the widest callout takes, in the picture's units."""
    return max((_wide(one.what, small=small) for one in entries), default=0.0)


def room(entries: Sequence[Callout], *, small: float) -> float:
    """Height that all of them take under each other."""
    return sum((_SYMBOL if isinstance(one.what, Weld) else _LINE) * small for one in entries) + 2.0 * _GAP


def _wide(what: str | Weld, *, small: float) -> float:
    if isinstance(what, str):
        return width_of(what, size=small)
    words = "".join((what.leg, what.length, what.tail))
    return width_of(words, size=small) + 1.4 * small + 6.0 * _GAP

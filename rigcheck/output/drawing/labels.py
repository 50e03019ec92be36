"""Where the words of a drawing stand: beside what they name, off each other and off the strokes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import hypot

import numpy as np

from rigcheck.arrays.types import Array, Mask

Point = tuple[float, float]
Rect = tuple[float, float, float, float]  # left, top, right, bottom
Stroke = tuple[Point, Point]

LETTER = 0.57  # width of a letter over the size of the type, an average of plain sans faces
_BOLD = 1.06  # of it
_AROUND = ((1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6))
_AWAY = (9.0, 18.0, 30.0, 44.0, 60.0, 80.0)
_COVERS, _CROSSES, _LEAVES = 400.0, 24.0, 4000.0
_LEADS_OVER = 150.0  # a leader that runs through other words
_SLIDES = (0.5, 0.35, 0.65, 0.22, 0.78)  # where along a dimension line its words may stand, the middle first
_NEAR = 14.0  # words this near to what they name need no leader


@dataclass(slots=True)
class Label:
    """Words to be placed.

    Attributes:
        at: What they name. [picture]
        text: The words.
        size: Of the type.
        bold: Whether they are.
        toward: On which side they belong; (0, 0) for words on their own dimension line.
        along: That line.
    """

    at: Point
    text: str
    size: float
    bold: bool
    toward: Point | None
    along: Stroke | None = None

    @property
    def half(self) -> Point:
        """Half their width and height."""
        return 0.5 * len(self.text) * LETTER * self.size * (_BOLD if self.bold else 1.0), 0.6 * self.size

    def on_its_line(self) -> list[Point]:
        """Places on its own dimension line where they may stand."""
        if self.along is None:
            return [self.at] if self.toward == (0.0, 0.0) else []
        (x0, y0), (x1, y1) = self.along
        return [(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in _SLIDES]

    def leader(self, place: Point) -> Stroke | None:
        """What leads from the words to what they name; None where they stand beside it, or on their own line."""
        if place in self.on_its_line():
            return None
        x, y = (min(max(self.at[i], place[i] - self.half[i]), place[i] + self.half[i]) for i in range(2))
        return ((x, y), self.at) if hypot(x - self.at[0], y - self.at[1]) > _NEAR else None


@dataclass(slots=True)
class Room:
    """What stands in a picture already.

    Attributes:
        size: Width and height of the picture.
        taken: Where no words may stand.
        words: Where words stand.
        strokes: Lines that words had better not cross.
    """

    size: Point = (0.0, 0.0)
    taken: list[Rect] = field(default_factory=list)
    words: list[Rect] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)

    def find(self, label: Label) -> tuple[Point, Stroke | None, bool]:
        """The place where a label covers least, which it then takes.

        Returns:
            Its middle, its leader if it needs one, and whether it stands on its own dimension line.
        """
        half_w, half_h = label.half
        own = label.on_its_line()
        tries = _candidates(label, own=own)
        costs = self._costs(tries, half=(half_w + 2.0, half_h))
        best: tuple[float, int] | None = None
        for turn in sorted(range(len(tries)), key=costs.__getitem__):
            if best is not None and costs[turn] > best[0]:
                break  # a leader only adds to it
            cost, leader = costs[turn], label.leader(tries[turn][1])
            if leader is not None:
                cost += _LEADS_OVER * sum(_crosses(rect, *leader) for rect in self.words)
            if best is None or (cost, turn) < best:
                best = (cost, turn)
        cx, cy = tries[best[1]][1] if best else label.at
        rect = (cx - half_w - 2.0, cy - half_h, cx + half_w + 2.0, cy + half_h)
        self.taken.append(rect)
        self.words.append(rect)
        return (cx, cy), label.leader((cx, cy)), (cx, cy) in own

    def _costs(self, tries: Sequence[tuple[float, Point]], *, half: Point) -> list[float]:
        """What speaks against each of some places: its own bias, what it leaves, covers and crosses."""
        if not tries:
            return []
        middle = np.array([place for _, place in tries])
        left, right = middle[:, 0] - half[0], middle[:, 0] + half[0]
        top, bottom = middle[:, 1] - half[1], middle[:, 1] + half[1]
        outside = np.maximum(2.0 - left, 0.0) + np.maximum(2.0 - top, 0.0)
        outside = outside + np.maximum(right - self.size[0] + 2.0, 0.0) + np.maximum(bottom - self.size[1] + 16.0, 0.0)
        cost = _LEAVES * (outside > 0.0) + 40.0 * outside
        sides = (left[:, None], top[:, None], right[:, None], bottom[:, None])
        if self.taken:
            cost = cost + _COVERS * _overlaps(sides, np.array(self.taken)).sum(-1)
        if self.strokes:
            cost = cost + _CROSSES * _crossed(sides, np.array(self.strokes)).sum(-1)
        bias = np.array([own for own, _ in tries])
        return [float(one) for one in bias + cost]


def _overlaps(sides: tuple[Array, Array, Array, Array], taken: Array) -> Mask:
    """Which rectangles (n, 1) overlap which of others (m, 4), shape (n, m)."""
    left, top, right, bottom = sides
    across = (left < taken[:, 2]) & (taken[:, 0] < right)
    return np.asarray(across & (top < taken[:, 3]) & (taken[:, 1] < bottom))


def _crossed(sides: tuple[Array, Array, Array, Array], strokes: Array) -> Mask:
    """Which strokes (m, 2, 2) pass through which rectangles (n, 1), shape (n, m), by the clipping of `_crosses`."""
    left, top, right, bottom = sides
    enter, leave, inside = np.zeros(1), np.ones(1), np.ones(1, dtype=np.bool_)
    for axis, low, high in ((0, left, right), (1, top, bottom)):
        start, end = strokes[:, 0, axis], strokes[:, 1, axis]
        inside = inside & ~((np.maximum(start, end) < low) | (np.minimum(start, end) > high))
        step = end - start
        still = step == 0.0
        safe = np.where(still, 1.0, step)
        one, other = (low - start) / safe, (high - start) / safe
        enter = np.maximum(enter, np.where(still, 0.0, np.minimum(one, other)))
        leave = np.minimum(leave, np.where(still, 1.0, np.maximum(one, other)))
    return np.asarray(inside & (enter <= leave))


def _candidates(label: Label, *, own: list[Point]) -> list[tuple[float, Point]]:
    """Places with what speaks against each for its own sake."""
    (x, y), half = label.at, label.half
    found = [(8.0 * i, point) for i, point in enumerate(own)]
    tx, ty = label.toward or (0.0, 0.0)
    for away in _AWAY:
        for ux, uy in (*_AROUND, *(((tx, ty),) if label.toward else ())):
            bias = away * 0.9 + 6.0 * (1.0 - ux * tx - uy * ty) + (20.0 if label.toward == (0.0, 0.0) else 0.0)
            found.append((bias, (x + ux * (away + half[0]), y + uy * (away + half[1]))))
    return found


def _crosses(rect: Rect, start: Point, end: Point) -> bool:
    """Whether a stroke passes through a rectangle (Liang and Barsky's clipping)."""
    if max(start[0], end[0]) < rect[0] or min(start[0], end[0]) > rect[2]:
        return False
    if max(start[1], end[1]) < rect[1] or min(start[1], end[1]) > rect[3]:
        return False
    enter, leave = 0.0, 1.0
    for from_, to, low, high in (
        (start[0], end[0], rect[0], rect[2]),
        (start[1], end[1], rect[1], rect[3]),
    ):
        step = to - from_
        if step == 0.0:
            if not low <= from_ <= high:
                return False
            continue
        one, other = sorted(((low - from_) / step, (high - from_) / step))
        enter, leave = max(enter, one), min(leave, other)
    return enter <= leave

"""Where the words of a drawing stand: beside what they name, off each other and off the strokes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import chain
from math import hypot

import numpy as np

from rigcheck.arrays.types import Array, Mask

Point = tuple[float, float]
Rect = tuple[float, float, float, float]  # left, top, right, bottom
Stroke = tuple[Point, Point]

_WIDTHS = {  # thousandths of the type, the wider of plain and bold. Source: metrics of the base font Helvetica
    278: " ',./I\\`ijl", 333: "!()-:;[]ft|", 389: "*r{}", 474: '"', 500: "z", 556: "#$0123456789J_aceksvxy",
    584: "+<=>^~", 611: "?FLTZbdghnopqu", 667: "EPSVXY", 722: "&ABCDHKNRU", 778: "GOQw", 833: "M", 889: "%m",
    944: "W",
}  # fmt: skip
_WIDTH = {letter: wide / 1000.0 for wide, letters in _WIDTHS.items() for letter in letters}
_OTHER = 0.85  # of a letter that is not among them
_AROUND = ((1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6),
           (0.4, -0.92), (-0.4, -0.92), (0.4, 0.92), (-0.4, 0.92))  # fmt: skip
_AWAY = (7.0, 12.0, 18.0, 24.0, 30.0, 37.0, 44.0, 52.0, 60.0, 80.0, 100.0, 125.0, 155.0, 190.0, 230.0)
_COVERS, _CROSSES, _LEAVES = 1600.0, 600.0, 9000.0
_LEADS_OVER, _LEADS_CROSS = 1200.0, 6.0  # a leader that runs through other words, or over a stroke
_STROKE = 1.5  # room that words keep from a stroke, which has a width
_PASSES = 6  # over all labels
_SLIDES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)  # where along a dimension line its words may stand, the middle first
_RINGS = (_AWAY[:1], _AWAY[1:4], _AWAY[4:9], _AWAY[9:])  # looked at in turn, while a farther place may be better
_NEAR = 14.0  # words this near to what they name need no leader


def width_of(text: str, *, size: float) -> float:
    """Width of words, no less than they take in a plain sans face."""
    return size * sum(_WIDTH.get(letter, _OTHER) for letter in text)


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
        return 0.5 * width_of(self.text, size=self.size), 0.6 * self.size

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
        reach = [self.half[0] + 3.0, self.half[1] + 1.0]  # it ends beside the words
        x, y = (min(max(self.at[i], place[i] - reach[i]), place[i] + reach[i]) for i in range(2))
        return ((x, y), self.at) if hypot(x - self.at[0], y - self.at[1]) > _NEAR else None


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a label stands.

    Attributes:
        at: Its middle. [picture]
        rect: What it covers.
        leader: What leads from it to what it names; None where it needs none.
        on_its_line: Whether it stands on its own dimension line.
        along: That line, left open there.
        cost: What speaks against the place.
    """

    at: Point
    rect: Rect
    leader: Stroke | None
    on_its_line: bool
    along: Stroke | None
    cost: float


@dataclass(slots=True)
class Room:
    """What stands in a picture already.

    Attributes:
        size: Width and height of the picture.
        taken: Where no words may stand.
        words: Where words stand.
        strokes: Lines that words do not cross.
    """

    size: Point = (0.0, 0.0)
    taken: list[Rect] = field(default_factory=list)
    words: list[Rect] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)

    def place(self, labels: Sequence[Label]) -> list[Placed]:
        """Places for labels, each where it covers least; again for all while any is in the way of something.

        Args:
            labels: Labels, those that have the least choice first.
        """
        found: list[Placed | None] = [None] * len(labels)
        for _ in range(_PASSES):
            for i, label in enumerate(labels):
                beside = [one for j, one in enumerate(found) if j != i and one is not None]
                lines = [one.along for j, one in enumerate(labels) if j != i and one.along is not None]
                found[i] = self._with(beside, lines=lines).find(label)
            if all(one is not None and one.cost < _CROSSES for one in found):
                break
        return [one for one in found if one is not None]

    def _with(self, beside: Sequence[Placed], *, lines: Sequence[Stroke]) -> Room:
        rects = [one.rect for one in beside]
        leaders = [one.leader for one in beside if one.leader is not None]
        return Room(self.size, [*self.taken, *rects], [*self.words, *rects], [*self.strokes, *lines, *leaders])

    def find(self, label: Label) -> Placed:
        """The place where a label covers least; far places are looked at only where a near one leaves any doubt."""
        own = label.on_its_line()
        best: Placed | None = None
        for rings in _RINGS:
            tries = _candidates(label, own=own, rings=rings)
            if best is not None and best.cost <= min(bias for bias, _ in tries):
                break
            best = self._best_of(tries, label=label, own=own, best=best)
        if best is None:
            raise ValueError(f"{label.text!r} has no place to stand")
        return best

    def _best_of(
        self, tries: Sequence[tuple[float, Point]], *, label: Label, own: Sequence[Point], best: Placed | None
    ) -> Placed | None:
        """The best of some places, and of one found before."""
        half_w, half_h = label.half
        costs = self._costs(tries, half=(half_w + 2.0, half_h))
        for turn in sorted(range(len(tries)), key=costs.__getitem__):
            if best is not None and costs[turn] >= best.cost:
                break  # what comes on top only adds to it
            cost, (cx, cy) = costs[turn], tries[turn][1]
            rect = (cx - half_w - 2.0, cy - half_h, cx + half_w + 2.0, cy + half_h)
            on_it, leader = (cx, cy) in own, label.leader((cx, cy))
            if label.along is not None and not on_it:
                cost += _CROSSES * _crosses(rect, *label.along)
            if leader is not None:
                cost += _LEADS_OVER * sum(_crosses(taken, *leader) for taken in self.words)
                cost += _LEADS_CROSS * sum(_meet(leader, other) for other in self.strokes)
            if best is None or cost < best.cost:
                best = Placed((cx, cy), rect, leader, on_it, label.along, cost)
        return best

    def _costs(self, tries: Sequence[tuple[float, Point]], *, half: Point) -> list[float]:
        """What speaks against each of some places: its own bias, what it leaves, covers and crosses."""
        if not tries:
            return []
        middle = np.array([place for _, place in tries])
        left, right = middle[:, 0] - half[0], middle[:, 0] + half[0]
        top, bottom = middle[:, 1] - half[1], middle[:, 1] + half[1]
        outside = np.maximum(2.0 - left, 0.0) + np.maximum(2.0 - top, 0.0)
        outside = outside + np.maximum(right - self.size[0] + 2.0, 0.0) + np.maximum(bottom - self.size[1] + 2.0, 0.0)
        cost = _LEAVES * (outside > 0.0) + 40.0 * outside
        sides = (left[:, None], top[:, None], right[:, None], bottom[:, None])
        if self.taken:
            cost = cost + _COVERS * _overlaps(sides, np.array(self.taken)).sum(-1)
        if self.strokes:
            cost = cost + _CROSSES * _crossed(middle, (half[0] + _STROKE, half[1] + _STROKE), self.strokes).sum(-1)
        bias = np.array([own for own, _ in tries])
        return [float(one) for one in bias + cost]


def _overlaps(sides: tuple[Array, ...], taken: Array) -> Mask:
    """Which rectangles (n, 1) overlap which of others (m, 4), shape (n, m)."""
    left, top, right, bottom = sides
    across = (left < taken[:, 2]) & (taken[:, 0] < right)
    return np.asarray(across & (top < taken[:, 3]) & (taken[:, 1] < bottom))


def _crossed(middle: Array, half: Point, strokes: Sequence[Stroke]) -> Mask:
    """Which strokes pass through which rectangles about some places (n, 2), shape (n, m), by separating axes."""
    flat = chain.from_iterable(chain.from_iterable(strokes))
    ends = np.fromiter(flat, dtype=np.float64, count=4 * len(strokes)).reshape(-1, 2, 2)
    reach, about = 0.5 * (ends[:, 1] - ends[:, 0]), 0.5 * (ends[:, 0] + ends[:, 1])
    wide, high = np.abs(reach[:, 0]), np.abs(reach[:, 1])
    x, y = about[:, 0] - middle[:, :1], about[:, 1] - middle[:, 1:]
    near = (np.abs(x) <= half[0] + wide) & (np.abs(y) <= half[1] + high)
    return np.asarray(near & (np.abs(reach[:, 0] * y - reach[:, 1] * x) <= half[0] * high + half[1] * wide))


def _candidates(label: Label, *, own: list[Point], rings: Sequence[float]) -> list[tuple[float, Point]]:
    """Places in some rings with what speaks against each for its own sake; with the first those on its own line too."""
    (x, y), half = label.at, label.half
    found = [(8.0 * i, point) for i, point in enumerate(own)] if rings is _RINGS[0] else []
    tx, ty = label.toward or (0.0, 0.0)
    ways = (*_AROUND, *(((tx, ty),) if label.toward else ()))
    against = [6.0 * (1.0 - ux * tx - uy * ty) + (20.0 if label.toward == (0.0, 0.0) else 0.0) for ux, uy in ways]
    for away in rings:
        wide, high = away + half[0], away + half[1]
        found += [(away * 0.9 + bias, (x + ux * wide, y + uy * high))
                  for (ux, uy), bias in zip(ways, against, strict=True)]  # fmt: skip
    return found


def _meet(one: Stroke, other: Stroke) -> bool:
    """Whether two strokes cross."""

    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return side(*one, other[0]) * side(*one, other[1]) < 0.0 and side(*other, one[0]) * side(*other, one[1]) < 0.0


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

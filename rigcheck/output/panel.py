"""Panels of a chart: axes with ticks, curves, filled areas and words that keep off each other; SVG, no library."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise
from math import ceil, floor, log10
from textwrap import wrap

from rigcheck.output.drawing.labels import Label, Point, Room, width_of

WIDE = 520.0  # the picture's own units; shown as wide as the page allows
TYPE = 12.5
_TICK, _LINE = 4.0, 1.2  # a tick; distance of lines of words over the type
_LETTERS = 24  # after which the name of a curve is broken
_FEW = 4  # spaces between ticks of an upright axis, about
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_DASHES = {"": "", "dashed": ' stroke-dasharray="6 3"', "dotted": ' stroke-dasharray="1.5 3"'}

Curve = Sequence[float | None]


def ticks(low: float, high: float, *, spaces: int) -> list[float]:
    """Round values from one to another, about so many spaces between them."""
    span = high - low
    if span <= 0.0:
        return [low]
    raw = span / max(spaces, 1)
    power = 10.0 ** floor(log10(raw))
    step = next(one * power for one in _STEPS if one * power >= raw * (1.0 - 1e-9))
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return [step * i for i in range(first, last + 1)]


def tick_words(value: float) -> str:
    """A tick with its thousands marked."""
    return f"{value + 0.0:,.10g}"


@dataclass(slots=True)
class Chart:
    """A picture of panels.

    Attributes:
        name: Short word, used for the ids of this picture.
        tall: Its height. [picture]
    """

    name: str
    tall: float
    _parts: list[str] = field(default_factory=list)
    _labels: list[Label] = field(default_factory=list)
    _room: Room = field(default_factory=Room)

    def stroke(self, points: Sequence[Point], *, width: float = 1.0, dash: str = "") -> None:
        """A run of straight strokes that words keep off. [picture]"""
        run = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._parts.append(
            f'<polyline points="{run}" fill="none" stroke="#000" stroke-width="{width:g}"{_DASHES[dash]}/>'
        )
        self._room.strokes += list(pairwise(points))

    def under(self, points: Sequence[Point], *, kind: str) -> None:
        """What words may stand on: an area, hatched or gray, or a line of the grid."""
        run = " ".join(f"{x:.1f} {y:.1f}" for x, y in points)
        paint = {
            "grid": 'fill="none" stroke="#ccc" stroke-width="0.7"',
            "hatch": f'fill="url(#{self.name}-chart-hatch)" stroke="none"',
            "bar": 'fill="#b5b5b5" stroke="#000" stroke-width="0.9"',
        }[kind]
        self._parts.append(f'<path d="M{run}{"" if kind == "grid" else "z"}" {paint}/>')

    def dot(self, at: Point) -> None:
        """A point that matters. [picture]"""
        self._parts.append(f'<circle cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="2.6"/>')
        self.take(at[0] - 2.6, at[1] - 2.6, at[0] + 2.6, at[1] + 2.6)

    def take(self, left: float, top: float, right: float, bottom: float) -> None:
        """Keep words out of a rectangle. [picture]"""
        self._room.taken.append((left, top, right, bottom))

    def write(self, at: Point, text: str, *, anchor: str = "start", bold: bool = False) -> None:
        """Words whose middle is at the height of a point. [picture]"""
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{at[0]:.1f}" y="{at[1] + 0.35 * TYPE:.1f}" font-size="{TYPE:g}"{weight} text-anchor="{anchor}" '
            f'stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke">{escape(text)}</text>'
        )
        wide = width_of(text, size=TYPE)
        left = at[0] - {"start": 0.0, "end": wide}.get(anchor, 0.5 * wide)
        self.take(left, at[1] - 0.6 * TYPE, left + wide, at[1] + 0.6 * TYPE)

    def label(self, at: Point, text: str, *, toward: Point) -> None:
        """Words beside a point, where there is room. [picture]"""
        self._labels.append(Label(at, text, TYPE, False, toward))

    def svg(self) -> str:
        """The picture; what it shows is said where it stands."""
        self._room.size = (WIDE, self.tall)
        for one, placed in zip(self._labels, self._room.place(self._labels), strict=True):
            if placed.leader is not None:
                self.stroke(placed.leader, width=0.6)
            self.write(placed.at, one.text, anchor="middle")
        hatch = (
            f'<defs><pattern id="{self.name}-chart-hatch" width="6" height="6" patternUnits="userSpaceOnUse" '
            'patternTransform="rotate(45)"><rect width="6" height="6" fill="#ececec"/>'
            '<path d="M0 0v6" stroke="#9a9a9a" stroke-width="1"/></pattern></defs>'
        )
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 {WIDE:g} {self.tall:.0f}" fill="#000" '
            f'font-family="Helvetica, Arial, sans-serif">{hatch}{"".join(self._parts)}</svg>'
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One pair of axes in a chart.

    Attributes:
        chart: The picture.
        box: Left, top, right and bottom of what the axes hold. [picture]
        x: Least and largest value along.
        y: Least and largest value up.
        down: Whether larger values stand lower.
    """

    chart: Chart
    box: tuple[float, float, float, float]
    x: tuple[float, float]
    y: tuple[float, float]
    down: bool = False

    def at(self, x: float, y: float) -> Point:
        """Where a pair of values stands. [picture]"""
        left, top, right, bottom = self.box
        along = (x - self.x[0]) / ((self.x[1] - self.x[0]) or 1.0)
        up = (y - self.y[0]) / ((self.y[1] - self.y[0]) or 1.0)
        return left + along * (right - left), top + up * (bottom - top) if self.down else bottom - up * (bottom - top)

    def axes(self, title: str, *, named: str = "", spaces: int = 6) -> None:
        """Frame at the left and below, grid, ticks and titles.

        Args:
            title: Of the upright axis; it stands above it.
            named: Title of the level axis, whose ticks are told only with it.
            spaces: Between its ticks, about.
        """
        left, top, right, bottom = self.box
        for value in ticks(*self.y, spaces=_FEW):
            x, y = self.at(self.x[0], value)
            self.chart.under([(left, y), (right, y)], kind="grid")
            self.chart.stroke([(x - _TICK, y), (x, y)], width=0.8)
            self.chart.write((x - 6.0, y), tick_words(value), anchor="end")
        for value in ticks(*self.x, spaces=spaces):
            x = self.at(value, self.y[0])[0]
            self.chart.under([(x, top), (x, bottom)], kind="grid")
            self.chart.stroke([(x, bottom), (x, bottom + _TICK)], width=0.8)
            if named:
                self.chart.write((x, bottom + 13.0), tick_words(value), anchor="middle")
        self.chart.stroke([(left, top), (left, bottom), (right, bottom)], width=0.9)
        self.chart.write((4.0, top - 1.1 * TYPE), title)
        if named:
            self.chart.write((0.5 * (left + right), bottom + 30.0), named, anchor="middle")

    def curve(self, x: Sequence[float], y: Curve, *, width: float = 1.6) -> None:
        """A curve, open where it has no value."""
        for run in _runs(x, y):
            self.chart.stroke([self.at(*one) for one in run], width=width)

    def area(self, x: Sequence[float], y: Sequence[float]) -> None:
        """What lies between a curve and nothing, hatched."""
        points = [(x[0], 0.0), *zip(x, y, strict=True), (x[-1], 0.0)]
        self.chart.under([self.at(*one) for one in points], kind="hatch")

    def level(self, y: float, *, width: float = 0.9, dash: str = "") -> None:
        """A line across."""
        self.chart.stroke([self.at(self.x[0], y), self.at(self.x[1], y)], width=width, dash=dash)

    def upright(self, x: float, *, dash: str = "dashed") -> None:
        """A line from top to bottom."""
        self.chart.stroke([self.at(x, self.y[0]), self.at(x, self.y[1])], width=0.9, dash=dash)

    def bars(self, entries: Sequence[tuple[str, float, str]], *, title: str, named: str) -> None:
        """Level bars below each other, each with its name at the left and its value at its end.

        Args:
            entries: Name, value and the value in words.
            title: Of the names.
            named: Of the values.
        """
        left, top, right, bottom = self.box
        for value in ticks(*self.x, spaces=6):
            x = self.at(value, 0.0)[0]
            self.chart.under([(x, top), (x, bottom)], kind="grid")
            self.chart.stroke([(x, bottom), (x, bottom + _TICK)], width=0.8)
            self.chart.write((x, bottom + 13.0), tick_words(value), anchor="middle")
        for place, (name, value, words) in enumerate(entries):
            (x, one), other = self.at(value, place + 0.16), self.at(value, place + 0.84)[1]
            self.chart.under([(left, one), (x, one), (x, other), (left, other)], kind="bar")
            self.chart.write((left - 6.0, 0.5 * (one + other)), name, anchor="end")
            self.chart.write((x + 5.0, 0.5 * (one + other)), words)
        self.chart.stroke([(left, top), (left, bottom), (right, bottom)], width=0.9)
        self.chart.write((4.0, top - 1.1 * TYPE), title)
        self.chart.write((0.5 * (left + right), bottom + 30.0), named, anchor="middle")

    def name_ends(self, ends: Iterable[tuple[float, float, str]]) -> None:
        """Write the name of each curve at the right of the panel, beside its end or led to it.

        Args:
            ends: Last point and name of each curve.
        """
        _, top, right, bottom = self.box
        told = sorted((self.at(x, y)[::-1], wrap(name, _LETTERS) or [name]) for x, y, name in ends)
        step = _LINE * TYPE
        heights = [step * len(lines) for _, lines in told]
        places, low = [], top - step
        for ((y, _), _), high in zip(told, heights, strict=True):
            places.append(max(y - 0.5 * high, low))
            low = places[-1] + high + 2.0
        floor_ = bottom + step
        for i in reversed(range(len(places))):  # what is pushed out below pushes back
            places[i] = min(places[i], floor_ - heights[i])
            floor_ = places[i] - 2.0
        for ((y, x), lines), place, high in zip(told, places, heights, strict=True):
            self.chart.stroke([(x, y), (right + 6.0, y), (right + 14.0, place + 0.5 * high)], width=0.6)
            for i, line in enumerate(lines):
                self.chart.write((right + 18.0, place + step * (i + 0.5)), line)


def _runs(x: Sequence[float], y: Curve) -> Iterator[list[Point]]:
    """Pieces of a curve that have values."""
    run: list[Point] = []
    for one, value in zip(x, y, strict=True):
        if value is None:
            if run:
                yield run
            run = []
        else:
            run.append((one, value))
    if run:
        yield run

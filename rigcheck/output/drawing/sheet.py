"""A drawing sheet to scale: lengths of the rig in, one SVG picture out, its labels kept off each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise
from math import hypot

from rigcheck.output.drawing.labels import Label, Placed, Point, Room, width_of

WIDE, TALLEST = 520.0, 470.0  # the picture's own units; shown as wide as the page allows
TEXT, SMALL = 14.0, 12.5
_LINE_UP = 1.25  # of the type: distance of words in a column

# meaning is carried by width, dash and hatch, so that the picture reads in gray
STROKES = {
    "edge": 'stroke="#000" stroke-width="1.8"',
    "steel": 'stroke="#000" stroke-width="1.2"',
    "rope": 'stroke="#000" stroke-width="2.4"',
    "thin": 'stroke="#000" stroke-width="0.8"',
    "hidden": 'stroke="#000" stroke-width="1" stroke-dasharray="5 3"',
    "ghost": 'stroke="#555" stroke-width="1.1" stroke-dasharray="7 4"',
    "level": 'stroke="#000" stroke-width="0.9" stroke-dasharray="10 3 2 3"',
    "ground": 'stroke="#000" stroke-width="2.4"',
    "dimension": 'stroke="#333" stroke-width="0.8"',
    "strap": 'stroke="#000" stroke-width="1.8" stroke-dasharray="9 3 1.5 3"',
    "force": 'stroke="#000" stroke-width="3.4"',
}
FILLS = {"none": "none", "white": "#fff", "steel": "#cfcfcf", "dark": "#8c8c8c", "solid": "#000"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What a sheet shows of the world, and the room around it in the picture's own units.

    Attributes:
        left: Least level coordinate. [world]
        right: Largest. [world]
        low: Least upright coordinate. [world]
        high: Largest. [world]
        margin: Room left, above, right and below.
    """

    left: float
    right: float
    low: float
    high: float
    margin: tuple[float, float, float, float] = (60.0, 40.0, 60.0, 60.0)


@dataclass(slots=True)
class Sheet:
    """A picture in the making; world x to the right, world z up, one scale for both.

    Attributes:
        name: Short word, used for the ids of this picture.
        frame: What it shows.
        type: Size of its type over the usual one, for a picture that is printed small.
        wide: Width of the picture.
        tallest: Its height at most.
    """

    name: str
    frame: Frame
    type: float = 1.0
    wide: float = WIDE
    tallest: float = TALLEST
    _parts: list[str] = field(default_factory=list)
    _labels: list[Label] = field(default_factory=list)
    _room: Room = field(default_factory=Room)

    @property
    def small(self) -> float:
        """Size of the smaller type."""
        return SMALL * self.type

    @property
    def scale(self) -> float:
        """Picture units per world unit."""
        left, top, right, below = self.frame.margin
        across = max(self.frame.right - self.frame.left, 1e-9)
        up = max(self.frame.high - self.frame.low, 1e-9)
        return min((self.wide - left - right) / across, (self.tallest - top - below) / up)

    @property
    def tall(self) -> float:
        """Height of the picture."""
        _, top, _, below = self.frame.margin
        return top + below + self.scale * (self.frame.high - self.frame.low)

    def place(self, point: Point) -> Point:
        """A world point in the picture."""
        left, top, right, _ = self.frame.margin
        spare = self.wide - left - right - self.scale * (self.frame.right - self.frame.left)
        return (
            left + 0.5 * spare + self.scale * (point[0] - self.frame.left),
            top + self.scale * (self.frame.high - point[1]),
        )

    def line(self, *points: Point, kind: str = "edge") -> None:
        """A run of straight strokes through world points."""
        self._stroke([self.place(point) for point in points], kind=kind)

    def shape(self, *points: Point, kind: str = "edge", fill: str = "none") -> None:
        """A closed outline; a fill named `bed` or `water` is a hatch of its own."""
        placed = [self.place(point) for point in points]
        paint = f"url(#{self.name}-{fill})" if fill in ("bed", "water") else FILLS[fill]
        self._parts.append(f'<polygon points="{_run(placed)}" fill="{paint}" {STROKES[kind]}/>')
        self._room.strokes += list(zip(placed, [*placed[1:], placed[0]], strict=True))

    def dot(self, point: Point, *, radius: float = 3.2, fill: str = "white") -> None:
        """A pin or a point that matters."""
        x, y = self.place(point)
        paint = f'fill="{FILLS[fill]}" {STROKES["steel"]}'
        self._parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" {paint}/>')
        self._room.taken.append((x - radius, y - radius, x + radius, y + radius))

    def wedge(self, point: Point, *, along: Point, size: float = 11.0) -> None:
        """A stop: a black triangle whose tip touches the point and points the way it pushes."""
        x, y = self.place(point)
        run = hypot(*along) or 1.0
        ux, uy = along[0] / run, -along[1] / run
        back = (x - size * ux, y - size * uy)
        tips = [
            (x, y),
            (back[0] - 0.6 * size * uy, back[1] + 0.6 * size * ux),
            (back[0] + 0.6 * size * uy, back[1] - 0.6 * size * ux),
        ]
        self._parts.append(f'<polygon points="{_run(tips)}" fill="#000"/>')
        self._room.taken.append(
            (min(t[0] for t in tips), min(t[1] for t in tips), max(t[0] for t in tips), max(t[1] for t in tips))
        )

    def center_of_gravity(self, point: Point) -> None:
        """The quartered circle that marks a center of gravity."""
        x, y = self.place(point)
        self.dot(point, radius=6.0)
        self._parts.append(
            f'<path d="M{x:.1f} {y:.1f}v-6a6 6 0 0 1 6 6zM{x:.1f} {y:.1f}v6a6 6 0 0 1 -6 -6z" fill="#000"/>'
        )

    def arrow(self, point: Point, *, along: Point, length: float, text: str, into: bool = False) -> None:
        """A force as a thick arrow.

        Args:
            point: Where it acts. [world]
            along: Its direction in the world, of any length.
            length: How long it is drawn. [picture]
            text: What stands beside it.
            into: The head touches the point; else the tail does.
        """
        size = hypot(*along)
        if size <= 0.0:
            return
        ux, uy = along[0] / size, -along[1] / size
        x, y = self.place(point)
        start = (x - ux * length, y - uy * length) if into else (x, y)
        end = (start[0] + ux * length, start[1] + uy * length)
        neck = (end[0] - 9.0 * ux, end[1] - 9.0 * uy)
        self._stroke([start, neck], kind="force")
        head = [end, (neck[0] - 5.0 * uy, neck[1] + 5.0 * ux), (neck[0] + 5.0 * uy, neck[1] - 5.0 * ux)]
        self._parts.append(f'<polygon points="{_run(head)}" fill="#000"/>')
        self._room.strokes.append((neck, end))
        free = start if into else end
        self._labels.insert(0, Label(free, text, TEXT * self.type, True, (-ux, -uy) if into else (ux, uy)))

    def dimension(self, one: Point, other: Point, *, off: float, text: str) -> None:
        """A dimension line beside two points.

        Args:
            one: First end. [world]
            other: Second end. [world]
            off: How far beside, to the left of the way from one to the other as drawn. [picture]
            text: The length in words.
        """
        (x0, y0), (x1, y1) = self.place(one), self.place(other)
        run = hypot(x1 - x0, y1 - y0)
        if run <= 0.0:
            return
        ux, uy = (x1 - x0) / run, (y1 - y0) / run
        nx, ny = uy, -ux
        a, b = (x0 + nx * off, y0 + ny * off), (x1 + nx * off, y1 + ny * off)
        past = 4.0 if off >= 0.0 else -4.0
        for foot, end in (((x0, y0), a), ((x1, y1), b)):
            self._stroke([foot, (end[0] + nx * past, end[1] + ny * past)], kind="dimension")
            dx, dy = 3.5 * (ux - nx), 3.5 * (uy - ny)
            self._stroke([(end[0] - dx, end[1] - dy), (end[0] + dx, end[1] + dy)], kind="steel")
        wide = width_of(text, size=self.small)
        fits = abs(ux) * run > wide + 16.0 or (abs(uy) * run > 1.2 * self.small + 16.0 and abs(ux) < 0.2)
        if not fits:
            self._stroke([a, b], kind="dimension")
        beyond = (nx, ny) if off >= 0.0 else (-nx, -ny)
        middle = (0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]))
        self._labels.append(
            Label(middle, text, self.small, False, (0.0, 0.0) if fits else beyond, (a, b) if fits else None)
        )

    def label(self, point: Point, text: str, *, toward: Point | None = None) -> None:
        """Words beside a world point, on the side given as drawn (x right, y down) where there is room."""
        self._labels.append(Label(self.place(point), text, self.small, False, toward))

    def column(self, entries: Sequence[tuple[Point, str]], *, x: float) -> None:
        """Words under each other at one place of the picture, each with a leader to its world point.

        Args:
            entries: Points and words.
            x: Where the words begin. [picture]
        """
        placed = sorted(((self.place(point), text) for point, text in entries), key=lambda one: one[0][1])
        if not placed:
            return
        step, y = _LINE_UP * self.small, 0.0
        total = step * (len(placed) - 1)
        middle = sum(at[1] for at, _ in placed) / max(len(placed), 1)
        y = max(middle - 0.5 * total, self.small)
        for (px, py), text in placed:
            self._stroke([(px, py), (x - 12.0, y), (x - 3.0, y)], kind="thin")
            self._write((x, y + 0.35 * self.small), text, size=self.small, anchor="start")
            self.take(x - 2.0, y - 0.6 * self.small, wide=width_of(text, size=self.small) + 4.0, high=1.2 * self.small)
            y += step

    def leader(self, *points: Point) -> None:
        """Thin strokes through places of the picture."""
        self._stroke([*points], kind="thin")

    def write_at(self, at: Point, text: str) -> None:
        """Words that begin at a place of the picture, whose middle is at its height."""
        x, y = at
        self._write((x, y + 0.35 * self.small), text, size=self.small, anchor="start")
        self.take(x - 1.0, y - 0.6 * self.small, wide=width_of(text, size=self.small) + 2.0, high=1.2 * self.small)

    def ring(self, at: Point, *, radius: float) -> None:
        """A small open circle at a place of the picture."""
        self._parts.append(
            f'<circle cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{radius:.1f}" fill="#fff" {STROKES["thin"]}/>'
        )

    def triangle(self, *tips: Point) -> None:
        """A small filled triangle at places of the picture."""
        self._parts.append(f'<polygon points="{_run([*tips])}" fill="#000"/>')
        self._room.strokes += list(pairwise([*tips, tips[0]]))

    def disk(self, point: Point, *, radius: float, fill: str = "white", kind: str = "steel") -> None:
        """A circle to scale about a world point."""
        x, y = self.place(point)
        r = radius * self.scale
        self._parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" fill="{FILLS[fill]}" {STROKES[kind]}/>')
        self._room.taken.append((x - r, y - r, x + r, y + r))

    def take(self, x: float, y: float, *, wide: float, high: float) -> None:
        """Keep other words out of a rectangle whose left upper corner is given. [picture]"""
        self._room.taken.append((x, y, x + wide, y + high))
        self._room.words.append((x, y, x + wide, y + high))

    def scale_bar(self, length: float, text: str) -> None:
        """A bar of known length in the lower left corner."""
        y = self.tall - 10.0
        self._stroke([(12.0, y), (12.0 + self.scale * length, y)], kind="ground")
        for x in (12.0, 12.0 + self.scale * length):
            self._stroke([(x, y - 5.0), (x, y + 3.0)], kind="steel")
        at = 18.0 + self.scale * length
        self._write((at, y + 3.0), text, size=self.small, anchor="start")
        self.take(at, y - self.small, wide=width_of(text, size=self.small) + 3.0, high=1.4 * self.small)

    def svg(self, *, title: str, describe: str) -> str:
        """The picture with its text alternative."""
        parts = list(self._parts)
        self._parts.clear()
        self._room.size = (self.wide, self.tall)
        labels = sorted(self._labels, key=lambda label: label.along is None)
        for one, placed in zip(labels, self._room.place(labels), strict=True):
            self._set(one, placed=placed)
        words, self._parts = self._parts, parts
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.wide:g} {self.tall:.0f}" role="img" '
            f'aria-labelledby="{self.name}-title {self.name}-desc" font-family="Helvetica, Arial, sans-serif">'
            f'<title id="{self.name}-title">{escape(title)}</title>'
            f'<desc id="{self.name}-desc">{escape(describe)}</desc>'
        )
        hatches = (
            f'<defs><pattern id="{self.name}-bed" width="7" height="7" patternUnits="userSpaceOnUse">'
            '<circle cx="2" cy="2" r="1.1"/><circle cx="5.5" cy="5.5" r="1.1"/></pattern>'
            f'<pattern id="{self.name}-water" width="12" height="6" patternUnits="userSpaceOnUse">'
            '<path d="M0 3q3 -3 6 0t6 0" fill="none" stroke="#000" stroke-width="0.8"/></pattern></defs>'
        )
        return f"{head}{hatches}{''.join(parts)}{''.join(words)}</svg>"

    def _stroke(self, placed: list[Point], *, kind: str, counted: bool = True) -> None:
        self._parts.append(f'<polyline points="{_run(placed)}" fill="none" {STROKES[kind]}/>')
        if counted:
            self._room.strokes += list(pairwise(placed))

    def _set(self, label: Label, *, placed: Placed) -> None:
        """Put a label where its place was found."""
        (cx, cy), (half_w, half_h) = placed.at, label.half
        if placed.leader is not None:
            self._stroke([*placed.leader], kind="thin")
        if label.along is not None:
            half = (half_w + 3.0, half_h + 1.0) if placed.on_its_line else None
            self._broken(*label.along, around=(cx, cy), half=half)
        self._write((cx, cy + 0.35 * label.size), label.text, size=label.size, bold=label.bold)

    def _broken(self, start: Point, end: Point, *, around: Point, half: Point | None) -> None:
        """A dimension line, left open where its words stand."""
        if half is None:
            self._stroke([start, end], kind="dimension")
            return
        run = hypot(end[0] - start[0], end[1] - start[1])
        ux, uy = (end[0] - start[0]) / run, (end[1] - start[1]) / run
        middle = (around[0] - start[0]) * ux + (around[1] - start[1]) * uy
        gap = min(half[i] / abs(way) for i, way in enumerate((ux, uy)) if abs(way) > 1e-9)
        for one, other in ((0.0, middle - gap), (middle + gap, run)):
            if other > one:
                ends = [(start[0] + t * ux, start[1] + t * uy) for t in (one, other)]
                self._stroke(ends, kind="dimension")

    def _write(self, at: Point, text: str, *, size: float, bold: bool = False, anchor: str = "middle") -> None:
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" font-size="{size:g}"{weight} text-anchor="{anchor}" fill="#000" '
            f'stroke="#fff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">{escape(text)}</text>'
        )


def _run(points: list[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)

"""A drawing sheet to scale: lengths of the rig in, one SVG picture out, its labels kept off each other."""

from __future__ import annotations

from dataclasses import dataclass, field
from html import escape
from itertools import pairwise
from math import hypot

Point = tuple[float, float]
Rect = tuple[float, float, float, float]  # left, top, right, bottom

WIDE, TALLEST = 520.0, 470.0  # the picture's own units; shown as wide as the page allows
TEXT, SMALL = 14.0, 12.5
_LETTER = 0.57  # width of a letter over the size of the type, an average of plain sans faces
_AROUND = ((1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6))
_AWAY = (9.0, 18.0, 30.0, 44.0, 60.0, 80.0)
_COVERS, _CROSSES, _LEAVES = 400.0, 24.0, 4000.0

# meaning is carried by width, dash and hatch, so that the picture reads in grey
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
class _Label:
    at: Point
    text: str
    size: float
    bold: bool
    toward: Point | None


@dataclass(slots=True)
class Sheet:
    """A picture in the making; world x to the right, world z up, one scale for both.

    Attributes:
        name: Short word, used for the ids of this picture.
        frame: What it shows.
    """

    name: str
    frame: Frame
    _parts: list[str] = field(default_factory=list)
    _labels: list[_Label] = field(default_factory=list)
    _taken: list[Rect] = field(default_factory=list)
    _strokes: list[tuple[Point, Point]] = field(default_factory=list)

    @property
    def scale(self) -> float:
        """Picture units per world unit."""
        left, top, right, below = self.frame.margin
        across = max(self.frame.right - self.frame.left, 1e-9)
        up = max(self.frame.high - self.frame.low, 1e-9)
        return min((WIDE - left - right) / across, (TALLEST - top - below) / up)

    @property
    def tall(self) -> float:
        """Height of the picture."""
        _, top, _, below = self.frame.margin
        return top + below + self.scale * (self.frame.high - self.frame.low)

    def place(self, point: Point) -> Point:
        """A world point in the picture."""
        left, top, right, _ = self.frame.margin
        spare = WIDE - left - right - self.scale * (self.frame.right - self.frame.left)
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
        self._strokes += list(zip(placed, [*placed[1:], placed[0]], strict=True))

    def dot(self, point: Point, *, radius: float = 3.2, fill: str = "white") -> None:
        """A pin or a point that matters."""
        x, y = self.place(point)
        paint = f'fill="{FILLS[fill]}" {STROKES["steel"]}'
        self._parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" {paint}/>')
        self._taken.append((x - radius, y - radius, x + radius, y + radius))

    def centre_of_gravity(self, point: Point) -> None:
        """The quartered circle that marks a centre of gravity."""
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
        self._strokes.append((neck, end))
        free = start if into else end
        self._labels.insert(0, _Label(free, text, TEXT, True, (-ux, -uy) if into else (ux, uy)))

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
            self._stroke([foot, (end[0] + nx * past, end[1] + ny * past)], kind="dimension", counted=False)
            dx, dy = 3.5 * (ux - nx), 3.5 * (uy - ny)
            self._stroke([(end[0] - dx, end[1] - dy), (end[0] + dx, end[1] + dy)], kind="steel", counted=False)
        self._stroke([a, b], kind="dimension")
        fits = abs(ux) * run > len(text) * _LETTER * SMALL + 8.0 or abs(uy) * run > 1.6 * SMALL
        beyond = (nx, ny) if off >= 0.0 else (-nx, -ny)
        middle = (0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]))
        self._labels.append(_Label(middle, text, SMALL, False, (0.0, 0.0) if fits else beyond))

    def label(self, point: Point, text: str, *, toward: Point | None = None) -> None:
        """Words beside a world point, on the side given as drawn (x right, y down) where there is room."""
        self._labels.append(_Label(self.place(point), text, SMALL, False, toward))

    def scale_bar(self, length: float, text: str) -> None:
        """A bar of known length in the lower left corner."""
        y = self.tall - 10.0
        self._stroke([(12.0, y), (12.0 + self.scale * length, y)], kind="ground")
        for x in (12.0, 12.0 + self.scale * length):
            self._stroke([(x, y - 5.0), (x, y + 3.0)], kind="steel")
        self._write((16.0 + self.scale * length, y + 3.0), text, size=SMALL, anchor="start")

    def svg(self, *, title: str, describe: str) -> str:
        """The picture with its text alternative."""
        parts = list(self._parts)
        self._parts.clear()
        for one in sorted(self._labels, key=lambda label: label.toward != (0.0, 0.0)):
            self._set(one)
        words, self._parts = self._parts, parts
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {self.tall:.0f}" role="img" '
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
            self._strokes += list(pairwise(placed))

    def _set(self, label: _Label) -> None:
        """Put a label where it covers least."""
        half_w = 0.5 * len(label.text) * _LETTER * label.size * (1.06 if label.bold else 1.0)
        half_h = 0.6 * label.size
        x, y = label.at
        best: tuple[float, Point] | None = None
        for bias, (cx, cy) in self._candidates(label, half=(half_w, half_h)):
            if best is not None and bias >= best[0]:
                continue
            rect = (cx - half_w - 2.0, cy - half_h, cx + half_w + 2.0, cy + half_h)
            cost = bias + self._cost(rect)
            if best is None or cost < best[0]:
                best = (cost, (cx, cy))
        cx, cy = best[1] if best else label.at
        self._taken.append((cx - half_w - 2.0, cy - half_h, cx + half_w + 2.0, cy + half_h))
        near_x, near_y = min(max(x, cx - half_w), cx + half_w), min(max(y, cy - half_h), cy + half_h)
        if hypot(near_x - x, near_y - y) > 14.0:
            self._stroke([(near_x, near_y), (x, y)], kind="thin")
        if label.toward == (0.0, 0.0) and (cx, cy) == label.at:
            self._parts.append(
                f'<rect x="{cx - half_w:.1f}" y="{cy - half_h:.1f}" width="{2.0 * half_w:.1f}" '
                f'height="{2.0 * half_h:.1f}" fill="#fff"/>'
            )
        self._write((cx, cy + 0.35 * label.size), label.text, size=label.size, bold=label.bold)

    def _candidates(self, label: _Label, *, half: Point) -> list[tuple[float, Point]]:
        (x, y), found = label.at, []
        if label.toward == (0.0, 0.0):
            found.append((0.0, (x, y)))
        tx, ty = label.toward or (0.0, 0.0)
        for away in _AWAY:
            for ux, uy in (*_AROUND, *(((tx, ty),) if label.toward else ())):
                bias = away * 0.9 + 6.0 * (1.0 - ux * tx - uy * ty) + (20.0 if label.toward == (0.0, 0.0) else 0.0)
                found.append((bias, (x + ux * (away + half[0]), y + uy * (away + half[1]))))
        return found

    def _cost(self, rect: Rect) -> float:
        left, top, right, bottom = rect
        outside = max(2.0 - left, 0.0) + max(2.0 - top, 0.0) + max(right - WIDE + 2.0, 0.0)
        outside += max(bottom - self.tall + 16.0, 0.0)
        cost = _LEAVES * (outside > 0.0) + 40.0 * outside
        cost += _COVERS * sum(_overlap(rect, other) for other in self._taken)
        return cost + _CROSSES * sum(_crosses(rect, one, other) for one, other in self._strokes)

    def _write(self, at: Point, text: str, *, size: float, bold: bool = False, anchor: str = "middle") -> None:
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" font-size="{size:g}"{weight} text-anchor="{anchor}" fill="#000" '
            f'stroke="#fff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">{escape(text)}</text>'
        )


def _run(points: list[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)


def _overlap(one: Rect, other: Rect) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _crosses(rect: Rect, start: Point, end: Point) -> bool:
    """Whether a stroke passes through a rectangle (Liang and Barsky's clipping)."""
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

"""What a space frame of a box is made of, from the case file alone: points, rails by parallel axes, members, loads."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, floor, pi, sin, sqrt, tanh

import numpy as np
from numpy.typing import ArrayLike

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.crosscheck.frame_parts import Part, Sizes, apart, meeting, number_at, sizes_of
from rigcheck.loads.pieces import Row
from rigcheck.loads.sharing import hinge_apart
from rigcheck.tables import shapes

YOUNG = 29.0e6
"""Young's modulus of steel. Source: AISC 360-22, notation (memory). [psi]"""
SHEAR = 11.2e6
"""Shear modulus of steel. Source: AISC 360-22, notation (memory). [psi]"""
POISSON = 0.3
"""Poisson's ratio of steel. Source: AISC 360-22 E5 (memory)."""
_OWN = 4  # bars that stand for the box's own torsion, as the closed form has them
_GAUSS = 0.5 / np.sqrt(3.0)  # two points integrate a cubic exactly


@dataclass(frozen=True, slots=True)
class Tie:
    """What joins the rails at one station: s [in], and the product of shear modulus and torsion constant [lbf*in2]."""

    s: float
    twist: float


@dataclass(frozen=True, slots=True)
class Box:
    """One box in box coordinates, and its supports. [in] unless said.

    Attributes:
        length: Of the floor.
        spacing: Between the rails.
        axis: Neutral axis of a rail above the floor.
        area: Of a rail. [in2]
        inertia: Of a rail about the axis that the floor constrains. [in4]
        pitch: Fall of the deployed floor. [rad]
        hinge_n: Hinge axis above the floor.
        hinge_spacing: Between the hinge groups.
        hanger: Along the floor and above it.
        hanger_spacing: Between the hangers.
        perch: Downstream of the hinge axis and above it, plant axes.
        perch_spacing: Between the perches.
        ties: Cross-members, end tubes and traps.
        tubes: How many of them, the last ones, are end tubes and traps.
        own: Bars that stand for the box's own resistance to twist.
        parts: Its stretches from head to tail; what is said of the box above is of the first of them.
    """

    length: float
    spacing: float
    axis: float
    area: float
    inertia: float
    pitch: float
    hinge_n: float
    hinge_spacing: float
    hanger: tuple[float, float]
    hanger_spacing: float
    perch: tuple[float, float]
    perch_spacing: float
    ties: tuple[Tie, ...]
    tubes: int = 0
    own: tuple[Tie, ...] = ()
    parts: tuple[Part, ...] = ()

    @property
    def plain(self) -> bool:
        """Whether it is alike all along."""
        return len(self.parts) < 2

    def part_at(self, s: float) -> Part:
        """The stretch in which a station lies."""
        if not self.parts:
            return Part(0.0, self.length, self.spacing, self.spacing, self.area, self.axis, self.inertia, 0.0)
        return self.parts[number_at(self.parts, s)]

    def apart(self, s: Array) -> Array:
        """Between the rails at stations, shape (...). [in]"""
        return np.full_like(s, self.spacing) if self.plain else apart(self.parts, s)


@dataclass(frozen=True, slots=True)
class Loading:
    """Loads of one row in box coordinates as forces at points, shapes (point,).

    Attributes:
        s: Along the floor. [in]
        y: Left of the middle. [in]
        n: Above the floor. [in]
        force: Along the floor, to the left and square to the floor, shape (point, 3). [lbf]
    """

    s: Array
    y: Array
    n: Array
    force: Array


def _one(value: ArrayLike, design: tuple[int, ...]) -> float:
    """One design's value of a number or a batch."""
    array = np.asarray(value, dtype=np.float64)
    return float(array[design]) if array.ndim else float(array)


def _rail(rig: Rig, *, sizes: Sizes, strip: float) -> tuple[float, float, float]:
    """Area, neutral axis and second moment of wall, floor strip and stiffener, summed by parallel axes."""
    side, wall, floor_sheet = sizes.side, sizes.wall, sizes.sheet
    pieces = [
        (side * wall, 0.5 * side, wall * side**3 / 12.0),
        (strip * floor_sheet, -0.5 * floor_sheet, strip * floor_sheet**3 / 12.0),
    ]
    if sizes.stiffener is not None:
        shape = shapes.find(sizes.stiffener)
        foot = {"top": side - shape.depth, "cap": side, "bottom": 0.0, "under": -shape.depth}[str(rig.value("rail.at"))]
        pieces.append((shape.area, foot + shape.y_bar, shape.ix))
    area = sum(a for a, _, _ in pieces)
    axis = sum(a * n for a, n, _ in pieces) / area
    return area, axis, sum(own + a * (n - axis) ** 2 for a, n, own in pieces)


def _ties(rig: Rig, *, length: float, design: tuple[int, ...]) -> tuple[tuple[Tie, ...], int]:
    """Cross-members every so far from the head, then the end tubes, none of which stands out over an end, then traps.

    A tube takes the place of a cross-member under the floor that it would overlap, which then twists nothing. How
    many of them are tubes and traps comes with them.
    """
    tubes = []
    if rig.has("end_tube.shape"):
        tube = shapes.find(rig.value("end_tube.shape"))
        for end, s in (("head", 0.5 * tube.width), ("tail", length - 0.5 * tube.width)):
            if rig.value(f"end_tube.{end}"):
                tubes.append((Tie(s, SHEAR * tube.j), tube.width))
    found = []
    if rig.has("cross_member.shape"):
        shape, spacing = shapes.find(rig.value("cross_member.shape")), _one(rig.number("cross_member.spacing"), design)
        under = str(rig.value("cross_member.at")) == "under"
        for i in range(floor(length / spacing + 1e-9) + 1):
            s = min(max(i * spacing, 0.5 * shape.width), length - 0.5 * shape.width)
            taken = under and any(abs(s - tie.s) < 0.5 * (width + shape.width) for tie, width in tubes)
            found.append(Tie(s, 0.0 if taken else SHEAR * shape.j))
    traps = _traps(rig, design=design)
    return (*found, *(tie for tie, _ in tubes), *traps), len(tubes) + len(traps)


def _traps(rig: Rig, *, design: tuple[int, ...]) -> list[Tie]:
    """Half pipes and angles below the floor whose end welds are described: thin strips, or cells under a cover.

    A strip of length l has l t^3/3, a cell 4 A^2 over the sum of length by thickness round it (St Venant, Bredt).
    """
    found = []
    for i, told in enumerate(rig.value("trap")):
        key = f"trap.{i}"
        if told.kind == "plate" or not (rig.has(f"{key}.weld") and rig.has(f"{key}.weld_length")):
            continue
        t = _one(rig.number(f"{key}.wall"), design)
        if told.kind == "half pipe":
            r = 0.5 * (_one(rig.number(f"{key}.diameter"), design) + t)
            strip, cell, chord = pi * r, 0.5 * pi * r**2, 2.0 * r
        else:
            leg = _one(rig.number(f"{key}.leg"), design) - 0.5 * t
            strip, cell, chord = 2.0 * leg, 0.5 * leg**2, sqrt(2.0) * leg
        twist = strip * t**3 / 3.0
        if rig.has(f"{key}.cover"):
            twist = 4.0 * cell**2 / (strip / t + chord / _one(rig.number(f"{key}.cover"), design))
        found.append(Tie(_one(rig.number(f"{key}.at"), design), SHEAR * twist))
    return found


def _twist(rig: Rig, *, sizes: Sizes, length: float) -> float:
    """Torsion constant of the box by itself where it is made so. [in4]

    J is t^3/3 for each inch of sheet, and of both stiffeners what their walls turn with them: with G J psi'' = (D / h)
    (psi - phi), D of a plate and h of wall below the stiffener, 1 - tanh(l)/l with l = (L/2) sqrt(D / (h G J)).
    """
    side, wall = sizes.side, sizes.wall
    twist = (max(sizes.head, sizes.tail) * sizes.sheet**3 + 2.0 * side * wall**3) / 3.0
    if sizes.stiffener is not None:
        shape = shapes.find(sizes.stiffener)
        free = max(side - (shape.depth if str(rig.value("rail.at")) == "top" else 0.0), wall)
        plate = YOUNG * wall**3 / (12.0 * (1.0 - POISSON**2)) / free
        reach = 0.5 * length * sqrt(plate / (SHEAR * shape.j))
        twist += 2.0 * shape.j * (1.0 - tanh(reach) / reach)
    return twist


def _own(parts: tuple[Part, ...], *, length: float) -> tuple[Tie, ...]:
    """The box's own torsion as bars at the middles of equal parts of its length, G J l / b each."""
    found = []
    for i in range(_OWN):
        s, low, high = length * (i + 0.5) / _OWN, length * i / _OWN, length * (i + 1) / _OWN
        twist = sum(part.twist * max(min(high, part.end) - max(low, part.start), 0.0) for part in parts)
        found.append(Tie(s, SHEAR * twist / float(apart(parts, np.asarray(s)))))
    return tuple(found)


def _parts(rig: Rig, *, design: tuple[int, ...], length: float, strip: float) -> tuple[Part, ...]:
    """The stretches as rails; the last one ends where the box does."""
    found, start = [], 0.0
    every = sizes_of(rig, design=design)
    for sizes in every:
        area, axis, inertia = _rail(rig, sizes=sizes, strip=strip)
        end = length if sizes is every[-1] else start + sizes.length
        head, tail = (width + sizes.wall for width in (sizes.head, sizes.tail))
        if rig.has("rail.spacing"):
            head = tail = _one(rig.number("rail.spacing"), design)
        twist = _twist(rig, sizes=sizes, length=length)
        found.append(Part(start, end, head, tail, area, axis, inertia, twist))
        start = end
    return meeting(found)


def framed(rig: Rig, *, design: tuple[int, ...] = ()) -> Box:
    """The box of a rig as a frame sees it.

    Args:
        rig: The rig, one or a batch.
        design: Place in the batch; empty for a single case.

    Returns:
        The box.

    Source: geometry; docs/method.md#second-opinion.
    """

    def one(key: str, otherwise: float = 0.0) -> float:
        return _one(rig.number(key), design) if rig.has(key) else otherwise

    length = one("box.length")
    parts = _parts(rig, design=design, length=length, strip=one("rail.effective_floor_width"))
    ties, tubes = _ties(rig, length=length, design=design)
    return Box(
        length=length,
        spacing=parts[0].head,
        axis=parts[0].axis,
        area=parts[0].area,
        inertia=parts[0].inertia,
        pitch=one("box.pitch"),
        hinge_n=one("hinge.height"),
        hinge_spacing=_one(hinge_apart(rig, head=rig.number("box.width")), design),
        hanger=(one("hanger.at"), one("hanger.height")),
        hanger_spacing=one("hanger.spacing"),
        perch=(one("perch.downstream"), one("perch.height")),
        perch_spacing=one("perch.spacing"),
        ties=ties,
        tubes=tubes,
        own=_own(parts, length=length) if any(tie.twist > 0.0 for tie in ties) else (),
        parts=parts,
    )


def angle_of(box: Box, *, row: Row, design: tuple[int, ...] = ()) -> float:
    """Floor above level in a row. [rad]"""
    return _one(row.fold, design) - box.pitch


def lever(box: Box, *, angle: float) -> float:
    """Lever arm of the lines about the hinge axis over how far the hangers are from it, in size. [1]

    Args:
        box: The box.
        angle: Floor above level. [rad]
    """
    s, n = box.hanger[0], box.hanger[1] - box.hinge_n
    x, z = s * cos(angle) - n * sin(angle), s * sin(angle) + n * cos(angle)
    to_x, to_z, to_y = box.perch[0] - x, box.perch[1] - z, 0.5 * (box.perch_spacing - box.hanger_spacing)
    return abs(x * to_z - z * to_x) / (sqrt(to_x**2 + to_y**2 + to_z**2) * sqrt(x**2 + z**2))


def _cut(low: float, high: float, *, nodes: Array) -> tuple[Array, Array]:
    """Two points in every cell of the nodes between two stations, and the length that each stands for."""
    first, last = np.clip(nodes[:-1], low, high), np.clip(nodes[1:], low, high)
    middle, span = 0.5 * (first + last), last - first
    return np.concatenate([middle - _GAUSS * span, middle + _GAUSS * span]), 0.5 * np.concatenate([span, span])


def loading(row: Row, *, angle: float, nodes: Array, factored: bool, design: tuple[int, ...] = ()) -> Loading:
    """The loads of a row where they act; loads along the floor as two points in every cell, exact in force and moment.

    Args:
        row: What weighs what, where.
        angle: Floor above level. [rad]
        nodes: Sorted stations of the frame's nodes, ends of loads among them, shape (node,). [in]
        factored: Times their dynamic factors, or as they are.
        design: Place in the batch; empty for a single case.

    Returns:
        The loads.
    """

    def gained(gain: ArrayLike) -> float:
        return _one(gain, design) if factored else 1.0

    def in_box(x: float, y: float, z: float) -> Array:
        return np.array([x * cos(angle) + z * sin(angle), y, z * cos(angle) - x * sin(angle)])

    gravity = in_box(*(_one(part, design) for part in row.gravity))
    places, forces = [np.zeros((0, 3))], [np.zeros((0, 3))]
    for strip in row.strips:
        start, end = _one(strip.start, design), _one(strip.end, design)
        if end <= start:
            continue
        s, part = _cut(start, end, nodes=nodes)
        t = (s - start) / (end - start)
        w0, w1, n0, n1 = (_one(v, design) for v in (strip.w_start, strip.w_end, strip.n_start, strip.n_end))
        weight = gained(strip.gain) * (w0 + (w1 - w0) * t) * part
        n, y = n0 + (n1 - n0) * t, np.full_like(s, _one(strip.y, design))
        # what goes across counts at the height of the middle of the whole strip, docs/method.md#strips
        middle = np.full_like(s, weight @ n / weight.sum() if weight.any() else n0)
        places += [np.stack([s, y, n], axis=-1), np.stack([s, y, middle], axis=-1)]
        forces += [weight[:, None] * gravity * [1.0, 0.0, 1.0], weight[:, None] * gravity * [0.0, 1.0, 0.0]]
    for lump in row.lumps:
        places.append(np.array([[_one(v, design) for v in (lump.s, lump.y, lump.n)]]))
        forces.append((gained(lump.gain) * _one(lump.weight, design) * gravity)[None])
    for push in row.pushes:
        places.append(np.array([[_one(v, design) for v in (push.s, push.y, push.n)]]))
        forces.append(in_box(*(_one(v, design) for v in (push.fx, push.fy, push.fz)))[None])
    place, force = np.concatenate(places), np.concatenate(forces)
    live = np.abs(force).max(-1, initial=0.0) > 0.0
    return Loading(place[live, 0], place[live, 1], place[live, 2], force[live])


def joints(box: Box) -> list[float]:
    """Stations at which stretches meet. [in]"""
    return [part.start for part in box.parts[1:]]


def stations(row: Row, *, design: tuple[int, ...] = ()) -> list[float]:
    """Stations at which loads of a row begin, end or act. [in]"""
    found = [_one(lump.s, design) for lump in row.lumps] + [_one(push.s, design) for push in row.pushes]
    for strip in row.strips:
        start, end = _one(strip.start, design), _one(strip.end, design)
        found += [start, end] if end > start else []
    return found

"""Traps and troughs across the floor: what they weigh, and what stands in them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.filling import Layer, filled
from rigcheck.loads.pieces import Strip
from rigcheck.loads.shape import at_station, reaches, width_at
from rigcheck.loads.sizes import side_sheet
from rigcheck.loads.take_off import Cut, Piece
from rigcheck.loads.trap_shape import Area, half_ring, segment, two_legs, vee
from rigcheck.tables.materials import steel_density

HALF_PIPE, ANGLE, PLATE = "half pipe", "angle", "plate"
CONCENTRATE = 160.0 / 1728.0
"""Saturated concentrate. [lbf/in3] Source: the most of common practice, 140 to 160 lb/ft3 (no published source)."""
_LEVEL = 1e-6  # of a pitch [rad]: what a plate holds back reaches the head
_GEOMETRY = "geometry at 490 lb/ft3 (AISC Manual, memory)"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Trap:
    """One trap, all shapes (...).

    Attributes:
        number: Which, counted from 0.
        kind: Half pipe, angle or plate.
        at: Its middle along the floor; of a plate its upstream face. [in]
        size: Inside radius of a half pipe, outside leg of an angle, height of a plate. [in]
        wall: Its thickness. [in]
        deep: How deep material can stand in it. [in]
        opening: Width of its slot in the floor; none of a plate. [in]
        width: Of the floor where it lies. [in]
        density: Of what stands in it. [lbf/in3]
        left: Depth of what is left in it before the box hangs empty, folds or goes on the road. [in]
    """

    number: int
    kind: str
    at: Array
    size: Array
    wall: Array
    deep: Array
    opening: Array
    width: Array
    density: Array
    left: Array

    @property
    def key(self) -> str:
        """Its key path."""
        return f"trap.{self.number}"

    @property
    def below(self) -> bool:
        """Whether it hangs below the floor, across which it then spans by itself."""
        return self.kind != PLATE

    @property
    def part(self) -> str:
        """What it is called."""
        return f"trap {self.number + 1}"

    def area(self, depth: Array) -> Area:
        """What stands in it at a depth, below the floor."""
        if self.kind == HALF_PIPE:
            return segment(self.size, depth=depth)
        return vee(self.size - self.wall, depth=depth)

    @property
    def metal(self) -> Area:
        """Its own metal, square to it."""
        if self.kind == HALF_PIPE:
            return half_ring(self.size, wall=self.wall)
        if self.kind == ANGLE:
            return two_legs(self.size, wall=self.wall)
        return Area(self.size * self.wall, 0.5 * self.size)

    @property
    def end_plates(self) -> Area:
        """Both of the plates that close its ends together, as thick as its wall: an area of one inch thick plate."""
        if self.kind == PLATE:
            return Area(np.zeros(()), np.zeros(()))
        own = self.area(self.deep)
        return Area(2.0 * own.size, own.n)


def traps(rig: Rig) -> tuple[Trap, ...]:
    """The traps of a rig.

    Args:
        rig: The rig, one or a batch.

    Source: docs/method.md#traps-and-gates.
    """
    return rig.once("traps", lambda one: tuple(_trap(one, number) for number in range(len(one.value("trap")))))


def _trap(rig: Rig, number: int) -> Trap:
    key = f"trap.{number}"
    kind, at, wall = str(rig.value(f"{key}.kind")), rig.number(f"{key}.at"), rig.number(f"{key}.wall")
    if kind == HALF_PIPE:
        size = 0.5 * rig.number(f"{key}.diameter")
        deep, opening = size, 2.0 * size
    elif kind == ANGLE:
        size = rig.number(f"{key}.leg")
        deep, opening = (size - wall) / np.sqrt(2.0), (size - wall) * np.sqrt(2.0)
    else:
        size = deep = rig.number(f"{key}.height")
        opening = 0.0 * size
    heavy = CONCENTRATE if rig.value(f"{key}.holds") == "concentrate" else rig.number("bed.density")
    return Trap(
        number=number,
        kind=kind,
        at=at,
        size=np.asarray(size),
        wall=wall,
        deep=np.asarray(deep),
        opening=np.asarray(opening),
        width=width_at(rig, at),
        density=rig.number_or(f"{key}.density", heavy),
        left=np.minimum(rig.number_or(f"{key}.drained_to", deep), deep),
    )


def trap_pieces(rig: Rig) -> list[Piece]:
    """Metal of every trap, its ends closed by plates of its own thickness, and its cover.

    The slot in the floor is not taken off the floor sheet.
    """
    found = []
    for one in traps(rig):
        zero, metal, ends = 0.0 * one.at, one.metal, one.end_plates
        steel, density = str(rig.value(f"{one.key}.steel")), steel_density()
        length = one.width + (2.0 * side_sheet(at_station(rig, one.at).rig) if one.below else 0.0)
        body, closed = metal.size * length, ends.size * one.wall
        both = np.where(body + closed > 0.0, body + closed, 1.0)
        n = np.where(body + closed > 0.0, (body * metal.n + closed * ends.n) / both, metal.n)
        stretched = {HALF_PIPE: np.pi * (one.size + 0.5 * one.wall), ANGLE: 2.0 * one.size - one.wall}
        cut = Cut(name=f"{one.part}, {one.kind}, with its ends", key="trap", sheet=one.wall, count=1, length=length,
                  across=np.asarray(stretched.get(one.kind, one.size)), steel=steel)  # fmt: skip
        found.append(
            Piece(f"trap.{one.number}", f"{one.part}, {one.kind}", (body + closed) * density, one.at, zero,
                  np.asarray(n), False, _GEOMETRY, cut=cut)
        )  # fmt: skip
        if rig.has(f"{one.key}.cover"):
            sheet = rig.number(f"{one.key}.cover")
            across = one.opening + 2.0 * one.wall
            cut = Cut(name=f"{one.part}, its cover", key="trap.cover", sheet=sheet, count=1, length=one.width,
                      across=across, steel=steel)  # fmt: skip
            found.append(
                Piece(f"trap.{one.number}.cover", f"{one.part}, its cover", across * one.width * sheet * density,
                      one.at, zero, 0.5 * sheet, False, _GEOMETRY, cut=cut)
            )  # fmt: skip
    return found


def stands_full(rig: Rig, *, packed: bool = False) -> list[Strip]:
    """What stands in the traps in every state at work: each is full.

    What lies behind a plate stands in the same place as gravel to the top of the sides, and counts then with what it
    is heavier by.

    Args:
        rig: The rig.
        packed: Whether gravel to the top of the sides lies over the whole floor.
    """
    found: list[Strip] = []
    for one in traps(rig):
        density = one.density
        if packed and not one.below:
            density = np.maximum(density - rig.number("bed.density"), 0.0)
        found += _standing(rig, one, depth=one.deep, density=density)
    return found


def stands_left(rig: Rig) -> list[Strip]:
    """What is left in the traps before the box hangs empty, folds or goes on the road; all of it where nothing says."""
    return [strip for one in traps(rig) for strip in _standing(rig, one, depth=one.left, density=one.density)]


def left_in_some(rig: Rig) -> bool:
    """Whether anything is left in any trap of any design."""
    return any(bool(np.any(one.left > 0.0)) for one in traps(rig))


def _standing(rig: Rig, one: Trap, *, depth: Array, density: Array) -> list[Strip]:
    name = f"in {one.part}: {rig.value(f'{one.key}.holds')}"
    if not one.below:
        return _behind(rig, one, depth=depth, density=density, name=name)
    area, safe = one.area(depth), np.where(one.opening > 0.0, one.opening, 1.0)
    w = area.size * one.width * density / safe
    half = 0.5 * one.opening
    return [
        Strip(start=one.at - half, end=one.at + half, w_start=w, w_end=w, n_start=area.n, n_end=area.n, on_floor=0.0,
              reach=at_station(rig, one.at).number, name=name)
    ]  # fmt: skip


def _behind(rig: Rig, one: Trap, *, depth: Array, density: Array, name: str) -> list[Strip]:
    """A wedge behind a plate, level at the top of it, as far up as that is over the floor, or to the head."""
    fall = np.tan(rig.number("box.pitch"))
    long = np.where(fall > _LEVEL, depth / np.maximum(fall, _LEVEL), one.at)
    head = np.maximum(one.at - long, 0.0)
    found: list[Strip] = []
    for reach in reaches(rig):
        start, end = np.maximum(head, reach.start), np.minimum(one.at, reach.end)
        if np.any(end > start):
            start = np.minimum(start, end)
            ends = tuple(np.maximum(depth - (one.at - s) * fall, 0.0) for s in (start, end))
            layer = Layer(name=name, bottom=0.0, depth=(ends[0], ends[1]), density=density)
            found += filled(reach, layer, start=start, end=end)
    return found

"""What changes along the rails of a box in stretches: their section, and how far they stand apart."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array

Named = TypeVar("Named")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Piece:
    """One stretch of both rails, all shapes (...).

    Attributes:
        start: Station of its head. [in]
        end: Station of its tail. [in]
        head: Between the rails at its head. [in]
        tail: Between them at its tail. [in]
        area: Of a rail. [in2]
        inertia: Of a rail about the axis that the floor constrains. [in4]
        axis: Neutral axis above the floor. [in]
        modulus: Young's modulus. [psi]
    """

    start: Array
    end: Array
    head: Array
    tail: Array
    area: Array
    inertia: Array
    axis: Array
    modulus: Array

    @property
    def slope(self) -> Array:
        """How much farther apart the rails stand for each inch along. [1]"""
        return np.asarray((self.tail - self.head) / (self.end - self.start))

    @property
    def cos(self) -> Array:
        """Of the angle between a rail and the middle of the box, in plan. [1]"""
        return np.asarray(1.0 / np.sqrt(1.0 + (0.5 * self.slope) ** 2))

    @property
    def soft(self) -> Array:
        """Turn of the rail for each inch along and each unit of moment about the axis across, 1/(E I cos^3)."""
        return np.asarray(1.0 / (self.modulus * self.inertia * self.cos**3))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Along:
    """Both rails from head to tail.

    Attributes:
        pieces: The stretches.
        flared: Whether the rails stand farther apart at one place than at another in any design.
    """

    pieces: tuple[Piece, ...]
    flared: bool

    @property
    def first(self) -> Array:
        """Between the rails at the head. [in]"""
        return self.pieces[0].head

    @property
    def last(self) -> Array:
        """Between the rails at the tail. [in]"""
        return self.pieces[-1].tail

    @property
    def length(self) -> Array:
        """Of the box. [in]"""
        return self.pieces[-1].end

    def _over(self, s: Array, axes: int, make: Callable[[Piece, Array], Array]) -> Array:
        """A value of the stretch in which each station lies; `axes` axes of stations stand behind the batch."""
        wide = (...,) + (None,) * axes
        found = make(_wide(self.pieces[0], wide), s)
        for piece in self.pieces[1:]:
            found = np.where(s >= piece.start[wide], make(_wide(piece, wide), s), found)
        return np.asarray(found)

    def place(self, s: Array, *, axes: int = 1) -> NDArray[np.intp]:
        """Number of the stretch in which each station lies."""
        wide = (...,) + (None,) * axes
        past = [np.where(s >= piece.start[wide], 1, 0) for piece in self.pieces[1:]]
        return np.asarray(sum(past, start=np.zeros(s.shape, dtype=np.intp)))

    def value(self, name: str, *, s: Array, axes: int = 1) -> Array:
        """A value of `Piece` of the stretch in which each station lies."""
        return self._over(s, axes, lambda piece, at: np.asarray(getattr(piece, name) + 0.0 * at))

    def spacing(self, s: Array, *, axes: int = 1) -> Array:
        """Between the rails at stations; beyond both ends as at the ends. [in]"""
        inside = self._inside(s, axes)
        return self._over(inside, axes, lambda piece, at: piece.head + piece.slope * (at - piece.start))

    def slope(self, s: Array, *, axes: int = 1) -> Array:
        """How much farther apart the rails stand for each inch beyond a station. [1]"""
        wide = (...,) + (None,) * axes
        found = self.value("slope", s=s, axes=axes)
        return np.where((s < 0.0) | (s >= self.length[wide]), 0.0, found)

    def _inside(self, s: Array, axes: int) -> Array:
        wide = (...,) + (None,) * axes
        return np.asarray(np.clip(s, 0.0, self.length[wide]))

    def rolled(self, s: Array, *, axes: int = 1) -> Array:
        """Integral of 1/b^2 from the head, b the rails' spacing: x/(b_0 b) in a stretch. [1/in]"""
        wide = (...,) + (None,) * axes
        inside = self._inside(s, axes)
        found = self._sum(inside, axes, lambda piece, x: x / (piece.head * (piece.head + piece.slope * x)))
        beyond = s - inside
        ends = np.where(beyond < 0.0, self.first[wide], self.last[wide])
        return np.asarray(found + beyond / ends**2)

    def turned(self, s: Array, *, axes: int = 1) -> Array:
        """Integral of b^2/(E I cos^3) from the head, within the box."""

        def part(piece: Piece, x: Array) -> Array:
            b, more = piece.head, piece.slope
            return piece.soft * x * (b**2 + b * more * x + more**2 * x**2 / 3.0)

        return self._sum(self._inside(s, axes), axes, part)

    def turned_by_rolled(self, s: Array, *, axes: int = 1) -> Array:
        """Integral of b^2 `rolled`/(E I cos^3) from the head, within the box."""

        def part(piece: Piece, x: Array) -> Array:
            b, more = piece.head, piece.slope
            before = self.rolled(piece.start, axes=axes)
            square = x * (b**2 + b * more * x + more**2 * x**2 / 3.0)
            return piece.soft * (before * square + 0.5 * x**2 + more * x**3 / (3.0 * b))

        return self._sum(self._inside(s, axes), axes, part)

    def turned_by_axis(self, s: Array, *, axes: int = 1) -> Array:
        """Integral of b times the height of the neutral axis/(E I cos^3) from the head, within the box."""

        def part(piece: Piece, x: Array) -> Array:
            return piece.soft * piece.axis * (piece.head * x + 0.5 * piece.slope * x**2)

        return self._sum(self._inside(s, axes), axes, part)

    def _sum(self, s: Array, axes: int, part: Callable[[Piece, Array], Array]) -> Array:
        """Sum over the stretches of what each adds up to the station."""
        wide = (...,) + (None,) * axes
        total: Array | float = 0.0
        for piece in self.pieces:
            one = _wide(piece, wide)
            total = total + part(one, np.clip(s - one.start, 0.0, one.end - one.start))
        return np.asarray(total)


def _wide(piece: Piece, wide: tuple[object, ...]) -> Piece:
    names = ("start", "end", "head", "tail", "area", "inertia", "axis", "modulus")
    return Piece(**{name: np.asarray(getattr(piece, name))[wide] for name in names})  # type: ignore[index]


def arm_of_force(along: Along, *, s: Array, axes: int = 1) -> Array:
    """What a force on one rail and its like the other way on the other turn both about the hinge, per pound. [in]

    b_0 b int ds/b^2 up to the force: s itself where the rails are parallel.

    Source: own derivation, docs/method.md#stretches.
    """
    wide = (...,) + (None,) * axes
    return np.asarray(along.first[wide] * along.spacing(s, axes=axes) * along.rolled(s, axes=axes))


def kinks(along: Along) -> list[tuple[Array, Array]]:
    """Stations at which the rails turn in plan, the tail among them, and by how much their spacing's slope changes."""
    found = []
    before: Array | float = 0.0
    for piece in along.pieces:
        found.append((piece.start, np.asarray(piece.slope - before)))
        before = piece.slope
    return [*found, (along.length, np.asarray(-np.asarray(before)))]


def stations(along: Along) -> Array:
    """Where the stretches begin and the last one ends, shape (..., station). [in]"""
    ends: Sequence[Array] = [*(piece.start for piece in along.pieces), along.length]
    return np.stack(np.broadcast_arrays(*ends), axis=-1)

"""What presses on the box, as strips along the floor and lumps, for every state of its life."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.memory import zeros
from rigcheck.arrays.types import Array

BOUNDS = ("limp", "stiff", "loose", "left", "right")  # the last two: all of it on that line alone
SHARED = frozenset({"limp", "stiff", "loose"})
ALONE = frozenset({"left", "right"})
_STRIP_FIELDS = ("start", "end", "w_start", "w_end", "n_start", "n_end", "y", "gain", "on_floor")
_LUMP_FIELDS = ("weight", "s", "y", "n", "gain")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Strip:
    """A load along part of the floor, linear between its ends, all shapes (...).

    Attributes:
        start: Station where it begins. [in]
        end: Station where it ends. [in]
        w_start: Weight per length at the start. [lbf/in]
        w_end: Weight per length at the end. [lbf/in]
        n_start: Height of its centroid above the floor at the start. [in]
        n_end: Height of its centroid above the floor at the end. [in]
        y: Offset across, left positive. [in]
        gain: Dynamic factor on this load. [1]
        whole: True where it runs from the hinge to the tail whatever the design; such strips bend the rail as one.
        on_floor: 1 where it presses on the floor sheet, 0 where a member of its own carries it across. [1]
        reach: The stretch of the box that it lies in; None where the box is not in stretches.
        name: What it is, for people.
    """

    start: Array | float
    end: Array | float
    w_start: Array | float
    w_end: Array | float
    n_start: Array | float
    n_end: Array | float
    y: Array | float = 0.0
    gain: Array | float = 1.0
    on_floor: float = 1.0
    whole: bool = False
    reach: int | None = None
    name: str = "load"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Lump:
    """A weight at one point of the box, all shapes (...): weight [lbf], s, y, n [in], gain [1]; its name."""

    weight: Array | float
    s: Array | float
    y: Array | float = 0.0
    n: Array | float = 0.0
    gain: Array | float = 1.0
    name: str = "load"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Push:
    """A force at one point of the box, in plant axes, all shapes (...): fx, fy, fz [lbf], s, y, n [in]."""

    fx: Array | float = 0.0
    fy: Array | float = 0.0
    fz: Array | float = 0.0
    s: Array | float = 0.0
    y: Array | float = 0.0
    n: Array | float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Row:
    """One moment of the box's life: a state and what varies within it.

    Attributes:
        state: One of the words for the life of a box.
        variant: What tells this row from others of the same state.
        strips: Loads along the floor.
        lumps: Weights at points.
        pushes: Forces that are not weights.
        gravity: Acceleration over g in plant axes, (x, y, z); (0, 0, -1) at rest.
        fold: Fold angle psi, shape (...). [rad]
        bounds: Which ways of sharing apply.
        factor: The dynamic factor in words, for the row's basis.
        ultimate: True where the row is held against strength and not against working values.
        bend: True where the rail's bending is worked out.
        told: False for the many angles of a fold that an answer names only where something is at its worst.
        sweep: True for the rows that follow one another from deployed to folded.
        manned: True where the last of the lumps is people.
        may_lift: True where the box may be lifted off its lines, which then hang slack.
    """

    state: str
    variant: Mapping[str, str | float] = field(default_factory=dict)
    strips: Sequence[Strip] = ()
    lumps: Sequence[Lump] = ()
    pushes: Sequence[Push] = ()
    gravity: tuple[Array | float, Array | float, Array | float] = (0.0, 0.0, -1.0)
    fold: Array | float = 0.0
    bounds: frozenset[str] = SHARED
    factor: str = "static"
    ultimate: bool = False
    bend: bool = True
    told: bool = True
    sweep: bool = False
    manned: bool = False
    may_lift: bool = False


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Loads:
    """All rows stacked: strip arrays (..., state, strip), lump arrays (..., state, lump), pushes (..., state, push).

    Attributes:
        rows: The rows, in the order of the state axis.
        strip: Field name to array, fields of `Strip`.
        lump: Field name to array, fields of `Lump`.
        push: Field name to array, fields of `Push`.
        gravity: Shape (..., state, 3). [g]
        fold: Shape (..., state). [rad]
        allowed: Which bounds apply, shape (state, bound).
        partial: Strips from this one on run the whole length in every row.
    """

    rows: tuple[Row, ...]
    strip: Mapping[str, Array]
    lump: Mapping[str, Array]
    push: Mapping[str, Array]
    gravity: Array
    fold: Array
    allowed: NDArray[np.bool_]
    partial: int

    def demand(self) -> Loads:
        """The same rows with every weight multiplied by its dynamic factor."""
        gain, lump_gain = self.strip["gain"], self.lump["gain"]
        strip = {**self.strip, "w_start": self.strip["w_start"] * gain, "w_end": self.strip["w_end"] * gain}
        lump = {**self.lump, "weight": self.lump["weight"] * lump_gain}
        return replace(self, strip=strip, lump=lump)


def _alike(groups: Sequence[Sequence[object]]) -> list[tuple[Sequence[object], list[int]]]:
    """Groups that are the same object once, each with the rows that have it."""
    found: dict[int, tuple[Sequence[object], list[int]]] = {}
    for row, group in enumerate(groups):
        found.setdefault(id(group), (group, []))[1].append(row)
    return list(found.values())


def _table(groups: Sequence[Sequence[object]], *, fields: Sequence[str], batch: tuple[int, ...]) -> dict[str, Array]:
    width = max((len(group) for group in groups), default=0)
    alike = _alike(groups)
    table = {name: zeros(batch, len(alike), width) for name in fields}
    for i, (group, _) in enumerate(alike):
        for j, piece in enumerate(group):
            for name in fields:
                table[name][..., i, j] = getattr(piece, name)
    place = np.empty(len(groups), dtype=np.intp)
    for i, (_, rows) in enumerate(alike):
        place[rows] = i
    return {name: _rows_of(values, place) for name, values in table.items()}


def _rows_of(values: Array, rows: NDArray[np.intp]) -> Array:
    """Rows of an array (..., row, piece), the batch kept innermost in memory."""
    own = np.moveaxis(values, (-2, -1), (0, 1))[rows]
    return np.moveaxis(own, (0, 1), (-2, -1))


def stack(rows: Sequence[Row], *, batch: tuple[int, ...]) -> Loads:
    """Rows into arrays, short rows padded with loads of nothing.

    Args:
        rows: The rows.
        batch: Shape of the batch of designs.

    Returns:
        The stacked loads.
    """
    gravity = zeros(batch, len(rows), 3)
    fold = zeros(batch, len(rows))
    for i, row in enumerate(rows):
        fold[..., i] = row.fold
        for axis in range(3):
            gravity[..., i, axis] = row.gravity[axis]
    in_order = {id(row.strips): sorted(row.strips, key=lambda strip: strip.whole) for row in rows}
    strips = [in_order[id(row.strips)] for row in rows]
    return Loads(
        rows=tuple(rows),
        strip=_table(strips, fields=_STRIP_FIELDS, batch=batch),
        lump=_table([row.lumps for row in rows], fields=_LUMP_FIELDS, batch=batch),
        push=_table([row.pushes for row in rows], fields=("fx", "fy", "fz", "s", "y", "n"), batch=batch),
        gravity=gravity,
        fold=fold,
        allowed=np.array([b in row.bounds for row in rows for b in BOUNDS], dtype=np.bool_).reshape(-1, len(BOUNDS)),
        partial=max((sum(not strip.whole for strip in group) for group in strips), default=0),
    )


def take(loads: Loads, *, rows: Sequence[int]) -> Loads:
    """Some rows of stacked loads, in the order given."""
    index = np.asarray(rows, dtype=np.intp)

    def part(table: Mapping[str, Array]) -> dict[str, Array]:
        return {name: values[..., index, :] for name, values in table.items()}

    return Loads(
        rows=tuple(loads.rows[i] for i in index),
        strip=part(loads.strip),
        lump=part(loads.lump),
        push=part(loads.push),
        gravity=loads.gravity[..., index, :],
        fold=loads.fold[..., index],
        allowed=loads.allowed[index],
        partial=loads.partial,
    )

"""The life of the box as rows: which loads act in each state, with which dynamic factor, in which variants."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.loads import contents as fill
from rigcheck.loads.contents import Contents, contents
from rigcheck.loads.pieces import ALONE, SHARED, Loads, Lump, Row, Strip, stack
from rigcheck.loads.steel import Piece, dead_loads, take_off

Array = NDArray[np.float64]

PERSON_STATIONS = 9  # places along the box at which the person is tried, both ends among them


@dataclass(frozen=True, slots=True)
class Life:
    """The loads of every state.

    Attributes:
        loads: All rows, stacked.
        pieces: Weight take-off of the empty box.
        contents: Depths and densities.
    """

    loads: Loads
    pieces: list[Piece]
    contents: Contents


@dataclass(frozen=True, slots=True)
class _Parts:
    """What the row builders share."""

    rig: Rig
    dead: Strip
    lumps: list[Lump]
    found: Contents


def _gained(strips: Iterable[Strip], gain: Array) -> list[Strip]:
    return [replace(strip, gain=gain) for strip in strips]


def _hung(parts: _Parts, state: str, *, strips: Sequence[Strip], lumps: Sequence[Lump] = ()) -> Row:
    """A hung row: everything in it carries the factor for what hangs."""
    gain = parts.rig.number("factors.hung")
    return Row(
        state=state,
        strips=_gained([parts.dead, *strips], gain),
        lumps=[replace(lump, gain=gain) for lump in [*parts.lumps, *lumps]],
        factor=f"static x {float(gain.max()):.4g} (hung)",
    )


def _sloped(parts: _Parts, row: Row) -> list[Row]:
    """The row with the plant leaning to either side; one row where it stands level."""
    slope = parts.rig.number("plant.cross_slope")
    if not np.any(slope > 0.0):
        return [row]
    return [
        replace(row, gravity=(0.0, sign * np.sin(slope), -1.0), variant={**row.variant, "low_side": side})
        for side, sign in (("left", 1.0), ("right", -1.0))
    ]


def _dry(parts: _Parts) -> list[Row]:
    return [replace(_hung(parts, "dry", strips=[]), bounds=SHARED | ALONE)]


def _running(parts: _Parts) -> list[Row]:
    rig, found = parts.rig, parts.found
    strips = [*fill.bed_layer(rig), *fill.running_layer(rig, found)]
    row = _hung(parts, "running", strips=strips, lumps=fill.feed_lump(rig, found))
    return [replace(row, bounds=SHARED | ALONE)]


def _plugged(parts: _Parts) -> list[Row]:
    rig, found = parts.rig, parts.found
    strips = [*fill.bed_layer(rig), *fill.pool_layer(rig, found)]
    return [_hung(parts, "plugged", strips=strips, lumps=fill.feed_lump(rig, found))]


def _packed(parts: _Parts) -> list[Row]:
    strips = fill.packed_layer(parts.rig, parts.found)
    return [_hung(parts, "packed", strips=strips, lumps=fill.feed_lump(parts.rig, parts.found))]


def _lopsided(parts: _Parts) -> list[Row]:
    return [
        replace(
            _hung(parts, "lopsided", strips=fill.lopsided_layer(parts.rig, side=sign)), variant={"packed_side": side}
        )
        for side, sign in (("left", 1), ("right", -1))
    ]


def _surge(parts: _Parts) -> list[Row]:
    """Running water carries the hung factor; the water that a surge adds over it carries the surge factor alone."""
    rig, found = parts.rig, parts.found
    base = _hung(parts, "surge", strips=[*fill.bed_layer(rig), *fill.running_layer(rig, found)],
                 lumps=fill.feed_lump(rig, found))  # fmt: skip
    top = rig.number("bed.depth") + found.running
    added = fill.layer(rig, bottom=top, depth=found.surge - found.running, density=found.density)
    gain = rig.number("factors.surge")
    factor = f"{base.factor}, added water x {float(gain.max()):.4g} (surge)"
    return [replace(base, strips=[*base.strips, *_gained(added, gain)], factor=factor)]


def _iced(parts: _Parts) -> list[Row]:
    strips = [*fill.bed_layer(parts.rig), *fill.ice_layer(parts.rig)]
    return [_hung(parts, "iced", strips=strips)]


def _cleanup(parts: _Parts) -> list[Row]:
    rig = parts.rig
    length = rig.number("box.length")
    rows: list[Row] = []
    for i in range(PERSON_STATIONS):
        place = length * (i / (PERSON_STATIONS - 1))
        for side, sign in (("left", 1), ("right", -1)):
            row = _hung(parts, "cleanup", strips=fill.bed_layer(rig), lumps=fill.people(rig, s=place, side=sign))
            variant: dict[str, str | float] = {"person_side": side}
            if not rig.varied:
                variant["person_s"] = float(place)
            rows.append(replace(row, bounds=SHARED | ALONE, variant=variant))
    return rows


_HUNG: tuple[Callable[[_Parts], list[Row]], ...] = (
    _dry,
    _running,
    _surge,
    _plugged,
    _packed,
    _lopsided,
    _cleanup,
    _iced,
)


def life(rig: Rig, *, batch: tuple[int, ...] = ()) -> Life:
    """Every hung state of the box, each with its variants.

    Args:
        rig: The rig, one or a batch.
        batch: Shape of the batch of designs.

    Returns:
        Loads with the state axis in the order of the box's life.

    Source: docs/method.md#states.
    """
    pieces = take_off(rig)
    dead, lumps = dead_loads(rig, pieces=pieces)
    found = contents(rig)
    parts = _Parts(rig=rig, dead=dead, lumps=lumps, found=found)
    rows = [sloped for build in _HUNG for row in build(parts) for sloped in _sloped(parts, row)]
    return Life(loads=stack(rows, batch=batch), pieces=pieces, contents=found)

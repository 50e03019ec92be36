"""The life of the box as rows: which loads act in each state, with which dynamic factor, in which variants."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import is_tacked
from rigcheck.loads import contents as fill
from rigcheck.loads.contents import Contents, contents
from rigcheck.loads.lost import line_broken
from rigcheck.loads.moving import Empty, folding, towing, wind_hung
from rigcheck.loads.pieces import SHARED, Loads, Lump, Row, Strip, stack
from rigcheck.loads.shape import reaches
from rigcheck.loads.sharing import on_one_line
from rigcheck.loads.slopes import STEEP, WAYS, Ground, every_way, ground, sided
from rigcheck.loads.snagged import snagged_rows
from rigcheck.loads.steel import dead_loads, take_off
from rigcheck.loads.take_off import Piece
from rigcheck.loads.traps import left_in_some, stands_full, stands_left
from rigcheck.tables.load_cases import (
    CLEANOUT,
    DIGOUT,
    EMPTY,
    FOLDING,
    ICED,
    LINE_BROKEN,
    LOPSIDED,
    PACKED,
    PLUGGED,
    RUNNING,
    SNAGGED,
    SURGE,
    TOWING,
    WIND_HUNG,
)

PERSON_STATIONS = 9  # places along the box at which the person is tried, both ends among them


@dataclass(frozen=True, slots=True, eq=False, repr=False)
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


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Parts:
    """What the row builders share."""

    rig: Rig
    dead: Sequence[Strip]
    lumps: list[Lump]
    found: Contents
    on: Ground


def _gained(strips: Iterable[Strip], gain: Array) -> list[Strip]:
    return [replace(strip, gain=gain) for strip in strips]


def _hung(
    parts: _Parts, state: str, *, strips: Sequence[Strip], lumps: Sequence[Lump] = (),
    traps: Sequence[Strip] | None = None,
) -> Row:  # fmt: skip
    """A hung row: everything in it carries the factor for what hangs; its traps are full where nothing else is said."""
    gain, standing = parts.rig.number("factors.hung"), stands_full(parts.rig) if traps is None else traps
    return Row(
        state=state,
        strips=_gained([*parts.dead, *strips, *standing], gain),
        lumps=[replace(lump, gain=gain) for lump in [*parts.lumps, *lumps]],
        factor=f"dynamic (impact) factor {float(gain.max()):.4g} (hung)",
    )


def _empty(parts: _Parts) -> list[Row]:
    """As it is first hung, with nothing in its traps; then with what is left in them."""
    rows = [_hung(parts, EMPTY, strips=[], traps=[])]
    if left_in_some(parts.rig):
        rows.append(replace(_hung(parts, EMPTY, strips=[], traps=stands_left(parts.rig)), variant={"traps": "as left"}))
    return [replace(row, bounds=on_one_line(parts.rig)) for row in rows]


def _running(parts: _Parts) -> list[Row]:
    rig, found = parts.rig, parts.found
    strips = [*fill.bed_layer(rig), *fill.running_layer(rig, found)]
    row = _hung(parts, RUNNING, strips=strips, lumps=fill.feed_lump(rig, found))
    return [replace(row, bounds=on_one_line(rig))]


def _plugged(parts: _Parts) -> list[Row]:
    rig, found = parts.rig, parts.found
    strips = [*fill.bed_layer(rig), *fill.pool_layer(rig, found), *fill.gate_water(rig, found)]
    return [_hung(parts, PLUGGED, strips=strips, lumps=fill.feed_lump(rig, found))]


def _packed(parts: _Parts) -> list[Row]:
    strips = fill.packed_layer(parts.rig, parts.found)
    traps = stands_full(parts.rig, packed=True)
    return [_hung(parts, PACKED, strips=strips, lumps=fill.feed_lump(parts.rig, parts.found), traps=traps)]


def _lopsided(parts: _Parts) -> list[Row]:
    return [
        replace(
            _hung(parts, LOPSIDED, strips=fill.lopsided_layer(parts.rig, side=int(WAYS[side]))),
            variant={"packed_side": side},
        )
        for side in parts.on.sides
    ]


def _surge(parts: _Parts) -> list[Row]:
    """Running water carries the hung factor; the water that a surge adds over it carries the surge factor alone."""
    rig, found = parts.rig, parts.found
    base = _hung(parts, SURGE, strips=[*fill.bed_layer(rig), *fill.running_layer(rig, found)],
                 lumps=fill.feed_lump(rig, found))  # fmt: skip
    added = fill.surge_layer(found)
    gain = rig.number("factors.surge")
    factor = f"{base.factor}, added water x {float(gain.max()):.4g} (surge)"
    return [replace(base, strips=[*base.strips, *_gained(added, gain)], factor=factor)]


def _iced(parts: _Parts) -> list[Row]:
    strips = [*fill.bed_layer(parts.rig), *fill.ice_layer(parts.rig)]
    return [_hung(parts, ICED, strips=strips)]


def _manned(
    parts: _Parts, state: str, *, strips: Sequence[Strip], bounds: frozenset[str], packed: bool = False
) -> list[Row]:
    """People at every station on a side; they step down, which has a factor of its own unless what hangs has more."""
    rig = parts.rig
    length = rig.number("box.length")
    gain = np.maximum(rig.number("factors.step_down"), rig.number("factors.hung"))
    row = _hung(parts, state, strips=strips, traps=stands_full(rig, packed=packed))
    factor = f"{row.factor}, people x {float(gain.max()):.4g} (stepping down)"
    rows: list[Row] = []
    for i in range(PERSON_STATIONS):
        place = length * (i / (PERSON_STATIONS - 1))
        for side in parts.on.sides:
            crowd = [replace(one, gain=gain) for one in fill.people(rig, s=place, side=int(WAYS[side]))]
            variant: dict[str, str | float] = {"person_side": side}
            if not rig.varied:
                variant["person_s"] = float(place)
            rows.append(
                replace(row, lumps=[*row.lumps, *crowd], bounds=bounds, variant=variant, manned=True, factor=factor)
            )
    return rows


def _cleanout(parts: _Parts) -> list[Row]:
    return _manned(parts, CLEANOUT, strips=fill.bed_layer(parts.rig), bounds=on_one_line(parts.rig))


def _digout(parts: _Parts) -> list[Row]:
    """The packed box drained: gravel keeps the water between its grains, and nothing runs over it."""
    return _manned(parts, DIGOUT, strips=fill.packed_gravel(parts.rig), bounds=SHARED, packed=True)


LEVEL: dict[str, Callable[[_Parts], list[Row]]] = {
    EMPTY: _empty,
    RUNNING: _running,
    SURGE: _surge,
    PLUGGED: _plugged,
    PACKED: _packed,
    LOPSIDED: _lopsided,
    CLEANOUT: _cleanout,
    DIGOUT: _digout,
    ICED: _iced,
}
"""How the rows of a hung load case are made on level ground."""


def _stations(rows: Sequence[Row]) -> list[tuple[Row, bool]]:
    """Rows with people and whether they stand at an end of the box; rows without people count as such."""
    sides = max(len({row.variant.get("person_side") for row in rows}), 1)
    last = len(rows) // sides - 1
    return [(row, not row.manned or i // sides in (0, last)) for i, row in enumerate(rows)]


def _on_ground(rows: Sequence[Row], *, parts: _Parts) -> list[Row]:
    """Rows of one state with the plant leaning: every way, but inside the box people only lean to their own side.

    Every force is linear in the station of the people and every check grows with forces as a norm does, so that the
    two ends are the worst stations of all but the rails; those are searched along the box on the steep ground. Where
    the sides run apart people stand farther out at some stations than at others, and every station is put every way.
    """
    found: list[Row] = []
    flared = not all(one.straight for one in reaches(parts.rig))
    for row, tip in _stations(rows):
        at_end = tip or flared
        own = row.variant.get("person_side")
        if at_end:
            lows = ("left",) if parts.on.even and not sided(row) else tuple(WAYS)
            every = every_way(row, on=parts.on, lows=lows)
            found += [replace(one, bend=own in (None, one.variant.get("low_side", own))) for one in every]
        else:
            found += every_way(row, on=parts.on, lows=(str(own),), ends=(STEEP,))
    return found


def life(
    rig: Rig, *, batch: tuple[int, ...] = (), only: frozenset[str] | None = None, places: Sequence[int] | None = None
) -> Life:
    """Every state in which the lines hold the box, each with its variants; of one that is only tacked it hung empty.

    Args:
        rig: The rig, one or a batch.
        batch: Shape of the batch of designs.
        only: The states wanted; all of them where not said.
        places: Which of their rows are wanted, counted from 0; all of them where not said.

    Returns:
        Loads with the state axis in the order of the box's life.

    Source: docs/method.md#states.
    """
    if is_tacked(rig.case):
        only = frozenset({EMPTY}) if only is None else only & {EMPTY}
    pieces = take_off(rig)
    dead, lumps = dead_loads(rig, pieces=pieces)
    found = contents(rig)
    on = ground(rig, lumps=lumps)
    parts = _Parts(rig=rig, dead=dead, lumps=lumps, found=found, on=on)
    empty = Empty(rig=rig, dead=dead, lumps=lumps, on=on)
    level = {state: build(parts) for state, build in LEVEL.items() if only is None or state in only}
    rows = [row for some in level.values() for row in _on_ground(some, parts=parts)]

    def wanted(state: str) -> bool:
        return only is None or state in only

    swept = folding(empty) if wanted(FOLDING) else []
    rows += swept
    if wanted(TOWING):
        rows += towing(empty)
    if wanted(WIND_HUNG):
        rows += wind_hung(empty)
    if wanted(SNAGGED):
        rows += snagged_rows(rig, dead=dead, lumps=lumps, sides=on.sides)
    if wanted(LINE_BROKEN):
        ends = {state: _worst_stations(some) for state, some in level.items() if state != EMPTY}
        rows += line_broken(ends, swept=swept, on=on)
    if places is not None:
        rows = [rows[i] for i in places]
    return Life(loads=stack(rows, batch=batch), pieces=pieces, contents=found)


def _worst_stations(rows: Sequence[Row]) -> list[Row]:
    """Rows of one state with people at either end and in the middle of the box, where they bend its rails most."""
    if not rows or not rows[0].manned:
        return list(rows)
    sides = len({row.variant.get("person_side") for row in rows})
    count = len(rows) // sides
    return [row for i, row in enumerate(rows) if i // sides in (0, count // 2, count - 1)]

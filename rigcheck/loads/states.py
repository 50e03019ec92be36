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

FOLD_STEPS = 181  # angles of the sweep from deployed to folded, both ends among them
FOLD_TOLD = 15  # every so many of them are named whatever they come to
FOLD_LOST = 3  # at every so many of them a line is let part
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


def _dragging(parts: _Parts) -> list[Row]:
    """Plant dragged with the box hanging: down with fore-aft and side together, in all signs."""
    rig = parts.rig
    down, fore, side = (rig.number(f"drag.{key}") for key in ("vertical", "fore_aft", "side"))
    rows = []
    for along, fore_sign in (("forward", 1.0), ("rearward", -1.0)):
        for low, side_sign in (("left", 1.0), ("right", -1.0)):
            rows.append(
                Row(
                    state="dragging",
                    variant={"fore_aft": along, "side": low},
                    strips=[parts.dead, *fill.left_over(rig)],
                    lumps=parts.lumps,
                    gravity=(fore_sign * fore, side_sign * side, -down),
                    factor=f"x {float(np.max(down)):.4g} vertical, {float(np.max(fore)):.3g} fore-aft, "
                    f"{float(np.max(side)):.3g} side (dragging)",
                )
            )
    return rows


def _folding(parts: _Parts) -> list[Row]:
    """The sweep from deployed to folded; none where the case does not fold."""
    rig = parts.rig
    if not rig.has("fold.to"):
        return []
    gain = rig.number("factors.folding")
    strips = _gained([parts.dead, *fill.left_over(rig)], gain)
    lumps = [replace(lump, gain=gain) for lump in parts.lumps]
    bounds = SHARED | ALONE if rig.value("fold.one_line") else SHARED
    factor = f"static x {float(np.max(gain)):.4g} (folding)"
    last = FOLD_STEPS - 1
    rows = []
    for i in range(FOLD_STEPS):
        fold = rig.number("fold.to") * (i / last)
        variant: dict[str, str | float] = {} if rig.varied else {"fold_deg": float(np.degrees(fold))}
        rows.append(
            Row(state="folding", variant=variant, strips=strips, lumps=lumps, fold=fold, bounds=bounds, factor=factor,
                told=i % FOLD_TOLD == 0)
        )  # fmt: skip
    return rows


def _line_lost(rows: Sequence[Row], *, parts: _Parts) -> list[Row]:
    """One line parts while running, at clean-out with the person at the tail, or while folding; each side in turn.

    The loads are those of the row it happens in, without their own dynamic factor: the jump has its own.
    """
    factor = f"one line parts, jump x {float(np.max(parts.rig.number('factors.line_lost'))):.4g}"
    at_tail = max((i for i, row in enumerate(rows) if row.state == "cleanup"), default=-1)
    leaning = len(_sloped(parts, Row(state="cleanup")))
    chosen = {
        "running": [row for row in rows if row.state == "running"],
        "cleanup": list(rows[at_tail + 1 - 2 * leaning : at_tail + 1]),
        "folding": [row for row in rows if row.state == "folding"][::FOLD_LOST],
    }
    lost = []
    for state, among in chosen.items():
        for row in among:
            lost.append(
                replace(
                    row,
                    state="line_lost",
                    variant={"while": state, **row.variant},
                    strips=_gained(row.strips, np.ones(())),
                    lumps=[replace(lump, gain=1.0) for lump in row.lumps],
                    bounds=ALONE,
                    factor=factor,
                    ultimate=True,
                    bend=state != "folding",
                )
            )
    return lost


_HUNG: dict[str, Callable[[_Parts], list[Row]]] = {
    "dry": _dry,
    "running": _running,
    "surge": _surge,
    "plugged": _plugged,
    "packed": _packed,
    "lopsided": _lopsided,
    "cleanup": _cleanup,
    "iced": _iced,
}


def life(
    rig: Rig, *, batch: tuple[int, ...] = (), only: frozenset[str] | None = None, places: Sequence[int] | None = None
) -> Life:
    """Every state in which the lines hold the box, each with its variants.

    Args:
        rig: The rig, one or a batch.
        batch: Shape of the batch of designs.
        only: The states wanted; all of them where not said.
        places: Which of their rows are wanted, counted from 0; all of them where not said.

    Returns:
        Loads with the state axis in the order of the box's life.

    Source: docs/method.md#states.
    """
    pieces = take_off(rig)
    dead, lumps = dead_loads(rig, pieces=pieces)
    found = contents(rig)
    parts = _Parts(rig=rig, dead=dead, lumps=lumps, found=found)
    built = [build for state, build in _HUNG.items() if only is None or state in only]
    rows = [sloped for build in built for row in build(parts) for sloped in _sloped(parts, row)]
    if only is None or "folding" in only:
        rows += _folding(parts)
    if only is None or "dragging" in only:
        rows += _dragging(parts)
    if only is None or "line_lost" in only:
        rows += _line_lost(rows, parts=parts)
    if places is not None:
        rows = [rows[i] for i in places]
    return Life(loads=stack(rows, batch=batch), pieces=pieces, contents=found)

"""The box on the move or in the wind: folded up, towed with the plant, blown at while it hangs or folds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.contents import left_over, taken_along
from rigcheck.loads.pieces import ALONE, SHARED, Lump, Push, Row, Strip
from rigcheck.loads.sharing import folds_on_one
from rigcheck.loads.slopes import EASY, STEEP, WAYS, Ground, center, from_hinge, leaning, low_tail
from rigcheck.loads.steel import side_sheet
from rigcheck.loads.traps import stands_left
from rigcheck.loads.wind import hung_pushes
from rigcheck.tables.load_cases import FOLDING, TOWING, WIND_HUNG

FOLD_STEPS = 181  # angles of the sweep from deployed to folded, both ends among them
FOLD_TOLD = 15  # every so many of them are named whatever they come to
FOLD_EASY = 9  # at every so many of them the plant leans the other way too
FOLD_WIND = 12  # at every so many of them the wind blows


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Empty:
    """The empty box and the ground under the plant."""

    rig: Rig
    dead: Sequence[Strip]
    lumps: Sequence[Lump]
    on: Ground


def towing(empty: Empty) -> list[Row]:
    """Plant towed with the box hanging: down with fore-aft and side together, in all signs, on sloping ground.

    The ground leans the way in which the box is thrown: every other sum of the two lies between these.
    """
    rig, on = empty.rig, empty.on
    down, fore, side = (rig.number(f"towing.{key}") for key in ("vertical", "fore_aft", "side"))
    rows = []
    for along, fore_sign in (("forward", 1.0), ("rearward", -1.0)):
        for low in on.sides:
            rows.append(
                Row(
                    state=TOWING,
                    variant={"fore_aft": along, "side": low},
                    strips=[*empty.dead, *taken_along(rig)],
                    lumps=empty.lumps,
                    gravity=(fore_sign * (fore + on.along), WAYS[low] * (side + on.across), -down),
                    factor=f"x {float(np.max(down)):.4g} vertical, {float(np.max(fore)):.3g} fore-aft, "
                    f"{float(np.max(side)):.3g} side (towing), on the slope",
                )
            )
    return rows


def _fold_bounds(rig: Rig) -> frozenset[str]:
    return SHARED | ALONE if folds_on_one(rig) else SHARED


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Sweep:
    """The box at every angle of its fold.

    Attributes:
        strips: Loads along the floor, the factor of folding in them.
        lumps: Lumps, the factor in them.
        fold: Fold angle of each step, shapes (...). [rad]
        tail: From `low_tail`, of each step, shapes (...).
    """

    strips: Sequence[Strip]
    lumps: Sequence[Lump]
    fold: Sequence[Array]
    tail: Sequence[Array]


def _swept(empty: Empty, *, gain: Array, drained: bool = False) -> _Sweep:
    """The sweep; `drained` counts what is left in the traps as gone, where weight is what holds the box."""
    rig = empty.rig
    traps = [replace(one, w_start=0.0 * one.w_start, w_end=0.0 * one.w_end) if drained else one
             for one in stands_left(rig)]  # fmt: skip
    strips = [replace(strip, gain=gain) for strip in (*empty.dead, *left_over(rig), *traps)]
    lumps = [replace(lump, gain=gain) for lump in empty.lumps]
    s, n = center(strips, lumps)
    fold = np.multiply.outer(np.arange(FOLD_STEPS) / (FOLD_STEPS - 1), rig.number("fold.to") + 0.0 * s)
    return _Sweep(strips, lumps, list(fold), list(low_tail(s, n=n, fold=fold, rig=rig)))


def folding(empty: Empty) -> list[Row]:
    """The sweep from deployed to folded; none where the case does not fold.

    At every angle the plant leans to the end that makes the box turn harder, so that the lines pull most; at some
    angles it leans to the other end too, where the box passes its balance point first and the hinge is turned.
    """
    rig, on = empty.rig, empty.on
    if not rig.has("fold.to"):
        return []
    gain = rig.number("factors.folding")
    sweep, bounds = _swept(empty, gain=gain), _fold_bounds(rig)
    factor = f"dynamic (impact) factor {float(np.max(gain)):.4g} (folding)"
    low, *others = ("left",) if on.even or not on.leans_across else tuple(WAYS)

    def rows(side: str, *, end: float, every: int = 1, first: bool = False) -> list[Row]:
        found = []
        for step in range(0, FOLD_STEPS, every):
            fold, tail = sweep.fold[step], end * sweep.tail[step]
            found.append(
                Row(
                    state=FOLDING,
                    variant={**_at(rig, fold), **on.words(side, tail)},
                    strips=sweep.strips,
                    lumps=sweep.lumps,
                    gravity=(tail * on.along, WAYS[side] * on.across, -1.0),
                    fold=fold,
                    bounds=bounds,
                    factor=factor,
                    told=first and step % FOLD_TOLD == 0,
                    sweep=first,
                )
            )
        return found

    found = rows(low, end=STEEP, first=True)
    for other in others:
        found += rows(other, end=STEEP)
    for some in (low, *others) if on.leans_along else ():
        found += rows(some, end=EASY, every=FOLD_EASY)
    return found


def _at(rig: Rig, fold: Array) -> dict[str, str | float]:
    return {} if rig.varied else {"fold_deg": float(np.degrees(fold))}


def wind_hung(empty: Empty) -> list[Row]:
    """The gust from four sides on the empty box that hangs, and on the box on its way up.

    The ground leans with the wind. What presses the box down carries the factor of what hangs or folds on its weight;
    where the gust lifts the box its weight counts as it is. The gust carries none: it is the peak already.
    """
    rig, on = empty.rig, empty.on
    if not np.any(rig.number("wind.hung") > 0.0):
        return []
    rows = [_hung_gust(empty, toward, low, word) for word in ("down", "up") for toward, low in _gusts(on)]
    return rows + _fold_gusts(empty) if rig.has("fold.to") else rows


def _gusts(on: Ground) -> list[tuple[str, str]]:
    """Where the gust blows to, and the side of the plant that is low: across, the lee side."""
    along = [(toward, low) for toward in ("+x", "-x") for low in on.sides]
    return [*along, *(("+y" if low == "left" else "-y", low) for low in on.sides)]


def _width(rig: Rig) -> Array:
    return np.asarray(rig.number("box.width") + 2.0 * side_sheet(rig))


def _one_of(push: Push, place: int, *, across: bool) -> Push:
    """One of the angles of a push; a wind across a box that stands up meets its side alone."""
    if across:
        return replace(push, fx=0.0, fz=0.0)
    return replace(push, fx=np.asarray(push.fx)[place], fz=np.asarray(push.fz)[place])


def _hung_gust(empty: Empty, toward: str, low: str, word: str) -> Row:
    """The ground leans with the wind; across it, to the steep end."""
    rig, on = empty.rig, empty.on
    gain = rig.number("factors.hung") if word == "down" else np.ones(())
    row = Row(
        state=WIND_HUNG,
        variant={"wind_to": toward, "gust": word},
        strips=[replace(strip, gain=gain) for strip in (*empty.dead, *(stands_left(rig) if word == "down" else ()))],
        lumps=[replace(lump, gain=gain) for lump in empty.lumps],
        pushes=[hung_pushes(rig, angle=-rig.number("box.pitch"), width=_width(rig))[toward][word]],
        factor=f"dynamic (impact) factor {float(np.max(gain)):.4g}, gust at its peak",
        may_lift=True,
    )
    s, n = center(row.strips, row.lumps)
    tail = low_tail(s, n=n, fold=0.0, rig=rig)
    return leaning(row, on=on, low=low, end=1.0, tail=_downwind(toward, tail))


def _downwind(toward: str, tail: Array) -> Array:
    return {"+x": np.ones_like(tail), "-x": -np.ones_like(tail)}.get(toward, tail)


def _eased(still: _Sweep, heavy: _Sweep, *, inward: Mask) -> _Sweep:
    """The box as it is where its weight turns it outward, with the factor on its weight where it turns it inward.

    Args:
        still: Its weight as it is.
        heavy: With the factor.
        inward: In which designs the weight turns it inward, shape (...).
    """
    if inward.all():
        return heavy
    if not inward.any():
        return still
    strips = [
        replace(
            one,
            gain=np.where(inward, other.gain, one.gain),
            w_start=np.where(inward, other.w_start, one.w_start),
            w_end=np.where(inward, other.w_end, one.w_end),
        )
        for one, other in zip(still.strips, heavy.strips, strict=True)
    ]
    lumps = [
        replace(one, gain=np.where(inward, other.gain, one.gain))
        for one, other in zip(still.lumps, heavy.lumps, strict=True)
    ]
    return _Sweep(strips, lumps, heavy.fold, heavy.tail)


def _fold_gusts(empty: Empty) -> list[Row]:
    """Toward the tail the gust presses the box down and out, toward the head up and inward."""
    rig, on = empty.rig, empty.on
    gain = rig.number("factors.folding")
    heavy, still = _swept(empty, gain=gain), _swept(empty, gain=np.ones(()), drained=True)
    steps, bounds = range(0, FOLD_STEPS, FOLD_WIND), _fold_bounds(rig)
    s, n = center(still.strips, still.lumps)
    angles = np.stack([heavy.fold[step] - rig.number("box.pitch") for step in steps])
    gusts = hung_pushes(rig, angle=angles, width=_width(rig))
    found = []
    for place, step in enumerate(steps):
        fold = heavy.fold[step]
        inward = from_hinge(s, n=n, fold=fold, rig=rig)[0] < 0.0
        upward = _eased(still, heavy, inward=inward)  # toward the head the gust takes from the weight's own turn
        for toward, low in _gusts(on):
            some = upward if toward == "-x" else heavy
            eased = some is not heavy
            push = gusts[toward]["up" if toward == "-x" else "down"]
            tail = _downwind(toward, some.tail[step])
            found.append(
                Row(
                    state=WIND_HUNG,
                    variant={"while": FOLDING, "wind_to": toward, **_at(rig, fold), **on.words(low, tail)},
                    strips=some.strips,
                    lumps=some.lumps,
                    pushes=[_one_of(push, place, across=toward in ("+y", "-y"))],
                    gravity=(tail * on.along, WAYS[low] * on.across, -1.0),
                    fold=fold,
                    bounds=bounds,
                    factor=f"dynamic (impact) factor {1.0 if eased else float(np.max(gain)):.4g}, gust at its peak",
                    bend=False,
                    told=False,
                    may_lift=True,
                )
            )
    return found

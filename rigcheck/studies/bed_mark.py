"""The bed mark: the deepest settled bed at which nothing is over in any state that holds it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig, varied
from rigcheck.check.assess import Assessment, assess
from rigcheck.check.rows import OVER, Mask, Worst, ratios
from rigcheck.studies.decisive import decisive

Array = NDArray[np.float64]

STEP = 0.125  # in: the mark is painted on a side wall; to an eighth, rounded down
_COARSE = 8  # steps between the depths that are looked at first
_LIKELY = 0.25  # a check used less than this in a row is not the first to go over there when the bed grows
RUNNING = "running"


@dataclass(frozen=True, slots=True, kw_only=True)
class BedMark:
    """How deep the bed may settle.

    Attributes:
        depth: Deepest bed with nothing over in any state, an eighth of an inch or the top of the sides; None where
            something is over without any bed. [in]
        side_height: Top of the sides. [in]
        limit: Part and mode, or code of the finding, that is over just beyond the mark, or without any bed; empty
            where nothing is.
        state: State in which it is.
        running: The same depth for the running box alone, whatever its other states come to; None where there is no
            mark. [in]
    """

    depth: float | None
    side_height: float
    limit: str
    state: str
    running: float | None

    @property
    def to_the_top(self) -> bool:
        """Whether even a bed to the top of the sides leaves nothing over."""
        return self.depth is not None and self.depth >= self.side_height


def bed_mark(rig: Rig, *, found: Assessment | None = None) -> BedMark:
    """Deepest settled bed of one rig, over every state of the engine, so that a new state counts by itself.

    The rows likely to govern are looked at over the depths, at every inch and then at every eighth before the first
    that is over; what they give is looked at again in all rows, and halved down there where it does not hold.

    Args:
        rig: One rig, not a batch.
        found: Its assessment, where it is there already.

    Returns:
        The mark.

    Source: docs/method.md#bed-mark.
    """
    side = float(rig.number("box.side_height"))
    depths = np.append(np.arange(0.0, side - 1e-9, STEP), side)
    base = assess(rig) if found is None else found
    bare = _bare(rig, base) if bool(base.over) else base
    if bool(bare.over):
        return _marked(None, bare, place=(), side=side, running=None)
    scan = _scan(rig, bare, depths=depths, rows=_likely_rows(bare))
    good, last = scan.good, len(depths) - 1
    if bool(_at(rig, float(depths[good])).over):
        good, bad = _halved(rig, depths, high=good)
        return _marked(float(depths[good]), _at(rig, float(depths[bad])), place=(), side=side, running=scan.running)
    if good == last:
        return BedMark(depth=side, side_height=side, limit="", state="", running=scan.running)
    return _marked(float(depths[good]), scan.beyond, place=(scan.place,), side=side, running=scan.running)


def _bare(rig: Rig, found: Assessment) -> Assessment:
    """The box with a clean floor: the rows that are over with the stated bed, and all of them where those are not."""
    checks = [one for one in found.worst if float(one.utilisation) > OVER]
    places = decisive(found, checks=checks, flags=[flag for flag in found.flags if flag.stops])
    some = assess(varied(rig, {"bed.depth": np.zeros(())}), places=places)
    return some if bool(some.over) else _at(rig, 0.0)


def _at(rig: Rig, depth: float) -> Assessment:
    return assess(varied(rig, {"bed.depth": np.asarray(depth)}))


def _halved(rig: Rig, depths: Array, *, high: int) -> tuple[int, int]:
    """Last place that is not over and the next, looked at in all rows; the first place is not over."""
    low = 0
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if bool(_at(rig, float(depths[middle])).over) else (middle, high)
    return low, high


def _marked(
    depth: float | None, beyond: Assessment, *, place: tuple[int, ...], side: float, running: float | None
) -> BedMark:
    """The mark with what is over beyond it, at one place of a batch or in the assessment of one rig."""
    names = [row.state for row in beyond.solution.rows]
    for flag in beyond.flags:
        held = np.broadcast_to(flag.where, beyond.solution.shape)[place].any((-2, -1))
        if flag.stops and held.any():
            state = names[int(np.argmax(held))]
            return BedMark(depth=depth, side_height=side, limit=flag.code, state=state, running=running)
    one = max(beyond.worst, key=lambda one: float(_one(one.utilisation, beyond, place)))
    limit, row = f"{one.check.part}, {one.check.mode}", int(_one(one.state, beyond, place))
    return BedMark(depth=depth, side_height=side, limit=limit, state=names[row], running=running)


def _one(values: NDArray[Any], found: Assessment, place: tuple[int, ...]) -> NDArray[Any]:
    return np.asarray(np.broadcast_to(values, found.solution.shape[:-3])[place])


@dataclass(frozen=True, slots=True)
class _Scan:
    """Some rows over the depths.

    Attributes:
        good: Place of the last depth before the first that is over.
        beyond: The batch in which the next depth was looked at.
        place: Its place there.
        running: Deepest bed with nothing over in the rows of the running box; None where a clean floor is. [in]
    """

    good: int
    beyond: Assessment
    place: int
    running: float | None


def _scan(rig: Rig, found: Assessment, *, depths: Array, rows: Sequence[int]) -> _Scan:
    """Look at some rows over the depths, coarsely and then finely where something begins to be over.

    Args:
        rig: The rig.
        found: An assessment of it in all rows.
        depths: Every depth, rising. [in]
        rows: Places of rows; those that the engine needs besides are added.
    """
    always = {*decisive(found, checks=()), *_running_rows(found)}
    places = tuple(sorted({*always, *rows}))
    last = len(depths) - 1
    coarse = np.unique(np.append(np.arange(0, last, _COARSE), last))
    first = assess(varied(rig, {"bed.depth": depths[coarse]}), places=places)
    ends = [_first(over) for over in (first.over, _running_over(first))]
    between = {i for end in ends if 0 < end < len(coarse) for i in range(coarse[end - 1] + 1, coarse[end])}
    fine = np.array(sorted(between) or [last])
    some = _over_places(first, places, always=always, at=min(ends))
    second = assess(varied(rig, {"bed.depth": depths[fine]}), places=some)
    every, running = np.zeros(last + 1, dtype=np.bool_), np.zeros(last + 1, dtype=np.bool_)
    for batch, at in ((first, coarse), (second, fine)):
        every[at], running[at] = batch.over, _running_over(batch)
    bad, alone = min(_first(every), last), _first(running)
    batch, at = (second, fine) if bad in fine else (first, coarse)
    good = last if not every.any() else max(bad - 1, 0)
    place = int(np.flatnonzero(at == bad)[0])
    return _Scan(good, batch, place, None if alone == 0 else float(depths[alone - 1]))


def _over_places(found: Assessment, places: tuple[int, ...], *, always: set[int], at: int) -> tuple[int, ...]:
    """Of some places those in which something is over at one depth of a batch, besides those that are always wanted."""
    if at >= found.solution.shape[0]:
        return places
    shape = found.solution.shape
    over = [one for one in found.worst if float(_one(one.utilisation, found, (at,))) > OVER]
    rows = {int(_one(one.state, found, (at,))) for one in over}
    for flag in found.flags:
        if flag.stops:
            rows |= set(np.flatnonzero(np.broadcast_to(flag.where, shape)[at].any((-2, -1))).tolist())
    return tuple(sorted(always | {places[row] for row in rows}))


def _running_rows(found: Assessment) -> tuple[int, ...]:
    return tuple(i for i, row in enumerate(found.solution.life.loads.rows) if row.state == RUNNING)


def _likely_rows(found: Assessment) -> tuple[int, ...]:
    """Of each check its worst row in each state of the hung box, where it is used at all there."""
    hung = [row.state for row in found.solution.life.loads.rows]
    states = [[i for i, name in enumerate(hung) if name == state] for state in dict.fromkeys(hung)]
    rows: set[int] = set()
    for one in found.worst:
        if float(one.utilisation) > _LIKELY:
            use = _by_row(one, found)
            worst = (members[int(np.argmax(use[members]))] for members in states)
            rows |= {row for row in worst if use[row] > _LIKELY}
    return tuple(rows)


def _by_row(one: Worst, found: Assessment) -> Array:
    """Utilisation of a check in each row, shape (..., state)."""
    solution = found.solution
    accident = np.array([row.ultimate for row in solution.rows], dtype=np.bool_)[:, None]
    allowed = solution.allowed & (accident if one.check.on_accidents else ~accident)
    return np.asarray(ratios(one.check, allowed=allowed, shape=solution.shape).max((-2, -1)))


def _running_over(found: Assessment) -> Mask:
    """Whether anything is over or stops at each depth in the rows of the running box, shape (depth,)."""
    rows = [i for i, row in enumerate(found.solution.rows) if row.state == RUNNING]
    over = np.zeros(found.solution.shape[:-3], dtype=np.bool_)
    for one in found.worst:
        if not one.check.snag:  # a snagged hoist does not ask how full the box is
            over = over | (_by_row(one, found)[..., rows] > OVER).any(-1)
    for flag in found.flags:
        if flag.stops:
            over = over | np.broadcast_to(flag.where, found.solution.shape)[..., rows, :, :].any((-3, -2, -1))
    return np.asarray(over)


def _first(over: Mask) -> int:
    """Place of the first depth that is over; their number where none is."""
    places = np.flatnonzero(over)
    return int(places[0]) if places.size else int(np.size(over))

"""The bed mark: the deepest settled bed at which nothing is over in any state that holds it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig, varied
from rigcheck.check.assess import Assessment, assess
from rigcheck.check.rows import OVER, Mask, Worst, ratios
from rigcheck.studies.decisive import decisive

Array = NDArray[np.float64]

STEP = 0.125  # in: the mark is painted on a side wall; to an eighth, rounded down
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
        running: The same depth for the running box alone, whatever its other states come to; None where it is over
            with a clean floor. [in]
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

    A bed to the top of the sides shows which rows go over; those rows are looked at over every eighth of an inch from
    the clean floor up; what they give is looked at again in all rows.

    Args:
        rig: One rig, not a batch.
        found: Its assessment, where it is there already: one that is not over spares a look.

    Returns:
        The mark.

    Source: docs/method.md#bed-mark.
    """
    side = float(rig.number("box.side_height"))
    depths = np.append(np.arange(0.0, side - 1e-9, STEP), side)
    if found is None or bool(found.over):
        bare = _at(rig, 0.0)
        if bool(bare.over):
            scan = _scan(rig, bare, depths=depths, rows=_running_rows(bare))
            return _marked(None, bare, side=side, running=_running(scan, depths=depths))
    full = _at(rig, side)
    scan = _scan(rig, full, depths=depths, rows=(*_running_rows(full), *_over_rows(full)))
    running = _running(scan, depths=depths)
    if not bool(full.over):
        return BedMark(depth=side, side_height=side, limit="", state="", running=running)
    first = max(min(_first(scan.over), len(depths) - 1), 1)
    good, bad = first - 1, first
    if bool(_at(rig, float(depths[good])).over):
        good, bad = _halved(rig, depths, high=good)
    return _marked(float(depths[good]), _at(rig, float(depths[bad])), side=side, running=running)


def _at(rig: Rig, depth: float) -> Assessment:
    return assess(varied(rig, {"bed.depth": np.asarray(depth)}))


def _halved(rig: Rig, depths: Array, *, high: int) -> tuple[int, int]:
    """Last place that is not over and the next, looked at in all rows; the first place is not over."""
    low = 0
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if bool(_at(rig, float(depths[middle])).over) else (middle, high)
    return low, high


def _marked(depth: float | None, beyond: Assessment, *, side: float, running: float | None) -> BedMark:
    """The mark with what is over beyond it."""
    stop = next((flag for flag in beyond.flags if flag.stops), None)
    names = [row.state for row in beyond.solution.rows]
    if stop is not None:
        row = int(np.flatnonzero(np.broadcast_to(stop.where, beyond.solution.shape).any((-2, -1)))[0])
        return BedMark(depth=depth, side_height=side, limit=stop.code, state=names[row], running=running)
    one = max(beyond.worst, key=lambda one: float(one.utilisation))
    limit = f"{one.check.part}, {one.check.mode}"
    return BedMark(depth=depth, side_height=side, limit=limit, state=names[int(one.state)], running=running)


def _scan(rig: Rig, full: Assessment, *, depths: Array, rows: Sequence[int]) -> Assessment:
    """Some rows over all depths; the places that the engine needs besides are among them."""
    places = tuple(sorted({*decisive(full, checks=()), *rows}))
    return assess(varied(rig, {"bed.depth": depths}), places=places)


def _running_rows(found: Assessment) -> tuple[int, ...]:
    return tuple(i for i, row in enumerate(found.solution.life.loads.rows) if row.state == RUNNING)


def _over_rows(found: Assessment) -> tuple[int, ...]:
    """Of each check that is over its worst row in each state, and the first row of each state of what stops."""
    hung = [row.state for row in found.solution.life.loads.rows]
    states = {state: [i for i, name in enumerate(hung) if name == state] for state in dict.fromkeys(hung)}
    rows: set[int] = set()
    for one in found.worst:
        if float(one.utilisation) > OVER:
            use = _by_row(one, found)
            worst = (members[int(np.argmax(use[members]))] for members in states.values())
            rows |= {row for row in worst if use[row] > OVER}
    for flag in found.flags:
        if flag.stops:
            held = np.broadcast_to(flag.where, found.solution.shape).any((-2, -1))
            rows |= {members[int(np.argmax(held[members]))] for members in states.values() if held[members].any()}
    return tuple(rows)


def _by_row(one: Worst, found: Assessment) -> Array:
    """Utilisation of a check in each row, shape (..., state)."""
    solution = found.solution
    accident = np.array([row.ultimate for row in solution.rows], dtype=np.bool_)[:, None]
    allowed = solution.allowed & (accident if one.check.on_accidents else ~accident)
    return np.asarray(ratios(one.check, allowed=allowed, shape=solution.shape).max((-2, -1)))


def _running(found: Assessment, *, depths: Array) -> float | None:
    """Deepest bed at which nothing is over in the rows of the running box; None where a clean floor is."""
    first = _first(_running_over(found))
    return None if first == 0 else float(depths[first - 1])


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

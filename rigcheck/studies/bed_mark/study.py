"""The bed mark: the deepest settled bed at which nothing is over in any state that holds it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rows import OVER
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig, varied
from rigcheck.case.tacks import is_tacked
from rigcheck.studies.bed_mark.search import Search
from rigcheck.studies.decisive import decisive

STEP = 0.125  # in: the mark is painted on a side wall; to an eighth, rounded down
_ROUNDS = 4  # times that rows are added where all rows have something over below what the few say


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
        checked: Whether any part could be checked at all; there is no mark where none could.
        trial: Whether the box is only tacked, so that nothing may be in it.
        complete: Whether all of the load path was.
    """

    depth: float | None
    side_height: float
    limit: str
    state: str
    running: float | None
    checked: bool = True
    trial: bool = False
    complete: bool = True

    @property
    def to_the_top(self) -> bool:
        """Whether even a bed to the top of the sides leaves nothing over."""
        return self.depth is not None and self.depth >= self.side_height


def bed_mark(rig: Rig, *, found: Assessment | None = None) -> BedMark:
    """Deepest settled bed of one rig, over every state of the engine, so that a new state counts by itself.

    The rows likely to govern are looked at at three depths, and those that are over about the depth at which they begin
    to be; what they give is looked at in all rows. Where those have something over there, their rows are looked at too,
    further down.

    Args:
        rig: One rig, not a batch.
        found: Its assessment, where it is there already.

    Returns:
        The mark.

    Source: docs/method.md#bed-mark.
    """
    if is_tacked(rig.case):
        side = float(rig.number("box.side_height"))
        return BedMark(depth=None, side_height=side, limit="", state="", running=None, trial=True, complete=False)
    base = assess(rig) if found is None else found
    if not base.checked:
        side = float(rig.number("box.side_height"))
        return BedMark(depth=None, side_height=side, limit="", state="", running=None, checked=False, complete=False)
    return replace(_searched(rig, base), complete=not base.not_assessed)


def _searched(rig: Rig, base: Assessment) -> BedMark:
    """The mark of a rig of which something is checked."""
    side = float(rig.number("box.side_height"))
    depths = np.append(np.arange(0.0, side - 1e-9, STEP), side)
    bare = _bare(rig, base) if bool(base.over) else base
    if bool(bare.over):
        return _marked(None, bare, place=(), side=side, running=None)
    stated = float(bare.solution.rig.number("bed.depth"))
    start = max(int(np.searchsorted(depths, stated, side="right")) - 1, 0)
    search = Search(rig, bare, depths=depths, start=start)
    for _ in range(_ROUNDS):
        good = search.run()
        deep, running = float(depths[good]), float(depths[search.running.good])
        whole = bare if deep == stated else _at(rig, deep)
        if not bool(whole.over):
            if good == len(depths) - 1:
                return BedMark(depth=side, side_height=side, limit="", state="", running=running)
            beyond = search.beyond()
            return _marked(deep, beyond.found, place=beyond.design, side=side, running=running)
        if good <= start:
            break
        search.learn(whole, place=good)
    return _halved(rig, depths, high=good, whole=whole, running=running)


def _bare(rig: Rig, found: Assessment) -> Assessment:
    """The box with a clean floor: the rows that are over with the stated bed, and all of them where those are not."""
    checks = [one for one in found.worst if float(one.utilization) > OVER]
    places = decisive(found, checks=checks, flags=[flag for flag in found.flags if flag.stops])
    some = assess(varied(rig, {"bed.depth": np.zeros(())}), places=places)
    return some if bool(some.over) else _at(rig, 0.0)


def _at(rig: Rig, depth: float) -> Assessment:
    return assess(varied(rig, {"bed.depth": np.asarray(depth)}))


def _halved(rig: Rig, depths: Array, *, high: int, whole: Assessment, running: float) -> BedMark:
    """The mark below a place that is over, looked at in all rows; none where a clean floor is over."""
    side, low = float(depths[-1]), 0
    first = _at(rig, 0.0)
    if bool(first.over):
        return _marked(None, first, place=(), side=side, running=None)
    while high - low > 1:
        middle = (low + high) // 2
        found = _at(rig, float(depths[middle]))
        if bool(found.over):
            high, whole = middle, found
        else:
            low = middle
    return _marked(float(depths[low]), whole, place=(), side=side, running=running)


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
    one = max(beyond.worst, key=lambda one: float(_one(one.utilization, beyond, place)))
    limit, row = f"{one.check.part}, {one.check.mode}", int(_one(one.state, beyond, place))
    return BedMark(depth=depth, side_height=side, limit=limit, state=names[row], running=running)


def _one(values: NDArray[Any], found: Assessment, place: tuple[int, ...]) -> NDArray[Any]:
    return np.asarray(np.broadcast_to(values, found.solution.shape[:-3])[place])

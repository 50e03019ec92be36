"""Search the depths of a bed for the first at which something is over, in the few rows that can decide it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.rows import OVER, Worst, ratios
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig, varied
from rigcheck.studies.decisive import decisive
from rigcheck.tables.load_cases import RUNNING

_LIKELY = 0.5  # a check used less than this in a row is not the first to go over there when the bed grows
_NEAR = 1, 3  # places looked at before a guess and from it on
_NEAR_RUNNING = 4, 3  # the same of the running box, whose water has less room the deeper the bed
_APART = 5  # depths put between two between which nothing is expected anywhere


def by_row(one: Worst, found: Assessment) -> Array:
    """Utilization of a check in each row, shape (..., state)."""
    solution = found.solution
    return np.asarray(
        ratios(one.check, allowed=solution.looked_at(on_accidents=one.check.on_accidents), shape=solution.shape).max(
            (-2, -1)
        )
    )


def rows_over(seen: Seen) -> set[int]:
    """Rows in which a check that is over is at its worst, or in which a finding stops the rig."""
    found, at = seen.found, seen.design
    rows = {int(one.state[at]) for one in found.worst if float(one.utilization[at]) > OVER}
    for flag in found.flags:
        if flag.stops:
            where = np.broadcast_to(flag.where, found.solution.shape)[at]
            rows |= set(np.flatnonzero(where.any((-2, -1))).tolist())
    return {seen.rows[row] for row in rows if row < found.solution.before_road}


def _likely_rows(found: Assessment) -> set[int]:
    """Of each check its worst row in each state of the hung box, where it is used at all there."""
    names = np.array([row.state for row in found.solution.life.loads.rows])
    states = [np.flatnonzero(names == state) for state in dict.fromkeys(names)]
    rows: set[int] = set()
    for one in found.worst:
        if float(one.utilization) > _LIKELY:
            use = by_row(one, found)
            worst = [members[use[members].argmax()] for members in states]
            rows |= {int(row) for row in worst if use[row] > _LIKELY}
    return rows


@dataclass(slots=True, eq=False)
class _Bracket:
    """Between which places the first depth that is over lies.

    Attributes:
        good: Last place known to have nothing over.
        bad: First place known to be over; one past the last while none is.
    """

    good: int
    bad: int

    @property
    def closed(self) -> bool:
        return self.bad - self.good <= 1

    def take(self, place: int, *, over: bool) -> None:
        """What was found at one place; the first that is over counts."""
        if over:
            self.bad = min(self.bad, place)
        elif place < self.bad:
            self.good = max(self.good, place)


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What was looked at, at one depth.

    Attributes:
        found: An assessment, one rig or a batch.
        design: Which of its batch.
        rows: Places of its rows among all rows.
    """

    found: Assessment
    design: tuple[int, ...]
    rows: tuple[int, ...]


class Search:
    """The first depth that is over in some rows, and the same of the running box alone.

    Attributes:
        all: In any row that is looked at.
        running: In the rows of the running box.
    """

    def __init__(self, rig: Rig, found: Assessment, *, depths: Array, start: int) -> None:
        """Choose the rows that are looked at first.

        Args:
            rig: The rig.
            found: An assessment of it in all rows, with nothing over.
            depths: Every depth, rising. [in]
            start: Place of the last of them that is no deeper than the bed of that assessment.
        """
        self._rig, self._depths, self._start = rig, depths, start
        running = {i for i, row in enumerate(found.solution.life.loads.rows) if row.state == RUNNING}
        self._always = {*decisive(found, checks=()), *running}
        self._rows = _likely_rows(found)
        self._seen: dict[int, Seen] = {}
        last = len(depths) - 1
        self.all, self.running = _Bracket(start, last + 1), _Bracket(start, last + 1)

    def run(self) -> int:
        """The last depth with nothing over in these rows, looked for until both answers are there."""
        if not self._seen:
            last = len(self._depths) - 1
            self._look(sorted({self._start, (self._start + last) // 2, last}))
            over = self.all.bad
            self._rows = rows_over(self._seen[over]) if over in self._seen else set()
        while not (self.all.closed and self.running.closed):
            self._look(sorted({*self._between(self.all), *self._between(self.running)}))
        return self.all.good

    def learn(self, found: Assessment, *, place: int) -> None:
        """Look at the rows that all rows show to be over at one depth as well, below that."""
        seen = Seen(found, (), tuple(range(len(found.solution.rows))))
        self._rows |= rows_over(seen)
        self._seen[place] = seen
        self.all = _Bracket(self._start, place)

    def beyond(self) -> Seen:
        """What is over at the first depth that is over."""
        return self._seen[self.all.bad]

    def _between(self, bracket: _Bracket) -> list[int]:
        """Places to look at next: about where a straight line puts the first that is over, or some evenly apart."""
        inside = range(bracket.good + 1, bracket.bad)
        good, bad = self._seen.get(bracket.good), self._seen.get(bracket.bad)
        if good is not None and bad is not None and good.found is bad.found:
            share = _share(good, bad, running=bracket is self.running)
            guess = bracket.good + int(share * (bracket.bad - bracket.good))
            before, behind = _NEAR_RUNNING if bracket is self.running else _NEAR
            near = [place for place in range(guess - before, guess + behind) if place in inside]
            if near:
                return near
        return [inside[int(k)] for k in np.linspace(0, len(inside), _APART + 2)[1:-1]] if inside else []

    def _look(self, places: Sequence[int]) -> None:
        rows = tuple(sorted(self._always | self._rows))
        found = assess(varied(self._rig, {"bed.depth": self._depths[list(places)]}), places=rows)
        running = _running_over(found)
        for k, place in enumerate(places):
            self._seen[place] = Seen(found, (k,), rows)
            self.all.take(place, over=bool(found.over[k]))
            self.running.take(place, over=bool(running[k]))


def _share(good: Seen, bad: Seen, *, running: bool) -> float:
    """How far from a depth with nothing over to one that is over the first row goes over, along straight lines."""
    found = good.found
    hung = [i for i, row in enumerate(found.solution.rows) if row.state == RUNNING or not running]
    least = 1.0
    for one in found.worst:
        if one.utilization[bad.design] > OVER:
            use = by_row(one, found)[..., hung]
            low, high = use[good.design], use[bad.design]
            over = high > OVER
            least = min(least, float(((OVER - low[over]) / (high - low)[over]).min(initial=1.0)))
    return least


def _running_over(found: Assessment) -> Mask:
    """Whether anything is over or stops at each depth in the rows of the running box, shape (depth,)."""
    rows = [i for i, row in enumerate(found.solution.rows) if row.state == RUNNING]
    over = np.zeros(found.solution.shape[:-3], dtype=np.bool_)
    for one in found.worst:
        # a snagged hoist does not ask how full the box is
        if not one.check.snag and bool(np.any(one.utilization > OVER)):
            over = over | (by_row(one, found)[..., rows] > OVER).any(-1)
    for flag in found.flags:
        if flag.stops:
            over = over | np.broadcast_to(flag.where, found.solution.shape)[..., rows, :, :].any((-3, -2, -1))
    return np.asarray(over)

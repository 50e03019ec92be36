"""Try changes to a rig: roughly in the rows that decide, or in all rows with what they come to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.rig import Rig, varied
from rigcheck.studies.haul.study import Road
from rigcheck.studies.haul.study import road as on_the_road
from rigcheck.studies.remedies.record import OTHER_BOX, Remedy, Step, Trial
from rigcheck.studies.vary.batch import Judged, judge, kept
from rigcheck.studies.vary.case import other_box, with_values

_STOPPED = 1e6  # a trial that something stops comes nowhere near, whatever its numbers


@dataclass(frozen=True, slots=True)
class Rough:
    """What the rows that decide say of a trial.

    Attributes:
        cures: Nothing is over there and nothing stops.
        height: Highest utilization there, raised out of sight where something stops.
        use: Highest utilization there, whatever stops.
        stops: How many findings stop it there.
    """

    cures: bool
    height: float
    use: float
    stops: int

    def may_be_nearer(self, now: float, *, stops: int) -> bool:
        """Whether all rows, which say no less, may still leave less to cure than there is now."""
        if self.stops > stops or self.use > now * (1.0 + 1e-9):
            return False
        return self.stops < stops or self.use < now * (1.0 - 1e-9)


@dataclass(frozen=True, slots=True)
class Trials:
    """Tries changes to one rig.

    Attributes:
        rig: The rig as it is.
        places: Rows that decide.
        hardest: A few of them.
        road: Whether the folded box decides too.
    """

    rig: Rig
    places: Sequence[int]
    hardest: Sequence[int]
    road: bool

    def roughly(self, trials: Sequence[Trial], *, hardest: bool = False) -> list[Rough]:
        """What the rows that decide, or the hardest of them, say of each trial, in their order."""
        trials = [self._whole(trial) for trial in trials]
        found: dict[int, Rough] = {}
        for start, members in self._grouped(trials):
            batch = _varied(start, [tuple(s for s in trials[i] if self._numeric(s)) for i in members])
            try:
                judged = _judged(batch, places=self.hardest if hardest else self.places)
            except CaseError:  # no box with them can weigh what was weighed
                found |= dict.fromkeys(members, Rough(cures=False, height=np.inf, use=np.inf, stops=0))
                continue
            highest, over = judged.highest(), ~judged.passes()
            road = on_the_road(batch) if self.road else None
            if road is not None:
                highest, over = np.maximum(highest, road.utilization), over | road.over
            stops = _stops(judged, road=road, count=len(members))
            for k, place in enumerate(members):
                use, stopped = float(highest[k]), int(stops[k])
                found[place] = Rough(not bool(over[k]), use + _STOPPED * bool(stopped), use, stopped)
        return [found[i] for i in range(len(trials))]

    def wholly(self, trials: Sequence[Trial]) -> list[Remedy]:
        """Trials in all rows, in their order."""
        trials = [self._whole(trial) for trial in trials]
        found: dict[int, Remedy] = {}
        for start, members in self._grouped(trials):
            batch = _varied(start, [tuple(s for s in trials[i] if self._numeric(s)) for i in members])
            try:
                judged = _judged(batch, places=None)
            except CaseError:  # no box with them can weigh what was weighed
                found |= {i: _nothing(trials[i]) for i in members}
                continue
            for k, place in enumerate(members):
                found[place] = _remedy(judged, k, trials[place])
        return [found[i] for i in range(len(trials))]

    def _whole(self, trial: Trial) -> Trial:
        """The trial, with the scale left out where it makes a box that was weighed another one."""
        keys = [key for step in trial for key in step.changes]
        other = any(other_box(self.rig.case, key) for key in keys)
        return (*trial, OTHER_BOX) if other and OTHER_BOX not in trial else trial

    def _numeric(self, step: Step) -> bool:
        """Whether a batch can carry a step: numbers alone, under keys that have one in the rig as it is."""
        return all(isinstance(value, float) and self.rig.has(key) for key, value in step.changes.items())

    def _grouped(self, trials: Sequence[Trial]) -> Iterable[tuple[Rig, list[int]]]:
        """Trials by the changes a batch cannot carry (names, parts and keys added): each starts from its own case."""
        groups: dict[tuple[int, ...], list[int]] = {}
        steps: dict[int, Step] = {}
        for i, trial in enumerate(trials):
            words = [step for step in trial if not self._numeric(step)]
            steps |= {id(step): step for step in words}
            groups.setdefault(tuple(id(step) for step in words), []).append(i)
        for key, members in groups.items():
            case = self.rig.case
            for one in key:
                case = with_values(case, steps[one].changes)
            yield Rig(case), members


def _varied(start: Rig, trials: Sequence[Trial]) -> Rig:
    """The batch of trials that change numbers only, one design each."""
    changes = {}
    for key in dict.fromkeys(key for trial in trials for step in trial for key in step.changes):
        now = float(start.number(key))
        column = [next((step.changes[key] for step in trial if key in step.changes), now) for trial in trials]
        changes[key] = np.array(column, dtype=np.float64)
    return varied(start, changes) if changes else start


def _judged(rig: Rig, *, places: Sequence[int] | None) -> Judged:
    return judge(rig, places=places) if rig.varied else kept(assess(rig, places=places))


def _stops(judged: Judged, *, road: Road | None, count: int) -> NDArray[np.intp]:
    """How many findings stop each of some designs, shape (design,)."""
    found = {stop.code: stop.where for stop in judged.stops}
    for flag in road.flags if road is not None else ():
        if flag.stops:
            found[flag.code] = np.asarray(found.get(flag.code, False) | flag.where.any((-3, -2, -1)))
    return np.asarray(sum((where.astype(np.intp) for where in found.values()), start=np.zeros(count, dtype=np.intp)))


def _nothing(trial: Trial) -> Remedy:
    """A trial of which nothing can be said, so that it comes nearer than no other."""
    return Remedy(steps=trial, utilization=np.inf, part="", mode="", state="", stops=(), cures=False)


def _remedy(judged: Judged, design: int, trial: Trial) -> Remedy:
    i = int(judged.use[design].argmax())
    row = judged.rows[i]
    return Remedy(
        steps=trial,
        utilization=float(judged.use[design, i]),
        part=row.part,
        mode=row.mode,
        state=judged.state_of(design, i),
        stops=tuple(dict.fromkeys(stop.code for stop in judged.stops if stop.where[design])),
        cures=bool(judged.passes()[design]),
    )

"""Try changes to a rig: roughly in the few rows that decide, or in all rows with what they come to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from rigcheck.analysis.rows import OVER
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.errors import CaseError
from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig, varied
from rigcheck.studies.remedies.record import OTHER_BOX, Remedy, Step, Trial
from rigcheck.studies.spread.few import Few, few_uses
from rigcheck.studies.vary.batch import Judged, chunks, judge, kept
from rigcheck.studies.vary.case import broken, other_box, with_values

_STOPPED = 1e6  # a trial that something stops comes nowhere near, whatever its numbers
_OF_LINKS = ("line.link.", "line.backup.")
_MARK = ".wll"  # the only number of a link that a batch can carry: its size is looked up in a table


@dataclass(frozen=True, slots=True)
class Rough:
    """What the rows that decide say of a trial.

    Attributes:
        uses: Part to its highest utilization there.
        codes: Findings that stop it there.
    """

    uses: Mapping[str, float]
    codes: frozenset[str]

    @property
    def use(self) -> float:
        """Highest utilization there, whatever stops."""
        return max(self.uses.values(), default=0.0)

    @property
    def over(self) -> frozenset[str]:
        """Parts that are over there."""
        return frozenset(part for part, use in self.uses.items() if use > OVER)

    @property
    def cures(self) -> bool:
        """Nothing is over there and nothing stops."""
        return not self.codes and self.use <= OVER

    @property
    def height(self) -> float:
        """Highest utilization there, raised out of sight where something stops."""
        return self.use + _STOPPED * bool(self.codes)

    def without(self, *, parts: frozenset[str], codes: frozenset[str]) -> Rough:
        """The same once some parts carry and some findings are lifted, all else as it is."""
        uses = {part: use for part, use in self.uses.items() if part not in parts or use <= OVER}
        return Rough(uses, self.codes - codes)

    def may_be_nearer(self, now: float, *, stops: int) -> bool:
        """Whether all rows, which say no less, may still leave less to cure than there is now."""
        return nearer(self.use, stops=len(self.codes), now=now, stops_now=stops)


def nearer(use: float, *, stops: int, now: float, stops_now: int) -> bool:
    """Whether less is left to cure: fewer findings that stop the rig, or, where none does, a lower utilization."""
    if use > now * (1.0 + 1e-9):
        return False
    return stops < stops_now or (stops == stops_now == 0 and use < now * (1.0 - 1e-9))


_NOWHERE = Rough({"": np.inf}, frozenset())
"""Of a trial with which no box can weigh what was weighed."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Whole:
    """A trial in all rows; the assessment where it was looked at as a rig of its own."""

    trial: Trial
    remedy: Remedy
    found: Assessment | None


@dataclass(frozen=True, slots=True)
class Trials:
    """Tries changes to one rig.

    Attributes:
        rig: The rig as it is.
        rows: Rows of its whole state axis.
        few: Those that decide.
    """

    rig: Rig
    rows: int
    few: Few
    _done: dict[tuple[int, ...], _Whole] = field(default_factory=dict, init=False, repr=False)

    def roughly(self, trials: Sequence[Trial]) -> list[Rough]:
        """What the rows that decide say of each trial, in their order."""
        trials = [self._whole(trial) for trial in trials]
        found: dict[int, Rough] = {}
        for start, members in self._grouped(trials):
            batch = _varied(start, [self._numbers(trials[i]) for i in members])
            try:
                found |= dict(zip(members, self._few(batch, count=len(members)), strict=True))
            except CaseError:  # no box with them can weigh what was weighed
                found |= dict.fromkeys(members, _NOWHERE)
        return [found[i] for i in range(len(trials))]

    def _few(self, rig: Rig, *, count: int) -> list[Rough]:
        if not rig.varied:
            return [*_roughs(*few_uses(rig, self.few), count=1)] * count
        rows = len(self.few.keep.hung) + len(self.few.keep.road)
        parts = [(few_uses(chunk, self.few), size) for chunk, size in chunks(rig, rows=rows)]
        return [one for found, size in parts for one in _roughs(*found, count=size)]

    def wholly(self, trials: Sequence[Trial]) -> list[Remedy]:
        """Trials in all rows, in their order; what breaks a rule between keys is no remedy."""
        whole = [self._whole(trial) for trial in trials]
        keys = [tuple(id(step) for step in trial) for trial in whole]
        new = [i for i, key in enumerate(keys) if key not in self._done]
        for start, places in self._grouped([whole[i] for i in new]):
            members = [new[k] for k in places if not self._illegal(whole[new[k]], key=keys[new[k]])]
            if len(members) <= 1:
                for i in members:
                    self._look_alone(whole[i], key=keys[i])
                continue
            batch = _varied(start, [self._numbers(whole[i]) for i in members])
            try:
                judged = judge(batch, rows=self.rows)
            except CaseError:  # no box with them can weigh what was weighed
                self._done.update({keys[i]: _Whole(whole[i], _nothing(whole[i]), None) for i in members})
                continue
            for k, i in enumerate(members):
                self._done[keys[i]] = _Whole(whole[i], _remedy(judged, k, whole[i]), None)
        return [self._done[key].remedy for key in keys]

    def alone(self, trial: Trial) -> tuple[Remedy, Assessment | None]:
        """One trial in all rows, with its assessment; None where it makes no legal rig."""
        trial = self._whole(trial)
        key = tuple(id(step) for step in trial)
        if (key not in self._done or self._done[key].found is None) and not self._illegal(trial, key=key):
            self._look_alone(trial, key=key)
        return self._done[key].remedy, self._done[key].found

    def _look_alone(self, trial: Trial, *, key: tuple[int, ...]) -> None:
        """One trial in all rows, as a rig of its own."""
        try:
            found = assess(Rig(self.applied(trial)))
        except CaseError:  # no box with it can weigh what was weighed
            self._done[key] = _Whole(trial, _nothing(trial), None)
            return
        self._done[key] = _Whole(trial, _remedy(kept(found), 0, trial), found)

    def applied(self, trial: Trial) -> Case:
        """The case with a trial carried out."""
        case = self.rig.case
        for step in trial:
            case = with_values(case, step.changes)
        return case

    def _illegal(self, trial: Trial, *, key: tuple[int, ...]) -> bool:
        """Whether a trial breaks a rule between keys; it is nothing then."""
        breaks = bool(broken(self.applied(trial), name="trial"))
        if breaks:
            self._done[key] = _Whole(trial, _nothing(trial), None)
        return breaks

    def _whole(self, trial: Trial) -> Trial:
        """The trial, with the scale left out where it makes a box that was weighed another one."""
        keys = [key for step in trial for key in step.changes]
        other = any(other_box(self.rig.case, key) for key in keys)
        return (*trial, OTHER_BOX) if other and OTHER_BOX not in trial else trial

    def _numbers(self, trial: Trial) -> Trial:
        return tuple(step for step in trial if self.numeric(step))

    def numeric(self, step: Step) -> bool:
        """Whether a batch can carry a step: numbers alone, under keys that have one in the rig as it is."""
        return all(
            value == self.rig.value(key) or (_number(value) and self.rig.has(key) and _carried(key))
            for key, value in step.changes.items()
        )

    def _grouped(self, trials: Sequence[Trial]) -> Iterable[tuple[Rig, list[int]]]:
        """Trials by the changes a batch cannot carry (names, parts and keys added): each starts from its own case."""
        groups: dict[tuple[int, ...], list[int]] = {}
        steps: dict[int, Step] = {}
        for i, trial in enumerate(trials):
            words = [step for step in trial if not self.numeric(step)]
            steps |= {id(step): step for step in words}
            groups.setdefault(tuple(id(step) for step in words), []).append(i)
        for key, members in groups.items():
            yield Rig(self.applied(tuple(steps[one] for one in key))), members


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _carried(key: str) -> bool:
    return key.endswith(_MARK) or not key.startswith(_OF_LINKS)


def _varied(start: Rig, trials: Sequence[Trial]) -> Rig:
    """The batch of trials that change numbers only, one design each."""
    steps = [step for trial in trials for step in trial]
    keys = dict.fromkeys(key for step in steps for key, value in step.changes.items() if _number(value))
    changes = {}
    for key in keys:
        now = float(start.number(key))
        column = [next((step.changes[key] for step in trial if key in step.changes), now) for trial in trials]
        changes[key] = np.array(column, dtype=np.float64)
    return varied(start, changes) if changes else start


def _roughs(uses: Mapping[str, Array], stops: Mapping[str, Mask], *, count: int) -> Iterable[Rough]:
    columns = {part: np.broadcast_to(use, (count,)).tolist() for part, use in uses.items()}
    where = {code: np.broadcast_to(held, (count,)).tolist() for code, held in stops.items()}
    for k in range(count):
        codes = frozenset(code for code, held in where.items() if held[k])
        yield Rough({part: use[k] for part, use in columns.items()}, codes)


def _nothing(trial: Trial) -> Remedy:
    """A trial of which nothing can be said, so that it comes nearer than no other."""
    return Remedy(steps=trial, utilization=np.inf, part="", mode="", state="", stops=(), cures=False)


def _remedy(judged: Judged, design: int, trial: Trial) -> Remedy:
    i = judged.governing(design)
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

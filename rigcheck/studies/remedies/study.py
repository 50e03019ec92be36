"""What would cure a rig that is over: single changes ranked by how little they change, and the best pair."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from rigcheck.analysis.rows import OVER
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.studies.decisive import decisive
from rigcheck.studies.hardware.choices import Base
from rigcheck.studies.remedies.moves import ladders
from rigcheck.studies.remedies.parts import BY_PARTS, part_steps
from rigcheck.studies.remedies.plant import plant_ladders
from rigcheck.studies.remedies.props import prop_remedies
from rigcheck.studies.remedies.record import OTHER_BOX, Remedy, Step, Trial
from rigcheck.studies.remedies.trial import Rough, Trials
from rigcheck.studies.vary.batch import Judged
from rigcheck.tables.load_cases import load_case

_ROUNDS = 4  # rungs of a ladder that are looked at in all rows before it is given up
_PAIR_LADDERS, _PAIR_RUNGS = 5, 4  # ladders that help most by themselves, and rungs of each, that are put in pairs
_PAIR_PARTS = 12  # parts that help most by themselves that are put in pairs: their number grows with its square
_PAIR_PARTS_FEW = 4  # the same of the short list
_MOST_ROWS = 30  # in which trials are made first, those of the checks furthest over
_HARDEST = 8  # of those, in which pairs are tried before
_LOOKED, _AT_ONCE = 48, 16  # pairs that are looked at for the one that comes nearest, and how many at a time
FEW = 3  # remedies of the short list


def remedies(rig: Rig, *, found: Assessment | None = None, pairs: bool = True, most: int | None = None) -> list[Remedy]:
    """Changes that cure a rig, or bring it nearer.

    Every change is tried in the rows that decide, and what cures there is computed in all: the numbers are those of the
    rig after the change. Positions and sizes of the box are tried in shop steps; a part is given the smallest standard
    size that carries its load.

    Args:
        rig: One rig.
        found: Its assessment, where that is there already.
        pairs: Whether pairs are tried where no single change cures.
        most: Stop at so many that cure, the least changes among them; where none cures, at so many that come nearest.
            Further supports are tried only then.

    Returns:
        Remedies: those that cure first, the least change first; then those that do not, the lowest utilization first.
        Where no single change cures, the best pair, or every part that is over at once, stands before the others. None
        where nothing is over.

    Source: docs/method.md#remedies; the ranking is a scale of our own.
    """
    base = Base.of(rig, assess(rig) if found is None else found, max_utilization=OVER)
    if not bool(base.found.over):
        return []
    trials = Trials(
        rig, places=_places(base, most=_MOST_ROWS), hardest=_places(base, most=_HARDEST), road=_on_the_road(base)
    )
    moves = [*ladders(rig), *plant_ladders(base.found)]
    parts = [] if most is not None and _stopped(base) else part_steps(base)
    families = _roughly(trials, [[(step,) for step in ladder] for ladder in [*moves, *([part] for part in parts)]])
    kept = _cures(trials, families, most=most)
    if not kept and pairs:
        most_parts = _PAIR_PARTS if most is None else _PAIR_PARTS_FEW
        kept = _together(trials, families, moves=moves, parts=parts or part_steps(base), most_parts=most_parts)
    if most is None or not any(one.cures for one in kept):
        kept += prop_remedies(base.found)
    kept += _nearest(trials, families, besides=kept, most=most, now=base.judged)
    better = [one for one in kept if one.cures or _nearer(one, base.judged)]
    return sorted(better, key=lambda one: (not one.cures, one.effort if one.cures else one.utilization))[:most]


def _places(base: Base, *, most: int) -> tuple[int, ...]:
    """Rows in which something is over or stops; of more than `most` some that stop, and those furthest over."""
    over = [one for one in base.found.worst if float(one.utilization) > OVER]
    flags = [flag for flag in base.found.flags if flag.stops]
    places = decisive(base.found, checks=over, flags=flags)
    if len(places) <= most:
        return places
    stopped = decisive(base.found, checks=(), flags=flags)
    some = np.round(np.linspace(0, len(stopped) - 1, min(most // 2, len(stopped)))).astype(int)
    rows = {*decisive(base.found, checks=()), *(stopped[int(i)] for i in some)}
    for one in sorted(over, key=lambda one: -float(one.utilization)):
        if len(rows) < most and int(one.state) in places:
            rows.add(int(one.state))
    return tuple(sorted(rows))


def _on_the_road(base: Base) -> bool:
    """Whether something is over, or stops, parked or on the road."""
    judged = base.judged
    states = {judged.state_of(0, int(i)) for i in np.flatnonzero(judged.use[0] > OVER)}
    every = states.union(*(stop.states for stop in judged.stops))
    return any(load_case(state).folded for state in every)


def _stopped(base: Base) -> bool:
    """Whether something stops that no part cures, so that parts by themselves need not be looked for."""
    return any(stop.code not in BY_PARTS for stop in base.judged.stops)


def _nearer(one: Remedy, judged: Judged) -> bool:
    """Whether a remedy that does not cure leaves less to cure: fewer stops, or a lower utilization."""
    now, stops = _left(judged)
    if len(one.stops) > stops or one.utilization > now * (1.0 + 1e-9):
        return False
    return len(one.stops) < stops or one.utilization < now * (1.0 - 1e-9)


@dataclass(slots=True)
class _Family:
    """Trials of one kind, the least change first, and what the rows that decide say of them."""

    trials: list[Trial]
    rough: list[Rough]
    tried: int = 0

    def good(self) -> list[Trial]:
        """Those that cure in the rows that decide and were not looked at in all yet."""
        return [trial for trial, rough in zip(self.trials, self.rough, strict=True) if rough.cures][self.tried :]

    def best(self) -> Trial:
        """The one that comes nearest."""
        return min(zip(self.trials, self.rough, strict=True), key=lambda pair: pair[1].height)[0]

    def nearest(self) -> Rough:
        """What the rows that decide say of that one."""
        return min(self.rough, key=lambda rough: rough.height)

    def height(self) -> float:
        """How near that one comes."""
        return self.nearest().height


def _roughly(trials: Trials, groups: Sequence[Sequence[Trial]]) -> list[_Family]:
    results = iter(trials.roughly([trial for group in groups for trial in group]))
    return [_Family(list(group), [next(results) for _ in group]) for group in groups]


def _effort(trial: Trial) -> float:
    return sum(step.effort for step in trial)


def _cures(trials: Trials, families: Sequence[_Family], *, most: int | None) -> list[Remedy]:
    """The least change of each family that cures in all rows; of a short list those with the least change of all."""
    cured: list[Remedy] = []
    open_ones = [family for family in families if family.good()]
    for _ in range(_ROUNDS if most is None else 2):
        heads = sorted(open_ones, key=lambda family: _effort(family.good()[0]))
        if most is not None:
            enough = sorted(one.effort for one in cured)[most - 1] if len(cured) >= most else np.inf
            heads = [family for family in heads if _effort(family.good()[0]) < enough][: most + 1]
        if not heads:
            break
        for family, one in zip(heads, trials.wholly([family.good()[0] for family in heads]), strict=True):
            family.tried += 1
            if one.cures:
                cured.append(one)
            if one.cures or not family.good():
                open_ones.remove(family)
    return sorted(cured, key=lambda one: one.effort)[:most]


def _paired(trials: Trials, every: Sequence[Trial]) -> _Family:
    """Pairs, looked at in the hardest rows first: what does not cure there cures nowhere, nor comes any nearer.

    Where none cures in the rows that decide, those that come nearest in the hardest are looked at until one is nearer
    than any that is left can be.
    """
    first = trials.roughly(every, hardest=True)
    rough = [replace(one, cures=False, height=np.inf) for one in first]

    def look(places: Sequence[int]) -> None:
        for place, one in zip(places, trials.roughly([every[i] for i in places]), strict=True):
            rough[place] = one

    look([i for i, one in enumerate(first) if one.cures])
    if not any(one.cures for one in rough):
        order = sorted((i for i, one in enumerate(first) if not one.cures), key=lambda i: first[i].height)
        for start in range(0, _LOOKED, _AT_ONCE):
            nearest = min(one.height for one in rough)
            look([i for i in order[start : start + _AT_ONCE] if first[i].height <= nearest])
    return _Family(list(every), rough)


def _first_cure(trials: Trials, family: _Family) -> list[Remedy]:
    """The least change of one family that cures in all rows, those that may be it looked at at once."""
    return [one for one in trials.wholly(family.good()[:_ROUNDS]) if one.cures][:1]


def _together(
    trials: Trials,
    families: Sequence[_Family],
    *,
    moves: Sequence[Sequence[Step]],
    parts: Sequence[Step],
    most_parts: int,
) -> list[Remedy]:
    """The pair that cures with the least change, or comes nearest; else every part that is over at once."""
    helpful = sorted(zip(families, moves, strict=False), key=lambda pair: pair[0].height())[:_PAIR_LADDERS]
    few = [_thinned(ladder) for _, ladder in helpful]
    every: list[Trial] = [
        (one, two) for first, second in combinations(few, 2) for one in first for two in second if _apart(one, two)
    ]
    singly = {id(family.trials[0][0]): family.height() for family in families if len(family.trials) == 1}
    paired = sorted(parts, key=lambda part: singly.get(id(part), np.inf))[:most_parts]
    every += [(part, step) for part in paired for ladder in few for step in ladder if _apart(part, step)]
    every += [(one, two) for one, two in combinations(paired, 2) if _apart(one, two)]
    found: list[Remedy] = []
    if every:
        family = _paired(trials, sorted(every, key=_effort))
        found = _first_cure(trials, family) or trials.wholly([family.best()])
    if not any(one.cures for one in found) and len(parts) > 2:
        found = [*trials.wholly([tuple(parts)]), *found]
    return found


def _nearest(
    trials: Trials, families: Sequence[_Family], *, besides: Sequence[Remedy], most: int | None, now: Judged
) -> list[Remedy]:
    """The trial of each family that comes nearest, for those of which none cures, where it can come nearer at all."""
    alone = [[step for step in one.steps if step is not OTHER_BOX] for one in besides if one.cures]
    cured = {steps[0].family for steps in alone if len(steps) == 1}
    left = [family for family in families if family.trials[0][0].family not in cured]
    left = sorted(left, key=lambda family: family.height())[: None if most is None else max(most - len(besides), 0)]
    use, stops = _left(now)
    return trials.wholly([family.best() for family in left if family.nearest().may_be_nearer(use, stops=stops)])


def _left(judged: Judged) -> tuple[float, int]:
    """What there is to cure: the highest utilization, and how many findings stop the rig."""
    return float(judged.highest()[0]), len({stop.code for stop in judged.stops})


def _thinned(ladder: Sequence[Step]) -> list[Step]:
    places = np.unique(np.round(np.linspace(0, len(ladder) - 1, min(_PAIR_RUNGS, len(ladder)))).astype(int))
    return [ladder[int(i)] for i in places]


def _apart(one: Step, two: Step) -> bool:
    return not set(one.changes) & set(two.changes)

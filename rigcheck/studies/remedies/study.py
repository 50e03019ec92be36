"""What would cure a rig that is over: single changes ranked by how little they change, and several at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.rows import OVER
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import is_tacked
from rigcheck.loads.shape import divided
from rigcheck.studies.hardware.base import Base
from rigcheck.studies.remedies.moves import ladders
from rigcheck.studies.remedies.parts import BY_PARTS_ALONE, part_steps, stopped
from rigcheck.studies.remedies.record import OTHER_BOX, Remedy, Step, Trial
from rigcheck.studies.remedies.steel import Steel
from rigcheck.studies.remedies.trial import Rough, Trials, nearer
from rigcheck.studies.sieve import sieve
from rigcheck.studies.vary.batch import Judged

_ROUNDS, _ROUNDS_FEW = 4, 3  # rungs of a ladder that are looked at in all rows before it is given up
_STARTS, _STARTS_FEW = 6, 2  # moves that parts are looked for after, where no single change cures
FEW = 3  # remedies of the short list
_ANY = (np.inf, np.inf)


def remedies(rig: Rig, *, found: Assessment | None = None, pairs: bool = True, most: int | None = None) -> list[Remedy]:
    """Changes that cure a rig, or bring it nearer.

    Every change is tried in the rows that decide, and what cures there is computed in all: the numbers are those of the
    rig after the change. Positions and sizes of the box are tried in shop steps; a part is given the smallest standard
    size that carries its load.

    Args:
        rig: One rig.
        found: Its assessment, where that is there already.
        pairs: Whether several changes at once are tried where no single change cures.
        most: Stop at so many that cure, the least changes among them; where none cures, at so many that come nearest.
            What does not cure is told, and further supports are tried, only where nothing cures.

    Returns:
        Remedies: those that cure first, the fewest changes, of those the least steel added or cut away, and of those
        the least change; then those that do not, the lowest utilization first.
        None where nothing is over, and of a box that is only tacked, whose cure is to be welded.

    Source: docs/method.md#remedies; the ranking is a scale of our own.
    """
    if is_tacked(rig.case):
        return []
    base = Base.of(rig, assess(rig) if found is None else found, max_utilization=OVER)
    if not bool(base.found.over):
        return []
    trials = Trials(rig, rows=len(base.found.solution.rows), few=sieve(base.found))
    short = most is not None
    # moves that cure nothing alone are looked at where several changes are
    idle = short and bool({stop.code for stop in base.judged.stops} & BY_PARTS_ALONE)
    moves = [] if idle else [*ladders(rig), *_plant_ladders(base.found)]
    parts = [] if short and stopped(base) else part_steps(base)
    now = _now(base)
    families = _families(trials, moves=moves, parts=parts, taken=now if short else None)
    steel = Steel(rig.case)
    kept = _cures(trials, families, steel=steel, most=most)
    if not kept and pairs:
        # nobody but a rig that no single change cures waits for this to load
        from rigcheck.studies.remedies.combine import Looked, combined

        if idle:
            families += _families(trials, moves=[*ladders(rig), *_plant_ladders(base.found)], parts=(), taken=now)
        looked = Looked(now, [family.looked() for family in families if not family.by_part])
        parts = [] if stopped(base) else parts
        kept = combined(trials, looked, parts=parts, starts=_STARTS_FEW if short else _STARTS, first=short)
    if not short or not any(one.cures for one in kept):
        kept += [*_props(base), *_nearest(trials, families, besides=kept, most=most, now=base.judged)]
    if short and any(one.cures for one in kept):
        kept = [one for one in kept if one.cures]
    use, stops = _left(base.judged)
    better = [
        one for one in kept if one.cures or nearer(one.utilization, stops=len(one.stops), now=use, stops_now=stops)
    ]
    return sorted((_weighed(one, steel) for one in _once(better)), key=_order)[:most]


def _order(one: Remedy) -> tuple[bool, int, float, float]:
    """What cures first: the fewest changes, the least steel, the least moved; then by utilization, the lowest first."""
    return (False, one.count, one.steel, one.effort) if one.cures else (True, 0, 0.0, one.utilization)


def _weighed(one: Remedy, steel: Steel) -> Remedy:
    """A remedy with the steel it takes; of further supports nobody knows how much that is."""
    return replace(one, steel=steel.of(one.steps) if one.counted == "check" else np.inf) if one.cures else one


def _plant_ladders(found: Assessment) -> list[list[Step]]:
    """What keeps the plant from tipping; a rig that says nothing of its plant does not wait for this to load."""
    if not found.solution.rig.has("plant.weight"):
        return []
    from rigcheck.studies.remedies.plant import plant_ladders

    return plant_ladders(found)


def _props(base: Base) -> list[Remedy]:
    """Further supports; the shipped rigs that parts and moves cure do not wait for this to load."""
    from rigcheck.studies.remedies.props import prop_remedies

    none = base.judged.stops or divided(base.found.solution.rig)
    return [] if none else prop_remedies(base.found)


def _once(found: Sequence[Remedy]) -> list[Remedy]:
    """Each remedy once."""
    return list({tuple(id(step) for step in one.steps): one for one in found}.values())


@dataclass(slots=True)
class _Family:
    """Trials of one kind, the least change first, and what the rows that decide say of them."""

    trials: list[Trial]
    rough: list[Rough]
    by_part: bool
    tried: int = 0

    def good(self) -> list[Trial]:
        """Those that cure in the rows that decide and were not looked at in all yet."""
        return [trial for trial, rough in zip(self.trials, self.rough, strict=True) if rough.cures][self.tried :]

    def looked(self) -> list[tuple[Step, Rough]]:
        """Its single changes with what those rows say."""
        return [(trial[0], rough) for trial, rough in zip(self.trials, self.rough, strict=True)]

    def best(self) -> Trial:
        """The one that comes nearest."""
        return min(zip(self.trials, self.rough, strict=True), key=lambda pair: pair[1].height)[0]

    def nearest(self) -> Rough:
        """What the rows that decide say of that one."""
        return min(self.rough, key=lambda rough: rough.height)


def _now(base: Base) -> Rough:
    """The rig as it is: the parts that are over, and what stops it."""
    judged = base.judged
    uses: dict[str, float] = {}
    for i, row in enumerate(judged.rows):
        if judged.use[0, i] > OVER:
            uses[row.part] = max(float(judged.use[0, i]), uses.get(row.part, 0.0))
    return Rough(uses, frozenset(stop.code for stop in judged.stops))


def _families(
    trials: Trials, *, moves: Sequence[Sequence[Step]], parts: Sequence[Step], taken: Rough | None
) -> list[_Family]:
    """Every kind of change, in the rows that decide.

    Args:
        trials: Tries them.
        moves: Ladders of single changes of where things stand.
        parts: Other sizes and kinds of parts.
        taken: The rig as it is, where a part that a batch cannot carry is taken to do what it is there for and nothing
            else; all are looked at where not said.
    """
    families = [
        _Family([(step,)], [taken.without(parts=step.clears, codes=step.lifts)], by_part=True)
        for step in parts
        if taken is not None and not trials.numeric(step)
    ]
    left = [step for step in parts if taken is None or trials.numeric(step)]
    groups = [*([(step,) for step in ladder] for ladder in moves), *([(step,)] for step in left)]
    rough = iter(trials.roughly([trial for group in groups for trial in group]))
    for k, group in enumerate(groups):
        families.append(_Family(list(group), [next(rough) for _ in group], by_part=k >= len(moves)))
    return families


def _cures(trials: Trials, families: Sequence[_Family], *, steel: Steel, most: int | None) -> list[Remedy]:
    """The least change of each family that cures in all rows; of a short list those that take the least of all."""
    cured: list[Remedy] = []
    open_ones = [family for family in families if family.good()]
    for _ in range(_ROUNDS if most is None else _ROUNDS_FEW):
        heads = sorted(open_ones, key=lambda family: steel.cost(family.good()[0]))
        if most is not None:
            enough = sorted(steel.cost(one.steps) for one in cured)[most - 1] if len(cured) >= most else _ANY
            heads = [family for family in heads if steel.cost(family.good()[0]) < enough][:most]
        if not heads:
            break
        for family, one in zip(heads, trials.wholly([family.good()[0] for family in heads]), strict=True):
            family.tried += 1
            if one.cures:
                cured.append(one)
            if one.cures or not family.good():
                open_ones.remove(family)
    return sorted(cured, key=lambda one: steel.cost(one.steps))[:most]


def _nearest(
    trials: Trials, families: Sequence[_Family], *, besides: Sequence[Remedy], most: int | None, now: Judged
) -> list[Remedy]:
    """The trial of each family that comes nearest, for those of which none cures, where it can come nearer at all."""
    alone = [[step for step in one.steps if step is not OTHER_BOX] for one in besides if one.cures]
    cured = {steps[0].family for steps in alone if len(steps) == 1}
    left = [family for family in families if family.trials[0][0].family not in cured]
    left = sorted(left, key=lambda family: family.nearest().height)
    left = left[: None if most is None else max(most - len(besides), 0)]
    use, stops = _left(now)
    return trials.wholly([family.best() for family in left if family.nearest().may_be_nearer(use, stops=stops)])


def _left(judged: Judged) -> tuple[float, int]:
    """What there is to cure: the highest utilization, and how many findings stop the rig."""
    return float(judged.highest()[0]), len({stop.code for stop in judged.stops})

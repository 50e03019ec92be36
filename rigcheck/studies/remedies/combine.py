"""Several changes at once: moves that lift what stops the rig and leave least over, then a part for what is left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from rigcheck.analysis.rows import OVER
from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig
from rigcheck.studies.hardware.base import Base
from rigcheck.studies.remedies.moves import PART
from rigcheck.studies.remedies.parts import part_steps, stopped
from rigcheck.studies.remedies.record import Remedy, Step, Trial
from rigcheck.studies.remedies.trial import Rough, Trials
from rigcheck.tables.load_cases import EMPTY, ids

_LADDERS, _RUNGS = 6, 4  # ladders that help most by themselves, and rungs of each, that are put in pairs
_PAIRS = 16  # pairs looked at in the rows that decide
_STUCK = 100.0  # effort of what a part that no size helps is over by, a scale of our own


@dataclass(frozen=True, slots=True)
class Looked:
    """Changes of where things stand, and what the rows that decide say of them.

    Attributes:
        now: Of the rig as it is.
        ladders: Single changes, each ladder from small to large.
    """

    now: Rough
    ladders: Sequence[Sequence[tuple[Step, Rough]]]


def combined(trials: Trials, looked: Looked, *, parts: Sequence[Step], starts: int, first: bool) -> list[Remedy]:
    """Combinations of moves and parts, each checked in all rows.

    Args:
        trials: Tries them.
        looked: Single moves.
        parts: A step for each part that is over in the rig as it is; none where a finding stops it.
        starts: How many moves, or pairs of them, parts are looked for after.
        first: Stop at the first that cures.

    Returns:
        What they come to, in the order in which they were tried.

    Source: docs/method.md#remedies; which are tried first is a scale of our own.
    """
    found: list[Remedy] = []
    for start in _starts(trials, looked, most=starts, parts=parts):
        if first and any(one.cures for one in found):
            break
        found += _with_parts(trials, start) if start else trials.wholly([tuple(parts)])
    return found


def _starts(trials: Trials, looked: Looked, *, most: int, parts: Sequence[Step]) -> list[Trial]:
    """Moves after which nothing stops the rig, those first that leave the fewest changes, and of these the least."""
    singles: list[tuple[Trial, Rough]] = [
        ((step,), rough) for ladder in looked.ladders for step, rough in ladder if not rough.codes
    ]
    pairs = _pairs(looked)[:_PAIRS]
    singles += zip(pairs, trials.roughly(pairs), strict=True) if pairs else []
    stuck = looked.now.over.difference(*(step.clears for step in parts)) if parts else frozenset()
    costs: list[tuple[tuple[int, float], Trial]] = []
    for trial, rough in singles:
        # a part that the rows looked at do not have after a change counts as before it, until all rows are looked at
        left = {part: rough.uses.get(part, looked.now.uses[part]) for part in stuck}
        helps = rough.over < looked.now.over or any(left[part] < looked.now.uses[part] for part in stuck)
        if not rough.codes and (helps or looked.now.codes):
            excess = sum(max(use - OVER, 0.0) for use in left.values())
            effort = _effort(trial) + PART * len(rough.over) + _STUCK * excess
            over = rough.over.union(part for part, use in left.items() if use > OVER)
            costs.append(((len(trial) + len(over), effort), trial))
    best: dict[frozenset[str], tuple[tuple[int, float], Trial]] = {}
    for ranked_by, trial in sorted(costs, key=lambda pair: pair[0]):
        best.setdefault(frozenset(step.family for step in trial), (ranked_by, trial))
    told = list(best.values())[:most]
    if len(parts) > 1:
        told.append(((len(parts), _effort(parts)), ()))
    return [trial for _, trial in sorted(told, key=lambda pair: pair[0])]


def _effort(steps: Sequence[Step]) -> float:
    return sum(step.effort for step in steps)


def _pairs(looked: Looked) -> list[Trial]:
    """Pairs of moves that may leave less than either, those first that leave least, as far as singles tell."""
    helpful = sorted(looked.ladders, key=lambda ladder: min(rough.height for _, rough in ladder))[:_LADDERS]
    costs: list[tuple[float, Trial]] = []
    for one, two in combinations([_thinned(ladder) for ladder in helpful], 2):
        for first, a in one:
            for second, b in two:
                codes = (a.codes & b.codes) | ((a.codes | b.codes) - looked.now.codes)
                if codes or set(first.changes) & set(second.changes):
                    continue
                over = _over_together(a.uses, b.uses, now=looked.now.uses)
                if over < min(len(a.over), len(b.over)) or (a.codes and b.codes):
                    costs.append((first.effort + second.effort + PART * over, (first, second)))
    return [trial for _, trial in sorted(costs, key=lambda pair: pair[0])]


def _over_together(one: Mapping[str, float], two: Mapping[str, float], *, now: Mapping[str, float]) -> int:
    """How many parts are over after two changes, each taken to lower a part in the proportion it does by itself."""
    return sum(one.get(part, use) * two.get(part, use) > OVER * use for part, use in now.items() if use > 0.0)


def _thinned(ladder: Sequence[tuple[Step, Rough]]) -> list[tuple[Step, Rough]]:
    places = np.unique(np.round(np.linspace(0, len(ladder) - 1, min(_RUNGS, len(ladder)))).astype(int))
    return [ladder[int(i)] for i in places]


def _with_parts(trials: Trials, start: Trial) -> list[Remedy]:
    """Some moves by themselves, and with a part for everything that is over after them."""
    remedy, after = trials.alone(start)
    if remedy.cures or after is None:
        return [remedy]
    base = Base.of(after.solution.rig, after, max_utilization=OVER)
    if stopped(base):
        return [remedy]
    parts = part_steps(base)
    cleared = frozenset[str]().union(*(step.clears for step in parts))
    over = {row.part for i, row in enumerate(base.judged.rows) if base.judged.use[0, i] > OVER}
    if not over <= cleared:
        return [remedy]
    return [remedy, *(_with_room(trials, start, parts) or trials.wholly([(*start, *parts)]))]


def _with_room(trials: Trials, start: Trial, parts: Sequence[Step]) -> list[Remedy]:
    """The same with hoists that can be bought, and stronger what they pull at; nothing where that does not cure."""
    if all(step.roomier is None for step in parts):
        return []
    stronger = tuple(step.roomier or step for step in parts)
    rig = Rig(trials.applied((*start, *stronger)))
    pulled = assess(rig, only=frozenset({EMPTY, *ids(lambda case: case.full_pull)}))  # all that a stronger hoist loads
    base = Base.of(rig, pulled, max_utilization=OVER)
    more = [step for step in part_steps(base) if step.family not in {one.family for one in stronger}]
    return [one for one in trials.wholly([(*start, *stronger, *more)]) if one.cures]

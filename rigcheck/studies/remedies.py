"""What would cure a rig that is over: single changes ranked by how little they change, and the best pair."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

import numpy as np

from rigcheck.case.rig import Rig, varied
from rigcheck.check.assess import Assessment, assess
from rigcheck.check.rows import OVER
from rigcheck.strength.links import HOISTS, links
from rigcheck.studies.hardware_choices import Base, choices_for
from rigcheck.studies.remedies_moves import PART, SHAPE, brace, ladders
from rigcheck.studies.remedies_result import Remedy, Step
from rigcheck.studies.vary_batch import Judged, judge, kept
from rigcheck.studies.vary_case import with_values

_MARK_STEP = 50.0  # lb
_FINAL = 4  # so many candidates of a kind are looked at in all states before it is given up
_PAIR_LADDERS = 5  # ladders that help most by themselves
_PAIR_RUNGS = 4  # rungs of each ladder that are put together in pairs

Trial = tuple[Step, ...]


def remedies(rig: Rig, *, found: Assessment | None = None, pairs: bool = True) -> list[Remedy]:
    """Changes that cure a rig, or bring it nearer.

    Every remedy is computed in all states. Positions and sizes of the box are tried in shop steps; a part is given the
    smallest standard size that carries its load.

    Args:
        rig: One rig.
        found: Its assessment, where that is there already.
        pairs: Whether pairs are tried where no single change cures.

    Returns:
        Remedies: those that cure first, the least change first; then those that do not, the lowest utilisation first.
        Where no single change cures, the best pair, or every part that is over at once, stands before the others. None
        where nothing is over.

    Source: docs/method.md#remedies; the ranking is a scale of our own.
    """
    base = Base.of(rig, assess(rig) if found is None else found, reserve=OVER)
    if not bool(base.found.over):
        return []
    states = _near_states(base.judged)
    moves, parts = ladders(rig), _part_steps(base)
    singles = _singles(rig, moves, parts, states=states)
    if pairs and not any(one.cures for one in singles):
        ranks = {one.steps[0].family: (len(one.stops), one.utilisation) for one in singles}
        helpful = sorted(moves, key=lambda ladder: ranks[ladder[0].family])[:_PAIR_LADDERS]
        pair = _pair(rig, helpful, parts, states=states)
        if pair is not None and (pair.cures or not parts):
            singles.append(pair)
        elif len(parts) > 2:
            singles.append(_looked_at(rig, [tuple(parts)])[0])
        if pair is not None and pair not in singles:
            singles.append(pair)
    better = [one for one in singles if one.cures or _nearer(one, base.judged)]
    return sorted(better, key=lambda one: (not one.cures, one.effort if one.cures else one.utilisation))


def _nearer(one: Remedy, judged: Judged) -> bool:
    """Whether a remedy that does not cure leaves less to cure: fewer stops, or a lower utilisation."""
    now, stops = float(judged.highest()[0]), len({stop.code for stop in judged.stops})
    if len(one.stops) > stops or one.utilisation > now * (1.0 + 1e-9):
        return False
    return len(one.stops) < stops or one.utilisation < now * (1.0 - 1e-9)


def _near_states(judged: Judged) -> frozenset[str]:
    """States in which something is at its worst and over, and those that stop: changes are tried in them first."""
    rows = np.flatnonzero(judged.use[0] > OVER)
    return frozenset(judged.state_of(0, int(i)) for i in rows).union(*(stop.states for stop in judged.stops))


def _part_steps(base: Base) -> list[Step]:
    """For each part that is over, the smallest size that carries its load; a knee brace for a post that is over."""
    judged = base.judged
    over = {row.part for i, row in enumerate(judged.rows) if judged.use[0, i] > OVER}
    told = [stop.text for stop in judged.stops if stop.code == "pull_only_holds"]
    labels = [link.label for link in links(base.rig)]
    pull_only = {label for label in labels if any(text.startswith(f"{label}:") for text in told)}
    found = []
    for choice in choices_for(base, parts=frozenset(over | pull_only)):
        if not choice.changes:
            continue
        if choice.chosen is not None:
            words = f"{choice.part}: {choice.chosen.words}"
        elif choice.part in over:
            words = f"{choice.part}: one marked {_mark(choice.needs)} or more"
        else:
            words = f"{choice.part}: one that is marked for holding a load up"
        shaped = any(isinstance(value, str) for value in choice.changes.values())
        found.append(
            Step(family=choice.part, words=words, changes=choice.changes, effort=SHAPE if shaped else PART)
        )
    found += [*_weaker_hoists(base), *_for_the_road(base, over=over)]
    if any(part.startswith("perch post") for part in over) and (step := brace(base.rig)) is not None:
        found.append(step)
    return found


def _weaker_hoists(base: Base) -> list[Step]:
    """For a hoist stronger than what it hangs on: one that still carries the load and cannot break its anchors."""
    judged = base.judged
    snagged = [float(judged.use[0, i]) for i, row in enumerate(judged.rows) if row.snag]
    if not snagged or max(snagged) <= OVER:
        return []
    found = []
    for i, link in enumerate(base.rig.value("line.link")):
        if link.kind not in HOISTS or link.wll is None:
            continue
        part = f"line link {i + 1}: {link.name or link.kind}"
        most = _MARK_STEP * np.floor(link.wll / max(snagged) / _MARK_STEP)
        if most > 0.0 and base.use(part) * link.wll <= most:
            found.append(
                Step(family=part, effort=PART, words=f"{part}: one marked {most:,.0f} lb and no more",
                     changes={f"line.link.{i}.wll": float(most), f"line.link.{i}.mbf": None,
                              f"line.link.{i}.proof": None})
            )  # fmt: skip
    return found


def _for_the_road(base: Base, *, over: set[str]) -> list[Step]:
    """A snub line where the box falls inward past its balance point; one strap more where the straps are over."""
    found = []
    if any(stop.code == "fold_slack_inward" for stop in base.judged.stops):
        words = "ease the box past its balance point with a snub line that holds it"
        found.append(Step(family="fold.snub", words=words, changes={"fold.snub": True}, effort=PART))
    if any(part.startswith("tie-down") for part in over):
        for i, strap in enumerate(base.rig.case.haul.tie_down):
            name = strap.name or f"tie-down {i + 1}"
            found.append(
                Step(family=f"haul.tie_down.{i}", words=f"{name}: {strap.count + 1} of them side by side", effort=PART,
                     changes={f"haul.tie_down.{i}.count": strap.count + 1})
            )  # fmt: skip
    return found


def _mark(pounds: float) -> str:
    return f"{np.ceil(pounds):,.0f} lb"


def _singles(
    rig: Rig, moves: Sequence[Sequence[Step]], parts: Sequence[Step], *, states: frozenset[str]
) -> list[Remedy]:
    """The best rung of every ladder, and every part."""
    results = iter(_tried(rig, [(step,) for ladder in moves for step in ladder], only=states))
    chosen: list[Trial] = []
    for ladder in moves:
        tried = [((step,), next(results)) for step in ladder]
        good: list[Trial] = [trial for trial, (cures, _) in tried if cures]
        best: Trial = min(tried, key=lambda one: one[1][1])[0]
        chosen += good[:_FINAL] or [best]
    found = _looked_at(rig, chosen)
    singles = []
    for ladder in moves:
        own = [one for one in found if one.steps[0] in ladder]
        cures = [one for one in own if one.cures]
        singles.append(cures[0] if cures else min(own, key=lambda one: (len(one.stops), one.utilisation)))
    return [*singles, *_looked_at(rig, [(step,) for step in parts])]


def _pair(
    rig: Rig, moves: Sequence[Sequence[Step]], parts: Sequence[Step], *, states: frozenset[str]
) -> Remedy | None:
    """The pair that cures with the least change, or the one that comes nearest."""
    few = [_thinned(ladder) for ladder in moves]
    trials: list[Trial] = [
        (one, two) for first, second in combinations(few, 2) for one in first for two in second if _apart(one, two)
    ]
    trials += [(part, step) for part in parts for ladder in few for step in ladder if _apart(part, step)]
    trials += [(one, two) for one, two in combinations(parts, 2) if _apart(one, two)]
    if not trials:
        return None
    tried = list(zip(trials, _tried(rig, trials, only=states), strict=True))
    good = sorted((trial for trial, (cures, _) in tried if cures), key=lambda trial: sum(step.effort for step in trial))
    best = min(tried, key=lambda one: one[1][1])[0]
    found = _looked_at(rig, good[:_FINAL] or [best])
    cures = [one for one in found if one.cures]
    return cures[0] if cures else min(found, key=lambda one: (len(one.stops), one.utilisation))


def _thinned(ladder: Sequence[Step]) -> list[Step]:
    places = np.unique(np.round(np.linspace(0, len(ladder) - 1, min(_PAIR_RUNGS, len(ladder)))).astype(int))
    return [ladder[int(i)] for i in places]


def _apart(one: Step, two: Step) -> bool:
    return not set(one.changes) & set(two.changes)


def _numeric(step: Step) -> bool:
    return all(isinstance(value, float) and not isinstance(value, bool) for value in step.changes.values())


def _tried(rig: Rig, trials: Sequence[Trial], *, only: frozenset[str] | None) -> list[tuple[bool, float]]:
    """Whether each trial cures in some states, and its highest utilisation there; a stop counts as no number."""
    found: dict[int, tuple[bool, float]] = {}
    for start, places in _grouped(rig, trials):
        judged = _batch(start, [tuple(s for s in trials[i] if _numeric(s)) for i in places], only=only)
        stopped = np.zeros(len(places), dtype=np.bool_)
        for stop in judged.stops:
            stopped = stopped | stop.where
        passes, highest = judged.passes(), judged.highest()
        for k, place in enumerate(places):
            found[place] = bool(passes[k]), float(highest[k]) + (1e6 if stopped[k] else 0.0)
    return [found[i] for i in range(len(trials))]


def _grouped(rig: Rig, trials: Sequence[Trial]) -> Iterable[tuple[Rig, list[int]]]:
    """Trials by the changes a batch cannot carry (names, parts added): each group starts from its own case."""
    groups: dict[tuple[int, ...], list[int]] = {}
    steps: dict[int, Step] = {}
    for i, trial in enumerate(trials):
        words = [step for step in trial if not _numeric(step)]
        steps |= {id(step): step for step in words}
        groups.setdefault(tuple(id(step) for step in words), []).append(i)
    for key, places in groups.items():
        case = rig.case
        for one in key:
            case = with_values(case, steps[one].changes)
        yield Rig(case), places


def _batch(start: Rig, trials: Sequence[Trial], *, only: frozenset[str] | None) -> Judged:
    keys = dict.fromkeys(key for trial in trials for step in trial for key in step.changes)
    if not keys:
        return kept(assess(start))
    changes = {}
    for key in keys:
        now = float(start.number(key))
        column = [next((step.changes[key] for step in trial if key in step.changes), now) for trial in trials]
        changes[key] = np.array(column, dtype=np.float64)
    return judge(varied(start, changes), only=only)


def _looked_at(rig: Rig, trials: Sequence[Trial]) -> list[Remedy]:
    """Trials in all states, in their order."""
    found: dict[int, Remedy] = {}
    for start, places in _grouped(rig, trials):
        judged = _batch(start, [tuple(s for s in trials[i] if _numeric(s)) for i in places], only=None)
        for k, place in enumerate(places):
            found[place] = _remedy(judged, k, trials[place])
    return [found[i] for i in range(len(trials))]


def _remedy(judged: Judged, design: int, trial: Trial) -> Remedy:
    i = int(judged.use[design].argmax())
    row = judged.rows[i]
    return Remedy(
        steps=trial,
        utilisation=float(judged.use[design, i]),
        part=row.part,
        mode=row.mode,
        state=judged.state_of(design, i),
        stops=tuple(dict.fromkeys(stop.code for stop in judged.stops if stop.where[design])),
        cures=bool(judged.passes()[design]),
    )

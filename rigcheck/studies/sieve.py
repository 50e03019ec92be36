"""The few rows and ways of sharing in which a rig is over or stopped: what does not cure there cures nowhere."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from rigcheck.analysis.alike import states_of
from rigcheck.analysis.bending import Pair, flanks
from rigcheck.analysis.folded import twins
from rigcheck.analysis.rows import OVER, Worst
from rigcheck.analysis.solve import Solution
from rigcheck.assessment.assess import Assessment
from rigcheck.parts.registry import ROAD, plain_builders
from rigcheck.studies.decisive import decisive
from rigcheck.studies.spread.few import FACES, RAILS, Few, Wanted, strained
from rigcheck.tables.load_cases import EMPTY

_MOST_PLACES = 12  # rows with their way of sharing at which checks are looked at, those furthest over
_MOST_STOPS = 10  # rows at which findings that stop are looked for


def sieve(found: Assessment, *, parts: frozenset[str] | None = None) -> Few:
    """Where the checks that are over are at their worst, and some of the rows in which a finding stops the rig.

    Args:
        found: The assessment of one rig.
        parts: Look at all checks of these parts, over or not, and for no finding; at what is over where not said.

    Returns:
        Rows, rails and checks; in them a change says no more than in all rows.

    Source: docs/method.md#remedies.
    """
    solution = found.solution
    hung = solution.before_road
    wanted = [
        (one, builder)
        for one, builder in zip(found.worst, found.made_by, strict=True)
        if (float(one.utilization) > OVER if parts is None else one.check.part in parts and float(one.utilization) > 0)
    ]
    wanted = sorted(wanted, key=lambda pair: -float(pair[0].utilization))
    places: dict[int, set[Pair]] = {}
    for one, builder in wanted:
        place = int(one.state), int(one.bound)
        if (
            place in {past for some in places.values() for past in some}
            or sum(map(len, places.values())) < _MOST_PLACES
        ):
            places.setdefault(builder, set()).add(place)
    looked = _stop_rows(found) if parts is None else _at_rest(solution)
    on_road = {row for row, _ in places.pop(ROAD, set())}
    if parts is None and any(flag.stops and np.any(flag.where[..., hung:, :, :]) for flag in found.flags):
        on_road = set(range(hung, len(solution.rows))) if solution.road is not None else set()
    return _few(solution, places=places, looked=looked, on_road=on_road, wanted=wanted)


def _stop_rows(found: Assessment) -> tuple[int, ...]:
    """Some rows in which a finding stops the rig, both ends of the fold and a box at rest."""
    always = decisive(found, checks=())
    rows = sorted(set(decisive(found, checks=(), flags=[flag for flag in found.flags if flag.stops])) - set(always))
    some = np.unique(np.round(np.linspace(0, len(rows) - 1, min(_MOST_STOPS, len(rows)))).astype(int))
    return (*always, *(rows[int(i)] for i in some))


def _at_rest(solution: Solution) -> tuple[int, ...]:
    return (next(i for i, row in enumerate(solution.rows) if row.state == EMPTY),)


def _few(
    solution: Solution, *, places: dict[int, set[Pair]], looked: tuple[int, ...], on_road: set[int],
    wanted: Iterable[tuple[Worst, int]],
) -> Few:  # fmt: skip
    """Those places with the rails that bend there, and what must be looked at beside them."""
    builders, hung = plain_builders(), solution.before_road
    at_rails = {place for builder, some in places.items() if builders[builder] in RAILS for place in some}
    bent = at_rails & set(solution.bent.pairs)
    faces = {place for builder, some in places.items() if builders[builder] in FACES for place in some}
    bent |= {pair for place in faces - bent for pair in _standing_for(solution, place)}
    sagged = at_rails & set(solution.sagged.pairs)
    bent, sagged = bent or {_first(solution.bent.pairs, looked)}, sagged or {_first(solution.sagged.pairs, looked)}
    peaking = {row: both for row, both in flanks(solution.life.loads.rows).items() if row in {row for row, _ in bent}}
    kept = Wanted(looked=looked, places=places, bent=bent, sagged=sagged, peaking=peaking)
    road = on_road | {row for row in kept.rows if row >= hung}
    pairs = twins(solution.road.rows) if solution.road is not None and road else {}
    road |= {hung + pairs[row - hung] for row in road if row - hung in pairs}
    bent_there = any(builder == ROAD and one.check.group == "rail" for one, builder in wanted)
    return kept.few(hung=hung, road=road, road_bent=bent_there)


def _first(pairs: Iterable[Pair], rows: tuple[int, ...]) -> Pair:
    """One of the rails in some rows: statics want one to work with."""
    return next(pair for pair in pairs if pair[0] in rows)


def _standing_for(solution: Solution, place: Pair) -> set[Pair]:
    """Bent rails whose most stands at a place where none is bent."""
    row, bound = place
    under = {pair for pair in strained(solution) if pair[1] == bound}
    return {pair for pair in under if solution.rows[pair[0]].state in states_of(solution.rows[row])} or under

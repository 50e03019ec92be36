"""Which rows can govern: some samples are tried at every row, and the few rows that matter are gone on with."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from rigcheck.analysis.alike import states_of
from rigcheck.analysis.bending import flanks
from rigcheck.analysis.folded import twins
from rigcheck.analysis.rows import Check, ratios
from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import ALONE, BOUNDS
from rigcheck.parts.rail.checks import rail_checks
from rigcheck.parts.registry import (
    ROAD,
    not_assessed,
    numbered_checks,
    plain_builders,
    road_checks,
    road_flags,
    stoppers,
)
from rigcheck.studies.spread.few import FACES, RAILS, Few, Wanted, few_uses, flagged, strained
from rigcheck.studies.vary.batch import some_of
from rigcheck.tables.load_cases import EMPTY, FOLDING

NEAR = 0.002  # a row this near to the worst one stands for it; what that leaves out is measured and put on top
ALONE_PLACES = tuple(i for i, bound in enumerate(BOUNDS) if bound in ALONE)
FOLD_STEP = 15  # every so many angles of the fold sweep findings that stop are looked for
FIRST, NEXT, AT_ONCE = 80, 32, 16  # samples tried before rows are chosen, then each time, and of a chunk
MOST_TRIED = 512  # where no choice does for this many, every sample is checked at every row
MOST_SHORT = 0.01  # a choice that falls short by more of its use in any tried sample is no good

Kind = tuple[int, bool]
"""Builder of the check, and whether it is of a deflection."""


@dataclass(slots=True, eq=False, repr=False)
class Trial:
    """What a trial has seen, all samples behind each other.

    Attributes:
        uses: Part and kind of check to utilizations, one array (sample, state, bound, side) a chunk.
        stops: Finding that stops to where it was found, one array (sample, state) a chunk.
        slack: Smallest tension over weight of each row, one array (sample, state) a chunk.
        missing: Load-path parts that are not described.
        rows: Rows of the whole state axis.
        hung: How many of them are of the hung box.
        hangs: Rows and bounds whose deflection is worked out.
        bent: Rows and bounds whose rails are bent.
        flanks: Angles of the fold that are bent where they peak alone, each with those it is held against.
        strained: Those of them whose rail is stressed most of their state and bound in any sample, on either side.
        alike: State of each row, and the one that goes on meanwhile.
        twins: Rows of the folded box held by its lines, each with the one that the tie-downs hold in the same wind.
    """

    uses: dict[tuple[str, Kind], list[Array]] = field(default_factory=dict)
    stops: dict[str, list[Mask]] = field(default_factory=dict)
    slack: list[Array] = field(default_factory=list)
    missing: dict[str, None] = field(default_factory=dict)
    rows: tuple[str, ...] = ()
    hung: int = 0
    hangs: frozenset[tuple[int, int]] = frozenset()
    bent: set[tuple[int, int]] = field(default_factory=set)
    flanks: Mapping[int, tuple[int, int]] = field(default_factory=dict)
    strained: set[tuple[int, int]] = field(default_factory=set)
    alike: tuple[tuple[str, str], ...] = ()
    twins: dict[int, int] = field(default_factory=dict)

    def look(
        self, rig: Rig, *, count: int, only: frozenset[str] | None = None
    ) -> tuple[dict[str, Array], dict[str, Mask]]:
        """Check samples at every row.

        Args:
            rig: A batch.
            count: Its samples.
            only: The states looked at; all of them where not said.

        Returns:
            Highest utilization of each part, and where each finding that stops was found, shapes (sample,).
        """
        solution = solve(rig, only=only)
        self.rows, self.hung = tuple(row.state for row in solution.rows), solution.before_road
        self.hangs = frozenset(solution.sagged.pairs)
        self.bent |= set(solution.bent.pairs)
        self.flanks = flanks(solution.life.loads.rows)
        self.alike = tuple(states_of(row) for row in solution.rows)
        self.strained |= strained(solution)
        if solution.road is not None:
            self.twins = {self.hung + i: self.hung + j for i, j in twins(solution.road.rows).items()}
        self.missing |= dict.fromkeys(not_assessed(solution))
        found: dict[tuple[str, Kind], Array] = {}
        for builder, check, allowed in _all_checks(solution):
            key = check.part, (builder, builder == plain_builders().index(rail_checks) and check.unit == "length")
            use = ratios(check, allowed=allowed, shape=solution.shape)
            found[key] = np.maximum(found[key], use) if key in found else use
        highest: dict[str, Array] = {}
        for (part, kind), use in found.items():
            self.uses.setdefault((part, kind), []).append(use)
            most = use.max((-3, -2, -1))
            highest[part] = np.maximum(highest[part], most) if part in highest else most
        weight = np.where(solution.service.weight > 0.0, solution.service.weight, 1.0)
        least = np.where(solution.allowed[..., None], solution.demand.tension, np.inf).min((-2, -1))
        self.slack.append(np.where(solution.hung, least / weight, np.inf))
        return highest, self._stopped(solution, count=count)

    def _stopped(self, solution: Solution, *, count: int) -> dict[str, Mask]:
        before = sum(len(one) for one in self.slack[:-1])
        found: dict[str, Mask] = {}
        flags = [flag for build in stoppers() for flag in build(solution)]
        if solution.road is not None:
            flags += road_flags(solution.road, before=self.hung)
        for flag in flags:
            if flag.stops:
                here = flagged(flag, allowed=solution.allowed, shape=solution.shape)
                found[flag.code] = np.asarray(found[flag.code] | here if flag.code in found else here)
        for code in {*self.stops, *found}:
            past = self.stops.setdefault(code, [np.zeros((before, len(self.rows)), dtype=np.bool_)])
            past.append(found.get(code, np.zeros((count, len(self.rows)), dtype=np.bool_)))
        return {code: np.asarray(where.any(-1)) for code, where in found.items() if where.any()}


def _all_checks(solution: Solution) -> Iterator[tuple[int, Check, Mask]]:
    """Every check with its builder and the rows and bounds it looks at."""
    for builder, check in numbered_checks(solution):
        yield builder, check, solution.looked_at(on_accidents=check.on_accidents)
    if solution.road is not None:
        for check in road_checks(solution.road, before=solution.before_road):
            yield ROAD, check, solution.looked_at(on_accidents=check.on_accidents)


def choose(trial: Trial) -> Few:
    """The fewest rows that come within `NEAR` of the worst use of every part in every sample of a trial.

    Args:
        trial: What was seen.

    Returns:
        The rows.
    """
    builders = plain_builders()
    places: dict[int, set[tuple[int, int]]] = {}
    bent: set[tuple[int, int]] = set()
    sagged: set[tuple[int, int]] = set()
    chosen: set[tuple[str, Kind]] = set()
    for part in dict.fromkeys(part for part, _ in trial.uses):
        kinds = [kind for name, kind in trial.uses if name == part]
        for kind, row, bound in _cover([(kind, np.concatenate(trial.uses[part, kind])) for kind in kinds]):
            chosen.add((part, kind))
            places.setdefault(kind[0], set()).add((row, bound))
            if kind[0] == ROAD or builders[kind[0]] not in RAILS:
                continue
            if kind[1]:
                sagged.add((row, bound))
            elif (row, bound) in trial.bent:
                bent.add((row, bound))
            elif builders[kind[0]] in FACES:
                bent |= _standing_for(trial, row, bound=bound)
    looked = _stop_rows(trial)
    bent |= {
        (row, bound) for row in looked for bound in ALONE_PLACES
        if (row, bound) in trial.bent and trial.rows[row] == FOLDING  # the roll on the way up
    }  # fmt: skip
    sagged |= {(row, bound) for row in looked for bound in ALONE_PLACES if (row, bound) in trial.hangs}
    sagged = sagged or set(sorted(trial.hangs)[:1])  # a box on a center pivot has none on one line
    peaking = {row: trial.flanks[row] for row, _ in bent if row in trial.flanks}
    on_hung = {builder: some for builder, some in places.items() if builder != ROAD}
    kept = Wanted(looked=looked, places=on_hung, bent=bent, sagged=sagged, peaking=peaking)
    on_road = (row for row, _ in places.get(ROAD, ()))
    road = {row for row in (*on_road, *kept.rows) if row >= trial.hung}
    road |= {trial.twins[row] for row in road if row in trial.twins}
    if any(np.concatenate(where)[:, trial.hung :].any() for where in trial.stops.values()):
        road = set(range(trial.hung, len(trial.rows)))
    return kept.few(hung=trial.hung, road=road, road_bent=("rail", (ROAD, False)) in chosen)


def _standing_for(trial: Trial, row: int, *, bound: int) -> set[tuple[int, int]]:
    """Bent rows whose most stands for a row that is not bent."""
    under = {pair for pair in trial.strained if pair[1] == bound}
    return {pair for pair in under if trial.alike[pair[0]][0] in trial.alike[row]} or under


def _cover(kinds: list[tuple[Kind, Array]]) -> list[tuple[Kind, int, int]]:
    """Rows and bounds of which one is near enough to the worst in every sample."""
    shape = kinds[0][1].shape[1:]
    use = np.concatenate([values.reshape(len(values), -1) for _, values in kinds], axis=-1)
    worst = use.max(-1)
    open_ = worst > 0.0
    near = use >= (1.0 - NEAR) * worst[:, None]
    chosen: list[tuple[Kind, int, int]] = []
    while open_.any():
        counts = near[open_].sum(0)
        best = np.flatnonzero(counts == counts.max())
        place = int(best[use[np.ix_(open_, best)].sum(0).argmax()])
        row, bound, _ = (int(i) for i in np.unravel_index(place % int(np.prod(shape)), shape))
        chosen.append((kinds[place // int(np.prod(shape))][0], row, bound))
        open_ = open_ & ~near[:, place]
    return chosen


def _stop_rows(trial: Trial) -> list[int]:
    """Rows at which findings that stop are looked for: where they were found, and where they would show first."""
    folding = [i for i, state in enumerate(trial.rows[: trial.hung]) if state == FOLDING]
    rows = {*folding[::FOLD_STEP], *folding[-1:], *np.concatenate(trial.slack).argmin(-1).tolist()}
    rows |= {i for i, state in enumerate(trial.rows) if state == EMPTY}
    for found in trial.stops.values():
        where = np.concatenate(found)[:, : trial.hung]
        while where.any():
            row = int(where.sum(0).argmax())
            rows.add(row)
            where = where & ~where[:, row, None]
    return sorted(rows)


def shortfall(few: Mapping[str, Array], whole: Mapping[str, Array]) -> dict[str, float]:
    """How far the few rows fall short of all rows, as a share of the use, the most of the samples.

    Args:
        few: Use of each part at the few rows, shapes (sample,).
        whole: The same at all rows.

    Returns:
        Part to share; 1 where the few rows do not have the part at all.
    """
    found = {}
    for part, use in whole.items():
        live = use > 0.0
        here = few.get(part, np.zeros_like(use))
        found[part] = float(np.max(1.0 - np.maximum(here[live], 0.0) / use[live], initial=0.0))
    return found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tried:
    """What a trial came to.

    Attributes:
        samples: How many were checked at every row.
        rows: Rows of the whole state axis.
        few: The rows gone on with; None where no few would do.
        short: For each part, how far those fell short of all rows in any tried sample, as a share. [1]
        missing: Load-path parts that are not described.
    """

    samples: int
    rows: int
    few: Few | None
    short: Mapping[str, float]
    missing: tuple[str, ...]

    def raised(self, part: str) -> float:
        """What the use of a part at the few rows is multiplied by."""
        return 1.0 / (1.0 - min(self.short.get(part, 0.0), MOST_SHORT))

    @property
    def kept(self) -> int:
        """Rows gone on with."""
        return 0 if self.few is None else len(self.few.keep.hung) + len(self.few.keep.road)


def few_rows(
    batch: Rig, *, samples: int, only: frozenset[str] | None, tell: Callable[[int], None]
) -> tuple[Tried, dict[str, Array], dict[str, Mask]]:
    """Try the first samples of a batch at every row, and others until the rows chosen from them do for new ones too.

    Args:
        batch: Varied values of shape () or (sample,).
        samples: Samples of the batch.
        only: The states looked at; all of them where not said.
        tell: Called with the number of samples of each chunk that is ready.

    Returns:
        What the trial came to, and of the tried samples the use of each part and where each finding that stops was
        found, shapes (tried,).
    """
    trial = Trial()
    uses: list[dict[str, Array]] = []
    stops: list[dict[str, Mask]] = []
    done = 0
    few, short = None, dict[str, float]()
    while done < min(MOST_TRIED, samples):
        for _ in range((NEXT if uses else FIRST) // AT_ONCE):
            count = min(AT_ONCE, samples - done)
            use, stopped = trial.look(some_of(batch, start=done, count=count), count=count, only=only)
            uses.append(use)
            stops.append(stopped)
            done += count
            tell(count)
        whole = _behind_each_other(uses)
        if few is not None:
            here, seen = few_uses(some_of(batch, start=0, count=done), few, only=only)
            short = shortfall(here, whole)
            if max(short.values(), default=0.0) <= MOST_SHORT and set(seen) >= {code for one in stops for code in one}:
                break
        few = choose(trial)
    else:
        few = None
    counts = [len(next(iter(one.values()))) for one in uses]
    codes = dict.fromkeys(code for one in stops for code in one)
    found = {
        code: np.concatenate(
            [one.get(code, np.zeros(count, dtype=np.bool_)) for one, count in zip(stops, counts, strict=True)]
        )
        for code in codes
    }
    tried = Tried(samples=done, rows=len(trial.rows), few=few, short=short, missing=tuple(trial.missing))
    return tried, _behind_each_other(uses), found


def _behind_each_other(uses: Sequence[Mapping[str, Array]]) -> dict[str, Array]:
    counts = [len(next(iter(one.values()))) for one in uses]
    return {
        part: np.concatenate([one.get(part, np.full(count, -1.0)) for one, count in zip(uses, counts, strict=True)])
        for part in dict.fromkeys(part for one in uses for part in one)
    }

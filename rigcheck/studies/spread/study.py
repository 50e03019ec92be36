"""How sure a verdict is: many samples of what is not known well, the chance of each part, and what matters most."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rows import OVER
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig, varied
from rigcheck.case.tacks import must_be_finished
from rigcheck.studies.spread.few import few_uses
from rigcheck.studies.spread.sampling import centered_ranks, extremes_first, latin_hypercube, rank_correlation
from rigcheck.studies.spread.trial import FIRST, Tried, few_rows
from rigcheck.studies.spread.unknowns import Unknown
from rigcheck.studies.vary.batch import Judged, chunks, complete, kept, some_of
from rigcheck.studies.vary.variable import must_matter, watched

QUANTILES = (0.05, 0.5, 0.95, 0.99)
SAMPLES, SEED = 1000, 1
_ALIKE = 9  # decimals: uses that differ by less are one, and their order is that of rounding
WORTH = 500  # samples from which a trial pays; fewer are all checked at every row
AT_ONCE = 2000  # samples of a chunk at a few rows
AGAIN, AGAIN_FROM = 32, 0.5  # samples looked at again in a round, and the utilization from which one is near to over
_WILSON = 1.959964  # 95 % two-sided; any table of the normal distribution


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part over all samples.

    Attributes:
        name: The part.
        over: Share of samples in which it is over in any mode and state. [1]
        now: Utilization in the case as it is.
        quantiles: Utilization at `QUANTILES`, rounded up to the next sample.
        matters: Rank correlation of its utilization with each unknown, in their order.
    """

    name: str
    over: float
    now: float
    quantiles: tuple[float, ...]
    matters: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The answer of the study.

    Attributes:
        unknowns: What was sampled.
        samples: How many.
        seed: Start of the random numbers.
        over: Share of samples in which anything is over or stops. [1]
        over_most: Upper end of its 95 % interval. [1]
        stopped: Code of a finding that stops to the share of samples. [1]
        highest: The highest utilization of all parts, as one part.
        parts: Each part, the likeliest to be over first.
        not_assessed: Load-path parts that are not described.
        tried: Which rows most samples were checked at; None where all were checked at every row.
    """

    unknowns: tuple[Unknown, ...]
    samples: int
    seed: int
    over: float
    over_most: float
    stopped: dict[str, float]
    highest: Part
    parts: tuple[Part, ...]
    not_assessed: tuple[str, ...]
    tried: Tried | None = None


def spread(
    rig: Rig, *, unknowns: Sequence[Unknown], samples: int = SAMPLES, seed: int = SEED,
    only: frozenset[str] | None = None, whole: bool = False, done: Callable[[int], None] | None = None,
) -> Spread:  # fmt: skip
    """Check many samples of a rig whose numbers are not known well.

    Samples are a Latin hypercube. They are checked chunk by chunk and of each only the utilization of each part is
    kept, so that memory grows by a few hundred bytes a sample. Of many samples those at the ends of each unknown and
    some others are checked at every row; the rest at the few rows that came near to the worst of any part in those, and
    raised by what that left out of the tried ones at most. Those that then come nearest to over are looked at again at
    every row, until none of them is over after all.

    Args:
        rig: One rig.
        unknowns: What is not known well.
        samples: How many.
        seed: The same one gives the same answer.
        only: The states looked at; all of them where not said.
        whole: Check every sample at every row.
        done: Called with the number of samples of each chunk that is ready.

    Returns:
        The study.

    Raises:
        CaseError: An unknown touches no check.

    Source: docs/method.md#spread.
    """
    must_be_finished(rig.case)
    states = None if only is None else complete(only)
    now, carried = watched(rig, only=states)
    for one in unknowns:
        must_matter(one.variable, carried)
    shares = latin_hypercube(samples, unknowns=len(unknowns), seed=seed)
    values = np.stack([one.values(shares[:, i]) for i, one in enumerate(unknowns)], axis=-1)
    del shares
    pays = not whole and samples >= WORTH
    if pays:
        values = values[extremes_first(values, most=FIRST)]
    batch = varied(rig, {one.variable.key: values[:, i] for i, one in enumerate(unknowns)})
    tell = done or _nobody
    if pays:
        found, tried = _at_few_rows(batch, samples=samples, only=states, tell=tell)
    else:
        found, tried = _Kept(samples), None
        _at_every_row(batch, found, only=states, tell=tell)
    return _told(found, values, unknowns=unknowns, seed=seed, now=kept(now), tried=tried)


def _nobody(_: int) -> None:
    """Told of progress where nobody asked."""


def _at_every_row(batch: Rig, found: _Kept, *, only: frozenset[str] | None, tell: Callable[[int], None]) -> None:
    for chunk, count in chunks(batch, only=only):
        judged = kept(assess(chunk, only=only), count=count)
        uses = {part: judged.use[:, rows].max(-1) for part, rows in rows_of(judged).items()}
        stops: dict[str, Mask] = {}
        for stop in judged.stops:
            stops[stop.code] = stops[stop.code] | stop.where if stop.code in stops else stop.where
        found.take(uses, stops=stops, count=count)
        found.not_assessed |= dict.fromkeys(judged.not_assessed)
        tell(count)


def _at_few_rows(
    batch: Rig, *, samples: int, only: frozenset[str] | None, tell: Callable[[int], None]
) -> tuple[_Kept, Tried | None]:
    found = _Kept(samples)
    tried, uses, stops = few_rows(batch, samples=samples, only=only, tell=tell)
    found.take(uses, stops=stops, count=tried.samples)
    found.not_assessed |= dict.fromkeys(tried.missing)
    for start in range(tried.samples, samples, AT_ONCE):
        count = min(AT_ONCE, samples - start)
        part = some_of(batch, start=start, count=count)
        if tried.few is None:
            _at_every_row(part, found, only=only, tell=tell)
            continue
        use, stopped = few_uses(part, tried.few, only=only)
        found.take({name: values * tried.raised(name) for name, values in use.items()}, stops=stopped, count=count)
        tell(count)
    if tried.few is None:
        return found, None
    _look_again(batch, found, after=tried.samples, only=only)
    return found, tried


def _look_again(batch: Rig, found: _Kept, *, after: int, only: frozenset[str] | None) -> None:
    """Check the samples nearest to over at every row, until none of those is over after all.

    What a few rows leave out is most likely to matter there. A round that finds one over is followed by another, so
    that a choice of rows that is no good ends with every sample checked at every row.

    Args:
        batch: The samples.
        found: What the few rows gave; the samples looked at again get the larger of both.
        after: Samples that were checked at every row before, the first ones.
        only: The states looked at; all of them where not said.
    """
    waiting = np.arange(found.samples) >= after
    while True:
        highest, over = found.highest(), found.over()
        near = np.flatnonzero(waiting & ~over & (highest >= AGAIN_FROM))
        near = near[np.argsort(-highest[near], kind="stable")][:AGAIN]
        if not near.size:
            return
        waiting[near] = False
        some = Rig(batch.case, {key: one if one.ndim == 0 else one[near] for key, one in batch.varied.items()})
        whole = _Kept(near.size)
        _at_every_row(some, whole, only=only, tell=_nobody)
        found.raise_to(whole, at=near)
        if not found.over()[near].any():
            return


class _Kept:
    """Utilization of each part and each stop over all samples, filled chunk by chunk."""

    def __init__(self, samples: int) -> None:
        self.samples = samples
        self.filled = 0
        self.use: dict[str, Array] = {}
        self.stops: dict[str, Mask] = {}
        self.not_assessed: dict[str, None] = {}

    def take(self, uses: Mapping[str, Array], *, stops: Mapping[str, Mask], count: int) -> None:
        """Add a chunk: utilization of each part and where each finding that stops was found, shapes (count,)."""
        here = slice(self.filled, self.filled + count)
        for part, use in uses.items():
            if part not in self.use:
                self.use[part] = np.full(self.samples, -1.0)
            self.use[part][here] = use
        for code, where in stops.items():
            if code not in self.stops:
                self.stops[code] = np.zeros(self.samples, dtype=np.bool_)
            self.stops[code][here] |= where
        self.filled += count

    def raise_to(self, other: _Kept, *, at: NDArray[np.intp]) -> None:
        """Take over what some samples, at those places, were found to have elsewhere, where it is more."""
        for part, use in other.use.items():
            mine = self.use.setdefault(part, np.full(self.samples, -1.0))
            mine[at] = np.maximum(mine[at], use)
        for code, where in other.stops.items():
            self.stops.setdefault(code, np.zeros(self.samples, dtype=np.bool_))[at] |= where

    def highest(self) -> Array:
        """The highest utilization of all parts, shape (sample,)."""
        highest = np.full(self.samples, -1.0)
        for use in self.use.values():
            highest = np.maximum(highest, use)
        return highest

    def over(self) -> Mask:
        """Where anything is over or stops, shape (sample,)."""
        over = self.highest() > OVER
        for stop in self.stops.values():
            over = over | stop
        return over


def rows_of(judged: Judged) -> dict[str, list[int]]:
    """Rows of each part."""
    found: dict[str, list[int]] = {}
    for i, row in enumerate(judged.rows):
        found.setdefault(row.part, []).append(i)
    return found


def _told(
    found: _Kept, values: Array, *, unknowns: Sequence[Unknown], seed: int, now: Judged, tried: Tried | None
) -> Spread:
    ranked = [centered_ranks(values[:, i]) for i in range(values.shape[-1])]
    present = {part: float(now.use[0, rows].max()) for part, rows in rows_of(now).items()}
    parts = [
        _part(name, use, ranked, now=present.get(name, -1.0)) for name, use in found.use.items() if (use >= 0.0).any()
    ]
    highest, over = found.highest(), found.over()
    share = float(over.mean())
    return Spread(
        unknowns=tuple(unknowns),
        samples=found.samples,
        seed=seed,
        over=share,
        over_most=upper_end(int(over.sum()), samples=found.samples),
        stopped={code: float(where.mean()) for code, where in found.stops.items()},
        highest=_part("any part", highest, ranked, now=max(present.values())),
        parts=tuple(sorted(parts, key=lambda part: (-part.over, -part.quantiles[-1]))),
        not_assessed=tuple(found.not_assessed),
        tried=tried,
    )


def _part(name: str, use: Array, ranked: Sequence[Array], *, now: float) -> Part:
    own = centered_ranks(np.round(use, _ALIKE))
    return Part(
        name=name,
        over=float((use > OVER).mean()),
        now=now,
        quantiles=tuple(float(value) for value in np.quantile(use, QUANTILES, method="higher")),
        matters=tuple(rank_correlation(own, other=other) for other in ranked),
    )


def upper_end(count: int, *, samples: int) -> float:
    """Upper end of the 95 % interval of a chance found by sampling.

    Args:
        count: Samples in which it happened.
        samples: All samples.

    Source: Wilson's score interval (memory), a little wide for a Latin hypercube; the rule of three for none.
    """
    if count == 0:
        return min(3.0 / samples, 1.0)
    share, z = count / samples, _WILSON
    root = np.sqrt(share * (1.0 - share) / samples + z * z / (4.0 * samples * samples))
    return float(min((share + z * z / (2.0 * samples) + z * root) / (1.0 + z * z / samples), 1.0))

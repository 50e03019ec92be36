"""How sure a verdict is: many samples of what is not known well, the chance of each part, and what matters most."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.case.rig import Array, Rig, varied
from rigcheck.check.assess import assess
from rigcheck.check.rows import OVER, Mask
from rigcheck.studies.sampling import latin_hypercube, rank_correlation
from rigcheck.studies.spread_unknowns import Unknown
from rigcheck.studies.vary import must_matter, watched
from rigcheck.studies.vary_batch import Judged, chunks, complete, kept

QUANTILES = (0.05, 0.5, 0.95, 0.99)
SAMPLES, SEED = 1000, 1
_WILSON = 1.959964  # 95 % two-sided; any table of the normal distribution


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part over all samples.

    Attributes:
        name: The part.
        over: Share of samples in which it is over in any mode and state. [1]
        now: Utilisation in the case as it is.
        quantiles: Utilisation at `QUANTILES`, rounded up to the next sample.
        matters: Rank correlation of its utilisation with each unknown, in their order.
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
        highest: The highest utilisation of all parts, as one part.
        parts: Each part, the likeliest to be over first.
        not_assessed: Load-path parts that are not described.
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


def spread(
    rig: Rig, *, unknowns: Sequence[Unknown], samples: int = SAMPLES, seed: int = SEED,
    only: frozenset[str] | None = None, done: Callable[[int], None] | None = None,
) -> Spread:  # fmt: skip
    """Check many samples of a rig whose numbers are not known well.

    Samples are a Latin hypercube. They are checked chunk by chunk and of each only the utilisation of each part is
    kept, so that memory grows by a few hundred bytes a sample.

    Args:
        rig: One rig.
        unknowns: What is not known well.
        samples: How many.
        seed: The same one gives the same answer.
        only: The states looked at; all of them where not said.
        done: Called with the number of samples of each chunk that is ready.

    Returns:
        The study.

    Raises:
        CaseError: An unknown touches no check.

    Source: docs/method.md#spread.
    """
    states = None if only is None else complete(only)
    now, carried = watched(rig, only=states)
    for one in unknowns:
        must_matter(one.variable, carried)
    shares = latin_hypercube(samples, unknowns=len(unknowns), seed=seed)
    values = np.stack([one.values(shares[:, i]) for i, one in enumerate(unknowns)], axis=-1)
    del shares
    batch = varied(rig, {one.variable.key: values[:, i] for i, one in enumerate(unknowns)})
    kept_uses = _Kept(samples)
    for chunk, count in chunks(batch, only=states):
        kept_uses.take(kept(assess(chunk, only=states), count=count), count)
        if done is not None:
            done(count)
    return _told(kept_uses, values, unknowns=unknowns, seed=seed, now=kept(now))


class _Kept:
    """Utilisation of each part and each stop over all samples, filled chunk by chunk."""

    def __init__(self, samples: int) -> None:
        self.samples = samples
        self.filled = 0
        self.use: dict[str, Array] = {}
        self.stops: dict[str, Mask] = {}
        self.not_assessed: dict[str, None] = {}

    def take(self, judged: Judged, count: int) -> None:
        """Add a chunk."""
        here = slice(self.filled, self.filled + count)
        for part, rows in rows_of(judged).items():
            if part not in self.use:
                self.use[part] = np.full(self.samples, -1.0)
            self.use[part][here] = judged.use[:, rows].max(-1)
        for stop in judged.stops:
            if stop.code not in self.stops:
                self.stops[stop.code] = np.zeros(self.samples, dtype=np.bool_)
            self.stops[stop.code][here] |= stop.where
        self.not_assessed |= dict.fromkeys(judged.not_assessed)
        self.filled += count


def rows_of(judged: Judged) -> dict[str, list[int]]:
    """Rows of each part."""
    found: dict[str, list[int]] = {}
    for i, row in enumerate(judged.rows):
        found.setdefault(row.part, []).append(i)
    return found


def _told(found: _Kept, values: Array, *, unknowns: Sequence[Unknown], seed: int, now: Judged) -> Spread:
    present = {part: float(now.use[0, rows].max()) for part, rows in rows_of(now).items()}
    parts = [
        _part(name, use, values, now=present.get(name, -1.0)) for name, use in found.use.items() if (use >= 0.0).any()
    ]
    highest = np.full(found.samples, -1.0)
    over = np.zeros(found.samples, dtype=np.bool_)
    for use in found.use.values():
        highest = np.maximum(highest, use)
    for stop in found.stops.values():
        over = over | stop
    over = over | (highest > OVER)
    share = float(over.mean())
    return Spread(
        unknowns=tuple(unknowns),
        samples=found.samples,
        seed=seed,
        over=share,
        over_most=upper_end(int(over.sum()), samples=found.samples),
        stopped={code: float(where.mean()) for code, where in found.stops.items()},
        highest=_part("any part", highest, values, now=max(present.values())),
        parts=tuple(sorted(parts, key=lambda part: (-part.over, -part.quantiles[-1]))),
        not_assessed=tuple(found.not_assessed),
    )


def _part(name: str, use: Array, values: Array, *, now: float) -> Part:
    return Part(
        name=name,
        over=float((use > OVER).mean()),
        now=now,
        quantiles=tuple(float(value) for value in np.quantile(use, QUANTILES, method="higher")),
        matters=tuple(rank_correlation(use, other=values[:, i]) for i in range(values.shape[-1])),
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

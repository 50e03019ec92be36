"""Samples that cover every unknown evenly, what each stands for, and ranks; seeded, numpy alone."""

from __future__ import annotations

from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array

CUT = 3.0  # a normal spread is cut off at so many standard deviations; our own rule
_GRID = 8193  # points of the table of the normal distribution, read between linearly


def latin_hypercube(count: int, *, unknowns: int, seed: int) -> Array:
    """Shares in (0, 1), one of each unknown in each of `count` equal strata, strata paired at random.

    Args:
        count: Samples.
        unknowns: Columns.
        seed: Start of the random numbers; the same one gives the same samples.

    Returns:
        Shape (count, unknowns).

    Source: McKay, Beckman and Conover, Technometrics 21 (1979) 239 (memory).
    """
    draw = np.random.default_rng(seed)
    shares = np.empty((count, unknowns))
    for column in range(unknowns):
        shares[:, column] = (draw.permutation(count) + draw.random(count)) / count
    return shares


@cache
def _normal_table() -> tuple[Array, Array]:
    bell = NormalDist()
    shares = np.linspace(bell.cdf(-CUT), bell.cdf(CUT), _GRID)
    return shares, np.array([bell.inv_cdf(float(share)) for share in shares])


def even(share: Array, *, low: float, high: float) -> Array:
    """Every value from low to high alike.

    Args:
        share: In (0, 1), shape (...). [1]
        low: Least value.
        high: Largest value.

    Returns:
        Values, shape (...).
    """
    return np.asarray(low + share * (high - low))


def normal(share: Array, *, middle: float, deviation: float) -> Array:
    """Values about a middle, cut off at three standard deviations.

    Args:
        share: In (0, 1), shape (...). [1]
        middle: Mean.
        deviation: Standard deviation before the cut.

    Returns:
        Values, shape (...).
    """
    shares, scores = _normal_table()
    inside = shares[0] + share * (shares[-1] - shares[0])
    return np.asarray(middle + deviation * np.interp(inside, shares, scores))


def extremes_first(values: Array, *, most: int) -> NDArray[np.intp]:
    """Order of samples in which those at the ends of what is not known stand first.

    These are the lowest two and the highest two of each unknown, then of each two unknowns those that are furthest out
    in both, all four ways; the others follow as they were drawn.

    Args:
        values: Shape (sample, unknown).
        most: How many are put first at most.

    Returns:
        Places of the samples, shape (sample,).
    """
    samples, unknowns = values.shape
    out = np.stack([centered_ranks(values[:, i]) for i in range(unknowns)], axis=-1)
    ends = [np.argsort(out[:, i], kind="stable")[[0, -1, 1, -2]] for i in range(unknowns)] if samples > 1 else []
    first = [int(end[turn]) for turn in range(4) for end in ends]
    for one in range(unknowns):
        for other in range(one):
            for way in ((1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)):
                first.append(int(np.minimum(way[0] * out[:, one], way[1] * out[:, other]).argmax()))
    kept = np.array(list(dict.fromkeys(first))[:most], dtype=np.intp)
    rest = np.setdiff1d(np.arange(samples), kept)
    return np.concatenate([kept, rest])


def ranks(values: Array) -> Array:
    """Rank of each value from 1 up, equal values sharing the mean of theirs.

    Args:
        values: Shape (sample,).

    Returns:
        Shape (sample,).
    """
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    return np.asarray((last - 0.5 * (counts - 1.0))[place])


def centered_ranks(values: Array) -> Array:
    """Ranks less their mean, shape (sample,)."""
    return ranks(values) - 0.5 * (values.size + 1.0)


def rank_correlation(one: Array, *, other: Array) -> float:
    """Spearman's rank correlation; 0 where either does not vary.

    Args:
        one: Ranks less their mean, as `centered_ranks` gives them, shape (sample,).
        other: The same of the other.

    Source: Spearman, any text on statistics.
    """
    scale = float(np.sqrt((one * one).sum() * (other * other).sum()))
    return float((one * other).sum()) / scale if scale > 0.0 else 0.0

"""What presses on the box in one row, load by load with its name, for a table and for the sums of the whole box."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.solve import Solution
from rigcheck.loads.pieces import Strip


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One load with its dynamic factor, or without.

    Attributes:
        name: What it is.
        weight: Weight, factor included. [lbf]
        gain: The factor.
        s: Center along the floor from the hinge. [in]
        y: Center across, left. [in]
        n: Center above the floor. [in]
        strip: Ends, weights per length (factor included) and heights, for a load along the floor; None for a lump.
    """

    name: str
    weight: float
    gain: float
    s: float
    y: float
    n: float
    strip: tuple[float, float, float, float, float, float] | None


def loads_of(solution: Solution, *, index: int, factored: bool) -> list[Load]:
    """The loads of one row of the state axis, those that weigh nothing left out.

    Args:
        solution: The statics of one rig.
        index: A row in which the lines alone hold the box.
        factored: Whether dynamic factors are in the weights.

    Returns:
        The loads.

    Source: docs/method.md#strips.
    """
    row = solution.rows[index]
    found = [_of_strip(strip, factored=factored) for strip in row.strips]
    for lump in row.lumps:
        gain = float(lump.gain) if factored else 1.0
        s, y, n = (float(value) for value in (lump.s, lump.y, lump.n))
        found.append(Load(name=lump.name, weight=gain * float(lump.weight), gain=gain, s=s, y=y, n=n, strip=None))
    return [load for load in found if load.weight != 0.0]


def _of_strip(strip: Strip, *, factored: bool) -> Load:
    gain = float(strip.gain) if factored else 1.0
    start, end, n0, n1, y = (float(value) for value in (strip.start, strip.end, strip.n_start, strip.n_end, strip.y))
    w0, w1 = gain * float(strip.w_start), gain * float(strip.w_end)
    span = end - start
    weight = 0.5 * (w0 + w1) * span
    safe = weight if weight != 0.0 else 1.0
    s = start + (w0 + 2.0 * w1) * span**2 / 6.0 / safe
    n = span * (2.0 * w0 * n0 + w0 * n1 + w1 * n0 + 2.0 * w1 * n1) / 6.0 / safe
    return Load(name=strip.name, weight=weight, gain=gain, s=s, y=y, n=n, strip=(start, end, w0, w1, n0, n1))


def total(loads: list[Load]) -> float:
    """Sum of the weights. [lbf]"""
    return float(np.sum([load.weight for load in loads]))

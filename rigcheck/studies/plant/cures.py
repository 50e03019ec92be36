"""What keeps a plant from tipping: the least ballast and where, or how far the feet of a side must go outward."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from rigcheck.analysis.rows import SIDES
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.types import Array
from rigcheck.parts.plant.checks import Standing
from rigcheck.statics.tipping import WAYS, edges, moments
from rigcheck.studies.plant.record import Ballast, Move

FARTHEST, COARSE, STEP = 120.0, 10.0, 1.0  # in: how far feet are moved outward at most, and in what steps
OUTWARD = {"downstream": (1.0, 0.0), "upstream": (-1.0, 0.0), "left": (0.0, 1.0), "right": (0.0, -1.0)}
_SAME = 1e-9  # of a weight: places that need as much are alike


def least_ballast(solution: Solution, *, body: Standing, needed: float, even: bool) -> Ballast | None:
    """The least weight over a foot, or midway between two, that brings every ratio to what is asked.

    Where both sides are alike it stands on the middle of the plant: the rows load one side alone.

    A pound of it holds about an edge with a and turns over with o, the slope counted, so that S + B a = q (O + B o) at
    the least. It stands no higher than the plant's own center of gravity or the hinge axis, whichever is higher.

    Args:
        solution: The statics.
        body: Plant and box on their feet.
        needed: The ratio q.
        even: Whether both sides are alike.

    Returns:
        The ballast; None where no weight at any of these places does.

    Source: own derivation, docs/method.md#tipping-cures.
    """
    count = body.feet.shape[-2]
    places: list[tuple[int, ...]] = [*((i,) for i in range(count)), *combinations(range(count), 2)]
    if even:
        places = [feet for feet in places if float(np.abs(body.feet[list(feet), 1].sum())) == 0.0]
    high = max(float(solution.rig.number("plant.cg_height")), 0.0)
    at = np.array([[*body.feet[list(feet), :2].mean(0), high] for feet in places])
    gravity = body.force[..., :2, :] / float(solution.rig.number("plant.weight"))  # down and along the slope
    pound = np.broadcast_to(gravity, (len(places), *gravity.shape))
    moment = np.cross(at[:, None, None, :], pound)
    unit = moments(pound, moment=moment, feet=body.feet, base=body.base)
    now = body.moments()
    short = needed * now.overturning - now.stabilizing  # over what is asked where it is above zero
    gain = unit.stabilizing - needed * unit.overturning
    least = np.where((gain > 0.0) & (short > 0.0), divide(short, gain), 0.0)
    never = (gain <= 0.0) & (short > 0.0)
    most = np.where((gain < 0.0) & (short <= 0.0), divide(short, gain), UNLIMITED)
    low, high_end = least.max((-2, -1)), most.min((-2, -1))
    able = ~never.any((-2, -1)) & (low <= high_end)
    if not able.any():
        return None
    # of places that need as much, the one between two feet: half of it can stand on either side
    order = [(float(low[i]) * (1.0 - _SAME * (len(places[i]) - 1)), i) for i in np.flatnonzero(able)]
    best = min(order)[1]
    x, y, z = (float(one) for one in at[best])
    return Ballast(weight=float(low[best]), at=(x, y, z), feet=places[best])


def least_move(body: Standing, *, way: str, others: Sequence[str], needed: float, even: bool) -> Move:
    """How far the feet of one side must go outward until nothing tips that way, the others left where they are.

    Where both sides are alike the feet of both go outward sideways.

    Args:
        body: Plant and box on their feet.
        way: The way it tips.
        others: Every way that is over; those but `way` are not looked at.
        needed: Ratio that is asked.
        even: Whether both sides are alike.

    Returns:
        The move, to whole steps.

    Source: own derivation, docs/method.md#tipping-cures.
    """
    base = body.base
    mine = base.live & (base.way == WAYS.index(way))
    feet = sorted({int(i) for ends in (base.first, base.second) for i in ends[mine]})
    outward = np.zeros(body.feet.shape)
    outward[feet, :2] = OUTWARD[way]
    if even and way in SIDES:
        outward[:, 1] = np.sign(body.feet[:, 1])
        feet = [int(i) for i in np.flatnonzero(outward[:, 1])]
    aside = [WAYS.index(one) for one in others if one != way]

    def first(steps: Array) -> float | None:
        good = np.flatnonzero(
            _highest(body, feet=body.feet + steps[:, None, None] * outward, aside=aside) * needed <= 1.0
        )
        return float(steps[good[0]]) if good.size else None

    coarse = first(COARSE * np.arange(1.0, FARTHEST / COARSE + 1.0))
    by = None if coarse is None else first(coarse - COARSE + STEP * np.arange(1.0, COARSE / STEP + 1.0))
    return Move(way=way, feet=tuple(feet), by=by)


def _highest(body: Standing, *, feet: Array, aside: Sequence[int]) -> Array:
    """The largest overturning over stabilizing moment on other feet, some ways left aside, shape (...)."""
    there = replace(body, feet=feet, base=edges(feet))
    found = there.moments()
    counted = there.base.live & ~np.isin(there.base.way, aside)
    use = divide(found.overturning, found.stabilizing, where_zero=UNLIMITED)
    return np.asarray(np.where(counted[..., None, :] & (found.overturning > 0.0), use, 0.0).max((-2, -1)))

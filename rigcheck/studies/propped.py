"""A tail leg or a second pair of lines under the hung box: what they take, by the give of rails and lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.check.solve import Solution, solve
from rigcheck.loads.pieces import BOUNDS, Loads, take
from rigcheck.statics.balance import Balance, balance
from rigcheck.statics.beam import Terms, evaluate
from rigcheck.statics.deflection import deflection
from rigcheck.statics.geometry import Pose, pose
from rigcheck.statics.rail import RailForces, rail_forces, rail_peaks
from rigcheck.statics.resultant import resultant

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

STATES = ("dry", "running", "plugged", "packed", "iced")  # hung states at rest; the support is set on the dry box
_EVEN = 2  # the share that bends both rails alike
_STIFF = BOUNDS.index("stiff")
_GAUSS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)])  # three points integrate a fifth power exactly
_GAUSS_WEIGHT = np.array([5.0, 8.0, 5.0]) / 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra:
    """A further support on each side of the box, which pushes or pulls one way only, shapes (...).

    Attributes:
        s: Where it acts on the box, along the floor. [in]
        y: How far left of the middle the left one acts. [in]
        n: Above the floor. [in]
        direction: Way in which the left one acts on the box, plant axes, unit vector, shape (..., 3).
        give: How far one of them gives per pound. [in/lbf]
        gap: How far the empty box stands off it, or its slack, when it is set. [in]
    """

    s: Array
    y: Array
    n: Array
    direction: Array
    give: Array
    gap: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Supported:
    """The box on its lines and further supports, static, both sides alike, shapes (..., state), states as in `STATES`.

    Attributes:
        extra: What the further support on each side takes. [lbf]
        tension: Either line. [lbf]
        hinge_x: Plant on box at each hinge group, downstream. [lbf]
        hinge_z: The same upward. [lbf]
        moment: Largest bending moment of either rail, either sign. [lbf*in]
        tail_drop: Fall of the tail from its unloaded place. [in]
        slack: True where the further support takes so much that the lines hang slack.
        lost: Tension of either line when the further support is gone. [lbf]
    """

    extra: Array
    tension: Array
    hinge_x: Array
    hinge_z: Array
    moment: Array
    tail_drop: Array
    slack: Mask
    lost: Array


def tail_leg(rig: Rig, *, at: Array | float, give: Array | float = 0.0, gap: Array | float = 0.0) -> Extra:
    """A leg under each rail that stands on the ground or the plant and pushes straight up.

    Args:
        rig: The rig, one or a batch.
        at: Along the floor from the hinge, shape (...). [in]
        give: Of one leg and what it stands on, per pound, shape (...). [in/lbf]
        gap: Between leg and empty box, shape (...). [in]
    """
    here = np.asarray(at, dtype=np.float64)
    return Extra(
        s=here,
        y=0.5 * rig.number_or("rail.spacing", rig.number("box.width")),
        n=np.zeros(()),
        direction=np.array([0.0, 0.0, 1.0]),
        give=np.asarray(give, dtype=np.float64),
        gap=np.asarray(gap, dtype=np.float64),
    )


def second_pair(
    solution: Solution, *, hanger: tuple[Array, Array], perch: tuple[Array, Array], give: Array | float,
    slack: Array | float = 0.0,
) -> Extra:  # fmt: skip
    """A second pair of lines, as far apart as the first.

    Args:
        solution: Statics of the rig as it is.
        hanger: Along and above the floor, shapes (...). [in]
        perch: Forward of the hinge axis and above it, shapes (...). [in]
        give: Length that one of them gives per pound, shape (...). [in/lbf]
        slack: How much longer than snug they are on the empty box, shape (...). [in]
    """
    points = replace(
        solution.layout, hanger_s=np.asarray(hanger[0]), hanger_n=np.asarray(hanger[1]),
        perch_x=np.asarray(perch[0]), perch_z=np.asarray(perch[1]),
    )  # fmt: skip
    there = pose(points, fold=np.zeros((*np.shape(points.pitch), 1)))
    return Extra(
        s=points.hanger_s,
        y=0.5 * points.hanger_spacing,
        n=points.hanger_n,
        direction=np.stack([there.ux, there.uy, there.uz], axis=-1)[..., 0, :],
        give=np.asarray(give, dtype=np.float64),
        gap=np.asarray(slack, dtype=np.float64),
    )


def states_of(rig: Rig) -> Solution:
    """Statics of the states that are compared."""
    return solve(rig, only=frozenset(STATES))


def compare(solution: Solution, *, extras: Mapping[str, Extra]) -> dict[str, Supported]:
    """The box hung as it is and with each of several further supports.

    Args:
        solution: From `states_of`, one rig or a batch.
        extras: Name to support.

    Returns:
        Name to what it comes to; the box as it is under `hung`.

    Source: docs/method.md#further-supports.
    """
    nothing = Extra(
        s=0.5 * solution.layout.length, y=np.zeros(()), n=np.zeros(()), direction=np.array([0.0, 0.0, 1.0]),
        give=np.zeros(()), gap=np.asarray(1e9),
    )  # fmt: skip
    return {name: supported(solution, extra=extra) for name, extra in {"hung": nothing, **extras}.items()}


def supported(solution: Solution, *, extra: Extra) -> Supported:
    """The box on one further support a side, set on the dry box: one redundant, by the unit load method.

    With m, n, t from a unit force of the support and c, c_x the give of line and support,
    X = -(sum M m / EI + N n / EA + T t c + gap) / (sum m^2 / EI + n^2 / EA + t^2 c + c_x), M, N and T by what comes
    onto the box after it was set, and X not under zero. Where the lines would push they hang slack and X follows from
    balance.

    Args:
        solution: From `states_of`, one rig or a batch.
        extra: The support.

    Returns:
        What it comes to.

    Source: own derivation, docs/method.md#further-supports.
    """
    names = [row.state for row in solution.life.loads.rows]
    loads = take(solution.life.loads, rows=[names.index(state) for state in STATES])
    at = pose(solution.layout, fold=loads.fold)
    give = solution.give[..., [names.index(state) for state in STATES]]
    unit = _pushed(_weightless(loads), extra=extra, force=np.ones(()))
    own, per_pound = (_rails(solution, case, at=at) for case in (_pushed(loads, extra=extra, force=np.zeros(())), unit))
    both, itself = _work(solution, first=own, second=per_pound, give=give)
    added = both - both[..., :1]
    flexible = itself + extra.give[..., None]
    push = np.maximum(-(added + extra.gap[..., None]) / np.where(flexible > 0.0, flexible, 1.0), 0.0)
    hung, one = 0.5 * own[0].total, 0.5 * per_pound[0].total
    slack = hung + push * one < 0.0
    push = np.where(slack, -hung / np.where(one < 0.0, one, -1.0), push)
    held, forces = _rails(solution, _pushed(loads, extra=extra, force=push), at=at)
    group = held.hinge[..., _STIFF, :, :].mean(-2)
    bent = deflection(forces, section=solution.section, layout=solution.layout, pose=at, balance=held, give=give)
    return Supported(
        extra=push,
        tension=0.5 * held.total,
        hinge_x=group[..., 0],
        hinge_z=group[..., 2],
        moment=rail_peaks(forces, section=solution.section).max_moment[..., _EVEN],
        tail_drop=bent.tail_drop[..., _EVEN],
        slack=slack,
        lost=hung,
    )


def _weightless(loads: Loads) -> Loads:
    strip = {**loads.strip, "w_start": 0.0 * loads.strip["w_start"], "w_end": 0.0 * loads.strip["w_end"]}
    return replace(loads, strip=strip, lump={**loads.lump, "weight": 0.0 * loads.lump["weight"]})


def _pushed(loads: Loads, *, extra: Extra, force: Array) -> Loads:
    """The loads with the support's force on each side, shape (..., state) or ()."""
    shape = loads.fold.shape
    sides = np.array([1.0, -1.0])

    def pair(value: Array, by_side: Array) -> Array:
        return np.broadcast_to(np.asarray(value)[..., None, None] * by_side, (*shape, 2))

    pulled = np.broadcast_to(force, shape)[..., None]
    along, across, up = (extra.direction[..., axis] for axis in range(3))
    push = {
        "fx": pair(along, np.ones(2)) * pulled,
        "fy": pair(across, sides) * pulled,
        "fz": pair(up, np.ones(2)) * pulled,
        "s": pair(extra.s, np.ones(2)),
        "y": pair(extra.y, sides),
        "n": pair(extra.n, np.ones(2)),
    }
    return replace(loads, push=push)


def _rails(solution: Solution, loads: Loads, *, at: Pose) -> tuple[Balance, RailForces]:
    held = balance(resultant(loads, layout=solution.layout, pose=at), layout=solution.layout, pose=at)
    forces = rail_forces(loads, layout=solution.layout, pose=at, balance=held, axis=solution.section.axis)
    return held, forces


def _work(
    solution: Solution, *, first: tuple[Balance, RailForces], second: tuple[Balance, RailForces], give: Array
) -> tuple[Array, Array]:
    """Movement of the support's point along its force, by the loads and by a unit of itself, shapes (..., state)."""
    stations = np.sort(np.concatenate([first[1].stations[..., _EVEN, :], second[1].stations[..., _EVEN, :]], -1), -1)
    span = np.diff(stations, axis=-1)[..., None]
    x = stations[..., :-1, None] + 0.5 * span * (1.0 + _GAUSS)
    flat = x.reshape(*x.shape[:-2], -1)
    weight = (span * _GAUSS_WEIGHT).reshape(flat.shape)
    bending = (solution.section.modulus * solution.section.inertia)[..., None, None]
    axial = (solution.section.modulus * solution.section.area)[..., None, None]

    def along(terms: Terms) -> Array:
        return evaluate(Terms(terms.at[..., _EVEN, :], terms.coefficient[..., _EVEN, :, :]), x=flat)

    m, n = along(second[1].moment), along(second[1].axial)
    t = 0.5 * second[0].total

    def movement(moment: Array, force: Array, tension: Array) -> Array:
        rail = (weight * (moment * m / bending + force * n / axial)).sum(-1)
        return np.asarray(rail + tension * t * give)

    own = movement(along(first[1].moment), along(first[1].axial), 0.5 * first[0].total)
    return own, movement(m, n, t)

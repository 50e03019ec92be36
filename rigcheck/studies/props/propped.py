"""A tail leg or a second pair of lines under the hung box: what they take, by the give of rails and lines."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.join import taken
from rigcheck.analysis.solve import Borne, Solution, solve
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import Loads, take
from rigcheck.statics.balance import Balance, balance
from rigcheck.statics.beam import Terms, evaluate
from rigcheck.statics.geometry import SIDE, Pose, pose
from rigcheck.statics.rail import RailForces, rail_forces
from rigcheck.statics.resultant import resultant
from rigcheck.tables.load_cases import EMPTY, TOWING, ids


def compared_states() -> tuple[str, ...]:
    """The load cases in which a further support is compared."""
    return ids(lambda case: case.propped)


"""States in which the deployed box hangs on both lines; the support is set on the empty box."""
_LIMP, _EVEN = (0, 1), (2, 2)  # shares that bend the left and the right rail: each its own, or both alike
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
        towed: Whether it is still there while the plant is towed.
    """

    s: Array
    y: Array
    n: Array
    direction: Array
    give: Array
    gap: Array
    towed: bool


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Share:
    """What the support on each side takes, share axis in the order of `rigcheck.statics.rail.SHARES`.

    Attributes:
        still: Under the loads as they are, shape (..., state, share). [lbf]
        heavy: Under the loads times their dynamic factors. [lbf]
        slack: True where it takes so much of the heavy loads that the line hangs slack.
    """

    still: Array
    heavy: Array
    slack: Mask


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Propped:
    """The box on its lines and further supports: the same rows twice, as both supports alike and each for its rail.

    Attributes:
        limp: Each support and line for its own rail; its limp bound counts.
        even: Both supports alike; its other bounds count.
        share: What the supports take.
    """

    limp: Solution
    even: Solution
    share: Share

    def take(self, *, heavy: bool = True) -> Array:
        """What the support on each side takes under each bound, shape (..., state, bound, side). [lbf]"""
        values = self.share.heavy if heavy else self.share.still
        alike = [values[..., _EVEN]] * (self.even.allowed.shape[-1] - 1)
        return np.stack([values[..., _LIMP], *alike], axis=-2)


def tail_leg(rig: Rig, *, at: Array | float, give: Array | float = 0.0, gap: Array | float = 0.0) -> Extra:
    """A leg under each rail that stands on the ground or the plant and pushes straight up.

    Args:
        rig: The rig, one or a batch.
        at: Along the floor from the hinge, shape (...). [in]
        give: Of one leg and what it stands on, per pound, shape (...). [in/lbf]
        gap: Between leg and empty box, shape (...). [in]
    """
    return Extra(
        s=np.asarray(at, dtype=np.float64),
        y=0.5 * rig.number_or("rail.spacing", rig.number("box.width")),
        n=np.zeros(()),
        direction=np.array([0.0, 0.0, 1.0]),
        give=np.asarray(give, dtype=np.float64),
        gap=np.asarray(gap, dtype=np.float64),
        towed=False,
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
        towed=True,
    )


def states_of(rig: Rig) -> Solution:
    """Statics of the states that are compared, on the lines alone."""
    return solve(rig, only=frozenset(compared_states()))


def propped(solution: Solution, *, extra: Extra, line: float = 1.0) -> Propped:
    """The box on its lines and one further support a side.

    Args:
        solution: From `states_of`, one rig or a batch.
        extra: The support.
        line: The lines give so many times what is worked out for them. [1]

    Returns:
        What it comes to.

    Source: docs/method.md#further-supports.
    """
    found = share_of(solution, extra=extra, line=line)

    def with_it(places: tuple[int, int]) -> Solution:
        still, heavy = (
            _pushed(solution.life.loads, extra=extra, force=values[..., places]).push
            for values in (found.still, found.heavy)
        )
        return solve(solution.rig, only=frozenset(compared_states()), borne=Borne(still, heavy))

    return Propped(limp=with_it(_LIMP), even=with_it(_EVEN), share=found)


def share_of(solution: Solution, *, extra: Extra, line: float = 1.0) -> Share:
    """What a support set on the empty box takes: one redundant on each side, by the unit load method.

    With m, n, t from a unit force of the support and c, c_x the give of line and support,
    X = -(sum M m / EI + N n / EA + T t c + gap) / (sum m^2 / EI + n^2 / EA + t^2 c + c_x), M, N and T by what comes
    onto the box after it was set, and X not under zero. Where the line would push it hangs slack and X follows from
    balance. In a limp box each rail has its own support and line, else both are alike.

    Args:
        solution: From `states_of`, one rig or a batch.
        extra: The support.
        line: The lines give so many times what is worked out for them. [1]

    Returns:
        Forces.

    Source: own derivation, docs/method.md#further-supports.
    """
    loads = solution.life.loads
    give = line * solution.give
    one = take(_weightless(loads), rows=[0])
    unit = _pushed(one, extra=extra, force=np.ones((*loads.fold.shape[:-1], 1, 2)))
    at = taken(solution.pose, rows=[0])
    held = balance(resultant(unit, layout=solution.layout, pose=at), layout=solution.layout, pose=at)
    per_pound = _rails(solution, unit, at=at, held=held)
    still = _rails(solution, loads, at=solution.pose, held=solution.held)
    heavy = _rails(solution, loads.demand(), at=solution.pose, held=solution.demand)
    moved, itself = _work(solution, first=still, second=per_pound, give=give)
    pressed, _ = _work(solution, first=heavy, second=per_pound, give=give)
    flexible = itself + extra.give[..., None, None]
    when_set = _when_set(loads, moved) - extra.gap[..., None, None]
    stands = np.array([extra.towed or row.state != TOWING for row in loads.rows])
    there = (stands & ~solution.held.dead)[..., None]

    def force(movement: Array, pull: Array) -> tuple[Array, Mask]:
        stiff = np.where(flexible > 0.0, flexible, 1.0)
        push = np.where(there, np.maximum((when_set - movement) / stiff, 0.0), 0.0)
        slack = pull + push * per_pound.pull < 0.0
        most = -pull / np.where(per_pound.pull < 0.0, per_pound.pull, -1.0)
        return np.where(slack, np.maximum(most, 0.0), push), slack & (push > 0.0)

    take_still, _ = force(moved, still.pull)
    take_heavy, slack = force(pressed, heavy.pull)
    return Share(take_still, take_heavy, slack)


def _when_set(loads: Loads, moved: Array) -> Array:
    """How far the empty box had moved when the support was set, the plant leaning as in each row, (..., state, share).

    The mean of the dry rows for a row that pulls as none of them does, a towed one.
    """
    dry = [i for i, row in enumerate(loads.rows) if row.state == EMPTY]
    pull = loads.gravity
    alike = np.isclose(pull[..., :, None, :], pull[..., None, dry, :], rtol=0.0, atol=1e-9).all(-1)
    share = np.where(alike.any(-1, keepdims=True), alike, 1.0)
    return np.asarray((share / share.sum(-1, keepdims=True)) @ moved[..., dry, :])


def _weightless(loads: Loads) -> Loads:
    strip = {**loads.strip, "w_start": 0.0 * loads.strip["w_start"], "w_end": 0.0 * loads.strip["w_end"]}
    return replace(loads, strip=strip, lump={**loads.lump, "weight": 0.0 * loads.lump["weight"]})


def _pushed(loads: Loads, *, extra: Extra, force: Array) -> Loads:
    """The loads with the support's force on each side, shape (..., state, side), besides what pushes already."""
    along, across, up = (extra.direction[..., axis, None, None] for axis in range(3))
    place = {"s": extra.s[..., None, None], "y": extra.y[..., None, None] * SIDE, "n": extra.n[..., None, None]}
    new = {"fx": along * force, "fy": across * SIDE * force, "fz": up * force, **place}
    push: dict[str, Array] = {
        name: np.concatenate([loads.push[name], np.broadcast_to(values, force.shape)], axis=-1)
        for name, values in new.items()
    }
    return replace(loads, push=push)


def _rails(solution: Solution, loads: Loads, *, at: Pose, held: Balance) -> RailForces:
    return rail_forces(loads, layout=solution.layout, pose=at, balance=held, axis=solution.section.axis)


def _work(solution: Solution, *, first: RailForces, second: RailForces, give: Array) -> tuple[Array, Array]:
    """Movement of the support's point along its force, by loads and by a unit of itself, shapes (..., state, share)."""
    places = first.stations
    more = np.broadcast_to(second.stations, (*places.shape[:-1], second.stations.shape[-1]))
    stations = np.sort(np.concatenate([places, more], -1), -1)
    span = np.diff(stations, axis=-1)[..., None]
    x = stations[..., :-1, None] + 0.5 * span * (1.0 + _GAUSS)
    flat = x.reshape(*x.shape[:-2], -1)
    weight = (span * _GAUSS_WEIGHT).reshape(flat.shape)
    bending = (solution.section.modulus * solution.section.inertia)[..., None, None, None]
    axial = (solution.section.modulus * solution.section.area)[..., None, None, None]

    def along(terms: Terms) -> Array:
        return evaluate(terms, x=flat)

    m, n = along(second.moment), along(second.axial)
    stretch = give[..., None] * second.pull

    def movement(moment: Array, force: Array, pull: Array) -> Array:
        return np.asarray((weight * (moment * m / bending + force * n / axial)).sum(-1) + pull * stretch)

    return movement(along(first.moment), along(first.axial), first.pull), movement(m, n, second.pull)

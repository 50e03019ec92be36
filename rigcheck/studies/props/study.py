"""Compare the box hung on its lines with the same box on a tail leg, and on a second pair of lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.links.capacity import side_fraction
from rigcheck.analysis.rows import OVER, Check, bound_names, worst
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.loads.pieces import BOUNDS
from rigcheck.loads.shape import divided
from rigcheck.parts.plant.checks import GROUP
from rigcheck.parts.registry import all_flags, hung_checks
from rigcheck.studies.props.options import HUNG, KNOWN_TO, LEG, Option, extra_of, options, second_links
from rigcheck.studies.props.propped import Propped, compared_states, propped, states_of

_LIMP = np.array([[name == "limp"] for name in BOUNDS])  # shape (bound, side)
QUANTITIES = ("line", "extra", "hinge", "uplift", "sagging", "hogging", "tail_deflection")


@dataclass(frozen=True, slots=True)
class Use:
    """One mode of one part at its worst, over both ways of taking the support.

    Attributes:
        part: The part.
        mode: What it is held against.
        group: Room of the rig.
        utilization: Demand over capacity. [1]
        state: State in which.
        firm: Whether with the support firm; else soft, or without one.
        bound: How the lines share there.
        snag: Held against the hoist's full rating.
    """

    part: str
    mode: str
    group: str
    utilization: float
    state: str
    firm: bool
    bound: str
    snag: bool


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One way of holding the box.

    Attributes:
        name: `hung`, `tail leg` or `second pair`.
        rig: A rig whose case describes it.
        described: Whether the case describes it; else it is where one would try it first.
        values: Per state the least and the most over soft and firm of the worst value of each of `QUANTITIES`: forces
            of one line, support and hinge group [lbf], moments of a rail [lbf*in], with the dynamic factors; fall of
            the tail [in] under loads as they are.
        uses: Every mode of every part, the highest utilization first.
        slack: Whether a firm support takes so much that a line hangs slack.
        stops: Codes of what stops the hung rig in the states compared; no support cures them.
    """

    name: str
    rig: Rig
    described: bool
    values: dict[str, dict[str, tuple[float, float]]]
    uses: tuple[Use, ...]
    slack: bool
    stops: tuple[str, ...]

    @property
    def governing(self) -> Use:
        """What governs, the hoist's full rating left aside, which is the same however the box is held."""
        return next(one for one in self.uses if not one.snag)

    @property
    def over(self) -> bool:
        """Whether anything is over or stops."""
        return bool(self.stops) or self.governing.utilization > OVER


def props(rig: Rig) -> list[Arrangement]:
    """The box hung, on a tail leg, and on a second pair of lines.

    Args:
        rig: One rig, not a batch.

    Returns:
        The arrangements, the hung one first.

    Raises:
        CaseError: The box is in stretches, whose further supports are not looked at.

    Source: docs/method.md#further-supports.
    """
    must_be_finished(rig.case)
    if divided(rig):
        why = "a further support of a box in stretches is not looked at; its rails would be taken as alike all along"
        raise CaseError([Problem("case", "stretch", why)])
    solution = states_of(rig)
    found = [_hung(solution)]
    return [*found, *(compared(option, solution) for option in options(rig))]


def _hung(solution: Solution) -> Arrangement:
    taken = np.zeros(solution.shape)
    values = _values(solution, solution, extra=taken, still=taken)
    return Arrangement(
        name=HUNG,
        rig=solution.rig,
        described=True,
        values=_between([values]),
        uses=_uses([(False, solution, solution, [])]),
        slack=False,
        stops=_stops(solution),
    )


def _stops(solution: Solution) -> tuple[str, ...]:
    """Codes of what stops the rig in these states."""
    shape, allowed = solution.shape, solution.allowed[..., None]
    stops = [flag for flag in all_flags(solution) if flag.stops]
    return tuple(dict.fromkeys(one.code for one in stops if np.any(np.broadcast_to(one.where, shape) & allowed)))


def compared(option: Option, solution: Solution) -> Arrangement:
    """One option, soft and firm.

    Args:
        option: The option.
        solution: Statics of the hung rig, from `states_of`.
    """
    values, checked, slack = [], [], False
    for firm in (False, True):
        extra = extra_of(option, solution, firm=firm)
        found = propped(solution, extra=extra, line=KNOWN_TO if firm else 1.0 / KNOWN_TO)
        slack = slack or bool(found.share.slack.any())
        values.append(_values(found.limp, found.even, extra=found.take(), still=found.take(heavy=False)))
        aside = float(np.abs(extra.direction[..., 1]))
        checked.append((firm, found.limp, found.even, _own_checks(option, found, aside=aside)))
    return Arrangement(
        name=option.name,
        rig=option.rig,
        described=option.described,
        values=_between(values),
        uses=_uses(checked),
        slack=slack,
        stops=_stops(solution),
    )


def _on_bounds(limp: Array, even: Array) -> Array:
    """Values under every bound, shape (..., state, bound, side): of the limp box those of its own supports."""
    return np.where(_LIMP, limp, even)


def _values(limp: Solution, even: Solution, *, extra: Array, still: Array) -> dict[str, dict[str, float]]:
    """The worst value of every quantity in each state."""

    def rails(of: Solution, sign: float) -> Array:
        return of.bent.on_bounds(np.maximum(sign * of.peaks.moment, 0.0).max(-1))

    def drop(of: Solution) -> Array:
        return of.sagged.on_bounds(of.sag.tail_deflection)

    size = [np.sqrt((one.demand.hinge**2).sum(-1)) for one in (limp, even)]
    every = {
        "line": _on_bounds(limp.demand.tension, even.demand.tension),
        "extra": extra,
        "hinge": _on_bounds(*size),
        "uplift": _on_bounds(-limp.demand.hinge[..., 2], -even.demand.hinge[..., 2]),
        "sagging": _on_bounds(rails(limp, 1.0), rails(even, 1.0)),
        "hogging": _on_bounds(rails(limp, -1.0), rails(even, -1.0)),
        "tail_deflection": _on_bounds(drop(limp), drop(even)),
    }
    found: dict[str, dict[str, float]] = {}
    for state in compared_states():
        rows = even.states(state)
        allowed = np.broadcast_to(even.allowed[rows][..., None], every["line"][rows].shape)
        found[state] = {name: max(float(values[rows][allowed].max()), 0.0) for name, values in every.items()}
    return found


def _between(found: Sequence[dict[str, dict[str, float]]]) -> dict[str, dict[str, tuple[float, float]]]:
    return {
        state: {
            name: (min(one[state][name] for one in found), max(one[state][name] for one in found))
            for name in QUANTITIES
        }
        for state in compared_states()
    }


def _uses(checked: Sequence[tuple[bool, Solution, Solution, list[Check]]]) -> tuple[Use, ...]:
    """Every mode of every part at its worst."""
    found: dict[tuple[str, str, bool], Use] = {}
    limp_alone = _LIMP[:, 0]
    for firm, limp, even, own in checked:
        every = even.allowed
        looked = [(limp, check, every & limp_alone) for check in hung_checks(limp)]
        looked += [(even, check, every & ~limp_alone) for check in hung_checks(even)]
        looked += [(even, check, every) for check in own]
        for solution, check, allowed in looked:
            if check.on_accidents or check.group == GROUP:  # what a leg takes off the plant is not counted on
                continue
            one = worst(check, allowed=allowed, shape=solution.shape)
            use, key = float(one.utilization), (check.part, check.mode, check.snag)
            if use < 0.0 or (key in found and found[key].utilization >= use):
                continue
            row = solution.rows[int(one.state)]
            name, on = bound_names(row.ultimate)[int(one.bound)]
            bound = name if on is None else f"{name} {on}"
            found[key] = Use(check.part, check.mode, check.group, use, row.state, firm, bound, check.snag)
    return tuple(sorted(found.values(), key=lambda use: -use.utilization))


def _own_checks(option: Option, found: Propped, *, aside: float) -> list[Check]:
    """The support itself: a leg against its capacity, the second line link by link."""
    rig, force = option.rig, found.take()
    if option.name is LEG:
        if not rig.has("tail_leg.capacity"):
            return []
        return [
            Check(part="tail leg", group="props", mode="most it may carry", unit="force", demand=force,
                  capacity=rig.number("tail_leg.capacity")[..., None, None, None], basis="as given", clause="case file")
        ]  # fmt: skip
    checks = []
    for link in second_links(rig):
        if link.unknown:
            continue
        kept = 1.0
        if link.at_lug:
            kept = float(side_fraction(np.maximum(np.degrees(np.arcsin(aside)), link.side_angle)))
        checks.append(
            Check(part=link.label, group="props", mode="working load limit", unit="force", demand=force * link.share,
                  capacity=np.asarray(link.working * kept)[..., None, None, None], basis=link.basis, clause=link.clause)
        )  # fmt: skip
    return checks

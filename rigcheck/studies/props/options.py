"""Which further supports are compared: those of the case, or where one would try them first, each soft and firm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from rigcheck.analysis.links.capacity import SECOND, LinkStrength, links
from rigcheck.analysis.solve import Solution
from rigcheck.case.models.case import SecondLine, TailLeg
from rigcheck.case.rig import Rig
from rigcheck.studies.props.propped import Extra, second_pair, tail_leg
from rigcheck.studies.vary.case import broken, with_values


class Support(StrEnum):
    """How a box is held besides its hinge, and what people read it as."""

    HUNG = "hung"
    LEG = "tail leg"
    PAIR = "second pair"


HUNG, LEG, PAIR = Support
KEYS = {LEG: "tail_leg", PAIR: "second_line"}
KNOWN_TO = 2.0
"""Give of lines and supports is known to this factor, either way; an assumption."""
_NEAR_TAIL, _BACK, _STEP = 0.96, 12.0, 1.0  # where they are tried: share of the length; in behind the first perch; in
_BLOCKED = 5000.0
"""A leg on blocking on firm ground, tried where the case describes none; an assumption. [lbf/in]"""
_NEVER = np.asarray(1e9)  # in: a support this far off takes nothing


@dataclass(frozen=True, slots=True)
class Option:
    """One arrangement besides the hung one.

    Attributes:
        name: Which it is.
        rig: A rig whose case describes it.
        described: Whether the case did so itself.
    """

    name: Support
    rig: Rig
    described: bool


def options(rig: Rig) -> list[Option]:
    """A tail leg and a second pair of lines: those of the case, else where one would try them first.

    Args:
        rig: One rig.

    Returns:
        The options; one that the rules of a case do not allow is left out.
    """
    found = []
    for name, key in KEYS.items():
        case, described = rig.case, rig.value(key) is not None
        if not described:
            case = with_values(case, {key: _tried_leg(rig) if name is LEG else _tried_pair(rig)})
            if broken(case, name="option"):
                continue
        found.append(Option(name, Rig(case, rig.varied), described))
    return found


def _tried_leg(rig: Rig) -> TailLeg:
    length, hanger = float(rig.number("box.length")), float(rig.number("hanger.at"))
    at = min(length, max(_STEP * np.round(_NEAR_TAIL * length / _STEP), hanger))
    return TailLeg(at=float(at), stiffness=_BLOCKED)


def _tried_pair(rig: Rig) -> SecondLine:
    length, hanger = float(rig.number("box.length")), float(rig.number("hanger.at"))
    at = min(length, _STEP * np.ceil(0.5 * (length + hanger) / _STEP))
    return SecondLine(at=float(at), downstream=float(rig.number("perch.downstream")) - _BACK)


def second_links(rig: Rig) -> list[LinkStrength]:
    """Links of a second line, its own or as those of the first."""
    return links(rig, table=SECOND) or links(rig, called="second line link")


def _give(links_of: Sequence[LinkStrength]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    parts = [np.zeros(()) if one.give is None else one.give for one in links_of]
    return np.asarray(np.sum(np.broadcast_arrays(*parts), axis=0))


def extra_of(option: Option, solution: Solution, *, firm: bool) -> Extra:
    """The support of an option, as soft or as firm as it may be.

    A soft one gives twice what is stated and stands off by its gap; a leg whose stiffness is not stated may give way
    altogether. A firm one gives half, or nothing where nothing is stated, and has no gap.

    Args:
        option: The option.
        solution: Statics of the hung rig.
        firm: Whether it is taken as firm.
    """
    rig = option.rig
    factor = 1.0 / KNOWN_TO if firm else KNOWN_TO
    if option.name is LEG:
        stated = rig.has("tail_leg.stiffness")
        give = factor / rig.number("tail_leg.stiffness") if stated else np.zeros(())
        gap = np.zeros(()) if firm else rig.number("tail_leg.gap") if stated else _NEVER
        return tail_leg(rig, at=rig.number("tail_leg.at"), give=give, gap=gap)
    return second_pair(
        solution,
        hanger=(rig.number("second_line.at"), rig.number_or("second_line.height", rig.number("hanger.height"))),
        perch=(
            rig.number("second_line.downstream"),
            rig.number_or("second_line.perch_height", rig.number("perch.height")),
        ),
        give=factor * _give(second_links(rig)),
        slack=np.zeros(()) if firm else rig.number("second_line.slack"),
    )

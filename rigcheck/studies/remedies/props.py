"""A tail leg and a second pair of lines as remedies: what they come to over the whole life of the box."""

from __future__ import annotations

from rigcheck.analysis.rows import OVER, worst
from rigcheck.assessment.assess import Assessment
from rigcheck.parts.plant.checks import GROUP
from rigcheck.quantities import write
from rigcheck.studies.props.options import KEYS, LEG, Option, options
from rigcheck.studies.props.propped import states_of
from rigcheck.studies.props.study import Use, compared
from rigcheck.studies.remedies.record import Remedy, Step

# ranking only, a scale of our own
_EFFORT = {LEG: 10.0, "second pair": 14.0}


def prop_remedies(found: Assessment) -> list[Remedy]:
    """What each further support comes to: shared where it stands, without it in all other states.

    Counted are lines, hinge, first hangers and perches, posts, rails and floor under the shared load, and the second
    line; not the leg, what it stands on and presses on, nor hangers and perches of a second pair.

    Args:
        found: Assessment of one rig.

    Returns:
        One remedy for each support; no `check` counts with it.

    Source: docs/method.md#further-supports.
    """
    rig = found.solution.rig
    solution = states_of(rig)
    elsewhere = _elsewhere(found)
    stops = tuple(dict.fromkeys(flag.code for flag in found.flags if flag.stops))
    remedies = []
    for option in options(rig):
        top = max((*compared(option, solution).uses, *elsewhere), key=lambda use: use.utilization)
        key = KEYS[option.name]
        step = Step(family=key, words=_words(option), changes={key: option.rig.value(key)}, effort=_EFFORT[option.name])
        remedies.append(
            Remedy(steps=(step,), utilization=top.utilization, part=top.part, mode=top.mode, state=top.state,
                   stops=stops, cures=not stops and top.utilization <= OVER, counted="props")
        )  # fmt: skip
    return remedies


def _elsewhere(found: Assessment) -> list[Use]:
    """Every check at its worst in the states in which the support is not counted; the plant in all of them."""
    solution = found.solution
    others = ~solution.cases(lambda case: case.propped)
    uses = []
    for one in found.worst:
        check = one.check
        apart = others | (check.group == GROUP)
        allowed = solution.looked_at(on_accidents=check.on_accidents) & apart[:, None]
        there = worst(check, allowed=allowed, shape=solution.shape)
        state = solution.rows[int(there.state)].state
        uses.append(Use(check.part, check.mode, check.group, float(there.utilization), state, False, "", check.snag))
    return uses


def _words(option: Option) -> str:
    rig = option.rig

    def at(key: str) -> str:
        return write(float(rig.number(key)), dimension="length")

    if option.name is LEG:
        words = f"stand a leg under each rail {at('tail_leg.at')} from the hinge"
        if rig.has("tail_leg.stiffness"):
            words += f" that gives no more than an inch under {float(rig.number('tail_leg.stiffness')):,.0f} lb"
        return words
    away = float(rig.number("second_line.downstream"))
    height = rig.number_or("second_line.perch_height", rig.number("perch.height"))
    return (
        f"hang the box on a second pair of lines {at('second_line.at')} from the hinge, like the first, to perches"
        f" {write(abs(away), dimension='length')} {'downstream of' if away > 0.0 else 'behind'} the hinge axis and"
        f" {write(float(height), dimension='length')} up"
    )

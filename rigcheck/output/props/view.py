"""The study of further supports as one plain dict, `rigcheck.props/2`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rigcheck.analysis.rows import verdict_of
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import Source
from rigcheck.output.props.words import answer, headline, support_words
from rigcheck.quantities import Dimension, System
from rigcheck.studies.props.options import KNOWN_TO, LEG, PAIR
from rigcheck.studies.props.propped import compared_states
from rigcheck.studies.props.study import QUANTITIES, Arrangement, Use
from rigcheck.tables.load_cases import load_case
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

SCHEMA = "rigcheck.props/2"
NOTES = {
    "values": "forces and moments with the dynamic factors, of one line, one support, one hinge group, one rail;"
    " tail_deflection under unfactored loads; each the worst of its state, with the support soft and firm",
    "parts": "each part at its worst over the load cases compared, with the support soft or firm",
}
_DIMENSIONS: Mapping[str, Dimension] = {"sagging": "moment", "hogging": "moment", "tail_deflection": "length"}
_ALIKE = (
    "every check, length, hardware and spread judge the hung box: nothing there counts on a further support",
    f"how much lines and supports give is taken as known to a factor of {KNOWN_TO:g} either way (assumption); both ends"
    " are worked out and the worse one is told",
)
_OF_LEG = (
    "a leg stands only while the plant is parked on ground that holds: it is not counted while the plant is towed,"
    " and there is none in the fold, on the road or when a line parts",
    "when a leg sinks, washes out or is forgotten, the lines carry what stands under hung, and at once",
    "a leg must be wedged snug under the empty box: a sixteenth of an inch of gap can be all that the tail falls",
    "ground that heaves, or a plant that sinks past its leg, loads the leg more than is shown",
)
_OF_PAIR = (
    "a second pair takes what its stretch leaves to it: snug it on the empty box, and look at it again under load",
    "a second pair is not counted in the fold, on the road, or for a line that parts",
)
_NOT_COUNTED: Mapping[str, Sequence[str]] = {
    LEG: (
        "the leg itself against buckling, its foot and the ground",
        "what the leg presses on: rail, floor and cross-member over it",
    ),
    PAIR: ("hangers, lugs, perches and posts of the second pair, and the rail between both hangers as a column",),
}


def props_result(
    found: Sequence[Arrangement], *, rig: Rig, source: Source | None = None, system: System = "us"
) -> Plain:
    """The comparison, ready for JSON.

    Args:
        found: The arrangements, the hung one first.
        rig: The rig.
        source: The file the case came from.
        system: Units of every number.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale, tight_above = Scale(system), float(rig.number("factors.tight_above"))
    names = [one.name for one in found]
    told: Plain = {
        "schema": SCHEMA,
        "title": rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        "units": scale.units(),
        "notes": dict(NOTES),
        "states": list(compared_states()),
        "stops": list(found[0].stops),
        "arrangements": [_arrangement(one, scale=scale, tight_above=tight_above) for one in found],
        "assumptions": [*_ALIKE, *(_OF_LEG if LEG in names else ()), *(_OF_PAIR if PAIR in names else ())],
        "cautions": list(CAUTIONS),
    }
    told["headline"] = headline(told)
    hung, *others = told["arrangements"]
    told["answer"] = [answer(one, hung=hung, units=told["units"]) for one in others]
    return told


def _arrangement(one: Arrangement, *, scale: Scale, tight_above: float) -> Plain:
    governing = one.governing
    return {
        "name": one.name,
        "words": support_words(one.rig, name=one.name, scale=scale),
        "described": one.described,
        "verdict": "over" if one.stops else verdict_of(governing.utilization, tight_above=tight_above),
        "utilization": None if one.stops else ratio(governing.utilization),
        "highest_utilization": ratio(governing.utilization),
        "governing": _use(governing),
        "line_slack": one.slack,
        "values": {
            state: {name: _ends(one, state=state, name=name, scale=scale) for name in QUANTITIES}
            for state in compared_states()
        },
        "parts": [_use(use) for use in one.uses if not use.snag],
        "not_counted": list(_NOT_COUNTED.get(one.name, ())),
    }


def _ends(one: Arrangement, *, state: str, name: str, scale: Scale) -> list[float | None]:
    """Least and most of a quantity in a state; null for the shape of a box that is not at rest."""
    if name == "tail_deflection" and load_case(state).moving:
        return [None, None]
    return [scale.one(value, dimension=_DIMENSIONS.get(name, "force")) for value in one.values[state][name]]


def _use(use: Use) -> Plain:
    return {
        "part": use.part,
        "mode": use.mode,
        "group": use.group,
        "utilization": ratio(use.utilization),
        "state": use.state,
        "support": "firm" if use.firm else "soft",
        "bound": use.bound,
    }

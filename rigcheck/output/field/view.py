"""The field study as one plain dict, the contract `rigcheck.field/2`, and the sentences that say what it comes to."""

from __future__ import annotations

from rigcheck.assessment.assess import Assessment
from rigcheck.assessment.verdict import rig_word
from rigcheck.loads.measured import total
from rigcheck.output.check.checks import checks
from rigcheck.output.check.result import Source
from rigcheck.output.field.words import field_headline, field_why
from rigcheck.output.leveling import leveling_words
from rigcheck.quantities import System
from rigcheck.studies.field.readings import Readings
from rigcheck.studies.field.record import Result
from rigcheck.studies.field.study import Explanation, FieldStudy
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio
from rigcheck.wording.words import case_word

SCHEMA = "rigcheck.field/2"
FIELD_CAUTIONS = (
    "Stay out from under the box and clear of a stretched rope while reading; block the box before reaching in.",
    "Read lifting and lowering and take the average: pin friction reads high one way and low the other.",
)


def field_result(study: FieldStudy, *, source: Source | None = None, system: System = "us") -> Plain:
    """Everything the field study says of one rig, ready for JSON.

    Args:
        study: The study.
        source: The file the case came from.
        system: Units of every number in it, but for the text to paste.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale, reduced = Scale(system), study.reduced
    force = reduced.model.empty_weight
    found: Plain = {
        "schema": SCHEMA,
        "title": study.rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        "verdict": _verdict(study),
        "not_assessed": [str(one) for one in (study.after or study.before).not_assessed],
        "state": reduced.readings.state,
        "units": scale.units(),
        "uncertainty": {
            "scale_percent": 100.0 * reduced.readings.scale_error,
            "tape": scale.one(reduced.readings.tape_error, dimension="length"),
        },
        "results": [_result(one, scale=scale) for one in reduced.results],
        "expected": {
            "empty_weight": scale.one(force, dimension="force"),
            "empty_moment": scale.one(reduced.model.empty_moment, dimension="moment"),
            "moment": scale.one(reduced.model.moment, dimension="moment"),
            "line_lowest": scale.one(reduced.model.lowest, dimension="force"),
            "line_highest": scale.one(reduced.model.highest, dimension="force"),
            "lever_arm": scale.one(reduced.model.arm, dimension="length"),
            "lever_arm_taped": reduced.readings.arm is not None,
        },
        "explanations": [_explanation(one, scale=scale) for one in study.explanations],
        "contents": study.contents,
        "line": _line(study, scale=scale),
        "findings": [{"code": one.code, "text": one.text, "spoils": one.spoils} for one in reduced.remarks],
        "store": dict(study.store) or None,
        "refused": study.refused,
        "check": {
            "before": _check(study.before, scale=scale),
            "after": None if study.after is None else _check(study.after, scale=scale),
        },
        "assumptions": _assumptions(reduced.readings),
        "cautions": [*FIELD_CAUTIONS, *CAUTIONS],
    }
    leveled = leveling_words(study.rig, scale=scale)
    if leveled:
        found["findings"].append({"code": "leveling", "text": f"leveling: {' '.join(leveled)}", "spoils": False})
    found["headline"] = field_headline(found)
    found["why"] = field_why(found)
    return found


def _verdict(study: FieldStudy) -> str:
    if study.refused:
        return "not_assessed"
    last = study.after or study.before
    tight_above = float(study.rig.number("factors.tight_above"))
    pulled = study.line_demand is not None and study.line_demand > tight_above * study.allowed
    return rig_word(
        over=study.over, complete=not last.not_assessed, tight=pulled or float(last.utilization) > tight_above
    )


def _result(one: Result, *, scale: Scale) -> Plain:
    def number(value: float) -> float | None:
        return scale.one(value, dimension=one.dimension)

    return {
        "what": one.what,
        "how": one.how,
        "value": number(one.value),
        "uncertainty": number(one.error),
        "expected": number(one.expected),
        "ratio": one.ratio,
        "agrees": one.agrees,
        "usable": one.usable,
        "unit": scale.label(one.dimension),
    }


def _explanation(one: Explanation, *, scale: Scale) -> Plain:
    return {
        "what": one.what,
        "times_by_moment": one.by_moment,
        "times_by_weight": one.by_weight,
        "missing_weight": None if one.weight is None else scale.one(one.weight, dimension="force"),
        "at": None if one.at is None else scale.one(one.at, dimension="length"),
    }


def _line(study: FieldStudy, *, scale: Scale) -> Plain | None:
    """The measured pull, its uncertainty and dynamic factor on it, against the weakest link."""
    if study.line_demand is None:
        return None
    return {
        "demand": scale.one(study.line_demand, dimension="force"),
        "allowed": scale.one(study.allowed, dimension="force"),
        "weakest_link": study.weakest,
        "dynamic_factor": float(study.rig.number("factors.hung")),
        "utilization": study.line_demand / study.allowed if study.allowed > 0.0 else None,
    }


def _check(assessment: Assessment, *, scale: Scale) -> Plain:
    """What governs a check, and the empty box it counts with."""
    row = checks(assessment, scale=scale, tight_above=float(assessment.solution.rig.number("factors.tight_above")))[0]
    return {
        "empty_weight": scale.one(total(assessment.solution.life.pieces), dimension="force"),
        "over": bool(assessment.over),
        "stopped": bool(assessment.stopped),
        "utilization": ratio(assessment.utilization),
        "governs": f"{row['part']}, {row['mode']}, {case_word(row)}",
    }


def _assumptions(readings: Readings) -> list[str]:
    found = [
        f"scale and load cell read to {100.0 * readings.scale_error:.3g} %, tape to {readings.tape_error:.4g} in;"
        " errors independent of each other; change with --scale-error and --tape-error",
        "no friction in the hinge; the plant stands as in the case; the box hangs at its pitch, lines of equal length",
    ]
    if readings.tail_lift:
        found.append("the distance of the tail lift is level, from the hinge axis, as the box hangs")
    if readings.arm is None:
        found.append("the lever arm of the lines is that of the case; tape it square from the hinge and give --arm")
    if readings.side_pull:
        found.append("the line is pulled square to itself at its middle; links in it turn freely")
    if readings.water_fill is not None:
        found.append("clear water, level, behind a blocked tail; nothing else in the box")
    return found

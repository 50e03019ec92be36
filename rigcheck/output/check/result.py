"""The result of an assessment as one plain dict, the contract `rigcheck.result/2`; every other view reads only this."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.assessment.assess import Assessment
from rigcheck.case import defaulted_keys
from rigcheck.case.schema.sections import fields_of, stated
from rigcheck.case.source import Source as Source
from rigcheck.output.check.checks import checks, findings, highest
from rigcheck.output.check.states import rail, states, told_rows
from rigcheck.output.check.why import headline, why
from rigcheck.output.check.worst import plant_loads, worst_loads
from rigcheck.output.rig_words import rig_plain
from rigcheck.parts.unsaid import taken_in_place
from rigcheck.quantities import System
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.marks import marked
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

SCHEMA = "rigcheck.result/2"
NOTES = {
    "states": "line and hinge forces under static loads, without dynamic factors; hinge forces are those of the plant"
    " on the box; of the fold sweep only some angles",
    "rail": "moments, shear, axial force and stress with the dynamic factors; sag, tail drop and pitch left under"
    " static loads",
    "checks": "demands with the dynamic factor named in the row, static where it names none",
    "plant_loads": "forces of the box on the plant that act together, plant axes x, y, z; unfactored, and with the"
    " dynamic factors",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Extras:
    """What studies add to a result, each already plain and in the units of the output; None where there is none.

    Attributes:
        bed_mark: Deepest settled bed at which nothing is over.
        hoists: What the mark of each hoist may be.
        tie_downs: What holds the box on the road.
        fold: What folding comes to.
        plant: How the plant stands under the box, and what its tongue carries.
        confirm: Largest differences from the second opinion.
    """

    bed_mark: Mapping[str, Any] | None = None
    hoists: Sequence[Mapping[str, Any]] | None = None
    tie_downs: Mapping[str, Any] | None = None
    fold: Mapping[str, Any] | None = None
    plant: Mapping[str, Any] | None = None
    confirm: Mapping[str, Any] | None = None


def result(
    assessment: Assessment, *, source: Source | None = None, system: System = "us", extras: Extras | None = None
) -> Plain:
    """Everything that is known about one rig, ready for JSON.

    Args:
        assessment: The answer for one rig, no batch.
        source: The file the case came from.
        system: Units of every number in it.
        extras: What studies add.

    Returns:
        The result; no NaN and no infinity in it.
    """
    rig = assessment.solution.rig
    if assessment.solution.shape[:-3] != ():
        raise ValueError("a result is of one rig, not of a batch")
    scale, more = Scale(system), extras or Extras()
    tight_above = float(rig.number("factors.tight_above"))
    rows = checks(assessment, scale=scale, tight_above=tight_above)
    told = told_rows(assessment.solution, also=(int(one.state) for one in assessment.worst))
    taken = assumptions(assessment)
    stopped = bool(assessment.stopped)
    governing = highest(rows)
    found: Plain = {
        "schema": SCHEMA,
        "title": rig.case.title,
        "revision": rig.case.revision,
        "by": rig.case.by,
        "note": rig.case.note,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        **rig_plain(assessment),
        "stopped": stopped,
        "utilization": None if stopped or governing is None else governing["utilization"],
        "highest_utilization": None if governing is None else governing["utilization"],
        "tight_above": tight_above,
        "basis": rig.case.basis,
        "units": scale.units(),
        "notes": dict(NOTES),
        "states": states(assessment.solution, scale=scale, rows=told),
        "rail": rail(assessment.solution, scale=scale, rows=told),
        "checks": rows,
        "governing": None if governing is None else {**governing, **({"utilization": None} if stopped else {})},
        "findings": findings(assessment, scale=scale),
        "plant_loads": plant_loads(assessment.solution, scale=scale),
        "worst_loads": worst_loads(assessment.solution, scale=scale),
        "water": water(assessment, scale=scale),
        "take_off": take_off(assessment, scale=scale),
        "empty": empty(assessment, scale=scale),
        "bed_mark": _plain(more.bed_mark),
        "hoists": None if more.hoists is None else [dict(one) for one in more.hoists],
        "tie_downs": _plain(more.tie_downs),
        "fold": _plain(more.fold),
        "plant": _plain(more.plant),
        "confirm": _plain(more.confirm),
        "assumptions": taken,
        "defaulted": [one["key"] for one in taken if one["defaulted"]],
        "cautions": list(CAUTIONS),
    }
    found["headline"] = headline(found)
    found["why"] = why(found)
    return found


def _plain(extra: Mapping[str, Any] | None) -> Plain | None:
    return None if extra is None else dict(extra)


def water(assessment: Assessment, *, scale: Scale) -> Plain:
    """Depths of water; null where the case describes no flow."""
    rig, found = assessment.solution.rig, assessment.solution.life.contents
    flow, pool = found.flow, found.pool

    def length(value: Any) -> float | None:
        return scale.one(value, dimension="length")

    runs = rig.has("water.flow")
    running: Plain = {
        "flow": scale.one(rig.number("water.flow"), dimension="flow"),
        "normal_depth": length(flow.normal) if float(flow.normal) > 0.0 else None,
        "critical_depth": length(flow.critical),
        "depth": length(flow.depth),
        "loaded_by": "critical depth" if bool(flow.by_critical) else "normal depth",
        "froude": scale.one(flow.froude, dimension="number"),
        "over_the_sides": bool(found.overtops),
        "surge_depth": length(found.surge),
        "feed_force": scale.one(found.impact, dimension="force"),
    } if runs else {}  # fmt: skip
    names = ("flow", "normal_depth", "critical_depth", "depth", "loaded_by", "froude", "over_the_sides", "surge_depth",
             "feed_force")  # fmt: skip
    return {
        **dict.fromkeys(names),
        **running,
        "density": scale.one(found.density, dimension="density"),
        "pool": {
            "surface": length(pool.surface),
            "start": length(pool.start),
            "depth_start": length(pool.depth_start),
            "depth_tail": length(pool.depth_tail),
        },
    }


def take_off(assessment: Assessment, *, scale: Scale) -> list[Plain]:
    """Weight of the empty box, piece by piece."""
    return [
        {
            "piece": piece.name,
            "weight": scale.one(piece.weight, dimension="force"),
            **{axis: scale.one(getattr(piece, axis), dimension="length") for axis in ("s", "y", "n")},
            "whole_length": piece.spread,
            "source": marked(piece.source),
        }
        for piece in assessment.solution.life.pieces
    ]


def empty(assessment: Assessment, *, scale: Scale) -> Plain:
    """Weight and center of gravity of the take-off."""
    pieces = assessment.solution.life.pieces
    weights = np.array([float(piece.weight) for piece in pieces])
    total = float(weights.sum())
    cg = {}
    for axis in ("s", "y", "n"):
        first = float((weights * np.array([float(getattr(piece, axis)) for piece in pieces])).sum())
        cg[axis] = scale.one(first / total if total > 0.0 else 0.0, dimension="length")
    return {"weight": scale.one(total, dimension="force"), "cg": cg}


def assumptions(assessment: Assessment) -> list[Plain]:
    """Every default taken, and every factor that is a choice even where the case states it.

    Args:
        assessment: The answer for one rig.

    Returns:
        Key, value as in a case file, source, and whether it was defaulted.
    """
    found: list[Plain] = [
        {"key": key, "value": value, "source": marked(source), "defaulted": defaulted}
        for key, value, source, defaulted in _assumed(assessment)
    ]
    factors = assessment.solution.rig.case.factors
    given = stated(factors)
    for name in fields_of(type(factors)):
        if name in given:
            value = f"{getattr(factors, name):.6g}"
            found.append({"key": f"factors.{name}", "value": value, "source": "stated in the case", "defaulted": False})
    return found


def assumed_sources(assessment: Assessment) -> list[str]:
    """Sources of what was assumed, as they were written down, with their signs."""
    return [source for _, _, source, _ in _assumed(assessment)]


def _assumed(assessment: Assessment) -> list[tuple[str, Any, str, bool]]:
    """Key, value, source and whether it was defaulted, of every default and of what a study of the rig took."""
    solution = assessment.solution
    taken = {one.path: (one.value, one.source) for one in defaulted_keys(solution.rig.case)} | {
        f"line.{table}[{place}].{one.word}": (one.value, one.source)
        for table, links in (("link", solution.links), ("backup", solution.backup))
        for place, link in enumerate(links, 1)
        for one in link.rating.assumed
    }
    found = [(key, value, source, True) for key, (value, source) in taken.items()]
    return found + [
        (one.key, one.value, one.source, one.defaulted)
        for one in taken_in_place(solution.rig, hauled=solution.road is not None)
    ]

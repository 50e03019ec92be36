"""Everything a report shows, as one plain dict: the result, the drawing, the rail's diagrams, the inputs as read."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck import __version__
from rigcheck.analysis.rows import SIDES, bound_names
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment
from rigcheck.case import glossary
from rigcheck.loads.steel import take_off
from rigcheck.output.check.result import assumed_sources
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.detail_data import detail_data
from rigcheck.output.drawing.free_body_data import governing_body
from rigcheck.output.limits import limits_plain
from rigcheck.output.report.formulas import formulas
from rigcheck.output.report.pieces import contents_of_states
from rigcheck.output.report.rail_stress import stress_parts
from rigcheck.output.report.wind_data import wind_data
from rigcheck.quantities import DIMENSIONS, System, read, write
from rigcheck.statics.beam import Terms, evaluate
from rigcheck.tables import shapes
from rigcheck.wording.marks import KNOWN, Mark, marked, marks_of
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

SCHEMA = "rigcheck.report/2"
_POINTS = 121  # stations of a curve besides its discontinuities


@dataclass(frozen=True, slots=True, kw_only=True)
class Studies:
    """Results of studies that a report takes in, each already plain; None where it was not made.

    Attributes:
        fold: The fold study with its sweep, `rigcheck.fold/2`.
        length: The length study, or a coarse curve in its form.
        neighbors: The case with one input moved.
        haul: The road study.
        working: Worked calculation.
        confirm: Second opinion.
        fixes: What fixes a rig that is over.
        made: The day the report is made, in words.
    """

    fold: Mapping[str, Any] | None = None
    length: Mapping[str, Any] | None = None
    neighbors: Sequence[Mapping[str, Any]] | None = None
    haul: Mapping[str, Any] | None = None
    working: Mapping[str, Any] | None = None
    confirm: Mapping[str, Any] | None = None
    fixes: Sequence[Mapping[str, Any]] | None = None
    made: str | None = None


def report_data(
    assessment: Assessment,
    *,
    result: Mapping[str, Any],
    text: str,
    system: System = "us",
    studies: Studies | None = None,
) -> Plain:
    """The packet of a report, ready for JSON and for the page.

    Args:
        assessment: The answer for one rig.
        result: Its result, in the same units.
        text: The case file as it was read.
        system: Units of every number.
        studies: What studies add.

    Returns:
        The packet; no NaN and no infinity in it.
    """
    scale, more = Scale(system), studies or Studies()
    packet = {
        "schema": SCHEMA,
        "result": dict(result),
        "program": __version__,
        "made": more.made,
        "drawing": drawing_data(assessment, scale=scale),
        "body": governing_body(assessment, scale=scale),
        "details": detail_data(assessment, scale=scale),
        "wind": wind_data(assessment.solution.rig, scale=scale),
        "fixes": None if more.fixes is None else [dict(one) for one in more.fixes],
        "rail_diagrams": rail_diagrams(assessment, scale=scale),
        "contents": contents_of_states(assessment, scale=scale),
        "inputs": inputs(text, system=system),
        "case_text": text,
        "meanings": meanings(result),
        "sources": sources(result, marks=source_marks(assessment)),
        "fold": None if more.fold is None else dict(more.fold),
        "length": None if more.length is None else dict(more.length),
        "neighbors": None if more.neighbors is None else [dict(one) for one in more.neighbors],
        "haul": None if more.haul is None else dict(more.haul),
        "working": None if more.working is None else dict(more.working),
        "confirm": None if more.confirm is None else dict(more.confirm),
        "limits": limits_plain(),
    }
    return {**packet, "formulas": formulas(packet)}


def rail_diagrams(assessment: Assessment, *, scale: Scale) -> Plain | None:
    """Axial force, shear and moment of the most stressed rail, and the shape of the rail that sags most.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        Curves against the station along the floor; None where no rail is bent.
    """
    solution = assessment.solution
    places = [
        (i, side)
        for i, (row, _) in enumerate(solution.bent.pairs)
        if not solution.rows[row].ultimate and not solution.held.dead[row]
        for side in range(len(SIDES))
    ]
    if not places:
        return None
    i, side = max(places, key=lambda place: float(solution.peaks.stress[place]))
    index, bound = solution.bent.pairs[i]
    row = solution.rows[index]
    forces, at = solution.bent.forces.terms(i, side=side), (i, side)
    x = _stations(forces.stations, length=float(solution.layout.length))
    name, on = bound_names(row.ultimate)[bound]
    return {
        "state": row.state,
        "variant": scale.variant(row.variant),
        "bound": name,
        "on": on,
        "side": SIDES[side],
        "dynamic_factor": row.factor,
        "hanger": scale.one(solution.layout.hanger_s, dimension="length"),
        "x": scale.many(np.repeat(x, 2), dimension="length"),
        "axial": scale.many(-_curve(forces.axial, x=x, integrals=0), dimension="force"),
        "shear": scale.many(_curve(forces.shear, x=x, integrals=-1), dimension="force"),
        "moment": scale.many(_curve(forces.moment, x=x, integrals=0), dimension="moment"),
        "stress": scale.one(solution.peaks.stress[at], dimension="stress"),
        "stress_at": scale.one(solution.peaks.stress_at[at], dimension="length"),
        "stress_parts": stress_parts(forces.axial, forces.moment, section=solution.section, scale=scale,
                                     at=float(solution.peaks.stress_at[at])),
        "shape": _shape(assessment, scale=scale),
    }  # fmt: skip


def _stations(discontinuities: Array, *, length: float) -> Array:
    return np.unique(np.concatenate([discontinuities, np.linspace(0.0, length, _POINTS)]))


def _curve(terms: Terms, *, x: Array, integrals: int) -> Array:
    """Values just uphill and just downhill of each station, in turn."""
    before = evaluate(terms, x=x, integrals=integrals, before=True)
    return np.stack([before, evaluate(terms, x=x, integrals=integrals)], axis=-1).reshape(-1)


def _shape(assessment: Assessment, *, scale: Scale) -> Plain | None:
    """Fall of the rail from its unloaded place under the loads as they are, in the state whose tail drops most."""
    solution = assessment.solution
    sag = solution.sag
    places = [
        (i, side)
        for i, (row, _) in enumerate(solution.sagged.pairs)
        if not solution.held.dead[row] and not solution.rows[row].ultimate
        for side in range(len(SIDES))
    ]
    if not places:
        return None
    i, side = max(places, key=lambda place: abs(float(sag.tail_deflection[place])))
    index, bound = solution.sagged.pairs[i]
    row = solution.rows[index]
    x = _stations(sag.x[i, side], length=float(solution.layout.length))
    drop = sag.drop_at(x, rail=(i, side))
    return {
        "state": row.state,
        "variant": scale.variant(row.variant),
        "bound": bound_names(row.ultimate)[bound][0],
        "x": scale.many(x, dimension="length"),
        "drop": scale.many(drop, dimension="length"),
        "sag": scale.one(sag.sag[i, side], dimension="length"),
        "tail_deflection": scale.one(sag.tail_deflection[i, side], dimension="length"),
        "give_known": not any(link.give is None for link in solution.links),
    }


def inputs(text: str, *, system: System) -> list[Plain]:
    """Every key of a case file as entered, and what it was read as.

    Args:
        text: The case file.
        system: Units in which the reading is told.

    Returns:
        Key path, text as entered, and the reading; the reading is empty where it is the same.
    """
    kinds = {entry.path: entry.kind.partition(",")[0] for entry in glossary()}
    found = []
    for location, value in _leaves(tomllib.loads(text), ()):
        dimension = kinds.get(".".join(step for step in location if isinstance(step, str)))
        reading = ""
        if dimension in DIMENSIONS and isinstance(value, str):
            reading = write(read(value, dimension=dimension), dimension=dimension, system=system, digits=5)
        entered = json.dumps(value, ensure_ascii=False, default=str)
        found.append({"key": _path(location), "entered": entered, "read_as": reading})
    return found


def _leaves(value: Any, location: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    if isinstance(value, dict):
        for name, one in value.items():
            yield from _leaves(one, (*location, name))
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for number, one in enumerate(value):
            yield from _leaves(one, (*location, number))
    else:
        yield location, value


def _path(location: tuple[str | int, ...]) -> str:
    text = ""
    for step in location:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def meanings(result: Mapping[str, Any]) -> dict[str, str]:
    """What each key among the assumptions means, from the glossary of the case."""
    told = {entry.path: entry.meaning for entry in glossary()}
    keys = (one["key"] for one in result["assumptions"])
    return {key: told[plain] for key in keys if (plain := re.sub(r"\[\d+\]", "", key)) in told}


Marks = Mapping[str, tuple[Mark, ...]]


def source_marks(assessment: Assessment) -> Marks:
    """Marks of every clause and source of a result by its words, as whoever wrote it down gave them.

    Args:
        assessment: The answer for one rig.

    Returns:
        Of a check those of its clause, else those of its basis; of a shape those of its table.
    """
    rig, found = assessment.solution.rig, dict[str, tuple[Mark, ...]]()
    for one in assessment.worst:
        told = marks_of(one.check.clause) or marks_of(one.check.basis)
        found[marked(one.check.clause)] = found.get(marked(one.check.clause)) or told
    for source in (*(piece.source for piece in take_off(rig)), *assumed_sources(assessment)):
        found[marked(source)] = found.get(marked(source)) or marks_of(source)
    keys = ("rail.stiffener", "cross_member.shape", "end_tube.shape")
    for shape in (shapes.find(rig.value(key)) for key in keys if rig.has(key)):
        found[marked(shape.source)] = (KNOWN[shape.known],) if shape.known in KNOWN else ()
    return found


def sources(result: Mapping[str, Any], *, marks: Marks) -> list[Plain]:
    """Every clause and source that the result stands on, with its mark and what it was used for.

    Args:
        result: The result.
        marks: Marks of its clauses and sources.

    Returns:
        Source, mark (source checked or not, derivation, case file, own, or empty where it has none) and the parts or
        keys that use it.
    """
    used: dict[str, list[str]] = {}
    for row in result["checks"]:
        used.setdefault(row["clause"], []).append(row["part"])
    for piece in result["take_off"]:
        if piece["source"] != "case file":
            used.setdefault(piece["source"], []).append(f"weight of {piece['piece']}")
    for one in result["assumptions"]:
        if marks.get(one["source"]):
            used.setdefault(one["source"], []).append(one["key"])
    return [
        {
            "source": source,
            "known": ", ".join(mark.value for mark in marks.get(source, ())),
            "used_for": list(dict.fromkeys(parts)),
        }
        for source, parts in used.items()
    ]

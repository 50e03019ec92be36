"""The haul study as one plain dict, the contract `rigcheck.haul/2`."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import LEGAL, OVER, Worst, verdict_of
from rigcheck.assessment.verdict import rig_word
from rigcheck.case.rig import Rig
from rigcheck.output.check.checks import dimension_of
from rigcheck.output.check.result import Source
from rigcheck.output.check.states import vectors
from rigcheck.output.haul.words import HAUL_CAUTIONS, YARDSTICK, before_the_road, headline, row_words, trap_words, why
from rigcheck.output.rig_words import beside
from rigcheck.parts.tie_down.checks import blocked_forward, strap_name
from rigcheck.quantities import System
from rigcheck.studies.haul.study import HaulStudy
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.marks import marked
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio
from rigcheck.wording.words import number

SCHEMA = "rigcheck.haul/2"


def haul_result(study: HaulStudy, *, source: Source | None = None, system: System = "us") -> Plain:
    """Everything the haul study says of one rig, ready for JSON.

    Args:
        study: The study of one rig, no batch.
        source: The file the case came from.
        system: Units of every number in it.

    Returns:
        The result; no NaN and no infinity in it.
    """
    found, scale = study.found, Scale(system)
    rig, size = found.rig, found.envelope
    if study.lean.shape != ():
        raise ValueError("a result is of one rig, not of a batch")
    tight_above = float(rig.number("factors.tight_above"))
    rows = _rows(study, scale=scale)
    worst = sorted(study.worst, key=lambda one: (_kept_size(one), -float(one.utilization)))
    checks = [_check(one, rows=rows, scale=scale, tight_above=tight_above) for one in worst]
    tight = float(study.utilization) > tight_above
    alone = rig_word(over=bool(study.over), complete=not study.not_assessed, tight=tight)

    def length(value: Any) -> float | None:
        return scale.one(value, dimension="length")

    placed = rig.has("haul.hinge_above_road")
    result: Plain = {
        "schema": SCHEMA,
        "title": rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        **beside(study.assessment),
        "alone": {"verdict": alone, "not_assessed": [str(one) for one in study.not_assessed]},
        "units": {**scale.units(), "speed": scale.label("speed")},
        "leading_end": rig.value("haul.leading_end"),
        "fold_deg": float(np.degrees(rig.number("fold.to"))),
        "weight": scale.one(found.service.weight[0], dimension="force"),
        "cg": {axis: length(found.service.center[0, i]) for i, axis in enumerate("syn")},
        "length_along_road": length(size.length),
        "width": length(size.width) if placed else None,
        "height": length(size.height) if placed else None,
        "blocked_forward": blocked_forward(rig),
        "hinge_kept": bool(rig.value("hinge.pin_retained")),
        "lean": _lean(study, scale=scale),
        "left_over": {
            "share": float(rig.number("haul.left_over")),
            "weight": scale.one(study.bed, dimension="force"),
        },
        "mats": {"weight": scale.one(study.mats, dimension="force")},
        "tie_downs": _tie_downs(study, scale=scale),
        "stops": _stops(study, scale=scale),
        "rows": rows,
        "checks": checks,
        "findings": [
            {"code": flag.code, "text": flag.text, "stops": flag.stops, "rows": _where(flag.where, rows=rows)}
            for flag in sorted(study.flags, key=lambda flag: not flag.stops)
        ],
        "yardstick": list(YARDSTICK),
        "cautions": [*HAUL_CAUTIONS, *CAUTIONS],
    }
    result["headline"], result["why"] = headline(result), why(result)
    result["before_the_road"] = [*before_the_road(result), *trap_words(rig, scale=scale)]
    return result


def _kept_size(one: Worst) -> bool:
    """Whether it is a legal size that is kept, which is told behind what carries something."""
    return one.check.group == LEGAL and float(one.utilization) <= OVER


def _where(where: Any, *, rows: list[Plain]) -> list[str]:
    return [row["row"] for row, held in zip(rows, where.any((-2, -1)), strict=True) if held]


def _speeds(rig: Rig, *, scale: Scale) -> dict[str, str]:
    label = scale.label("speed")
    return {
        key: number(scale.one(rig.number(f"wind.{key}"), dimension="speed"), unit=label, digits=3)
        for key in ("parked", "road")
    }


def _rows(study: HaulStudy, *, scale: Scale) -> list[Plain]:
    """Every row with what turns the box and what holds it; forces null where nothing holds it."""
    found = study.found
    speeds = _speeds(found.rig, scale=scale)
    turn = scale.many(found.restraint.turn, dimension="moment")
    straps, stops = scale.many(found.strap, dimension="force"), scale.many(found.stop, dimension="force")
    lines = scale.many(found.balance.tension[..., 0, :], dimension="force")
    hinge = scale.many(found.restraint.hinge, dimension="force")
    size = scale.many(np.sqrt((found.restraint.hinge**2).sum(-1)).max(-1), dimension="force")
    rows: list[Plain] = []
    for i, row in enumerate(found.rows):
        free = bool(found.restraint.unrestrained[i])
        entry: Plain = {"state": row.state, "variant": scale.variant(row.variant), "dynamic_factor": row.factor}
        entry |= {
            "row": row_words(entry, speeds=speeds),
            "against": "ultimate" if row.ultimate else "working",
            "turn": turn[i],
            "held": not free,
            "tie_downs": None if free else straps[i],
            "stops": None if free else stops[i],
            "line": None if free else dict(zip(("left", "right"), lines[i], strict=True)),
            "hinge": None if free else vectors(hinge[i]),
            "hinge_most": None if free else size[i],
        }
        rows.append(entry)
    return rows


def _check(one: Worst, *, rows: list[Plain], scale: Scale, tight_above: float) -> Plain:
    check, row = one.check, rows[int(one.state)]
    dimension = dimension_of(check)
    return {
        "part": check.part,
        "mode": check.mode,
        "row": "on the road, however it moves" if check.group == LEGAL or check.item is Item.TIE_DOWNS else row["row"],
        "demand": scale.one(one.demand, dimension=dimension),
        "capacity": scale.one(one.capacity, dimension=dimension),
        "unit": scale.label(dimension),
        "utilization": ratio(one.utilization),
        "verdict": verdict_of(float(one.utilization), tight_above=tight_above),
        "capacity_basis": "ultimate" if check.ultimate else "working",
        "basis": marked(check.basis),
        "clause": marked(check.clause),
    }


def _lean(study: HaulStudy, *, scale: Scale) -> Plain:
    speed = float(study.lift_off)
    return {
        "moment": scale.one(study.lean, dimension="moment"),
        "outward": bool(study.lean > 0.0),
        "lift_off": scale.one(speed, dimension="speed") if speed > 0.0 else None,
        "speed_unit": scale.label("speed"),
    }


def _tie_downs(study: HaulStudy, *, scale: Scale) -> list[Plain]:
    """Each tie-down with the largest pull on one of them in the working rows and in the breaking set."""
    found = study.found
    breaking = np.array([row.ultimate for row in found.rows])
    told = []
    for i, strap in enumerate(found.rig.value("haul.tie_down")):
        strength = found.rig.has(f"haul.tie_down.{i}.mbf")
        told.append(
            {
                "name": strap_name(found.rig, i),
                "kind": strap.kind,
                "count": strap.count,
                "wll": scale.one(found.rig.number(f"haul.tie_down.{i}.wll"), dimension="force"),
                "mbf": scale.one(found.rig.number(f"haul.tie_down.{i}.mbf"), dimension="force") if strength else None,
                "pull": scale.one(found.strap[~breaking, i].max(), dimension="force"),
                "pull_breaking_set": scale.one(found.strap[breaking, i].max(), dimension="force"),
            }
        )
    return told


def _stops(study: HaulStudy, *, scale: Scale) -> list[Plain]:
    found = study.found
    told = []
    for i, stop in enumerate(found.rig.value("haul.stop")):
        known = found.rig.has(f"haul.stop.{i}.capacity")
        told.append(
            {
                "name": f"stop {i + 1}",
                "direction": stop.direction,
                "capacity": scale.one(found.rig.number(f"haul.stop.{i}.capacity"), dimension="force")
                if known
                else None,
                "push": scale.one(found.stop[:, i].max(), dimension="force"),
            }
        )
    return told

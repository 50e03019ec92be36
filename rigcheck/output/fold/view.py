"""The fold study as one plain dict, the contract `rigcheck.fold/2`, and the sentences that say what it comes to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from rigcheck.analysis.links.capacity import LinkStrength
from rigcheck.analysis.rows import SIDES
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.verdict import rig_word
from rigcheck.loads.sharing import folds_on_one
from rigcheck.output.check.checks import checks, findings
from rigcheck.output.check.result import Source
from rigcheck.output.fold.words import fold_headline, fold_why
from rigcheck.output.rig_words import beside
from rigcheck.parts.fold.checks import BEHIND, HELD, HOLDS, snub_pull
from rigcheck.quantities import System
from rigcheck.studies.fold.record import FoldStudy
from rigcheck.studies.fold.remedy import Remedy, obstacle, remedies
from rigcheck.tables.load_cases import FOLDING
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

SCHEMA = "rigcheck.fold/2"
FOLD_CAUTIONS = (
    "Take mats and gravel out before folding; nothing here counts more than what the case leaves in.",
    "Never crank toward dead center, never unhook or re-rig a line that holds the box.",
)
ASSUMPTIONS = {
    "weight": "the empty box with its wet mats and the share of the bed that haul.left_over leaves in",
    "snub": "the snub line pulls at the hangers, square to their distance from the hinge; any other pull is larger",
    "posts": "posts stand straight down from the perch lugs; fittings and the plant itself are not looked at",
    "posts_unknown": "no post is described: only the perch lugs themselves were checked against the swing of the box",
    "together": "both lines worked together share alike; worked in turn, one carries all of it",
}


def fold_result(study: FoldStudy, *, source: Source | None = None, system: System = "us", whole: bool = True) -> Plain:
    """Everything the fold study says of one rig, ready for JSON.

    Args:
        study: The study of one rig, no batch.
        source: The file the case came from.
        system: Units of every number in it.
        whole: With every angle of the sweep; without, for the block of a check's result.

    Returns:
        The result; no NaN and no infinity in it.
    """
    solution, scale = study.assessment.solution, Scale(system)
    rig = solution.rig
    if solution.shape[:-3] != ():
        raise ValueError("a result is of one rig, not of a batch")
    of_fold = replace(study.assessment, worst=study.checks)
    rows = checks(of_fold, scale=scale, tight_above=float(rig.number("factors.tight_above")))
    tight = any(row["verdict"] == "tight" for row in rows)
    missing = [str(one) for one in study.assessment.not_assessed if one.group != "road"]
    alone = rig_word(over=bool(study.over), complete=not missing, tight=tight)
    found: Plain = {
        "schema": SCHEMA,
        "title": rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        **beside(study.assessment),
        "alone": {"verdict": alone, "not_assessed": missing},
        "reachable": bool(study.reachable),
        "obstacle": obstacle(study) or None,
        "units": scale.units(),
        "to": _degrees(study.sweep.fold[-1]),
        "pitch": _degrees(solution.layout.pitch),
        "snub": study.snub,
        "one_line": folds_on_one(rig),
        "weight": scale.one(study.weight, dimension="force"),
        "cg": {axis: scale.one(study.center[i], dimension="length") for i, axis in enumerate("syn")},
        "dynamic_factor": scale.one(rig.number("factors.folding"), dimension="number"),
        "angles": _angles(study),
        "pull": _pull(study, scale=scale),
        "line": _line(study, scale=scale),
        "clearance": _clearance(study, scale=scale),
        "remedies": [_remedy(one, scale=scale) for one in remedies(study)],
        "checks": rows,
        "findings": [one for one in findings(study.assessment, scale=scale) if one["state"] == FOLDING],
        "assumptions": [ASSUMPTIONS[key] for key in _assumed(study)],
        "cautions": [*FOLD_CAUTIONS, *CAUTIONS],
    }
    if whole:
        found["rows"] = _rows(study, scale=scale)
    found["headline"] = fold_headline(found)
    found["why"] = fold_why(found)
    return found


def _degrees(angle: Array | float) -> float:
    return float(np.degrees(angle)) + 0.0


def _assumed(study: FoldStudy) -> list[str]:
    posts = "posts" if study.assessment.solution.rig.has("perch.post.shape") else "posts_unknown"
    return ["weight", "together", "snub", posts]


def _angles(study: FoldStudy) -> Plain:
    """Fold angles in degrees; null for what does not happen."""
    found = study.angles
    slack = bool((study.sweep.hold == HOLDS.index("slack_inward")).any())
    return {
        "dead_point": _degrees(found.dead),
        "over_center": _degrees(found.over_center),
        "over_center_between": [_degrees(found.over_center - found.lean), _degrees(found.over_center + found.lean)],
        "reached": _degrees(found.reached),
        "slack": [_degrees(found.slack_from), _degrees(found.slack_to)] if slack else None,
        "free_arc": _degrees(found.free_arc) if slack else None,
        "largest_pull": _degrees(found.peak),
        "most_roll": _degrees(study.sweep.roll_alone.max()) if study.sweep.roll_alone.any() else None,
        "most_sensitive": _degrees(study.sweep.fold[int(_sensitivity(study).argmax())]),
    }


def _sensitivity(study: FoldStudy) -> Array:
    """Change of a pull per inch of perch error, as far as the box stays put. [lbf/in]"""
    return np.asarray(study.sweep.per_inch * study.kept.cumprod())


def weakest(links: list[LinkStrength]) -> tuple[float, str]:
    """Line tension that the weakest link allows, and which one it is. [lbf]"""
    allowed = [float(np.min(link.working)) / link.share for link in links]
    least = int(np.argmin(allowed))
    return allowed[least], links[least].label


def _pull(study: FoldStudy, *, scale: Scale) -> Plain:
    allowed, label = weakest(study.assessment.solution.links)
    factor = float(study.assessment.solution.rig.number("factors.folding"))

    def force(value: Array | float) -> float | None:
        return scale.one(value, dimension="force")

    return {
        "largest": force(study.largest),
        "largest_alone": force(study.largest_alone),
        "largest_demand": force(study.largest * factor),
        "largest_alone_demand": force(study.largest_alone * factor),
        "allowed": force(allowed),
        "weakest_link": label,
        "per_inch": scale.one(_sensitivity(study).max(), dimension="stiffness"),
        "snub": force(study.sweep.snub.max()),
        "snub_demand": force(max(study.sweep.snub.max() * factor, np.max(snub_pull(study.assessment.solution)))),
    }


def _line(study: FoldStudy, *, scale: Scale) -> Plain:
    line = study.line

    def length(value: Array | float) -> float | None:
        return scale.one(value, dimension="length")

    return {
        "deployed": length(line.deployed),
        "folded": length(line.folded),
        "shortest": length(line.shortest),
        "least": length(line.reach.least),
        "unmeasured": list(line.reach.unmeasured),
        "take_up": length(line.take_up),
        "lift": None if line.reach.lift_unknown else length(line.reach.take_up),
        "re_hooks": None if line.reach.lift_unknown else int(line.re_hooks),
    }


def _ranges(study: FoldStudy, where: Mask) -> list[float] | None:
    hit = study.sweep.fold[where]
    return [_degrees(hit[0]), _degrees(hit[-1])] if hit.size else None


def _clearance(study: FoldStudy, *, scale: Scale) -> Plain:
    met = [("line", part, where) for part, where in study.cuts] + [("box", part, where) for part, where in study.fouls]
    return {
        "side_gap": scale.one(study.side_gap, dimension="length"),
        "struck": [
            {"by": by, "part": part, "between": between}
            for by, part, where in met
            if (between := _ranges(study, where)) is not None
        ],
    }


def _remedy(one: Remedy, *, scale: Scale) -> Plain:
    return {
        "key": one.key,
        "value": scale.one(one.value, dimension="length"),
        "move": scale.one(one.move, dimension="length"),
        "needs_snub": one.snub,
        "lines_hold": one.within,
        "utilization": one.utilization,
        "governs": one.governs,
    }


def _rows(study: FoldStudy, *, scale: Scale) -> list[Plain]:
    sweep = study.sweep
    by_lines = (sweep.hold == HELD) | (sweep.hold == BEHIND)
    slack = sweep.hold == HOLDS.index("slack_inward")
    columns: list[tuple[str, Any]] = [
        ("fold", np.degrees(sweep.fold).tolist()),
        ("floor", np.degrees(sweep.floor).tolist()),
        ("hold", [HOLDS[int(i)] for i in sweep.hold]),
        ("kept", study.kept.tolist()),
        ("moment", scale.many(sweep.moment, dimension="moment")),
        ("lever_arm", scale.many(sweep.arm, dimension="length")),
        ("line_length", scale.many(sweep.line_length, dimension="length")),
        ("line_angle", np.degrees(sweep.line_angle).tolist()),
        ("snub", scale.many(sweep.snub, dimension="force")),
    ]
    pulls = (("line", sweep.tension), ("line_alone", sweep.alone), ("line_demand", sweep.peak_tension),
             ("line_alone_demand", sweep.peak_alone))  # fmt: skip
    for name, values in pulls:
        given = np.where(slack, 0.0, np.where(by_lines, values, np.inf))  # no value becomes null
        columns.append((name, scale.many(given, dimension="force")))
    rolls = np.degrees(sweep.roll_alone).tolist()
    columns.append(("roll_alone", [value if value > 0.0 else None for value in rolls]))
    columns.append(("per_inch", scale.many(np.where(by_lines, sweep.per_inch, np.inf), dimension="stiffness")))
    for name, forces in (("hinge", sweep.hinge), ("hinge_alone", sweep.hinge_alone)):
        given = np.where(by_lines[:, None, None], forces, np.inf)
        columns.append((name, [_sides(one) for one in scale.many(given, dimension="force")]))
    names = [name for name, _ in columns]
    return [dict(zip(names, values, strict=True)) for values in zip(*(values for _, values in columns), strict=True)]


def _sides(forces: list[list[float | None]]) -> Mapping[str, Any] | None:
    if forces[0][0] is None:
        return None
    return {side: dict(zip("xyz", force, strict=True)) for side, force in zip(SIDES, forces, strict=True)}

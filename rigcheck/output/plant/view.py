"""The study of the plant as one plain dict, the contract `rigcheck.plant/1`."""

from __future__ import annotations

from rigcheck.analysis.rows import verdict_of
from rigcheck.assessment.assess import Assessment
from rigcheck.output.check.checks import findings
from rigcheck.output.check.result import Source
from rigcheck.output.plant.words import ASSUMPTIONS, PLANT_CAUTIONS, cure_lines, plant_headline
from rigcheck.output.rig_words import beside
from rigcheck.parts.plant.checks import GUIDED, HEAVY, LIGHT
from rigcheck.quantities import System
from rigcheck.statics.tipping import OnWheels
from rigcheck.studies.plant.record import PlantStudy, Tipping
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

SCHEMA = "rigcheck.plant/1"
CODES = ("tipping_not_assessed", "plant_tips", "snag_tips_plant", "tongue_lifts", "tongue_light", "tongue_heavy")
_OUTWARD = {"downstream": "downstream", "upstream": "upstream", "left": "out to the left", "right": "out to the right"}


def plant_plain(study: PlantStudy, *, assessment: Assessment, scale: Scale) -> Plain:
    """What the study found, for the block of a check's result and for the command's own.

    Args:
        study: The study.
        assessment: The answer for the same rig.
        scale: Units of the output.

    Returns:
        Plain numbers in the units of the output.
    """
    rig = assessment.solution.rig
    names = [one.name for one in study.feet]
    words = {one.way: one.words for one in study.tipping}
    ballast = study.ballast

    def length(value: float) -> float | None:
        return scale.one(value, dimension="length")

    own = {
        "weight": scale.one(rig.number("plant.weight"), dimension="force") if rig.has("plant.weight") else None,
        "cg": [
            length(float(rig.number(f"plant.cg_{axis}"))) if rig.has(f"plant.cg_{axis}") else None
            for axis in ("downstream", "across", "height")
        ],
    }
    return {
        **own,
        "not_given": list(study.missing),
        "needed": study.needed,
        "over": study.over,
        "stands": study.stands if not study.missing else None,
        "tipping": [_tipping(one, needed=study.needed, scale=scale) for one in study.tipping],
        "feet": [
            {
                "name": one.name,
                "at": [length(x) for x in one.at],
                "least": scale.one(one.least, dimension="force"),
                "most": scale.one(one.most, dimension="force"),
                "state": None if one.most_row is None else one.most_row.state,
                "variant": None if one.most_row is None else scale.variant(one.most_row.variant),
            }
            for one in study.feet
        ],
        "ballast": None if ballast is None else {
            "weight": scale.one(ballast.weight, dimension="force"),
            "at": [length(x) for x in ballast.at],
            "over": [names[i] for i in ballast.feet],
        },
        "moves": [
            {
                "way": one.way,
                "words": words[one.way],
                "outward": "out" if words[one.way] == "sideways" else _OUTWARD[one.way],
                "feet": [names[i] for i in one.feet],
                "by": None if one.by is None else length(one.by),
            }
            for one in study.moves
        ],
        "road": {
            "folded": _road(study.folded, scale=scale),
            "bare": _road(study.bare, scale=scale),
            "guidance": [GUIDED, HEAVY],
            "light": LIGHT,
        },
    }  # fmt: skip


def plant_result(
    study: PlantStudy, *, assessment: Assessment, source: Source | None = None, system: System = "us"
) -> Plain:
    """The whole answer of the command, ready for JSON.

    Args:
        study: The study.
        assessment: The answer for the same rig.
        source: The file the case came from.
        system: Units of every number.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale = Scale(system)
    found: Plain = {
        "schema": SCHEMA,
        "title": assessment.solution.rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        **beside(assessment),
        "units": scale.units(),
        **plant_plain(study, assessment=assessment, scale=scale),
        "findings": [one for one in findings(assessment, scale=scale) if one["code"] in CODES],
        "assumptions": list(ASSUMPTIONS),
        "cautions": [*PLANT_CAUTIONS, *CAUTIONS],
    }
    found["headline"] = plant_headline(found)
    found["cures"] = cure_lines(found)
    return found


def _tipping(one: Tipping, *, needed: float, scale: Scale) -> Plain:
    use = 0.0 if one.ratio is None else needed / one.ratio
    return {
        "way": one.way,
        "words": one.words,
        "ratio": one.ratio,
        "level": one.level,
        "verdict": verdict_of(use, tight_above=1.0),
        "state": one.row.state,
        "variant": scale.variant(one.row.variant),
        "level_state": one.level_row.state,
        "by_state": dict(one.by_state),
    }


def _road(found: OnWheels | None, *, scale: Scale) -> Plain | None:
    if found is None:
        return None
    forces = {
        name: scale.one(getattr(found, name), dimension="force")
        for name in ("gross", "tongue", "axle", "left", "right")
    }
    return {**forces, "share": float(found.share)}

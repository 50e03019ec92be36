"""The shop card as one plain dict: the rig's limits in shop words, taken from a result and the case."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from rigcheck.assessment.assess import Assessment
from rigcheck.case.tacks import is_tacked
from rigcheck.output.bed_words import bed_plain
from rigcheck.output.card.first import headings, keep_out, points, reasons
from rigcheck.output.card.sizes import box_sizes, folding, road, steel_sizes, tags
from rigcheck.output.card.words import BEFORE_HANG, BEFORE_HAUL, NEVER, PLANT_FEET, PLANT_UNKNOWN, RECHECKS, STOP
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.leveling import leveling_words
from rigcheck.parts.fold.checks import snub_pull
from rigcheck.parts.plant.checks import not_described
from rigcheck.quantities import System
from rigcheck.studies.bed_mark.study import BedMark
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

SCHEMA = "rigcheck.card/3"


def card_data(
    assessment: Assessment,
    *,
    result: Mapping[str, Any],
    bed: BedMark,
    fold: Mapping[str, Any] | None,
    system: System = "us",
) -> Plain:
    """Everything on the card, ready for JSON.

    Args:
        assessment: The answer for one rig.
        result: Its result, in the same units.
        bed: Its bed mark, asked for where nothing is over.
        fold: Its fold study, None where the case says nothing of folding.
        system: Units of every number.

    Returns:
        The card.
    """
    rig, scale = assessment.solution.rig, Scale(system)
    over, trial = result["verdict"] == "over", is_tacked(rig.case)
    bare = over or trial  # nothing is told that holds for another box or another load case
    mark = None if over else bed_plain(bed, scale=scale)
    first, below, more = headings(result, mark=mark, trial=trial)
    snub = scale.one(np.max(snub_pull(assessment.solution), initial=0.0), dimension="force") or 0.0
    card: Plain = {
        "schema": SCHEMA,
        "title": result["title"],
        "revision": result["revision"],
        "by": result["by"],
        "input": result["input"],
        "verdict": result["verdict"],
        "tight": result["tight"],
        "trial": trial,
        "complete": result["complete"],
        "headline": result["headline"],
        "over": reasons(result) if over else [],
        "units": result["units"],
        "hang": _hang(result, trial=trial),
        "bed": mark,
        "first": first,
        "below": below,
        "more": more,
        "box": box_sizes(rig, result=result, scale=scale),
        "tags": [] if bare else tags(assessment, scale=scale),
        "steel": [] if bare else steel_sizes(rig, scale=scale),
        "folding": [] if bare else folding(rig, fold=fold, snub=snub, scale=scale),
        "road": [] if bare else road(rig, road=assessment.solution.road, scale=scale),
        "keep_out": keep_out(rig, scale=scale),
        "not_assessed": list(result["not_assessed"]),
        "never": list(NEVER),
        "stop": [] if bare else list(STOP),
        "before_hang": [] if over else [*BEFORE_HANG, PLANT_UNKNOWN if not_described(rig) else PLANT_FEET],
        "before_haul": [] if bare else list(BEFORE_HAUL),
        "rechecks": RECHECKS,
        "cautions": list(CAUTIONS),
        "drawing": drawing_data(assessment, scale=scale),
    }
    leveled = leveling_words(rig, scale=scale)
    if leveled:
        card["leveling"] = " ".join(leveled)
    straps = sum(one.count for one in rig.value("haul.tie_down") or ())
    return {**card, "points": points(card, fold=fold, snub=snub, straps=straps, leveled=leveled)}


def _hang(result: Mapping[str, Any], *, trial: bool) -> str:
    """The sentence that comes before everything else."""
    if result["verdict"] == "over":
        return "What is over stands below; `rigcheck check` lists all of it. Mend it and check again."
    if trial:
        return "The box is only tacked: it may hang empty for trial, and for nothing else. Weld it out and check again."
    if not result["complete"]:
        return "What is not assessed stands below, the most decisive first: describe it and check again."
    tight = " Some parts are tight." if result["tight"] else ""
    return f"Nothing that was checked is over.{tight} The limits below hold for the rig as described and no other."

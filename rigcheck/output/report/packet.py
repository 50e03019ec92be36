"""Run what a report needs, checks and studies, and put it into one packet."""

from __future__ import annotations

from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig
from rigcheck.output.bed_words import bed_plain
from rigcheck.output.check.confirm import second_opinion
from rigcheck.output.check.extras import plant_block
from rigcheck.output.check.result import Extras, Source, result
from rigcheck.output.fold.view import fold_result
from rigcheck.output.haul.view import haul_result
from rigcheck.output.hoist_words import hoist_plain
from rigcheck.output.remedies.view import remedies_data
from rigcheck.output.report.curves import curves as curves_of
from rigcheck.output.report.data import Studies, report_data
from rigcheck.output.report.worked import worked
from rigcheck.output.rig_words import checked
from rigcheck.quantities import System
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.haul.study import haul
from rigcheck.studies.hoist_window.study import hoist_windows
from rigcheck.studies.remedies.study import FEW, remedies
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale


def packet(
    case: Case,
    *,
    source: Source | None,
    text: str,
    system: System = "us",
    curves: bool = True,
    working: bool = True,
    made: str | None = None,
) -> Plain:
    """Everything a report shows of a case.

    Args:
        case: The case.
        source: The file it came from.
        text: The file.
        system: Units of every number.
        curves: Also the curve over the length and the rig with one input moved.
        working: Also the worked calculation.
        made: The day it is made, in words.

    Returns:
        The packet, ready for JSON.

    Raises:
        SecondOpinionError: The frame does not confirm the statics.
        DisagreementError: The worked calculation does not give what the check has.
    """
    rig, scale = Rig(case), Scale(system)
    found = checked(rig, name="case" if source is None else source.file)

    confirmed = second_opinion(found, scale=scale)
    folds = case.fold.to is not None
    on_road = haul(rig, assessment=found) if folds else None
    road = None if on_road is None else haul_result(on_road, source=source, system=system)
    folding = fold_result(fold_of(found), source=source, system=system) if folds else None
    extras = Extras(
        bed_mark=bed_plain(bed_mark(rig, found=found), scale=scale),
        hoists=hoist_plain(hoist_windows(found), scale=scale),
        plant=plant_block(found, scale=scale),
        tie_downs=None if road is None else {"tie_downs": road["tie_downs"]},
        fold=None if folding is None else {key: value for key, value in folding.items() if key != "rows"},
        confirm=confirmed,
    )
    told = result(found, source=source, system=system, extras=extras)
    near = curves_of(found, scale=scale) if curves else None
    work = worked(found, source=source, system=system) if working else None
    cures = remedies_data(remedies(rig, found=found, most=FEW)) if bool(found.over) else None
    length, moved = near or (None, None)
    studies = Studies(
        fold=folding, length=length, neighbors=moved, haul=road, confirm=confirmed, working=work, fixes=cures, made=made
    )
    return report_data(found, result=told, text=text, system=system, studies=studies)

"""Run what a report needs, checks and studies, and put it into one packet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from rigcheck.case.models import Case
from rigcheck.case.rig import Rig
from rigcheck.check.assess import assess
from rigcheck.quantities import System
from rigcheck.studies.bed_mark import bed_mark
from rigcheck.studies.fold import fold_of
from rigcheck.studies.haul import haul
from rigcheck.views.bed_words import bed_plain
from rigcheck.views.fold_view import fold_result
from rigcheck.views.haul_view import haul_result
from rigcheck.views.report_confirm import second_opinion
from rigcheck.views.report_data import Studies, report_data
from rigcheck.views.result import Extras, Source, result
from rigcheck.views.scale import Scale

Plain = dict[str, Any]


def packet(
    case: Case,
    *,
    source: Source | None,
    text: str,
    system: System = "us",
    curves: bool = False,
    working: Callable[[], Plain | None] | None = None,
) -> Plain:
    """Everything a report shows of a case.

    Args:
        case: The case.
        source: The file it came from.
        text: The file.
        system: Units of every number.
        curves: Also the curve over the length and the rig with one input moved.
        working: Gives the worked calculation; asked for last, as it may be made beside the rest.

    Returns:
        The packet, ready for JSON.
    """
    rig, scale = Rig(case), Scale(system)
    found = assess(rig)
    length, moved = _curves(rig, scale=scale) if curves else (None, None)
    folds = case.fold.to is not None
    on_road = haul(rig) if folds else None
    road = None if on_road is None else haul_result(on_road, source=source, system=system)
    folding = fold_result(fold_of(found), source=source, system=system) if folds else None
    confirmed = second_opinion(found, scale=scale)
    extras = Extras(
        bed_mark=bed_plain(bed_mark(rig), scale=scale),
        tie_downs=None if road is None else {"tie_downs": road["tie_downs"]},
        fold=None if folding is None else {key: value for key, value in folding.items() if key != "rows"},
        confirm=confirmed,
    )
    studies = Studies(
        fold=folding,
        length=length,
        neighbours=moved,
        haul=road,
        confirm=confirmed,
    )
    told = result(found, source=source, system=system, extras=extras)
    studies = replace(studies, working=None if working is None else working())
    return report_data(found, result=told, text=text, system=system, studies=studies)


def _curves(rig: Rig, *, scale: Scale) -> tuple[Plain, list[Plain]]:
    # loads and costs more than the rest of a report, so only when it is asked for
    from rigcheck.views.report_curves import length_curve, neighbours

    return length_curve(rig, scale=scale), neighbours(rig, scale=scale)

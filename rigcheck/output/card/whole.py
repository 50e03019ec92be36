"""The shop card of a rig from nothing but the rig: its check, its bed mark, its fold, put together."""

from __future__ import annotations

from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import is_tacked
from rigcheck.output.card.data import card_data
from rigcheck.output.check.result import Source, result
from rigcheck.output.fold.view import fold_result
from rigcheck.quantities import System
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.fold.study import fold_of
from rigcheck.wording.plain import Plain


def card_of(rig: Rig, *, source: Source, system: System) -> Plain:
    """Everything on the card of one rig.

    Args:
        rig: The rig, not a batch.
        source: The file that it was read from.
        system: Units of every number.
    """
    found = assess(rig)
    folds = rig.has("fold.to") and not is_tacked(rig.case)
    fold = fold_result(fold_of(found), system=system, whole=False) if folds else None
    told = result(found, source=source, system=system)
    return card_data(found, result=told, bed=bed_mark(rig, found=found), fold=fold, system=system)

"""What the studies add to a result: the bed mark always; hoists, fold and road where all of it is wanted."""

from __future__ import annotations

from typing import Any

from rigcheck.assessment.assess import Assessment
from rigcheck.case.tacks import is_tacked
from rigcheck.output.bed_words import bed_plain
from rigcheck.output.check.result import Extras
from rigcheck.quantities import System
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.wording.scale import Scale


def extras(found: Assessment, *, system: System = "us", whole: bool = True) -> Extras:
    """Studies of one rig beside its assessment.

    Args:
        found: The assessment of one rig, not a batch.
        system: Units of every number.
        whole: Also hoists, folding and the road, which the screen of a check leaves to their own commands.

    Returns:
        Plain dicts in the units of the output.
    """
    rig, scale = found.solution.rig, Scale(system)
    bed = bed_plain(bed_mark(rig, found=found), scale=scale)
    if not whole or is_tacked(rig.case):
        return Extras(bed_mark=bed)
    # not printed by a plain check, which need not wait for it to load
    from rigcheck.output.hoist_words import hoist_plain
    from rigcheck.studies.hoist_window.study import hoist_windows

    hoists = hoist_plain(hoist_windows(found), scale=scale)
    plant = plant_block(found, scale=scale)
    if not rig.has("fold.to"):
        return Extras(bed_mark=bed, hoists=hoists, plant=plant)
    # the fold and haul screens cost as much to load as a check, so only when their numbers are wanted
    from rigcheck.output.fold.view import fold_result
    from rigcheck.output.haul.view import haul_result
    from rigcheck.studies.fold.study import fold_of
    from rigcheck.studies.haul.study import haul

    road = haul(rig, assessment=found) if found.solution.road is not None else None
    return Extras(
        bed_mark=bed,
        hoists=hoists,
        fold=fold_result(fold_of(found), system=system, whole=False),
        plant=plant,
        tie_downs=None if road is None else {"tie_downs": haul_result(road, system=system)["tie_downs"]},
    )


def plant_block(found: Assessment, *, scale: Scale) -> dict[str, Any] | None:
    """The plant under the box; None where the case says nothing of its weight."""
    if not found.solution.rig.has("plant.weight"):
        return None
    from rigcheck.output.plant.view import plant_plain
    from rigcheck.studies.plant.study import plant_study  # loaded by the rigs that describe a plant alone

    return plant_plain(plant_study(found), assessment=found, scale=scale)

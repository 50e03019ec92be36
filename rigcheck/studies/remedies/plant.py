"""A plant that tips as a remedy: ballast where least does, or the feet of a side set farther out."""

from __future__ import annotations

from math import ceil

from rigcheck.analysis.rows import OVER
from rigcheck.assessment.assess import Assessment
from rigcheck.parts.plant.checks import GROUP
from rigcheck.quantities import write
from rigcheck.studies.plant.cures import OUTWARD
from rigcheck.studies.plant.record import Ballast, Move, PlantStudy
from rigcheck.studies.plant.study import plant_study
from rigcheck.studies.remedies.record import Step

_POUNDS = 10.0  # ballast is told to the next ten
_BY_WEIGHT, _BY_REACH = 20.0, 50.0  # effort of ballast as heavy as the plant, of feet moved by the box's length; ours


def plant_ladders(found: Assessment) -> list[list[Step]]:
    """What keeps the plant from tipping, one step to a ladder; none where it does not.

    Args:
        found: The assessment of one rig.

    Source: docs/method.md#tipping-cures.
    """
    tips = any(one.check.group == GROUP and float(one.utilization) > OVER for one in found.worst)
    if not tips:
        return []
    study = plant_study(found)
    ladders = [] if study.ballast is None else [[_ballast(study.ballast, study=study, found=found)]]
    return [*ladders, *([_move(one, study=study, found=found)] for one in study.moves if one.by is not None)]


def _ballast(one: Ballast, *, study: PlantStudy, found: Assessment) -> Step:
    """The plant with its ballast: heavier, its center of gravity nearer to it."""
    rig = found.solution.rig
    weight = _POUNDS * ceil(one.weight / _POUNDS)
    own = float(rig.number("plant.weight"))
    axes = ("downstream", "across", "height")
    changes = {
        f"plant.cg_{axis}": (own * float(rig.number(f"plant.cg_{axis}")) + weight * place) / (own + weight)
        for axis, place in zip(axes, one.at, strict=True)
    }
    over = " and ".join(study.feet[i].name for i in one.feet)
    where = f"midway between {over}" if len(one.feet) > 1 else f"over {over}"
    return Step(
        family="plant.ballast",
        words=f"put {weight:,.0f} lb of ballast on the plant at work, {where}",
        changes={"plant.weight": own + weight, **changes},
        effort=_BY_WEIGHT * weight / own,
    )


def _move(one: Move, *, study: PlantStudy, found: Assessment) -> Step:
    rig, by = found.solution.rig, float(one.by or 0.0)
    along, across = OUTWARD[one.way]
    changes = {}
    for i in one.feet:
        key = f"plant.foot.{i}.{'downstream' if along else 'across'}"
        now = float(rig.number(key))
        outward = along or (across if across * now >= 0.0 else -across)  # of two sides alike each goes its own way
        changes[key] = now + by * outward
    feet = " and ".join(study.feet[i].name for i in one.feet)
    words = next(tip.words for tip in study.tipping if tip.way == one.way)
    return Step(
        family=f"plant.foot.{one.way}",
        words=f"set {feet} {write(by, dimension='length')} farther out, against tipping {words}",
        changes=changes,
        effort=_BY_REACH * by / float(rig.number("box.length")),
    )

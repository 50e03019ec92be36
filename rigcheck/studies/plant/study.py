"""The plant under the box: how near it is to tipping each way, what each foot carries, what cures it, the road."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment
from rigcheck.case.tacks import must_be_finished
from rigcheck.loads.pieces import Row
from rigcheck.parts.plant.checks import Standing, at_work, is_even, not_described, standing, trailer, ways, worst_edge
from rigcheck.statics.tipping import WAYS, footing
from rigcheck.studies.plant.cures import least_ballast, least_move
from rigcheck.studies.plant.record import FootLoad, PlantStudy, Tipping


def plant_study(assessment: Assessment, *, cures: bool = True) -> PlantStudy:
    """Everything about the plant of one rig.

    Args:
        assessment: The answer for one rig, no batch, over all states.
        cures: Look for ballast and feet where it tips too easily.

    Returns:
        The study.

    Source: own derivation, docs/method.md#tipping.
    """
    must_be_finished(assessment.solution.rig.case)
    solution = assessment.solution
    rig, needed = solution.rig, float(solution.rig.number("factors.tipping"))
    folded, bare = (trailer(rig, pieces=solution.life.pieces, box=box) for box in (True, False))
    missing = not_described(rig)
    if missing:
        return PlantStudy(missing=missing, needed=needed, folded=folded, bare=bare)
    rows = at_work(solution)
    body, flat = standing(solution, rows=rows), standing(solution, rows=rows, level=True)
    tipping = _tipping(solution, body=body, flat=flat)
    feet, stands = _feet(solution, body=body)
    found = PlantStudy(missing=(), needed=needed, tipping=tipping, feet=feet, stands=stands, folded=folded, bare=bare)
    if not (cures and found.over):
        return found
    even = is_even(solution)
    over = [one.way for one in tipping if one.ratio is not None and one.ratio < needed]
    return replace(
        found,
        ballast=least_ballast(solution, body=body, needed=needed, even=even),
        moves=tuple(least_move(body, way=way, others=over, needed=needed, even=even) for way in over),
    )


def _tipping(solution: Solution, *, body: Standing, flat: Standing) -> tuple[Tipping, ...]:
    rows = [solution.rows[i] for i in body.rows]
    sloping, level = body.moments(), flat.moments()
    found = []
    for way, tips in ways(solution).items():
        if not (body.base.live & (body.base.way == way)).any():
            continue
        leans, stands = (_share(*worst_edge(one, base=body.base, way=way)) for one in (sloping, level))
        at, at_level = int(leans.argmax()), int(stands.argmax())
        found.append(
            Tipping(
                way=WAYS[way],
                words=tips.value,
                ratio=_ratio(leans[at]),
                level=_ratio(stands[at_level]),
                row=rows[at],
                level_row=rows[at_level],
                by_state=_by_state(rows, leans),
            )
        )
    return tuple(found)


def _share(holds: Array, turns: Array) -> Array:
    """Overturning over stabilizing moment: the other way round it would have no value where nothing turns it over."""
    return divide(turns, holds, where_zero=UNLIMITED)


def _ratio(share: float) -> float | None:
    return None if share <= 0.0 else 1.0 / float(share)


def _by_state(rows: Sequence[Row], shares: Array) -> dict[str, float | None]:
    worst: dict[str, float] = {}
    for row, share in zip(rows, shares, strict=True):
        worst[row.state] = max(worst.get(row.state, 0.0), float(share))
    return {state: _ratio(share) for state, share in worst.items()}


def _feet(solution: Solution, *, body: Standing) -> tuple[tuple[FootLoad, ...], bool]:
    """What each foot carries over the rows in which plant and box stand, and whether they stand in all.

    Where both sides are alike only one of them is loaded: a foot carries what it or its twin does.
    """
    rows = [solution.rows[i] for i in body.rows]
    force, moment = _with_other(body)
    found = footing(force, moment=moment, feet=body.feet)
    rows = rows * (len(found.stands) // len(rows))
    live = found.stands[..., None]
    least = np.where(live, found.least, np.inf).min(-2)
    most = np.where(live, found.most, -1.0)
    if is_even(solution):
        twin = _twins(body.feet)
        least, most = np.minimum(least, least[twin]), np.maximum(most, most[:, twin])
    any_ = bool(found.stands.any())
    described = solution.rig.value("plant.foot")
    feet = tuple(
        FootLoad(
            name=one.name or f"foot {i + 1}",
            at=tuple(float(x) for x in body.feet[i]),  # type: ignore[arg-type]  # three of them
            least=float(least[i]) if any_ else 0.0,
            most=float(most[:, i].max()) if any_ else 0.0,
            most_row=rows[int(most[:, i].argmax())] if any_ else None,
        )
        for i, one in enumerate(described)
    )
    return feet, bool(found.stands.all())


def _with_other(body: Standing) -> tuple[Array, Array]:
    """Sum of the loads and their moment in every row, once for each weight of the box that feeds this one.

    Of a plant with one box, of each row once.
    """
    force, moment = body.force.sum(-2), body.moment.sum(-2)
    if body.other is None:
        return force, moment
    force_more, moment_more = [], []
    for i in np.unique([body.other.weight.argmin(), body.other.weight.argmax()]):
        pulled, turned = body.loaded(body.other.weight[i : i + 1], at=body.other.at[i : i + 1])
        force_more.append(force + pulled.sum(-2))
        moment_more.append(moment + turned.sum(-2))
    return np.concatenate(force_more), np.concatenate(moment_more)


def _twins(feet: Array) -> list[int]:
    """For each foot the one on the other side, itself in the middle, of feet that stand in pairs."""
    mirrored = feet * np.array([1.0, -1.0, 1.0])
    return [int(np.abs(feet - one).sum(-1).argmin()) for one in mirrored]

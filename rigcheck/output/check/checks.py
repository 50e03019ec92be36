"""The result's checks and findings: one row per part and mode at its worst, one finding per code and state."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

import numpy as np

from rigcheck.analysis.rows import LEGAL, OVER, SIDES, Check, Flag, Worst, bound_names, verdict_of
from rigcheck.assessment.assess import Assessment
from rigcheck.quantities import Dimension
from rigcheck.wording.marks import marked
from rigcheck.wording.plain import Plain, PlainView
from rigcheck.wording.scale import Scale, ratio

_DIMENSIONS: dict[str, Dimension] = {"line": "stiffness"}  # force per length has the units of a stiffness


def dimension_of(check: Check) -> Dimension:
    """Dimension of a check's demand and capacity."""
    return _DIMENSIONS.get(check.unit) or cast(Dimension, check.unit)


def _applies(one: Worst, *, assessment: Assessment) -> bool:
    """Whether a check holds for any row, bound and side at all."""
    if float(one.utilization) >= 0.0:  # where it holds nowhere that is below nothing
        return True
    solution = assessment.solution
    return bool(
        (
            np.broadcast_to(one.check.where, solution.shape)
            & solution.looked_at(on_accidents=one.check.on_accidents)[..., None]
        ).any()
    )


def _row(one: Worst, *, assessment: Assessment, scale: Scale, tight_above: float) -> Plain:
    check, index = one.check, int(one.state)
    row = assessment.solution.rows[index]
    name, on = bound_names(row.ultimate)[int(one.bound)]
    dimension = dimension_of(check)
    value = float(one.utilization)
    return {
        "part": check.part,
        "mode": check.mode,
        "group": check.group,
        "state": row.state,
        "variant": scale.variant(row.variant),
        "bound": name,
        "on": on,
        "side": SIDES[int(one.side)],
        "demand": scale.one(one.demand, dimension=dimension),
        "capacity": scale.one(one.capacity, dimension=dimension),
        "unit": scale.label(dimension),
        "utilization": ratio(value),
        "capacity_basis": "ultimate" if check.ultimate else "working",
        "verdict": verdict_of(value, tight_above=tight_above) if value >= 0.0 else "not_assessed",
        "dynamic_factor": row.factor if check.factored else None,
        "accident": check.on_accidents,
        "snag": check.snag,
        "basis": marked(check.basis),
        "clause": marked(check.clause),
    }


def checks(assessment: Assessment, *, scale: Scale, tight_above: float, most: int | None = None) -> list[Plain]:
    """Every check that applies, the highest utilization first.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.
        tight_above: Utilization above which a part is tight. [1]
        most: Only so many rows, those nearest their limit; all of them where not said.

    Returns:
        Rows; utilization is null where it has no meaning as a number, and such a row that is over comes first.
    """
    ranked = sorted(assessment.worst, key=lambda one: -float(one.utilization))
    found: list[Plain] = []
    for one in ranked:
        if most is not None and len(found) >= most:
            break
        if _applies(one, assessment=assessment):
            found.append(_row(one, assessment=assessment, scale=scale, tight_above=tight_above))
    return found


def highest(rows: Sequence[PlainView]) -> PlainView | None:
    """The row that governs; a legal size that is kept carries nothing and so never does.

    Args:
        rows: As `checks` gives them, the highest first.
    """
    return next((row for row in rows if row["group"] != LEGAL or row["verdict"] == "over"), None)


def over_beside(assessment: Assessment, *, row: Plain | None) -> int:
    """How many checks are over besides a row and those of its part and mode.

    Args:
        assessment: The answer for one rig.
        row: The row that governs, None for none.
    """
    own = None if row is None else (row["part"], row["mode"])
    over = [one.check for one in assessment.worst if float(one.utilization) > OVER]
    return sum((check.part, check.mode) != own for check in over)


def _place(flag: Flag, *, assessment: Assessment, rows: list[int]) -> tuple[int, Plain]:
    """First row at which a finding holds, with its bound and side unless it holds for all of them."""
    solution = assessment.solution
    index = next(i for i in rows if flag.where[i].any())
    here = flag.where[index]
    if here[solution.allowed[index]].all():
        return index, {"bound": None, "on": None, "side": None}
    bound, side = (int(number) for number in np.argwhere(here)[0])
    name, on = bound_names(solution.rows[index].ultimate)[bound]
    return index, {"bound": name, "on": on, "side": SIDES[side]}


def findings(assessment: Assessment, *, scale: Scale) -> list[Plain]:
    """Every finding once for each state it holds in, those that stop the rig first.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        Findings; bound and side are null where it holds for all that apply.
    """
    rows = assessment.solution.rows
    by_state: dict[str, list[int]] = {}
    for i, row in enumerate(rows):
        by_state.setdefault(row.state, []).append(i)
    found: list[Plain] = []
    for flag in sorted(assessment.flags, key=lambda flag: not flag.stops):
        held: list[bool] = np.any(flag.where, axis=(-2, -1)).tolist()
        for state, members in by_state.items():
            if not any(held[member] for member in members):
                continue
            index, place = _place(flag, assessment=assessment, rows=members)
            found.append(
                {
                    "code": flag.code,
                    "state": state,
                    "variant": scale.variant(rows[index].variant),
                    **place,
                    "text": flag.text,
                    "stops": flag.stops,
                }
            )
    return found

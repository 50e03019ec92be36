"""The rail: fiber stress under N and M, sag between hinge and hanger, tail deflection."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.case.schema.sections import stated
from rigcheck.parts.rail.ways import RailWay
from rigcheck.strength.bases import BASES
from rigcheck.tables import steel

Told = TypeVar("Told", Check, Flag)


def rail_described(rig: Rig) -> bool:
    """Whether the case has a [rail] table at all; one without a stiffener says that the side wall is the whole rail."""
    return "rail" in stated(rig.case)


def of_rail(build: Callable[[Solution], list[Told]]) -> Callable[[Solution], list[Told]]:
    """Only where the case describes the rail: a wall of nobody's saying is not assessed, not over."""

    @wraps(build)
    def described(solution: Solution) -> list[Told]:
        return build(solution) if rail_described(solution.rig) else []

    return described


def thrown_back(solution: Solution) -> Array:
    """How much more the rails are bent at the first peak after a line parts than at rest after it, else 1.

    Args:
        solution: The statics.

    Returns:
        The factor, shape (..., pair, 1) over the rows and bounds whose bending is worked out.

    Source: undamped step, docs/method.md#line-broken, #rail-as-a-beam-column.
    """
    return solution.bent.thrown[..., None]


@of_rail
def rail_checks(solution: Solution) -> list[Check]:
    """Stress against yield on the chosen basis, and deflection against the stated limits.

    Args:
        solution: The statics.

    Returns:
        Checks; deflection is of the loads as they are, without dynamic factors.

    Source: docs/method.md#rail; limits are yardsticks, IBC Table 1604.3 (seen).
    """
    rig = solution.rig
    basis = BASES[str(rig.value("basis"))]
    grade = steel.grade(str(rig.value("rail.steel")))
    sheet = steel.grade(str(rig.value("box.steel")))
    fy = min(grade.fy, sheet.fy)
    stress = solution.bent.on_bounds(solution.peaks.stress * thrown_back(solution))
    checks = [
        Check(part=Item.RAIL, group="rail", mode=RailWay.STRESS.value + (" (strength)" if ultimate else ""),
              unit="stress", demand=stress, capacity=np.asarray(fy / divisor), ultimate=ultimate, way=RailWay.STRESS,
              basis=f"Fy {fy / 1000.0:g} ksi / {divisor:g} ({name})", clause=clause)
        for divisor, ultimate, name, clause in (
            (basis.yielding, False, basis.name, basis.source),
            (1.0, True, "first yield", "AISC 360-22 H2-1 (seen)"),
        )
    ]  # fmt: skip
    span = solution.layout.hanger_s
    reach = np.maximum(solution.layout.length - span, 0.0)
    limits = (
        ("sag between hinge and hanger", solution.sag.sag, span, rig.number("rail.sag_limit"), "span"),
        ("tail deflection", np.maximum(solution.sag.tail_bend, 0.0), 2.0 * reach, rig.number("rail.tail_limit"),
         "twice the overhang"),
    )  # fmt: skip
    for mode, value, over, divisor_, word in limits if solution.here.head else ():
        demand = solution.sagged.on_bounds(value)
        checks.append(
            Check(part=Item.RAIL, group="rail", mode=mode, unit="length", demand=demand,
                  capacity=(over / divisor_)[..., None, None, None],
                  basis=f"{word} / {float(np.max(divisor_)):g}, static load",
                  clause="yardstick, IBC Table 1604.3 (seen); no code sets one for a sluice box",
                  where=(over > 0.0)[..., None, None, None], at_rest=True)
        )  # fmt: skip
    return checks

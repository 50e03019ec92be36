"""Side walls pushed outward by packed gravel and its water: the wall at its foot, the stiffener along its top."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sizes import stiffener_on_top
from rigcheck.loads.steel import side_sheet
from rigcheck.parts.rail.checks import of_rail
from rigcheck.strength.bases import BASES, Basis, Flexure, allowable_moment
from rigcheck.strength.members import shapes as members
from rigcheck.tables import shapes, steel
from rigcheck.tables.materials import material

PLASTIC = 1.5  # plastic over elastic modulus of a flat plate, geometry


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Push:
    """What an inch of wall carries, shapes (...).

    Attributes:
        foot: Moment at its foot. [lbf]
        top: Reaction where a stiffener holds its top, nothing where none does. [lbf/in]
        thrust: What the floor holds at its foot. [lbf/in]
        held: Whether one does.
    """

    foot: Array
    top: Array
    thrust: Array
    held: bool


def top_is_held(rig: Rig) -> bool:
    """Whether a stiffener along the top spans between cross-members over the top."""
    over = rig.has("cross_member.shape") and str(rig.value("cross_member.at")) == "top"
    return over and stiffener_on_top(rig)


def wall_push(rig: Rig) -> Push:
    """Gravel under water to the top of the side, any heap on it as a surcharge, with the factor of what hangs.

    p = K (g - g_w)(h + heap) + g_w h at a depth h. A strip of wall is built in at the floor; its top is free, or leans
    on a stiffener that cross-members over the top hold: p_0 H^2/2 + D H^2/6, or p_0 H^2/8 + D H^2/15 with a reaction
    3 p_0 H/8 + D H/10, p_0 the pressure at the top and D what it grows by down to the foot.

    Args:
        rig: The rig.

    Returns:
        Moment at the foot and reaction at the top.

    Source: beam tables (memory); own derivation, docs/method.md#side-walls.
    """
    water = np.asarray(material("water, fresh").unit_weight)
    share, height = rig.number("bed.side_pressure"), rig.number("box.side_height")
    grains = np.maximum(rig.number("bed.density") - water, 0.0)
    gain = rig.number("factors.hung")
    top = gain * share * grains * rig.number("bed.heap")
    more = gain * (share * grains + water) * height
    whole = (top + 0.5 * more) * height
    if top_is_held(rig):
        foot = top * height**2 / 8.0 + more * height**2 / 15.0
        lean = 3.0 * top * height / 8.0 + more * height / 10.0
        return Push(foot=foot, top=lean, thrust=whole - lean, held=True)
    foot = top * height**2 / 2.0 + more * height**2 / 6.0
    return Push(foot=foot, top=0.0 * foot, thrust=whole, held=False)


@of_rail
def side_wall_checks(solution: Solution) -> list[Check]:
    """Wall and stiffener in the states with packed gravel; water alone pushes less at every depth.

    Args:
        solution: The statics.

    Returns:
        Checks on the declared basis; none where no state with packed gravel is looked at.

    Source: docs/method.md#side-walls; clauses beside each row.
    """
    where = solution.cases(lambda case: case.gravel_to_top)[:, None, None]
    if not where.any():
        return []
    rig = solution.rig
    basis = BASES[str(rig.value("basis"))]
    push = wall_push(rig)
    metal = steel.grade(str(rig.value("box.steel")))
    modulus = side_sheet(rig) ** 2 / 6.0
    first = metal.fy * modulus
    plate = Flexure(nominal=PLASTIC * first, yield_moment=first, compact=np.ones(()), solid=np.ones(()))
    held = "its top leaning on the stiffener" if push.held else "nothing holds its top"
    checks = [
        Check(part=Item.SIDE_WALL, group="floor", mode="pushed outward, bending at its foot", unit="stress",
              demand=per_row(push.foot / modulus), capacity=per_row(allowable_moment(plate, basis=basis) / modulus),
              basis=f"{basis.title}; gravel under water to its top, {held}; steel {metal.key}", where=where,
              clause="AISC 360-22 F11 (memory); ASME BTH-1 3-2.3 (memory)")
    ]  # fmt: skip
    if push.held:
        checks.append(_stiffener(rig, push, basis=basis, where=where))
    return checks


def _stiffener(rig: Rig, push: Push, *, basis: Basis, where: NDArray[np.bool_]) -> Check:
    """The stiffener as a simple beam from one cross-member over the top to the next, bent outward."""
    metal = steel.grade(str(rig.value("rail.steel")))
    span = rig.number("cross_member.spacing")
    section = members.section_of([shapes.find(rig.value("rail.stiffener"))])
    allowed = members.moment_strength(section, about="y", fy=metal.fy, basis=basis, length=per_row(span))
    return Check(part=Item.STIFFENER, group="rail", mode="pushed outward by the wall", unit="moment",
                 demand=per_row(push.top * span**2 / 8.0), capacity=allowed, where=where,
                 basis=f"{basis.title}; a simple beam between cross-members over the top; steel {metal.key}",
                 clause="AISC 360-22 F7, F8, F11 (memory); ASME BTH-1 3-2.3 (memory)")  # fmt: skip

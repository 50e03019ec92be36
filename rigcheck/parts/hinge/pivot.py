"""A center pivot: one bar at mid-width through two ears of the box, the plant's lug between them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.items import EAR_WELDS, Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import hinge_apart
from rigcheck.parts.cross_member.forces import head_shape
from rigcheck.parts.face.checks import TUBES
from rigcheck.parts.hinge.ears import (
    BOX,
    PLANT,
    EarLoad,
    Row,
    ear_load,
    face_row,
    hinge_rows,
    pin_and_plates,
    plate_rows,
    plate_steel,
    plates_not_described,
    root_row,
    weld_allowed,
    weld_row,
)
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.parts.lug.ways import LugWay
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.lugs import flat_plate_moment, plate_torsion, root_tension, upright_plate_moment
from rigcheck.strength.connections.pins import pin_strength
from rigcheck.strength.connections.weld_lines import WeldLoad, peak_force, two_verticals
from rigcheck.tables import steel

BAR, EAR, LUG = Item.PIVOT_BAR, Item.PIVOT_EAR, Item.PIVOT_LUG
PARTS = {BOX: EAR, PLANT: LUG}
EDGE = 6.0
"""Pressure at the edge of a hole from a couple C over its length t, as that of a force: 6 C/t. Source: statics."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class LugLoad:
    """What the plant's lug carries, both ears of the box added, shapes (..., state, bound, 1).

    Attributes:
        load: The force on the bar, its parts upright and level, and the thrust along the bar.
        yaw: Couple about the upright axis, from the ears pulling unlike along the plant. [lbf*in]
        roll: Couple about the level axis along the plant, from the ears pulling unlike upward. [lbf*in]
    """

    load: EarLoad
    yaw: Array
    roll: Array


def pivot_not_assessed(solution: Solution) -> list[Missing]:
    """Load-path parts of a center pivot that the case does not describe, or that no clause speaks about."""
    rig = solution.rig
    missing = []

    def say(what: str, *, key: str) -> None:
        missing.append(Missing(what, id=key, group="hinge"))

    if not pin_and_plates(rig):
        say(BAR, key="hinge.pin")
        say("how far the pivot lets the box roll and swing sideways before its bar bears", key="hinge.play")
    missing += plates_not_described(rig, PARTS)
    shape = head_shape(rig)
    if shape is None or shape.kind not in TUBES:
        say("what the ears of the pivot stand on (no tube across the head)", key=f"{BOX}.face")
    if not rig.value("hinge.pin_retained"):
        say("retention of the pivot bar", key="hinge.pin_retained")
    return missing


def pivot_checks(solution: Solution, hinge: Array, *, stress: Array | None, basis: Basis) -> list[Check]:
    """Bar, ears, lug, their welds and the tube under the ears, on one basis.

    Args:
        solution: The statics.
        hinge: Forces of the plant on either ear of the box, shape (..., state, bound, side, 3). [lbf]
        stress: Of the member at the head, shape (..., state, bound, side); None where it is no tube. [psi]
        basis: Basis of allowable strength.

    Returns:
        Checks; none of what is not described.

    Source: docs/method.md#center-pivot.
    """
    rig = solution.rig
    rows: list[Row] = []
    if rig.has("hinge.pin"):
        rows += _bar_rows(solution, np.hypot(hinge[..., 0], hinge[..., 2]), basis=basis)
    if rig.value(BOX) is not None:
        load = ear_load(solution, hinge, ear=BOX)
        rows += plate_rows(rig, load, ear=BOX, part=EAR, basis=basis) if rig.has("hinge.pin") else []
        rows.append(root_row(rig, load, ear=BOX, part=EAR, basis=basis))
        if rig.has(f"{BOX}.weld") and rig.has(f"{BOX}.weld_length"):
            rows.append(weld_row(rig, load, ear=BOX, part=EAR, basis=basis))
        if stress is not None:
            rows.append((Item.PIVOT_EAR_FACE, *face_row(rig, load, stress=stress, basis=basis)[1:]))
    if rig.value(PLANT) is not None:
        rows += _lug_rows(rig, _on_lug(solution, hinge), basis=basis)
    return hinge_rows(rows, basis=basis, text=f"{basis.title}; one ear of the box carries its side, the lug both")


def _on_lug(solution: Solution, hinge: Array) -> LugLoad:
    """Both ears added; what they carry unlike is a couple over half of their distance."""
    x, y, z = (hinge[..., axis].sum(-1, keepdims=True) for axis in range(3))
    half = 0.5 * solution.layout.hinge_spacing[..., None, None, None]
    unlike = np.abs(hinge[..., :1, :] - hinge[..., 1:, :]) * half[..., None]
    load = EarLoad(np.hypot(x, z), np.abs(z), np.abs(x), np.abs(y), np.zeros(()))
    return LugLoad(load, unlike[..., 0], unlike[..., 2])


def _bar_rows(solution: Solution, force: Array, *, basis: Basis) -> list[Row]:
    """Between the middle of an ear and a quarter of the lug inside its middle: F_ear (c/2 - t/4)."""
    rig = solution.rig
    metal = steel.grade(str(rig.value("hinge.pin_steel")))
    strong = pin_strength(per_row(rig.number("hinge.pin")), fy=metal.fy, fu=metal.fu, basis=basis)
    rows: list[Row] = [
        (BAR, HingeWay.PIN_SHEAR, "force", force, strong.shear,
         "AISC 360-22 G1, Table J3.2; ASME BTH-1 3-2.3.6 (memory)")
    ]  # fmt: skip
    inside = rig.number(f"{PLANT}.plate") if rig.value(PLANT) is not None else np.zeros(())
    arm = per_row(0.5 * solution.layout.hinge_spacing - 0.25 * inside)
    clause = "AISC 360-22 F11.1; ASME BTH-1 3-2.3 (memory)"
    return [(BAR, HingeWay.BAR_BENDING, "moment", force * arm, strong.moment, clause), *rows]


def _lug_rows(rig: Rig, on: LugLoad, *, basis: Basis) -> list[Row]:
    """The lug at its hole with the pressure of the couples at its edge, at its root, and at its weld."""
    load, rows = on.load, list[Row]()
    couple = np.hypot(on.yaw, on.roll)
    if rig.has("hinge.pin"):
        pressed = replace(load, force=load.force + EDGE * couple / per_row(rig.number(f"{PLANT}.plate")))
        rows += plate_rows(rig, pressed, ear=PLANT, part=LUG, basis=basis)
    arm, root = per_row(rig.number(f"{PLANT}.stand_off")), lug_run(rig, key=PLANT)
    thick, metal = rig.number(f"{PLANT}.plate"), plate_steel(rig, PLANT)
    flat = flat_plate_moment(thick, width=root, fy=metal.fy, basis=basis)
    upright = upright_plate_moment(thick, depth=root, fy=metal.fy, basis=basis, length=rig.number(f"{PLANT}.stand_off"))
    use = (load.aside * arm + on.yaw) / per_row(flat) + load.along * arm / per_row(upright)
    use = use + load.out / per_row(root_tension(thick, width=root, fy=metal.fy, basis=basis))
    use = use + on.roll / per_row(plate_torsion(thick, width=root, fy=metal.fy, basis=basis))
    clause = "AISC 360-22 D2, F11, H2, H3 (memory); ASME BTH-1 3-2.1, 3-2.3 (memory); torsion of a rectangle (memory)"
    rows.append((LUG, HingeWay.ROOT_TWISTED, "number", use, np.ones(()), clause))
    if rig.has(f"{PLANT}.weld") and rig.has(f"{PLANT}.weld_length"):
        rows.append(_lug_weld(rig, on, basis=basis))
    return rows


def _lug_weld(rig: Rig, on: LugLoad, *, basis: Basis) -> Row:
    """Two runs along the faces of the lug, the roll couple twisting them either way."""
    load, arm = on.load, per_row(rig.number(f"{PLANT}.stand_off"))
    group = two_verticals(per_row(rig.number(f"{PLANT}.plate")), depth=per_row(lug_run(rig, key=PLANT)))
    worst = np.max(
        np.broadcast_arrays(*(
            peak_force(group, load=WeldLoad(fx=load.aside, fy=load.along, fz=load.out, mx=-arm * load.along,
                                            my=arm * load.aside + on.yaw, mz=way * on.roll))
            for way in (1.0, -1.0)
        )),
        axis=0,
    )  # fmt: skip
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum"
    return (EAR_WELDS[LUG], LugWay.WELD, "line", worst, weld_allowed(rig, ear=PLANT, basis=basis), clause)


def play(rig: Rig) -> Array | None:
    """How far the bar tilts in its holes before it bears at their edges, shape (...); None where they are not told.

    The bar lies in the middle of its holes: (D - d)/t in the lug, and as much as (D - d)/c between the ears. [rad]

    Source: own derivation, docs/method.md#center-pivot.
    """
    if not rig.has("hinge.pin") or any(rig.value(ear) is None for ear in (BOX, PLANT)):
        return None
    bar, between = rig.number("hinge.pin"), hinge_apart(rig, head=np.zeros(()))
    in_lug = (rig.number(f"{PLANT}.hole") - bar) / rig.number(f"{PLANT}.plate")
    return np.asarray(np.maximum(in_lug, 0.0) + np.maximum(rig.number(f"{BOX}.hole") - bar, 0.0) / between)

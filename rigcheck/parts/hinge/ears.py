"""A hinge of ears: a pin through one ear of the box and one or two of the plant at each side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.items import EAR_WELDS, Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import hinge_apart, pivots
from rigcheck.parts.cross_member.forces import head_shape, in_box
from rigcheck.parts.face.checks import CLAUSE as FACE
from rigcheck.parts.face.checks import TUBES, tube_face
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.parts.lug.ways import LugWay
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.connections.faces import Face, Foot, face_strength
from rigcheck.strength.connections.lugs import (
    flat_plate_moment,
    lug_strength,
    plate_clause,
    root_tension,
    upright_plate_moment,
)
from rigcheck.strength.connections.pins import pin_moment, pin_strength
from rigcheck.strength.connections.weld_lines import WeldLoad, peak_force, two_verticals
from rigcheck.strength.connections.welds import Joint
from rigcheck.tables import steel
from rigcheck.tables.steel import Grade

BOX, PLANT = "hinge.ear", "hinge.plant_ear"
FACE_BENT = "wall of the tube under it bent"
PARTS = {BOX: Item.BOX_EAR, PLANT: Item.PLANT_EAR}
Way = HingeWay | LugWay | None
Row = tuple[str, Way, str, Array, Array, str]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class EarLoad:
    """What one ear carries, shapes (..., state, bound, side).

    Attributes:
        force: In its plane. [lbf]
        along: Of that, along its weld. [lbf]
        out: Of that, square to what it is welded to. [lbf]
        aside: Across its plane: the end thrust of the pin. [lbf]
        lap: Distance between the middles of box ear and plant ear where one stands beside the other, else 0. [in]
    """

    force: Array
    along: Array
    out: Array
    aside: Array
    lap: Array


def has_ears(rig: Rig) -> bool:
    """Whether the hinge is one of ears."""
    return bool(rig.value("hinge.kind") == "ears")


def has_plates(rig: Rig) -> bool:
    """Whether its pin goes through plates on edge: ears, or the ears and the lug of a center pivot."""
    return has_ears(rig) or pivots(rig)


def pin_and_plates(rig: Rig) -> bool:
    """Whether the pin and the plates of box and plant are described."""
    return rig.has("hinge.pin") and all(rig.value(ear) is not None for ear in (BOX, PLANT))


def plates_not_described(rig: Rig, parts: Mapping[str, Item]) -> list[Missing]:
    """Plates on the pin, and their welds, that the case does not describe.

    Args:
        rig: The rig.
        parts: Where the plate of the box and that of the plant stand in the case, to what they are.
    """
    found = []
    for ear, part in parts.items():
        there = rig.value(ear) is not None
        if not (there and rig.has("hinge.pin")):
            found.append(Missing(part, id=ear, group="hinge"))
        if not (there and rig.has(f"{ear}.weld") and rig.has(f"{ear}.weld_length")):
            found.append(Missing(EAR_WELDS[part], id=f"{ear}.weld", group="hinge"))
    return found


def hinge_rows(rows: Sequence[Row], *, basis: Basis, text: str) -> list[Check]:
    """Checks of the hinge on one basis, of which a text says what carries what."""
    ultimate = basis is ULTIMATE
    return [
        Check(part=name, group="hinge", mode=(way.value if way else FACE_BENT) + (" (strength)" if ultimate else ""),
              unit=unit, demand=demand, capacity=capacity, basis=text, clause=clause, ultimate=ultimate, way=way)
        for name, way, unit, demand, capacity, clause in rows
    ]  # fmt: skip


def ears_not_assessed(solution: Solution) -> list[Missing]:
    """Load-path parts of a hinge of ears that the case does not describe, or that no clause speaks about."""
    rig = solution.rig
    missing = []

    def say(what: str, *, key: str) -> None:
        missing.append(Missing(what, id=key, group="hinge"))

    if not pin_and_plates(rig):
        say("hinge ear pin", key="hinge.pin")
    missing += plates_not_described(rig, PARTS)
    shape = head_shape(rig)
    if rig.value(BOX) is not None and (shape is None or shape.kind not in TUBES):
        say("what the hinge ears stand on (no tube)", key=f"{BOX}.face")
    if not rig.value("hinge.pin_retained"):
        say("retention of the hinge pin", key="hinge.pin_retained")
    return missing


def ear_checks(solution: Solution, hinge: Array, *, stress: Array | None, basis: Basis) -> list[Check]:
    """Pin, ears, their welds and the tube under the box's ear, on one basis.

    Args:
        solution: The statics.
        hinge: Forces of the plant on the box, shape (..., state, bound, side, 3). [lbf]
        stress: Of the member at the hinge, shape (..., state, bound, side); None where it is no tube. [psi]
        basis: Basis of allowable strength.

    Returns:
        Checks; none of what is not described.

    Source: docs/method.md#hinge-ears.
    """
    rig = solution.rig
    rows: list[Row] = []
    if pin_and_plates(rig):
        rows += _pin_rows(rig, np.hypot(hinge[..., 0], hinge[..., 2]), basis=basis)
    for ear, part in PARTS.items():
        if rig.value(ear) is None:
            continue
        load = ear_load(solution, hinge, ear=ear)
        if rig.has("hinge.pin"):
            rows += plate_rows(rig, load, ear=ear, part=part, basis=basis)
        rows.append(root_row(rig, load, ear=ear, part=part, basis=basis))
        if rig.has(f"{ear}.weld") and rig.has(f"{ear}.weld_length"):
            rows.append(weld_row(rig, load, ear=ear, part=part, basis=basis))
        if ear == BOX and stress is not None:
            rows.append(face_row(rig, load, stress=stress, basis=basis))
    shear = "double shear" if in_double_shear(rig) else "single shear"
    return hinge_rows(rows, basis=basis, text=f"{basis.title}; {shear}, one ear of the box carries its side")


def in_double_shear(rig: Rig) -> bool:
    """Whether two plates hold one between them: ears of the plant one of the box, or of the box a pivot's lug."""
    return bool(rig.value("hinge.shear") == "double") or pivots(rig)


def pins_of(rig: Rig) -> int:
    """How many pins there are: one at each side, or the one bar of a center pivot."""
    return 1 if pivots(rig) else 2


def plates_of(rig: Rig) -> tuple[tuple[str, str, int], ...]:
    """Plates of box and plant on all pins: where they stand in the case, their name, how many there are."""
    if pivots(rig):
        return ((BOX, "pivot ears, box", 2), (PLANT, "pivot lug, plant", 1))
    return ((BOX, "hinge ears, box", 2), (PLANT, "hinge ears, plant", 4 if in_double_shear(rig) else 2))


def plate_gap(rig: Rig) -> Array:
    """Clear gap between neighboring plates, shape (...): of a pivot, what its ears leave beside its lug. [in]"""
    if not pivots(rig):
        return rig.number("hinge.gap")
    plates = rig.number(f"{BOX}.plate") + rig.number(f"{PLANT}.plate")
    return np.asarray(0.5 * np.maximum(hinge_apart(rig, head=plates) - plates, 0.0))


def lap_of(rig: Rig) -> Array:
    """From the middle of the box's ear to that of the plant's beside it, shape (...); an ear not given as the other."""
    one, other = BOX if rig.value(BOX) is not None else PLANT, PLANT if rig.value(PLANT) is not None else BOX
    return np.asarray(0.5 * (rig.number(f"{one}.plate") + rig.number(f"{other}.plate")) + rig.number("hinge.gap"))


def ear_load(solution: Solution, hinge: Array, *, ear: str) -> EarLoad:
    """The box's ear carries its side alone; the plant's too, or half of it where two hold one."""
    rig = solution.rig
    force = np.hypot(hinge[..., 0], hinge[..., 2])
    if ear == PLANT:
        along, out = np.abs(hinge[..., 2]), np.abs(hinge[..., 0])
    else:
        floor, square = (np.abs(part) for part in in_box(solution, hinge))
        along, out = {"nose": (square, floor), None: (force, force)}.get(rig.value("hinge.barrel_on"), (floor, square))
    share = 0.5 if ear == PLANT and in_double_shear(rig) else 1.0
    lap = np.zeros(()) if in_double_shear(rig) else per_row(lap_of(rig))
    return EarLoad(share * force, share * along, share * out, np.abs(hinge[..., 1]), lap)


def _pin_rows(rig: Rig, force: Array, *, basis: Basis) -> list[Row]:
    """Two planes: the middle of three plates. One: the whole couple of the lap, as of a pin that one ear holds."""
    metal = steel.grade(str(rig.value("hinge.pin_steel")))
    strong = pin_strength(per_row(rig.number("hinge.pin")), fy=metal.fy, fu=metal.fu, basis=basis)
    if in_double_shear(rig):
        outer, gap, inner = (per_row(rig.number(key)) for key in (f"{PLANT}.plate", "hinge.gap", f"{BOX}.plate"))
        moment, planes = pin_moment(force, outer=outer, gap=gap, inner=inner), 2.0
    else:
        moment, planes = force * per_row(lap_of(rig)), 1.0
    return [
        (Item.EAR_PIN, HingeWay.PIN_BENDING, "moment", moment, strong.moment,
         "AISC 360-22 F11.1; ASME BTH-1 3-2.3 (memory)"),
        (Item.EAR_PIN, HingeWay.PIN_SHEAR, "force", force / planes, strong.shear,
         "AISC 360-22 G1, Table J3.2; ASME BTH-1 3-2.3.6 (memory)"),
    ]  # fmt: skip


def plate_steel(rig: Rig, ear: str) -> Grade:
    """Steel of an ear or lug."""
    return steel.grade(str(rig.value(f"{ear}.steel")))


def ear_plate(rig: Rig, *, ear: str) -> PinPlate:
    """An ear at its hole, the pull toward the nearest edge or side whichever way it points, shapes (..., 1, 1, 1)."""
    metal, hole = plate_steel(rig, ear), rig.number(f"{ear}.hole")
    edge, width = rig.number(f"{ear}.edge"), rig.number(f"{ear}.width")
    return PinPlate(
        thickness=per_row(rig.number(f"{ear}.plate")),
        width=per_row(np.minimum(width, 2.0 * edge)),
        edge=per_row(np.minimum(edge, 0.5 * width)),
        hole=per_row(hole),
        pin=per_row(np.minimum(rig.number("hinge.pin"), hole)),
        edge_radius=0.0,
        fy=metal.fy,
        fu=metal.fu,
    )


def plate_rows(rig: Rig, load: EarLoad, *, ear: str, part: Item, basis: Basis) -> list[Row]:
    """At the hole, in every way."""
    strong = lug_strength(ear_plate(rig, ear=ear), basis=basis)
    clause = plate_clause(basis)
    return [
        (part, way, "force", load.force, most, clause)
        for way, most in (
            (LugWay.TENSION, strong.tension),
            (LugWay.SPLITTING, strong.splitting),
            (LugWay.SHEAR, strong.shear),
            (LugWay.BEARING, strong.bearing),
        )
    ]


def root_row(rig: Rig, load: EarLoad, *, ear: str, part: Item, basis: Basis) -> Row:
    """Thrust with its arm and the lap's couple bend it flat, the force along its weld bends it upright."""
    metal, arm = plate_steel(rig, ear), rig.number(f"{ear}.stand_off")
    thick, root = rig.number(f"{ear}.plate"), lug_run(rig, key=ear)
    flat = flat_plate_moment(thick, width=root, fy=metal.fy, basis=basis)
    upright = upright_plate_moment(thick, depth=root, fy=metal.fy, basis=basis, length=arm)
    bent = (load.aside * per_row(arm) + load.force * load.lap) / per_row(flat)
    turned = load.along * per_row(arm) / per_row(upright)
    use = bent + turned + load.out / per_row(root_tension(thick, width=root, fy=metal.fy, basis=basis))
    clause = "AISC 360-22 D2, F11, H2 (memory); ASME BTH-1 3-2.1, 3-2.3 (memory)"
    return (part, LugWay.ROOT, "number", use, np.ones(()), clause)


def weld_row(rig: Rig, load: EarLoad, *, ear: str, part: Item, basis: Basis) -> Row:
    """Two runs along the faces of the plate, the elastic vector sum at its worst end."""
    arm, length = per_row(rig.number(f"{ear}.stand_off")), per_row(lug_run(rig, key=ear))
    thick = rig.number(f"{ear}.plate")
    group = two_verticals(per_row(thick), depth=length)
    flat, twist = arm * load.aside + load.lap * load.out, load.lap * load.along
    worst = np.max(
        np.broadcast_arrays(*(
            peak_force(group, load=WeldLoad(fx=load.aside, fy=load.along, fz=load.out, mx=-arm * load.along, my=flat,
                                            mz=way * twist))
            for way in (1.0, -1.0)
        )),
        axis=0,
    )  # fmt: skip
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum"
    return (EAR_WELDS[part], LugWay.WELD, "line", worst, weld_allowed(rig, ear=ear, basis=basis), clause)


def ear_joints(rig: Rig, *, ear: str) -> list[Joint]:
    """The ear with a weld on either face, and the wall that the box's ear stands on, shapes (..., 1, 1, 1)."""
    own, metal = rig.number(f"{ear}.plate"), plate_steel(rig, ear)
    joints = [(own, metal, 2.0)]
    shape = head_shape(rig)
    if ear == BOX and shape is not None:
        joints.append((np.asarray(shape.t_design), _member_steel(rig), 1.0))
    leg, length = per_row(rig.number(f"{ear}.weld")), per_row(lug_run(rig, key=ear))
    return [
        joint_on(rig, grade, leg=leg, length=length, thickness=per_row(thick), faces=faces)
        for thick, grade, faces in joints
    ]


def weld_allowed(rig: Rig, *, ear: str, basis: Basis) -> Array:
    """Force per inch of its weld."""
    return least_allowed(rig, ear_joints(rig, ear=ear), basis=basis)


def _member_steel(rig: Rig) -> Grade:
    return steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")


def ear_on_face(rig: Rig, *, stressed: Array) -> tuple[Face, Foot]:
    """The face of the member at the hinge under the box's ear, which crosses it."""
    shape, grade = head_shape(rig), _member_steel(rig)
    assert shape is not None
    on = rig.value("hinge.barrel_on")
    wide, deep = (shape.depth, shape.width) if on == "nose" else (shape.width, shape.depth)
    if on is None:
        wide, deep = max(wide, deep), min(wide, deep)
    foot = Foot(length=per_row(rig.number(f"{BOX}.plate")), breadth=per_row(np.minimum(lug_run(rig, key=BOX), wide)))
    return tube_face(shape, grade=grade, stressed=stressed, sizes=(wide, deep)), foot


def face_row(rig: Rig, load: EarLoad, *, stress: Array, basis: Basis) -> Row:
    """The member under the box's ear: pulled, turned across the tube, and turned along it."""
    tube, foot = ear_on_face(rig, stressed=stress * basis.yielding / _member_steel(rig).fy)
    face = face_strength(tube, foot=foot, basis=basis)
    arm = per_row(rig.number(f"{BOX}.stand_off"))
    across, along = load.along * arm, load.aside * arm + load.force * load.lap
    shares = ((load.out, face.pull), (across, face.across), (along, face.along))
    use = np.asarray(sum(divide(part, most, where_zero=UNLIMITED) for part, most in shares))
    return (Item.EAR_FACE, None, "number", use, np.ones(()), FACE)

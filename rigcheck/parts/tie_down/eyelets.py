"""The eyelets that tie-downs hook into: plate at the hole, bending at its root and weld, under each strap's pull."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import thinnest_side
from rigcheck.parts.face.checks import CLAUSE, TUBES, tube_face
from rigcheck.parts.face.sheet import CLAUSE as BARE
from rigcheck.parts.face.sheet import eyelet_per_pound
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.connections.faces import Foot, face_strength
from rigcheck.strength.connections.lugs import lug_strength, plate_clause, upright_plate_moment
from rigcheck.strength.connections.weld_lines import WeldLoad, peak_force, two_verticals
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape

_Row = tuple[str, str, Array | float, Array, str]


def _key(index: int) -> str:
    return f"haul.tie_down.{index}.eyelet"


def eyelets_not_assessed(rig: Rig) -> list[Missing]:
    """Eyelets that the case does not describe far enough."""
    missing: list[Missing] = []
    for i in range(len(rig.value("haul.tie_down"))):
        if rig.value(_key(i)) is None:
            missing.append(Missing(f"eyelet of tie-down {i + 1}", id=_key(i), group="road"))
            continue
        if not rig.has(f"{_key(i)}.pin"):
            text = f"eyelet of tie-down {i + 1} (what goes through it is not known)"
            missing.append(Missing(text, id=f"{_key(i)}.pin", group="road"))
        if not (rig.has(f"{_key(i)}.weld") and rig.has(f"{_key(i)}.weld_length")):
            missing.append(Missing(f"weld of the eyelet of tie-down {i + 1}", id=f"{_key(i)}.weld", group="road"))
        on, tube = str(rig.value(f"haul.tie_down.{i}.eyelet_on")), eyelet_tube(rig, i)
        if on != "side wall" and (tube is None or tube[0].kind == "angle"):
            why = "not described" if tube is None else "an angle's leg, no tube"
            text = f"{on} under the eyelet of tie-down {i + 1} ({why})"
            missing.append(Missing(text, id=f"{_key(i)}.face", group="road"))
    return missing


def eyelet_checks(rig: Rig, *, pull: Array, where: NDArray[np.bool_]) -> list[Check]:
    """Every described eyelet on the chosen basis, and on strength for the breaking-strength set of the road.

    The plate is taken to stand in line with its strap. Its hole is pulled toward the nearer of edge and side, its root
    and its weld in the worse of two directions: along the weld, and square to it.

    Args:
        rig: The rig, one or a batch.
        pull: Pull of one strap of each kind, shape (..., state, 1, 1, strap). [lbf]
        where: Rows looked at, broadcasts to (..., state, bound, side).

    Returns:
        Checks; none where no eyelet is described.

    Source: docs/method.md#lug; docs/method.md#folded.
    """
    checks: list[Check] = []
    for i in range(len(rig.value("haul.tie_down"))):
        if rig.value(_key(i)) is None:
            continue
        for basis in (BASES[str(rig.value("basis"))], ULTIMATE):
            grade = steel.grade(str(rig.value(f"{_key(i)}.steel"))).key
            for mode, unit, per_pound, capacity, clause in _rows(rig, i, basis=basis):
                ultimate = basis is ULTIMATE
                checks.append(
                    Check(part=f"eyelet of tie-down {i + 1}", group="road", unit=unit, ultimate=ultimate,
                          mode=mode + (" (strength)" if ultimate else ""),
                          demand=pull[..., i] * np.asarray(per_pound)[..., None, None, None],
                          capacity=np.asarray(capacity)[..., None, None, None], where=where, clause=clause,
                          basis=f"{basis.title}; steel {grade}; plate in line with its strap")
                )  # fmt: skip
    return checks


def _rows(rig: Rig, index: int, *, basis: Basis) -> list[_Row]:
    key = _key(index)
    metal = steel.grade(str(rig.value(f"{key}.steel")))
    plate, width, edge = (rig.number(f"{key}.{name}") for name in ("plate", "width", "edge"))
    stated = rig.number(f"{key}.stand_off")
    arm = np.where(stated > 0.0, stated, edge)
    rows: list[_Row] = []
    if rig.has(f"{key}.pin"):
        hole = rig.number(f"{key}.hole")
        near = np.minimum(edge, 0.5 * width)
        strong = lug_strength(
            PinPlate(
                thickness=plate,
                width=np.minimum(width, 2.0 * edge),
                edge=near,
                hole=hole,
                pin=np.minimum(rig.number(f"{key}.pin"), hole),
                edge_radius=0.0,
                fy=metal.fy,
                fu=metal.fu,
            ),
            basis=basis,
        )
        clause = plate_clause(basis)
        rows += [
            ("tension beside the hole", "force", 1.0, strong.tension, clause),
            ("single-plane fracture beyond the hole", "force", 1.0, strong.splitting, clause),
            ("double-plane shear beyond the hole", "force", 1.0, strong.shear, clause),
            ("bearing on what goes through it", "force", 1.0, strong.bearing, clause),
        ]
    bend = upright_plate_moment(plate, depth=lug_run(rig, key=key), fy=metal.fy, basis=basis, length=arm)
    rows.append(("bending at its root", "moment", arm, bend, "AISC 360-22 F11 (memory); ASME BTH-1 3-2.3 (memory)"))
    if rig.has(f"{key}.weld") and rig.has(f"{key}.weld_length"):
        rows.append(_weld(rig, index, arm=arm, basis=basis))
    tube = eyelet_tube(rig, index)
    if tube is not None and tube[0].kind in TUBES:
        rows.append(_face(rig, key, tube=tube, arm=arm, basis=basis))
    strap = rig.value("haul.tie_down")[index]
    if strap.eyelet_on == "side wall":
        worst = eyelet_per_pound(rig, key=key, arm=arm, height=np.asarray(strap.start[2]), basis=basis)
        rows.append(("side wall under it bent", "number", worst, np.ones(()), BARE))
    return rows


def eyelet_tube(rig: Rig, index: int) -> tuple[Shape, steel.Grade] | None:
    """Shape and steel that an eyelet is welded to; None for the side wall."""
    on = str(rig.value(f"haul.tie_down.{index}.eyelet_on"))
    found = {
        "stiffener": ("rail.stiffener", "rail.steel"),
        "end tube": ("end_tube.shape", "cross_member.steel"),
        "cross-member": ("cross_member.shape", "cross_member.steel"),
    }.get(on)
    if found is None or not rig.has(found[0]):
        return None
    grade = str(rig.value(found[1])) if rig.has(found[1]) else steel.UNKNOWN
    return shapes.find(rig.value(found[0])), steel.grade(grade)


def _face(rig: Rig, key: str, *, tube: tuple[Shape, steel.Grade], arm: Array, basis: Basis) -> _Row:
    """The wall of the tube under it: a pull in the plane of the plate, in the worse of all directions.

    F sqrt(1/N^2 + (a/M)^2) is the most that a pull F, square to the wall or along it at the arm a, can use. The tube's
    own stress on the road is not known here: none of the fans at the ends of the foot is counted.
    """
    shape, grade = tube
    run, sizes = lug_run(rig, key=key), (max(shape.width, shape.depth), min(shape.width, shape.depth))
    face = face_strength(
        tube_face(shape, grade=grade, stressed=np.ones(()), sizes=sizes),
        foot=Foot(length=run, breadth=rig.number(f"{key}.plate"), faces=2.0 if rig.value(f"{key}.through") else 1.0),
        basis=basis,
    )
    worst = np.hypot(divide(1.0, face.pull, where_zero=UNLIMITED), divide(arm, face.along, where_zero=UNLIMITED))
    return ("wall of the tube under it bent", "number", worst, np.ones(()), CLAUSE)


def _weld(rig: Rig, index: int, *, arm: Array, basis: Basis) -> _Row:
    key, tube = _key(index), eyelet_tube(rig, index)
    # the side wall is the thinnest that it can stand on
    wall = (thinnest_side(rig), steel.grade(str(rig.value("box.steel"))))
    back, back_steel = wall if tube is None else (np.asarray(tube[0].t_design), tube[1])
    plate, length = rig.number(f"{key}.plate"), lug_run(rig, key=key)
    group = two_verticals(plate, depth=length)
    along = peak_force(group, load=WeldLoad(fy=np.ones(()), mx=-arm))
    square = peak_force(group, load=WeldLoad(fz=np.ones(())))
    metals = ((plate, steel.grade(str(rig.value(f"{key}.steel"))), 2.0), (back, back_steel, 1.0))
    leg = rig.number(f"{key}.weld")
    joints = [
        joint_on(rig, metal, leg=leg, length=length, thickness=thick, faces=faces) for thick, metal, faces in metals
    ]
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum"
    return (
        "weld, force per inch", "line", np.maximum(along, square), least_allowed(rig, joints, basis=basis), clause
    )  # fmt: skip

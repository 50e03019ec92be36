"""The hinge: pin in shear and bending, barrel in bearing and wall, the barrel's weld, and one group left alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import pivots
from rigcheck.parts.cross_member.forces import head_member, head_shape, in_box
from rigcheck.parts.face.checks import CLAUSE as FACE
from rigcheck.parts.face.checks import TUBES, barrel_face, barrel_has_face
from rigcheck.parts.hinge.ears import ear_checks, ears_not_assessed, has_ears
from rigcheck.parts.hinge.pivot import pivot_checks, pivot_not_assessed
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.strength.bases import PIN_BEARING, ULTIMATE, Basis
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.connections.lugs import lug_strength, plate_clause
from rigcheck.strength.connections.pins import pin_moment, pin_strength
from rigcheck.tables import steel

WELD_AROUND_BARREL = 0.5 * (1.0 + np.sqrt(5.0))
"""Worst force per inch of the two welds under a barrel over P/L, whichever way P points.

Source: own derivation, docs/method.md#barrel-weld.
"""
THRUST_ON_WELD = 12.0
"""Force per inch at the end of two runs, each L/2 long, over Y r/L^2, from a force Y along them at a height r.

Source: own derivation, S = 2 (L/2)^2/6, docs/method.md#barrel-weld.
"""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Knuckle:
    """How one hinge group shares its force.

    Attributes:
        carrying: Box barrels that bear.
        planes: Shear planes of the pin at one of them.
        words: The rule in words.
    """

    carrying: int
    planes: int
    words: str


def knuckle(rig: Rig) -> Knuckle:
    """Box barrels that bear: one unless the barrels are line-bored.

    Barrels alternate, plant and box. An odd number has the plant's outside, so that every box barrel is held on both
    sides; an even number leaves an outer box barrel held on one side only. The smaller count of the two kinds is taken
    for the box.

    Source: docs/method.md#hinge-pin.
    """
    barrels = int(rig.value("hinge.barrels"))
    carrying = max(barrels // 2, 1) if rig.value("hinge.aligned") else 1
    planes = 2 if barrels % 2 else 1
    how = f"{carrying} box barrels share" if carrying > 1 else "one box barrel carries (alignment unknown)"
    return Knuckle(carrying, planes, f"{how}, {'two planes' if planes == 2 else 'one plane'}")


def _moment(rig: Rig, force: Array, *, shape: Knuckle) -> Array:
    """Bending of the pin at one carrying barrel, plant barrels outside it."""
    length = rig.number("hinge.barrel_length")
    outer = per_row(rig.number_or("hinge.plant_barrel_length", length))
    inner, gap = per_row(length), per_row(rig.number("hinge.gap"))
    if shape.planes == 2:
        return pin_moment(force, outer=outer, gap=gap, inner=inner)
    return np.asarray(force * 0.5 * (0.5 * (outer + inner) + gap))


def _described(rig: Rig) -> bool:
    return all(rig.has(f"hinge.{key}") for key in ("barrels", "barrel_length", "pin"))


def hinge_not_assessed(solution: Solution) -> list[Missing]:
    """Load-path parts of the hinge that the case does not describe."""
    rig = solution.rig
    if pivots(rig):
        return pivot_not_assessed(solution)
    if has_ears(rig):
        return ears_not_assessed(solution)
    barrel = Missing("hinge barrel", id="hinge.barrel", group="hinge")
    weld = Missing("hinge barrel weld", id="hinge.weld", group="hinge")
    if not _described(rig):
        return [Missing("hinge pin", id="hinge.pin", group="hinge"), barrel, weld]
    missing = [] if rig.has("hinge.barrel_wall") else [barrel]
    if not (rig.has("hinge.weld") and rig.has("hinge.weld_length")):
        missing.append(weld)
    if not rig.value("hinge.pin_retained"):
        missing.append(Missing("retention of the hinge pin", id="hinge.pin_retained", group="hinge"))
    return missing


def group_force(hinge: Array) -> Array:
    """Force across the pin of each group, sqrt(x^2 + z^2), shape (..., state, bound, side). [lbf]"""
    return np.hypot(hinge[..., 0], hinge[..., 2])


def end_thrust(hinge: Array) -> Array:
    """Side force along the pin that bears on one barrel end of a group, shape (..., state, bound, side). [lbf]"""
    return np.abs(hinge[..., 1])


def hinge_checks(solution: Solution) -> list[Check]:
    """Pin, barrel and weld of each hinge group on the chosen basis, and on strength where one line has parted.

    Args:
        solution: The statics.

    Returns:
        Checks; none where the hinge is not described. A center pivot has no other group that could let go.

    Source: docs/method.md#hinge-pin; clauses beside each row.
    """
    pivot = pivots(solution.rig)
    plates = pivot or has_ears(solution.rig)
    if not (plates or _described(solution.rig)):
        return []
    stands = _ear_has_face(solution.rig) if plates else barrel_has_face(solution.rig)
    stress = head_stress(solution) if stands else None
    demand = solution.demand.hinge
    rows_of = pivot_checks if pivot else ear_checks if plates else _group_checks
    checks = [row for one in solution.bases() for row in rows_of(solution, demand, stress=stress, basis=one)]
    named = solution.cases(lambda case: case.left_alone)[:, None, None]
    if pivot or not named.any():
        return checks
    both = solution.held.hinge.sum(-2, keepdims=True)
    for check in rows_of(solution, both, stress=stress, basis=ULTIMATE):
        checks.append(
            Check(part=check.part, group="hinge", mode=f"{check.mode}, other hinge group lost", unit=check.unit,
                  demand=check.demand, capacity=check.capacity, basis=f"{check.basis}, static load",
                  clause=check.clause, ultimate=True, accident=False, where=named, at_rest=True,
                  way=check.way, left_alone=True)
        )  # fmt: skip
    return checks


def _ear_has_face(rig: Rig) -> bool:
    """Whether the box's ears stand on a tube."""
    shape = head_shape(rig)
    return rig.value("hinge.ear") is not None and shape is not None and shape.kind in TUBES


def _group_checks(solution: Solution, hinge: Array, *, stress: Array | None, basis: Basis) -> list[Check]:
    rig = solution.rig
    shape = knuckle(rig)
    each, thrust = group_force(hinge) / shape.carrying, end_thrust(hinge)
    pin = rig.number("hinge.pin")[..., None, None, None]
    metal = steel.grade(str(rig.value("hinge.pin_steel")))
    strong = pin_strength(pin, fy=metal.fy, fu=metal.fu, basis=basis)
    text = f"{basis.title}; {shape.words}; pin {metal.key}"
    ultimate = basis is ULTIMATE
    rows: list[_Row] = [
        (Item.HINGE_PIN, HingeWay.PIN_BENDING, "moment", _moment(rig, each, shape=shape), strong.moment,
         "AISC 360-22 F11.1; ASME BTH-1 3-2.3 (memory)"),
        (Item.HINGE_PIN, HingeWay.PIN_SHEAR, "force", each / shape.planes, strong.shear,
         "AISC 360-22 G1, Table J3.2; ASME BTH-1 3-2.3.6 (memory)"),
    ]  # fmt: skip
    if rig.has("hinge.barrel_wall"):
        rows += _barrel_rows(rig, each, thrust=thrust, pin=pin, basis=basis)
    if rig.has("hinge.weld") and rig.has("hinge.weld_length"):
        rows.append(_weld_row(rig, each, thrust=thrust, basis=basis))
    if stress is not None:
        along, square = in_box(solution, hinge)
        parts = (along / shape.carrying, square / shape.carrying)
        rows.append(_face_row(rig, parts, thrust=thrust, stress=stress, basis=basis))
    if _plant_differs(rig):
        plant = each if shape.carrying > 1 else each / shape.planes
        rows += _plant_rows(rig, plant, thrust=thrust, pin=pin, basis=basis)
    return [
        Check(part=part, group="hinge", mode=_words(way) + (" (strength)" if ultimate else ""), unit=unit,
              demand=demand, capacity=capacity, basis=text, clause=clause, ultimate=ultimate,
              way=way if isinstance(way, HingeWay) else None)
        for part, way, unit, demand, capacity, clause in rows
    ]  # fmt: skip


def _words(way: HingeWay | str) -> str:
    return way.value if isinstance(way, HingeWay) else way


_Row = tuple[str, HingeWay | str, str, Array, Array, str]
_Metals = Sequence[tuple[Array, steel.Grade]]


def _barrel_rows(rig: Rig, each: Array, *, thrust: Array, pin: Array, basis: Basis) -> list[_Row]:
    wall, length = rig.number("hinge.barrel_wall"), rig.number("hinge.barrel_length")
    return _round_lug(Item.BARREL, rig, each, thrust=thrust, pin=pin, sizes=(length, wall), basis=basis)


def _plant_differs(rig: Rig) -> bool:
    """Whether the plant's barrels are described by themselves; alike ones carry no more than the box's."""
    return rig.has("hinge.plant_barrel_wall") or rig.has("hinge.plant_barrel_length")


def plant_barrel(rig: Rig) -> tuple[Array, Array | None]:
    """Length and wall of a barrel on the plant; the box's where nothing else is said."""
    length = rig.number_or("hinge.plant_barrel_length", rig.number("hinge.barrel_length"))
    if rig.has("hinge.plant_barrel_wall"):
        return length, rig.number("hinge.plant_barrel_wall")
    return length, rig.number("hinge.barrel_wall") if rig.has("hinge.barrel_wall") else None


def _plant_rows(rig: Rig, each: Array, *, thrust: Array, pin: Array, basis: Basis) -> list[_Row]:
    """The plant's barrels in the same ways; the plant's own metal under their weld is not known."""
    length, wall = plant_barrel(rig)
    rows: list[_Row] = []
    if wall is not None:
        rows += _round_lug(Item.PLANT_BARREL, rig, each, thrust=thrust, pin=pin, sizes=(length, wall), basis=basis)
    if rig.has("hinge.weld") and rig.has("hinge.weld_length") and wall is not None:
        metals = ((wall, steel.grade(str(rig.value("hinge.barrel_steel")))),)
        run = np.minimum(rig.number("hinge.weld_length"), 2.0 * length)
        rows.append(_weld(Item.PLANT_BARREL_WELD, rig, each, thrust=thrust, run=run, metals=metals, basis=basis))
    return rows


def _face_row(rig: Rig, parts: tuple[Array, Array], *, thrust: Array, stress: Array, basis: Basis) -> _Row:
    """The member at the hinge under one barrel, and its end thrust along the tube.

    Square to the face the force pulls, along the face and across the tube it turns it with the arm r of half a barrel.
    Where the face is not said: F sqrt(1/N^2 + (r/M)^2), the worst there is whichever way F points.
    `parts` are those of F along and square to the floor.
    """
    grade = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    face = barrel_face(rig, stressed=stress * basis.yielding / grade.fy, basis=basis)
    radius = per_row(0.5 * rig.number("hinge.pin") + rig.number_or("hinge.barrel_wall", 0.0))
    on = rig.value("hinge.barrel_on")
    if on is None:
        worst = np.hypot(_over(1.0, face.pull), _over(radius, face.across))
        use, mode = np.hypot(*parts) * worst, ", whichever face"
    else:
        square, along = parts if on == "nose" else parts[::-1]
        use, mode = np.abs(square) * _over(1.0, face.pull) + np.abs(along) * _over(radius, face.across), ""
    use = use + thrust * _over(radius, face.along)
    return (Item.BARREL_FACE, f"wall of the tube under it bent{mode}", "number", use, np.ones(()), FACE)


def _over(value: Array | float, capacity: Array) -> Array:
    return divide(value, capacity, where_zero=UNLIMITED)


def head_stress(solution: Solution) -> Array:
    """Stress of the member at the hinge, axial and of both moments added, shape (..., state, bound, side). [psi]"""
    shape = head_shape(solution.rig)
    assert shape is not None
    carried = head_member(solution, shape=shape)
    bent = np.abs(carried.upright) / shape.sx + np.abs(carried.flat) / shape.sy
    return np.asarray(bent + np.abs(carried.pull) / shape.area)


def barrel_plate(rig: Rig, *, pin: Array, length: Array, wall: Array) -> PinPlate:
    """A barrel as a lug with a round edge, as thick as it is long."""
    metal = steel.grade(str(rig.value("hinge.barrel_steel")))
    outer = pin + 2.0 * wall
    return PinPlate(
        thickness=length,
        width=outer,
        edge=0.5 * outer,
        hole=pin,
        pin=pin,
        edge_radius=0.5 * outer,
        fy=metal.fy,
        fu=metal.fu,
    )


def _round_lug(
    part: str, rig: Rig, each: Array, *, thrust: Array, pin: Array, sizes: tuple[Array, Array], basis: Basis
) -> list[_Row]:
    """A barrel as a lug with a round edge, as thick as it is long; `sizes` are its length and its wall."""
    metal = steel.grade(str(rig.value("hinge.barrel_steel")))
    outer = pin + 2.0 * per_row(sizes[1])
    barrel = barrel_plate(rig, pin=pin, length=per_row(sizes[0]), wall=per_row(sizes[1]))
    strong = lug_strength(barrel, basis=basis)
    wall_strength = np.minimum(np.minimum(strong.tension, strong.splitting), strong.shear)
    clause = plate_clause(basis)
    ring = 0.25 * np.pi * (outer**2 - pin**2)
    return [
        (part, HingeWay.BEARING, "force", each, strong.bearing, clause),
        (part, HingeWay.WALL, "force", each, wall_strength, clause),
        (part, HingeWay.THRUST, "force", thrust, PIN_BEARING * metal.fy / basis.bearing * ring,
         "AISC 360-22 J7 (seen); ASME BTH-1 3-3.3 (memory)"),
    ]  # fmt: skip


def barrel_backing(rig: Rig) -> tuple[str, Array, steel.Grade]:
    """Name, thickness and steel of what a barrel is welded to: the member at the hinge, or the floor sheet there."""
    shape = head_shape(rig)
    if shape is None:
        return "floor sheet", rig.number("box.sheet"), steel.grade(str(rig.value("box.steel")))
    grade = str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown"
    return "member at the hinge", np.asarray(shape.t_design), steel.grade(grade)


def _weld_row(rig: Rig, each: Array, *, thrust: Array, basis: Basis) -> _Row:
    """Two runs under a barrel; the end thrust runs along them, an arm of half the barrel over them.

    Two runs are no longer together than twice the barrel, whatever is stated.
    """
    run = np.minimum(rig.number("hinge.weld_length"), 2.0 * rig.number("hinge.barrel_length"))
    _, back, back_steel = barrel_backing(rig)
    wall = rig.number_or("hinge.barrel_wall", rig.number("box.sheet"))
    metals = ((wall, steel.grade(str(rig.value("hinge.barrel_steel")))), (back, back_steel))
    return _weld(Item.BARREL_WELD, rig, each, thrust=thrust, run=run, metals=metals, basis=basis)


def _weld(part: str, rig: Rig, each: Array, *, thrust: Array, run: Array, metals: _Metals, basis: Basis) -> _Row:
    """Both runs under a barrel, `run` long together, laid on these metals, the barrel's own first."""
    length = per_row(run)
    leg = per_row(rig.number("hinge.weld"))
    joints = [joint_on(rig, metal, leg=leg, length=0.5 * length, thickness=per_row(thick)) for thick, metal in metals]
    allowed = least_allowed(rig, joints, basis=basis)
    wall = metals[0][0] if rig.has("hinge.barrel_wall") else np.zeros(())
    radius = per_row(0.5 * rig.number("hinge.pin") + wall)
    across = WELD_AROUND_BARREL * each / length + THRUST_ON_WELD * thrust * radius / length**2
    worst = np.hypot(across, thrust / length)
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory)"
    return (part, HingeWay.WELD, "line", worst, allowed, clause)

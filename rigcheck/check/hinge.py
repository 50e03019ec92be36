"""The hinge: pin in shear and bending, barrel in bearing and wall, the barrel's weld, and one group left alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.check.members import head_shape
from rigcheck.check.missing import Missing
from rigcheck.check.rows import Check
from rigcheck.check.solve import Solution
from rigcheck.strength.bases import PIN_BEARING, ULTIMATE, Basis
from rigcheck.strength.bth1 import PinPlate
from rigcheck.strength.lugs import lug_strength
from rigcheck.strength.pins import pin_moment, pin_strength
from rigcheck.strength.welds import CONFIDENCE, Joint, fillet_allowable
from rigcheck.tables import steel

Array = NDArray[np.float64]

WELD_AROUND_BARREL = 0.5 * (1.0 + np.sqrt(5.0))
"""Worst force per inch of the two welds under a barrel over P/L, whichever way P points.

Source: own derivation, docs/method.md#barrel-weld.
"""
THRUST_ON_WELD = 12.0
"""Force per inch at the end of two runs, each L/2 long, over Y r/L^2, from a force Y along them at a height r.

Source: own derivation, S = 2 (L/2)^2/6, docs/method.md#barrel-weld.
"""
LEFT_ALONE = ("dry", "running")


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
    """Bending of the pin at one carrying barrel."""
    length = rig.number("hinge.barrel_length")[..., None, None, None]
    gap = rig.number("hinge.gap")[..., None, None, None]
    if shape.planes == 2:
        return pin_moment(force, outer=length, gap=gap, inner=length)
    return np.asarray(force * 0.5 * (length + gap))


def _described(rig: Rig) -> bool:
    return all(rig.has(f"hinge.{key}") for key in ("barrels", "barrel_length", "pin"))


def hinge_not_assessed(solution: Solution) -> list[Missing]:
    """Load-path parts of the hinge that the case does not describe."""
    rig = solution.rig
    barrel = Missing("hinge barrel", id="hinge.barrel", group="hinge")
    weld = Missing("hinge barrel weld", id="hinge.weld", group="hinge")
    if not _described(rig):
        return [Missing("hinge pin", id="hinge.pin", group="hinge"), barrel, weld]
    missing = [] if rig.has("hinge.barrel_wall") else [barrel]
    if not (rig.has("hinge.weld") and rig.has("hinge.weld_length")):
        missing.append(weld)
    if not rig.value("hinge.keeper"):
        missing.append(Missing("retention of the hinge pin", id="hinge.keeper", group="hinge"))
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
        Checks; none where the hinge is not described.

    Source: docs/method.md#hinge-pin; clauses beside each row.
    """
    if not _described(solution.rig):
        return []
    force, thrust = group_force(solution.demand.hinge), end_thrust(solution.demand.hinge)
    checks = [check for one in solution.bases() for check in _group_checks(solution, force, thrust=thrust, basis=one)]
    named = solution.states(*LEFT_ALONE)[:, None, None]
    if not named.any():
        return checks
    both = solution.held.hinge.sum(-2, keepdims=True)
    for check in _group_checks(solution, group_force(both), thrust=end_thrust(both), basis=ULTIMATE):
        checks.append(
            Check(part=check.part, group="hinge", mode=f"{check.mode}, other hinge group lost", unit=check.unit,
                  demand=check.demand, capacity=check.capacity, basis=f"{check.basis}, static load",
                  clause=check.clause, ultimate=True, accident=False, where=named)
        )  # fmt: skip
    return checks


def _group_checks(solution: Solution, force: Array, *, thrust: Array, basis: Basis) -> list[Check]:
    rig = solution.rig
    shape = knuckle(rig)
    each = force / shape.carrying
    pin = rig.number("hinge.pin")[..., None, None, None]
    metal = steel.grade(str(rig.value("hinge.pin_steel")))
    strong = pin_strength(pin, fy=metal.fy, fu=metal.fu, basis=basis)
    text = f"{basis.title}; {shape.words}; pin {metal.key}"
    ultimate = basis is ULTIMATE
    rows = [
        ("hinge pin", "bending across the gaps", "moment", _moment(rig, each, shape=shape), strong.moment,
         "AISC 360-22 F11.1; ASME BTH-1 3-2.3 (memory)"),
        ("hinge pin", "shear", "force", each / shape.planes, strong.shear,
         "AISC 360-22 G1, Table J3.2; ASME BTH-1 3-2.3.6 (memory)"),
    ]  # fmt: skip
    if rig.has("hinge.barrel_wall"):
        rows += _barrel_rows(rig, each, thrust=thrust, pin=pin, basis=basis)
    if rig.has("hinge.weld") and rig.has("hinge.weld_length"):
        rows.append(_weld_row(rig, each, thrust=thrust, basis=basis))
    return [
        Check(part=part, group="hinge", mode=mode + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
              capacity=capacity, basis=text, clause=clause, ultimate=ultimate)
        for part, mode, unit, demand, capacity, clause in rows
    ]  # fmt: skip


_Row = tuple[str, str, str, Array, Array, str]


def _barrel_rows(rig: Rig, each: Array, *, thrust: Array, pin: Array, basis: Basis) -> list[_Row]:
    metal = steel.grade(str(rig.value("hinge.barrel_steel")))
    wall = rig.number("hinge.barrel_wall")[..., None, None, None]
    outer = pin + 2.0 * wall
    barrel = PinPlate(
        thickness=rig.number("hinge.barrel_length")[..., None, None, None],
        width=outer,
        edge=0.5 * outer,
        hole=pin,
        pin=pin,
        edge_radius=0.5 * outer,
        fy=metal.fy,
        fu=metal.fu,
    )
    strong = lug_strength(barrel, basis=basis)
    wall_strength = np.minimum(np.minimum(strong.tension, strong.splitting), strong.shear)
    clause = "ASME BTH-1 3-3.3.1 (memory)" if basis.name == "lifting" else "AISC 360-22 D5, J7 (seen)"
    ring = 0.25 * np.pi * (outer**2 - pin**2)
    return [
        ("hinge barrel", "bearing on the pin", "force", each, strong.bearing, clause),
        ("hinge barrel", "wall torn by the pin", "force", each, wall_strength, clause),
        ("hinge barrel", "end thrust on one face", "force", thrust, PIN_BEARING * metal.fy / basis.bearing * ring,
         "AISC 360-22 J7 (seen); ASME BTH-1 3-3.3 (memory)"),
    ]  # fmt: skip


def _backing(rig: Rig) -> tuple[Array, steel.Grade]:
    """Thickness and steel of what a barrel is welded to: the member at the hinge, or the floor sheet at the head."""
    shape = head_shape(rig)
    if shape is None:
        return rig.number("box.sheet"), steel.grade(str(rig.value("box.steel")))
    grade = str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown"
    return np.asarray(shape.t_design), steel.grade(grade)


def _weld_row(rig: Rig, each: Array, *, thrust: Array, basis: Basis) -> _Row:
    """Two runs under a barrel; the end thrust runs along them, an arm of half the barrel over them.

    Two runs are no longer together than twice the barrel, whatever is stated.
    """
    both_sides = np.minimum(rig.number("hinge.weld_length"), 2.0 * rig.number("hinge.barrel_length"))
    length = both_sides[..., None, None, None]
    back, back_steel = _backing(rig)
    wall = rig.number_or("hinge.barrel_wall", rig.number("box.sheet"))
    metals = ((wall, steel.grade(str(rig.value("hinge.barrel_steel")))), (back, back_steel))
    joints = [
        Joint(
            leg=rig.number("hinge.weld")[..., None, None, None],
            length=0.5 * length,
            electrode=steel.electrode(str(rig.value("weld.electrode"))).fexx,
            thickness=thick[..., None, None, None],
            fy=metal.fy,
            fu=metal.fu,
        )
        for thick, metal in metals
    ]
    share = CONFIDENCE[str(rig.value("weld.hand"))]
    allowed = np.minimum(*(fillet_allowable(joint, basis=basis, confidence=share) for joint in joints))
    radius = (0.5 * rig.number("hinge.pin") + rig.number_or("hinge.barrel_wall", 0.0))[..., None, None, None]
    across = WELD_AROUND_BARREL * each / length + THRUST_ON_WELD * thrust * radius / length**2
    worst = np.hypot(across, thrust / length)
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory)"
    return ("hinge barrel weld", "force per inch, worst direction", "line", worst, allowed, clause)

"""The hinge: pin in shear and bending, barrel in bearing and wall, the barrel's weld, and one group left alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.check.rows import Check
from rigcheck.check.solve import Solution
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
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


def hinge_not_assessed(solution: Solution) -> list[str]:
    """Load-path parts of the hinge that the case does not describe."""
    rig = solution.rig
    if not _described(rig):
        return ["hinge pin", "hinge barrel", "hinge barrel weld"]
    missing = [] if rig.has("hinge.barrel_wall") else ["hinge barrel"]
    if not (rig.has("hinge.weld") and rig.has("hinge.weld_length")):
        missing.append("hinge barrel weld")
    if not rig.value("hinge.keeper"):
        missing.append("retention of the hinge pin")
    return missing


def group_force(hinge: Array) -> Array:
    """Force across the pin of each group, sqrt(x^2 + z^2), shape (..., state, bound, side). [lbf]"""
    return np.hypot(hinge[..., 0], hinge[..., 2])


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
    basis = BASES[str(solution.rig.value("basis"))]
    force = group_force(solution.demand.hinge)
    checks = [*_group_checks(solution, force, basis=basis), *_group_checks(solution, force, basis=ULTIMATE)]
    alone = group_force(solution.held.hinge.sum(-2, keepdims=True))
    named = solution.states(*LEFT_ALONE)[:, None, None]
    for check in _group_checks(solution, alone, basis=ULTIMATE):
        checks.append(
            Check(part=check.part, group="hinge", mode=f"{check.mode}, other hinge group lost", unit=check.unit,
                  demand=check.demand, capacity=check.capacity, basis=f"{check.basis}, static load",
                  clause=check.clause, ultimate=True, accident=False, where=named)
        )  # fmt: skip
    return checks


def _group_checks(solution: Solution, force: Array, *, basis: Basis) -> list[Check]:
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
        rows += _barrel_rows(rig, each, pin=pin, basis=basis)
    if rig.has("hinge.weld") and rig.has("hinge.weld_length"):
        rows.append(_weld_row(rig, each, basis=basis))
    return [
        Check(part=part, group="hinge", mode=mode + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
              capacity=capacity, basis=text, clause=clause, ultimate=ultimate)
        for part, mode, unit, demand, capacity, clause in rows
    ]  # fmt: skip


_Row = tuple[str, str, str, Array, Array, str]


def _barrel_rows(rig: Rig, each: Array, *, pin: Array, basis: Basis) -> list[_Row]:
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
    return [
        ("hinge barrel", "bearing on the pin", "force", each, strong.bearing, clause),
        ("hinge barrel", "wall torn by the pin", "force", each, wall_strength, clause),
    ]


def _weld_row(rig: Rig, each: Array, *, basis: Basis) -> _Row:
    length = rig.number("hinge.weld_length")[..., None, None, None]
    metal = steel.grade(str(rig.value("hinge.barrel_steel")))
    thick = rig.number_or("hinge.barrel_wall", rig.number("box.sheet"))[..., None, None, None]
    joint = Joint(
        leg=rig.number("hinge.weld")[..., None, None, None],
        length=0.5 * length,
        electrode=steel.electrode(str(rig.value("weld.electrode"))).fexx,
        thickness=thick,
        fu=metal.fu,
    )
    allowed = fillet_allowable(joint, basis=basis, confidence=CONFIDENCE[str(rig.value("weld.hand"))])
    worst = WELD_AROUND_BARREL * each / length
    return ("hinge barrel weld", "force per inch, worst direction", "line", worst, allowed, "AISC 360-22 J2.4 (seen)")

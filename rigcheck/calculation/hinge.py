"""The hinge: forces of both groups from the free body of the whole box, and the barrel they bear on."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import Check
from rigcheck.calculation.algebra import least
from rigcheck.calculation.book import Book
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import barrel_force, group_force, group_thrust
from rigcheck.calculation.plate import plate_steps
from rigcheck.calculation.sheet import Sheet
from rigcheck.calculation.spot import Spot
from rigcheck.parts.hinge.checks import barrel_plate, knuckle, plant_barrel
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.quantities.measures import AREA, FORCE, LENGTH, NUMBER, STRESS
from rigcheck.strength.bases import PIN_BEARING
from rigcheck.tables import steel

BARRELS = (Item.BARREL, Item.PLANT_BARREL)


def hinge_section(book: Book) -> Section:
    """The barrel where it governs; hinge forces alone where no barrel is described."""
    spot = book.spot(lambda check: check.item in BARRELS)
    if spot is None:
        return _forces(book)
    rig = spot.solution.rig
    sheet = book.sheet()
    if spot.check.way is HingeWay.THRUST:
        group_force(book, sheet, spot)
        _end_thrust(book, sheet, spot)
        return book.section("hinge", spot, sheet)
    each: Any = barrel_force(book, sheet, spot)
    length, wall = rig.number("hinge.barrel_length"), rig.value("hinge.barrel_wall")
    if spot.item is Item.PLANT_BARREL:
        shape, (length, wall) = knuckle(rig), plant_barrel(rig)
        if shape.carrying == 1 and shape.planes != 1:
            each = each / sheet.given("p", shape.planes, NUMBER, "barrels of the plant that hold one of the box")
    demand = sheet.find(
        "Force on the barrel",
        "P_b",
        each,
        FORCE,
        rounding="up",
        engine=spot.of(spot.check.demand),
        clause="docs/method.md#hinge-pin",
    )
    plate = barrel_plate(rig, pin=rig.number("hinge.pin"), length=length, wall=np.asarray(wall))
    sheet.note("The barrel is a lug with a round edge, as thick as the barrel is long.")
    found = plate_steps(sheet, plate, basis=spot.basis, engine={})
    if spot.check.way is HingeWay.WALL:
        expression = least(*(found[mode] for mode in ("tension", "splitting", "shear")))
        capacity = sheet.find(
            "Allowed on the wall of the barrel",
            "P_a",
            expression,
            FORCE,
            rounding="down",
            engine=spot.of(spot.check.capacity),
            clause=spot.check.clause,
        )
    else:
        capacity = sheet.find(
            "Allowed on the barrel, bearing",
            "P_a",
            found["bearing"],
            FORCE,
            rounding="down",
            engine=spot.of(spot.check.capacity),
            clause=spot.check.clause,
        )
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("hinge", spot, sheet)


def _end_thrust(book: Book, sheet: Sheet, spot: Spot) -> None:
    """Side force against the face of the barrel's end."""
    from sympy import pi

    rig, basis = spot.solution.rig, spot.basis
    demand = sheet.find(
        "Side force on the end of one barrel",
        "Y_b",
        group_thrust(sheet, spot),
        FORCE,
        rounding="up",
        engine=spot.of(spot.check.demand),
        clause="docs/method.md#hinge-pin",
    )
    pin = sheet.given("D_p", rig.number("hinge.pin"), LENGTH, "pin")
    wall = plant_barrel(rig)[1] if spot.item is Item.PLANT_BARREL else rig.number("hinge.barrel_wall")
    outer = sheet.find(
        "Outside of the barrel",
        "D_o",
        pin + 2 * sheet.given("t_w", wall, LENGTH, "its wall"),
        LENGTH,
    )
    fy = sheet.given("F_y", steel.grade(str(rig.value("hinge.barrel_steel"))).fy, STRESS, "yield stress of the barrel")
    divisor = sheet.given("Omega_b", basis.bearing, NUMBER, "divisor for bearing")
    face = sheet.find("Face of the barrel", "A_f", pi / 4 * (outer**2 - pin**2), AREA)
    capacity = sheet.find(
        "Allowed on that face",
        "P_a",
        PIN_BEARING * fy / divisor * face,
        FORCE,
        rounding="down",
        engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
    )
    book.use(sheet, spot, demand=demand, capacity=capacity)


def _forces(book: Book) -> Section:
    """Hinge forces where they are largest, nothing held against them."""
    at = book.spot(lambda check: check.group == "hinge" and not check.left_alone, road=False)
    told = "the case does not describe the barrels of the hinge, so nothing is held against its force"
    if at is None:
        line = book.spot(lambda check: check.group == "line", road=False)
        if line is None:
            return book.missing("hinge", told)
        at = _largest(book, line)
    sheet = book.sheet()
    group_force(book, sheet, at)
    section = book.section("hinge", at, sheet, more=[f"({told[0].upper()}{told[1:]}.)"])
    return replace(
        section, title="hinge: forces on the box", utilization=None, verdict="not_assessed", demand=None, capacity=None
    )


def _largest(book: Book, line: Spot) -> Spot:
    """The row, sharing and side with the largest hinge force."""
    solution = line.solution
    force = np.hypot(solution.demand.hinge[..., 0], solution.demand.hinge[..., 2])
    live = np.array([not row.ultimate and (book.states is None or row.state in book.states) for row in solution.rows])
    live &= ~solution.cases(lambda case: case.folded)
    ranked = np.where((solution.allowed & live[:, None])[..., None], force, -1.0)
    place = np.unravel_index(int(ranked.argmax()), ranked.shape)
    state, bound, side = (np.asarray(one) for one in place)
    check: Check = replace(line.check, part="hinge", mode="force", ultimate=False, accident=None, snag=False)
    return Spot(line.whole, replace(line.found, check=check, state=state, bound=bound, side=side), line.scale)

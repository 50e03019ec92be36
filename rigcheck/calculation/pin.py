"""The hinge pin: force on its group, bending across the gaps by integration, shear, and what the pin holds."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, partial
from typing import Any

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import SIDES, Check
from rigcheck.calculation.algebra import integral, most, put
from rigcheck.calculation.book import Book
from rigcheck.calculation.pages import Section
from rigcheck.calculation.run import Run
from rigcheck.calculation.sharing import named, six_equations
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.pieces import SHARED
from rigcheck.parts.hinge.checks import knuckle
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.quantities.measures import ANGLE, FORCE, LENGTH, MOMENT, NUMBER, STRESS, Measure
from rigcheck.strength.connections import pins
from rigcheck.tables import steel

_PIN = "statics, docs/method.md#hinge-pin"


def pin_section(book: Book) -> Section:
    """The pin in the mode that governs it, the other mode beside it."""
    spot = book.spot(lambda check: check.item is Item.HINGE_PIN)
    if spot is None:
        return book.missing("pin", "the case does not describe the hinge pin")
    sheet = book.sheet()
    each = barrel_force(book, sheet, spot)
    bending = spot.check.way is HingeWay.PIN_BENDING
    demand, capacity = _bending(sheet, spot, each=each) if bending else _shear(sheet, spot, each=each)
    book.use(sheet, spot, demand=demand, capacity=capacity)
    twin = _twin(book, spot, bending=bending)
    if twin is not None:
        demand, capacity = _shear(sheet, twin, each=each) if bending else _bending(sheet, twin, each=each)
        sheet.find(
            "Utilization in the other mode, at the same place",
            "U_2",
            demand / capacity,
            NUMBER,
            rounding="up",
            engine=twin.of(twin.check.demand) / twin.of(twin.check.capacity),
        )
    return book.section("pin", spot, sheet)


def _twin(book: Book, spot: Spot, *, bending: bool) -> Spot | None:
    """The pin's other mode on the same terms, looked at where the governing one is worst."""
    way = HingeWay.PIN_SHEAR if bending else HingeWay.PIN_BENDING

    def other(check: Check) -> bool:
        alike = check.ultimate == spot.check.ultimate and check.accident == spot.check.accident
        return check.item is Item.HINGE_PIN and check.way is way and alike

    found = next((one for one in book.assessment.worst if other(one.check)), None)
    if found is None:
        return None
    return Spot(spot.whole, replace(spot.found, check=found.check), spot.scale)


def group_parts(book: Book, sheet: Sheet, spot: Spot) -> tuple[Any, Any]:
    """Forces of the plant on the box at one hinge group, fore and aft and upward, from the free body of the box."""
    if spot.on_road:
        letter = "LR"[spot.side]
        return tuple(
            sheet.given(
                f"{axis}_{letter}",
                spot.solution.demand.hinge[(*spot.at, k)],
                FORCE,
                f"{spot.side_word} group, {words}, with straps and stops (haul)",
            )
            for axis, k, words in (("X", 0, "fore and aft"), ("Z", 2, "upward"))
        )
    lost = spot.check.left_alone
    body = book.whole_box(sheet, spot, factored=not lost, hinge=True)
    if not lost:
        return body.hinge[spot.side]
    (x_l, z_l), (x_r, z_r) = body.hinge
    sheet.note("The group that is left carries the sum of both; unfactored loads.")
    return x_l + x_r, z_l + z_r


def both_ears(book: Book, sheet: Sheet, spot: Spot) -> list[tuple[Any, Any]]:
    """Forces of the plant on either ear of a center pivot, fore and aft and upward."""
    if not spot.on_road:
        return [(x, z) for x, z in book.whole_box(sheet, spot, factored=True, hinge=True).hinge]
    hinge = spot.solution.demand.hinge[spot.index, spot.bound]
    return [
        tuple(
            sheet.given(f"{axis}_{side[0].upper()}", hinge[i, k], FORCE, f"{side} ear, {words}, with straps and stops")
            for axis, k, words in (("X", 0, "fore and aft"), ("Z", 2, "upward"))
        )
        for i, side in enumerate(SIDES)
    ]


def bar_thrust(sheet: Sheet, spot: Spot) -> Any:
    """Side force along the bar of a center pivot, whichever ear it bears on, once the whole box is worked out."""
    from sympy import Abs

    if spot.on_road:
        value = float(np.abs(spot.solution.demand.hinge[spot.index, spot.bound, :, 1]).max())
        return sheet.given("Y_e", value, FORCE, "side force along the bar, with straps and stops")
    thrust, clause = six_equations().thrust(), "docs/method.md#center-pivot"
    if spot.row.ultimate:
        lines = dict(zip((named("T_L"), named("T_R")), (named("T_La"), named("T_Ra")), strict=True))
        thrust = put(thrust, lines) * named("j")
    return sheet.find("Side force along the bar", "Y_e", Abs(thrust), FORCE, rounding="up", clause=clause)


def on_one_barrel(book: Book, sheet: Sheet, spot: Spot) -> tuple[Symbol, Symbol]:
    """What one barrel of the box carries, along the floor and square to it."""
    from sympy import cos, sin

    x, z = group_parts(book, sheet, spot)
    angle = sheet.once("a", spot.solution.pose.angle[spot.index], ANGLE, "floor above level")
    count = sheet.given("m", knuckle(spot.solution.rig).carrying, NUMBER, "box barrels that share")
    floor = sheet.find("Force on one, along the floor", "F_s", (x * cos(angle) + z * sin(angle)) / count, FORCE)
    return floor, sheet.find("Square to it", "F_n", (z * cos(angle) - x * sin(angle)) / count, FORCE)


def group_force(book: Book, sheet: Sheet, spot: Spot) -> Symbol:
    """Force across the pin of one group, from the free body of the whole box."""
    from sympy import sqrt

    lost = spot.check.left_alone
    x, z = group_parts(book, sheet, spot)
    words = "group that is left" if lost else f"{SIDES[spot.side]} hinge group"
    clause = "docs/method.md#one-group-left-alone" if lost else _PIN
    return sheet.find(f"Force on the {words}", "P", sqrt(x**2 + z**2), FORCE, rounding="up", clause=clause)


def group_thrust(sheet: Sheet, spot: Spot) -> Symbol:
    """Side force along the pin on one end of this group's barrels, once `group_force` has worked out the whole box."""
    from sympy import Abs

    if spot.on_road:
        value = abs(float(spot.solution.demand.hinge[(*spot.at, 1)]))
        return sheet.given("Y_e", value, FORCE, "side force on one barrel end, with straps and stops (haul)")
    thrust = six_equations().thrust()
    sign = -1 if spot.side == 0 else 1
    words = "It bears on the left group where it is negative, on the right one where it is positive."
    if spot.row.ultimate and not spot.check.left_alone:
        lines = (named("T_L"), named("T_R"))
        after = sheet.find(
            "Side force of the plant on the box, one line gone",
            "Y_a",
            put(thrust, dict(zip(lines, (named("T_La"), named("T_Ra")), strict=True))),
            FORCE,
            note=words,
            clause=_PIN,
        )
        if spot.bound_key in SHARED:
            words = "Side force on this group, as a backup takes over"
            clause = "docs/method.md#center-pivot"
            return sheet.find(words, "Y_e", named("j") * most(0, sign * after), FORCE, rounding="up", clause=clause)
        had = dict(zip(lines, (named("T_Lb"), named("T_Rb")), strict=True))
        before = sheet.find("Side force before", "Y_b", put(thrust, had), FORCE)
        rest, first = most(0, sign * after), most(0, sign * before)
        return sheet.find(
            "Side force on this group, first peak",
            "Y_e",
            Abs(rest + (named("j") - 1) * (rest - first)),
            FORCE,
            rounding="up",
            clause="docs/method.md#line-broken",
        )
    whole = sheet.find("Side force of the plant on the box", "Y", thrust, FORCE, note=words, clause=_PIN)
    if spot.check.left_alone:
        return sheet.find("Side force on the group that is left", "Y_e", Abs(whole), FORCE, rounding="up", clause=_PIN)
    return sheet.find("Side force on this group", "Y_e", most(0, sign * whole), FORCE, rounding="up", clause=_PIN)


def barrel_force(book: Book, sheet: Sheet, spot: Spot) -> Symbol:
    """Force on one box barrel that bears."""
    force = group_force(book, sheet, spot)
    shape = knuckle(spot.solution.rig)
    if shape.carrying == 1:
        sheet.note(f"{shape.words[0].upper()}{shape.words[1:]}.")
        return force
    count = sheet.given("m", shape.carrying, NUMBER, "box barrels that share")
    return sheet.find(
        "Force on one of them", "P_1", force / count, FORCE, rounding="up", note=f"{shape.words}.", clause=_PIN
    )


@cache
def _pin_moment() -> Any:
    """Moment at the middle of the inner barrel: half the pull enters amid the outer one and is taken out evenly."""
    from sympy import expand, factor

    p, outer, gap, inner, s = (named(name) for name in ("P_b", "t_o", "g", "t_i", "s"))
    entered = p / 2 * (outer / 2 + gap + inner / 2)
    return factor(expand(entered - integral(p / inner * s, over=s, start=0, end=inner / 2)))


def _bending(sheet: Sheet, spot: Spot, *, each: Symbol) -> tuple[Symbol, Symbol]:
    """Moment of the pin and what it may carry."""
    rig, shape = spot.solution.rig, knuckle(spot.solution.rig)
    own = rig.number("hinge.barrel_length")
    length = sheet.given("t_b", own, LENGTH, "length of one barrel")
    outer = length
    if rig.has("hinge.plant_barrel_length"):
        outer = sheet.given("t_e", rig.number("hinge.plant_barrel_length"), LENGTH, "length of one barrel of the plant")
    gap = sheet.given("g", rig.number("hinge.gap"), LENGTH, "clear gap between two barrels")
    if shape.planes == 2:
        expression = put(_pin_moment(), {named("P_b"): each, named("t_o"): outer, named("t_i"): length})
        note = (
            "Half the pull enters at the middle of each outer barrel and is taken out evenly over the inner one:"
            " the moment at its middle, integrated."
        )
    else:
        expression = each * ((outer + length) / 2 + gap) / 2
        note = (
            "Held on one side: pull and hold are half of both barrels and the gap apart, and either end of the lap"
            " takes half of that couple."
        )
    demand = sheet.find(
        "Bending of the pin across the gaps",
        "M_p",
        expression,
        MOMENT,
        rounding="up",
        note=note,
        engine=spot.of(spot.check.demand),
        clause="statics, docs/method.md#pin",
    )
    return demand, pin_allows(sheet, spot, "moment", name="M_a", heading="Allowed bending", measure=MOMENT)


def pin_allows(sheet: Sheet, spot: Spot, what: str, *, name: str, heading: str, measure: Measure) -> Symbol:
    """Allowed bending or shear of the pin."""
    rig, run = spot.solution.rig, Run(sheet)
    metal = steel.grade(str(rig.value("hinge.pin_steel")))
    size = run.given("D_p", rig.number("hinge.pin"), LENGTH, "diameter of the pin")
    fy = run.given("F_y", metal.fy, STRESS, f"yield stress of the pin, {metal.key}")
    fu = run.given("F_u", metal.fu, STRESS, "tensile strength of the pin")
    basis = run.basis(spot.basis)
    told = spot.of(spot.check.capacity)
    make = partial(pins.pin_strength, size, fy=fy, fu=fu, basis=basis)
    return run.tell(lambda: getattr(make(), what), name, heading, measure, engine=told)


def _shear(sheet: Sheet, spot: Spot, *, each: Symbol) -> tuple[Symbol, Symbol]:
    """Shear on one plane and what it may carry."""
    shape, expression = knuckle(spot.solution.rig), each
    if shape.planes == 2:
        expression = each / sheet.given("p", shape.planes, NUMBER, "shear planes")
    demand = sheet.find(
        "Shear of the pin on one plane",
        "V_p",
        expression,
        FORCE,
        rounding="up",
        engine=spot.of(spot.check.demand),
        clause=_PIN,
    )
    return demand, pin_allows(sheet, spot, "shear", name="V_a", heading="Allowed shear on one plane", measure=FORCE)

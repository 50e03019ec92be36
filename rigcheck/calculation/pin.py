"""The hinge pin: force on its group, bending across the gaps by integration, shear, and what the pin holds."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from rigcheck.analysis.rows import SIDES, Check
from rigcheck.calculation.algebra import integral, least, most, put
from rigcheck.calculation.book import Book
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sharing import named, six_equations
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.hinge.checks import knuckle
from rigcheck.quantities.measures import AREA, FORCE, LENGTH, MODULUS, MOMENT, NUMBER, STRESS
from rigcheck.strength.bases import SHEAR_YIELD
from rigcheck.strength.connections import pins
from rigcheck.tables import steel

LOST = "other hinge group lost"
_PIN = "statics, docs/method.md#hinge-pin"


def pin_section(book: Book) -> Section:
    """The pin in the mode that governs it, the other mode beside it."""
    spot = book.spot(lambda check: check.part == "hinge pin")
    if spot is None:
        return book.missing("pin", "the case does not describe the hinge pin")
    sheet = book.sheet()
    each = barrel_force(book, sheet, spot)
    bending = spot.check.mode.startswith("bending")
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
    begin = "shear" if bending else "bending"

    def other(check: Check) -> bool:
        alike = check.ultimate == spot.check.ultimate and check.accident == spot.check.accident
        return check.part == "hinge pin" and check.mode.startswith(begin) and alike

    found = next((one for one in book.assessment.worst if other(one.check)), None)
    if found is None:
        return None
    return Spot(spot.solution, replace(spot.found, check=found.check), spot.scale)


def group_force(book: Book, sheet: Sheet, spot: Spot) -> Symbol:
    """Force across the pin of one group, from the free body of the whole box."""
    from sympy import sqrt

    lost = LOST in spot.check.mode
    if spot.on_road:
        letter = "LR"[spot.side]
        pair = [
            sheet.given(
                f"{axis}_{letter}",
                spot.solution.demand.hinge[(*spot.at, k)],
                FORCE,
                f"{spot.side_word} group, {words}, with straps and stops (haul)",
            )
            for axis, k, words in (("X", 0, "fore and aft"), ("Z", 2, "upward"))
        ]
        expression = sqrt(pair[0] ** 2 + pair[1] ** 2)
        return sheet.find("Force on this hinge group", "P", expression, FORCE, rounding="up", clause=_PIN)
    body = book.whole_box(sheet, spot, factored=not lost, hinge=True)
    if lost:
        (x_l, z_l), (x_r, z_r) = body.hinge
        return sheet.find(
            "Force on the group that is left",
            "P",
            sqrt((x_l + x_r) ** 2 + (z_l + z_r) ** 2),
            FORCE,
            rounding="up",
            note="It carries the sum of both; unfactored loads.",
            clause="docs/method.md#one-group-left-alone",
        )
    x, z = body.hinge[spot.side]
    return sheet.find(
        f"Force on the {SIDES[spot.side]} hinge group", "P", sqrt(x**2 + z**2), FORCE, rounding="up", clause=_PIN
    )


def group_thrust(sheet: Sheet, spot: Spot) -> Symbol:
    """Side force along the pin on one end of this group's barrels, once `group_force` has worked out the whole box."""
    from sympy import Abs

    if spot.on_road:
        value = abs(float(spot.solution.demand.hinge[(*spot.at, 1)]))
        return sheet.given("Y_e", value, FORCE, "side force on one barrel end, with straps and stops (haul)")
    thrust = six_equations().thrust()
    sign = -1 if spot.side == 0 else 1
    words = "It bears on the left group where it is negative, on the right one where it is positive."
    if spot.row.ultimate and LOST not in spot.check.mode:
        lines = (named("T_L"), named("T_R"))
        after = sheet.find(
            "Side force of the plant on the box, one line gone",
            "Y_a",
            put(thrust, dict(zip(lines, (named("T_La"), named("T_Ra")), strict=True))),
            FORCE,
            note=words,
            clause=_PIN,
        )
        had = dict(zip(lines, (named("T_Lb"), named("T_Rb")), strict=True))
        before = sheet.find("Side force before", "Y_b", put(thrust, had), FORCE)
        rest, first = most(0, sign * after), most(0, sign * before)
        return sheet.find(
            "Side force on this group, first peak",
            "Y_e",
            Abs(rest + (named("j") - 1) * (rest - first)),
            FORCE,
            rounding="up",
            clause="docs/method.md#line-lost",
        )
    whole = sheet.find("Side force of the plant on the box", "Y", thrust, FORCE, note=words, clause=_PIN)
    if LOST in spot.check.mode:
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


@cache
def _round_properties() -> tuple[Any, Any, Any]:
    """Area, elastic and plastic modulus of a solid round of diameter D_p, ring by ring.

    A ring of radius rho has the length 2 pi rho and turns by rho^2 about its middle, half of that about either axis;
    half of it has the first moment rho^2 [-cos(theta)] from 0 to pi about the axis.
    """
    from sympy import Symbol, cos, pi

    radius, size = Symbol("rho", positive=True), named("D_p")

    def ringed(expression: Any) -> Any:
        return integral(expression, over=radius, start=0, end=size / 2)

    area = ringed(2 * pi * radius)
    inertia = ringed(2 * pi * radius * radius**2) / 2
    plastic = 2 * ringed(radius**2 * (cos(0) - cos(pi)))
    return area, inertia / (size / 2), plastic


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
    _, elastic, plastic = _round_properties()
    metal, basis = _pin_given(sheet, spot)
    s = sheet.find(
        "Elastic modulus of the pin", "S", elastic, MODULUS, note="Integrated over the circle, ring by ring."
    )
    z = sheet.find("Plastic modulus", "Z", plastic, MODULUS)
    limit = min(pins.ROUND_LIMIT, basis.solid_limit)
    held = sheet.given("c_m", limit, NUMBER, "most moment over the yield moment on this basis")
    divisor = sheet.given("Omega_y", basis.yielding, NUMBER, "divisor for yielding")
    capacity = sheet.find(
        "Allowed bending",
        "M_a",
        least(metal * z, held * metal * s) / divisor,
        MOMENT,
        rounding="down",
        engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
    )
    return demand, capacity


def _pin_given(sheet: Sheet, spot: Spot) -> tuple[Symbol, Any]:
    rig = spot.solution.rig
    metal = steel.grade(str(rig.value("hinge.pin_steel")))
    sheet.given("D_p", rig.number("hinge.pin"), LENGTH, "diameter of the pin")
    return sheet.given("F_y", metal.fy, STRESS, f"yield stress of the pin, {metal.key}"), spot.basis


def _shear(sheet: Sheet, spot: Spot, *, each: Symbol) -> tuple[Symbol, Symbol]:
    """Shear on one plane and what it may carry."""
    rig, shape = spot.solution.rig, knuckle(spot.solution.rig)
    expression = each
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
    metal, basis = _pin_given(sheet, spot)
    tensile = sheet.given(
        "F_u", steel.grade(str(rig.value("hinge.pin_steel"))).fu, STRESS, "tensile strength of the pin"
    )
    area = sheet.find("Area of the pin", "A_p", _round_properties()[0], AREA)
    by_yield = SHEAR_YIELD * metal / sheet.given("Omega_v", basis.shear, NUMBER, "divisor for shear yielding")
    by_rupture = pins.UNTHREADED_SHEAR * tensile / sheet.given("Omega_r", basis.rupture, NUMBER, "divisor for rupture")
    capacity = sheet.find(
        "Allowed shear on one plane",
        "V_a",
        least(by_yield, by_rupture) * area,
        FORCE,
        rounding="down",
        engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
    )
    return demand, capacity

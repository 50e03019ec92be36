"""The floor sheet as an inch-wide strip between its supports: bending under its load and under a foot, and its sag."""

from __future__ import annotations

from typing import Any

from rigcheck.calculation.algebra import least, most
from rigcheck.calculation.book import Book
from rigcheck.calculation.floor_load import people_on, pressure_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.floor.checks import BOOT, FLOOR_SAG, FOOT, FOOT_CONTINUOUS, PLASTIC, Spans, floor_spans
from rigcheck.quantities.measures import AREA, FORCE, LENGTH, MODULUS, NUMBER, STRESS
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.strength.members.plates import SPREAD, STRIP_MOMENT, STRIP_SAG
from rigcheck.tables import steel

_FLOOR = "docs/method.md#floor"
_TABLES = "continuous-beam tables (memory), docs/method.md#floor"
PART = "floor sheet"


def floor_section(book: Book) -> Section:
    """The floor sheet in the mode that governs it."""
    spot = book.spot(lambda check: check.own_name == PART, road=False)
    spans = None if spot is None else floor_spans(spot.solution.rig)
    if spot is None or spans is None:
        return book.missing("floor", "the case does not say what the floor spans between")
    sheet = book.sheet()
    span = sheet.given("L", spans.span, LENGTH, f"span of the sheet, {spans.words}")
    thick = sheet.given("t", spot.solution.rig.number("box.sheet"), LENGTH, "floor sheet")
    if spot.check.unit == "length":
        demand = _sag(sheet, spot, spans=spans, span=span, thick=thick)
        limit = sheet.given("c_s", FLOOR_SAG, NUMBER, "most sag is the span over this, a yardstick of our own")
        told = spot.of(spot.check.capacity)
        capacity = sheet.find("Allowed sag", "w_a", span / limit, LENGTH, rounding="down", engine=told)
    else:
        demand = _stress(sheet, spot, spans=spans, span=span, thick=thick)
        fy = sheet.given("F_y", steel.grade(str(spot.solution.rig.value("box.steel"))).fy, STRESS, "yield stress")
        basis = spot.basis
        divisor = sheet.given("Omega", basis.yielding, NUMBER, f"divisor for yielding, {basis.title}")
        capacity = sheet.find(
            "Allowed bending stress",
            "F_a",
            min(PLASTIC, basis.solid_limit) * fy / divisor,
            STRESS,
            rounding="down",
            note="A flat plate: plastic modulus one and a half times the elastic one"
            + (", of which 1.25 counts for lifting." if basis.solid_limit < PLASTIC else "."),
            engine=spot.of(spot.check.capacity),
            clause=spot.check.clause,
        )
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("floor", spot, sheet)


def _by_spans(spans: Spans, factors: tuple[float, float, float]) -> float:
    return factors[min(max(int(spans.count), 1), 3) - 1]


def _span_words(spans: Spans) -> str:
    count = int(spans.count)
    return "one span" if count == 1 else "two spans" if count == 2 else "three spans or more, the worst of them"


def _stress(sheet: Sheet, spot: Spot, *, spans: Spans, span: Symbol, thick: Symbol) -> Symbol:
    """Bending stress under what lies on the floor, with a foot added where the mode asks for one."""
    pressure = pressure_on(sheet, spot)
    factor = sheet.given(
        "c_m", _by_spans(spans, STRIP_MOMENT), NUMBER, f"largest moment over p L^2, {_span_words(spans)}"
    )
    moment: Any = factor * pressure * span**2
    if float(spans.overhang) > 0.0:
        past = sheet.given("o_t", spans.overhang, LENGTH, "sheet past the last support")
        moment = most(moment, pressure * past**2 / 2)
    moment = sheet.find("Moment of an inch-wide strip under its load", "m_1", moment, FORCE, clause=_TABLES)
    if spot.check.mode == BOOT:
        moment = sheet.find(
            "Moment with the foot added", "m", moment + _foot(sheet, spot, spans=spans, span=span), FORCE, clause=_FLOOR
        )
    modulus = sheet.find("Modulus of an inch of sheet", "S_1", thick**2 / 6, AREA)
    told = spot.of(spot.check.demand)
    return sheet.find(
        "Bending stress of the sheet", "sigma", moment / modulus, STRESS, rounding="up", engine=told, clause=_FLOOR
    )


def _foot(sheet: Sheet, spot: Spot, *, spans: Spans, span: Symbol) -> Any:
    """Moment of one foot amid the span, over the width that shares it."""
    weight = people_on(sheet, spot, one=True)
    if weight is None:
        return 0 * span
    width = sheet.once("B", spot.solution.rig.number("box.width"), LENGTH, "width of the floor")
    foot = sheet.given("f_b", FOOT, LENGTH, "width of a boot, an assumption of our own")
    share = sheet.find(
        "Width of floor that shares the foot",
        "b_f",
        least(foot + SPREAD * span, width),
        LENGTH,
        clause="one-way slab practice (memory), docs/method.md#floor",
    )
    expression = weight * span / (4 * share)
    if float(spans.count) > 1.5:
        expression *= sheet.given("c_f", FOOT_CONTINUOUS, NUMBER, "left of it in a continuous sheet, 0.203/0.25")
    return sheet.find("Moment of an inch-wide strip under the foot", "m_2", expression, FORCE, clause=_TABLES)


def _sag(sheet: Sheet, spot: Spot, *, spans: Spans, span: Symbol, thick: Symbol) -> Symbol:
    """Sag in bending alone, under the loads as they are."""
    pressure = pressure_on(sheet, spot, still=True)
    factor = sheet.given(
        "c_d", _by_spans(spans, STRIP_SAG), NUMBER, f"largest sag over p L^4/(E I), {_span_words(spans)}"
    )
    modulus = sheet.given("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity")
    inertia = sheet.find("Second moment of an inch of sheet", "I_1", thick**3 / 12, MODULUS)
    return sheet.find(
        "Sag of the sheet",
        "w_d",
        factor * pressure * span**4 / (modulus * inertia),
        LENGTH,
        rounding="up",
        engine=spot.of(spot.check.demand),
        clause=_TABLES,
    )

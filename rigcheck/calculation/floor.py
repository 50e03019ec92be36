"""The floor sheet as an inch-wide strip between its supports: bending under its load and under a foot, and its sag."""

from __future__ import annotations

from typing import Any

from rigcheck.analysis.items import Item
from rigcheck.calculation.book import Book
from rigcheck.calculation.floor_load import people_on, pressure_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.floor.checks import FLOOR_SAG, Spans, floor_spans
from rigcheck.parts.floor.ways import FOOT, FloorWay
from rigcheck.quantities.measures import LENGTH, NUMBER, STRESS
from rigcheck.strength.members.strips import (
    foot_moment,
    strip_allows,
    strip_moment,
    strip_sag,
    strip_stress,
    with_foot,
)
from rigcheck.tables import steel


def floor_section(book: Book) -> Section:
    """The floor sheet in the mode that governs it."""
    spot = book.spot(lambda check: check.item is Item.FLOOR, road=False)
    spans = None if spot is None else floor_spans(spot.solution.rig)
    if spot is None or spans is None:
        return book.missing("floor", "the case does not say what the floor spans between")
    sheet = book.sheet()
    run = Run(sheet)
    words = f"span of the sheet, {spans.words}{_how_many(spans)}"
    span = run.given("L", spans.span, LENGTH, words)
    thick = run.given("t", spot.solution.rig.number("box.sheet"), LENGTH, "floor sheet")
    told = spot.of(spot.check.capacity)
    if spot.check.way is FloorWay.SAG:
        demand = _sag(sheet, spot, spans=spans, span=span, thick=thick)
        limit = sheet.given("c_s", FLOOR_SAG, NUMBER, "most sag is the span over this, a yardstick of our own")
        capacity = sheet.find("Allowed sag", "w_a", span.expression / limit, LENGTH, rounding="down", engine=told)
    else:
        demand = _stress(sheet, spot, spans=spans, span=span, thick=thick)
        fy = steel.grade(str(spot.solution.rig.value("box.steel"))).fy
        fy, basis = run.given("F_y", fy, STRESS, "yield stress"), run.basis(spot.basis)
        capacity = run.tell(
            lambda: strip_allows(thick, fy=fy, basis=basis), "F_a", "Allowed bending stress", STRESS, engine=told
        )
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("floor", spot, sheet)


def _how_many(spans: Spans) -> str:
    count = int(spans.count)
    return {1: ", one span", 2: ", two spans"}.get(count, ", three spans or more, of which the worst counts")


def _stress(sheet: Sheet, spot: Spot, *, spans: Spans, span: Any, thick: Any) -> Symbol:
    """Bending stress under what lies on the floor, with a foot added where the mode asks for one."""
    run, rig = Run(sheet), spot.solution.rig
    pressure = run.symbol(pressure_on(sheet, spot))
    past = float(spans.overhang)
    over: Any = run.given("o_t", past, LENGTH, "sheet past the last support") if past > 0.0 else 0.0
    weight = people_on(sheet, spot, one=True) if spot.check.way is FloorWay.BOOT else None

    def stress() -> Any:
        moment: Any = strip_moment(pressure, span=span, spans=spans.count, overhang=over)
        if weight is not None:
            foot = run.given("f_b", FOOT, LENGTH, "width of a boot, an assumption of our own")
            width = run.given("B", rig.number("box.width"), LENGTH, "width of the floor")
            one = foot_moment(run.symbol(weight), foot=foot, span=span, floor=width, spans=spans.count)
            moment = with_foot(moment, foot=one)
        return strip_stress(moment, thickness=thick)

    told = spot.of(spot.check.demand)
    return run.tell(stress, "sigma", "Bending stress of the sheet", STRESS, rounding="up", engine=told)


def _sag(sheet: Sheet, spot: Spot, *, spans: Spans, span: Any, thick: Any) -> Symbol:
    """Sag in bending alone, under the loads as they are."""
    run = Run(sheet)
    pressure = run.symbol(pressure_on(sheet, spot, still=True))
    told = spot.of(spot.check.demand)
    return run.tell(
        lambda: strip_sag(pressure, span=span, spans=spans.count, thickness=thick), "w_d", "Sag of the sheet", LENGTH,
        rounding="up", engine=told,
    )  # fmt: skip

"""The plant on its feet by hand: moments of plant and box about the edge that is nearest to tipping."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.calculation.book import Book
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.plant.checks import GROUP, Standing, standing, ways
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER
from rigcheck.statics.tipping import WAYS

_ROUNDING = 1e-12  # of all moments about the edge
_TIPPING = "docs/method.md#tipping"


def plant_section(book: Book) -> Section:
    """Stabilizing and overturning moment where they are nearest to each other."""
    spot = book.spot(lambda check: check.group == GROUP)
    if spot is None:
        return book.missing("plant", "the case does not describe weight, center of gravity and feet of the plant")
    sheet = book.sheet()
    here = np.arange(len(spot.solution.rows)) == spot.index
    body = standing(spot.solution, rows=here)
    edge = _edge(spot, body)
    turns, holds = _moments(sheet, spot, body, edge)
    asked = sheet.given("q", spot.solution.rig.number("factors.tipping"), NUMBER, "ratio that is asked")
    demand = sheet.find("Overturning moment, each load by itself", "O", turns, MOMENT, rounding="up",
                        engine=spot.of(spot.check.demand), clause=_TIPPING)  # fmt: skip
    stable = sheet.find("Stabilizing moment, each load by itself", "S", holds, MOMENT, rounding="down", clause=_TIPPING)
    if sheet.value(demand) > 0.0:
        sheet.find("Ratio", "r", stable / demand, NUMBER, rounding="down")
    capacity = sheet.find("Overturning moment that is allowed", "O_a", stable / asked, MOMENT, rounding="down",
                          engine=spot.of(spot.check.capacity))  # fmt: skip
    book.use(sheet, spot, demand=demand, capacity=capacity)
    told = "Plant and box are one free body: lines and hinge act inside it, and how they share does not matter."
    return book.section("plant", spot, sheet, more=[told])


def _edge(spot: Spot, body: Standing) -> int:
    """The edge that the check found nearest to tipping."""
    way = next(way for way, tips in ways(spot.solution).items() if tips is spot.check.way)
    found, base = body.moments(), body.base
    use = divide(found.overturning[0], found.stabilizing[0], where_zero=UNLIMITED)
    return int(np.where(base.live & (base.way == way), use, -1.0).argmax())


def _moments(sheet: Sheet, spot: Spot, body: Standing, edge: int) -> tuple[Any, Any]:
    """Sums of what turns over and of what holds down, of the five loads about one edge."""
    rig, feet, base = spot.solution.rig, body.feet, body.base
    first, second = feet[base.first[edge]], feet[base.second[edge]]
    run = second - first
    length = float(np.hypot(run[0], run[1]))
    outward = np.array([run[1], -run[0]]) / length
    names = [one.name or f"foot {i + 1}" for i, one in enumerate(rig.value("plant.foot"))]
    sheet.note(f"The edge runs from {names[base.first[edge]]} to {names[base.second[edge]]}, {WAYS[base.way[edge]]}.")
    if abs(run[2]) > 0.0:
        return _told(sheet, body, edge)
    gravity = spot.row.gravity
    slope = sheet.given("g", sum(float(np.asarray(gravity[i])) * outward[i] for i in range(2)), NUMBER,
                        "slope of the ground toward the edge")  # fmt: skip
    cg = np.array([float(rig.number(f"plant.cg_{axis}")) for axis in ("downstream", "across", "height")])
    weight = float(spot.solution.service.weight[spot.index])
    box = np.array([body.moment[0, 2, 1], -body.moment[0, 2, 0]]) / weight if weight else np.zeros(2)
    turn_x, turn_y, g_x, g_y = body.moment[0, 3, 0], body.moment[0, 3, 1], *body.force[0, 3, :2]
    lean = g_x**2 + g_y**2
    height = (turn_y * g_x - turn_x * g_y) / lean if lean else -float(spot.solution.layout.hinge_height)
    parts: list[tuple[Symbol, Symbol, Symbol]] = []
    for letter, what, pounds, at, up in (("p", "plant", float(rig.number("plant.weight")), cg[:2], cg[2]),
                                         ("b", "box with all that is in it", weight, box, height)):  # fmt: skip
        inside = float(-(outward * (at - first[:2])).sum())
        parts.append((
            sheet.given(f"W_{letter}", pounds, FORCE, what),
            sheet.given(f"d_{letter}", inside, LENGTH, f"its center of gravity from the edge, inward ({what})"),
            sheet.given(f"h_{letter}", up - first[2], LENGTH, f"its center of gravity over the edge ({what})"),
        ))  # fmt: skip
    terms = [term for pounds, inside, up in parts for term in (pounds * inside, -pounds * slope * up)]
    turned = _about(body, edge)
    pushed = float(-turned[4])
    if abs(pushed) > _ROUNDING * float(np.abs(turned).sum()):
        terms.append(-sheet.given("M_w", pushed, MOMENT, "what pushes the box, about the edge, outward"))
    return _sums(sheet, terms)


def _about(body: Standing, edge: int) -> Any:
    from rigcheck.statics.tipping import about_edges

    return about_edges(body.force, moment=body.moment, feet=body.feet[..., None, :, :], base=body.base)[0, edge]


def _told(sheet: Sheet, body: Standing, edge: int) -> tuple[Any, Any]:
    """An edge between feet at unlike heights: the moments as the check has them."""
    words = ("plant, down", "plant, along the slope", "box, down", "box, along the slope", "what pushes the box")
    turns = _about(body, edge)
    terms = [sheet.given(f"m_{i + 1}", float(turns[i]), MOMENT, f"{words[i]}, holding down") for i in range(5)]
    return _sums(sheet, terms)


def _sums(sheet: Sheet, terms: list[Any]) -> tuple[Any, Any]:
    from sympy import Integer

    turns, holds = Integer(0), Integer(0)
    nothing = _ROUNDING * sum(abs(sheet.value(term)) for term in terms)
    for term in terms:
        value = sheet.value(term)
        if value < -nothing:
            turns -= term
        elif value > nothing:
            holds += term
    return turns, holds

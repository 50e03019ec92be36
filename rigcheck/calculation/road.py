"""On the road: the counting rules and the size of the folded box by hand; straps and stops against what they hold."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from typing import Any

from rigcheck.analysis.clearance import envelope as outline
from rigcheck.analysis.folded import Folded
from rigcheck.analysis.rows import LEGAL
from rigcheck.calculation.book import Book
from rigcheck.calculation.floor_load import tilt
from rigcheck.calculation.pages import Section
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.folded import FORWARD
from rigcheck.parts.tie_down.checks import blocked_forward, strap_name
from rigcheck.parts.tie_down.ways import RoadWay
from rigcheck.quantities.measures import FORCE, LENGTH, NUMBER
from rigcheck.strength.connections.tiedown import (
    HIGHEST,
    WIDEST,
    aggregate_limit,
    hold_down,
    least_aggregate,
    least_hold_down,
    least_number,
)
from rigcheck.tables.loader import load

_FOLDED = "docs/method.md#folded"
_SHARE = "of straps, stops and hinge together; the equations of what holds the folded box stand there"


def road_section(book: Book) -> Section:
    """What comes highest among tie-downs, stops and size on the road."""
    spot = book.spot(lambda check: check.group == "road" and check.way in _MAKERS)
    if spot is None:
        spot = book.spot(lambda check: check.group == LEGAL)
    if spot is None or spot.solution.road is None:
        return book.missing("road", "the case does not describe the folded box on the road")
    sheet = book.sheet()
    demand, capacity = _MAKERS[spot.check.way](sheet, spot, spot.solution.road)
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("road", spot, sheet)


Made = tuple[Symbol, Symbol]


def _weight(run: Run, folded: Folded) -> Any:
    return run.given("W", folded.service.weight[0], FORCE, "folded box with its wet mats and the bed that was left in")


def _number(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """How many tie-downs by length and weight."""
    rig, run = folded.rig, Run(sheet)
    length = run.symbol(_along(sheet, spot, folded))
    weight, blocked = _weight(run, folded), blocked_forward(rig)
    block = load("tiedown_wll")["min_number_blocked_forward" if blocked else "min_number_not_blocked_forward"]
    sheet.note(
        "Blocked forward: one at least." if blocked else
        f"Not blocked forward: one is enough up to {block['one_if_length_ft_at_most']:g} ft and"
        f" {block['one_if_also_weight_lb_at_most']:g} lb, else two up to {block['two_for_first_ft']:g} ft."
    )  # fmt: skip
    demand = run.tell(
        lambda: least_number(length, weight=weight, blocked=blocked), "N", "Tie-downs asked for", NUMBER,
        rounding="up", engine=spot.of(spot.check.demand),
    )  # fmt: skip
    count = sum(strap.count for strap in rig.value("haul.tie_down"))
    return demand, sheet.given("N_t", count, NUMBER, "tie-downs described")


def _corners(sheet: Sheet, spot: Spot, folded: Folded) -> list[tuple[Any, Any, str]]:
    """The four corners of the folded box: x and z from the hinge axis, and a word for each."""
    from sympy import cos, sin

    solution, rig = spot.solution, folded.rig
    low, high, _ = outline(rig)
    a = tilt(sheet, spot)
    axis = sheet.once("n_h", solution.layout.hinge_height, LENGTH, "hinge axis above the floor")
    bottom = sheet.once("n_1", low, LENGTH, "lowest of the box, cross-members and stiffeners counted, above the floor")
    top = sheet.once("n_2", high, LENGTH, "highest of the box, the same way")
    length = sheet.once("L", solution.layout.length, LENGTH, "length of the box")
    found = []
    for (s, where), (n, edge) in product(((0, "head"), (length, "tail")), ((bottom, "floor"), (top, "top"))):
        x = s * cos(a) - (n - axis) * sin(a)
        z = s * sin(a) + (n - axis) * cos(a)
        found.append((x, z, f"{where}, {edge}"))
    return found


def _along(sheet: Sheet, spot: Spot, folded: Folded) -> Symbol:
    """Extent of the folded box along the vehicle."""
    told = folded.envelope.length
    if FORWARD[str(folded.rig.value("haul.leading_end"))][0] == 0.0:
        half = sheet.given("B_2", outline(folded.rig)[2], LENGTH, "half the outside width, stiffeners counted")
        return sheet.find("Extent along the vehicle, the box lying across", "l_v", 2 * half, LENGTH, engine=told)
    corners = sorted(_corners(sheet, spot, folded), key=lambda corner: sheet.value(corner[0]))
    rear = sheet.find(f"Hindmost corner: {corners[0][2]}", "x_1", corners[0][0], LENGTH, clause=_FOLDED)
    front = sheet.find(f"Foremost corner: {corners[-1][2]}", "x_2", corners[-1][0], LENGTH, clause=_FOLDED)
    return sheet.find("Extent along the vehicle", "l_v", front - rear, LENGTH, engine=told, clause=_FOLDED)


def _sum(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """Half the weight against the working load limits, each with its credit."""
    run, ties = Run(sheet), folded.rig.value("haul.tie_down")
    weight = _weight(run, folded)
    demand = run.tell(
        lambda: least_aggregate(weight), "S", "Sum that is asked for", FORCE, rounding="up",
        engine=spot.of(spot.check.demand),
    )  # fmt: skip
    limits, counts, kinds = _limits(run, folded), [one.count for one in ties], [one.kind for one in ties]
    capacity = run.tell(
        lambda: aggregate_limit(limits, counts=counts, kinds=kinds), "R", "Sum that there is", FORCE,
        engine=spot.of(spot.check.capacity),
    )  # fmt: skip
    return demand, capacity


def _limits(run: Run, folded: Folded) -> list[Any]:
    return [
        run.given(f"R_{i + 1}", strap.wll, FORCE, f"working load limit, {strap_name(folded.rig, i)}")
        for i, strap in enumerate(folded.rig.value("haul.tie_down"))
    ]


def _hold_down(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """A fifth of the weight against the downward part of the straps."""
    run, ties = Run(sheet), folded.rig.value("haul.tie_down")
    weight = _weight(run, folded)
    demand = run.tell(
        lambda: least_hold_down(weight), "S", "Hold-down that is asked for", FORCE, rounding="up",
        engine=spot.of(spot.check.demand),
    )  # fmt: skip
    limits, counts = _limits(run, folded), [one.count for one in ties]
    down = [-float(folded.held_by.way[0, i, 2]) for i in range(len(ties))]
    capacity = run.tell(
        lambda: hold_down(limits, counts=counts, down=down), "R", "Hold-down that there is", FORCE,
        engine=spot.of(spot.check.capacity),
    )  # fmt: skip
    return demand, capacity


def _height(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """Highest corner or perch over the road."""
    corners = sorted(_corners(sheet, spot, folded), key=lambda corner: sheet.value(corner[1]))
    top, word = corners[-1][1], corners[-1][2]
    above = sheet.find(f"Highest corner above the hinge: {word}", "z_1", top, LENGTH, clause=_FOLDED)
    perch = sheet.given("z_P", spot.solution.layout.perch_z, LENGTH, "perch above the hinge")
    most = above if sheet.value(above) >= sheet.value(perch) else perch
    road = sheet.given("h_r", folded.rig.number("haul.hinge_above_road"), LENGTH, "hinge above the road")
    demand = sheet.find(
        "Height over the road", "H", most + road, LENGTH, rounding="up", engine=spot.of(spot.check.demand),
        clause=_FOLDED,
    )  # fmt: skip
    return demand, sheet.given("H_a", HIGHEST, LENGTH, f"most height: {spot.check.clause}")


def _width(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """Widest of box, hangers and perches, as the outline has it."""
    demand = sheet.given(
        "B_o", spot.of(spot.check.demand), LENGTH, f"widest of box, hangers and perches with their posts: {_FOLDED}"
    )
    return demand, sheet.given("B_a", WIDEST, LENGTH, f"most width: {spot.check.clause}")


def _one(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """A strap or a stop: its force is told from the study of the road."""
    pull = "pull" if spot.check.way is RoadWay.STRAP else "compression"
    words = f"{pull} in this load case, from the balance {_SHARE}: {_FOLDED}"
    demand = sheet.given("S", spot.of(spot.check.demand), FORCE, words)
    return demand, sheet.given("R", spot.of(spot.check.capacity), FORCE, f"{spot.check.mode}, as given")


_MAKERS: dict[Any, Callable[[Sheet, Spot, Folded], Made]] = {
    RoadWay.NUMBER: _number,
    RoadWay.SUM: _sum,
    RoadWay.HOLD_DOWN: _hold_down,
    RoadWay.WIDTH: _width,
    RoadWay.HEIGHT: _height,
    RoadWay.STRAP: _one,
    RoadWay.STOP: _one,
}

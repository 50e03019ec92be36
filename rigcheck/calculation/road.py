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
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.case.rig import Rig
from rigcheck.loads.folded import FORWARD
from rigcheck.parts.tie_down.checks import blocked_forward, strap_name
from rigcheck.quantities.measures import FORCE, LENGTH, NUMBER
from rigcheck.strength.connections.tiedown import FOOT, HIGHEST, WIDEST
from rigcheck.tables import tiedown
from rigcheck.tables.loader import load

_FOLDED = "docs/method.md#folded"
_ROUND = 1e-9  # lengths that differ by rounding count as the same
_SHARE = "of straps, stops and hinge together; the equations of what holds the folded box stand there"


def road_section(book: Book) -> Section:
    """What comes highest among tie-downs, stops and size on the road."""
    spot = book.spot(lambda check: check.group == "road" and maker(check.own_name, mode=check.mode) is not None)
    if spot is None:
        spot = book.spot(lambda check: check.group == LEGAL)
    if spot is None or spot.solution.road is None:
        return book.missing("road", "the case does not describe the folded box on the road")
    make = maker(spot.part, mode=spot.check.mode)
    if make is None:
        raise LookupError(spot.part)
    sheet = book.sheet()
    demand, capacity = make(sheet, spot, spot.solution.road)
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("road", spot, sheet)


Made = tuple[Symbol, Symbol]


def maker(part: str, *, mode: str) -> Callable[[Sheet, Spot, Folded], Made] | None:
    """What works out a check of the road; None for one that is not worked by hand, such as an eyelet."""
    if part == "tie-downs":
        return {"number": _number, "aggregate working load limit": _sum, "hold-down": _hold_down}.get(mode)
    if part == "legal height and width":
        return {"overall width": _width, "overall height": _height}.get(mode)
    if part.startswith(("tie-down ", "stop ")):
        return _one
    return None


def _weight(sheet: Sheet, folded: Folded) -> Symbol:
    return sheet.given(
        "W", folded.service.weight[0], FORCE, "folded box with its wet mats and the bed that was left in"
    )


def _number(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """How many tie-downs by length and weight."""
    rig = folded.rig
    length = _along(sheet, spot, folded)
    foot = sheet.given("l_f", FOOT, LENGTH, "a foot of length")
    data = load("tiedown_wll")
    block, free = data["min_number_blocked_forward"], data["min_number_not_blocked_forward"]
    feet = sheet.find("Length along the vehicle in feet", "F", length / foot, NUMBER)
    told = float(spot.of(spot.check.demand))
    if blocked_forward(rig):
        each = sheet.given("c_1", block["one_per_ft_or_fraction"], NUMBER, "feet for each, blocked forward")
        expression, least = feet / each, 1.0
    elif told == 1.0:
        _weight(sheet, folded)
        words = (
            f"not over {free['one_if_length_ft_at_most']:g} ft and {free['one_if_also_weight_lb_at_most']:g} lb: one"
            " is enough"
        )
        demand = sheet.given("N", told, NUMBER, words)
        return demand, _count(sheet, spot, rig)
    else:
        first = sheet.given("c_0", free["two_for_first_ft"], NUMBER, "feet for the first two, not blocked forward")
        more = sheet.given("c_1", free["then_one_more_per_ft_or_fraction"], NUMBER, "feet for each one more")
        expression, least = 2 + (feet - first) / more, 2.0
    exact = sheet.find("Tie-downs, before rounding up", "N_0", expression, NUMBER)
    rounded = max(_up(sheet.value(exact)), least)
    if rounded != told:
        raise LookupError(f"{rounded} tie-downs by hand, {told} in the check")
    demand = sheet.given("N", rounded, NUMBER, f"the same rounded up, at least {least:g}")
    return demand, _count(sheet, spot, rig)


def _up(value: float) -> float:
    """Rounded up, a length that differs by rounding counted as the same."""
    whole = float(int(value))
    return whole if value - whole <= _ROUND else whole + 1.0


def _count(sheet: Sheet, spot: Spot, rig: Rig) -> Symbol:
    count = sum(strap.count for strap in rig.value("haul.tie_down"))
    return sheet.given("N_t", count, NUMBER, "tie-downs described")


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
    share = tiedown.aggregate_fraction().value
    weight = _weight(sheet, folded) * sheet.given("c_w", share, NUMBER, "of the weight")
    demand = sheet.find(
        "Sum that is asked for", "S", weight, FORCE, rounding="up", engine=spot.of(spot.check.demand),
        clause=spot.check.clause,
    )  # fmt: skip
    terms = []
    for i, strap in enumerate(folded.rig.value("haul.tie_down"), start=1):
        credit = tiedown.credit(strap.kind).value * strap.count
        limit = sheet.given(f"R_{i}", strap.wll, FORCE, f"working load limit, {strap_name(folded.rig, i - 1)}")
        terms.append(limit * sheet.given(f"c_{i}", credit, NUMBER, f"its number times its credit, {strap.kind}"))
    capacity = sheet.find(
        "Sum that there is", "R", sum(terms), FORCE, rounding="down", engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
    )  # fmt: skip
    return demand, capacity


def _hold_down(sheet: Sheet, spot: Spot, folded: Folded) -> Made:
    """A fifth of the weight against the downward part of the straps."""
    weight = _weight(sheet, folded) * sheet.given("c_d", tiedown.hold_down().value, NUMBER, "of the weight")
    demand = sheet.find(
        "Hold-down that is asked for", "S", weight, FORCE, rounding="up", engine=spot.of(spot.check.demand),
        clause=spot.check.clause,
    )  # fmt: skip
    terms = []
    for i, strap in enumerate(folded.rig.value("haul.tie_down"), start=1):
        down = max(-float(folded.held_by.way[0, i - 1, 2]), 0.0) * strap.count
        limit = sheet.given(f"R_{i}", strap.wll, FORCE, f"working load limit, {strap_name(folded.rig, i - 1)}")
        terms.append(limit * sheet.given(f"v_{i}", down, NUMBER, "its number times what of it points down"))
    capacity = sheet.find(
        "Hold-down that there is", "R", sum(terms), FORCE, rounding="down", engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
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
    strap = not spot.part.startswith("stop")
    words = f"{'pull' if strap else 'compression'} in this load case, from the balance {_SHARE}: {_FOLDED}"
    demand = sheet.given("S", spot.of(spot.check.demand), FORCE, words)
    return demand, sheet.given("R", spot.of(spot.check.capacity), FORCE, f"{spot.check.mode}, as given")

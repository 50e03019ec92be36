"""The rail: its own balance, what lies uphill of its most stressed station, N, V, M and the fiber stress."""

from __future__ import annotations

from rigcheck.analysis.items import Item
from rigcheck.calculation.algebra import most
from rigcheck.calculation.book import Book
from rigcheck.calculation.free_body import Body
from rigcheck.calculation.pages import Section
from rigcheck.calculation.rail_cut import beam_of, cut_at
from rigcheck.calculation.rail_station import Station, section_of_rail, station_of
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.rail.ways import RailWay
from rigcheck.quantities.measures import LENGTH, NUMBER, STRESS
from rigcheck.wording.words import percent

_RAIL = "statics, docs/method.md#rail"
_LOST = "docs/method.md#line-broken, docs/method.md#rail-as-a-beam-column"
_THROWN = "The box is thrown back by its own mass: its rails bend as much more as the line that holds pulls more."


def rail_section(book: Book) -> Section:
    """The rail, from its balance to the use of its most stressed fiber."""
    spot = book.spot(lambda check: check.way is RailWay.STRESS, road=False)
    if spot is None or not spot.bends:
        return book.missing("rail", "no rail is bent in these states")
    highest = book.spot(lambda check: check.item is Item.RAIL, road=False)
    more = []
    if highest is not None and highest.check is not spot.check:
        more.append(
            f"(The highest utilization of the rail, {percent(highest.utilization)}, is {highest.check.mode}; N,"
            " V and M enter it in the same way, see rail-strength.)"
        )
    sheet = book.sheet()
    body = book.whole_box(sheet, spot)
    station = station_of(spot)
    with book.once(sheet, ("rail section", spot.solution.here.number), words="Section of the rail"):
        section_of_rail(sheet, spot)
    with book.once(sheet, station.beam, words="Balance of this rail"):
        beam = beam_of(sheet, spot, body=body, station=station)
    cut_at(sheet, spot, beam=beam, station=station)
    stress = _stress(sheet, spot, body=body, station=station)
    fy, divisor = _yield(sheet, spot)
    allowed = sheet.find(
        "Allowed stress",
        "F_a",
        fy / divisor,
        STRESS,
        rounding="down",
        note=f"{spot.check.basis}.",
        engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
    )
    book.use(sheet, spot, demand=stress, capacity=allowed)
    return book.section("rail", spot, sheet, more=more)


def _stress(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> Symbol:
    """Stress of both edges; the larger governs."""
    from sympy import Abs

    section = spot.solution.section
    axial, moment, area, inertia, axis = (named(name) for name in ("N", "M", "A", "I", "n_0"))
    top = sheet.given("n_t", section.top, LENGTH, "highest fiber above the floor")
    bottom = sheet.given("n_b", section.bottom, LENGTH, "lowest fiber above the floor")
    upper = sheet.find(
        "Stress at the top", "sigma_t", axial / area - moment * (top - axis) / inertia, STRESS, clause=_RAIL
    )
    lower = sheet.find(
        "Stress at the bottom", "sigma_b", axial / area + moment * (axis - bottom) / inertia, STRESS, clause=_RAIL
    )
    peak = most(Abs(upper), Abs(lower))
    told = spot.of(spot.check.demand)
    if not body.parted:
        return sheet.find("Largest fiber stress", "sigma", peak, STRESS, rounding="up", engine=told, clause=_RAIL)
    still = sheet.find(
        "Largest fiber stress, the loads at rest", "sigma_0", peak, STRESS, engine=station.stress, clause=_RAIL
    )
    return sheet.find(
        "Largest fiber stress, first peak",
        "sigma",
        still * (body.tension[0] + body.tension[1]) / (body.after[0] + body.after[1]),
        STRESS,
        rounding="up",
        engine=told,
        note=_THROWN,
        clause=_LOST,
    )


def _yield(sheet: Sheet, spot: Spot) -> tuple[Symbol, Symbol]:
    from rigcheck.parts.rail.strength import rail_metal

    fy = sheet.given("F_y", rail_metal(spot.solution.rig), STRESS, "yield stress, the lower of stiffener and sheet")
    return fy, sheet.given("Omega", spot.basis.yielding, NUMBER, f"divisor for yielding, {spot.basis.title}")

"""The rail: its own balance, what lies uphill of its most stressed station, N, V, M and the fibre stress."""

from __future__ import annotations

from typing import Any

from rigcheck.check.rows import SIDES, Check
from rigcheck.views.working.book import Book
from rigcheck.views.working.box_loads import Load
from rigcheck.views.working.free_body import AXES, Body
from rigcheck.views.working.measures import FORCE, LENGTH, MOMENT, NUMBER, STRESS
from rigcheck.views.working.pages import Section
from rigcheck.views.working.rail_loads import point_terms, strip_terms
from rigcheck.views.working.rail_station import Station, section_of_rail, station_of
from rigcheck.views.working.sharing import named, total
from rigcheck.views.working.sheet import Sheet, Symbol
from rigcheck.views.working.spot import Spot

_RAIL = "statics, docs/method.md#rail"
_LOST = "docs/method.md#line-lost, docs/method.md#rail-as-a-beam-column"
_THROWN = (
    "2 T on both lines become 2 T + (j - 1) T on one; the box is thrown back by its own mass, so that its rails bend as"
    " much more."
)
STRESS_MODE = "stress, bending with axial"


def rail_section(book: Book) -> Section:
    """The rail, from its balance to the use of its most stressed fibre."""

    def stressed(check: Check) -> bool:
        return check.part == "rail" and check.mode.startswith(STRESS_MODE)

    spot = book.spot(stressed, road=False)
    if spot is None or spot.index not in spot.solution.bent.rows:
        return book.missing("rail", "no rail is bent in these states")
    highest = book.spot(lambda check: check.part == "rail", road=False)
    more = []
    if highest is not None and highest.check is not spot.check:
        more.append(
            f"(The check of the rail with the highest use, {100.0 * highest.utilisation:.0f} %, is"
            f" {highest.check.mode}; N, V and M enter it as worked here.)"
        )
    sheet = book.sheet()
    body = book.whole_box(sheet, spot)
    station = station_of(spot)
    section_of_rail(sheet, spot)
    pull = _balance(sheet, spot, body=body, station=station)
    _at_the_station(sheet, spot, body=body, station=station, pull=pull)
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


def _balance(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> Symbol:
    """What the line pulls on this rail."""
    from sympy import cos, sin

    place, solution = body.place, spot.solution
    for name, told, expression in (
        (
            "g_s",
            "Acceleration along the floor",
            place["g_x"] * cos(place["a"]) + place["g_z"] * sin(place["a"]),
        ),
        (
            "g_n",
            "Acceleration square to the floor",
            place["g_z"] * cos(place["a"]) - place["g_x"] * sin(place["a"]),
        ),
        (
            "u_s",
            "Direction of the line along the floor",
            place["u_x"] * cos(place["a"]) + place["u_z"] * sin(place["a"]),
        ),
        (
            "u_n",
            "Direction of the line square to the floor",
            place["u_z"] * cos(place["a"]) - place["u_x"] * sin(place["a"]),
        ),
    ):
        if name not in place:
            place[name] = sheet.find(told, name, expression, NUMBER, clause=AXES)
    engine = solution.bent.forces.pull[station.row, station.share]
    if station.share == 2:
        pulled: Any = body.moment[1] / (2 * place["d"])
        note = "Both rails bend alike: half of all loads and half of all pull on either."
    else:
        more = named("D") if station.share == 0 else -named("D")
        pulled = (body.moment[1] + more) / (2 * place["d"])
        sign = "+" if station.share == 0 else "-"
        note = f"Limp box: the {SIDES[station.share]} rail balances its own loads, P d = (M_y {sign} D)/2."
    return sheet.find(
        "Pull of the lines that enters this rail", "P", pulled, FORCE, engine=engine, note=note, clause=_RAIL
    )


def _shares(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> list[tuple[Load, Symbol, Symbol]]:
    """Share of each load along and square to the floor that this rail carries, per pound of weight."""
    place = body.place
    g_s, g_n = place["g_s"], place["g_n"]
    if station.share == 2:
        along = sheet.find("Of each pound, along the floor on this rail", "k_s", g_s / 2, NUMBER, clause=_RAIL)
        across = sheet.find("Of each pound, square to the floor on this rail", "k_n", g_n / 2, NUMBER, clause=_RAIL)
        return [(load, along, across) for load in body.loads]
    sign = 1 if station.share == 0 else -1
    g_y, b = place["g_y"], place["b"]
    found = []
    middle = sheet.find(
        "Of each pound on the middle of the box, along the floor on this rail", "k_s", g_s / 2, NUMBER, clause=_RAIL
    )
    for k, load in enumerate(body.loads, start=1):
        y = named(f"y_{k}") if load.y != 0.0 else 0
        n = named(f"n_{k}") if load.n != 0.0 else 0
        along = middle
        if load.y != 0.0:
            along = sheet.find(
                f"Of each pound of {load.name}, along the floor on this rail",
                f"k_s{k}",
                g_s / 2 + sign * g_s * y / b,
                NUMBER,
                clause=_RAIL,
            )
        across = sheet.find(
            f"Of each pound of {load.name}, square to the floor",
            f"k_n{k}",
            g_n / 2 + sign * (y * g_n - n * g_y) / b,
            NUMBER,
            clause=_RAIL,
        )
        found.append((load, along, across))
    return found


def _at_the_station(sheet: Sheet, spot: Spot, *, body: Body, station: Station, pull: Symbol) -> None:
    """Hinge force of the rail from all its loads, and N, V, M from those uphill of the station."""
    solution, place = spot.solution, body.place
    shares = _shares(sheet, spot, body=body, station=station)
    weights = body.weights
    along = total([weight * one[1] for weight, one in zip(weights, shares, strict=True)])
    across = total([weight * one[2] for weight, one in zip(weights, shares, strict=True)])
    forces, at = solution.bent.forces, (station.row, station.share)
    size = float(solution.demand.total[spot.index])
    h_s = sheet.find(
        "Hinge on this rail, along the floor",
        "H_s",
        -(along + pull * place["u_s"]),
        FORCE,
        engine=forces.hinge_s[at],
        against=size,
        clause=_RAIL,
    )
    h_n = sheet.find(
        "Hinge on this rail, square to the floor",
        "H_n",
        -(across + pull * place["u_n"]),
        FORCE,
        engine=forces.hinge_n[at],
        against=size,
        clause=_RAIL,
    )
    x = sheet.given("x", station.x, LENGTH, f"station from the hinge{', just uphill of it' if station.before else ''}")
    axis, hinge = named("n_0"), place["n_h"]
    axial, shear, moment = [], [], []
    if station.x > 0.0 or (station.x == 0.0 and not station.before):  # a fitting may stand uphill of the hinge
        axial, shear, moment = [h_s], [h_n], [h_n * x, h_s * (hinge - axis)]
    for k, (load, k_s, k_n) in enumerate(shares, start=1):
        start = load.s if load.strip is None else load.strip[0]
        if start > station.x or (start == station.x and (station.before or load.strip is not None)):
            continue
        make = point_terms if load.strip is None else strip_terms
        terms = make(sheet, k=k, load=load, station=station.x, shares=(k_s, k_n))
        axial.append(terms[0])
        shear.append(terms[1])
        moment.append(terms[2])
    s_h = place["s_H"]
    if float(solution.layout.hanger_s) < station.x or (
        float(solution.layout.hanger_s) == station.x and not station.before
    ):
        axial.append(pull * place["u_s"])
        shear.append(pull * place["u_n"])
        moment += [pull * place["u_n"] * (x - s_h), pull * place["u_s"] * (place["n_H"] - axis)]
    note = "The part of the rail between hinge and station is cut free."
    turn = size * float(solution.layout.hanger_s)
    sheet.find(
        "Axial force, tension positive",
        "N",
        -total(axial),
        FORCE,
        engine=station.axial,
        against=size,
        note=note,
        clause=_RAIL,
    )
    sheet.find(
        "Shear, from forces uphill, square to the floor",
        "V",
        total(shear),
        FORCE,
        engine=station.shear,
        against=size,
        clause=_RAIL,
    )
    sheet.find(
        "Bending moment about the neutral axis, sagging positive",
        "M",
        total(moment),
        MOMENT,
        engine=station.moment,
        against=turn,
        clause=_RAIL,
    )


def _stress(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> Symbol:
    """Stress of both edges; the larger governs."""
    from sympy import Abs, Max

    section = spot.solution.section
    axial, moment, area, inertia, axis = (named(name) for name in ("N", "M", "A", "I", "n_0"))
    top = sheet.given("n_t", section.top, LENGTH, "highest fibre above the floor")
    bottom = sheet.given("n_b", section.bottom, LENGTH, "lowest fibre above the floor")
    upper = sheet.find(
        "Stress at the top", "sigma_t", axial / area - moment * (top - axis) / inertia, STRESS, clause=_RAIL
    )
    lower = sheet.find(
        "Stress at the bottom", "sigma_b", axial / area + moment * (axis - bottom) / inertia, STRESS, clause=_RAIL
    )
    peak = Max(Abs(upper), Abs(lower))
    told = spot.of(spot.check.demand)
    if not body.parted:
        return sheet.find("Largest fibre stress", "sigma", peak, STRESS, rounding="up", engine=told, clause=_RAIL)
    still = sheet.find(
        "Largest fibre stress, the loads at rest", "sigma_0", peak, STRESS, engine=station.stress, clause=_RAIL
    )
    return sheet.find(
        "Largest fibre stress, first peak",
        "sigma",
        still * (body.place["j"] + 1) / 2,
        STRESS,
        rounding="up",
        engine=told,
        note=_THROWN,
        clause=_LOST,
    )


def _yield(sheet: Sheet, spot: Spot) -> tuple[Symbol, Symbol]:
    from rigcheck.check.rail_strength import rail_metal

    fy = sheet.given("F_y", rail_metal(spot.solution.rig), STRESS, "yield stress, the lower of stiffener and sheet")
    return fy, sheet.given("Omega", spot.basis.yielding, NUMBER, f"divisor for yielding, {spot.basis.title}")

"""A rail cut at a station: its own balance, its share of every load, and N, V, M from what lies uphill."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.calculation import askew
from rigcheck.calculation.algebra import put
from rigcheck.calculation.box_loads import Load
from rigcheck.calculation.free_body import AXES, Body
from rigcheck.calculation.rail_loads import point_terms, strip_terms
from rigcheck.calculation.rail_station import Station
from rigcheck.calculation.sharing import named, total
from rigcheck.calculation.sheet import Sheet, Symbol, Told
from rigcheck.calculation.spot import Spot
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER
from rigcheck.statics.geometry import SIDE

_RAIL = "statics, docs/method.md#rail"
ALL = ("N", "V", "M")


@dataclass(frozen=True, slots=True)
class Beam:
    """A rail in its balance.

    Attributes:
        body: The whole box.
        pull: What the lines put on this rail, along the floor and square to it.
        shares: Each load with its share along and square to the floor, per pound.
        gusts: Wind on this rail: where it acts along and above the floor, its parts along and square to it.
        along: Hinge on this rail, along the floor.
        square: The same square to it.
        alike: Half of what both lines pull.
    """

    body: Body
    pull: tuple[Symbol, Symbol]
    shares: list[tuple[Load, Symbol, Symbol]]
    gusts: list[tuple[Symbol, Symbol, Symbol, Symbol]]
    along: Symbol
    square: Symbol
    alike: Any


def beam_of(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> Beam:
    """What line and hinge do to this rail.

    Args:
        sheet: Where it is written.
        spot: The check.
        body: The whole box.
        station: A station of the rail, for which rail it is.
    """
    pull = _balance(sheet, spot, body=body, station=station)
    solution = spot.whole
    left, right = body.after if body.parted else body.tension
    shares = _shares(sheet, spot, body=body, station=station)
    gusts = [_gust(sheet, spot, body, k=k, side=station.side) for k in range(1, len(body.gusts) + 1)]
    along = total([*(w * one[1] for w, one in zip(body.weights, shares, strict=True)), *(one[2] for one in gusts)])
    across = total([*(w * one[2] for w, one in zip(body.weights, shares, strict=True)), *(one[3] for one in gusts)])
    forces, at = solution.bent.forces, (station.pair, station.side)
    size = float(solution.demand.total[spot.index])
    h_s = sheet.find(
        "Hinge on this rail, along the floor",
        "H_s",
        -(along + pull[0]),
        FORCE,
        engine=forces.hinge_s[at],
        against=size,
        clause=_RAIL,
    )
    alike, held = (left + right) / 2, across + pull[1]
    if askew.askew(spot) is not None:
        held = askew.held_at_head(
            sheet, spot, body=body, pull=pull[1], mean=alike * body.place["u_n"], sign=(1, -1)[station.side]
        )
    h_n = sheet.find(
        "Hinge on this rail, square to the floor",
        "H_n",
        -held,
        FORCE,
        engine=forces.hinge_n[at],
        against=size,
        clause=_RAIL,
    )
    return Beam(body, pull, shares, gusts, h_s, h_n, alike)


def _gust(sheet: Sheet, spot: Spot, body: Body, *, k: int, side: int) -> tuple[Symbol, Symbol, Symbol, Symbol]:
    """Where the wind acts on this rail, s and n, and its share along the floor and square to it."""
    from sympy import Rational, cos, sin

    p_x, p_y, p_z, s, n = body.gusts[k - 1]
    rails, b = askew.askew(spot), body.place["b"]
    if rails is not None:
        b, _ = askew.wind_place(sheet, rails, s=sheet.value(s), k=k)
    a, sign = body.place["a"], (1, -1)[side]
    floor, normal = p_x * cos(a) + p_z * sin(a), p_z * cos(a) - p_x * sin(a)
    y, what = body.place.get(f"y_w{k}"), "Wind"
    along, square = floor / 2, normal / 2
    if y is not None:
        what, share = "What holds the box", Rational(1, 2) + sign * y / b
        along, square = floor * share, normal * share
    square = square - sign * n * p_y / b
    along = sheet.find(f"{what} on this rail, along the floor", f"P_s{k}", along, FORCE)
    return s, n, along, sheet.find(f"{what} on this rail, square to the floor", f"P_n{k}", square, FORCE)


def _balance(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> tuple[Symbol, Symbol]:
    """What the lines put on this rail, along the floor and square to it."""
    from sympy import cos, sin

    place, solution = body.place, spot.whole
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
    forces, at = solution.bent.forces, (station.pair, station.side)
    sign = 1 if station.side == 0 else -1
    left, right = body.after if body.parted else body.tension
    if "b" not in place:
        place["b"] = askew.rails_at_hangers(sheet, spot)
    mean, over = (left + right) / 2, sign * (left - right) / place["b"]
    along = sheet.find(
        "Pull of the lines on this rail, along the floor",
        "P_s",
        mean * place["u_s"] + over * place["y_H"] * place["u_s"],
        FORCE,
        engine=forces.pull_s[at],
        note="What the rail then leaves open goes through the members; in a box free to twist nothing is.",
        clause=_RAIL,
    )
    square = sheet.find(
        "Pull of the lines on this rail, square to the floor",
        "P_n",
        mean * place["u_n"] + over * (place["y_H"] * place["u_n"] - place["n_H"] * place["u_y"]),
        FORCE,
        engine=forces.pull_n[at],
        note="What goes across the box leaves through the floor, and its couple n_H T u_y rolls the box.",
        clause=_RAIL,
    )
    return along, square


def _shares(sheet: Sheet, spot: Spot, *, body: Body, station: Station) -> list[tuple[Load, Symbol, Symbol]]:
    """Share of each load along and square to the floor that this rail carries, per pound of weight."""
    place = body.place
    g_s, g_n = place["g_s"], place["g_n"]
    sign = 1 if station.side == 0 else -1
    g_y, b = place["g_y"], place["b"]
    rails = askew.places_of(sheet, spot, body=body) if askew.askew(spot) is not None else None
    found = []
    middle = sheet.find(
        "Of each pound on the middle of the box, along the floor on this rail", "k_s", g_s / 2, NUMBER, clause=_RAIL
    )
    for k, load in enumerate(body.loads, start=1):
        y = named(f"y_{k}") if load.y != 0.0 else 0
        n = named(f"n_{k}") if load.n != 0.0 else 0
        along, turned = middle, 0
        if rails is not None:
            b = rails[k - 1].b
            turned = askew.turned_share(load, at=rails[k - 1], g_s=g_s, sign=sign, k=k)
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
            g_n / 2 + sign * (y * g_n - n * g_y) / b + turned,
            NUMBER,
            clause=_RAIL,
        )
        found.append((load, along, across))
    return found


def cut_at(
    sheet: Sheet, spot: Spot, *, beam: Beam, station: Station, want: Collection[str] = ALL, tail: str = ""
) -> tuple[Symbol, ...]:
    """N, V and M, or some of them, at a station.

    Args:
        sheet: Where it is written.
        spot: The check.
        beam: The rail in its balance.
        station: Where it is cut.
        want: Which of N, V, M.
        tail: What their symbols end in, where the rail is cut more than once.
    """
    if station.amid:
        return _amid(sheet, station=station, want=want, tail=tail)
    solution, place = spot.whole, beam.body.place
    pull_s, pull_n = beam.pull
    size = float(solution.demand.total[spot.index])
    words = f"station from the hinge{', just uphill of it' if station.before else ''}"
    with sheet.silence(bool(tail)):  # what lies uphill is written with x; of a second station it reads with its tail
        x = sheet.given("x", station.x, LENGTH, words)
    own = sheet.given(f"x{tail}", station.x, LENGTH, words) if tail else x
    axis, hinge = named("n_0"), place["n_h"]
    axial, shear, moment = [], [], []
    if station.x > 0.0 or (station.x == 0.0 and not station.before):  # a fitting may stand uphill of the hinge
        axial, shear, moment = [beam.along], [beam.square], [beam.square * x, beam.along * (hinge - axis)]
    with sheet.silence("M" not in want):
        for k, (load, k_s, k_n) in enumerate(beam.shares, start=1):
            start = load.s if load.strip is None else load.strip[0]
            if start > station.x or (start == station.x and (station.before or load.strip is not None)):
                continue
            make = point_terms if load.strip is None else strip_terms
            terms = make(sheet, k=k, load=load, station=station.x, shares=(k_s, k_n))
            axial.append(terms[0])
            shear.append(terms[1])
            moment.append(terms[2])
    for push, (s_w, n_w, p_s, p_n) in zip(spot.row.pushes, beam.gusts, strict=True):
        if float(push.s) < station.x or (float(push.s) == station.x and not station.before):
            axial.append(p_s)
            shear.append(p_n)
            moment += [p_n * (x - s_w), p_s * (n_w - axis)]
    s_h = place["s_H"]
    if float(solution.layout.hanger_s) < station.x or (
        float(solution.layout.hanger_s) == station.x and not station.before
    ):
        axial.append(pull_s)
        shear.append(pull_n)
        moment += [pull_n * (x - s_h), pull_s * (place["n_H"] - axis)]
    if "M" in want:
        moment += _couples(sheet, spot, station=station)
    for where, force in _handed(sheet, spot, beam=beam, station=station):
        shear.append(force)
        moment.append(force * (x - where))
    cos = askew.cosine(sheet, spot)
    turn = size * float(solution.layout.hanger_s)
    rows = {
        "N": ("Axial force, tension positive", -total(axial) / cos, FORCE, station.axial, size),
        "V": ("Shear, from forces uphill, square to the floor", total(shear), FORCE, station.shear, size),
        "M": (
            "Bending moment about the neutral axis, sagging positive",
            total(moment) / cos,
            MOMENT,
            station.moment,
            turn,
        ),
    }
    note = "The part of the rail between hinge and station is cut free."
    found = []
    for name in (one for one in ALL if one in want):
        heading, expression, measure, engine, against = rows[name]
        told = Told(engine=engine, against=against, note=note, clause=_RAIL)
        found.append(sheet.find(heading, f"{name}{tail}", put(expression, {x: own}), measure, **told))
        note = ""
    return tuple(found)


def _handed(sheet: Sheet, spot: Spot, *, beam: Beam, station: Station) -> list[tuple[Any, Any]]:
    """Station and force of what this rail gets from the other one uphill, where they do not stand alike far apart."""
    if askew.askew(spot) is None:
        return []
    place = beam.body.place
    pulled = beam.pull[0], beam.alike * place["u_s"], place["n_H"]
    every = askew.handed_over(sheet, spot, pair=station.pair, side=station.side, pull=pulled)
    uphill = (at < station.x or (at == station.x and not station.before) for at, _, _ in every)
    return [(where, force) for there, (_, where, force) in zip(uphill, every, strict=True) if there]


def _couples(sheet: Sheet, spot: Spot, *, station: Station) -> list[Symbol]:
    """Torques of the members uphill of the station on this rail; none in a limp box."""
    forces = spot.whole.bent.forces
    if station.at_head:
        if station.x < 0.0 or (station.x == 0.0 and station.before):
            return []
        left = float(forces.curves.beyond[station.pair, station.side])
        words = "all that joins the rails taken at the head: none of it is described"
        rails = askew.askew(spot)
        if rails is not None:
            left *= askew.spacing_at(rails, station.x) / float(rails.last)
            words += ", here by the rails' spacing over that at the tail"
        return [sheet.once("t_0", -left, MOMENT, words)]
    torque = SIDE[station.side] * forces.ties.all[station.pair]
    members = forces.ties.torque.shape[-1]
    if not np.any(torque):
        return []
    found = []
    for k, (at, value) in enumerate(zip(forces.unheld.box.at, torque, strict=True), start=1):
        if at < station.x or (at == station.x and not station.before):
            of = "the member across" if k <= members else "the box's own torsion"
            words = f"couple of {of} at {float(at):.4g} in on this rail, docs/method.md#grillage"
            found.append(sheet.once(f"t_{k}", float(value), MOMENT, words))
    return found


def _amid(sheet: Sheet, *, station: Station, want: Collection[str], tail: str) -> tuple[Symbol, ...]:
    """Between loads that act at one station there is nothing to cut: what the check has is told."""
    rows = {
        "N": (station.axial, FORCE, "axial force"),
        "V": (station.shear, FORCE, "shear"),
        "M": (station.moment, MOMENT, "bending moment"),
    }
    sheet.given(f"x{tail}", station.x, LENGTH, "station from the hinge")
    return tuple(
        sheet.given(
            f"{name}{tail}", *rows[name][:2], f"{rows[name][2]} between loads at that very station, as the check has it"
        )
        for name in ALL
        if name in want
    )

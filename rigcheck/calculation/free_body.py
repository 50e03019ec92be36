"""The free body of the whole box: where it stands, what presses on it, and what that turns about the hinge."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from rigcheck.calculation.box_loads import Load, loads_of
from rigcheck.calculation.pages import Table
from rigcheck.calculation.sharing import total
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.pieces import Push
from rigcheck.quantities.measures import ANGLE, FORCE, LENGTH, MOMENT, NUMBER
from rigcheck.tables.load_cases import load_case

AXES = "docs/method.md#axes"
_WAYS = ("downstream", "to the left", "upward")


@dataclass(slots=True)
class Body:
    """Symbols of the whole box that other sections go on from.

    Attributes:
        place: Geometry: a, x_H, z_H, u_x, u_y, u_z, d and so on by name.
        loads: The loads with their factors.
        weights: Symbol of each load's weight.
        moment: Roll, pitch and yaw moment of the loads.
        force: Force of the loads.
        difference: Moment of the left rail's loads less the right one's; None where the sharing does not ask for it.
        factored: Whether dynamic factors are in the loads.
        parted: Whether one line has parted, so that tensions and hinge forces are first peaks.
        gusts: Forces that are not weights: x, y, z, where along the floor and how far above it.
        after: Tensions at rest once one line has parted.
        before: Tensions of both lines before.
        tension: Left and right.
        hinge: x and z on the left and on the right; empty where not asked for.
    """

    factored: bool
    parted: bool

    place: dict[str, Symbol] = field(default_factory=dict)
    loads: list[Load] = field(default_factory=list)
    weights: list[Symbol] = field(default_factory=list)
    moment: tuple[Symbol, ...] = ()
    force: tuple[Symbol, ...] = ()
    difference: Symbol | None = None
    gusts: list[tuple[Symbol, ...]] = field(default_factory=list)
    after: tuple[Symbol, ...] = ()
    before: tuple[Symbol, ...] = ()
    tension: tuple[Symbol, ...] = ()
    hinge: tuple[tuple[Symbol, Symbol], ...] = ()


def where_the_box_stands(sheet: Sheet, spot: Spot, *, body: Body) -> None:
    """Hanger, perch, line direction and lever arm."""
    from sympy import cos, sin, sqrt

    solution, i = spot.whole, spot.index
    layout, pose = solution.layout, solution.pose
    place = body.place

    def given(name: str, value: Any, meaning: str, measure: Any = LENGTH) -> Symbol:
        place[name] = sheet.given(name, value, measure, meaning)
        return place[name]

    def find(heading: str, name: str, expression: Any, measure: Any = LENGTH, **told: Any) -> Symbol:
        place[name] = sheet.find(heading, name, expression, measure, **told)
        return place[name]

    psi = given("psi", spot.row.fold, "fold angle, 0 deployed", ANGLE)
    beta = given("beta", layout.pitch, "pitch of the floor", ANGLE)
    a = find(
        "Floor above level (it falls to the tail when negative)",
        "a",
        psi - beta,
        ANGLE,
        engine=pose.angle[i],
        clause=AXES,
    )
    s_h = given("s_H", layout.hanger_s, "hanger along the floor from the hinge")
    n_h = given("n_H", layout.hanger_n, "hanger above the floor")
    axis = given("n_h", layout.hinge_height, "hinge axis above the floor")
    x_h = find(
        "Hanger from the hinge axis, downstream",
        "x_H",
        s_h * cos(a) - (n_h - axis) * sin(a),
        engine=pose.hanger_x[i],
        clause=AXES,
    )
    z_h = find(
        "Hanger above the hinge axis", "z_H", s_h * sin(a) + (n_h - axis) * cos(a), engine=pose.hanger_z[i], clause=AXES
    )
    x_p = given("x_P", layout.perch_x, "perch from the hinge axis, downstream")
    z_p = given("z_P", layout.perch_z, "perch above the hinge axis")
    y_p = given("y_P", 0.5 * layout.perch_spacing, "left perch off the middle")
    y_h = given("y_H", 0.5 * layout.hanger_spacing, "left hanger off the middle")
    length = find(
        "Line, pin to pin",
        "l",
        sqrt((x_p - x_h) ** 2 + (y_p - y_h) ** 2 + (z_p - z_h) ** 2),
        engine=pose.line_length[i],
        clause=AXES,
    )
    for axis_name, upper, lower, told in (("x", x_p, x_h, pose.ux), ("y", y_p, y_h, pose.uy), ("z", z_p, z_h, pose.uz)):
        way = {"x": "downstream", "y": "to the left, left line", "z": "upward"}[axis_name]
        find(
            f"Direction of the line from hanger to perch, {way}",
            f"u_{axis_name}",
            (upper - lower) / length,
            NUMBER,
            engine=told[i],
            against=1.0,
            clause=AXES,
        )
    find(
        "Lever arm of either line about the hinge axis",
        "d",
        x_h * place["u_z"] - z_h * place["u_x"],
        engine=pose.arm[i],
        clause=AXES,
    )


def what_presses(sheet: Sheet, spot: Spot, *, body: Body) -> None:
    """Weights by name, their sum, its center, and the moment about the middle of the hinge axis."""
    from sympy import Matrix, cos, sin

    units = sheet.units
    body.loads = loads_of(spot.whole, index=spot.index, factored=body.factored)
    body.weights = [
        sheet.given(f"W_{k}", load.weight, FORCE, load.name, listed=False) for k, load in enumerate(body.loads, start=1)
    ]
    measures = (FORCE, NUMBER, FORCE, LENGTH, LENGTH, LENGTH)
    names = ("weight", "factor", "W", "s", "y", "n")
    heads = ("Load", *(units.head(name, measure=one) for name, one in zip(names, measures, strict=True)))
    rows = tuple(
        (
            f"W_{k} {load.name}",
            *units.row((load.weight / load.gain, load.gain, load.weight, load.s, load.y, load.n), measures=measures),
        )
        for k, load in enumerate(body.loads, start=1)
    )
    static = spot.whole.service
    weight = sheet.find(
        "Weight with its factors" if body.factored else "Weight as it is",
        "W",
        total(body.weights),
        FORCE,
        table=Table("Loads: s along the floor, y to the left, n above the floor, each at its own center", heads, rows),
        engine=None if body.factored else static.weight[spot.index],
        clause="docs/method.md#take-off, #states, #strips",
    )
    center = []
    for name, axis, words in (
        ("s_G", "s", "along the floor"),
        ("y_G", "y", "to the left"),
        ("n_G", "n", "above the floor"),
    ):
        terms = []
        for k, (one, load) in enumerate(zip(body.weights, body.loads, strict=True), start=1):
            offset = getattr(load, axis)
            if offset != 0.0:
                symbol = sheet.given(f"{axis}_{k}", offset, LENGTH, f"center of {load.name}", listed=False)
                terms.append(one * symbol)
        center.append(sheet.find(f"Center of the weight, {words}", name, total(terms) / weight, LENGTH))
    s_g, y_g, n_g = center
    a, n_h = body.place["a"], body.place["n_h"]
    x_g = sheet.find(
        "Center of the weight from the hinge axis, downstream",
        "x_G",
        s_g * cos(a) - (n_g - n_h) * sin(a),
        LENGTH,
        clause=AXES,
    )
    z_g = sheet.find(
        "Center of the weight above the hinge axis", "z_G", s_g * sin(a) + (n_g - n_h) * cos(a), LENGTH, clause=AXES
    )
    body.gusts = [_gust(sheet, spot, push, k=k) for k, push in enumerate(spot.row.pushes, start=1)]
    beside = [_beside(sheet, body, push, k=k) for k, push in enumerate(spot.row.pushes, start=1)]
    force, heavy = [], []
    for k, (axis, value, words) in enumerate(zip("xyz", spot.row.gravity, _WAYS, strict=True)):
        part = sheet.given(f"g_{axis}", value, NUMBER, f"acceleration over gravity, {words}")
        body.place[f"g_{axis}"] = part
        whole = total([weight * part, *(gust[k] for gust in body.gusts)])
        heavy.append(weight * part if body.gusts else None)
        force.append(sheet.find(f"Force of the loads, {words}", f"G_{axis}", whole, FORCE))
    turn = Matrix([x_g, y_g, z_g]).cross(Matrix(heavy if body.gusts else force))
    for (*push, s, n), y in zip(body.gusts, beside, strict=True):
        up = n - n_h
        turn += Matrix([s * cos(a) - up * sin(a), y, s * sin(a) + up * cos(a)]).cross(Matrix(push))
    moment = []
    for k, words in enumerate(("roll", "pitch", "yaw")):
        note = "r x G, r from the middle of the hinge axis to the center of the weight." if k == 0 else ""
        moment.append(
            sheet.find(
                f"Moment of the loads about the hinge, {words}",
                f"M_{'xyz'[k]}",
                turn[k],
                MOMENT,
                note=note,
                engine=None if body.factored else static.moment[spot.index, k],
                against=sheet.value(weight) * sheet.value(s_g),
                clause="statics, docs/method.md#balance",
            )
        )
    body.force, body.moment = tuple(force), tuple(moment)


def _beside(sheet: Sheet, body: Body, push: Push, *, k: int) -> Any:
    """How far beside the middle of the box a force acts that is no wind."""
    if float(push.y) == 0.0:
        return 0
    body.place[f"y_w{k}"] = sheet.given(f"y_w{k}", push.y, LENGTH, "where it acts, left of the middle")
    return body.place[f"y_w{k}"]


def _gust(sheet: Sheet, spot: Spot, push: Push, *, k: int) -> tuple[Symbol, ...]:
    """A force of the wind or of what holds the box fast, and where it acts along the box."""
    what, where = (
        ("what holds the box", "it") if load_case(spot.row.state).full_pull else ("wind on the box", "the wind")
    )
    parts = [
        sheet.given(f"P_{axis}{k}", getattr(push, f"f{axis}"), FORCE, f"{what}, {words}")
        for axis, words in zip("xyz", _WAYS, strict=True)
    ]
    for name, value, words in ((f"s_w{k}", push.s, "along the floor"), (f"n_w{k}", push.n, "above the floor")):
        parts.append(sheet.given(name, value, LENGTH, f"where {where} acts, {words}"))
    return tuple(parts)

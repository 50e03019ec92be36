"""What the hanger does to its rail: twist, sideways bending, pull in the side wall; and what the wall holds."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np

from rigcheck.analysis.across import OWN_STATIONS, least_own_constant, own_constant, rail_constant
from rigcheck.calculation.allowed import Member
from rigcheck.calculation.free_body import AXES, Body
from rigcheck.calculation.rail_edge import chord_of, side_hold
from rigcheck.calculation.run import Run
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.steel import cross_member_count, side_sheet, stiffener_height
from rigcheck.parts.rail.strength import CHORD_SHARE, WEB_FACTOR, loaded_wall
from rigcheck.quantities.measures import FORCE, INERTIA, LENGTH, MOMENT, NUMBER, STRESS
from rigcheck.statics.geometry import most_apart
from rigcheck.strength.bases import SHEAR_YIELD
from rigcheck.strength.members import plates
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.strength.members.shear import sheet_shear
from rigcheck.tables import shapes

_TWIST = "docs/method.md#twist-at-the-hanger"
_OWN = "docs/method.md#the-boxs-own-torsion"
_ASIDE = "bar on an elastic foundation (memory)"
_WEB = {
    "thickness": ("t_s", LENGTH, "side wall"),
    "height": ("h_s", LENGTH, "height of the side wall"),
    "bearing": ("b_l", LENGTH, "weld of the lug, and two depths of the stiffener over the wall"),
    "bend_radius": ("r_f", LENGTH, "radius of the bend at its foot, taken as one wall"),
    "fy": ("F_yw", STRESS, "yield stress of the wall"),
}
_WALL = "AISI S100 G5 (memory), docs/method.md#side-wall-at-the-hanger"


def directions(sheet: Sheet, body: Body) -> tuple[Symbol, Symbol, Symbol]:
    """A pound of pull along the floor, square to it, across."""
    from sympy import cos, sin

    place = body.place
    if "u_s" not in place:
        u_x, u_z, a = place["u_x"], place["u_z"], place["a"]
        place["u_s"] = sheet.find(
            "Of each pound, along the floor", "u_s", u_x * cos(a) + u_z * sin(a), NUMBER, clause=AXES
        )
        place["u_n"] = sheet.find(
            "Of each pound, square to it", "u_n", u_z * cos(a) - u_x * sin(a), NUMBER, clause=AXES
        )
    return place["u_s"], place["u_n"], place["u_y"]


def _outside(sheet: Sheet, spot: Spot, *, body: Body) -> Symbol:
    """Hanger outside the rail."""
    rails = sheet.once("b", spot.solution.layout.rail_spacing, LENGTH, "between the rails")
    if sheet.knows("e_h"):
        return named("e_h")
    return sheet.find("Hanger outside the rail", "e_h", body.place["y_H"] - rails / 2, LENGTH)


def twist_share_of(
    sheet: Sheet, spot: Spot, *, body: Body, stiffener: Member | None, fy: Symbol
) -> tuple[Symbol, Symbol]:
    """Torque in the rail beside the hanger, and what the stiffener or the wall allows."""
    from sympy import Abs

    rig, tension = spot.solution.rig, _pulling(spot, body=body)
    _, u_n, u_y = directions(sheet, body)
    out = _outside(sheet, spot, body=body)
    level = float(stiffener_height(rig)[0]) if stiffener is not None else float(spot.solution.section.axis)
    words = "middle of the stiffener" if stiffener is not None else "neutral axis"
    held = sheet.given("n_r", level, LENGTH, f"what the hanger is welded to above the floor, {words}")
    share = _along_the_rail(sheet, spot)
    demand = sheet.find(
        "Torque in the rail beside the hanger",
        "T_r",
        Abs(tension * (u_n * out - u_y * (body.place["n_H"] - held)) * share) + _box_twist(sheet, spot),
        MOMENT,
        rounding="up",
        clause=_TWIST,
    )
    if stiffener is not None:
        return demand, stiffener.torsion(name="T_a")
    wall = sheet.once("t_s", side_sheet(rig), LENGTH, "side wall")
    high = sheet.once("h_s", rig.number("box.side_height"), LENGTH, "height of the side wall")
    divisor = sheet.once("Omega_v", spot.basis.shear, NUMBER, "divisor for shear")
    capacity = sheet.find(
        "Allowed torsion of the bare wall", "T_a", SHEAR_YIELD * fy * high * wall**2 / (3 * divisor), MOMENT,
        rounding="down", clause="AISC 360-22 H3 (memory)",
    )  # fmt: skip
    return demand, capacity


def _pulling(spot: Spot, *, body: Body) -> Any:
    """Tension of this side's line; nothing in a stretch that it does not pull on."""
    return body.tension[spot.side] if spot.hangs else 0 * body.tension[spot.side]


def _box_twist(sheet: Sheet, spot: Spot) -> Any:
    """What the rail takes of the twist of the box."""
    from sympy import Integer

    solution, rig = spot.solution, spot.solution.rig
    if not spot.bends:
        return Integer(0)
    pair = solution.bent.place(spot.index, spot.bound)
    own = np.abs(solution.bent.forces.ties.own[pair]) * float(solution.bent.thrown[pair])
    if not own.size or not own.max() > 0.0:
        return Integer(0)
    couple = sheet.given("t_o", float(own.max()), MOMENT, f"most that one of {OWN_STATIONS} places of the box's own"
                         " resistance to twist takes")  # fmt: skip
    rail = sheet.given(
        "J_r", float(rail_constant(rig)), INERTIA, "of it in one rail, where it lags least behind the box"
    )
    along, all_of = solution.layout.along, solution.here.whole
    constant = own_constant(rig) if all_of is None else least_own_constant(all_of)
    words = "torsion constant of the box by itself" + ("" if along is None else ", of the stretch that has the least")
    whole = sheet.given("J_o", float(constant), INERTIA, words)
    if along is None:
        b = sheet.once("b", solution.layout.rail_spacing, LENGTH, "between the rails")
    else:
        b = sheet.once("b_m", most_apart(solution.layout), LENGTH, "between the rails where they stand farthest apart")
    long = sheet.once("L_b", solution.layout.length, LENGTH, "length of the box")
    words = "What the rail takes of the twist of the box"
    return sheet.find(words, "T_b", couple * rail * OWN_STATIONS * b / (whole * long), MOMENT, clause=_OWN)


def _along_the_rail(sheet: Sheet, spot: Spot) -> Any:
    """Part of the torque that runs along the rail to the cross-members on either side."""
    from sympy import Abs, Integer

    rig = spot.solution.rig
    if not rig.has("cross_member.shape") or not spot.hangs:
        return Integer(1)
    hanger, spacing = float(spot.solution.layout.hanger_s), float(rig.number("cross_member.spacing"))
    half = 0.5 * shapes.find(rig.value("cross_member.shape")).width
    index = min(max(float(np.round(hanger / spacing)), 0.0), float(cross_member_count(rig)) - 1.0)
    at = sheet.once("s_H", hanger, LENGTH, "hanger along the floor from the hinge")
    near = sheet.given("s_c", index * spacing, LENGTH, "nearest cross-member")
    apart = sheet.once("p_c", spacing, LENGTH, "between cross-members")
    away = sheet.find("Hanger from the nearest cross-member", "a_c", Abs(at - near), LENGTH)
    gap = abs(hanger - index * spacing)
    lands = gap <= half
    expression: Any = away / apart if lands else 1 - away / apart
    if (lands and gap > spacing) or (not lands and gap >= spacing):
        expression = Integer(1)
    words = "The hanger lands on the member, which takes the rest." if lands else "The nearer member takes most of it."
    return sheet.find(
        "Part of the torque that runs along the rail", "c_t", expression, NUMBER, note=words, clause=_TWIST
    )


def aside_share(sheet: Sheet, spot: Spot, *, body: Body, stiffener: Member | None, fy: Symbol) -> tuple[Any, Symbol]:
    """Sideways bending at the hanger, and what the stiffener or the wall allows."""
    from sympy import Abs, Integer

    rig, tension = spot.solution.rig, _pulling(spot, body=body)
    u_s, _, u_y = directions(sheet, body)
    chord = chord_of(sheet, spot, stiffener=stiffener is not None)
    demand: Any = Integer(0)
    if chord is not None:
        arm = chord.spacing / 4
        if not chord.held:
            stiff = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity") * chord.inertia
            hold = side_hold(sheet, spot, stiffener=stiffener is not None)
            arm = sheet.find(
                "Arm of a force on the edge that the U-frames hold",
                "a_s",
                (4 * stiff / hold) ** (Integer(1) / 4) / 4,
                LENGTH,
                clause=_ASIDE,
            )
        out = _outside(sheet, spot, body=body)
        demand = sheet.find(
            "Sideways bending at the hanger",
            "M_s",
            Abs(tension) * (Abs(u_y) * arm + Abs(u_s * out) / 2),
            MOMENT,
            rounding="up",
            clause=_ASIDE,
        )
    if stiffener is not None:
        return demand, stiffener.moment("y", name="M_as", words="sideways")
    wall = sheet.once("t_s", side_sheet(rig), LENGTH, "side wall")
    side = float(rig.number("box.side_height"))
    strip = max(side - float(spot.solution.section.axis), 0.0) * CHORD_SHARE
    pressed = sheet.once("b_k", strip, LENGTH, "a third of the pressed wall")
    divisor = sheet.once("Omega_y", spot.basis.yielding, NUMBER, "divisor for yielding and buckling")
    capacity = sheet.find(
        "Allowed sideways bending of the bare wall", "M_as", fy * pressed * wall**2 / (6 * divisor), MOMENT,
        rounding="down", clause="AISC 360-22 F11 (memory)",
    )  # fmt: skip
    return demand, capacity


def wall_shear(sheet: Sheet, spot: Spot, *, fy: Symbol) -> Symbol:
    """What the side wall alone carries in shear."""
    rig, run = spot.solution.rig, Run(sheet)
    wall = run.given("t_s", side_sheet(rig), LENGTH, "side wall")
    high = run.given("h_s", rig.number("box.side_height"), LENGTH, "height of the side wall")
    make = partial(
        sheet_shear, wall, height=high, fy=run.symbol(fy), plate_factor=WEB_FACTOR, basis=run.basis(spot.basis)
    )
    return run.tell(make, "V_a", "Allowed shear of the side wall", FORCE)


def wall_pull(sheet: Sheet, spot: Spot, *, body: Body) -> Symbol:
    """Pull of the line in the plane of the side wall."""
    from sympy import Abs

    _, u_n, _ = directions(sheet, body)
    return sheet.find(
        "Pull in the plane of the side wall", "F_w", Abs(body.tension[spot.side] * u_n), FORCE, rounding="up",
        engine=spot.of(spot.check.demand), clause=_WALL,
    )  # fmt: skip


def wall_holds(sheet: Sheet, spot: Spot) -> Symbol:
    """What the bare wall takes over the length of the lug's weld: a screening value, written for a push."""
    run = Run(sheet)
    web, basis = run.record(plates.Web, loaded_wall(spot.solution), symbols=_WEB), run.basis(spot.basis)
    heading = "Allowed on the bare wall, a screening value"
    told = spot.of(spot.check.capacity)
    return run.tell(lambda: plates.web_crippling(web, basis=basis), "P_a", heading, FORCE, engine=told)

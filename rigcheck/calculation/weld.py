"""The governing weld: lug, hinge barrel or post base, its force per inch against what weld and metal allow."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from rigcheck.analysis.items import LUG_WELDS, Item
from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.calculation import writing
from rigcheck.calculation.algebra import put
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import arm_of, in_lug_axes, pull_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import barrel_force, group_thrust
from rigcheck.calculation.post_forces import follow_down
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.weld_line import Loading, force_per_inch, line_properties, weld_allows
from rigcheck.case.rig import Rig
from rigcheck.parts.hinge.checks import barrel_backing, knuckle, plant_barrel
from rigcheck.parts.lug.checks import lug_joints
from rigcheck.quantities.measures import AREA, LENGTH, MOMENT, NUMBER, PER_LENGTH
from rigcheck.strength.connections.weld_lines import rectangle, ring, two_verticals
from rigcheck.strength.connections.welds import Joint
from rigcheck.tables import shapes, steel

BARRELS = (Item.BARREL_WELD, Item.PLANT_BARREL_WELD)
LUGS: dict[Item | None, str] = {item: end for end, item in LUG_WELDS.items()}
"""End of the line that each weld is of the lug of."""
ITEMS = (Item.POST_WELD, *BARRELS, *LUGS)
_ROUND = ("pipe", "round tube", "round bar")
_SOLID = ("bar", "round bar")


def weld_section(book: Book) -> Section:
    """The weld with the highest use."""

    def weld(check: Check) -> bool:
        return check.item in ITEMS

    spot = book.spot(weld)
    if spot is None:
        return book.missing("weld", "the case describes no weld of lug, hinge or post")
    sheet = book.sheet()
    if spot.item is Item.POST_WELD:
        demand, joints = _base(book, sheet, spot)
    elif spot.item in BARRELS:
        demand, joints = _barrel(book, sheet, spot)
    else:
        demand, joints = _lug(book, sheet, spot, end=LUGS[spot.item])
    allowed = weld_allows(
        sheet,
        joints,
        basis=spot.basis,
        hand=str(spot.solution.rig.value("weld.hand")),
        engine=spot.of(spot.check.capacity),
    )
    book.use(sheet, spot, demand=demand, capacity=allowed)
    return book.section("weld", spot, sheet)


def _electrode(rig: Rig) -> float:
    return float(steel.electrode(str(rig.value("weld.electrode"))).fexx)


def _lug(book: Book, sheet: Sheet, spot: Spot, *, end: str) -> tuple[Symbol, list[tuple[str, Joint]]]:
    """Two runs along both faces of a lug."""
    rig = spot.solution.rig
    axes = in_lug_axes(sheet, spot, end=end, pull=pull_on(book, sheet, spot, end=end))
    arm = arm_of(sheet, spot, end=end)
    thick, length = float(rig.number(f"{end}.lug.plate")), float(lug_run(rig, key=f"{end}.lug"))
    sheet.given("b_w", thick, LENGTH, "between the two runs: the plate")
    sheet.given("d_w", length, LENGTH, "length of either run")
    turning = sheet.find("Moment on the weld about the axis across", "M_wx", -arm * axes.along * axes.pull, MOMENT)
    leaning = sheet.find("Moment on the weld about its length", "M_wy", arm * axes.aside * axes.pull, MOMENT)
    load = Loading(
        fx=axes.pull * axes.aside, fy=axes.pull * axes.along, fz=axes.pull * axes.out, mx=turning, my=leaning
    )
    demand = force_per_inch(
        sheet, two_verticals(thick, depth=length), kind="two uprights", load=load, engine=spot.of(spot.check.demand)
    )
    return demand, lug_joints(rig, end=end)


@cache
def _worst_direction() -> tuple[Any, Any]:
    """Largest of sqrt(cos^2 + (sin + cos)^2) over the direction of the force, and that expression.

    With the slope m = tan the square is (1 + (m + 1)^2)/(1 + m^2); it is largest at a root of its derivative, which
    over its bar is a quadratic in m.
    """
    from sympy import Poly, Symbol, cos, diff, sin, sqrt

    angle, slope = Symbol("theta", real=True), Symbol("m", real=True)
    square = cos(angle) ** 2 + (sin(angle) + cos(angle)) ** 2
    above, below = 1 + (slope + 1) ** 2, 1 + slope**2
    a, b, c = Poly(diff(above, slope) * below - above * diff(below, slope), slope).all_coeffs()
    roots = [(-b + sign * sqrt(b**2 - 4 * a * c)) / (2 * a) for sign in (1, -1)]
    return max((sqrt(above.subs(slope, one) / below.subs(slope, one)) for one in roots), key=float), sqrt(square)


def _barrel(book: Book, sheet: Sheet, spot: Spot) -> tuple[Symbol, list[tuple[str, Joint]]]:
    """Two runs under a barrel, the force in its worst direction, and the side force on its end."""
    from sympy import sqrt

    rig = spot.solution.rig
    plant, shape = spot.item is Item.PLANT_BARREL_WELD, knuckle(rig)
    force: Any = barrel_force(book, sheet, spot)
    if plant and shape.carrying == 1 and shape.planes != 1:
        force = force / sheet.given("p", shape.planes, NUMBER, "barrels of the plant that hold one of the box")
    own_length, own_wall = plant_barrel(rig) if plant else (rig.number("hinge.barrel_length"), None)
    worst, over_angles = _worst_direction()
    stated = float(rig.number("hinge.weld_length"))
    length_value = min(stated, 2.0 * float(own_length))
    words = "weld of one barrel, both runs together" + ("" if length_value == stated else ": twice the barrel at most")
    length = sheet.given("L_w", length_value, LENGTH, words)
    factor = sheet.find(
        "Worst direction of the force",
        "k_w",
        worst,
        NUMBER,
        derivation=[writing.formula(named("f") * named("L_w") / named("P"), over_angles)],
        note="Along the surface the force gives cos(theta) and a couple cos(theta) on the two runs, square to it"
        " sin(theta): largest where the slope over theta vanishes.",
        clause="docs/method.md#barrel-weld",
    )
    thrust = group_thrust(sheet, spot)
    wall = float(rig.number_or("hinge.barrel_wall", 0.0))
    if plant and wall:
        wall = float(np.asarray(own_wall))
    radius = sheet.given("r_b", 0.5 * float(rig.number("hinge.pin")) + wall, LENGTH, "half the outside of the barrel")
    run = line_properties("two uprights")[1] / (named("d_w") / 2)
    modulus = sheet.find(
        "Modulus of both runs about their middle",
        "S_w",
        put(run, {named("d_w"): length / 2}),
        AREA,
        note="Integrated along two runs, each half of that length.",
        clause="docs/method.md#barrel-weld",
    )
    across = sheet.find(
        "Force per inch square to the runs",
        "f_q",
        factor * force / length + thrust * radius / modulus,
        PER_LENGTH,
        note="The side force acts along the runs, half the barrel over them, and bends them at their ends.",
        clause="docs/method.md#barrel-weld",
    )
    demand = sheet.find(
        "Force per inch",
        "f",
        sqrt(across**2 + (thrust / length) ** 2),
        PER_LENGTH,
        rounding="up",
        engine=spot.of(spot.check.demand),
        clause="docs/method.md#barrel-weld",
    )
    leg, electrode = float(rig.number("hinge.weld")), _electrode(rig)

    def joint(thick: Any, grade: steel.Grade) -> Joint:
        run, wall = 0.5 * length_value, float(np.asarray(thick))
        return Joint(leg=leg, length=run, electrode=electrode, thickness=wall, fy=grade.fy, fu=grade.fu)

    metal = steel.grade(str(rig.value("hinge.barrel_steel")))
    if plant:
        return demand, [("wall of the barrel", joint(own_wall, metal))]
    words, thick, grade = barrel_backing(rig)
    barrel = joint(rig.number_or("hinge.barrel_wall", rig.number("box.sheet")), metal)
    return demand, [("wall of the barrel", barrel), (words, joint(thick, grade))]


def _base(book: Book, sheet: Sheet, spot: Spot) -> tuple[Symbol, list[tuple[str, Joint]]]:
    """All round the base of a post."""
    rig = spot.solution.rig
    carried = follow_down(book, sheet, spot)
    shape = shapes.find(rig.value("perch.post.shape"))
    round_one = shape.kind in _ROUND
    sheet.given("d_w", shape.depth, LENGTH, "post along the plant" if not round_one else "diameter of the post")
    if not round_one:
        sheet.given("b_w", shape.width, LENGTH, "post across the plant")
    f_x, f_y, f_z = carried.base_force
    m_x, m_y, m_z = carried.base_moment
    sheet.note("Axes of the weld: across is left, along is rearward, out is up.")
    load = Loading(fx=f_y, fy=-f_x, fz=f_z, mx=m_y, my=-m_x, mz=m_z)
    group = ring(shape.depth) if round_one else rectangle(shape.width, depth=shape.depth)
    demand = force_per_inch(
        sheet, group, kind="ring" if round_one else "rectangle", load=load, engine=spot.of(spot.check.demand)
    )
    metal = steel.grade(str(rig.value("perch.post.steel")))
    joint = Joint(
        leg=float(rig.number("perch.post.weld")),
        length=float(np.pi * shape.depth) if round_one else min(shape.width, shape.depth),
        electrode=_electrode(rig),
        thickness=shape.t_design,
        fy=metal.fy,
        fu=metal.fu,
        faces=2.0 if shape.kind in _SOLID else 1.0,
    )
    return demand, [("wall of the post", joint)]

"""The governing cross-member or its end weld: under the floor, at the hangers, at the hinge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.case.rig import Rig
from rigcheck.check.members import MEMBER_SAG, SHARE, head_shape
from rigcheck.loads.steel import cross_member_count, side_sheet
from rigcheck.statics.geometry import SIDE
from rigcheck.strength.compression import ELASTIC_MODULUS
from rigcheck.strength.weld_lines import rectangle, ring
from rigcheck.strength.welds import Joint
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape
from rigcheck.views.working.allowed import Member, growth, together
from rigcheck.views.working.book import Book, tension_of
from rigcheck.views.working.floor_load import people_on, pressure_on, tilt
from rigcheck.views.working.free_body import AXES
from rigcheck.views.working.lug_pull import direction
from rigcheck.views.working.measures import FORCE, INERTIA, LENGTH, MOMENT, NUMBER, PER_LENGTH, STRESS
from rigcheck.views.working.pages import Section
from rigcheck.views.working.pin import group_force, group_thrust
from rigcheck.views.working.sharing import named
from rigcheck.views.working.sheet import Sheet, Symbol
from rigcheck.views.working.spot import Spot
from rigcheck.views.working.weld_line import Loading, force_per_inch, weld_allows

PARTS = ("cross-member", "hanger cross-member", "head cross-member")
WELD = " end weld"
_FLOOR, _HANGER, _HEAD = (
    f"statics, docs/method.md#{name}" for name in ("cross-member", "hanger-cross-member", "head-cross-member")
)
_GROW = "AISC 360-22 Appendix 8, Eq. (A-8-3) (memory)"
_ROUND = ("pipe", "round tube", "round bar")
_SOLID = ("bar", "round bar")


@dataclass(slots=True)
class Carried:
    """What a cross-member carries; 0 where there is none.

    Attributes:
        upright: Moment about its level axis.
        flat: Moment about its upright axis.
        end: Moment about its level axis at its end alone.
        pull: Tension along it, negative pushes.
        shear: Upright shear at its end.
    """

    upright: Any
    flat: Any = 0
    end: Any = 0
    pull: Any = 0
    shear: Any = 0


def member_section(book: Book) -> Section:
    """The cross-member, or its end weld, with the highest use."""
    names = {f"{part}{end}" for part in PARTS for end in ("", WELD)}
    spot = book.spot(lambda check: check.part in names)
    if spot is None:
        return book.missing("cross-member", "the case describes no cross-members")
    sheet, rig = book.sheet(), spot.solution.rig
    part = spot.check.part.removesuffix(WELD)
    shape = head_shape(rig) if part == PARTS[2] else shapes.find(rig.value("cross_member.shape"))
    if shape is None:
        raise LookupError(f"{part}: no shape")
    if spot.check.unit == "length":
        _sag(book, sheet, spot, shape=shape)
        return book.section("cross-member", spot, sheet)
    if part == PARTS[0]:
        carried = _of_the_floor(sheet, spot)
    else:
        carried = (_at_the_hangers if part == PARTS[1] else _at_the_hinge)(book, sheet, spot, shape=shape)
    if spot.check.part.endswith(WELD):
        _weld(book, sheet, spot, carried=carried, shape=shape)
    else:
        _strength(book, sheet, spot, carried=carried, shape=shape)
    return book.section("cross-member", spot, sheet)


# What it carries.


def _under(rig: Rig) -> bool:
    return rig.has("cross_member.shape") and str(rig.value("cross_member.at")) == "under"


def _between_rails(sheet: Sheet, spot: Spot) -> Symbol:
    return sheet.once("b", spot.solution.layout.rail_spacing, LENGTH, "between the rails")


def _of_the_floor(sheet: Sheet, spot: Spot, *, share: float | None = None, station: float | None = None) -> Carried:
    """A simple beam between the rails under a bay of floor, people at its middle; for shear, at its end."""
    per_inch, people = _floor_part(sheet, spot, share=share, station=station)
    across = _between_rails(sheet, spot)
    moment, shear = per_inch * across**2 / 8, per_inch * across / 2
    if people is not None:
        moment, shear = moment + people * across / 4, shear + people
    return Carried(
        upright=sheet.find("Moment of the floor's load at its middle", "M_w", moment, MOMENT, clause=_FLOOR),
        shear=sheet.find("Shear of the floor's load at its end", "V_w", shear, FORCE, clause=_FLOOR),
    )


def _floor_part(
    sheet: Sheet, spot: Spot, *, still: bool = False, share: float | None = None, station: float | None = None
) -> tuple[Symbol, Symbol | None]:
    """Load per inch of one cross-member, and people at its middle."""
    rig = spot.solution.rig
    spans = float(cross_member_count(rig)) - 1.0
    value = share if share is not None else SHARE[0] if spans < 1.5 else SHARE[1] if spans < 2.5 else SHARE[2]
    pressure = pressure_on(sheet, spot, still=still)
    spacing = sheet.given("p_c", rig.number("cross_member.spacing"), LENGTH, "between cross-members")
    reach = sheet.given("c_r", value, NUMBER, "its share of a bay, the sheet running over several (memory)")
    per_inch = sheet.find("Load per length of the cross-member", "w", pressure * spacing * reach, PER_LENGTH)
    people = people_on(sheet, spot, still=still)
    if people is not None and station is not None:
        people = _near(sheet, spot, people=people, spacing=spacing, station=station)
    return per_inch, people


def _near(sheet: Sheet, spot: Spot, *, people: Symbol, spacing: Symbol, station: float) -> Symbol | None:
    """What of the people stands on this member, by the lever rule over one bay."""
    from sympy import Abs

    row = spot.row
    stand = float(row.lumps[-1].s)
    if abs(stand - station) >= sheet.value(spacing):
        return None
    at = sheet.given("s_p", stand, LENGTH, "where they stand along the floor")
    here = sheet.given("s_c", station, LENGTH, "where this member lies")
    heading = "Of the people, on this member by the lever rule"
    return sheet.find(heading, "P_m", people * (1 - Abs(at - here) / spacing), FORCE, clause=_HANGER)


def _axis(sheet: Sheet, spot: Spot, *, shape: Shape, under: bool) -> Symbol:
    """Middle of the member above the floor."""
    rig = spot.solution.rig
    depth = sheet.given("d_c", shape.depth, LENGTH, f"depth of the member, {shape.name}")
    if under:
        expression = -sheet.given("t_f", rig.number("box.sheet"), LENGTH, "floor sheet") - depth / 2
    else:
        expression = sheet.given("h_b", rig.number("box.side_height"), LENGTH, "height of the sides") + depth / 2
    return sheet.find("Middle of the member above the floor", "n_c", expression, LENGTH)


def _at_the_hangers(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> Carried:
    """Offset of the hangers from the rails and splay of the lines, the floor's load added."""
    from sympy import Abs

    solution, rig = spot.solution, spot.solution.rig
    tension = tension_of(book, sheet, spot)
    u_s, u_n, u_y = _in_box_axes(sheet, spot)
    hangers = sheet.given("h", solution.layout.hanger_spacing, LENGTH, "between the hangers")
    out = sheet.find("Hanger outside the rail", "e_h", (hangers - _between_rails(sheet, spot)) / 2, LENGTH)
    level = sheet.once("n_H", solution.layout.hanger_n, LENGTH, "hanger above the floor")
    over = level - _axis(sheet, spot, shape=shape, under=_under(rig))
    end = sheet.find(
        "Moment at its end about the level axis",
        "M_e",
        Abs(tension * (u_n * out - u_y * over)),
        MOMENT,
        note="The line pulls at the hanger, the rail holds beside it: the couple goes into the member.",
        clause=_HANGER,
    )
    flat = sheet.find("Moment about the upright axis", "M_z", Abs(tension * u_s * out), MOMENT, clause=_HANGER)
    pull = sheet.find("Pull along it, by the splay of the line", "N_c", tension * u_y, FORCE, clause=_HANGER)
    if not _under(rig) or spot.on_road:
        return Carried(upright=end, flat=flat, end=end, pull=pull)
    spacing = float(rig.number("cross_member.spacing"))
    most = float(cross_member_count(rig)) - 1.0
    near = min(max(float(np.round(float(solution.layout.hanger_s) / spacing)), 0.0), most)
    floor = _of_the_floor(sheet, spot, station=near * spacing)
    return Carried(upright=end + floor.upright, flat=flat, end=end, pull=pull, shear=floor.shear)


def _in_box_axes(sheet: Sheet, spot: Spot) -> tuple[Symbol, Symbol, Symbol]:
    """A pound of pull along the floor, square to it and across."""
    from sympy import cos, sin

    direction(sheet, spot)
    pose, i = spot.solution.pose, spot.index
    u_x, u_y, u_z = (
        sheet.once(f"u_{axis}", value, NUMBER, "direction of the line from hanger to perch")
        for axis, value in zip("xyz", (pose.ux[i], pose.uy[i], pose.uz[i]), strict=True)
    )
    a = tilt(sheet, spot)
    return (
        sheet.find("Of each pound, along the floor", "u_s", u_x * cos(a) + u_z * sin(a), NUMBER, clause=AXES),
        sheet.find("Of each pound, square to the floor", "u_n", u_z * cos(a) - u_x * sin(a), NUMBER, clause=AXES),
        u_y,
    )


def _at_the_hinge(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> Carried:
    """Hinge groups beside the rails, the side thrust of one barrel, half a bay of floor added."""
    from sympy import Abs, cos, sin

    solution, rig, letter = spot.solution, spot.solution.rig, "LR"[spot.side]
    group_force(book, sheet, spot)
    x, z = named(f"X_{letter}"), named(f"Z_{letter}")
    a = tilt(sheet, spot)
    pushed = float(solution.demand.hinge[(*spot.at, 1)] * SIDE[spot.side]) <= 0.0  # toward the middle of the box
    aside = group_thrust(sheet, spot)
    thrust = -aside if pushed else aside
    along = sheet.find("Hinge force along the floor", "H_s", x * cos(a) + z * sin(a), FORCE, clause=AXES)
    normal = sheet.find("Hinge force square to the floor", "H_n", z * cos(a) - x * sin(a), FORCE, clause=AXES)
    groups = sheet.once("c", solution.layout.hinge_spacing, LENGTH, "between the hinge groups")
    out = sheet.find("Hinge group outside the rail", "e_h", (groups - _between_rails(sheet, spot)) / 2, LENGTH)
    height = sheet.once("n_h", solution.layout.hinge_height, LENGTH, "hinge axis above the floor")
    over = height - _axis(sheet, spot, shape=shape, under=True)
    end = sheet.find(
        "Moment at its end about the level axis",
        "M_e",
        Abs(normal * out - thrust * over),
        MOMENT,
        note="The hinge pushes beside the rail that brings the force; the couple goes into the member.",
        clause=_HEAD,
    )
    flat = sheet.find("Moment about the upright axis", "M_z", Abs(along * out), MOMENT, clause=_HEAD)
    if not _under(rig) or spot.on_road:
        return Carried(upright=end, flat=flat, end=end, pull=thrust)
    floor = _of_the_floor(sheet, spot, share=SHARE[0], station=0.0)
    return Carried(upright=end + floor.upright, flat=flat, end=end, pull=thrust, shear=floor.shear)


# What it is held against.


def _metal(rig: Rig) -> steel.Grade:
    return steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")


def _strength(book: Book, sheet: Sheet, spot: Spot, *, carried: Carried, shape: Shape) -> None:
    """Bending or shear alone under the floor; everything together at hangers and hinge."""
    from sympy import Abs, Integer

    rig = spot.solution.rig
    span = float(rig.number_or("rail.spacing", rig.number("box.width") + rig.number("box.sheet")))
    part = Member(sheet=sheet, basis=spot.basis, shape=shape, metal=_metal(rig), length=span, word="cross-member")
    if spot.check.part == PARTS[0]:
        cut = spot.check.unit == "force"
        demand = carried.shear if cut else carried.upright
        capacity = part.shear("y", name="V_a", reach=span / 2.0, words="") if cut else _upright(part)
        book.use(sheet, spot, demand=demand, capacity=capacity)
        return
    length = sheet.given("l", span, LENGTH, "length of the member between the rails")
    upright = _upright(part)
    shares = [(carried.upright, upright, "about the level axis", shape.ix, "u"), *_flat(sheet, part, carried)]
    axial: Any = Integer(0)
    push = sheet.value(-carried.pull) > 0.0
    if push:
        axial = sheet.find("Share of push", "R_p", -carried.pull / part.push(name="P_a", effective=length), NUMBER)
    elif sheet.value(carried.pull) > 0.0:
        axial = sheet.find("Share of pull", "R_p", carried.pull / part.pull(name="P_t"), NUMBER, rounding="up")
    bent = []
    for moment, allowed, words, inertia, tail in shares:
        ratio = moment / allowed
        if push:
            ratio *= _grown(sheet, spot, push=-carried.pull, length=length, inertia=inertia, tail=tail)
        bent.append(sheet.find(f"Share of bending {words}", f"R_{tail}", ratio, NUMBER, rounding="up"))
    cut_share = None
    if sheet.value(carried.shear) > 0.0:
        shear = Abs(carried.shear) / part.shear("y", name="V_a", reach=span / 2.0, words="upright")
        cut_share = sheet.find("Share of shear", "R_v", shear, NUMBER, rounding="up")
    use = together(sheet, axial=axial, bending=tuple(bent), shear=cut_share)
    sheet.find("Use", "U", use, NUMBER, rounding="up", engine=spot.utilisation, clause=spot.check.clause)


def _upright(part: Member) -> Symbol:
    return part.moment("x", name="M_au", words="about the level axis")


def _flat(sheet: Sheet, part: Member, carried: Carried) -> list[tuple[Any, Symbol, str, float, str]]:
    if sheet.value(carried.flat) == 0.0:
        return []
    allowed = part.moment("y", name="M_af", words="about the upright axis")
    return [(carried.flat, allowed, "about the upright axis", part.shape.iy, "f")]


def _grown(sheet: Sheet, spot: Spot, *, push: Any, length: Symbol, inertia: float, tail: str) -> Symbol:
    """Growth of a moment by the push along the member."""
    from sympy import pi

    e = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity")
    second = sheet.given(f"I_{tail}", inertia, INERTIA, "second moment of the member about that axis")
    alpha = sheet.once("alpha", spot.basis.second_order, NUMBER, "factor on the push on this basis")
    euler = pi**2 * e * second / length**2
    return growth(sheet, "Growth of the moment", f"B_{tail}", push=push, euler=euler, alpha=alpha, clause=_GROW)


def _weld(book: Book, sheet: Sheet, spot: Spot, *, carried: Carried, shape: Shape) -> None:
    """All round the end of the member."""
    rig = spot.solution.rig
    round_one = shape.kind in _ROUND
    sheet.given("d_w", shape.depth, LENGTH, "depth of the member" if not round_one else "diameter of the member")
    if not round_one:
        sheet.given("b_w", shape.width, LENGTH, "width of the member")
    sheet.note("Axes of the weld: across is along the floor, along is square to it, out is along the member.")
    load = Loading(fy=carried.shear, fz=carried.pull, mx=carried.end, my=carried.flat)
    demand = force_per_inch(
        sheet,
        ring(shape.depth) if round_one else rectangle(shape.width, depth=shape.depth),
        kind="ring" if round_one else "rectangle",
        load=load,
        engine=spot.of(spot.check.demand),
    )

    def joint(thick: float, metal: str, faces: float = 1.0) -> Joint:
        return Joint(
            leg=float(rig.number("cross_member.weld")),
            length=float(np.pi * shape.depth) if round_one else min(shape.width, shape.depth),
            electrode=float(steel.electrode(str(rig.value("weld.electrode"))).fexx),
            thickness=thick,
            fu=steel.grade(metal).fu,
            faces=faces,
        )

    own = joint(shape.t_design, str(rig.value("cross_member.steel")), 2.0 if shape.kind in _SOLID else 1.0)
    allowed = weld_allows(
        sheet,
        [("wall of the member", own), _met(rig, joint)],
        basis=spot.basis,
        hand=str(rig.value("weld.hand")),
        engine=spot.of(spot.check.capacity),
    )
    book.use(sheet, spot, demand=demand, capacity=allowed)


def _met(rig: Rig, joint: Any) -> tuple[str, Joint]:
    """What the end meets: a stiffener of the rail there, else the side wall."""
    there = ("bottom", "under") if _under(rig) else ("top", "cap")
    if rig.has("rail.stiffener") and str(rig.value("rail.at")) in there:
        return "wall of the stiffener", joint(
            shapes.find(rig.value("rail.stiffener")).t_design, str(rig.value("rail.steel"))
        )
    return "side wall", joint(float(side_sheet(rig)), str(rig.value("box.steel")))


def _sag(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> None:
    """Sag between the rails under the loads as they are."""
    per_inch, people = _floor_part(sheet, spot, still=True)
    across = _between_rails(sheet, spot)
    stiff = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity") * sheet.given(
        "I_u", shape.ix, INERTIA, f"second moment of the member, {shape.name}"
    )
    bent = 5 * per_inch * across**4 / 384 + (0 if people is None else people * across**3 / 48)
    told = spot.of(spot.check.demand)
    demand = sheet.find("Sag at the middle", "w_d", bent / stiff, LENGTH, rounding="up", engine=told, clause=_FLOOR)
    limit = sheet.given("c_s", MEMBER_SAG, NUMBER, "most sag is the span over this, a yardstick of our own")
    capacity = sheet.find(
        "Allowed sag", "w_a", across / limit, LENGTH, rounding="down", engine=spot.of(spot.check.capacity)
    )
    book.use(sheet, spot, demand=demand, capacity=capacity)

"""What a cross-member carries: the floor's load, the couple of hangers and lines, that of the hinge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.analysis.across import member_stations, tubes
from rigcheck.analysis.rows import SIDES
from rigcheck.calculation.book import Book, tension_of
from rigcheck.calculation.floor_load import people_on, pressure_on, tilt
from rigcheck.calculation.free_body import AXES
from rigcheck.calculation.lug_pull import direction
from rigcheck.calculation.pin import bar_thrust, both_ears, group_force, group_thrust
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import pivots
from rigcheck.loads.steel import cross_member_count
from rigcheck.parts.cross_member.forces import SHARE, hanger_member, tail_member
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER, PER_LENGTH
from rigcheck.statics.geometry import SIDE
from rigcheck.tables.shapes import Shape

_PIVOT = "docs/method.md#center-pivot"
FLOOR, _HANGER, _HEAD = (
    f"statics, docs/method.md#{name}" for name in ("cross-member", "hanger-cross-member", "head-cross-member")
)


@dataclass(slots=True)
class Carried:
    """What a cross-member carries; 0 where there is none.

    Attributes:
        upright: Moment about its level axis.
        flat: Moment about its upright axis.
        end: Moment about its level axis at its end alone.
        pull: Tension along it, negative pushes.
        shear: Upright shear at its end.
        aside: Shear along the box at its end.
        torque: Torsion along it.
    """

    upright: Any
    flat: Any = 0
    end: Any = 0
    pull: Any = 0
    shear: Any = 0
    aside: Any = 0
    torque: Any = 0


def under_the_floor(rig: Rig) -> bool:
    """Whether the cross-members lie under the floor."""
    return rig.has("cross_member.shape") and str(rig.value("cross_member.at")) == "under"


def between_rails(sheet: Sheet, spot: Spot) -> Symbol:
    """Distance of the rails."""
    return sheet.once("b", spot.solution.layout.rail_spacing, LENGTH, "between the rails")


def of_the_floor(sheet: Sheet, spot: Spot, *, share: float | None = None, station: float | None = None) -> Carried:
    """A simple beam between the rails under a bay of floor, people at its middle; for shear, at its end."""
    per_inch, people = floor_part(sheet, spot, share=share, station=station)
    across = between_rails(sheet, spot)
    moment, shear = per_inch * across**2 / 8, per_inch * across / 2
    if people is not None:
        moment, shear = moment + people * across / 4, shear + people
    return Carried(
        upright=sheet.find("Moment of the floor's load at its middle", "M_w", moment, MOMENT, clause=FLOOR),
        shear=sheet.find("Shear of the floor's load at its end", "V_w", shear, FORCE, clause=FLOOR),
    )


def floor_part(
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


def at_the_hangers(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> Carried:
    """Offset of the hangers from the rails and splay of the lines, the floor's load added."""
    from sympy import Abs

    solution, rig = spot.solution, spot.solution.rig
    tension = tension_of(book, sheet, spot)
    u_s, u_n, u_y = _in_box_axes(sheet, spot)
    hangers = sheet.given("h", solution.layout.hanger_spacing, LENGTH, "between the hangers")
    out = sheet.find("Hanger outside the rail", "e_h", (hangers - between_rails(sheet, spot)) / 2, LENGTH)
    level = sheet.once("n_H", solution.layout.hanger_n, LENGTH, "hanger above the floor")
    over = level - _axis(sheet, spot, shape=shape, under=under_the_floor(rig))
    end = sheet.find(
        "Moment at its end about the level axis",
        "M_e",
        Abs(tension * (u_n * out - u_y * over)),
        MOMENT,
        note="The line pulls at the hanger, the rail holds beside it: the couple goes into the member.",
        clause=_HANGER,
    )
    flat = sheet.find("Moment about the upright axis", "M_up", Abs(tension * u_s * out), MOMENT, clause=_HANGER)
    pull = sheet.find("Pull along it, by the splay of the line", "N_c", tension * u_y, FORCE, clause=_HANGER)
    across = between_rails(sheet, spot)
    rest = {"flat": flat, "end": end, "pull": pull, "aside": flat / across}
    rest["torque"] = torque_of(sheet, spot, hanger_member(solution).torque)
    if not under_the_floor(rig) or spot.on_road:
        return Carried(upright=end, shear=end / across, **rest)
    spacing = float(rig.number("cross_member.spacing"))
    most = float(cross_member_count(rig)) - 1.0
    near = min(max(float(np.round(float(solution.layout.hanger_s) / spacing)), 0.0), most)
    floor = of_the_floor(sheet, spot, station=near * spacing)
    return Carried(upright=end + floor.upright, shear=end / across + floor.shear, **rest)


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


def at_the_hinge(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> Carried:
    """Hinge groups beside the rails, the side thrust of one barrel, half a bay of floor added."""
    from sympy import Abs, cos, sin

    solution, rig, letter = spot.solution, spot.solution.rig, "LR"[spot.side]
    if pivots(rig):
        return _at_the_pivot(book, sheet, spot, shape=shape)
    group_force(book, sheet, spot)
    x, z = named(f"X_{letter}"), named(f"Z_{letter}")
    a = tilt(sheet, spot)
    pushed = float(solution.demand.hinge[(*spot.at, 1)] * SIDE[spot.side]) <= 0.0  # toward the middle of the box
    aside = group_thrust(sheet, spot)
    thrust = -aside if pushed else aside
    along = sheet.find("Hinge force along the floor", "H_s", x * cos(a) + z * sin(a), FORCE, clause=AXES)
    normal = sheet.find("Hinge force square to the floor", "H_n", z * cos(a) - x * sin(a), FORCE, clause=AXES)
    groups = sheet.once("c", solution.layout.hinge_spacing, LENGTH, "between the hinge groups")
    out = sheet.find("Hinge group outside the rail", "e_h", (groups - between_rails(sheet, spot)) / 2, LENGTH)
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
    flat = sheet.find("Moment about the upright axis", "M_up", Abs(along * out), MOMENT, clause=_HEAD)
    cut, aside = Abs(normal), Abs(along)
    member = member_stations(rig).shape[-1] if "head" in tubes(rig) and rig.has("cross_member.shape") else 0
    torque = _head_torque(sheet, spot, member=member, along=along, over=over)
    if not under_the_floor(rig) or spot.on_road:
        return Carried(upright=end, flat=flat, end=end, pull=thrust, shear=cut, aside=aside, torque=torque)
    floor = of_the_floor(sheet, spot, share=SHARE[0], station=0.0)
    return Carried(upright=end + floor.upright, flat=flat, end=end, pull=thrust, shear=cut + floor.shear, aside=aside,
                   torque=torque)  # fmt: skip


def _at_the_pivot(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> Carried:
    """A beam whose ends bring the rails to two ears near its middle, the thrust of the bar, half a bay of floor."""
    from sympy import Abs, Max, cos, sin

    solution, rig = spot.solution, spot.solution.rig
    pair = both_ears(book, sheet, spot)
    a, b = tilt(sheet, spot), between_rails(sheet, spot)
    c = sheet.once("c", solution.layout.hinge_spacing, LENGTH, "between the two ears")
    reach = sheet.find("Ear inside the rail", "e_h", (b - c) / 2, LENGTH, clause=_PIVOT)
    height = sheet.once("n_h", solution.layout.hinge_height, LENGTH, "hinge axis above the floor")
    over = Abs(height - _axis(sheet, spot, shape=shape, under=True))
    ends, cuts, sign = [], [], (1, -1)[spot.side]
    for name, words, parts in (
        ("s", "along the floor", [x * cos(a) + z * sin(a) for x, z in pair]),
        ("n", "square to the floor", [z * cos(a) - x * sin(a) for x, z in pair]),
    ):
        left, right = (
            sheet.find(f"Force of the {side} ear, {words}", f"F_{name}{side[0].upper()}", part, FORCE, clause=AXES)
            for side, part in zip(SIDES, parts, strict=True)
        )
        end = (left + right) / 2 + sign * (left - right) * c / (2 * b)
        end = sheet.find(f"End at this rail, {words}", f"R_{name}", Abs(end), FORCE, rounding="up", clause=_PIVOT)
        ear = (left, right)[spot.side]
        signed = (left + right) / 2 + sign * (left - right) * c / (2 * b)
        ends.append(end)
        cuts.append(Max(end, Abs(ear - signed)))
    thrust = bar_thrust(sheet, spot)
    bent = sheet.find("Moment under an ear", "M_m", ends[1] * reach + thrust * over, MOMENT, clause=_PIVOT)
    fixed = ends[1] * reach * (1 - reach / b) + thrust * over
    end = sheet.find("Moment at its end, were it built in", "M_e", fixed, MOMENT, clause=_PIVOT)
    flat = sheet.find("Moment about the upright axis", "M_up", ends[0] * reach, MOMENT, clause=_PIVOT)
    member = member_stations(rig).shape[-1] if "head" in tubes(rig) and rig.has("cross_member.shape") else 0
    t = sheet.given("t_h", abs(couple_on_left(spot, member=member)), MOMENT, "couple of this member on this rail")
    torque = sheet.find("Torsion that counts", "T_m", t + ends[0] * over, MOMENT, rounding="up", clause=_PIVOT)
    if not under_the_floor(rig) or spot.on_road:
        return Carried(upright=bent, flat=flat, end=end, pull=-thrust, shear=cuts[1], aside=cuts[0], torque=torque)
    floor = of_the_floor(sheet, spot, share=SHARE[0], station=0.0)
    return Carried(upright=bent + floor.upright, flat=flat, end=end, pull=-thrust, shear=cuts[1] + floor.shear,
                   aside=cuts[0], torque=torque)  # fmt: skip


def _head_torque(sheet: Sheet, spot: Spot, *, member: int, along: Symbol, over: Any) -> Any:
    """The member's own couple on this rail, and with it what the hinge turns the member's end by."""
    from sympy import Abs, Max

    own = SIDE[spot.side] * couple_on_left(spot, member=member)
    t = sheet.given("t_h", own, MOMENT, "couple of this member on this rail, docs/method.md#grillage")
    both = sheet.find("Torsion of its end with the hinge's", "T_e", Abs(t + along * over), MOMENT, clause=_HEAD)
    return sheet.find("Torsion that counts", "T_m", Max(Abs(t), both), MOMENT, rounding="up", clause=_HEAD)


def couple_on_left(spot: Spot, *, member: int) -> float:
    """Couple of a member on the left rail, at the first peak where a line has parted; 0 where no rail is bent."""
    bent = spot.solution.bent
    if not spot.bends:
        return 0.0
    pair = bent.place(spot.index, spot.bound)
    return float(bent.thrown[pair] * bent.forces.ties.torque[pair, member])


def torque_of(sheet: Sheet, spot: Spot, engine: Any) -> Any:
    """Torsion of a member from the grillage."""
    value = float(np.broadcast_to(engine, spot.solution.shape)[spot.at])
    if value == 0.0:
        return 0
    return sheet.given("T_m", value, MOMENT, "torsion of the member, docs/method.md#grillage")


def at_the_tail(sheet: Sheet, spot: Spot) -> Carried:
    """Half a bay of floor on the tube across the tail, and its torsion."""
    rig = spot.solution.rig
    carried = Carried(upright=0)
    if under_the_floor(rig):
        carried = of_the_floor(sheet, spot, share=SHARE[0], station=float(rig.number("box.length")))
    carried.torque = torque_of(sheet, spot, tail_member(spot.solution).torque)
    return carried

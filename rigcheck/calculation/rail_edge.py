"""The top edge of the rail as a chord that side walls and cross-members hold sideways."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rigcheck.calculation.algebra import least, most
from rigcheck.calculation.allowed import buckling, column_allows
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.steel import side_sheet, stiffener_height
from rigcheck.parts.rail.strength import CHORD_SHARE
from rigcheck.quantities.measures import AREA, FORCE, INERTIA, LENGTH, STRESS
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.tables import shapes

_CHORD = "docs/method.md#top-chord"
_LEAST = 0.1  # in: of the edge over the middle of the cross-members, as in the check


@dataclass(frozen=True, slots=True)
class Chord:
    """What is pushed, and what holds it.

    Attributes:
        area: Its area.
        inertia: Its second moment about its upright axis.
        spacing: Between cross-members.
        held: Whether cross-members over the top hold it directly.
        height: Its middle above the floor. [in]
    """

    area: Symbol
    inertia: Symbol
    spacing: Symbol
    held: bool
    height: float


def chord_of(sheet: Sheet, spot: Spot, *, stiffener: bool) -> Chord | None:
    """The stiffener with a third of the pressed wall, or of the wall alone; None without cross-members."""
    solution, rig = spot.solution, spot.solution.rig
    if not rig.has("cross_member.shape"):
        return None
    side = float(rig.number("box.side_height"))
    h = sheet.once("h_s", side, LENGTH, "height of the side wall")
    t = sheet.once("t_s", side_sheet(rig), LENGTH, "side wall")
    pressed_value = max(side - float(solution.section.axis), 0.0) * CHORD_SHARE
    axis = sheet.once("n_0", solution.section.axis, LENGTH, "neutral axis of the rail above the floor")
    pressed = sheet.find(
        "A third of the pressed wall, counted with the edge",
        "b_k",
        (h - axis) / 3 if pressed_value > 0.0 else 0 * h,
        LENGTH,
        engine=pressed_value,
        clause="AISC 360-22 F4.2 (memory)",
    )
    area, inertia, height = pressed * t, pressed * t**3 / 12, side - 0.5 * pressed_value
    if stiffener:
        shape = shapes.find(rig.value("rail.stiffener"))
        area += sheet.given("A_s", shape.area, AREA, f"area of the stiffener, {shape.name}")
        inertia += sheet.given("I_s", shape.iy, INERTIA, "its second moment about the upright axis")
        height = float(stiffener_height(rig)[0])
    return Chord(
        sheet.find("Area of the edge", "A_k", area, AREA, clause=_CHORD),
        sheet.find("Its second moment about the upright axis", "I_k", inertia, INERTIA, clause=_CHORD),
        sheet.once("p_c", rig.number("cross_member.spacing"), LENGTH, "between cross-members"),
        str(rig.value("cross_member.at")) != "under",
        height,
    )


def side_hold(sheet: Sheet, spot: Spot, *, chord: Chord) -> Symbol:
    """Sideways force per inch of movement and per inch of edge: wall and cross-member as a U-frame."""
    from sympy import Abs

    rig = spot.solution.rig
    across = shapes.find(rig.value("cross_member.shape"))
    e = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity")
    middle = sheet.given("n_k", chord.height, LENGTH, "middle of the edge above the floor")
    low = float(rig.number("box.sheet")) + 0.5 * across.depth
    under = sheet.given("n_m", low, LENGTH, f"middle of the cross-members under the floor, {across.name}")
    arm = Abs(middle + under)
    if abs(chord.height + low) < _LEAST:
        arm = sheet.given("a_0", _LEAST, LENGTH, "least arm counted")
    rise = sheet.find("Edge over the middle of the cross-members", "a_k", arm, LENGTH)
    wall = sheet.once("t_s", side_sheet(rig), LENGTH, "side wall")
    width = sheet.once("B", rig.number("box.width"), LENGTH, "between the side walls")
    second = sheet.given("I_c", across.ix, INERTIA, "second moment of a cross-member")
    upright = sheet.find("Second moment of the wall of one bay", "I_w", chord.spacing * wall**3 / 12, INERTIA)
    soft = rise**3 / (3 * e * upright) + rise**2 * width / (2 * e * second)
    return sheet.find(
        "Sideways force per inch of movement and of edge",
        "k_u",
        1 / (chord.spacing * soft),
        STRESS,
        note="Wall and cross-member as a U-frame, both edges moving outward together.",
        clause=_CHORD,
    )


def edge_allows(sheet: Sheet, spot: Spot, *, fy: Symbol) -> Symbol:
    """Allowed compressive stress of the top edge."""
    from sympy import pi, sqrt

    rig = spot.solution.rig
    top = rig.has("rail.stiffener") and str(rig.value("rail.at")) in ("top", "cap")
    chord = chord_of(sheet, spot, stiffener=top)
    if chord is None:
        raise LookupError("no cross-members hold the edge")
    e = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity")
    stiff: Any = e * chord.inertia
    if chord.held:
        radius = sheet.find("Radius of gyration of the edge", "r_k", sqrt(chord.inertia / chord.area), LENGTH)
        words = " between cross-members over the top"
        elastic = buckling(sheet, slenderness=chord.spacing / radius, words=words)
    else:
        hold = side_hold(sheet, spot, chord=chord)
        length = sheet.once("L", spot.solution.layout.length, LENGTH, "length of the box")
        founded = sheet.find("Buckling force on the U-frames, one end free", "N_1", sqrt(hold * stiff), FORCE)
        between = sheet.find("Between two cross-members", "N_2", pi**2 * stiff / chord.spacing**2, FORCE)
        alone = sheet.find("Not held at all, one end free", "N_3", pi**2 * stiff / (4 * length**2), FORCE)
        held = least(founded, between)
        push = sheet.find(
            "Compression at which the edge buckles",
            "N_k",
            most(held, least(alone, between)),
            FORCE,
            clause=_CHORD,
        )
        elastic = sheet.find("Elastic buckling stress", "F_E", push / chord.area, STRESS, clause=_CHORD)
    heading, told = "Allowed compressive stress of the edge", spot.of(spot.check.capacity)
    return column_allows(sheet, heading, "F_a", elastic=elastic, fy=fy, basis=spot.basis, engine=told)

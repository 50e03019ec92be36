"""The top edge of the rail as a chord that side walls and cross-members hold sideways."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from rigcheck.calculation.allowed import buckling, column_allows
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.sizes import stiffener_on_top
from rigcheck.loads.steel import side_sheet
from rigcheck.parts.rail.strength import CHORD_SHARE, Edge, rail_edge
from rigcheck.quantities.measures import AREA, INERTIA, LENGTH, STRESS
from rigcheck.strength.members.chord import UFrame, chord_allowable, side_stiffness
from rigcheck.tables import shapes

_CHORD = "docs/method.md#top-chord"
_FRAME = {
    "height": ("a_k", LENGTH, "edge over the middle of the cross-members"),
    "wall": ("t_s", LENGTH, "side wall"),
    "stiffener": ("I_u", INERTIA, "second moment of an upright at each cross-member"),
    "width": ("B", LENGTH, "between the side walls"),
    "cross_member": ("I_c", INERTIA, "second moment of a cross-member"),
    "spacing": ("p_c", LENGTH, "between cross-members"),
}


@dataclass(frozen=True, slots=True)
class Chord:
    """What is pushed, and what holds it.

    Attributes:
        area: Its area.
        inertia: Its second moment about its upright axis.
        spacing: Between cross-members.
        held: Whether cross-members over the top hold it directly.
    """

    area: Symbol
    inertia: Symbol
    spacing: Symbol
    held: bool


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
    area, inertia = pressed * t, pressed * t**3 / 12
    if stiffener:
        shape = shapes.find(rig.value("rail.stiffener"))
        area += sheet.given("A_s", shape.area, AREA, f"area of the stiffener, {shape.name}")
        inertia += sheet.given("I_s", shape.iy, INERTIA, "its second moment about the upright axis")
    return Chord(
        sheet.find("Area of the edge", "A_k", area, AREA, clause=_CHORD),
        sheet.find("Its second moment about the upright axis", "I_k", inertia, INERTIA, clause=_CHORD),
        sheet.once("p_c", rig.number("cross_member.spacing"), LENGTH, "between cross-members"),
        str(rig.value("cross_member.at")) != "under",
    )


def _frame(sheet: Sheet, spot: Spot, *, edge: Edge) -> UFrame:
    """Wall and cross-member as a U-frame."""
    frame: UFrame = Run(sheet).record(UFrame, edge.frame, symbols=_FRAME)
    return frame


def side_hold(sheet: Sheet, spot: Spot, *, stiffener: bool) -> Symbol:
    """Sideways force per inch of movement and per inch of edge: wall and cross-member as a U-frame."""
    edge = rail_edge(spot.solution, stiffener=stiffener)
    if edge is None:
        raise LookupError("no cross-members hold the edge")
    frame = _frame(sheet, spot, edge=edge)
    heading = "Sideways force per inch of movement and of edge"
    return Run(sheet).tell(lambda: side_stiffness(frame), "k_w", heading, STRESS, rounding="nearest")


def edge_allows(sheet: Sheet, spot: Spot, *, fy: Symbol) -> Symbol:
    """Allowed compressive stress of the top edge."""
    from sympy import sqrt

    rig = spot.solution.rig
    top = stiffener_on_top(rig)
    chord, edge = chord_of(sheet, spot, stiffener=top), rail_edge(spot.solution, stiffener=top)
    if chord is None or edge is None:
        raise LookupError("no cross-members hold the edge")
    heading, told = "Allowed compressive stress of the edge", spot.of(spot.check.capacity)
    if chord.held:
        radius = sheet.find("Radius of gyration of the edge", "r_k", sqrt(chord.inertia / chord.area), LENGTH)
        words = " between cross-members over the top"
        elastic = buckling(sheet, slenderness=chord.spacing / radius, words=words)
        return column_allows(sheet, heading, "F_a", elastic=elastic, fy=fy, basis=spot.basis, engine=told)
    run = Run(sheet)
    whole = replace(
        edge.chord, area=run.symbol(chord.area), inertia=run.symbol(chord.inertia), fy=run.symbol(fy),
        length=run.given("L", edge.chord.length, LENGTH, "length of the box"),
    )  # fmt: skip
    make = partial(chord_allowable, whole, frame=_frame(sheet, spot, edge=edge), basis=run.basis(spot.basis))
    return run.tell(make, "F_a", heading, STRESS, engine=told)

"""Cross-members: under the floor, at the hangers and at the hinge, and the welds at their ends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.check.floor import floor_load
from rigcheck.check.missing import Missing
from rigcheck.check.rows import Check
from rigcheck.check.solve import Solution
from rigcheck.loads.steel import cross_member_count, side_sheet
from rigcheck.statics.geometry import SIDE
from rigcheck.strength import members
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.compression import ELASTIC_MODULUS, moment_amplifier
from rigcheck.strength.interaction import member
from rigcheck.strength.weld_lines import WeldLoad, peak_force, rectangle, ring
from rigcheck.strength.welds import CONFIDENCE, Joint, fillet_allowable
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape

Array = NDArray[np.float64]

MEMBER_SAG = 180.0  # span over this is the most sag; a yardstick of our own
SHARE = (0.5, 1.25, 1.143)
"""Load of one cross-member over pressure times spacing: one, two, and three or more spans of sheet.

Source: reactions of continuous beams, 1/2 w L at an end, 1.25 w L amid two spans, 1.143 amid four, the most beyond two
(memory).
"""
_ROUND = ("pipe", "round tube", "round bar")
_SOLID = ("bar", "round bar")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Carried:
    """What one cross-member carries, shapes broadcast to (..., state, bound, side).

    Attributes:
        upright: Moment about its level axis. [lbf*in]
        flat: Moment about its upright axis. [lbf*in]
        end: Moment about its level axis at the end alone. [lbf*in]
        pull: Tension along it, negative pushes. [lbf]
        shear: Upright shear at its end. [lbf]
    """

    upright: Array
    flat: Array
    end: Array
    pull: Array
    shear: Array


def _wide(value: Array) -> Array:
    return np.asarray(value)[..., None, None, None]


def _under(rig: Rig) -> bool:
    return rig.has("cross_member.shape") and str(rig.value("cross_member.at")) == "under"


def _member_axis(rig: Rig, shape: Shape, *, under: bool) -> Array:
    """Middle of a cross-member above the floor, shape (...). [in]"""
    if under:
        return np.asarray(-rig.number("box.sheet") - 0.5 * shape.depth)
    return np.asarray(rig.number("box.side_height") + 0.5 * shape.depth)


def _floor_part(
    solution: Solution, *, still: bool = False, share: float | None = None, station: Array | None = None
) -> tuple[Array, Array]:
    """Load per inch of one cross-member and people at its middle, shapes (..., state, 1, 1).

    Where the member's station is said, people count by how near to it they stand, otherwise they stand on it.
    """
    rig = solution.rig
    load = floor_load(solution)
    spans = cross_member_count(rig) - 1.0
    by_spans = np.where(spans < 1.5, SHARE[0], np.where(spans < 2.5, SHARE[1], SHARE[2]))
    part = by_spans if share is None else np.asarray(share)
    spacing = rig.number("cross_member.spacing")[..., None]
    reach = spacing * part[..., None]
    pressure, people = (load.still, load.people_still) if still else (load.pressure, load.people)
    if station is not None:
        people = people * np.maximum(1.0 - np.abs(load.people_at - station[..., None]) / spacing, 0.0)
    return (pressure * reach)[..., None, None], people[..., None, None]


def floor_member(solution: Solution, *, share: float | None = None, station: Array | None = None) -> Carried:
    """A cross-member as a simple beam between the rails, everybody at its middle; for shear, at its end.

    Args:
        solution: The statics.
        share: Load over pressure times spacing, that of the worst member where not said.
        station: Where the member lies, shape (...); under the people where not said. [in]

    Returns:
        What it carries.

    Source: w L^2/8 + P L/4; docs/method.md#cross-member.
    """
    across = _wide(solution.layout.rail_spacing)
    per_inch, people = _floor_part(solution, share=share, station=station)
    none = np.zeros(())
    return Carried(
        upright=per_inch * across**2 / 8.0 + people * across / 4.0,
        flat=none,
        end=none,
        pull=none,
        shear=per_inch * across / 2.0 + people,
    )


def hanger_member(solution: Solution) -> Carried:
    """The cross-member nearest the hangers: their offset from the rails and the splay of the lines, floor load added.

    A line pulls at y = h/2 and n_H, the rail holds at b/2, the member lies at n_c: its end gets the moment
    T [u_n (h - b)/2 - u_y (n_H - n_c)], the sideways pull T u_y, and T u_s (h - b)/2 about its upright axis.

    Source: statics; docs/method.md#hanger-cross-member.
    """
    rig, at = solution.rig, solution.pose
    shape = shapes.find(rig.value("cross_member.shape"))
    tension = solution.demand.tension
    out = 0.5 * (solution.layout.hanger_spacing - solution.layout.rail_spacing)[..., None]
    over = (solution.layout.hanger_n - _member_axis(rig, shape, under=_under(rig)))[..., None]
    end = np.abs(tension * (at.u_n * out - at.uy * over)[..., None, None])
    flat = np.abs(tension * (at.u_s * out)[..., None, None])
    pull = tension * at.uy[..., None, None]
    if not _under(rig):
        return Carried(upright=end, flat=flat, end=end, pull=pull, shear=np.zeros(()))
    spacing = rig.number("cross_member.spacing")
    near = np.clip(np.round(solution.layout.hanger_s / spacing), 0.0, cross_member_count(rig) - 1.0)
    floor = floor_member(solution, station=near * spacing)
    return Carried(upright=end + floor.upright, flat=flat, end=end, pull=pull, shear=floor.shear)


def head_member(solution: Solution, *, shape: Shape) -> Carried:
    """The member at the hinge: hinge groups beside the rails, half a bay of floor added.

    Source: statics; docs/method.md#head-cross-member.
    """
    rig = solution.rig
    hinge = solution.demand.hinge
    along, normal = in_box(solution, hinge)
    out = _wide(0.5 * (solution.layout.hinge_spacing - solution.layout.rail_spacing))
    over = _wide(solution.layout.hinge_height - _member_axis(rig, shape, under=True))
    sideways = hinge[..., 1] * SIDE  # outward
    end = np.abs(normal * out - sideways * over)
    floor = floor_member(solution, share=SHARE[0], station=np.zeros(())) if _under(rig) else None
    return Carried(
        upright=end if floor is None else end + floor.upright,
        flat=np.abs(along * out),
        end=end,
        pull=sideways,
        shear=np.zeros(()) if floor is None else floor.shear,
    )


def in_box(solution: Solution, force: Array) -> tuple[Array, Array]:
    """Parts of forces (..., state, bound, side, 3) along and square to the floor."""
    e_s, e_n = (part[..., None, None, :] for part in (solution.pose.along, solution.pose.normal))
    along = force[..., 0] * e_s[..., 0] + force[..., 2] * e_s[..., 1]
    return along, np.asarray(force[..., 0] * e_n[..., 0] + force[..., 2] * e_n[..., 1])


def head_shape(rig: Rig) -> Shape | None:
    """Shape of the member at the hinge: the head tube, or the first cross-member under the floor; None unknown."""
    if rig.has("end_tube.shape") and rig.value("end_tube.head"):
        return shapes.find(rig.value("end_tube.shape"))
    return shapes.find(rig.value("cross_member.shape")) if _under(rig) else None


def member_not_assessed(solution: Solution) -> list[Missing]:
    """Cross-members and their welds where the case does not describe them."""
    rig = solution.rig
    missing = []
    if not rig.has("cross_member.shape"):
        missing.append(Missing("cross-members", id="cross_member", group="floor"))
    if head_shape(rig) is None:
        missing.append(Missing("head cross-member", id="end_tube.head", group="floor"))
    angle = rig.has("cross_member.shape") and shapes.find(rig.value("cross_member.shape")).kind == "angle"
    if angle or not rig.has("cross_member.weld"):
        missing.append(Missing("cross-member end welds", id="cross_member.weld", group="floor"))
    return missing


def member_checks(solution: Solution) -> list[Check]:
    """Cross-members under the floor, at the hangers and at the hinge, on the chosen basis and on strength.

    A parted line changes nothing under the floor, so only the members at hangers and hinge have rows for accidents.

    Args:
        solution: The statics.

    Returns:
        Checks; none for what is not described.

    Source: docs/method.md#cross-member; clauses beside each row.
    """
    rig = solution.rig
    parts: list[tuple[str, Carried, Shape]] = []
    if rig.has("cross_member.shape"):
        shape = shapes.find(rig.value("cross_member.shape"))
        if _under(rig):
            parts.append(("cross-member", floor_member(solution), shape))
        parts.append(("hanger cross-member", hanger_member(solution), shape))
    head = head_shape(rig)
    if head is not None:
        parts.append(("head cross-member", head_member(solution, shape=head), head))
    checks = []
    for basis in solution.bases():
        for part, carried, shape in parts:
            if basis is ULTIMATE and part == "cross-member":
                continue
            checks += _rows(rig, carried, part=part, shape=shape, basis=basis)
    if _under(rig):
        checks.append(_sag_row(solution))
    return checks


def _rows(rig: Rig, carried: Carried, *, part: str, shape: Shape, basis: Basis) -> list[Check]:
    section = members.section_of([shape])
    metal = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    span = _wide(rig.number_or("rail.spacing", rig.number("box.width") + rig.number("box.sheet")))
    fy = metal.fy
    upright = members.moment_strength(section, about="x", fy=fy, basis=basis, length=span)
    flat = members.moment_strength(section, about="y", fy=fy, basis=basis, length=span)
    shear = members.shear_strength(section, along="y", fy=fy, basis=basis, length=span / 2.0)
    push = np.maximum(-carried.pull, 0.0)
    axial = push / members.compression_strength(section, length=span, fy=fy, basis=basis)
    axial = axial + np.maximum(carried.pull, 0.0) / members.tension(section, fy=fy, fu=metal.fu, basis=basis)
    grow = moment_amplifier(
        push, euler=np.pi**2 * ELASTIC_MODULUS * section.ix / span**2, second_order=basis.second_order
    )
    weak = moment_amplifier(
        push, euler=np.pi**2 * ELASTIC_MODULUS * section.iy / span**2, second_order=basis.second_order
    )
    cut = carried.shear / shear
    major, minor = carried.upright * grow / upright, carried.flat * weak / flat
    use = member(axial, major=major, minor=minor, shear=cut, torsion=0.0, basis=basis)
    rows: list[tuple[str, str, str, Array, Array, str]] = []
    bent = "AISC 360-22 F7, F8, F11 (seen, memory); ASME BTH-1 3-2.3 (memory)"
    if part == "cross-member":
        rows.append((part, "bending under the floor", "moment", carried.upright, upright, bent))
        rows.append((part, "shear", "force", carried.shear, shear, "AISC 360-22 G4, G5; ASME BTH-1 3-2.3.6 (memory)"))
    else:
        mode = "bending both ways, axial and shear together"
        rows.append((part, mode, "number", use, np.ones(()), "AISC 360-22 H1.1 (seen); ASME BTH-1 3-2.4 (memory)"))
    if rig.has("cross_member.weld") and shape.kind != "angle":
        rows.append(_weld_row(rig, carried, part=part, shape=shape, basis=basis))
    ultimate = basis is ULTIMATE
    text = f"{basis.title}; steel {metal.key}, dynamic factor in the load"
    return [
        Check(part=name, group="floor", mode=mode + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
              capacity=capacity, basis=text, clause=clause, ultimate=ultimate)
        for name, mode, unit, demand, capacity, clause in rows
    ]  # fmt: skip


def _met_by_end(rig: Rig) -> tuple[Array, str]:
    """Thickness and steel of the rail where a cross-member's end meets it: a stiffener there, else the side wall."""
    there = ("bottom", "under") if _under(rig) else ("top", "cap")
    if rig.has("rail.stiffener") and str(rig.value("rail.at")) in there:
        return np.asarray(shapes.find(rig.value("rail.stiffener")).t_design), str(rig.value("rail.steel"))
    return side_sheet(rig), str(rig.value("box.steel"))


def _weld_row(
    rig: Rig, carried: Carried, *, part: str, shape: Shape, basis: Basis
) -> tuple[str, str, str, Array, Array, str]:
    """Weld all round an end; the head member is taken as welded like the others."""
    round_one = shape.kind in _ROUND
    group = ring(shape.depth) if round_one else rectangle(shape.width, depth=shape.depth)
    load = WeldLoad(fy=carried.shear, fz=carried.pull, mx=carried.end, my=carried.flat)
    own = (np.asarray(shape.t_design), str(rig.value("cross_member.steel")), 2.0 if shape.kind in _SOLID else 1.0)
    joints = [
        Joint(
            leg=_wide(rig.number("cross_member.weld")),
            length=np.pi * shape.depth if round_one else min(shape.width, shape.depth),
            electrode=steel.electrode(str(rig.value("weld.electrode"))).fexx,
            thickness=_wide(thick),
            fy=steel.grade(metal).fy,
            fu=steel.grade(metal).fu,
            faces=faces,
        )
        for thick, metal, faces in (own, (*_met_by_end(rig), 1.0))
    ]
    share = CONFIDENCE[str(rig.value("weld.hand"))]
    allowed = np.minimum(*(fillet_allowable(joint, basis=basis, confidence=share) for joint in joints))
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum all round"
    return (f"{part} end weld", "force per inch", "line", peak_force(group, load=load), allowed, clause)


def _sag_row(solution: Solution) -> Check:
    rig = solution.rig
    shape = shapes.find(rig.value("cross_member.shape"))
    per_inch, people = _floor_part(solution, still=True)
    across = _wide(solution.layout.rail_spacing)
    sag = (5.0 * per_inch * across**4 / 384.0 + people * across**3 / 48.0) / (ELASTIC_MODULUS * shape.ix)
    return Check(
        part="cross-member", group="floor", mode="sag between the rails", unit="length", demand=sag,
        capacity=across / MEMBER_SAG, basis=f"span / {MEMBER_SAG:g}, static load",
        clause="yardstick of our own; no code sets one",
    )  # fmt: skip

"""Cross-members and end tubes: under the floor, at hangers, hinge and tail, twisted by the box; and their end welds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.across import CLOSED, tubes
from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.parts.cross_member.forces import (
    Carried,
    floor_member,
    floor_part,
    hanger_member,
    head_member,
    head_shape,
    lies_under,
    tail_member,
    twisted_member,
    wide,
)
from rigcheck.parts.cross_member.welds import ROUND, EndWeld, end_weld, end_weld_known, weld_row
from rigcheck.parts.floor.checks import FloorLoad, floor_load
from rigcheck.parts.rail.roll import UNJOINED, rails_joined
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.members import shapes as members
from rigcheck.strength.members.compression import ELASTIC_MODULUS, moment_amplifier
from rigcheck.strength.members.interaction import member
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape
from rigcheck.wording.marks import OWN_YARDSTICK

Row = tuple[str, str, str, Array, Array, str]

MEMBER_SAG = 180.0  # span over this is the most sag; a yardstick of our own


def member_not_assessed(solution: Solution) -> list[Missing]:
    """Cross-members and their welds where the case does not describe them, and a twist that nothing known resists."""
    rig = solution.rig
    missing = []
    if not rails_joined(solution):
        missing.append(Missing(UNJOINED, id="box.twist", group="rail"))
    if not rig.has("cross_member.shape"):
        missing.append(Missing("cross-members", id="cross_member", group="floor"))
    if head_shape(rig) is None:
        missing.append(Missing("head cross-member", id="end_tube.head", group="floor"))
    return [*missing, *_welds_not_assessed(rig)]


def _welds_not_assessed(rig: Rig) -> list[Missing]:
    ends = []
    if rig.has("cross_member.shape"):
        ends.append(("cross-member end welds", "cross_member.weld", rig.value("cross_member.shape"), lies_under(rig)))
    if tubes(rig):
        ends.append(("end tube welds", "end_tube.weld", rig.value("end_tube.shape"), True))
    if not ends:
        return [Missing("cross-member end welds", id="cross_member.weld", group="floor")]
    missing = []
    for name, key, written, under in ends:
        shape = shapes.find(written)
        if end_weld_known(rig, shape=shape, under=under):
            continue
        why = ""
        if rig.has("cross_member.weld"):
            why = " (length of the weld along it not known)"
            if shape.kind in ROUND:
                why = " (a round member meets the floor along a line)"
        missing.append(Missing(name + why, id=key, group="floor"))
    return missing


def member_checks(solution: Solution) -> list[Check]:
    """Cross-members and end tubes, each under everything it carries, on the chosen basis and on strength.

    Args:
        solution: The statics.

    Returns:
        Checks; none for what is not described.

    Source: docs/method.md#cross-member, #grillage; clauses beside each row.
    """
    rig = solution.rig
    under = lies_under(rig)
    load = floor_load(solution) if under else None
    parts: list[tuple[Item, Carried, Shape, bool]] = []
    here = solution.here
    if rig.has("cross_member.shape"):
        shape = shapes.find(rig.value("cross_member.shape"))
        if here.bay:
            parts.append((Item.CROSS_MEMBER, twisted_member(solution, load=load), shape, under))
        if here.hanger:
            parts.append((Item.HANGER_MEMBER, hanger_member(solution, load=load), shape, under))
    head = head_shape(rig)
    if head is not None and here.head:
        parts.append((Item.HEAD_MEMBER, head_member(solution, shape=head, load=load), head, True))
    if "tail" in tubes(rig) and here.tail:
        parts.append((Item.TAIL_TUBE, tail_member(solution, load=load), tubes(rig)["tail"][0], True))
    welds = {part: _end_weld(rig, carried, shape=shape, under=low) for part, carried, shape, low in parts}
    checks = []
    for basis in solution.bases():
        allowed = {shape.name: _allowed(rig, shape=shape, basis=basis) for _, _, shape, _ in parts}
        rows = [
            row
            for part, carried, shape, _ in parts
            for row in _rows(rig, carried, part=part, shape=shape, weld=welds[part], allowed=allowed[shape.name])
        ]
        if under and here.bay and basis is not ULTIMATE:
            rows = [*_floor_rows(floor_member(solution, load=load), allowed=allowed[parts[0][2].name]), *rows]
        metal, ultimate = _metal(rig).key, basis is ULTIMATE
        checks += [
            Check(part=name, group="floor", mode=mode + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
                  capacity=capacity, basis=f"{basis.title}; steel {metal}, dynamic factor in the load", clause=clause,
                  ultimate=ultimate)
            for name, mode, unit, demand, capacity, clause in rows
        ]  # fmt: skip
    if under and here.bay:
        checks.append(_sag_row(solution, load=load))
    return checks


def _metal(rig: Rig) -> steel.Grade:
    return steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")


def _span(rig: Rig) -> Array:
    return wide(rig.number_or("rail.spacing", rig.number("box.width") + rig.number("box.sheet")))


def _floor_rows(carried: Carried, *, allowed: _Allowed) -> list[Row]:
    """The worst member under the floor alone, which a parted line changes nothing of."""
    bent = "AISC 360-22 F7, F8, F11 (seen, memory); ASME BTH-1 3-2.3 (memory)"
    cut = "AISC 360-22 G4, G5; ASME BTH-1 3-2.3.6 (memory)"
    return [
        (Item.CROSS_MEMBER, "bending under the floor", "moment", carried.upright, allowed.upright, bent),
        (Item.CROSS_MEMBER, "shear", "force", carried.shear, allowed.shear, cut),
    ]


def _end_weld(rig: Rig, carried: Carried, *, shape: Shape, under: bool) -> EndWeld | None:
    """The end weld of a member; None where it is not described."""
    if not end_weld_known(rig, shape=shape, under=under):
        return None
    return end_weld(rig, carried, shape=shape, under=under)


def _rows(
    rig: Rig, carried: Carried, *, part: Item, shape: Shape, weld: EndWeld | None, allowed: _Allowed
) -> list[Row]:
    """Everything that one member carries together, and its end weld."""
    clause = "AISC 360-22 H1.1, torsion over a fifth by H3-6 (seen), no shear or torsion alone over its own;"
    clause += " ASME BTH-1 3-2.4 (memory)"
    if shape.kind not in CLOSED:
        clause += "; open section: St Venant torsion, warping neglected, held to the same sums (H3.3 asks less, memory)"
    use = _together(carried, allowed=allowed)
    rows: list[Row] = [(part, TOGETHER, "number", use, np.ones(()), clause)]
    if weld is not None:
        rows.append(weld_row(rig, weld, part=part, basis=allowed.basis))
    return rows


BOXES = ("hss", "tube")
"""Shapes with flat walls of their own for either shear."""
TOGETHER = "bending both ways, axial, shear and torsion together"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Allowed:
    """What a shape stands between the rails, each alone.

    Attributes:
        basis: Basis of allowable strength.
        walled: A box, with walls of its own for either shear.
        upright: Moment about the level axis. [lbf*in]
        flat: Moment about the upright axis. [lbf*in]
        shear: Upright. [lbf]
        aside: Along the box. [lbf]
        torsion: Torsion. [lbf*in]
        push: Compression. [lbf]
        pull: Tension. [lbf]
        euler: Buckling loads about both axes. [lbf]
    """

    basis: Basis
    walled: bool
    upright: Array
    flat: Array
    shear: Array
    aside: Array
    torsion: Array
    push: Array
    pull: Array
    euler: tuple[Array, Array]


def _allowed(rig: Rig, *, shape: Shape, basis: Basis) -> _Allowed:
    section, metal, span = members.section_of([shape]), _metal(rig), _span(rig)
    fy = metal.fy
    upright, flat = (members.moment_strength(section, about=a, fy=fy, basis=basis, length=span) for a in ("x", "y"))
    shear, aside = (
        members.shear_strength(section, along=way, fy=fy, basis=basis, length=span / 2.0) for way in ("y", "x")
    )
    return _Allowed(
        basis=basis,
        walled=shape.kind in BOXES,
        upright=upright,
        flat=flat,
        shear=shear,
        aside=aside,
        torsion=members.torsion_strength(section, fy=fy, basis=basis, length=span),
        push=members.compression_strength(section, length=span, fy=fy, basis=basis),
        pull=members.tension(section, fy=fy, fu=metal.fu, basis=basis),
        euler=(
            np.pi**2 * ELASTIC_MODULUS * section.ix / span**2,
            np.pi**2 * ELASTIC_MODULUS * section.iy / span**2,
        ),
    )


def _together(carried: Carried, *, allowed: _Allowed) -> Array:
    """Everything together; upright shear runs in the upright walls of a box and shear aside in its flat ones.

    So of a box each wall is held to its own shear with the torsion, while in a bar, a round or an angle both shears
    are added.
    """
    push = np.maximum(-carried.pull, 0.0)
    axial = push / allowed.push + np.maximum(carried.pull, 0.0) / allowed.pull
    upright, aside = carried.shear / allowed.shear, carried.aside / allowed.aside
    grow, weak = (
        moment_amplifier(push, euler=euler, second_order=allowed.basis.second_order) for euler in allowed.euler
    )
    return member(
        axial,
        major=carried.upright * grow / allowed.upright,
        minor=carried.flat * weak / allowed.flat,
        shear=np.maximum(upright, aside) if allowed.walled else upright + aside,
        torsion=carried.torque / allowed.torsion,
        basis=allowed.basis,
    )


def _sag_row(solution: Solution, *, load: FloorLoad | None) -> Check:
    rig = solution.rig
    shape = shapes.find(rig.value("cross_member.shape"))
    per_inch, people = floor_part(solution, load=load, still=True)
    across = wide(solution.layout.rail_spacing)
    sag = (5.0 * per_inch * across**4 / 384.0 + people * across**3 / 48.0) / (ELASTIC_MODULUS * shape.ix)
    return Check(
        part=Item.CROSS_MEMBER, group="floor", mode="sag between the rails", unit="length", demand=sag,
        capacity=across / MEMBER_SAG, basis=f"span / {MEMBER_SAG:g}, static load",
        clause=OWN_YARDSTICK, at_rest=True,
    )  # fmt: skip

"""The governing cross-member or its end weld: under the floor, at the hangers, at the hinge."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from rigcheck.analysis.items import MEMBER_WELDS, Item
from rigcheck.calculation.algebra import most
from rigcheck.calculation.allowed import Member, growth, together
from rigcheck.calculation.book import Book
from rigcheck.calculation.member_loads import (
    FLOOR,
    Carried,
    at_the_hangers,
    at_the_hinge,
    at_the_tail,
    between_rails,
    floor_part,
    of_the_floor,
    torque_of,
    under_the_floor,
)
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.weld_line import Loading, force_per_inch, weld_allows
from rigcheck.case.rig import Rig
from rigcheck.parts.cross_member.checks import BOXES, MEMBER_SAG
from rigcheck.parts.cross_member.forces import Carried as EngineCarried
from rigcheck.parts.cross_member.forces import head_shape, twisted_member
from rigcheck.parts.cross_member.welds import weld_group, weld_joints
from rigcheck.quantities.measures import INERTIA, LENGTH, NUMBER, STRESS
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape

PARTS = tuple(MEMBER_WELDS)
FIELDS = ("upright", "flat", "end", "pull", "shear", "aside", "torque")
_OF: dict[Item | None, Item] = {weld: member for member, weld in MEMBER_WELDS.items()}
"""The member that each end weld is of."""
ITEMS = (*PARTS, *_OF)


def member_section(book: Book) -> Section:
    """The cross-member, or its end weld, with the highest use."""
    spot = book.spot(lambda check: check.item in ITEMS)
    if spot is None:
        return book.missing("cross-member", "the case describes no cross-members")
    sheet, rig = book.sheet(), spot.solution.rig
    welded = spot.item in _OF
    part = _OF.get(spot.item, spot.item)
    tail = part is Item.TAIL_TUBE
    shape = (
        head_shape(rig)
        if part is Item.HEAD_MEMBER
        else shapes.find(rig.value(("end_tube" if tail else "cross_member") + ".shape"))
    )
    under = part in (Item.HEAD_MEMBER, Item.TAIL_TUBE) or under_the_floor(rig)
    if shape is None:
        raise LookupError(f"{part}: no shape")
    if spot.check.unit == "length":
        _sag(book, sheet, spot, shape=shape)
        return book.section("cross-member", spot, sheet)
    together = spot.check.unit == "number" or welded
    if part is Item.CROSS_MEMBER:
        carried = of_the_floor(sheet, spot) if under_the_floor(rig) else Carried(upright=0)
        if together:
            carried.torque = torque_of(sheet, spot, twisted_member(spot.solution).torque)
    elif tail:
        carried = at_the_tail(sheet, spot)
    else:
        carried = (at_the_hangers if part is Item.HANGER_MEMBER else at_the_hinge)(book, sheet, spot, shape=shape)
    if welded:
        _weld(book, sheet, spot, carried=carried, shape=shape, under=under)
    else:
        _strength(book, sheet, spot, carried=carried, shape=shape)
    return book.section("cross-member", spot, sheet)


def _metal(rig: Rig) -> steel.Grade:
    return steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")


def _strength(book: Book, sheet: Sheet, spot: Spot, *, carried: Carried, shape: Shape) -> None:
    """Bending or shear alone under the floor; everything together at hangers and hinge."""
    rig = spot.solution.rig
    span = float(rig.number_or("rail.spacing", rig.number("box.width") + rig.number("box.sheet")))
    part = Member(sheet=sheet, basis=spot.basis, shape=shape, metal=_metal(rig), length=span, word="cross-member")
    if spot.check.unit != "number":
        cut = spot.check.unit == "force"
        demand = carried.shear if cut else carried.upright
        capacity = part.shear("y", name="V_a", reach=span / 2.0, words="") if cut else _upright(part)
        book.use(sheet, spot, demand=demand, capacity=capacity)
        return
    length = sheet.given("l", span, LENGTH, "length of the member between the rails")
    upright = _upright(part)
    shares = [(carried.upright, upright, "about the level axis", shape.ix, "u"), *_flat(sheet, part, carried)]
    if carried.upright == 0:
        shares = shares[1:]
    axial = None
    push = sheet.value(-carried.pull) > 0.0
    if push:
        axial = sheet.find(
            "Share of compression", "R_p", -carried.pull / part.push(name="P_a", effective=length), NUMBER
        )
    elif sheet.value(carried.pull) > 0.0:
        axial = sheet.find("Share of pull", "R_p", carried.pull / part.pull(name="P_t"), NUMBER, rounding="up")
    bent = []
    for moment, allowed, words, inertia, tail in shares:
        ratio = moment / allowed
        if push:
            ratio *= _grown(sheet, spot, push=-carried.pull, length=length, inertia=inertia, tail=tail)
        bent.append(sheet.find(f"Share of bending {words}", f"R_{tail}", ratio, NUMBER, rounding="up"))
    cut_share = None
    cuts = []
    for force, way, name, words in (
        (carried.shear, "y", "V_a", "upright"),
        (carried.aside, "x", "V_x", "along the box"),
    ):
        if sheet.value(force) > 0.0:
            cuts.append(force / part.shear(way, name=name, reach=span / 2.0, words=words))
    if cuts:
        share = most(*cuts) if shape.kind in BOXES else sum(cuts)
        cut_share = sheet.find("Share of shear", "R_v", share, NUMBER, rounding="up")
    twist_share = None
    if sheet.value(carried.torque) > 0.0:
        twist = carried.torque / part.torsion(name="T_a")
        twist_share = sheet.find("Share of torsion", "R_t", twist, NUMBER, rounding="up")
    together(
        sheet, spot.basis, axial=axial, bending=tuple(bent), shear=cut_share, torsion=twist_share,
        engine=spot.utilization,
    )  # fmt: skip


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
    euler = pi**2 * e * second / length**2
    return growth(sheet, "Growth of the moment", f"B_{tail}", push=push, euler=euler, basis=spot.basis)


def _weld(book: Book, sheet: Sheet, spot: Spot, *, carried: Carried, shape: Shape, under: bool) -> None:
    """The joint at the end: two runs along the member, or all round it."""
    from sympy import Abs

    rig = spot.solution.rig
    whole = {name: np.asarray(sheet.value(getattr(carried, name))) for name in FIELDS}
    group, _, run, kind = weld_group(rig, EngineCarried(**whole), shape=shape, under=under)
    length = float(np.max(run))
    push = Abs(carried.pull)
    if kind == "two uprights":
        sheet.given("d_w", length, LENGTH, "length of either run along the member")
        sheet.given("b_w", shape.width, LENGTH, "between the two runs: the width of the member")
        half = sheet.given("d_m", shape.depth, LENGTH, "depth of the member") / 2
        sheet.note("Axes of the weld: across is along the box, along is along the member, out is square to the floor.")
        load = Loading(
            fx=carried.aside, fy=push, fz=carried.shear, mx=carried.end + half * push, my=carried.torque,
            mz=-carried.flat,
        )  # fmt: skip
    else:
        depth = shape.depth if kind == "ring" else length if length < shape.width else group_depth(rig, shape)
        sheet.given("d_w", depth, LENGTH, "diameter of the member" if kind == "ring" else "depth that is welded")
        if kind != "ring":
            sheet.given("b_w", shape.width, LENGTH, "width of the member")
        sheet.note("Axes of the weld: across is along the floor, along is square to it, out is along the member.")
        load = Loading(fx=carried.aside, fy=carried.shear, fz=push, mx=carried.end, my=carried.flat, mz=-carried.torque)
    flat = replace(group, **{name: np.ravel(getattr(group, name)) for name in ("x", "y")})
    demand = force_per_inch(sheet, flat, kind=kind, load=load, engine=spot.of(spot.check.demand))
    joints = [
        (name, replace(joint, leg=float(np.max(joint.leg)), length=length, thickness=float(np.max(joint.thickness))))
        for name, joint in weld_joints(rig, shape=shape, under=under, length=np.asarray(length))
    ]
    allowed = weld_allows(
        sheet, joints, basis=spot.basis, hand=str(rig.value("weld.hand")), engine=spot.of(spot.check.capacity)
    )
    book.use(sheet, spot, demand=demand, capacity=allowed)


def group_depth(rig: Rig, shape: Shape) -> float:
    """Depth over which an end is welded all round: no more than what it stands against."""
    return min(shape.depth, shapes.find(rig.value("rail.stiffener")).depth)


def _sag(book: Book, sheet: Sheet, spot: Spot, *, shape: Shape) -> None:
    """Sag between the rails under the loads as they are."""
    per_inch, people = floor_part(sheet, spot, still=True)
    across = between_rails(sheet, spot)
    stiff = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity") * sheet.given(
        "I_u", shape.ix, INERTIA, f"second moment of the member, {shape.name}"
    )
    bent = 5 * per_inch * across**4 / 384 + (0 if people is None else people * across**3 / 48)
    told = spot.of(spot.check.demand)
    demand = sheet.find("Sag at the middle", "w_d", bent / stiff, LENGTH, rounding="up", engine=told, clause=FLOOR)
    limit = sheet.given("c_s", MEMBER_SAG, NUMBER, "most sag is the span over this, a yardstick of our own")
    capacity = sheet.find(
        "Allowed sag", "w_a", across / limit, LENGTH, rounding="down", engine=spot.of(spot.check.capacity)
    )
    book.use(sheet, spot, demand=demand, capacity=capacity)

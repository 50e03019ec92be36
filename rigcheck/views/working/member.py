"""The governing cross-member or its end weld: under the floor, at the hangers, at the hinge."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.case.rig import Rig
from rigcheck.check.members import MEMBER_SAG, head_shape
from rigcheck.loads.steel import side_sheet
from rigcheck.strength.compression import ELASTIC_MODULUS
from rigcheck.strength.weld_lines import rectangle, ring
from rigcheck.strength.welds import Joint
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape
from rigcheck.views.working.allowed import Member, growth, together
from rigcheck.views.working.book import Book
from rigcheck.views.working.measures import INERTIA, LENGTH, NUMBER, STRESS
from rigcheck.views.working.member_loads import (
    FLOOR,
    Carried,
    at_the_hangers,
    at_the_hinge,
    between_rails,
    floor_part,
    of_the_floor,
    under_the_floor,
)
from rigcheck.views.working.pages import Section
from rigcheck.views.working.sheet import Sheet, Symbol
from rigcheck.views.working.spot import Spot
from rigcheck.views.working.weld_line import Loading, force_per_inch, weld_allows

PARTS = ("cross-member", "hanger cross-member", "head cross-member")
WELD = " end weld"
_GROW = "AISC 360-22 Appendix 8, Eq. (A-8-3) (memory)"
_ROUND = ("pipe", "round tube", "round bar")
_SOLID = ("bar", "round bar")


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
        carried = of_the_floor(sheet, spot)
    else:
        carried = (at_the_hangers if part == PARTS[1] else at_the_hinge)(book, sheet, spot, shape=shape)
    if spot.check.part.endswith(WELD):
        _weld(book, sheet, spot, carried=carried, shape=shape)
    else:
        _strength(book, sheet, spot, carried=carried, shape=shape)
    return book.section("cross-member", spot, sheet)


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
    use = together(sheet, axial=axial, bending=tuple(bent), shear=cut_share, basis=spot.basis)
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
            fy=steel.grade(metal).fy,
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
    there = ("bottom", "under") if under_the_floor(rig) else ("top", "cap")
    if rig.has("rail.stiffener") and str(rig.value("rail.at")) in there:
        return "wall of the stiffener", joint(
            shapes.find(rig.value("rail.stiffener")).t_design, str(rig.value("rail.steel"))
        )
    return "side wall", joint(float(side_sheet(rig)), str(rig.value("box.steel")))


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

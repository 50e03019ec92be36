"""A hinge of ears: the pin, an ear at its hole and at its root, its weld, and the tube under the ear of the box."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.analysis.items import EAR_WELDS, Item
from rigcheck.calculation.book import Book
from rigcheck.calculation.face import face_allows
from rigcheck.calculation.lug import MODES, root_allows
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import group_parts, group_thrust, pin_allows
from rigcheck.calculation.plate import plate_steps
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import DisagreementError, Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.weld_line import Loading, force_per_inch, weld_allows
from rigcheck.parts.hinge import ears
from rigcheck.parts.hinge.checks import head_stress
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.parts.lug.ways import LugWay
from rigcheck.quantities.measures import ANGLE, FORCE, LENGTH, MOMENT, NUMBER
from rigcheck.strength.connections import pins
from rigcheck.strength.connections.weld_lines import two_verticals
from rigcheck.tables import steel

_EARS = "docs/method.md#hinge-ears"
_OF: dict[Item | None, str] = {item: ear for ear, item in ears.PARTS.items()}
_WELDS: dict[Item | None, str] = {EAR_WELDS[item]: ear for ear, item in ears.PARTS.items()}
PARTS = (Item.EAR_PIN, Item.EAR_FACE, *_OF, *_WELDS)


@dataclass(frozen=True, slots=True)
class _Load:
    """What one ear carries: in its plane, of that along its weld and out of it, across it, and the lap."""

    force: Symbol
    along: Symbol
    out: Symbol
    aside: Symbol
    lap: Any


def ear_section(book: Book) -> Section:
    """What comes highest of a hinge of ears."""
    spot = book.spot(lambda check: check.item in PARTS)
    if spot is None:
        return book.missing("ear", "the hinge has no ears")
    sheet = book.sheet()
    work(book, sheet, spot, ear=_OF.get(spot.item) or _WELDS.get(spot.item) or ears.BOX)
    return book.section("ear", spot, sheet)


def work(book: Book, sheet: Sheet, spot: Spot, *, ear: str) -> None:
    """One ear, its weld, the pin, or the tube under it; of a center pivot an ear of the box alone.

    Args:
        book: The calculation.
        sheet: Where it is written.
        spot: What is worked.
        ear: Where the ear stands in the case.
    """
    load = _load(book, sheet, spot, ear=ear)
    if spot.check.way is None:
        _tube(sheet, spot, load)
    elif spot.check.way is LugWay.ROOT:
        _root(sheet, spot, load, ear=ear)
    else:
        pin = spot.check.way in (HingeWay.PIN_BENDING, HingeWay.PIN_SHEAR)
        make = _pin if pin else _weld if spot.check.way is LugWay.WELD else _plate
        demand, capacity = make(sheet, spot, load, ear)
        book.use(sheet, spot, demand=demand, capacity=capacity)


def _load(book: Book, sheet: Sheet, spot: Spot, *, ear: str) -> _Load:
    """The box's ear carries its side alone; the plant's too, or half of it where two hold one."""
    from sympy import Abs, cos, sin, sqrt

    rig = spot.solution.rig
    x, z = group_parts(book, sheet, spot)
    share: Any = 1
    if ear == ears.PLANT and ears.in_double_shear(rig):
        share = sheet.given("c_e", 0.5, NUMBER, "of it on one of the plant's two ears")
    force = sheet.find("Force on the ear", "F", share * sqrt(x**2 + z**2), FORCE, rounding="up", clause=_EARS)
    if ear == ears.PLANT:
        along, out = Abs(z), Abs(x)
    else:
        angle = sheet.once("a", spot.solution.pose.angle[spot.index], ANGLE, "floor above level")
        floor, square = Abs(x * cos(angle) + z * sin(angle)), Abs(z * cos(angle) - x * sin(angle))
        both = {"nose": (square, floor), None: (force, force)}
        along, out = both.get(rig.value("hinge.barrel_on"), (floor, square))
    along = sheet.find("Of that, along its weld", "F_a", share * along, FORCE, rounding="up", clause=_EARS)
    out = sheet.find("Square to what it is welded to", "F_o", share * out, FORCE, rounding="up", clause=_EARS)
    lap: Any = 0
    if not ears.in_double_shear(rig):
        lap = sheet.given("l_p", ears.lap_of(rig), LENGTH, "between the middles of the two ears side by side")
    return _Load(force, along, out, group_thrust(sheet, spot), lap)


def _pin(sheet: Sheet, spot: Spot, load: _Load, ear: str) -> tuple[Any, Symbol]:
    """Two planes: the middle of three plates. One: the whole couple of the lap."""
    rig, told = spot.solution.rig, spot.of(spot.check.demand)
    double = ears.in_double_shear(rig)
    if spot.check.way is HingeWay.PIN_SHEAR:
        planes = sheet.given("p", 2.0 if double else 1.0, NUMBER, "shear planes")
        words = "Shear of the pin on one plane"
        cut = sheet.find(words, "V_p", load.force / planes, FORCE, rounding="up", engine=told, clause=_EARS)
        return cut, pin_allows(sheet, spot, "shear", name="V_a", heading="Allowed shear on one plane", measure=FORCE)
    if double:
        run = Run(sheet)
        outer = run.given("t_o", rig.number(f"{ears.PLANT}.plate"), LENGTH, "ear of the plant")
        gap = run.given("g", rig.number("hinge.gap"), LENGTH, "clear gap between two ears")
        inner = run.given("t_i", rig.number(f"{ears.BOX}.plate"), LENGTH, "ear of the box")
        force = run.symbol(load.force)
        bent = run.tell(
            lambda: pins.pin_moment(force, outer=outer, gap=gap, inner=inner),
            "M_p", "Bending of the pin across the gaps", MOMENT, rounding="up", engine=told,
        )  # fmt: skip
    else:
        words, couple = "Bending of the pin by the couple of the lap", load.force * load.lap
        bent = sheet.find(words, "M_p", couple, MOMENT, rounding="up", engine=told, clause=_EARS)
    return bent, pin_allows(sheet, spot, "moment", name="M_a", heading="Allowed bending", measure=MOMENT)


def _plate(sheet: Sheet, spot: Spot, load: _Load, ear: str) -> tuple[Symbol, Symbol]:
    """The ear at its hole, toward the nearest edge or side."""
    mode = MODES[LugWay(spot.check.way)]
    engine = {mode: spot.of(spot.check.capacity)}
    plate = ears.ear_plate(spot.solution.rig, ear=ear)
    return load.force, plate_steps(sheet, plate, basis=spot.basis, engine=engine)[mode]


def _arm(sheet: Sheet, spot: Spot, *, ear: str) -> Symbol:
    return sheet.once("a_l", spot.solution.rig.number(f"{ear}.stand_off"), LENGTH, "weld to hole")


def _root(sheet: Sheet, spot: Spot, load: _Load, *, ear: str) -> None:
    """Thrust with its arm and the lap's couple bend it flat, the force along its weld bends it upright."""
    arm = _arm(sheet, spot, ear=ear)
    flat, upright, pulled = root_allows(sheet, spot.solution.rig, key=ear, arm=arm, basis=spot.basis)
    bent = (load.aside * arm + load.force * load.lap) / flat + load.along * arm / upright
    sheet.find(
        "Utilization, all three added", "U", bent + load.out / pulled, NUMBER, rounding="up", engine=spot.utilization,
        clause=spot.check.clause,
    )  # fmt: skip


def _weld(sheet: Sheet, spot: Spot, load: _Load, ear: str) -> tuple[Symbol, Symbol]:
    """Two runs along the faces of the plate, the lap twisting them either way."""
    rig, arm, told = spot.solution.rig, _arm(sheet, spot, ear=ear), spot.of(spot.check.demand)
    joints = ears.ear_joints(rig, ear=ear)
    thick, length = float(rig.number(f"{ear}.plate")), float(np.max(np.asarray(joints[0].length)))
    sheet.given("b_w", thick, LENGTH, "between the two runs: the plate")
    sheet.given("d_w", length, LENGTH, "length of either run")
    group = two_verticals(thick, depth=length)

    def force(page: Sheet, way: int) -> Symbol:
        loading = Loading(
            fx=load.aside, fy=load.along, fz=load.out, mx=-arm * load.along,
            my=arm * load.aside + load.lap * load.out, mz=way * load.lap * load.along,
        )  # fmt: skip
        return force_per_inch(page, group, kind="two uprights", load=loading, engine=told)

    way = 1
    try:
        force(sheet.scratch(), 1)
    except DisagreementError:
        way = -1
    demand = force(sheet, way)
    names = ("plate of the ear", "member at the hinge")
    allowed = weld_allows(
        sheet, list(zip(names, joints, strict=False)), basis=spot.basis, hand=str(rig.value("weld.hand")),
        engine=spot.of(spot.check.capacity),
    )  # fmt: skip
    return demand, allowed


def _tube(sheet: Sheet, spot: Spot, load: _Load) -> None:
    """The member under the box's ear: pulled, turned across the tube, and turned along it."""
    rig = spot.solution.rig
    metal = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    stressed = np.asarray(spot.of(head_stress(spot.solution)) * spot.basis.yielding / metal.fy)
    face, foot = ears.ear_on_face(rig, stressed=stressed)
    pull, along, across = face_allows(sheet, face, foot, basis=spot.basis)
    arm = _arm(sheet, spot, ear=ears.BOX)
    turned = load.along * arm / across + (load.aside * arm + load.force * load.lap) / along
    sheet.find(
        "Utilization, pull and both moments added", "U", load.out / pull + turned, NUMBER, rounding="up",
        engine=spot.utilization, clause=spot.check.clause,
    )  # fmt: skip

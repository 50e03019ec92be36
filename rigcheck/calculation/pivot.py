"""A center pivot: the bar between two ears, an ear at its hole and root, the lug of the plant, welds and the tube."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.post_model import lug_run
from rigcheck.calculation import ear as of_ear
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug import MODES, root_allows
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import bar_thrust, both_ears, pin_allows
from rigcheck.calculation.plate import plate_steps
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import DisagreementError, Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.weld_line import Loading, force_per_inch, weld_allows
from rigcheck.parts.hinge import ears
from rigcheck.parts.hinge.pivot import EDGE
from rigcheck.parts.hinge.ways import HingeWay
from rigcheck.parts.lug.ways import LugWay
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER
from rigcheck.strength.connections.lugs import plate_torsion
from rigcheck.strength.connections.weld_lines import two_verticals

_PIVOT = "docs/method.md#center-pivot"
OF_EAR = (Item.PIVOT_EAR, Item.PIVOT_EAR_WELD, Item.PIVOT_EAR_FACE)
PARTS = (Item.PIVOT_BAR, *OF_EAR, Item.PIVOT_LUG, Item.PIVOT_LUG_WELD)


@dataclass(frozen=True, slots=True)
class _Lug:
    """What the plant's lug carries: forces, the thrust of the bar and the couples of its two ears."""

    force: Symbol
    x: Any
    z: Any
    aside: Any
    yaw: Symbol
    roll: Symbol


def pivot_section(book: Book) -> Section:
    """What comes highest of a center pivot."""
    spot = book.spot(lambda check: check.item in PARTS)
    if spot is None:
        return book.missing("pivot", "the hinge is no center pivot")
    sheet = book.sheet()
    if spot.item in OF_EAR:
        of_ear.work(book, sheet, spot, ear=ears.BOX)
    elif spot.item is Item.PIVOT_BAR:
        demand, capacity = _bar(book, sheet, spot)
        book.use(sheet, spot, demand=demand, capacity=capacity)
    else:
        _of_lug(book, sheet, spot)
    return book.section("pivot", spot, sheet)


def _bar(book: Book, sheet: Sheet, spot: Spot) -> tuple[Symbol, Symbol]:
    """Between the middle of an ear and a quarter of the lug inside its middle."""
    from sympy import sqrt

    rig, told = spot.solution.rig, spot.of(spot.check.demand)
    x, z = both_ears(book, sheet, spot)[spot.side]
    force = sheet.find("Force of the ear", "F", sqrt(x**2 + z**2), FORCE, rounding="up", clause=_PIVOT)
    if spot.check.way is HingeWay.PIN_SHEAR:
        cut = sheet.find("Shear of the bar", "V_p", force, FORCE, rounding="up", engine=told, clause=_PIVOT)
        return cut, pin_allows(sheet, spot, "shear", name="V_a", heading="Allowed shear on one plane", measure=FORCE)
    c = sheet.once("c", spot.solution.layout.hinge_spacing, LENGTH, "between the two ears")
    inside: Any = 0
    if rig.value(ears.PLANT) is not None:
        inside = sheet.given("t_l", rig.number(f"{ears.PLANT}.plate"), LENGTH, "thickness of the lug")
    bent = sheet.find(
        "Bending of the bar", "M_p", force * (c / 2 - inside / 4), MOMENT, rounding="up", engine=told, clause=_PIVOT
    )
    return bent, pin_allows(sheet, spot, "moment", name="M_a", heading="Allowed bending", measure=MOMENT)


def _on_lug(book: Book, sheet: Sheet, spot: Spot) -> _Lug:
    """Both ears added; what they carry unlike is a couple over half of their distance."""
    from sympy import Abs, sqrt

    (x_l, z_l), (x_r, z_r) = both_ears(book, sheet, spot)
    c = sheet.once("c", spot.solution.layout.hinge_spacing, LENGTH, "between the two ears")
    x, z = Abs(x_l + x_r), Abs(z_l + z_r)
    force = sheet.find("Force on the lug", "F", sqrt(x**2 + z**2), FORCE, rounding="up", clause=_PIVOT)
    yaw, roll = Abs(x_l - x_r) * c / 2, Abs(z_l - z_r) * c / 2
    return _Lug(
        force, x, z, bar_thrust(sheet, spot),
        sheet.find("Couple of the ears about the upright axis", "C_z", yaw, MOMENT, rounding="up", clause=_PIVOT),
        sheet.find("Couple about the level axis along", "C_x", roll, MOMENT, rounding="up", clause=_PIVOT),
    )  # fmt: skip


def _of_lug(book: Book, sheet: Sheet, spot: Spot) -> None:
    on = _on_lug(book, sheet, spot)
    if spot.check.way is HingeWay.ROOT_TWISTED:
        _root(sheet, spot, on)
        return
    make = _weld if spot.item is Item.PIVOT_LUG_WELD else _hole
    demand, capacity = make(sheet, spot, on)
    book.use(sheet, spot, demand=demand, capacity=capacity)


def _hole(sheet: Sheet, spot: Spot, on: _Lug) -> tuple[Symbol, Symbol]:
    """The lug at its hole, the pressure of the couples at its edge on top."""
    from sympy import sqrt

    mode, rig = MODES[LugWay(spot.check.way)], spot.solution.rig
    thick = sheet.given("t_l", rig.number(f"{ears.PLANT}.plate"), LENGTH, "thickness of the lug")
    pressed = sheet.find(
        "Force at the hole with the pressure at its edge", "F_p",
        on.force + EDGE * sqrt(on.yaw**2 + on.roll**2) / thick, FORCE, rounding="up",
        engine=spot.of(spot.check.demand), clause=_PIVOT,
    )  # fmt: skip
    plate = ears.ear_plate(rig, ear=ears.PLANT)
    return pressed, plate_steps(sheet, plate, basis=spot.basis, engine={mode: spot.of(spot.check.capacity)})[mode]


def _root(sheet: Sheet, spot: Spot, on: _Lug) -> None:
    """Thrust with its arm and the yaw couple bend it flat, Z bends it upright, X pulls, the roll couple twists it."""
    rig = spot.solution.rig
    arm = sheet.once("a_l", rig.number(f"{ears.PLANT}.stand_off"), LENGTH, "weld to hole")
    flat, upright, pulled = root_allows(sheet, rig, key=ears.PLANT, arm=arm, basis=spot.basis)
    run, metal = Run(sheet), ears.plate_steel(rig, ears.PLANT)
    thick, root = rig.number(f"{ears.PLANT}.plate"), lug_run(rig, key=ears.PLANT)
    twisted = run.tell(
        lambda: plate_torsion(thick, width=root, fy=metal.fy, basis=spot.basis),
        "T_a", "Allowed torsion at the weld root", MOMENT, rounding="down",
    )  # fmt: skip
    bent = (on.aside * arm + on.yaw) / flat + on.z * arm / upright + on.x / pulled + on.roll / twisted
    sheet.find("Utilization, all four added", "U", bent, NUMBER, rounding="up", engine=spot.utilization,
               clause=spot.check.clause)  # fmt: skip


def _weld(sheet: Sheet, spot: Spot, on: _Lug) -> tuple[Symbol, Symbol]:
    """Two runs along the faces of the lug, the roll couple twisting them either way."""
    rig, told = spot.solution.rig, spot.of(spot.check.demand)
    arm = sheet.once("a_l", rig.number(f"{ears.PLANT}.stand_off"), LENGTH, "weld to hole")
    joints = ears.ear_joints(rig, ear=ears.PLANT)
    thick, length = float(rig.number(f"{ears.PLANT}.plate")), float(np.max(np.asarray(joints[0].length)))
    sheet.given("b_w", thick, LENGTH, "between the two runs: the lug")
    sheet.given("d_w", length, LENGTH, "length of either run")
    group = two_verticals(thick, depth=length)

    def force(page: Sheet, way: int) -> Symbol:
        loading = Loading(fx=on.aside, fy=on.z, fz=on.x, mx=-arm * on.z, my=arm * on.aside + on.yaw, mz=way * on.roll)
        return force_per_inch(page, group, kind="two uprights", load=loading, engine=told)

    way = 1
    try:
        force(sheet.scratch(), 1)
    except DisagreementError:
        way = -1
    demand = force(sheet, way)
    allowed = weld_allows(
        sheet, [("plate of the lug", joints[0])], basis=spot.basis, hand=str(rig.value("weld.hand")),
        engine=spot.of(spot.check.capacity),
    )  # fmt: skip
    return demand, allowed

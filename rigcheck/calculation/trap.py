"""The governing trap as a member across the floor, its end weld, or the seams of one that is closed."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np

from rigcheck.analysis.across import trough_of
from rigcheck.calculation.allowed import together
from rigcheck.calculation.book import Book
from rigcheck.calculation.floor_load import people_on, pressure_on, tilt
from rigcheck.calculation.member_loads import torque_of
from rigcheck.calculation.pages import Section
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.weld_line import Loading, force_per_inch, weld_allows
from rigcheck.loads.traps import Trap, traps
from rigcheck.parts.trap.checks import between_rails, carries, end_runs, floor_beside, own_weight, weld_joints
from rigcheck.parts.trap.ways import TrapWay
from rigcheck.quantities.measures import AREA, FORCE, INERTIA, LENGTH, MODULUS, MOMENT, NUMBER, PER_LENGTH, STRESS
from rigcheck.strength.members.trough import Trough, allowed
from rigcheck.tables import steel

WAYS = tuple(TrapWay)
"""Ways that this section works."""
_TRAP = "docs/method.md#traps-and-gates"
_SYMBOLS = {
    "modulus": ("S_t", MODULUS, "least elastic modulus of the trap, level axis"),
    "sheared": ("A_v", AREA, "area that stands its shear at even stress"),
    "constant": ("J_t", INERTIA, "torsion constant of the trap"),
    "twisted": ("C_t", MODULUS, "torque over its largest shear stress"),
    "buckling": ("F_b", STRESS, "stress at which its wall buckles"),
    "ratio": ("lambda_t", NUMBER, "flat width over thickness of its walls"),
}


def trap_section(book: Book) -> Section:
    """The trap, its end weld or its seams with the highest use."""
    spot = book.spot(lambda check: check.way in WAYS, road=False)
    if spot is None:
        return book.missing("trap", "the case describes no trap below the floor, or not what lies beside it")
    sheet, one = book.sheet(), _trap_of(spot)
    moment, shear = _carried(sheet, spot, one)
    torque = torque_of(sheet, spot, carries(spot.whole, one).torque)
    if spot.check.way is TrapWay.MEMBER:
        _strength(sheet, spot, one, carried=(moment, shear, torque))
    else:
        _weld(book, sheet, spot, one, shear=shear, torque=torque)
    return book.section("trap", spot, sheet)


def _trap_of(spot: Spot) -> Trap:
    return next(one for one in traps(spot.whole.rig) if one.key == spot.check.key)


def _carried(sheet: Sheet, spot: Spot, one: Trap) -> tuple[Symbol, Symbol]:
    """Moment in the middle and shear at the end of a simple beam between the rails."""
    from sympy import Abs, cos, sin

    whole, i = spot.whole, spot.index
    a, own = tilt(sheet, spot), own_weight(whole, one)
    g_x, _, g_z = (float(value) for value in spot.row.gravity)
    x = sheet.once("g_x", g_x, NUMBER, "acceleration over gravity, downstream")
    z = sheet.once("g_z", g_z, NUMBER, "acceleration over gravity, upward")
    square = sheet.find("Of each pound, square to the floor", "k_t", Abs(x * sin(a) - z * cos(a)), NUMBER)
    standing = sheet.given("W_c", own.standing[i], FORCE, "what stands in the trap")
    gain = sheet.given("f_c", own.standing_gain[i], NUMBER, "its dynamic factor")
    metal = sheet.given("W_t", own.metal[i], FORCE, "the trap, its ends and its cover")
    factor = sheet.given("f_t", own.metal_gain[i], NUMBER, "its dynamic factor, the most in this state")
    weight = sheet.find("Trap and what stands in it", "W_s", square * (standing * gain + metal * factor), FORCE,
                        rounding="up", clause=_TRAP)  # fmt: skip
    across = sheet.given("b_t", between_rails(whole, one), LENGTH, "between the rails at the trap")
    reach = sheet.given("r_t", floor_beside(whole, one), LENGTH, "length of the floor that presses on the trap")
    beside = sheet.find("Floor beside it", "W_f", pressure_on(sheet, spot) * reach * across, FORCE, rounding="up",
                        clause=_TRAP)  # fmt: skip
    people = people_on(sheet, spot)
    moment, shear = (weight + beside) * across / 8, (weight + beside) / 2
    if people is not None:
        moment, shear = moment + people * across / 4, shear + people
    found = carries(whole, one)
    return (
        sheet.find("Moment at its middle", "M_t", moment, MOMENT, rounding="up", engine=spot.of(found.moment),
                   clause=_TRAP),
        sheet.find("Shear at its end", "V_t", shear, FORCE, rounding="up", engine=spot.of(found.shear), clause=_TRAP),
    )  # fmt: skip


def _strength(sheet: Sheet, spot: Spot, one: Trap, *, carried: tuple[Symbol, Symbol, Any]) -> None:
    """Shares of bending, shear and torsion, and all of them together."""
    rig, run = spot.whole.rig, Run(sheet)
    metal = steel.grade(str(rig.value(f"{one.key}.steel")))
    trough = run.record(Trough, trough_of(rig, one), symbols=_SYMBOLS)
    fy = run.given("F_y", metal.fy, STRESS, f"yield stress of the trap, {metal.key}")
    holds, basis = partial(allowed, trough, fy=fy, basis=run.basis(spot.basis)), spot.basis
    moment, shear, torque = carried
    bend = run.tell(lambda: holds().moment, "M_a", "Allowed bending", MOMENT, tail="m")
    cut = run.tell(lambda: holds().shear, "V_a", "Allowed shear", FORCE, tail="v")
    bending = sheet.find("Share of bending", "R_u", moment / bend, NUMBER, rounding="up")
    shearing = sheet.find("Share of shear", "R_v", shear / cut, NUMBER, rounding="up")
    torsion = None
    if sheet.value(torque) > 0.0:
        held = run.tell(lambda: holds().torsion, "T_a", "Allowed torsion", MOMENT, tail="t")
        torsion = sheet.find("Share of torsion", "R_t", torque / held, NUMBER, rounding="up")
    together(sheet, basis, axial=None, bending=(bending,), shear=shearing, torsion=torsion, engine=spot.utilization)


def _weld(book: Book, sheet: Sheet, spot: Spot, one: Trap, *, shear: Symbol, torque: Any) -> None:
    """Two runs at an end, or the seams of a closed cell."""
    rig = spot.whole.rig
    if spot.check.way is TrapWay.SEAM:
        cell = sheet.given("A_m", trough_of(rig, one).cell, AREA, "area of the cell, to the middles of its walls")
        demand = sheet.find("Shear flow of the cell", "q_t", torque / (2 * cell), PER_LENGTH, rounding="up",
                            engine=spot.of(spot.check.demand), clause=_TRAP)  # fmt: skip
    else:
        group = end_runs(rig, one)
        sheet.given("d_w", rig.number(f"{one.key}.weld_length"), LENGTH, "length of either run from the side inward")
        sheet.given("b_w", one.opening + one.wall, LENGTH, "between the two runs: the slot and a wall")
        sheet.note("Axes of the weld: across is along the box, along is along the trap, out is square to the floor.")
        flat = replace(group, **{name: np.ravel(getattr(group, name)) for name in ("x", "y")})
        demand = force_per_inch(
            sheet, flat, kind="two uprights", load=Loading(fz=shear, my=torque), engine=spot.of(spot.check.demand)
        )
    joints = [
        (name, replace(joint, **{key: float(np.max(getattr(joint, key))) for key in ("leg", "length", "thickness")}))
        for name, joint in weld_joints(rig, one)
    ]
    holds = weld_allows(sheet, joints, basis=spot.basis, hand=str(rig.value("weld.hand")),
                        engine=spot.of(spot.check.capacity), below="t")  # fmt: skip
    book.use(sheet, spot, demand=demand, capacity=holds)

"""The governing lug: all ways it can fail at its hole, bending both ways at its root."""

from __future__ import annotations

from typing import Any

from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import arm_of, in_lug_axes, pull_on
from rigcheck.calculation.measures import FORCE, LENGTH, MODULUS, MOMENT, NUMBER, STRESS
from rigcheck.calculation.pages import Section
from rigcheck.calculation.plate import Plate, plate_steps
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.lug.checks import lug_pin, lug_pull
from rigcheck.strength.connections.lugs import flat_plate_moment, upright_plate_moment
from rigcheck.tables import steel

_MODES = {
    "tension beside the hole": "tension",
    "splitting beyond the hole": "splitting",
    "tear-out on two planes": "shear",
    "bearing on the pin": "bearing",
}
ENDS = ("hanger", "perch")


def lug_section(book: Book) -> Section:
    """The lug with the highest use."""

    def lug(check: Check) -> bool:
        return check.part in {f"{end} lug" for end in ENDS}

    spot = book.spot(lug)
    if spot is None:
        return book.missing("lug", "the case does not describe the lugs")
    end = spot.check.part.partition(" ")[0]
    sheet = book.sheet()
    pull = pull_on(book, sheet, spot, end=end)
    mode = next((found for words, found in _MODES.items() if spot.check.mode.startswith(words)), None)
    if mode is None:
        _bending(book, sheet, spot, end=end, pull=pull)
    else:
        allowed = _in_its_plane(sheet, spot, end=end)
        for other in ("tension", "splitting", "shear", "bearing"):
            if other != mode and sheet.value(allowed[other]) > 0.0:
                sheet.find(f"Use, {other}", f"U_{other[0]}{other[1]}", pull / allowed[other], NUMBER, rounding="up")
        book.use(sheet, spot, demand=pull, capacity=allowed[mode], heading=f"Use, {mode}, which governs")
    return book.section("lug", spot, sheet)


def _in_its_plane(sheet: Sheet, spot: Spot, *, end: str) -> dict[str, Symbol]:
    """What the plate allows, mode by mode, toward the stated edge or toward the nearer of edge and side."""
    rig = spot.solution.rig
    metal = steel.grade(str(rig.value(f"{end}.lug.steel")))
    edge, width, hole = (float(rig.number(f"{end}.lug.{key}")) for key in ("edge", "width", "hole"))
    pin = lug_pin(rig, end=end)
    if pin is None:
        raise LookupError(f"{end} lug: pin not known")

    def plate(reach: float, across: float) -> Plate:
        return Plate(
            thickness=float(rig.number(f"{end}.lug.plate")),
            width=across,
            edge=reach,
            hole=hole,
            pin=min(float(pin), hole),
            edge_radius=0.0,
            fy=metal.fy,
            fu=metal.fu,
        )

    mode = next(found for words, found in _MODES.items() if spot.check.mode.startswith(words))
    engine = {mode: spot.of(spot.check.capacity)}
    swung = bool(lug_pull(spot.solution, end=end).swung[spot.index])
    straight, aside = plate(edge, width), plate(min(edge, 0.5 * width), min(width, 2.0 * edge))
    if not swung:
        return plate_steps(sheet, straight, basis=spot.basis, engine=engine)
    sheet.note("The pull has swung over 30 deg from the deployed one: the nearer of edge and side counts.")
    if aside == straight:
        return plate_steps(sheet, straight, basis=spot.basis, engine=engine)
    return plate_steps(sheet, aside, basis=spot.basis, engine=engine)


def _bending(book: Book, sheet: Sheet, spot: Spot, *, end: str, pull: Symbol) -> None:
    """Bending across the plate and in its plane, and pull out of its weld, shares added."""
    from sympy import Abs

    rig, basis = spot.solution.rig, spot.basis
    axes = in_lug_axes(sheet, spot, end=end, pull=pull)
    arm = arm_of(sheet, spot, end=end)
    metal = steel.grade(str(rig.value(f"{end}.lug.steel")))
    thick, root = float(rig.number(f"{end}.lug.plate")), float(lug_run(rig, key=f"{end}.lug"))
    t = sheet.given("t", thick, LENGTH, "thickness of the plate")
    w = sheet.given("w", root, LENGTH, "plate at its root, the lesser of its foot and its weld")
    fy = sheet.given("F_y", metal.fy, STRESS, f"yield stress, {metal.key}")
    divisor = sheet.given("Omega_y", basis.yielding, NUMBER, "divisor for yielding")
    limit = sheet.given("c_m", min(1.5, basis.solid_limit), NUMBER, "most moment over the yield moment on this basis")
    flat = sheet.find("Elastic modulus on the flat", "S_f", w * t**2 / 6, MODULUS)
    upright = sheet.find("Elastic modulus in its plane", "S_u", t * w**2 / 6, MODULUS)
    arm_value = sheet.value(arm)
    allowed = (
        _moment(
            sheet,
            "across the plate",
            "M_f",
            limit * fy * flat / divisor,
            float(flat_plate_moment(thick, width=root, fy=metal.fy, basis=basis)),
        ),
        _moment(
            sheet,
            "in its plane, rolling over counted",
            "M_u",
            limit * fy * upright / divisor,
            float(upright_plate_moment(thick, depth=root, fy=metal.fy, basis=basis, length=arm_value)),
        ),
    )
    stretched = sheet.find(
        "Allowed pull out of the weld",
        "P_r",
        t * w * fy / divisor,
        FORCE,
        rounding="down",
        clause="AISC 360-22 D2 (seen); ASME BTH-1 3-2.1 (memory)",
    )
    bent = axes.aside * arm / allowed[0] + Abs(axes.along) * arm / allowed[1]
    use = axes.pull * (bent + Abs(axes.out) / stretched)
    sheet.find(
        "Use, all three added", "U", use, NUMBER, rounding="up", engine=spot.utilization, clause=spot.check.clause
    )


def _moment(sheet: Sheet, words: str, name: str, expression: Any, told: float) -> Symbol:
    """An allowable moment: by the plain formula where it is that, else the number of the clause."""
    clause = "AISC 360-22 F11 (memory); ASME BTH-1 3-2.3 (memory)"
    if abs(sheet.value(expression) - told) <= 1e-9 * told:
        return sheet.find(
            f"Allowed bending {words}", name, expression, MOMENT, rounding="down", engine=told, clause=clause
        )
    return sheet.given(name, told, MOMENT, f"allowed bending {words}, {clause}: less than the yield moment gives")

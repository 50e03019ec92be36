"""The governing lug: all ways it can fail at its hole, bending both ways at its root."""

from __future__ import annotations

from functools import partial

from rigcheck.analysis.items import LUGS, Item
from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import arm_of, in_lug_axes, pull_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.plate import plate_steps
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.case.rig import Rig
from rigcheck.parts.lug.checks import lug_plates, lug_pull
from rigcheck.parts.lug.ways import LugWay
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER, STRESS
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.lugs import flat_plate_moment, root_tension, upright_plate_moment
from rigcheck.tables import steel

MODES = {
    LugWay.TENSION: "tension",
    LugWay.SPLITTING: "splitting",
    LugWay.SHEAR: "shear",
    LugWay.BEARING: "bearing",
}
ENDS: dict[Item | None, str] = {item: end for end, item in LUGS.items()}
"""End of the line that each lug is at."""


def lug_section(book: Book) -> Section:
    """The lug with the highest use."""

    def lug(check: Check) -> bool:
        return check.item in ENDS

    spot = book.spot(lug)
    if spot is None:
        return book.missing("lug", "the case does not describe the lugs")
    end = ENDS[spot.item]
    sheet = book.sheet()
    pull = pull_on(book, sheet, spot, end=end)
    mode = None if spot.check.way is LugWay.ROOT else MODES[LugWay(spot.check.way)]
    if mode is None:
        _bending(book, sheet, spot, end=end, pull=pull)
    else:
        allowed = _in_its_plane(sheet, spot, end=end, mode=mode)
        words = {found: way.value for way, found in MODES.items()}
        for other in ("tension", "splitting", "shear", "bearing"):
            if other != mode and sheet.value(allowed[other]) > 0.0:
                share = pull / allowed[other]
                sheet.find(f"Utilization, {words[other]}", f"U_{other[0]}{other[1]}", share, NUMBER, rounding="up")
        book.use(sheet, spot, demand=pull, capacity=allowed[mode], heading=f"Utilization, {words[mode]}, which governs")
    return book.section("lug", spot, sheet)


def _in_its_plane(sheet: Sheet, spot: Spot, *, end: str, mode: str) -> dict[str, Symbol]:
    """What the plate allows, mode by mode, toward the stated edge or toward the nearer of edge and side."""
    plates = lug_plates(spot.solution.rig, end=end)
    if plates is None:
        raise LookupError(f"{end} lug: pin not known")
    swung = bool(lug_pull(spot.solution, end=end).swung[spot.index])
    if swung:
        sheet.note("The pull has swung over 30 deg from the deployed one: the nearer of edge and side counts.")
    return plate_steps(sheet, plates[swung], basis=spot.basis, engine={mode: spot.of(spot.check.capacity)})


def _bending(book: Book, sheet: Sheet, spot: Spot, *, end: str, pull: Symbol) -> None:
    """Bending across the plate and in its plane, and pull out of its weld, shares added."""
    from sympy import Abs

    rig, basis = spot.solution.rig, spot.basis
    axes = in_lug_axes(sheet, spot, end=end, pull=pull)
    arm = arm_of(sheet, spot, end=end)
    flat, upright, stretched = root_allows(sheet, rig, key=f"{end}.lug", arm=arm, basis=basis)
    bent = axes.aside * arm / flat + Abs(axes.along) * arm / upright
    use = axes.pull * (bent + Abs(axes.out) / stretched)
    sheet.find(
        "Utilization, all three added",
        "U",
        use,
        NUMBER,
        rounding="up",
        engine=spot.utilization,
        clause=spot.check.clause,
    )


def root_allows(sheet: Sheet, rig: Rig, *, key: str, arm: Symbol, basis: Basis) -> tuple[Symbol, Symbol, Symbol]:
    """What the root of a plate allows: bent flat, bent in its plane, and pulled out."""
    metal = steel.grade(str(rig.value(f"{key}.steel")))
    thick, root = float(rig.number(f"{key}.plate")), float(lug_run(rig, key=key))
    run = Run(sheet)
    t = run.given("t", thick, LENGTH, "thickness of the plate")
    w = run.given("w", root, LENGTH, "plate at its root, the lesser of its foot and its weld")
    fy, told = run.given("F_y", metal.fy, STRESS, f"yield stress, {metal.key}"), run.basis(basis)
    flat = partial(flat_plate_moment, t, width=w, fy=fy, basis=told)
    upright = partial(upright_plate_moment, t, depth=w, fy=fy, basis=told, length=run.symbol(arm))
    pulled = partial(root_tension, t, width=w, fy=fy, basis=told)
    return (
        run.tell(flat, "M_f", "Allowed bending across the plate", MOMENT, tail="f"),
        run.tell(upright, "M_u", "Allowed bending in its plane, rolling over counted", MOMENT, tail="u"),
        run.tell(pulled, "P_r", "Allowed pull out of the weld", FORCE),
    )

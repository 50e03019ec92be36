"""Bare sheet under a hanger lug or under hinge barrels: how far it bends by its yield lines, as the check runs it."""

from __future__ import annotations

from typing import Any

from rigcheck.analysis.post_model import lug_run
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import box_axes, pull_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import on_one_barrel
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import AGREE, DisagreementError, Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.sizes import side_sheet
from rigcheck.parts.face.sheet import ROAD_STRESS, barrel_arm, box_yield, wall_arms, wall_stress
from rigcheck.parts.face.ways import SheetWay
from rigcheck.quantities.measures import FORCE, LENGTH, NUMBER, STRESS
from rigcheck.strength.connections.sheets import floor_under_barrel, sheet_carries, wall_under_lug

_SPENT = (
    "Its own stress along its plane is as much as its yield stress or more: nothing of it is left to bend, and the"
    " utilization has no number."
)
_SHEET = "docs/method.md#bare-sheet"


def bare_sheet_section(book: Book, spot: Spot) -> Section:
    """The sheet with the highest use."""
    sheet = book.sheet()
    if spot.check.way is SheetWay.UNDER_LUG:
        _under_lug(book, sheet, spot)
    else:
        _under_barrels(book, sheet, spot)
    return book.section("face", spot, sheet)


def _carries(sheet: Sheet, spot: Spot, *, thick: float, words: str, stressed: float) -> Symbol:
    """What an inch of sheet may carry in bending."""
    run, basis = Run(sheet), Run(sheet).basis(spot.basis)
    t = run.given("t", thick, LENGTH, words)
    fy = run.given("F_y", box_yield(spot.solution.rig), STRESS, "yield stress of the box's sheet")
    own = run.given("U_s", stressed, NUMBER, "its own stress along its plane over its yield stress")
    return run.tell(lambda: sheet_carries(t, fy=fy, stressed=own, basis=basis), "m_a", "An inch of it may carry", FORCE)


def _under_lug(book: Book, sheet: Sheet, spot: Spot) -> None:
    """The side wall as a cantilever off the floor."""
    from sympy import Abs

    solution, rig = spot.solution, spot.solution.rig
    pull = pull_on(book, sheet, spot, end="hanger")
    along, out, across = box_axes(sheet, spot)
    up, aside = (float(one) for one in wall_arms(solution))
    n = sheet.once("n_H", solution.layout.hanger_n, LENGTH, "hanger above the floor")
    e = sheet.given("e_w", aside, LENGTH, "from the middle of the wall to the hole")
    bends = sheet.find("Arm of a pound of the pull about the foot of the wall", "r_b", Abs(across) * n + Abs(out) * e,
                       LENGTH, clause=_SHEET)  # fmt: skip
    turns = sheet.find("Arm of a pound of the pull about the height of the wall", "r_t", Abs(along) * e, LENGTH,
                       clause=_SHEET)  # fmt: skip
    thick, stressed = float(side_sheet(rig)), spot.of(wall_stress(solution))
    moment = _carries(sheet, spot, thick=thick, words="side wall", stressed=stressed)
    along_wall = lug_run(rig, key="hanger.lug")
    if sheet.value(moment) <= 0.0:
        use = wall_under_lug(sheet.value(pull), moment=0.0, foot=along_wall, height=up, bends=sheet.value(bends),
                             turns=sheet.value(turns))  # fmt: skip
        _spent(sheet, spot, use=float(use), stressed=stressed)
        return
    run = Run(sheet)
    foot = run.given("l_f", along_wall, LENGTH, "foot of the lug along the wall")
    height = run.given("a_w", up, LENGTH, "hole above the floor, at most the height of the wall")
    numbers: dict[str, Any] = {"moment": moment, "bends": bends, "turns": turns}
    traced = {name: run.symbol(one) for name, one in numbers.items()}
    pulled = run.symbol(pull)
    run.tell(
        lambda: wall_under_lug(pulled, foot=foot, height=height, **traced), "U", "Utilization, both added", NUMBER,
        rounding="up", engine=spot.utilization,
    )  # fmt: skip


def _spent(sheet: Sheet, spot: Spot, *, use: float, stressed: float) -> None:
    """Say that the wall has nothing left to bend with, where the check says so too.

    Raises:
        DisagreementError: The check has another utilization.
    """
    if abs(use - spot.utilization) > AGREE * max(abs(use), abs(spot.utilization)):
        raise DisagreementError(f"{spot.title}: {use:.10g} by its steps, {spot.utilization:.10g} in the check")
    sheet.given("U_s", stressed, NUMBER, "its own stress along its plane over its yield stress")
    sheet.equations("Nothing is allowed on it: over under any pull", (), note=_SPENT, clause=_SHEET)


def _under_barrels(book: Book, sheet: Sheet, spot: Spot) -> None:
    """The free edge of the floor sheet under one barrel."""
    from sympy import Abs

    rig = spot.solution.rig
    floor, square = on_one_barrel(book, sheet, spot)
    moment = _carries(sheet, spot, thick=float(rig.number("box.sheet")), words="floor sheet", stressed=ROAD_STRESS)
    size_along = sheet.find("Its size, along the floor", "F_1", Abs(floor), FORCE, rounding="up")
    size_square = sheet.find("Its size, square to it", "F_2", Abs(square), FORCE, rounding="up")
    run = Run(sheet)
    along, push, carries = (run.symbol(one) for one in (size_along, size_square, moment))
    length = run.given("l_b", rig.number("hinge.barrel_length"), LENGTH, "length of the barrel")
    arm = run.given("r_p", barrel_arm(rig), LENGTH, "height of the pin over the sheet, at least half its diameter")
    run.tell(
        lambda: floor_under_barrel(push, along=along, moment=carries, length=length, arm=arm), "U",
        "Utilization, both added", NUMBER, rounding="up", engine=spot.utilization,
    )  # fmt: skip

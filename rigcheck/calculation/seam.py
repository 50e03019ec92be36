"""Seams of the rail: shear flow, the pull of the hanger or of the floor, and what the weld allows."""

from __future__ import annotations

from typing import Any

from rigcheck.analysis.items import Item
from rigcheck.analysis.rail_section import rail_pieces
from rigcheck.calculation.book import Book
from rigcheck.calculation.floor_load import pressure_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.rail_hanger import directions
from rigcheck.calculation.rail_strength import Work, largest_shear
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Symbol
from rigcheck.calculation.weld_line import weld_allows
from rigcheck.loads.steel import side_sheet
from rigcheck.parts.rail import seams
from rigcheck.parts.rail.side_walls import wall_push
from rigcheck.quantities.measures import AREA, FORCE, INERTIA, LENGTH, MODULUS, NUMBER, PER_LENGTH

PARTS: dict[Item | None, str] = {item: key for key, item in seams.NAMES.items()}
_SIDES = {seams.WALL: ("side wall", "stiffener"), seams.FLOOR: ("side wall", "floor")}
_SEAM = "docs/method.md#seams"


def seam_section(book: Book) -> Section:
    """The seam with the highest use."""
    spot = book.spot(lambda check: check.item in PARTS, road=False)
    if spot is None:
        return book.missing("seam", "no seam of the rail is described")
    sheet, key, rig = book.sheet(), PARTS[spot.item], spot.solution.rig
    work = Work(book, sheet, spot, book.whole_box(sheet, spot))
    flow = _flow(work, key)
    across: Any = _lifted(work) if key == seams.WALL else _pulled(work)
    along = flow if key == seams.FLOOR or not seams.lug_on_stiffener(rig) else _passed_on(work, flow)
    demand = _per_inch(work, key, along, across)
    allowed = weld_allows(
        sheet,
        list(zip(_SIDES[key], seams.seam_joints(rig, key=key), strict=True)),
        basis=spot.basis,
        hand=str(rig.value("weld.hand")),
        engine=spot.of(spot.check.capacity),
    )
    book.use(sheet, spot, demand=demand, capacity=allowed)
    return book.section("seam", spot, sheet)


def _flow(work: Work, key: str) -> Symbol:
    """Shear flow of the rail along the seam."""
    sheet, (moment, inertia) = work.sheet, seams.seam_section(work.spot.solution.rig, key=key)
    shear: Any = 0 * work.tension
    if work.bends:
        shear = largest_shear(work)
    words = "first moment of what lies beyond the seam, about the neutral axis"
    beyond = sheet.given("Q_q", abs(float(moment)), MODULUS, words)
    whole = sheet.given("I_q", inertia, INERTIA, "second moment of the rail that the seam holds together")
    return sheet.find("Shear flow along the seam", "q", shear * beyond / whole, PER_LENGTH, clause="q = V Q / I")


def _passed_on(work: Work, flow: Symbol) -> Symbol:
    """With it what the stiffener passes on to the wall of the line's pull along the floor."""
    from sympy import Abs

    sheet, rig = work.sheet, work.spot.solution.rig
    pieces = rail_pieces(rig)
    u_s, _, _ = directions(sheet, work.body)
    own = sheet.given("A_t", float(pieces.area[..., -1]), AREA, "area of the stiffener")
    whole = sheet.once("A", work.spot.solution.section.area, AREA, "area of one rail")
    share = work.tension * Abs(u_s) * (1 - own / whole) / _reach(work)
    return sheet.find("With the line's pull along the floor", "q_a", flow + share, PER_LENGTH, clause=_SEAM)


def _reach(work: Work) -> Symbol:
    words = "length over which the lug's pull enters: its weld and two depths of the stiffener"
    return work.sheet.once("r_l", seams.hanger_reach(work.spot.solution.rig), LENGTH, words)


def _lifted(work: Work) -> Any:
    """The line's pull square to the floor, over the same length."""
    from sympy import Abs, Integer

    if not seams.lug_on_stiffener(work.spot.solution.rig):
        return Integer(0)
    _, u_n, _ = directions(work.sheet, work.body)
    expression = work.tension * Abs(u_n) / _reach(work)
    return work.sheet.find("The line's pull that opens the seam", "f_o", expression, PER_LENGTH, clause=_SEAM)


def _pulled(work: Work) -> Any:
    """What hangs on the seam of the floor, and what packed gravel does to it."""
    from sympy import Integer

    sheet, spot, rig = work.sheet, work.spot, work.spot.solution.rig
    found: Any = Integer(0)
    if seams.floor_hangs(rig):
        pressure = pressure_on(sheet, spot)
        width = sheet.once("B", rig.number("box.width"), LENGTH, "width of the floor")
        found = sheet.find("Half of the floor that hangs on it", "f_h", pressure * width / 2, PER_LENGTH, clause=_SEAM)
    if not bool(spot.solution.cases(lambda case: case.gravel_to_top)[spot.index]):
        return found
    run, push, sides = Run(sheet), wall_push(rig), int(rig.value(seams.FLOOR).sides)
    thrust = run.given("f_t", push.thrust, PER_LENGTH, "thrust of packed gravel on the wall at its foot")
    foot = run.given("m_f", push.foot, FORCE, "its moment there, of an inch of wall")
    wall = run.given("t_s", side_sheet(rig), LENGTH, "side wall")
    leg = run.given("l_w", rig.number(f"{seams.FLOOR}.leg"), LENGTH, "leg of the fillet")
    opened = run.tell(
        lambda: seams.pushed_open(thrust, foot=foot, wall=wall, leg=leg, sides=sides),
        "f_p", "What packed gravel does to the seam", PER_LENGTH, rounding="up",
    )  # fmt: skip
    return found + opened


def _per_inch(work: Work, key: str, along: Any, across: Any) -> Symbol:
    """Force on an inch of weld of one run."""
    from sympy import sqrt

    sheet, rig = work.sheet, work.spot.solution.rig
    share: Any = seams.stitch_share(rig, key=key)
    stitched = rig.value(key).made == "stitch"
    factor: Any = sheet.given("c_p", share, NUMBER, "inches of seam for each of stitch") if stitched else 1
    runs = sheet.given("m_s", rig.value(key).sides, NUMBER, "runs of weld")
    return sheet.find(
        "Force per inch of weld", "f", sqrt(along**2 + across**2) * factor / runs, PER_LENGTH, rounding="up",
        engine=work.spot.of(work.spot.check.demand), clause=_SEAM,
    )  # fmt: skip

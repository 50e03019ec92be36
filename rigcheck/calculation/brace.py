"""The knee brace: its pull or push from the post, and what its section allows between pinned ends."""

from __future__ import annotations

from rigcheck.analysis.items import Item
from rigcheck.calculation.allowed import Member
from rigcheck.calculation.book import Book
from rigcheck.calculation.pages import Section
from rigcheck.calculation.post_forces import follow_down
from rigcheck.quantities.measures import FORCE, LENGTH
from rigcheck.tables import shapes, steel


def brace_section(book: Book) -> Section:
    """The brace at its highest use."""
    from sympy import Abs, sqrt

    spot = book.spot(lambda check: check.item is Item.BRACE)
    if spot is None:
        return book.missing("brace", "no knee brace is described")
    sheet, rig = book.sheet(), spot.solution.rig
    carried = follow_down(book, sheet, spot)
    if carried.brace is None:
        raise LookupError("a brace without force")
    demand = sheet.find(
        "Force of the brace",
        "S_b",
        Abs(carried.brace),
        FORCE,
        rounding="up",
        note="It pulls." if sheet.value(carried.brace) > 0.0 else "It pushes.",
        engine=spot.of(spot.check.demand),
        clause="docs/method.md#knee-brace",
    )
    downstream, below, top = (
        float(rig.number(f"perch.post.brace.{key}")) for key in ("foot_downstream", "foot_below", "top_below")
    )
    part = Member(
        sheet=sheet,
        basis=spot.basis,
        shape=shapes.find(rig.value("perch.post.brace.shape")),
        metal=steel.grade(str(rig.value("perch.post.brace.steel"))),
        length=0.0,
        word="brace",
    )
    if sheet.value(carried.brace) < 0.0:
        run = sheet.given("f_x", downstream, LENGTH, "foot of the brace from the post, downstream")
        rise = sheet.given("f_z", below - top, LENGTH, "its joint above its foot")
        length = sheet.find("Length of the brace, pinned at both ends", "l_b", sqrt(run**2 + rise**2), LENGTH)
        capacity = part.push(name="P_a", effective=length)
    else:
        capacity = part.pull(name="P_t")
    if abs(sheet.value(capacity) - spot.of(spot.check.capacity)) > 1e-9 * sheet.value(capacity):
        raise LookupError("the brace is not held to this")
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("brace", spot, sheet)

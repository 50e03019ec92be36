"""The governing link of a line: its share of the tension against its rating."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from rigcheck.analysis.links.capacity import LinkStrength, side_fraction
from rigcheck.analysis.links.ways import Way, least
from rigcheck.calculation.algebra import most
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import lug_axes
from rigcheck.calculation.pages import Section
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.case.models.case import Link
from rigcheck.quantities.measures import ANGLE, FORCE, NUMBER
from rigcheck.strength.connections.links import lead_share, link_pull, part_share, pulled_aside, worn


def line_section(book: Book) -> Section:
    """The line, from the free body of the whole box to the use of its governing link."""
    spot = book.spot(lambda check: check.group == "line", road=False)
    if spot is None:
        return book.missing("line", "no link of the line could be assessed")
    sheet = book.sheet()
    tension = book.whole_box(sheet, spot).tension[spot.side]
    links = [*spot.solution.links, *spot.solution.backup]
    link = next(one for one in links if one.key == spot.check.key)
    demand = _demand(sheet, spot, link=link, tension=tension)
    capacity = _capacity(sheet, spot, link=link)
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("line", spot, sheet)


def _demand(sheet: Sheet, spot: Spot, *, link: LinkStrength, tension: Symbol) -> Symbol:
    """What the link carries of the tension."""
    rig = spot.solution.rig
    parts = int(rig.value("line.parts"))
    described: Link = rig.value(link.key)
    run = Run(sheet)
    share: Any = 1.0
    note = "One part of line: the link carries the whole tension."
    if parts > 1 and described.carries != "line":
        n = run.given("n", parts, NUMBER, "parts of line")
        share, note = part_share(n), "The link is in one of the parts."
        if described.carries != "part":
            eta = run.given("eta", rig.value("line.sheave_efficiency"), NUMBER, "efficiency of the sheaves together")
            share = lead_share(n, efficiency=eta)
            note = "The link is in the lead, which pulls against the friction of the sheaves."
    sheet.note(note)
    pull, told = run.symbol(tension), spot.of(spot.check.demand)
    return run.tell(lambda: link_pull(pull, share=share), "S", "Pull on the link", FORCE, rounding="up", engine=told)


def _capacity(sheet: Sheet, spot: Spot, *, link: LinkStrength) -> Symbol:
    """The link's rating with everything that is taken off it; the least of the ways in which it is known."""
    run = Run(sheet)
    kept: Any = 1.0
    if link.kind == "shackle":
        kept = run.symbol(_side_pull(sheet, spot, link=link))
    ways = [_traced(run, way) for way in (link.rating.ultimate if spot.check.ultimate else link.rating.working)]
    lost = run.given("w", spot.solution.rig.number("line.wear"), NUMBER, "worn away")
    sheet.note(f"{spot.check.basis}.")
    return run.tell(
        lambda: pulled_aside(worn(least(ways), wear=lost), kept=kept, clause=spot.check.clause), "R",
        f"Allowed on the link: {spot.check.mode}", FORCE, engine=spot.of(spot.check.capacity),
    )  # fmt: skip


def _traced(run: Run, way: Way) -> Way:
    """A way to a strength on numbers that remember."""
    factors = (replace(one, value=run.given(one.symbol, one.value, NUMBER, one.words)) for one in way.factors)
    return replace(way, start=run.given(way.symbol, way.start, FORCE, way.words), factors=tuple(factors))


def _side_pull(sheet: Sheet, spot: Spot, *, link: LinkStrength) -> Symbol:
    """What a shackle keeps of its rating by the angle of the pull off its plane, that of the lug it hangs on."""
    from sympy import Abs, asin

    table, _, place = link.key.rpartition(".")
    last = len(spot.solution.rig.value(table)) - 1
    ends = [end for end, at in (("hanger", 0), ("perch", last)) if int(place) == at]
    declared = float(link.side_angle)
    angle = sheet.given(
        "theta_0", np.radians(declared), ANGLE, "pull off the plane of the shackle, as stated", listed=declared > 0.0
    )
    if ends:
        across = sheet.find(
            "Of each pound, square to the plane of the lug and its shackle",
            "v_s",
            most(*(Abs(lug_axes(sheet, spot, end=end)[2]) for end in ends)),
            NUMBER,
            clause="docs/method.md#lug-pull",
        )
        angle = sheet.find(
            "Pull off the plane of the shackle",
            "theta",
            most(asin(across), angle) if declared > 0.0 else asin(across),
            ANGLE,
            clause="docs/method.md#links",
        )
    kept = float(side_fraction(np.asarray(np.degrees(sheet.value(angle)))))
    return sheet.given("k_s", kept, NUMBER, "kept at that angle: all to 5 deg, 70 % to 45 deg, 50 % to 90 deg")

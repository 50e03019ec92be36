"""The governing link of a line: its share of the tension against its rating."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.case.models import Link
from rigcheck.strength.links import LinkStrength, bend_ratio, side_fraction
from rigcheck.tables import hardware, rope
from rigcheck.views.working.algebra import least, most
from rigcheck.views.working.book import Book
from rigcheck.views.working.lug_pull import lug_axes
from rigcheck.views.working.measures import ANGLE, FORCE, NUMBER
from rigcheck.views.working.pages import Section
from rigcheck.views.working.sheet import Sheet, Symbol
from rigcheck.views.working.spot import Spot


def line_section(book: Book) -> Section:
    """The line, from the free body of the whole box to the use of its governing link."""
    spot = book.spot(lambda check: check.group == "line", road=False)
    if spot is None:
        return book.missing("line", "no link of the line could be assessed")
    sheet = book.sheet()
    tension = book.whole_box(sheet, spot).tension[spot.side]
    links = [*spot.solution.links, *spot.solution.keeper]
    link = next(one for one in links if one.label == spot.check.part)
    demand = _demand(sheet, spot, link=link, tension=tension)
    capacity = _capacity(sheet, spot, link=link)
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("line", spot, sheet)


def _described(spot: Spot, link: LinkStrength) -> tuple[str, Link]:
    """Key of the link in the case, and what the case says of it."""
    for table, found in (("line.link", spot.solution.links), ("line.keeper", spot.solution.keeper)):
        for i, one in enumerate(found):
            if one.label == link.label:
                return f"{table}.{i}", spot.solution.rig.value(table)[i]
    raise LookupError(link.label)


def _demand(sheet: Sheet, spot: Spot, *, link: LinkStrength, tension: Symbol) -> Symbol:
    """What the link carries of the tension."""
    rig = spot.solution.rig
    parts = int(rig.value("line.parts"))
    _, described = _described(spot, link)
    expression: Any = tension
    note = "One part of line: the link carries the whole tension."
    if parts > 1 and described.carries != "line":
        n = sheet.given("n", parts, NUMBER, "parts of line")
        note = "The link is in one of the parts."
        expression = tension / n
        if described.carries != "part":
            eta = sheet.given("eta", rig.value("line.sheave_efficiency"), NUMBER, "efficiency of the sheaves together")
            expression, note = (
                tension / (n * eta),
                "The link is in the lead, which pulls against the friction of the sheaves.",
            )
    return sheet.find(
        "Pull on the link",
        "S",
        expression,
        FORCE,
        rounding="up",
        note=note,
        engine=spot.of(spot.check.demand),
        clause="docs/method.md#links",
    )


def _capacity(sheet: Sheet, spot: Spot, *, link: LinkStrength) -> Symbol:
    """The link's rating with everything that is taken off it."""
    rig = spot.solution.rig
    key, described = _described(spot, link)
    aside = _side_pull(sheet, spot, link=link) if described.kind == "shackle" else None
    rating = _rating(sheet, spot, key=key, link=described)
    lost = sheet.given("w", rig.number("line.wear"), NUMBER, "worn away")
    expression = rating * (1 - lost)
    if described.kind == "eyebolt":
        angle = float(np.degrees(described.side_angle))
        expression *= sheet.given(
            "k_e", hardware.eyebolt_angle_fraction(angle), NUMBER, f"left of it at {angle:.3g} deg"
        )
    if aside is not None:
        expression *= aside
    return sheet.find(
        f"Allowed on the link: {spot.check.mode}",
        "R",
        expression,
        FORCE,
        rounding="down",
        engine=spot.of(spot.check.capacity),
        clause=spot.check.clause,
        note=spot.check.basis + ".",
    )


def _side_pull(sheet: Sheet, spot: Spot, *, link: LinkStrength) -> Symbol:
    """What a shackle keeps of its rating by the angle of the pull off its plane, that of the lug it hangs on."""
    from sympy import Abs, asin

    key, _ = _described(spot, link)
    table, _, place = key.rpartition(".")
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


def _rating(sheet: Sheet, spot: Spot, *, key: str, link: Link) -> Any:
    """The rating before wear and side pull, as an expression."""
    ultimate = spot.check.ultimate
    if link.kind == "wire rope":
        return _rope(sheet, spot, key=key, link=link)
    rig, marked = spot.solution.rig, spot.solution.rig.has(f"{key}.wll")
    listed = _listed(link)
    if not ultimate:
        if marked:
            return sheet.given("WLL", rig.number(f"{key}.wll"), FORCE, "working load limit marked on it")
        if listed is not None:
            return sheet.given("WLL", listed.wll, FORCE, f"working load limit listed for its size ({listed.known})")
        breaking = sheet.given("MBF", rig.number(f"{key}.mbf"), FORCE, "breaking force")
        return breaking / sheet.given("f_d", rig.number("factors.chain_design"), NUMBER, "design factor of chain")
    if rig.has(f"{key}.mbf"):
        return sheet.given("MBF", rig.number(f"{key}.mbf"), FORCE, "breaking force published for it")
    factor = 5.0 if listed is None else listed.design_factor
    if not marked and listed is not None:
        return sheet.given("MBF", listed.mbf, FORCE, f"breaking force listed for its size ({listed.known})")
    wll = sheet.given("WLL", rig.number(f"{key}.wll"), FORCE, "working load limit marked on it")
    expression = wll * sheet.given("f_d", factor, NUMBER, "published design factor")
    if listed is None:
        return expression

    return least(
        sheet.given("MBF", listed.mbf, FORCE, f"breaking force listed for its size ({listed.known})"), expression
    )


def _listed(link: Link) -> hardware.Rating | None:
    if link.size is None:
        return None
    if link.kind == "shackle":
        return hardware.shackle(link.size, grade=link.grade or "carbon")
    if link.kind == "chain" and link.grade:
        return hardware.chain(link.size, grade=link.grade)
    if link.kind == "turnbuckle":
        return hardware.turnbuckle(link.size, end=link.end or "hook")
    return hardware.eyebolt(link.size) if link.kind == "eyebolt" else None


def _rope(sheet: Sheet, spot: Spot, *, key: str, link: Link) -> Any:
    """Breaking force of a rope with what its ends and its bend leave, over the design factor; or its mark."""
    rig = spot.solution.rig
    row = (
        rope.rope(link.table, diameter=link.diameter, column=link.column or "")
        if link.table and link.diameter
        else None
    )
    if rig.has(f"{key}.wll") and not spot.check.ultimate:
        base: Any = sheet.given("WLL", rig.number(f"{key}.wll"), FORCE, "working load limit marked on it")
        divisor = False
    else:
        told = rig.number(f"{key}.mbf") if rig.has(f"{key}.mbf") else row.mbf if row is not None else None
        if told is None:
            raise LookupError(f"{key}: no strength")
        base = sheet.given("MBF", told, FORCE, "breaking force of the rope")
        divisor = not spot.check.ultimate
    if link.ends:
        end = rope.termination(
            link.ends,
            diameter=link.diameter or np.inf,
            fibre_core=row.fibre_core if row else True,
            stainless=bool(row and row.stainless),
        )
        base *= sheet.given("e_t", end.efficiency, NUMBER, f"kept by its ends: {link.ends}")
    if link.bend_over:
        ratio = bend_ratio(link)
        base *= sheet.given("e_b", rope.bend_efficiency(ratio), NUMBER, f"kept when bent over {ratio:.3g} diameters")
    if divisor:
        base /= sheet.given("f_d", rig.number("factors.rope_design"), NUMBER, "design factor of wire rope")
    return base

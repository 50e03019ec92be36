"""The pull on a lug, in the lug's own axes: along its weld, square to what it is welded to, across its plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rigcheck.analysis.links.capacity import perch_share
from rigcheck.calculation.book import Book, tension_of
from rigcheck.calculation.free_body import Body, where_the_box_stands
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.lug.checks import hoist_rating
from rigcheck.quantities.measures import ANGLE, FORCE, LENGTH, NUMBER

_PULL = "docs/method.md#lug-pull"


@dataclass(frozen=True, slots=True)
class LugPull:
    """Symbols of a pull on a lug.

    Attributes:
        pull: The pull.
        along: A pound of it along the weld.
        out: Square to the surface.
        aside: Across the plate.
    """

    pull: Symbol
    along: Symbol
    out: Symbol
    aside: Symbol


def pull_on(book: Book, sheet: Sheet, spot: Spot, *, end: str) -> Symbol:
    """Pull on the hanger or on the perch: of the line, or of the hoist at its full rating.

    Args:
        book: The calculation.
        sheet: Where it is written.
        spot: The check.
        end: `hanger` or `perch`.
    """
    share = perch_share(spot.solution.rig) if end == "perch" else 1.0
    if spot.check.snag:
        rating = hoist_rating(spot.solution.rig)
        if rating is None:
            raise LookupError("a snag without a hoist")
        base: Any = sheet.given(
            "R_h", rating, FORCE, "line tension at the hoist's full rating: a snagged box lets it be pulled"
        )
        note = "A snagged box: the rating, whatever is in the box, without a dynamic factor."
    else:
        base, note = tension_of(book, sheet, spot), ""
    if share != 1.0:
        base = base * sheet.given("c_p", share, NUMBER, "all parts of line and the lead, over the tension")
    return sheet.find(f"Pull on the {end}", "F", base, FORCE, rounding="up", note=note, clause=_PULL)


def direction(sheet: Sheet, spot: Spot) -> None:
    """Direction of the line, unless the whole box of this section has it already."""
    if sheet.knows("u_x") or spot.on_road:
        return
    with sheet.silence():
        body = Body(factored=True, parted=False)
        where_the_box_stands(sheet, spot, body=body)
    sheet.recall(*(named(f"u_{axis}") for axis in "xyz"))


def _known_direction(sheet: Sheet, spot: Spot) -> tuple[Any, Any, Any]:
    """Symbols of the direction of the line, in plant axes."""
    pose, i = spot.solution.pose, spot.index
    direction(sheet, spot)
    if not sheet.knows("u_x"):
        for axis, value in zip("xyz", (pose.ux[i], pose.uy[i], pose.uz[i]), strict=True):
            sheet.given(f"u_{axis}", value, NUMBER, "direction of the line from hanger to perch")
    return named("u_x"), named("u_y"), named("u_z")


def box_axes(sheet: Sheet, spot: Spot) -> tuple[Any, Any, Any]:
    """A pound of pull of the line along the floor, square to it and across the box."""
    from sympy import cos, sin

    u_x, u_y, u_z = _known_direction(sheet, spot)
    if not sheet.knows("a"):
        sheet.given("a", spot.solution.pose.angle[spot.index], ANGLE, "floor above level")
    a = named("a")
    return u_x * cos(a) + u_z * sin(a), u_z * cos(a) - u_x * sin(a), u_y


def lug_axes(sheet: Sheet, spot: Spot, *, end: str) -> tuple[Any, Any, Any]:
    """A pound of pull along the weld, square to its surface and across the plate, by the direction of the line.

    A hanger lug's weld runs along the floor and its plate stands square to it; a perch lug's weld runs up the post and
    its plate stands downstream.
    """
    from sympy import cos, sin

    u_x, u_y, u_z = _known_direction(sheet, spot)
    rig = spot.solution.rig
    turned = float(rig.number(f"{end}.lug.turned")) if rig.has(f"{end}.lug") else 0.0
    angle = sheet.given(f"tau_{end[0]}", turned, ANGLE, f"{end} lug turned") if turned != 0.0 else None
    if end == "hanger":
        along, out, aside = box_axes(sheet, spot)
        if angle is not None:
            along, aside = along * cos(angle) - aside * sin(angle), aside * cos(angle) + along * sin(angle)
        return along, out, aside
    along, out, aside = u_z, u_x, u_y
    if angle is not None:
        out, aside = out * cos(angle) - aside * sin(angle), aside * cos(angle) + out * sin(angle)
    return along, out, aside


def in_lug_axes(sheet: Sheet, spot: Spot, *, end: str, pull: Symbol) -> LugPull:
    """A pound of pull along the weld, out and aside, the lug turned as stated, each a step."""
    from sympy import Abs

    along, out, aside = lug_axes(sheet, spot, end=end)
    return LugPull(
        pull,
        sheet.find("Of each pound, along the weld", "v_a", along, NUMBER, clause=_PULL),
        sheet.find("Of each pound, square to what it is welded to", "v_o", out, NUMBER, clause=_PULL),
        sheet.find("Of each pound, across the plate", "v_s", Abs(aside), NUMBER, clause=_PULL),
    )


def arm_of(sheet: Sheet, spot: Spot, *, end: str) -> Symbol:
    """Weld to hole."""
    rig = spot.solution.rig
    stated = float(rig.number(f"{end}.lug.stand_off"))
    value = stated if stated > 0.0 else float(rig.number(f"{end}.lug.edge"))
    words = "weld to hole" if stated > 0.0 else "weld to hole, taken as the edge distance"
    return sheet.given("a_l", value, LENGTH, words)

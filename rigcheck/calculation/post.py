"""The perch post: growth of its moments under push, and everything together at the height where it comes to most."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from functools import cache
from typing import Any

from rigcheck.analysis.items import Item
from rigcheck.calculation.algebra import least, most
from rigcheck.calculation.allowed import growth, together
from rigcheck.calculation.book import Book
from rigcheck.calculation.layout import comes_to, laid_out
from rigcheck.calculation.pages import Section
from rigcheck.calculation.post_forces import Carried, follow_down
from rigcheck.calculation.post_strength import Strengths
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.post.ways import PostWay
from rigcheck.quantities.measures import FORCE, MOMENT, NUMBER, PER_LENGTH, RIGIDITY

POST = "perch post"
_BRACED = (
    "E I v'' = P (v_top - v) - S (h - z) under the joint and without S over it, S = k_j v_h: fixed at the base, v and"
    " v' alike at the joint. theta is where the determinant of these five conditions is nothing."
)
_EULER = "docs/method.md#post, #knee-brace"


def post_section(book: Book) -> Section:
    """The post with everything on it together, or in the one way that is asked for."""
    spot = book.spot(lambda check: check.item is Item.POST and check.way is not None)
    if spot is None:
        return book.missing("post", "the case does not describe the perch post")
    sheet, more = book.sheet(), []
    carried = follow_down(book, sheet, spot)
    if carried.joint is not None:
        more.append("The brace is one redundant; its influence coefficients agree with those of a plane frame.")
    alone = _ALONE.get(spot.check.way)
    grown = _growth(sheet, spot, carried=carried)
    allowed = Strengths(sheet, spot)
    if alone is None:
        allowed.everything(twisted=carried.offset != 0 or carried.reach != 0)
        _together(sheet, spot, carried=carried, grown=grown, allowed=allowed)
    else:
        demand, capacity = alone(sheet, spot, carried, grown, allowed)
        book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section("post", spot, sheet, more=more)


def _growth(sheet: Sheet, spot: Spot, *, carried: Carried) -> tuple[Symbol, Symbol]:
    """How far the push makes the moments grow, fore and aft and across."""
    from sympy import pi

    push = -carried.lug[2]
    if carried.joint is not None:
        push = most(push, -carried.base_force[2])
    p = sheet.find("Compression in the post", "P_p", push, FORCE, clause="docs/method.md#post")
    stiff = (
        named("EI") if carried.joint is not None else sheet.given("EI", carried.post.fore, RIGIDITY, "E I fore and aft")
    )
    aside = sheet.given("EI_y", carried.post.across, RIGIDITY, "E I across")
    free = pi**2 / (2 * carried.length) ** 2
    fore = sheet.find(
        "Buckling load fore and aft",
        "P_ef",
        _euler_fore(sheet, carried, stiff=stiff, free=free),
        FORCE,
        clause=_EULER,
        note="" if carried.joint is None else _BRACED,
    )
    across = sheet.find("Buckling load across", "P_ea", free * aside, FORCE, clause="AISC 360-22 Eq. (E3-4), K 2.0")
    found = []
    for name, euler, words in (("B_f", fore, "fore and aft"), ("B_a", across, "across")):
        heading = f"Growth of the moments {words}"
        found.append(growth(sheet, heading, name, push=p, euler=euler, basis=spot.basis))
    return found[0], found[1]


def _euler_fore(sheet: Sheet, carried: Carried, *, stiff: Any, free: Any) -> Any:
    """Elastic buckling load fore and aft."""
    if carried.joint is None:
        return free * stiff
    spring, lean, drop = named("k_b"), named("e_x"), named("e_z")
    hold = sheet.find(
        "Force with which the brace holds the joint for an inch of sway",
        "k_j",
        spring * lean**2 / (1 + spring * drop**2 * carried.joint / named("EA")),
        PER_LENGTH,
        clause=_EULER,
    )
    height, firm = carried.joint / carried.length, hold * carried.length**3 / stiff
    angle = buckling_angle(sheet.value(height), hold=sheet.value(firm))
    theta = sheet.given("theta", angle, NUMBER, "least root of the equation of the held post, L sqrt(P/(E I))")
    return stiff * (theta / carried.length) ** 2


@cache
def _held_post() -> Callable[[float, float, float], float]:
    """Determinant of the five conditions of a post pushed at its top, of theta, height and hold.

    All lengths in lengths of the post: E I v'' = P (v_top - v) - S (r - z) under the joint, without S over it.
    """
    from sympy import Matrix, cos, diff, sin

    theta, ratio, hold, z = (named(name) for name in ("theta", "r", "c", "z"))
    unknown = [named(name) for name in ("A", "B", "C", "D", "S")]
    a, b, c, top, force = unknown
    under = a * cos(theta * z) + b * sin(theta * z) + top - force * (ratio - z) / theta**2
    over = top + c * sin(theta * (1 - z))
    conditions = [
        under.subs(z, 0),
        diff(under, z).subs(z, 0),
        (under - over).subs(z, ratio),
        diff(under - over, z).subs(z, ratio),
        force - hold * under.subs(z, ratio),
    ]
    written = laid_out(Matrix([[diff(one, x) for x in unknown] for one in conditions]).det())
    return lambda *found: comes_to(written, values=dict(zip(("theta", "r", "c"), found, strict=True)))


def buckling_angle(height: float, *, hold: float) -> float:
    """L sqrt(P/(E I)) at which a post buckles, by halving between the first two loads of the free post.

    Args:
        height: Joint over length.
        hold: Sideways stiffness at the joint, over E I/L^3.
    """
    from math import pi

    left = _held_post()
    low, high = pi / 2.0, 1.5 * pi
    at_low = left(low, height, hold)
    if hold <= 0.0 or at_low == 0.0:
        return low
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if left(middle, height, hold) * at_low > 0.0 else (low, middle)
    return low


def _together(sheet: Sheet, spot: Spot, *, carried: Carried, grown: tuple[Symbol, Symbol], allowed: Strengths) -> None:
    """Shares of axial force, moments, shear and torsion, added at the height where they come to most."""
    uses = {}
    for place in _places(carried):
        tried = sheet.scratch()
        uses[place] = tried.value(_at(tried, spot, carried, place, grown=grown, allowed=allowed))
    worst = max(uses, key=lambda place: uses[place])
    _at(sheet, spot, carried, worst, grown=grown, allowed=allowed, engine=spot.utilization)


def _places(carried: Carried) -> tuple[str, ...]:
    base = ("at the base",)
    return (*base, "at the brace", "under the lug") if carried.joint is not None else (*base, "under the lug")


def _loads_at(carried: Carried, place: str) -> tuple[Any, Any, Any]:
    """Moments fore and aft and across, and shear fore and aft, at one height."""
    from sympy import Abs

    lug, length = carried.lug, carried.length
    top, top_fore = carried.offset * lug[2], -carried.reach * lug[2]
    if place == "at the base":
        return carried.base_moment[1], carried.base_moment[0], carried.base_force[0]
    if place == "at the brace" and carried.joint is not None:
        fore, across = (length - carried.joint) * lug[0] + top_fore, top - (length - carried.joint) * lug[1]
        return fore, across, most(Abs(lug[0]), Abs(carried.base_force[0]))
    return top_fore, top, lug[0]


def _at(
    sheet: Sheet, spot: Spot, carried: Carried, place: str, *, grown: tuple[Symbol, Symbol], allowed: Strengths,
    engine: float | None = None,
) -> Symbol:  # fmt: skip
    """Use at one height."""
    from sympy import Abs, sqrt

    lug, offset = carried.lug, carried.offset
    fore, across, cut = _loads_at(carried, place)
    fore = sheet.find(f"Moment fore and aft {place}", "M_f", fore, MOMENT, clause="docs/method.md#post")
    across = sheet.find(f"Moment across {place}", "M_a", across, MOMENT, clause="docs/method.md#post")
    r_p = sheet.find("Share of axial force", "R_p", _axial(sheet, carried, allowed), NUMBER, rounding="up")
    r_f = sheet.find(
        "Share of bending fore and aft, amplified (B1)",
        "R_f",
        Abs(fore) * grown[0] / allowed.fore,
        NUMBER,
        rounding="up",
    )
    r_a = sheet.find(
        "Share of bending across, amplified (B1)", "R_a", Abs(across) * grown[1] / allowed.across, NUMBER, rounding="up"
    )
    shear = sqrt((cut / allowed.shear_fore) ** 2 + (lug[1] / allowed.shear_across) ** 2)
    r_v = sheet.find("Share of shear", "R_v", shear, NUMBER, rounding="up")
    r_t = None
    if offset != 0 or carried.reach != 0:
        r_t = sheet.find("Share of torsion", "R_t", Abs(carried.base_moment[2]) / allowed.torque, NUMBER, rounding="up")
    return together(sheet, spot.basis, axial=r_p, bending=(r_f, r_a), shear=r_v, torsion=r_t, engine=engine)


def _axial(sheet: Sheet, carried: Carried, allowed: Strengths) -> Any:
    """Push over what buckling allows, or pull over what yielding and rupture allow."""
    upper = -carried.lug[2]
    lower = -carried.base_force[2] if carried.joint is not None else upper
    pushed, pulled = max(sheet.value(upper), sheet.value(lower)), max(-sheet.value(upper), -sheet.value(lower))
    parts = []
    if pushed > 0.0:
        parts.append((most(upper, lower) if carried.joint is not None else upper) / allowed.push)
    if pulled > 0.0:
        parts.append(-(least(upper, lower) if carried.joint is not None else upper) / allowed.pull)
    return most(*parts) if len(parts) > 1 else parts[0] if parts else 0 * upper


Made = tuple[Any, Symbol]


def _bending(way: int) -> Callable[..., Made]:
    """Bending alone, fore and aft (0) or across (1), where it is largest."""

    def make(sheet: Sheet, spot: Spot, carried: Carried, grown: tuple[Symbol, Symbol], allowed: Strengths) -> Made:
        from sympy import Abs

        at = {place: _loads_at(carried, place)[way] for place in _places(carried)}
        worst = max(at, key=lambda place: abs(sheet.value(at[place])))
        words = f"Moment {('fore and aft', 'across')[way]} {worst}, grown"
        demand = sheet.find(
            words, "M_d", Abs(at[worst]) * grown[way], MOMENT, rounding="up", engine=spot.of(spot.check.demand)
        )
        return demand, (allowed.across if way else allowed.fore)

    return make


def _axially(sheet: Sheet, spot: Spot, carried: Carried, grown: tuple[Symbol, Symbol], allowed: Strengths) -> Made:
    """Push or pull alone."""
    return _axial(sheet, carried, allowed), sheet.given("U_a", 1.0, NUMBER, "all of it")


def _sheared(sheet: Sheet, spot: Spot, carried: Carried, grown: tuple[Symbol, Symbol], allowed: Strengths) -> Made:
    """Shear alone, where it is largest."""
    from sympy import sqrt

    at = [_loads_at(carried, place)[2] for place in _places(carried)]
    cut = max(at, key=lambda one: abs(sheet.value(one)))
    share = sqrt((cut / allowed.shear_fore) ** 2 + (carried.lug[1] / allowed.shear_across) ** 2)
    return share, sheet.given("U_a", 1.0, NUMBER, "all of it")


def _twisted(sheet: Sheet, spot: Spot, carried: Carried, grown: tuple[Symbol, Symbol], allowed: Strengths) -> Made:
    """Torsion alone."""
    from sympy import Abs

    return Abs(carried.base_moment[2]), allowed.torque


_ALONE: dict[Enum | None, Callable[..., Made]] = {
    PostWay.FORE: _bending(0), PostWay.ACROSS: _bending(1), PostWay.AXIAL: _axially, PostWay.SHEAR: _sheared,
    PostWay.TORSION: _twisted,
}  # fmt: skip

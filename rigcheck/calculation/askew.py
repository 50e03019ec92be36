"""Rails that do not stand alike far apart all along: what a load does to them, and what they hand to each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.calculation.box_loads import Load
from rigcheck.calculation.free_body import Body
from rigcheck.calculation.pages import Table
from rigcheck.calculation.sharing import named, total
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.joint.forces import cut_at
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER
from rigcheck.statics.along import Along, arm_of_force, kinks

STRETCHES = "docs/method.md#stretches"
_TOUCH = 1e-6  # in
_LAW = (
    "A rail twists freely, so that what one gets over the other goes on as D with (b D' - b' D)/2 unchanged between"
    " loads: a pair of forces F at s leaves D = F b_F b c, c the integral of ds/b^2 from there on, and their arm about"
    " the hinge is a = b_0 b c."
)


def askew(spot: Spot) -> Along | None:
    """The rails where they stand farther apart at one place than at another, else None."""
    along = spot.whole.layout.along
    return along if along is not None and along.flared else None


def rails_at_hangers(sheet: Sheet, spot: Spot) -> Symbol:
    """Between the rails where the lines hold them; of a box in stretches with a symbol of its own."""
    layout = spot.whole.layout
    if layout.along is None:
        return sheet.once("b", layout.rail_spacing, LENGTH, "between the rails")
    return sheet.once("b_H", layout.rail_spacing, LENGTH, "between the rails at the hangers")


def at_head(sheet: Sheet, along: Along) -> Symbol:
    """Between the rails at the hinge."""
    return sheet.once("b_0", along.first, LENGTH, "between the rails at the hinge")


def spacing_at(along: Along, s: float) -> float:
    """Between the rails at a station. [in]"""
    return float(along.spacing(np.asarray(s), axes=0))


def _middle(load: Load) -> float:
    return load.s if load.strip is None else 0.5 * (load.strip[0] + load.strip[1])


@dataclass(frozen=True, slots=True)
class Place:
    """Rails where a load lies.

    Attributes:
        b: Between them at its middle.
        center: The same at its center.
        slope: How much farther apart they stand for each inch along; 0 where they are parallel.
        arm: Of a pair of forces about the hinge.
    """

    b: Symbol
    center: Symbol
    slope: Any
    arm: Symbol


def places_of(sheet: Sheet, spot: Spot, *, body: Body) -> list[Place]:
    """The rails at each load, told in one table."""
    along = askew(spot)
    assert along is not None
    if sheet.knows("b_1") or not body.loads:
        return [_known(k) for k in range(1, len(body.loads) + 1)]
    units, found, rows = sheet.units, [], []
    for k, load in enumerate(body.loads, start=1):
        middle, s = np.asarray(_middle(load)), np.asarray(load.s)
        values = (
            float(along.spacing(middle, axes=0)), float(along.spacing(s, axes=0)), float(along.slope(middle, axes=0)),
            float(arm_of_force(along, s=s, axes=0)),
        )  # fmt: skip
        measures = (LENGTH, LENGTH, NUMBER, LENGTH)
        for name, value, measure in zip((f"b_{k}", f"b_c{k}", f"d_b{k}", f"a_{k}"), values, measures, strict=True):
            sheet.given(name, value, measure, f"rails at {load.name}", listed=False)
        rows.append((f"{k} {load.name}", *units.row(values, measures=measures)))
        found.append(_known(k))
    heads = ("Load", *(units.head(name, measure=one) for name, one in
             (("b at its middle", LENGTH), ("b_c at its center", LENGTH), ("d_b, slope of b", NUMBER),
              ("a, arm of a pair", LENGTH))))  # fmt: skip
    sheet.equations(
        "Between the rails where each load lies", (), note=_LAW, clause=STRETCHES,
        table=Table("Rails at each load, numbered as the loads are", heads, tuple(rows)),
    )  # fmt: skip
    return found


def _known(k: int) -> Place:
    return Place(named(f"b_{k}"), named(f"b_c{k}"), named(f"d_b{k}"), named(f"a_{k}"))


def difference_terms(sheet: Sheet, spot: Spot, *, body: Body) -> list[Any]:
    """Moment about the hinge of each load on the left rail over that on the right one, with what the wind adds."""
    along, place = askew(spot), body.place
    assert along is not None
    first, g_y = at_head(sheet, along), place["g_y"]
    terms: list[Any] = []
    for k, (weight, load, at) in enumerate(
        zip(body.weights, body.loads, places_of(sheet, spot, body=body), strict=True), start=1
    ):
        y = named(f"y_{k}") if load.y != 0.0 else 0
        n = named(f"n_{k}") if load.n != 0.0 else 0
        raised = y * place["g_s"] * (n * first / at.b - place["n_h"])
        pushed = y * place["g_n"] - n * g_y
        if y != 0 or (n != 0 and sheet.value(g_y) != 0.0):
            terms.append(2 * weight * (raised - at.arm * pushed) / at.b)
    for k, (_, p_y, _, s, n) in enumerate(body.gusts, start=1):
        b, arm = wind_place(sheet, along, s=sheet.value(s), k=k)
        terms.append(2 * n * arm * p_y / b)
    return terms


def wind_place(sheet: Sheet, along: Along, *, s: float, k: int) -> tuple[Symbol, Symbol]:
    """Rails where the wind acts, and the arm of a pair of forces there."""
    b = sheet.once(f"b_w{k}", spacing_at(along, s), LENGTH, "between the rails where the wind acts")
    arm = float(arm_of_force(along, s=np.asarray(s), axes=0))
    return b, sheet.once(f"a_w{k}", arm, LENGTH, "arm of a pair of forces there")


def grip(sheet: Sheet, spot: Spot, *, body: Body) -> Any:
    """What a pound of unlike pull does to D, times b at the hangers: d h where the rails are parallel and not splayed.

    Source: docs/method.md#stretches.
    """
    from sympy import cos, sin

    along, place = askew(spot), body.place
    assert along is not None
    h, a = 2 * place["y_H"], place["a"]
    u_s = place["u_x"] * cos(a) + place["u_z"] * sin(a)
    u_n = place["u_z"] * cos(a) - place["u_x"] * sin(a)
    b, first = rails_at_hangers(sheet, spot), at_head(sheet, along)
    arm = float(arm_of_force(along, s=np.asarray(spot.whole.layout.hanger_s), axes=0))
    at_hanger = sheet.once("a_H", arm, LENGTH, "arm of a pair of forces at the hangers")
    raised = place["n_H"] * first / b - place["n_h"]
    return at_hanger * (h * u_n - 2 * place["n_H"] * place["u_y"]) - raised * h * u_s


def held_at_head(sheet: Sheet, spot: Spot, *, body: Body, pull: Symbol, mean: Any, sign: int) -> Any:
    """What the hinge holds one rail against, square to the floor: what is unlike by the spacings there and here.

    Args:
        sheet: Where it is written.
        spot: The check.
        body: The whole box.
        pull: What the lines put on this rail.
        mean: What they put on either rail alike.
        sign: 1 on the left, -1 on the right.
    """
    from sympy import cos, sin

    along, place = askew(spot), body.place
    assert along is not None
    first, g_s, g_n, g_y = at_head(sheet, along), place["g_s"], place["g_n"], place["g_y"]
    terms: list[Any] = []
    for k, (weight, load, at) in enumerate(
        zip(body.weights, body.loads, places_of(sheet, spot, body=body), strict=True), start=1
    ):
        y = named(f"y_{k}") if load.y != 0.0 else 0
        n = named(f"n_{k}") if load.n != 0.0 else 0
        unlike = at.center * ((y * g_n - n * g_y) / at.b + g_s * y * n * at.slope / at.b**2)
        terms.append(weight * (g_n / 2 + sign * (unlike - at.slope * g_s * y * n / at.b) / first))
    a = place["a"]
    for p_x, p_y, p_z, _, n in body.gusts:
        terms.append((p_z * cos(a) - p_x * sin(a)) / 2 - sign * n * p_y / first)
    return total([*terms, mean, (pull - mean) * rails_at_hangers(sheet, spot) / first])


def turned_share(load: Load, *, at: Place, g_s: Symbol, sign: int, k: int) -> Any:
    """Of each pound, what a rail askew gets from the other one for the couple of what goes along the floor."""
    if load.y == 0.0 or load.n == 0.0:
        return 0
    return sign * g_s * named(f"y_{k}") * named(f"n_{k}") * at.slope / at.b**2


def handed_over(sheet: Sheet, spot: Spot, *, pair: int, side: int, pull: tuple[Symbol, Any, Symbol]) -> list[Any]:
    """Forces that a rail gets from the other one where the rails turn in plan, and beside couples within a taper.

    Args:
        sheet: Where it is written.
        spot: The check.
        pair: Place among the rows and ways of sharing whose bending is worked out.
        side: Of the rail.
        pull: What the lines put on it along the floor, what of it is alike on both, and hanger above the floor.

    Returns:
        Station, as a number and as a symbol, and force square to the floor.
    """
    along, forces = askew(spot), spot.whole.bent.forces
    assert along is not None
    sign = 1 if side == 0 else -1
    turns = [float(at) for at, _ in kinks(along)[:-1]]
    found = [_turn(sheet, spot, number=k, at=at, pair=pair, sign=sign) for k, at in enumerate(turns)]
    torque = (1.0, -1.0)[side] * forces.ties.all[pair]
    for k, (place, value) in enumerate(zip(forces.unheld.box.at, torque, strict=True), start=1):
        at = float(place)
        slope = float(along.slope(np.asarray(at), axes=0))
        if value == 0.0 or slope == 0.0 or any(abs(at - turn) <= _TOUCH for turn in turns):
            continue
        given = sheet.once(f"F_t{k}", float(value) * slope / spacing_at(along, at), FORCE,
                           f"what t_{k} hands over in a taper, t b'/b")  # fmt: skip
        found.append((at, sheet.once(f"s_t{k}", at, LENGTH, "where it does"), given))
    hanger = float(spot.whole.layout.hanger_s)
    slope = float(along.slope(np.asarray(hanger), axes=0))
    if slope != 0.0 and all(abs(hanger - turn) > _TOUCH for turn in turns):
        d = sheet.once("d_H", slope, NUMBER, "how much farther apart the rails stand for each inch at the hangers")
        whole, alike, height = pull
        if sheet.knows("F_H"):
            return [*found, (hanger, named("s_H"), named("F_H"))]
        force = (whole - alike) * height * d / rails_at_hangers(sheet, spot)
        told = sheet.find("Force handed over beside the hangers", "F_H", force, FORCE, clause=STRETCHES)
        found.append((hanger, named("s_H"), told))
    return found


def _turn(sheet: Sheet, spot: Spot, *, number: int, at: float, pair: int, sign: int) -> tuple[float, Any, Symbol]:
    """What goes over at the head of a stretch: D' grows by what D b'/b changes there."""
    along = askew(spot)
    assert along is not None
    cut = cut_at(spot.whole, at=np.asarray(at))
    b = sheet.once(f"b_j{number}", spacing_at(along, at), LENGTH, f"between the rails at {at:.4g} in")
    place = sheet.once(f"s_j{number}", at, LENGTH, f"head of stretch {number + 1}")
    terms: list[Any] = []
    for k, (word, stretch) in enumerate((("before", number - 1), ("behind", number))):
        if stretch < 0 or float(along.pieces[stretch].slope) == 0.0:
            continue
        piece = along.pieces[stretch]
        more = float(piece.cos) * float(cut.moment[k, pair, 0] - cut.moment[k, pair, 1])
        words = f"how much more the left rail is bent than the right one just {word} it, about the floor, as checked"
        apart = sheet.once(f"D_{number}{'ba'[k]}", more, MOMENT, words)
        slope = sheet.once(f"d_j{number}{'ba'[k]}", float(piece.slope), NUMBER, f"slope of b just {word} it")
        terms.append((-1, 1)[k] * apart * slope)
    if not terms:
        return at, place, sheet.once(f"F_j{number}", 0.0, FORCE, "nothing is handed over, the rails go on straight")
    if sheet.knows(f"F_j{number}"):
        return at, place, named(f"F_j{number}")
    heading = f"Force on this rail where the sides turn, head of stretch {number + 1}"
    return at, place, sheet.find(heading, f"F_j{number}", sign * total(terms) / (2 * b), FORCE, clause=STRETCHES)


def cosine(sheet: Sheet, spot: Spot) -> Any:
    """Cosine of the angle between the rail of this stretch and the middle of the box, in plan; 1 where straight."""
    along, number = askew(spot), spot.solution.here.number
    if along is None or number is None or float(along.pieces[number].cos) == 1.0:
        return 1
    return sheet.once("c_g", along.pieces[number].cos, NUMBER, "cosine of the angle of the rail in plan")

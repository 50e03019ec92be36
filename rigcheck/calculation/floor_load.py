"""What presses on the floor of the box, by hand: everything that lies on it, as a pressure, and people."""

from __future__ import annotations

from typing import Any

from rigcheck.calculation.free_body import AXES
from rigcheck.calculation.pages import Table
from rigcheck.calculation.sharing import named, total
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.floor.checks import FloorLoad, floor_load
from rigcheck.quantities.measures import ANGLE, FORCE, LENGTH, NUMBER, PER_LENGTH, STRESS
from rigcheck.tables.load_cases import load_case

_BESIDE = ("side_walls", "rail_stiffeners")
_FLOOR = "docs/method.md#floor"


def tilt(sheet: Sheet, spot: Spot) -> Symbol:
    """Angle of the floor, unless this sheet has it already."""
    if sheet.knows("a"):
        return named("a")
    solution = spot.solution
    psi = sheet.given("psi", spot.row.fold, ANGLE, "fold angle, 0 deployed")
    beta = sheet.given("beta", solution.layout.pitch, ANGLE, "pitch of the floor")
    heading = "Floor above level (it falls to the tail when negative)"
    return sheet.find(heading, "a", psi - beta, ANGLE, engine=solution.pose.angle[spot.index], clause=AXES)


def onto_the_floor(sheet: Sheet, spot: Spot) -> Symbol:
    """Of each pound of weight, square to the floor and down on it."""
    from sympy import cos, sin

    if sheet.knows("k_f"):
        return named("k_f")
    a = tilt(sheet, spot)
    g_x, _, g_z = (float(value) for value in spot.row.gravity)
    x = sheet.once("g_x", g_x, NUMBER, "acceleration over gravity, downstream")
    z = sheet.once("g_z", g_z, NUMBER, "acceleration over gravity, upward")
    down = x * sin(a) - z * cos(a)
    if sheet.value(down) < 0.0:
        down = 0 * a
    return sheet.find("Of each pound, down on the floor and square to it", "k_f", down, NUMBER, clause=AXES)


def pressure_on(sheet: Sheet, spot: Spot, *, still: bool = False) -> Symbol:
    """Pressure on the floor at the station where most lies on it.

    Args:
        sheet: Where it is written.
        spot: The check.
        still: Without dynamic factors.
    """
    solution, i = spot.solution, spot.index
    load, units = floor_load(solution), sheet.units
    if spot.on_road or load_case(spot.row.state).full_pull:
        width = sheet.once("B", solution.rig.number("box.width"), LENGTH, "width of the floor")
        note = "Nothing lies on the floor of the folded box, nor is what holds a snagged one counted there."
        return sheet.find("Pressure on the floor", "p", 0 * width, STRESS, note=note, engine=0.0, clause=_FLOOR)
    down = onto_the_floor(sheet, spot)
    symbols, rows = [], []
    for k, (name, most, gain) in enumerate(_lying(spot), start=1):
        if most <= 0.0:
            continue
        gain = 1.0 if still else gain
        symbols.append(sheet.given(f"q_{k}", gain * most, PER_LENGTH, name, listed=False))
        cells = units.row((most, gain, gain * most), measures=(PER_LENGTH, NUMBER, PER_LENGTH))
        rows.append((f"q_{k} {name}", *cells))
    beside, gain = _beside(spot)
    o = sheet.given("q_0", beside, PER_LENGTH, "side walls and rails, which stand beside the floor, per length")
    taken: Any = o
    if not still and gain != 1.0:
        taken = o * sheet.given("f_0", gain, NUMBER, "their factor, the least of all")
    width = sheet.once("B", solution.rig.number("box.width"), LENGTH, "width of the floor")
    expression = (total(symbols) - taken) * down / width
    if sheet.value(expression) < 0.0:
        expression = 0 * width
    heads = ("Load along the floor", *(units.head(name, measure=one) for name, one in
             (("weight per length", PER_LENGTH), ("factor", NUMBER), ("q", PER_LENGTH))))  # fmt: skip
    return sheet.find(
        "Pressure on the floor where most lies on it",
        "p",
        expression,
        STRESS,
        rounding="up",
        table=Table("What lies along the box, at its heaviest place", heads, tuple(rows)),
        note="What lies on a part of the width is spread over all of it; packed over the whole width is a state of its"
        " own.",
        engine=float(_of(load, still=still)[i]),
        clause=_FLOOR,
    )


def _lying(spot: Spot) -> list[tuple[str, float, float]]:
    """What lies along the floor here: name, most weight per length as on the widest place, factor."""
    table, i = spot.solution.life.loads.strip, spot.index
    order = sorted(spot.row.strips, key=lambda strip: strip.whole)  # as the rows are stacked
    found = {
        id(strip): (
            strip.name,
            float(max(table["w_start"][i, k], table["w_end"][i, k]))
            if table["end"][i, k] > table["start"][i, k] and strip.on_floor > 0.0
            else 0.0,
            float(strip.gain),
        )
        for k, strip in enumerate(order)
    }
    return [found[id(strip)] for strip in spot.row.strips]


def _of(load: FloorLoad, *, still: bool) -> Any:
    return load.still if still else load.pressure


def _beside(spot: Spot) -> tuple[float, float]:
    """Weight per length of what stands beside the floor, and the least factor of what lies along the box."""
    solution = spot.solution
    pieces = [piece for piece in solution.life.pieces if piece.spread and piece.id in _BESIDE]
    gains = [gain for _, most, gain in _lying(spot) if most > 0.0]
    weight = sum(float(piece.weight) for piece in pieces)
    return weight / float(solution.rig.number("box.length")), min(gains, default=1.0)


def people_on(sheet: Sheet, spot: Spot, *, still: bool = False, one: bool = False) -> Symbol | None:
    """People on the floor; None in states without them.

    Args:
        sheet: Where it is written.
        spot: The check.
        still: Without dynamic factors.
        one: One of them alone, at rest.
    """
    solution, i = spot.solution, spot.index
    load = floor_load(solution)
    told = float((load.person if one else load.people_still if still else load.people)[i])
    if told == 0.0:
        return None
    rig, down = solution.rig, onto_the_floor(sheet, spot)
    weight = sheet.given("W_p", rig.number("person.weight"), FORCE, "weight of one person with tools")
    crowd, expression = float(rig.value("person.people")), weight * down
    count = min(crowd, 1.0) if one else crowd
    if count != 1.0:
        expression *= sheet.given("m_p", count, NUMBER, "people")
    gain = 1.0 if one or still or spot.row.ultimate else float(spot.row.lumps[-1].gain)
    if gain != 1.0:
        expression *= sheet.given("f_p", gain, NUMBER, "dynamic factor, people who step down")
    words = "One person on the floor, at rest" if one else f"People on the floor{', at rest' if still else ''}"
    return sheet.find(words, "P_c", expression, FORCE, rounding="up", engine=told, clause=_FLOOR)

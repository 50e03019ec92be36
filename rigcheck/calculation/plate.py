"""A plate that a pin pulls on, mode by mode: beside the hole, beyond it on one plane and on two, on the pin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rigcheck.calculation.algebra import least
from rigcheck.calculation.measures import ANGLE, AREA, FORCE, LENGTH, NUMBER, STRESS
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.strength.bases import LIFTING_BEARING, PIN_BEARING, SHEAR_YIELD, Basis
from rigcheck.strength.connections import bth1
from rigcheck.strength.connections import pinned_plates as connections

MODES = ("tension", "splitting", "shear", "bearing")
_WORDS = {
    "tension": "tension beside the hole",
    "splitting": "splitting beyond the hole on one plane",
    "shear": "tear-out on two planes",
    "bearing": "bearing on the pin",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A plate and its pin, lengths in inches, stresses in psi."""

    thickness: float
    width: float
    edge: float
    hole: float
    pin: float
    edge_radius: float
    fy: float
    fu: float


def plate_steps(sheet: Sheet, plate: Plate, *, basis: Basis, engine: dict[str, float]) -> dict[str, Symbol]:
    """Allowed pull in every mode.

    Args:
        sheet: Where it is written.
        plate: The plate.
        basis: Basis of allowable strength.
        engine: What the check has, by mode.

    Returns:
        Symbols by mode.

    Source: ASME BTH-1 3-3.3.1 (memory); AISC 360-22 D5, J7 (seen).
    """
    given = {
        name: sheet.given(name, value, measure, meaning)
        for name, value, measure, meaning in (
            ("t", plate.thickness, LENGTH, "thickness"),
            ("w", plate.width, LENGTH, "width across the pull"),
            ("e", plate.edge, LENGTH, "hole center to the edge along the pull"),
            ("D_h", plate.hole, LENGTH, "hole"),
            ("D_p", plate.pin, LENGTH, "pin"),
            ("F_y", plate.fy, STRESS, "yield stress"),
            ("F_u", plate.fu, STRESS, "tensile strength"),
            ("Omega_r", basis.rupture, NUMBER, "divisor for rupture"),
        )
    }
    beside = _side(sheet, "Plate beside the hole", "b_e", (given["w"] - given["D_h"]) / 2)
    beyond = _side(sheet, "Plate beyond the hole", "a_e", given["e"] - given["D_h"] / 2)
    factor = _clearance(sheet, plate, given)
    lifting = basis.name == "lifting"
    make = _lifting if lifting else _frame
    expressions = make(sheet, plate, given, (beside, beyond, factor))
    band = 1.13 * beyond + 0.92 * beside * given["D_h"] / (given["D_h"] + beside)
    expressions["splitting"] = factor * given["F_u"] / given["Omega_r"] * given["t"] * band
    clause = {
        "splitting": "ASME BTH-1 3-3.3.1 (memory)",
        **dict.fromkeys(
            ("tension", "shear", "bearing"), "ASME BTH-1 3-3.3.1 (memory)" if lifting else "AISC 360-22 D5, J7 (seen)"
        ),
    }
    if not lifting:
        expressions["bearing"] = (
            PIN_BEARING
            * given["F_y"]
            * given["D_p"]
            * given["t"]
            / sheet.given("Omega_b", basis.bearing, NUMBER, "divisor for bearing")
        )
    else:
        expressions["bearing"] = (
            LIFTING_BEARING
            * given["F_y"]
            * given["D_p"]
            * given["t"]
            / sheet.given("Omega_y", basis.yielding, NUMBER, "divisor for yielding")
        )
    if plate.edge <= plate.hole / 2.0:
        expressions["splitting"] = expressions["shear"] = 0 * given["t"]
    if not lifting:
        expressions["tension"] = _gross(sheet, expressions["tension"], given, basis=basis)
    return {
        mode: sheet.find(
            f"Allowed pull, {_WORDS[mode]}",
            f"P_{mode[0]}{mode[1]}",
            expressions[mode],
            FORCE,
            rounding="down",
            engine=engine.get(mode),
            clause=clause[mode],
        )
        for mode in MODES
    }


def _side(sheet: Sheet, heading: str, name: str, expression: Any) -> Symbol:
    """A width that is nothing where the hole reaches over the edge."""
    from sympy import Integer

    value = sheet.value(expression)
    return sheet.find(heading, name, expression if value > 0.0 else Integer(0), LENGTH)


def _clearance(sheet: Sheet, plate: Plate, given: dict[str, Symbol]) -> Symbol:
    """What a pin smaller than its hole leaves."""
    from sympy import Integer, sqrt

    close = plate.hole <= bth1.CLOSE_FIT * plate.pin * (1.0 + 1.0e-12)
    play = 1 - bth1.CLEARANCE_SLOPE * sqrt(1 - (given["D_p"] / given["D_h"]) ** 2)
    note = "The hole is within 1.1 pins: nothing is lost." if close else "The hole is over 1.1 pins wide."
    return sheet.find(
        "Left by the play of the pin",
        "C_r",
        Integer(1) if close else play,
        NUMBER,
        note=note,
        clause="ASME BTH-1 Eq. (3-46) (memory)",
    )


def _lifting(sheet: Sheet, plate: Plate, given: dict[str, Symbol], sides: tuple[Symbol, ...]) -> dict[str, Any]:
    """Beside the hole and on two planes by the lifting clause."""
    from sympy import cos, sin, sqrt

    beside, beyond, factor = sides
    t, hole, pin = given["t"], given["D_h"], given["D_p"]
    drawn = 0.6 * given["F_u"] / given["F_y"] * sqrt(hole * beside)
    if sheet.value(beside) > 0.0:
        working = sheet.find(
            "Width that works beside the hole",
            "b_f",
            least(beside, 4 * t, drawn),
            LENGTH,
            clause="ASME BTH-1 Eq. (3-47), (3-48) (memory)",
        )
    else:
        working = beside
    slope = sheet.given(
        "gamma", bth1.SHEAR_PLANE_ANGLE * 3.141592653589793 / 180.0, ANGLE, "slope of the planes, pin filling its hole"
    )
    angle = sheet.find(
        "Slope of the two planes", "phi", slope * pin / hole, ANGLE, clause="ASME BTH-1 Eq. (3-52) (memory)"
    )
    plane = beyond + pin / 2 * (1 - cos(angle))
    if plate.edge_radius > 0.0:
        r = sheet.given("r_e", plate.edge_radius, LENGTH, "radius of the edge")
        plane -= sheet.find(
            "Fall of the round edge at the planes",
            "z",
            r - sqrt(r**2 - (pin / 2 * sin(angle)) ** 2),
            LENGTH,
            clause="geometry, docs/method.md#lug",
        )
    area = sheet.find("Area of the two planes", "A_v", 2 * t * plane, AREA, clause="ASME BTH-1 Eq. (3-51) (memory)")
    fracture = given["F_u"] / given["Omega_r"]
    return {"tension": factor * fracture * 2 * t * working, "shear": 0.70 * fracture * area}


def _frame(sheet: Sheet, plate: Plate, given: dict[str, Symbol], sides: tuple[Symbol, ...]) -> dict[str, Any]:
    """Beside the hole and on two planes by the frame clause, and what stands in for it where the pin is loose."""
    from sympy import Integer

    beside, beyond, factor = sides
    t, pin = given["t"], given["D_p"]
    addition = sheet.given("e_0", connections.EFFECTIVE_ADDITION, LENGTH, "addition of the clause")
    working = sheet.find(
        "Width that works beside the hole",
        "b_f",
        least(2 * t + addition, beside),
        LENGTH,
        clause="AISC 360-22 D5.1 (seen)",
    )
    clear = plate.hole - plate.pin
    kept: Any = Integer(1)
    on_tension: Any = Integer(1)
    if clear > connections.LOOSE_PIN + 1.0e-9:
        kept = on_tension = sheet.find(
            "Left by a pin looser than the clause allows", "C_l", least(connections.LOOSE_FACTOR, factor), NUMBER
        )
    elif clear > connections.CLOSE_PIN + 1.0e-9:
        kept = sheet.given(
            "C_l", connections.LOOSE_FACTOR, NUMBER, "kept where the hole is over 1/32 in wider than the pin"
        )
    fracture = given["F_u"] / given["Omega_r"]
    return {
        "tension": on_tension * fracture * 2 * t * working,
        "shear": SHEAR_YIELD * kept * fracture * 2 * t * (beyond + pin / 2),
    }


def _gross(sheet: Sheet, tension: Any, given: dict[str, Symbol], *, basis: Basis) -> Any:

    divisor = sheet.given("Omega_y", basis.yielding, NUMBER, "divisor for yielding")
    return least(tension, given["F_y"] * given["w"] * given["t"] / divisor)

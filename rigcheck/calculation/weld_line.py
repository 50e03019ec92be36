"""A weld as a line: properties integrated along it, and the elastic vector sum at its worst place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, partial
from typing import Any

import numpy as np

from rigcheck.calculation.algebra import integral, least
from rigcheck.calculation.run import Run
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.quantities.measures import LENGTH, MODULUS, NUMBER, PER_LENGTH, STRESS
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.weld_lines import WeldLine
from rigcheck.strength.connections.welds import CONFIDENCE, Joint, fillet_allowable

_LINE = "elastic method, docs/method.md#weld-as-a-line"


@cache
def line_properties(kind: str) -> tuple[Any, Any, Any]:
    """Length and second moments about both axes of a group of unit throat, integrated along its lines.

    Args:
        kind: `two uprights`, `rectangle` or `ring`, of width b_w and depth d_w.

    Returns:
        Length, about the x axis, about the y axis.
    """
    from sympy import Symbol, pi

    b, d = named("b_w"), named("d_w")
    s = Symbol("s", real=True)
    if kind == "ring":  # all of it half its diameter from the middle; either axis has half of what the middle has
        length = pi * d
        about_axis = (d / 2) ** 2 * length / 2
        return length, about_axis, about_axis
    uprights = [integral(one, over=s, start=-d / 2, end=d / 2) * 2 for one in (1, s**2, (b / 2) ** 2)]
    if kind == "two uprights":
        return tuple(uprights)
    levels = [integral(one, over=s, start=-b / 2, end=b / 2) * 2 for one in (1, (d / 2) ** 2, s**2)]
    return tuple(one + other for one, other in zip(uprights, levels, strict=True))


@dataclass(frozen=True, slots=True)
class Loading:
    """Force and moment on a weld in its own axes, each an expression; 0 where there is none."""

    fx: Any = 0
    fy: Any = 0
    fz: Any = 0
    mx: Any = 0
    my: Any = 0
    mz: Any = 0


def force_per_inch(sheet: Sheet, group: WeldLine, *, kind: str, load: Loading, engine: float) -> Symbol:
    """Largest force per inch of a weld group.

    Args:
        sheet: Where it is written; b_w and d_w have their values.
        group: The group, for the places looked at.
        kind: As in `line_properties`.
        load: What it carries.
        engine: What the check has. [lbf/in]
    """
    from sympy import sqrt, sympify

    length, about_x, about_y = line_properties(kind)
    size = sheet.find(
        "Length of the weld", "L_w", length, LENGTH, note="Unit throat, integrated along the weld.", clause=_LINE
    )
    i_x = sheet.find("Second moment about the axis across", "I_x", about_x, MODULUS, clause=_LINE)
    i_y = sheet.find("Second moment about the axis along", "I_y", about_y, MODULUS, clause=_LINE)
    i_p = i_x + i_y
    terms = {name: sympify(getattr(load, name)) for name in ("fx", "fy", "fz", "mx", "my", "mz")}

    def parts(x: Any, y: Any) -> tuple[Any, Any, Any]:
        return (
            terms["fx"] / size - terms["mz"] * y / i_p,
            terms["fy"] / size + terms["mz"] * x / i_p,
            terms["fz"] / size + terms["mx"] * y / i_x - terms["my"] * x / i_y,
        )

    values = {name: sheet.value(one) for name, one in terms.items()}
    numbers = [sheet.value(one) for one in (size, i_x, i_y)]
    x_all, y_all = (np.asarray(one, dtype=np.float64).reshape(-1) for one in (group.x, group.y))
    polar = numbers[1] + numbers[2]
    across = values["fx"] / numbers[0] - values["mz"] * y_all / polar
    up = values["fy"] / numbers[0] + values["mz"] * x_all / polar
    out = values["fz"] / numbers[0] + values["mx"] * y_all / numbers[1] - values["my"] * x_all / numbers[2]
    place = int((across**2 + up**2 + out**2).argmax())
    words = "of a polygon drawn round the ring" if kind == "ring" else "at an end of a run"
    x = sheet.given("x_w", x_all[place], LENGTH, f"worst place of the weld across, {words}")
    y = sheet.given("y_w", y_all[place], LENGTH, "the same along")
    found = [
        sheet.find(f"Force per inch there, {told}", f"f_{axis}", expression, PER_LENGTH, clause=_LINE)
        for axis, told, expression in zip("xyz", ("across", "along", "out"), parts(x, y), strict=True)
    ]
    return sheet.find(
        "Force per inch, vector sum",
        "f",
        sqrt(found[0] ** 2 + found[1] ** 2 + found[2] ** 2),
        PER_LENGTH,
        rounding="up",
        engine=engine,
        clause=_LINE,
    )


def weld_allows(
    sheet: Sheet, joints: list[tuple[str, Joint]], *, basis: Basis, hand: str, engine: float, below: str = ""
) -> Symbol:
    """Allowed force per inch: weld metal, or the metal it is laid on.

    Args:
        sheet: Where it is written.
        joints: What is welded, with its name; one leg and electrode for all.
        basis: Basis of allowable strength.
        hand: Who laid the weld.
        engine: What the check has. [lbf/in]
        below: Stands below the symbols of a metal before its number, where the sheet has the bare number already.
    """
    run = Run(sheet)
    divisors = run.basis(basis)
    share = run.given("c_w", CONFIDENCE[hand], NUMBER, f"counted on for a weld by hand: {hand} (own assumption)")
    found = []
    for k, (name, joint) in enumerate(joints, start=1):
        own = {
            "leg": ("l_w", LENGTH, "leg of the fillet"),
            "length": ("l_r", LENGTH, "length of one run"),
            "electrode": ("F_e", STRESS, "strength of the electrode"),
            "thickness": (f"t_{below}{k}", LENGTH, f"thickness, {name}"),
            "fy": (f"F_y{k}", STRESS, f"yield stress, {name}"),
            "fu": (f"F_u{k}", STRESS, f"tensile strength, {name}"),
            "faces": (f"m_{below}{k}", NUMBER, f"welds that share the {name}"),
        }
        told = run.record(Joint, joint, symbols=own)
        make = partial(fillet_allowable, told, basis=divisors, confidence=share)
        heading = f"Allowed force per inch, weld and {name}"
        found.append(run.tell(make, f"f_{k}", heading, PER_LENGTH, tail=str(k)))
    return sheet.find(
        "Allowed force per inch",
        "f_a",
        least(*found),
        PER_LENGTH,
        rounding="down",
        engine=engine,
        clause="AISC 360-22 J2.4 (seen)",
    )

"""Write a number as text: short for people, converted for tables and JSON, or exact for reading back."""

import math
from collections.abc import Callable
from functools import cache

from rigcheck.quantities.units import INSIDE, LARGER, SHOWN, SLOPES, SPOKEN, UNITS, Dimension, Rounding, System


def exact(value: float, *, dimension: Dimension) -> str:
    """Text that `read` turns back into exactly the same float."""
    if not math.isfinite(value):
        raise ValueError(f"not a finite number: {value!r}")
    if dimension == "number":
        return repr(float(value))
    if dimension == "fraction":
        mantissa, _, exponent = repr(float(value)).partition("e")
        return f"{mantissa}e{int(exponent or 0) + 2} %"  # two powers of ten up, digit for digit
    return f"{float(value)!r} {INSIDE[dimension]}"


def convert(value: float, *, dimension: Dimension, system: System = "us") -> tuple[float, str]:
    """Number and unit label for tables and JSON; the unit never depends on the size of the number."""
    unit = SHOWN[dimension][0 if system == "us" else 1]
    return _shown_in(unit, dimension)(value), unit


def write(
    value: float, *, dimension: Dimension, system: System = "us", digits: int = 4, rounding: Rounding = "nearest"
) -> str:
    """Short text for people, to so many significant digits.

    Args:
        value: In inside units.
        dimension: What it is.
        system: US customary or SI.
        digits: Significant digits.
        rounding: "up" for a demand, "down" for a capacity (away from and toward zero).

    Returns:
        Text such as `96 in`, `2.44 kN`, `12 %`.
    """
    number, unit = convert(value, dimension=dimension, system=system)
    if unit in LARGER and abs(number) >= 1000.0:
        number, unit = number / 1000.0, LARGER[unit]
    return f"{plain_text(number, digits=digits, rounding=rounding)} {SPOKEN.get(unit, unit)}".rstrip()


def tape(inches: float, *, rounding: Rounding = "nearest", parts: int = 16) -> str:
    """A length for a tape: whole inches and a fraction, feet and inches over 24 in, such as `8 ft 10 1/4 in`.

    Args:
        inches: The length.
        rounding: "up" or "down" to the next mark, or to the nearest.
        parts: Marks to the inch, a power of two.
    """
    size = abs(inches) * parts
    marks = round(size) if rounding == "nearest" else math.ceil(size - 1e-6) if rounding == "up" else int(size + 1e-6)
    sign = "-" if inches < 0.0 and marks else ""
    return f"{sign}{marks_text(marks, parts=parts, feet=marks > 24 * parts)}"


def marks_text(marks: int, *, parts: int, feet: bool) -> str:
    """So many marks of a tape as inches and a fraction, or as feet and inches.

    Args:
        marks: How many, not negative.
        parts: Marks to the inch, a power of two.
        feet: Whether whole feet are told apart.
    """
    whole_feet, rest = divmod(marks, 12 * parts) if feet else (0, marks)
    whole, over = divmod(rest, parts)
    shared = math.gcd(over, parts)
    words = [f"{whole_feet} ft"] if whole_feet else []
    words += [str(whole)] if whole or not (over or whole_feet) else []
    words += [f"{over // shared}/{parts // shared}"] if over else []
    return f"{' '.join(words)}{' in' if rest or not whole_feet else ''}"


def plain_text(number: float, *, digits: int = 4, rounding: Rounding = "nearest") -> str:
    """A number to so many significant digits, never in powers of ten, no trailing zeros after the point."""
    if not math.isfinite(number):
        raise ValueError(f"not a finite number: {number!r}")
    if number == 0.0:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(number)))
    scaled = abs(number) * 10.0**places
    if rounding == "nearest" or abs(scaled - round(scaled)) <= 1e-9 * scaled:
        whole = round(scaled)
    else:
        whole = math.ceil(scaled) if rounding == "up" else math.floor(scaled)
    text = f"{math.copysign(whole, number) / 10.0**places:.{max(places, 0)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def grouped(text: str) -> str:
    """The text of a number with its thousands marked."""
    whole, point, rest = text.partition(".")
    return text if whole in ("-0", "0") else f"{int(whole):,}{point}{rest}"


@cache
def _shown_in(unit: str, dimension: Dimension) -> Callable[[float], float]:
    if dimension == "number":
        return float
    if dimension == "angle":
        return math.degrees
    if dimension == "pitch":
        slope = float(SLOPES[unit])
        return lambda value: math.tan(value) / slope
    factor = float(1 / UNITS[dimension][unit])
    return lambda value: value * factor

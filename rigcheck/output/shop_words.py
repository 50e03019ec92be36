"""Lengths and slopes as the shop reads them: feet, inches and sixteenths, or whole millimeters."""

from __future__ import annotations

from rigcheck.quantities import Rounding
from rigcheck.quantities.writing import tape
from rigcheck.wording.words import number

_FINEST = 64.0  # marks to the inch that are told as a fraction


def length_words(value: float | None, *, unit: str, rounding: Rounding = "nearest") -> str:
    """A length for a tape, such as `8 ft 10 in` or `2,692 mm`.

    Args:
        value: In the unit of the result; None for what is not described.
        unit: Label as in the result.
        rounding: To which mark.
    """
    if value is None:
        return "not described"
    if unit == "in":
        return tape(value, rounding=rounding)
    return number(value, unit=unit, digits=4, rounding=rounding)


def size_words(value: float | None, *, unit: str) -> str:
    """A size as a drawing has it: a fraction where it is one, else three digits."""
    if value is None:
        return "not described"
    marks = _FINEST * value
    if unit == "in" and abs(marks - round(marks)) < 1e-4:
        return tape(value, parts=int(_FINEST))
    return number(value, unit=unit, digits=4 if value < 1.0 else 3)


def pitch_words(value: float, *, unit: str) -> str:
    """A slope for a tape, such as `1 5/8 in/ft` or `135 mm/m`."""
    if unit == "in/ft":
        return f"{tape(value).removesuffix(' in')} in/ft"
    return number(value, unit=unit)

"""Write a length as a tape reads it: feet, inches and eighths, or whole millimetres, in chosen units."""

from __future__ import annotations

import re
from typing import Literal

from rigcheck.quantities.writing import marks_text

Tape = Literal["ft in", "in", "mm", "cm", "m"]

EIGHTHS = 8
_MM = 25.4  # an inch, by definition
_FEET = re.compile(r"ft|foot|feet|'|′", re.I)


def tape_of(text: str, *, system: str = "us") -> Tape:
    """In which units a length is written.

    Args:
        text: As in a file, such as `6 ft 8 in`; empty where nothing is written.
        system: Which units stand where nothing is written.
    """
    if not text.strip():
        return "mm" if system == "si" else "in"
    if _FEET.search(text):
        return "ft in"
    unit = text.strip().rstrip(".").rpartition(" ")[2].lstrip("0123456789./-")
    if unit in ("mm", "cm", "m"):
        return unit  # type: ignore[return-value]
    return "in"


def tape_text(inches: float, *, tape: Tape) -> str:
    """A length for a tape, to the nearest eighth of an inch or millimetre.

    Args:
        inches: The length. [in]
        tape: Its units.

    Returns:
        Text such as `8 ft 10 1/4 in` or `2445 mm`, which the reader takes.
    """
    sign = "-" if inches < 0.0 else ""
    if tape in ("mm", "cm", "m"):
        mm = int(abs(inches) * _MM + 0.5)
        number = {"mm": f"{mm}", "cm": f"{mm / 10:.1f}", "m": f"{mm / 1000:.3f}"}[tape]
        number = number.rstrip("0").rstrip(".") if "." in number else number
        return f"{sign if mm else ''}{number} {tape}"
    eighths = int(abs(inches) * EIGHTHS + 0.5)
    return f"{sign if eighths else ''}{marks_text(eighths, parts=EIGHTHS, feet=tape == 'ft in')}"

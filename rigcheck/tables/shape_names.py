"""Read the name of a steel shape into its kind and sizes."""

import re
from dataclasses import dataclass
from fractions import Fraction

from rigcheck.tables.errors import TableError
from rigcheck.tables.materials import gauge

FORMS = (
    "HSS2x2x1/8",
    "pipe 1-1/2 STD",
    "tube 1x1x.083",
    "tube 1-1/2x1-1/2x14ga",
    "round tube 1-1/2x.120",
    "angle 1-1/2x1-1/2x1/8",
    "bar 2x1/4",
    "round 3/4",
)
LARGEST = 24.0
"""Largest size read. [in]"""
ROUNDED = 6e-4
"""How far a decimal may be from the sixteenth it stands for, such as .188 for 3/16. [in]"""

_KINDS = {
    "hss": "hss",
    "pipe": "pipe",
    "round tube": "round tube",
    "tube": "tube",
    "angle": "angle",
    "l": "angle",
    "bar": "bar",
    "flat": "bar",
    "round bar": "round bar",
    "round": "round bar",
    "rod": "round bar",
}
_HEAD = re.compile(rf"({'|'.join(sorted(_KINDS, key=len, reverse=True))})\s*(?=[0-9.])(.*)", re.ASCII)
_FRACTION = re.compile(r"(?:([0-9]{1,3})[- ])?([0-9]{1,3})/([0-9]{1,3})")
_DECIMAL = re.compile(r"[0-9]{1,3}(?:\.[0-9]{0,6})?|\.[0-9]{1,6}")
_GAUGE = re.compile(r"([0-9]{1,2}) ?(?:ga|gauge)")
_SCHEDULE = re.compile(r"(.*?) ?(std|xs|xxs|sch ?40|sch ?80)")
_SCHEDULES = {"std": "STD", "xs": "XS", "xxs": "XXS", "sch40": "STD", "sch80": "XS"}


class BadSizeError(ValueError):
    """A shape name that cannot be read; says what is wrong with it."""


@dataclass(frozen=True, slots=True)
class Size:
    """One size in a shape name.

    Attributes:
        inches: The size. [in]
        label: How a list would write it.
        gauge: Sheet gauge it was given by; 0 when given in inches.
    """

    inches: float
    label: str
    gauge: int = 0


def read(name: str) -> tuple[str, list[Size], str]:
    """Split a shape name into kind, sizes in inches and, for a pipe, its weight class.

    Args:
        name: A name such as those in `FORMS`.

    Raises:
        BadSizeError: Not of an accepted form.
    """
    tidy = name.casefold().replace("×", "x").replace('"', " ").replace("″", " ")
    tidy = " ".join(re.sub(r"(?<=[0-9. ])in\b\.?", " ", tidy).split())
    head = _HEAD.fullmatch(tidy)
    if head is None:
        raise BadSizeError("not a shape name")
    kind, rest = _KINDS[head[1]], head[2]
    if kind == "pipe":
        found = _SCHEDULE.fullmatch(rest)
        if found is None:
            raise BadSizeError("a pipe has a nominal size and then STD, XS, XXS, sch 40 or sch 80")
        return kind, [size(found[1])], _SCHEDULES[found[2].replace(" ", "")]
    return kind, [size(part.strip()) for part in rest.split("x")], ""


def size(written: str) -> Size:
    """Read one size: "1-1/2", "1 1/2", "1.5", ".083" or "14 ga".

    Args:
        written: The size as written, lower case.

    Raises:
        BadSizeError: Not a size, or not between zero and `LARGEST`.
    """
    by_gauge = _GAUGE.fullmatch(written)
    if by_gauge:
        try:
            sheet = gauge(int(by_gauge[1]))
        except TableError as problem:
            raise BadSizeError(str(problem)) from None
        return Size(sheet.thickness, f"{sheet.number}ga", sheet.number)
    fraction = _FRACTION.fullmatch(written)
    if fraction and int(fraction[3]):
        inches = float(int(fraction[1] or 0) + Fraction(int(fraction[2]), int(fraction[3])))
    elif _DECIMAL.fullmatch(written):
        inches = float(written)
    else:
        raise BadSizeError(f'"{written}" is not a size in inches')
    if not 0.0 < inches <= LARGEST:
        raise BadSizeError(f'"{written}" is not between 0 and {LARGEST:g} in')
    return Size(inches, label(inches))


def label(inches: float) -> str:
    """Write inches in sixteenths where that is what they are, else as a decimal.

    Args:
        inches: The size. [in]
    """
    sixteenths = Fraction(round(inches * 16), 16)
    if not sixteenths or abs(float(sixteenths) - inches) > ROUNDED:
        return f"{inches:.4f}".rstrip("0").rstrip(".")
    whole, part = divmod(sixteenths, 1)
    return f"{whole}-{part}" if whole and part else f"{whole or part}"

"""Read a text with a unit; refuse everything outside the grammar and show the accepted forms.

The whole text must match and the dimension is known beforehand. Arithmetic is exact until the last
step, so a text is read to the nearest float of its exact value.
"""

import math
import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from rigcheck.quantities.units import ACCEPTED, DIMENSIONS, SLOPES, UNITS, Bare, Dimension, accepted_units

LONGEST_TEXT = 60

_MIXED = r"(?:[0-9]+(?:[ \t]+|-))?[0-9]+/[0-9]+"
_DECIMAL = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = rf"{_MIXED}|{_DECIMAL}"
_ONE = re.compile(rf"(?P<sign>-?)(?P<number>{_NUMBER})[ \t]*(?P<unit>[^0-9].*)?")
_FEET_INCHES = re.compile(
    rf"(?P<sign>-?)(?P<feet>[0-9]+)[ \t]*(?:ft|foot|feet|'|\u2032)(?:[ \t]*|-)"
    rf"(?P<inches>{_NUMBER})[ \t]*(?:in|inch|inches|\"|\u2033)"
)


class QuantityError(ValueError):
    """A text that is not a quantity of the wanted dimension."""

    def __init__(self, given: object, *, accepted: tuple[str, ...], why: str) -> None:
        """Keep what was given, the forms that would do, and the reason in words."""
        self.given = given
        self.accepted = accepted
        self.why = why
        super().__init__(f"{why}; write {one_of(accepted)}")


def one_of(forms: tuple[str, ...]) -> str:
    """The forms as they stand in a file, joined for a sentence: "8 ft", "96 in" or "2.44 m"."""
    quoted = [form if isinstance(form, Bare) else f'"{form}"' for form in forms]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def read(given: object, *, dimension: Dimension) -> float:
    """Read a text with a unit, or a bare number when the dimension is "number".

    Args:
        given: What the person wrote.
        dimension: What it must be.

    Returns:
        The value in inch, pound-force, psi, radian, second; always finite.

    Raises:
        QuantityError: The text does not match, or is not finite.
    """
    if dimension == "number":
        return _plain(given)
    if not isinstance(given, str):
        raise _refuse(given, dimension, why=_no_text(given))
    text = given.strip(" \t")
    if not text:
        raise _refuse(given, dimension, why="the text is empty")
    if len(text) > LONGEST_TEXT:
        raise _refuse(given[:20] + "...", dimension, why=f"the text is longer than {LONGEST_TEXT} characters")
    try:
        value = _typed(text, given, dimension)
    except OverflowError:
        raise _refuse(given, dimension, why=f'"{given}" is too large') from None
    if not math.isfinite(value):
        raise _refuse(given, dimension, why=f'"{given}" is too large')
    return value + 0.0


@cache
def gauge_thickness() -> Mapping[int, float]:
    """Manufacturers' standard gauge number to thickness, uncoated sheet. [in]

    Source: tables/data/sheet_gauge.toml, block manufacturers_standard.
    """
    import tomllib  # only a case that names a gauge pays for the parser
    from pkgutil import get_data

    data = get_data("rigcheck", "tables/data/sheet_gauge.toml")
    assert data is not None  # the loaders of files and of archives always have data
    raw = tomllib.loads(data.decode("utf-8"))
    return {int(row["gauge"]): float(row["thickness_in"]) for row in raw["manufacturers_standard"]["row"]}


def _plain(given: object) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float):
        shown = f'"{given}"' if isinstance(given, str) else _kind(given)
        raise _refuse(given, "number", why=f"{shown} is not a bare number (no quotes, no unit)")
    try:
        value = float(given)
    except OverflowError:
        raise _refuse("a very large number", "number", why="the number is too large") from None
    if not math.isfinite(value):
        raise _refuse(given, "number", why=f"{given} is not a finite number")
    return value


def _typed(text: str, given: str, dimension: Dimension) -> float:
    """The value of a text, or of what it is in plain letters where the text itself is outside of the grammar."""
    try:
        return _value(text, given, dimension)
    except QuantityError as refusal:
        from rigcheck.quantities.typed import decimal_comma, in_plain_letters  # few texts need it

        plain = in_plain_letters(text)
        if plain != text:
            return _value(plain, given, dimension)
        point = decimal_comma(text)
        if point is None:
            raise
        why = f'"{given}" has a decimal comma, which is read as neither a point nor thousands'
        try:
            _value(point, given, dimension)
        except QuantityError:
            raise _refuse(given, dimension, why=why) from None
        raise QuantityError(refusal.given, accepted=(point,), why=why) from None


def _value(text: str, given: str, dimension: Dimension) -> float:
    both = _FEET_INCHES.fullmatch(text) if dimension in ("length", "thickness") else None
    if both:
        inches = _fraction(both["inches"], given, dimension)
        if inches >= 12:
            raise _refuse(given, dimension, why=f'"{given}": the inches after feet must be under 12')
        total = 12 * int(both["feet"]) + inches
        return float(-total if both["sign"] else total)
    one = _ONE.fullmatch(text)
    if one is None:
        raise _refuse(given, dimension, why=f'"{given}" is not a number with a unit')
    number = _fraction(one["number"], given, dimension)
    unit = one["unit"]
    if unit is None:
        raise _refuse(given, dimension, why=f'"{given}" has no unit')
    value = _with_unit(-number if one["sign"] else number, unit, given=given, dimension=dimension)
    if value == 0.0 and number != 0:
        raise _refuse(given, dimension, why=f'"{given}" is too small')
    return value


def _with_unit(number: Fraction, unit: str, *, given: str, dimension: Dimension) -> float:
    if dimension in ("angle", "pitch"):
        if unit in ("deg", "\u00b0"):
            return math.radians(float(number))
        if unit == "rad":
            return float(number)
        if dimension == "pitch" and unit in SLOPES:
            return math.atan(float(number * SLOPES[unit]))
    elif dimension == "thickness" and unit in ("ga", "gauge"):
        return _gauge(number, given)
    else:
        ratio = UNITS[dimension].get(unit)
        if ratio is not None:
            return float(number * ratio)
    raise _refuse(given, dimension, why=_wrong_unit(given, unit, dimension))


def _wrong_unit(given: str, unit: str, dimension: Dimension) -> str:
    if unit == "T":
        return f'"{given}": a T may be a ton or a tonne; say which, as 2 ton (2000 lb each) or 2 tonne (2205 lb each)'
    for known in accepted_units(dimension):
        if known.lower() == unit.lower():
            return f'"{given}": the unit is spelled "{known}"'
    for other in DIMENSIONS:
        if unit in accepted_units(other):
            return f'"{given}" is not {_article(dimension)}'
    return f'"{given}" is not a number with a unit of {dimension}'


def _article(dimension: Dimension) -> str:
    return f"{'an' if dimension[0] in 'aeiou' else 'a'} {dimension}"


def _gauge(number: Fraction, given: str) -> float:
    table = gauge_thickness()
    found = table.get(int(number)) if number.denominator == 1 else None
    if found is None:
        known = ", ".join(str(gauge) for gauge in sorted(table))
        raise _refuse(given, "thickness", why=f'"{given}" is not in the sheet gauge table ({known})')
    return found


def _fraction(text: str, given: str, dimension: Dimension) -> Fraction:
    if "/" not in text:
        return Fraction(text)
    whole, _, part = text.replace("\t", " ").replace("-", " ").rpartition(" ")
    top, bottom = (int(digits) for digits in part.split("/"))
    if bottom == 0:
        raise _refuse(given, dimension, why=f'"{given}" divides by zero')
    if whole and top >= bottom:
        raise _refuse(given, dimension, why=f'"{given}": the fraction after a whole number must be under 1')
    return int(whole or 0) + Fraction(top, bottom)


def _refuse(given: object, dimension: Dimension, *, why: str) -> QuantityError:
    return QuantityError(given, accepted=ACCEPTED[dimension], why=why)


def _no_text(given: object) -> str:
    if isinstance(given, int) and given.bit_length() > 200:
        return "a very large number without a unit"
    if isinstance(given, int | float) and not isinstance(given, bool):
        return f"{given} is a bare number and this key needs a unit"
    return f"{_kind(given)} is not a text with a unit"


def _kind(given: object) -> str:
    if isinstance(given, bool):
        return "true" if given else "false"
    if isinstance(given, dict):
        return "a table"
    return "a list" if isinstance(given, list) else str(given)[:40]

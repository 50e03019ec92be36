"""Bring what people type into the grammar of the reader, where it has one meaning only."""

import re

from rigcheck.quantities.units import DIMENSIONS, accepted_units

_SPACES = re.compile("[\u00a0\u2007\u2009\u202f]")
_FEET_MARKS = re.compile("[\u2018\u2019\u2032]")
_INCH_MARKS = re.compile("[\u201c\u201d\u2033]")
_DASHES = re.compile("[\u2010\u2011\u2013\u2212]")
_PARTS = {"\u00bd": "1/2", "\u00bc": "1/4", "\u00be": "3/4", "\u215b": "1/8", "\u215c": "3/8", "\u215d": "5/8",
          "\u215e": "7/8"}  # fmt: skip
_PART = re.compile(rf"([0-9]?)[ \t]*([{''.join(_PARTS)}])")
_POINT_OF_UNIT = re.compile(r"(?<=[A-Za-z])\.(?=[ \t,]|$)")
_FEET_THEN = re.compile(r"(ft|foot|feet|')[ \t]*(?:,|-[ \t])[ \t]*(?=[0-9])")
_THOUSANDS = re.compile(r"(?<![0-9.,])[0-9]{1,3}(?:,[0-9]{3})+(?![0-9,])")
_GAUGE = re.compile(r"(?:#[ \t]*)?([0-9]+)[ \t]*(?:ga|gauge|gage)|(?:ga|gauge|gage)[ \t]*#?[ \t]*([0-9]+)")
_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
_SAID = (
    (re.compile(r"\s+per\s+", re.IGNORECASE), "/"),
    (re.compile(r"\b(?:cu(?:bic)?\.?[ \t]*)(ft|foot|feet|yd|yards?|m|in)\b", re.IGNORECASE), r"\g<1>3"),
    (re.compile(r"\b(?:sq(?:uare)?\.?[ \t]*)(ft|foot|feet|in|m|mm)\b", re.IGNORECASE), r"\g<1>2"),
    (re.compile(r"(?<=[A-Za-z])\^(?=[23]\b)"), ""),
    (re.compile(r"\byards?(?=3\b)", re.IGNORECASE), "yd"),
    (re.compile(r"\b(?:foot|feet)(?=[23]\b)|(?<=/)[ \t]*(?:foot|feet)\b", re.IGNORECASE), "ft"),
    (re.compile(r"[ \t]*\"(?=/)"), " in"),
    (re.compile(r"(?<=/)[ \t]*(?:hrs?|hours?)\b", re.IGNORECASE), "h"),
    (re.compile(r"\b(?:US[ \t]+)?gal(?:lons?)?/min(?:ute)?\b", re.IGNORECASE), "gpm"),
    (re.compile(r"\bpounds?\b", re.IGNORECASE), "lb"),
    (re.compile(r"\bkips\b", re.IGNORECASE), "kip"),
    (re.compile(r"\bdegrees?\b", re.IGNORECASE), "deg"),
    (re.compile(r"\bper[ \t]?cent\b", re.IGNORECASE), "%"),
)
"""Words and signs of the shop and what they are in the grammar, in the order in which they are put in."""
_UNIT = re.compile(r"(?<![A-Za-z])[A-Za-z][A-Za-z0-9*/-]+")
_TOLD_APART = frozenset({"mpa"})
"""Units whose capital letter changes what they are: MPa is a thousand million times a mPa."""


def in_plain_letters(text: str) -> str:
    """The text as the reader takes it: plain spaces, quotes and dashes, no comma in thousands, units as it spells them.

    Args:
        text: What was typed.

    Returns:
        The same quantity; the text itself where nothing of this is in it.
    """
    plain = _DASHES.sub("-", _INCH_MARKS.sub('"', _FEET_MARKS.sub("'", _SPACES.sub(" ", text))))
    plain = _PART.sub(lambda found: f"{found[1]} {_PARTS[found[2]]}".strip(), plain)
    plain = _THOUSANDS.sub(lambda found: found[0].replace(",", ""), _POINT_OF_UNIT.sub("", plain))
    plain = _FEET_THEN.sub(r"\1 ", plain)
    for said, unit in _SAID:
        plain = said.sub(unit, plain)
    plain = _UNIT.sub(lambda found: _SPELLED.get(found[0].lower(), found[0]), plain)
    gauge = _GAUGE.fullmatch(plain)
    return f"{gauge[1] or gauge[2]} ga" if gauge else plain


def _spelled() -> dict[str, str]:
    """Every unit of two letters or more in small letters to how the reader spells it; T and M are never guessed at."""
    every = {unit for dimension in DIMENSIONS for unit in accepted_units(dimension) if len(unit) > 1 and unit.isascii()}
    return {unit.lower(): unit for unit in sorted(every, reverse=True) if unit.lower() not in _TOLD_APART}


_SPELLED = _spelled()


def decimal_comma(text: str) -> str | None:
    """The text with a point, where a comma stands between its digits; None where none does."""
    return _DECIMAL_COMMA.sub(".", text) if len(_DECIMAL_COMMA.findall(text)) == 1 else None

"""Bring what people type into the grammar of the reader, where it has one meaning only."""

import re

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


def in_plain_letters(text: str) -> str:
    """The text as the reader takes it: plain spaces, quotes and dashes, no comma in thousands, no point after a unit.

    Args:
        text: What was typed.

    Returns:
        The same quantity; the text itself where nothing of this is in it.
    """
    plain = _DASHES.sub("-", _INCH_MARKS.sub('"', _FEET_MARKS.sub("'", _SPACES.sub(" ", text))))
    plain = _PART.sub(lambda found: f"{found[1]} {_PARTS[found[2]]}".strip(), plain)
    plain = _THOUSANDS.sub(lambda found: found[0].replace(",", ""), _POINT_OF_UNIT.sub("", plain))
    plain = _FEET_THEN.sub(r"\1 ", plain)
    gauge = _GAUGE.fullmatch(plain)
    return f"{gauge[1] or gauge[2]} ga" if gauge else plain


def decimal_comma(text: str) -> str | None:
    """The text with a point, where a comma stands between its digits; None where none does."""
    return _DECIMAL_COMMA.sub(".", text) if len(_DECIMAL_COMMA.findall(text)) == 1 else None

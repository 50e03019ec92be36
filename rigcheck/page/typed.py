"""What stands in a field of the page, and the value of a case file that it stands for."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from rigcheck.case.errors import Location
from rigcheck.case.reading.tables import MOST_ROWS
from rigcheck.case.schema.keys import find_field
from rigcheck.case.schema.kinds import Flag, Kind, Point, Quantity, Whole, is_unknown
from rigcheck.case.schema.sections import Field

_STEP = re.compile(r"([a-z_]{1,40})(?:\[([1-9][0-9]{0,2})\])?", re.ASCII)
_WHOLE = re.compile(r"[+-]?[0-9]{1,18}", re.ASCII)
_DECIMAL = re.compile(r"[+-]?[0-9]{1,18}(?:\.[0-9]{1,18})?(?:[eE][+-]?[0-9]{1,3})?", re.ASCII)
_YES, _NO = frozenset({"true", "yes"}), frozenset({"false", "no"})
_DEEPEST = 6  # steps of a path; a case has five at most
LONGEST_TYPED = 400  # letters in one field


class BadRequestError(Exception):
    """Something that the page itself would never send."""


def location_of(path: str) -> Location:
    """Steps of a key path such as `line.link[2].wll`, rows counted from 0.

    Args:
        path: As a person writes it, rows counted from 1.

    Raises:
        BadRequestError: No case has such a key, or a row is named where there are none, or not named where there are.
    """
    location: list[str | int] = []
    for step in path.split(".", _DEEPEST):
        match = _STEP.fullmatch(step)
        if match is None:
            raise BadRequestError("no such key")
        location.append(match[1])
        field = find_field(tuple(location))[1]
        if field is None or field.word != match[1]:
            raise BadRequestError("no such key")
        if match[2] is not None:
            if not field.repeated or int(match[2]) > MOST_ROWS:
                raise BadRequestError("no such row")
            location.append(int(match[2]) - 1)
    return tuple(location)


def field_of(path: str) -> Field:
    """The declaration behind a key path.

    Raises:
        BadRequestError: No case has such a key.
    """
    location = location_of(path)
    field = find_field(location)[1]
    if field is None:
        raise BadRequestError("no such key")
    return field


def found_at(data: Any, location: Location) -> Any:
    """What stands at a place of parsed data; None where nothing does.

    Args:
        data: The data, tables and rows.
        location: Steps from its top, rows counted from 0.
    """
    for step in location:
        if isinstance(step, int):
            data = data[step] if isinstance(data, list) and step < len(data) else None
        else:
            data = data.get(step) if isinstance(data, Mapping) else None
    return data


def text_of(value: Any) -> str:
    """A value of a file as it stands in a field; empty for one that no field can hold."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return ", ".join(text_of(part) for part in value)
    return "" if value is None or isinstance(value, dict) else str(value)


def value_of(text: str, kind: Kind | None) -> Any:
    """What a typed text is in a file: a number or true and false where the key takes those, else the text itself.

    Args:
        text: As typed.
        kind: What the key takes.

    Returns:
        The value; one that the key does not take goes to the reader as it is, which says so.
    """
    text = text.strip()
    if is_unknown(text):
        return text
    if isinstance(kind, Flag) and text.casefold() in _YES | _NO:
        return text.casefold() in _YES
    number = isinstance(kind, Quantity) and kind.dimension == "number"
    if (isinstance(kind, Whole) or number) and _WHOLE.fullmatch(text):
        return int(text)
    if number and _DECIMAL.fullmatch(text):
        return float(text)
    if isinstance(kind, Point):
        return [part.strip().strip("\"'") for part in text.strip("[]").split(",")]
    return text

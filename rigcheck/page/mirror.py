"""The other side of a row that stands on one side: left mirrors right, unless somebody says otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import isclose
from typing import Any

from rigcheck.case.schema.kinds import Choice, Point, Quantity, RefusedError
from rigcheck.case.schema.sections import Field, Section, fields_of
from rigcheck.page.typed import text_of, value_of

DO = "mirror"
_ACROSS, NAME = "across", "name"
_OTHER = {"left": "right", "right": "left"}


def has_sides(section: type[Section]) -> bool:
    """Whether a row of a table stands on one side of the rig."""
    return any(isinstance(one.kind, Point) or one.word == _ACROSS for one in fields_of(section).values())


def mirrored(section: type[Section], row: Mapping[str, Any]) -> dict[str, str]:
    """Keys and texts of the mirror image of a row; its name is left to whoever names it.

    Args:
        section: What the row is.
        row: As it stands on the page.
    """
    return {key: _image(one, value) for key, one, value in _given(section, row)}


def twins(section: type[Section], rows: Sequence[Any]) -> dict[int, int]:
    """Which rows of a table mirror each other in everything but their names, counted from 1, both ways.

    Args:
        section: What the rows are.
        rows: As they stand on the page.
    """
    found: dict[int, int] = {}
    for one, row in enumerate(rows, 1):
        image = mirrored(section, row) if isinstance(row, Mapping) else {}
        for other, beside in enumerate(rows[one:], one + 1):
            if {one, other}.isdisjoint(found) and isinstance(beside, Mapping) and _same(section, image, beside):
                found |= {one: other, other: one}
    return found


def _same(section: type[Section], image: Mapping[str, str], row: Mapping[str, Any]) -> bool:
    """Whether a row is an image, however its lengths are written."""
    given = {key: (one, text_of(value)) for key, one, value in _given(section, row)}
    return bool(image) and set(given) == set(image) and all(_equal(*given[key], text) for key, text in image.items())


def _given(section: type[Section], row: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Field, Any]]:
    """Key, declaration and value of all that a row and the tables in it hold, but for names."""
    for one in fields_of(section).values():
        value = row.get(one.word)
        if value is None or one.word == NAME:
            continue
        if one.section is not None and isinstance(value, Mapping):
            yield from _given(one.section, value, f"{above}{one.word}.")
        elif one.section is None:
            yield f"{above}{one.word}", one, value


def _equal(field: Field, one: str, other: str) -> bool:
    if one == other or not isinstance(field.kind, Quantity | Point):
        return one == other
    try:
        first, second = (_numbers(field.kind.read(value_of(text, field.kind))) for text in (one, other))
    except RefusedError:
        return False
    return all(isclose(a, b, rel_tol=1e-9, abs_tol=1e-9) for a, b in zip(first, second, strict=True))


def _numbers(value: float | tuple[float, float, float]) -> tuple[float, ...]:
    return value if isinstance(value, tuple) else (value,)


def _image(field: Field, value: Any) -> str:
    text = text_of(value)
    if isinstance(field.kind, Point) and isinstance(value, list) and len(value) == 3:
        return ", ".join((text_of(value[0]), _negative(text_of(value[1])), text_of(value[2])))
    if field.word == _ACROSS:
        return _negative(text)
    return _OTHER.get(text, text) if isinstance(field.kind, Choice) and set(_OTHER) <= set(field.kind.choices) else text


def _negative(text: str) -> str:
    text = text.strip().removeprefix("+")
    return text[1:].strip() if text.startswith("-") else f"-{text}"

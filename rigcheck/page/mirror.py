"""The other side of a row that stands on one side: left mirrors right, unless somebody says otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rigcheck.case.schema.kinds import Choice, Point
from rigcheck.case.schema.sections import Field, Section, fields_of
from rigcheck.page.typed import text_of

DO = "mirror"
_ACROSS, _NAME = "across", "name"
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
    return dict(_mirrored(section, row, ""))


def _mirrored(section: type[Section], row: Mapping[str, Any], above: str) -> Iterator[tuple[str, str]]:
    for one in fields_of(section).values():
        value = row.get(one.word)
        if value is None or one.word == _NAME:
            continue
        if one.section is not None and isinstance(value, Mapping):
            yield from _mirrored(one.section, value, f"{above}{one.word}.")
        elif one.section is None:
            yield f"{above}{one.word}", _text(one, value)


def _text(field: Field, value: Any) -> str:
    text = text_of(value)
    if isinstance(field.kind, Point) and isinstance(value, list) and len(value) == 3:
        return ", ".join((text_of(value[0]), _negative(text_of(value[1])), text_of(value[2])))
    if field.word == _ACROSS:
        return _negative(text)
    return _OTHER.get(text, text) if isinstance(field.kind, Choice) and set(_OTHER) <= set(field.kind.choices) else text


def _negative(text: str) -> str:
    text = text.strip().removeprefix("+")
    return text[1:].strip() if text.startswith("-") else f"-{text}"

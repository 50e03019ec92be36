"""A remedy as texts for the fields of the page, so that it can be taken with one press and taken back with another."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from rigcheck.case.errors import Location, key_path
from rigcheck.case.schema.keys import find_field
from rigcheck.case.schema.kinds import Quantity, RefusedError
from rigcheck.case.schema.sections import Section, fields_of, stated
from rigcheck.page.typed import text_of
from rigcheck.quantities import exact, plain_text
from rigcheck.quantities.shop import tape_of, tape_text
from rigcheck.studies.remedies.record import Remedy

SET = "set "
"""How the button of a remedy begins; keys and texts follow as JSON."""
_NEAR = 1e-9


def typed_by(remedy: Remedy, *, data: Any) -> dict[str, str | None]:
    """Keys and texts that carry a remedy out; what is read from them is what was tried.

    Args:
        remedy: The changes.
        data: The numbers on the page.
    """
    found: dict[str, str | None] = {}
    for step in remedy.steps:
        for key, value in step.changes.items():
            location = tuple(int(part) if part.isdigit() else part for part in key.split("."))
            found |= dict(_typed(location, value, data))
    return found


def _typed(location: Location, value: Any, data: Any) -> Iterator[tuple[str, str | None]]:
    field = find_field(location)[1]
    if isinstance(value, Section):
        given = stated(value)
        if not given:
            yield key_path(location), None
        for name, one in fields_of(type(value)).items():
            if name in given:
                yield from _typed((*location, one.word), getattr(value, name), data)
        return
    kind = None if field is None else field.kind
    if isinstance(kind, Quantity) and isinstance(value, int | float):
        yield key_path(location), _quantity(float(value), kind, old=text_of(_at(data, location)))
    else:
        yield key_path(location), None if value is None else text_of(value)


def _quantity(value: float, kind: Quantity, *, old: str) -> str:
    """A number as a shop would write it where that is exactly the number, else in full."""
    tries = []
    if kind.dimension in ("length", "thickness"):
        tries.append(tape_text(value, tape=tape_of(old)))
    if kind.dimension == "force":
        tries.append(f"{plain_text(value, digits=6)} lb")
    for text in tries:
        try:
            if abs(kind.read(text) - value) <= _NEAR * max(abs(value), 1.0):
                return text
        except RefusedError:
            continue
    return exact(value, dimension=kind.dimension)


def _at(data: Any, location: Location) -> Any:
    for step in location:
        if isinstance(data, dict):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return None
    return data


def button_value(remedy: Remedy, *, data: Any) -> str:
    """What the button of a remedy sends."""
    return SET + json.dumps(typed_by(remedy, data=data))


def fits(remedy: Remedy) -> bool:
    """Whether the check counts with it, so that taking it changes the answer."""
    return remedy.counted == "check"

"""Keys whose stated value may be gentler on the rig than is usual: a factor, a person, a wind that is less."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

import rigcheck.case.models.case as models
from rigcheck.case.schema.sections import Section, fields_of


class Usual(NamedTuple):
    """One key that makes a rig's load cases milder the smaller it is.

    Attributes:
        path: Key path.
        words: The usual value, as written in a file.
        value: The same in inside units; 1 for yes.
        source: Where the usual value comes from.
    """

    path: str
    words: str
    value: float
    source: str


@cache
def usual_keys() -> tuple[Usual, ...]:
    """Every such key of a case outside its repeated tables."""
    return tuple(_inside(models.Case, ""))


def _inside(section: type[Section], above: str) -> Iterator[Usual]:
    for field in fields_of(section).values():
        path = f"{above}{field.name}"
        if field.section is not None and not field.repeated:
            yield from _inside(field.section, f"{path}.")
        elif field.kind is not None and field.about.usual is not None:
            words = str(field.about.usual).lower() if isinstance(field.about.usual, bool) else str(field.about.usual)
            yield Usual(path, words, float(field.kind.read(field.about.usual)), field.about.source)

"""Read a table of a case and everything inside it: a section, or every mistake and the parts that can be used."""

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from rigcheck.case.errors import Location
from rigcheck.case.schema.kinds import RefusedError
from rigcheck.case.schema.sections import Field, Section, SomeSection, fields_of, filled

MOST_ROWS = 100  # of one repeated table; more is no rig but a slip, and would take memory without end


class Failure(NamedTuple):
    """One thing that cannot be read.

    Attributes:
        location: Where.
        what: What is wrong with it; the answer of its kind for a value.
        given: What stands there.
    """

    location: Location
    what: Literal["missing", "unknown", "no table", "no list", "too few", "too many"] | RefusedError
    given: Any


class Found(NamedTuple):
    """What reading found.

    Attributes:
        failures: All of them.
        parts: The sections that can be used, with their place; those left out that stand with their defaults too.
    """

    failures: list[Failure]
    parts: dict[Location, Section]


def read_section(section: type[SomeSection], data: Any, *, found: Found, location: Location = ()) -> SomeSection | None:
    """Read a table.

    Args:
        section: What it is.
        data: Keys and values as in a file.
        found: Takes what is found.
        location: Where the table stands.

    Returns:
        The section; None when something in it cannot be read.
    """
    if not isinstance(data, Mapping):
        found.failures.append(Failure(location, "no table", data))
        return None
    before = len(found.failures)
    values: dict[str, Any] = {}
    given: list[str] = []
    for name, field in fields_of(section).items():
        place = (*location, field.word)
        if field.word in data:
            given.append(name)
            values[name] = _read(field, data[field.word], place, found)
        elif field.required:
            found.failures.append(Failure(place, "missing", data))
        elif field.section is not None and field.about.default == {}:
            values[name] = read_section(field.section, {}, found=found, location=place)
    if len(given) < len(data):
        words = {field.word for field in fields_of(section).values()}
        found.failures.extend(Failure((*location, str(word)), "unknown", data) for word in data if word not in words)
    if len(found.failures) > before:
        return None
    new = found.parts[location] = filled(section, values, given=frozenset(given))
    return new


def _read(field: Field, given: Any, location: Location, found: Found) -> Any:
    if given is None and field.optional:
        return None
    if field.kind is not None:
        try:
            return field.kind.read(given)
        except RefusedError as refusal:
            found.failures.append(Failure(location, refusal, given))
            return None
    assert field.section is not None
    rows = isinstance(given, list | tuple)
    if rows and field.repeated:
        return _rows(field, given, location, found)
    if not rows and not field.repeated:
        return read_section(field.section, given, found=found, location=location)
    found.failures.append(Failure(location, "no list" if field.repeated else "no table", given))
    aside = Found([], found.parts)  # a list in place of a table and the other way round: rules look at what is inside
    for number, one in enumerate(given if rows else [given] if isinstance(given, Mapping) else []):
        read_section(field.section, one, found=aside, location=(*location, number) if rows else location)
    return None


def _rows(field: Field, given: Any, location: Location, found: Found) -> tuple[Section | None, ...]:
    assert field.section is not None
    if len(given) < (field.least or 0):
        found.failures.append(Failure(location, "too few", given))
    if len(given) > MOST_ROWS:
        found.failures.append(Failure(location, "too many", given))
    return tuple(
        read_section(field.section, one, found=found, location=(*location, number))
        for number, one in enumerate(given[:MOST_ROWS])
    )

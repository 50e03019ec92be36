"""Read a table of a case and everything inside it: a section, or every mistake and the parts that can be used."""

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from rigcheck.case.errors import Location
from rigcheck.case.schema.kinds import RefusedError, Words, is_unknown
from rigcheck.case.schema.sections import MUST_BE_KNOWN, Field, Section, SomeSection, fields_of, filled

MOST_ROWS = 100  # of one repeated table; more is no rig but a slip, and would take memory without end


class Failure(NamedTuple):
    """One thing that cannot be read.

    Attributes:
        location: Where.
        what: What is wrong with it; the answer of its kind for a value.
        given: What stands there.
    """

    location: Location
    what: Literal["missing", "unknown", "no table", "no list", "too few", "too many", "not known"] | RefusedError
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
    guessed: list[str] = []
    for name, field in fields_of(section).items():
        place = (*location, field.word)
        if field.word in data and _is_unknown(field, data[field.word]):
            if field.required or field.about.lowest is MUST_BE_KNOWN:
                found.failures.append(Failure(place, "not known", data[field.word]))
            elif field.about.lowest is not None and field.kind is not None:
                guessed.append(name)
                values[name] = field.kind.read(field.about.lowest)
            elif field.section is not None and field.about.default == {}:
                values[name] = read_section(field.section, {}, found=found, location=place)
        elif field.word in data:
            values[name] = _read(field, data[field.word], place, found)
            part = field.kind is not None and field.kind.part_unknown(data[field.word])
            (guessed if part else given).append(name)
        elif field.required:
            found.failures.append(Failure(place, "missing", data))
        elif field.section is not None and field.about.default == {}:
            values[name] = read_section(field.section, {}, found=found, location=place)
    if len(given) + len(guessed) < len(data):
        words = {field.word for field in fields_of(section).values()}
        found.failures.extend(Failure((*location, str(word)), "unknown", data) for word in data if word not in words)
    if len(found.failures) > before:
        return None
    new = found.parts[location] = filled(section, values, given=frozenset(given), guessed=frozenset(guessed))
    return new


def _is_unknown(field: Field, given: Any) -> bool:
    """Whether a value says that it is not known; a text that a case must have may read so."""
    return is_unknown(given) and not (field.required and isinstance(field.kind, Words))


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

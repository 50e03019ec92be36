"""The keys of a case, walked from the models: names, paths, declarations, and which values were defaulted."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from rigcheck.case.errors import Location
from rigcheck.case.models.case import Case
from rigcheck.case.schema.kinds import Kind
from rigcheck.case.schema.sections import Field, Section, fields_of, guessed, stated

LOWEST = "said to be unknown: the lowest is taken"
THINNEST = "wall said to be unknown: the thinnest that is listed of that size"


def find_field(location: Location) -> tuple[type[Section] | None, Field | None]:
    """The section that a location stands in and the declaration of its last step, None where there is none."""
    section: type[Section] | None = Case
    inside: type[Section] | None = None
    field: Field | None = None
    for step in location:
        if isinstance(step, int):
            continue
        inside, field = section, None
        if section is not None:
            field = next((one for one in fields_of(section).values() if step in (one.name, one.word)), None)
        section = None if field is None else field.section
    return inside, field


def key_names(section: type[Section]) -> tuple[str, ...]:
    """The keys of a section as they are written in a file."""
    return tuple(field.word for field in fields_of(section).values())


def all_key_paths(section: type[Section] = Case, *, above: str = "") -> tuple[str, ...]:
    """Every key path of a case, repeated tables without their number."""
    paths: tuple[str, ...] = ()
    for field in fields_of(section).values():
        path = f"{above}{field.word}"
        paths += (path,) if field.section is None else (path, *all_key_paths(field.section, above=f"{path}."))
    return paths


def toml_text(value: Any) -> str:
    """A value as it is written in a file."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml_text(one) for one in value)}]"
    if not isinstance(value, str):
        return str(value)
    from json import dumps  # texts alone need it

    return dumps(value, ensure_ascii=False)


class Entry(NamedTuple):
    """One key of a case file.

    Attributes:
        path: Key path, repeated tables without their number.
        kind: Type in words, with its limits.
        required: Whether its section must have it.
        default: What it is when omitted, as written in a file or in words.
        meaning: One line.
        example: An accepted value as written in a file.
        source: Where the default comes from, or that it is an assumption.
    """

    path: str
    kind: str
    required: bool
    default: str
    meaning: str
    example: str
    source: str


class Defaulted(NamedTuple):
    """One key that the user left out.

    Attributes:
        path: Key path, repeated tables counted from 1.
        value: What was taken, as it would be written in a file, or in words.
        source: Where that comes from, or that it is an assumption.
    """

    path: str
    value: str
    source: str


def glossary(section: type[Section] = Case, *, above: str = "") -> tuple[Entry, ...]:
    """Every key that holds a value, in the order of the models."""
    entries: list[Entry] = []
    for field in fields_of(section).values():
        path = f"{above}{field.word}"
        if field.section is None:
            entries.append(_entry(path, field))
        else:
            entries.extend(glossary(field.section, above=f"{path}."))
    return tuple(entries)


def defaulted_keys(case: Case) -> tuple[Defaulted, ...]:
    """Every key whose default was taken, in the order of the models.

    Optional keys that stand for nothing (a name, a part not described) are not defaults and are left out.
    """
    return tuple(_defaulted(case, ""))


def _defaulted(section: Section, above: str) -> Iterator[Defaulted]:
    given = stated(section)
    for name, field in fields_of(type(section)).items():
        path = f"{above}{field.word}"
        if field.section is not None:
            value = getattr(section, name)
            rows = value if isinstance(value, tuple) else ()
            if isinstance(value, Section):
                yield from _defaulted(value, f"{path}.")
            for number, one in enumerate(rows):
                yield from _defaulted(one, f"{path}[{number + 1}].")
        elif name in guessed(section):
            yield Defaulted(path, _guess(section, field), LOWEST if field.about.lowest is not None else THINNEST)
        elif name not in given:
            about = field.about
            if about.only and about.only != getattr(section, "kind", ""):
                continue
            if about.derived:
                yield Defaulted(path, about.derived, "follows from other keys")
            elif about.source:
                yield Defaulted(path, default_text(field), about.source)


def _guess(section: Section, field: Field) -> str:
    """What stands for a key that is said to be unknown, as it would be written in a file."""
    lowest = field.about.lowest
    return toml_text(getattr(section, field.name) if lowest is None else lowest)


def default_text(field: Field) -> str:
    """The default as it would be written in a file; empty where there is none."""
    default = field.about.default
    return "" if field.required or default in (None, ()) else toml_text(default)


def kind_of(field: Field) -> Kind | None:
    """The kind of value that a key holds; None for a section."""
    return field.kind


def kind_words(field: Field) -> str:
    """The type of a key in words."""
    return "" if field.kind is None else field.kind.words()


def _entry(path: str, field: Field) -> Entry:
    about = field.about
    return Entry(
        path=path,
        kind=kind_words(field),
        required=field.required,
        default=default_text(field) or about.derived,
        meaning=about.meaning,
        example=toml_text(about.example) if about.example is not None else "",
        source=about.source,
    )

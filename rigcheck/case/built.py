"""Keys whose value may be what is stated, but is outside what is built: whoever reads the verdict is asked about it."""

from collections.abc import Iterator
from typing import Any, NamedTuple, TypeAlias

from rigcheck.case.models.case import Case
from rigcheck.case.schema.sections import Field, Section, fields_of


class Built(NamedTuple):
    """One key of a case with the sizes between which it is built.

    Attributes:
        key: Key path as a rig reads it, rows counted from 0.
        name: Key path as a person reads it, rows counted from 1.
        least: The least size. [inside units]
        most: The most.
        words: Both as written in a file.
        none_at_zero: Whether zero says that there is none.
    """

    key: str
    name: str
    least: float
    most: float
    words: str
    none_at_zero: bool


def built_keys(case: Case) -> Iterator[Built]:
    """Every such key that a case has a value for."""
    yield from _inside(case, "", "")


def _inside(section: Section, key: str, name: str) -> Iterator[Built]:
    values, holders = _of(type(section))
    for field, least, most, words in values:
        if getattr(section, field.name) is not None:
            at, called = f"{key}{field.name}", f"{name}{field.word}"
            yield Built(at, called, least, most, words, field.about.none_at_zero)
    for field in holders:
        inner: Any = getattr(section, field.name)
        if inner is None:
            continue
        if not field.repeated:
            yield from _inside(inner, f"{key}{field.name}.", f"{name}{field.word}.")
            continue
        for number, row in enumerate(inner):
            yield from _inside(row, f"{key}{field.name}.{number}.", f"{name}{field.word}[{number + 1}].")


_Keys: TypeAlias = tuple[tuple[tuple[Field, float, float, str], ...], tuple[Field, ...]]
_read: dict[type[Section], _Keys] = {}


def _of(section: type[Section]) -> _Keys:
    """The keys of a section that are built between two sizes, and the keys that hold tables with such keys."""
    if section not in _read:
        _read[section] = _found_in(section)
    return _read[section]


def _found_in(section: type[Section]) -> _Keys:
    values: list[tuple[Field, float, float, str]] = []
    holders: list[Field] = []
    for field in fields_of(section).values():
        if field.section is not None:
            inner = _of(field.section)
            if inner[0] or inner[1]:
                holders.append(field)
        elif field.kind is not None and field.about.built:
            least, most = (float(field.kind.read(one)) for one in field.about.built)
            values.append((field, least, most, built_words(field)))
    return tuple(values), tuple(holders)


def built_words(field: Field) -> str:
    """Between what a key is built, as a person reads it; empty where any size is."""
    return " to ".join(str(one) for one in field.about.built)

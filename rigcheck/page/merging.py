"""Bring changes onto another file than the one they were made on: what the page wants, key by key, kept or chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from rigcheck.case.errors import Location, key_path
from rigcheck.page.book import Copy
from rigcheck.page.changes import Changes
from rigcheck.page.edits import edits_between
from rigcheck.page.typed import text_of
from rigcheck.wording.plain import Plain

_NOTHING: Any = object()


@dataclass(frozen=True, slots=True)
class Difference:
    """A key that stands otherwise in the file than where the page started.

    Attributes:
        key: Its path.
        was: Its text where the page started; empty where there was none.
        mine: On the page.
        theirs: In the file now.
        both: Whether the page changed it too, to something else.
    """

    key: str
    was: str
    mine: str
    theirs: str
    both: bool


def differences(base: Mapping[str, Any], *, mine: Mapping[str, Any], theirs: Mapping[str, Any]) -> list[Difference]:
    """What was changed in a file since a page started from it.

    Args:
        base: Where the page started.
        mine: What stands on the page.
        theirs: What stands in the file.
    """
    found = []
    for place in _places(base, mine, theirs):
        was, own, other = (_at(data, place) for data in (base, mine, theirs))
        if other != was:
            both = own not in (was, other)
            found.append(Difference(key_path(place), _said(was), _said(own), _said(other), both))
    return found


def merged(
    base: Mapping[str, Any], *, mine: Mapping[str, Any], theirs: Mapping[str, Any], keep_theirs: frozenset[str]
) -> Plain:
    """The file as it stands with the changes of the page.

    Args:
        base: Where the page started.
        mine: What stands on the page.
        theirs: What stands in the file.
        keep_theirs: Keys changed on both sides that stay as the file has them.
    """
    found = deepcopy(dict(theirs))
    for place in _places(base, mine, theirs):
        was, own, other = (_at(data, place) for data in (base, mine, theirs))
        if own == was or (other not in (was, own) and key_path(place) in keep_theirs):
            continue
        _put(found, place, own)
    _without_husks(found, mine, ())
    return found


def _without_husks(data: Plain, mine: Mapping[str, Any], place: Location) -> None:
    """Take out tables that nothing is left of and that the page took out whole."""
    for key, value in list(data.items()):
        for number, row in enumerate(_rows(value)):
            _without_husks(row, mine, (*place, key, number))
        if isinstance(value, dict):
            _without_husks(value, mine, (*place, key))
            if not value and _at(mine, (*place, key)) is _NOTHING:
                del data[key]


def changes_to(copy: Copy, wanted: Mapping[str, Any]) -> Changes:
    """The changes that make of a file what is wanted.

    Args:
        copy: The file.
        wanted: Keys and values as the reader takes them.
    """
    rows = {key_path(place): _order(_at(copy.data, place), _at(wanted, place)) for place in _tables(copy.data, wanted)}
    start = deepcopy(dict(copy.data))
    for place in _tables(copy.data, wanted):
        old = _rows(_at(copy.data, place))
        new = [deepcopy(old[number - 1]) if number else {} for number in rows[key_path(place)]]
        _put(start, place, new if new else _NOTHING)
    typed: dict[str, str | None] = {}
    for edit in edits_between(start, wanted):
        typed[key_path(edit.location)] = None if edit.value is None else text_of(edit.value)
    return Changes(copy.sha256, typed, rows)


def _order(old: Any, new: Any) -> tuple[int, ...]:
    """For each row the one that it was, by what stands in it; 0 for one that is new."""
    left = dict(enumerate(_rows(old), 1))
    found = []
    for row in _rows(new):
        number = next((number for number, one in left.items() if one == row), 0)
        left.pop(number, None)
        found.append(number)
    return tuple(found)


def _tables(*every: Mapping[str, Any]) -> list[Location]:
    """Repeated tables whose number of rows is not the same in all."""
    places = dict.fromkeys(place for data in every for place in _repeated(data, ()))
    return [place for place in places if len({len(_rows(_at(data, place))) for data in every}) > 1]


def _repeated(data: Mapping[str, Any], place: Location) -> Iterator[Location]:
    for key, value in data.items():
        if isinstance(value, Mapping):
            yield from _repeated(value, (*place, key))
        elif _rows(value):
            yield (*place, key)


def _rows(value: Any) -> list[Any]:
    rows = isinstance(value, list) and bool(value) and all(isinstance(row, Mapping) for row in value)
    return value if rows else []


def _places(*every: Mapping[str, Any]) -> list[Location]:
    """Every key of any, a repeated table as a whole where its rows are not as many in all."""
    whole = set(_tables(*every))
    found = dict.fromkeys(place for data in every for place in _leaves(data, (), whole))
    return list(found)


def _leaves(value: Any, place: Location, whole: set[Location]) -> Iterator[Location]:
    if place in whole:
        yield place
    elif isinstance(value, Mapping):
        for key, inside in value.items():
            yield from _leaves(inside, (*place, key), whole)
    elif _rows(value):
        for number, row in enumerate(value):
            yield from _leaves(row, (*place, number), whole)
    else:
        yield place


def _at(data: Any, place: Location) -> Any:
    for step in place:
        if isinstance(data, Mapping) and step in data:
            data = data[str(step)]
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return _NOTHING
    return data


def _put(data: Plain, place: Location, value: Any) -> None:
    here: Any = data
    for step in place[:-1]:
        if isinstance(here, dict) and step not in here:
            if value is _NOTHING:
                return
            here[step] = {}
        here = here[step]
    if value is _NOTHING:
        here.pop(place[-1], None)
    else:
        here[place[-1]] = deepcopy(value)


def _said(value: Any) -> str:
    if value is _NOTHING:
        return ""
    return f"{len(value)} rows" if _rows(value) else text_of(value)

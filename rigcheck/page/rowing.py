"""Describe a part, take it out; add, move and remove rows; say that a value is not known: the changes that follow."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from rigcheck.case.reading.tables import MOST_ROWS
from rigcheck.case.schema.kinds import UNKNOWN
from rigcheck.page import mirror, placing
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.typed import BadRequestError, field_of, found_at, location_of
from rigcheck.page.unknowns import DO, may_be_unknown

_DO = re.compile(
    r"(describe|out|add|up|down|drop|mirror|place|unknown) ([a-z_.\[\]0-9]{1,80})(?: ([1-9][0-9]?))?", re.ASCII
)

_TWIN = re.compile(r"([a-z_.\[\]0-9]{1,80}) ([1-9][0-9]?) ([1-9][0-9]?)", re.ASCII)


def carried_out(changes: Changes, *, do: str, data: Mapping[str, Any]) -> Changes:
    """Changes after a button of the form.

    Args:
        changes: Before.
        do: Such as `describe hanger.lug`, `add line.link`, `up line.link 2`.
        data: The file that they are against, parsed.

    Raises:
        BadRequestError: There is no such button.
    """
    said = _DO.fullmatch(do)
    if said is None:
        raise BadRequestError("no such button")
    what, path, number = said[1], said[2], int(said[3] or 0)
    field = field_of(path)
    if what == DO and may_be_unknown(field):
        return replace(changes, typed={**changes.typed, path: UNKNOWN})
    if field.section is None:
        raise BadRequestError("no such button")
    if what in ("describe", "out"):
        if field.repeated or field.required:
            raise BadRequestError("no such button")
        return _described(changes, path) if what == "describe" else _taken_out(changes, path)
    if not field.repeated:
        raise BadRequestError("no such button")
    order = list(changes.rows.get(path, range(1, _count(data, path) + 1)))
    if what == "add":
        if len(order) >= MOST_ROWS:
            raise BadRequestError("too many rows")
        return replace(changes, rows={**changes.rows, path: (*order, 0)})
    if what == mirror.DO:
        return _with_mirror(changes, path, order, number=number, data=data)
    if what == placing.DO:
        return _placed(changes, path, number=number, data=data)
    return _moved(changes, path, order, what=what, number=number)


def together(changes: Changes, *, twin: str, data: Mapping[str, Any]) -> Changes:
    """Changes after the row that mirrors one took over what was typed into that one.

    Args:
        changes: Before.
        twin: Table, number of the row that was typed into, and of its mirror image.
        data: The file that they are against, parsed.

    Raises:
        BadRequestError: There are no such rows.
    """
    said = _TWIN.fullmatch(twin)
    field = None if said is None else field_of(said[1])
    if said is None or field is None or field.section is None or not field.repeated:
        raise BadRequestError("no such rows")
    path, one, other = said[1], int(said[2]), int(said[3])
    rows = found_at(laid_over(data, changes), location_of(path))
    if not mirror.has_sides(field.section) or one == other or not isinstance(rows, list) or max(one, other) > len(rows):
        raise BadRequestError("no such rows")
    image, new = mirror.mirrored(field.section, rows[one - 1]), dict(changes.typed)
    for key, text in changes.typed.items():
        row, _, inner = key.partition("].")
        if row == f"{path}[{one}" and (inner in image or text is None) and inner != mirror.NAME:
            new[f"{path}[{other}].{inner}"] = image.get(inner)
    return replace(changes, typed=new)


def _placed(changes: Changes, path: str, *, number: int, data: Mapping[str, Any]) -> Changes:
    """A strap that has no ends yet with its ends at the tail."""
    now = laid_over(data, changes)
    rows = now.get("haul", {}).get("tie_down", ())
    if path != placing.TABLE or not 1 <= number <= len(rows) or not placing.lacks_an_end(rows[number - 1]):
        raise BadRequestError("no such button")
    ends = {f"{path}[{number}].{end}": text for end, text in placing.ends_at_the_tail(now).items()}
    return replace(changes, typed={**changes.typed, **ends})


def _with_mirror(changes: Changes, path: str, order: list[int], *, number: int, data: Mapping[str, Any]) -> Changes:
    """A new last row that is the mirror image of one."""
    section = field_of(path).section
    rows = found_at(laid_over(data, changes), location_of(path)) or ()
    if section is None or not mirror.has_sides(section) or not 1 <= number <= len(rows) or len(order) >= MOST_ROWS:
        raise BadRequestError("no such button")
    new = {f"{path}[{len(order) + 1}].{key}": text for key, text in mirror.mirrored(section, rows[number - 1]).items()}
    return replace(changes, rows={**changes.rows, path: (*order, 0)}, typed={**changes.typed, **new})


def _moved(changes: Changes, path: str, order: list[int], *, what: str, number: int) -> Changes:
    """One row dropped, or put a place up or down."""
    if not 1 <= number <= len(order):
        raise BadRequestError("no such row")
    places: list[int | None] = list(range(1, len(order) + 1))
    if what == "drop":
        places[number - 1] = None
        del order[number - 1]
    else:
        other = number - 1 if what == "up" else number + 1
        if not 1 <= other <= len(order):
            return changes
        order[number - 1], order[other - 1] = order[other - 1], order[number - 1]
        places[number - 1], places[other - 1] = other, number
    if what == "drop":
        places = [None if place is None else place - (place > number) for place in places]
    return replace(
        changes,
        rows={**changes.rows, path: tuple(order)},
        typed={key: text for old, text in changes.typed.items() if (key := _renamed(old, path, places))},
        opened=tuple(key for old in changes.opened if (key := _renamed(old, path, places))),
    )


def _described(changes: Changes, path: str) -> Changes:
    typed = {key: text for key, text in changes.typed.items() if key != path or text is not None}
    return replace(changes, typed=typed, opened=(*(one for one in changes.opened if one != path), path))


def _taken_out(changes: Changes, path: str) -> Changes:
    kept = {key: text for key, text in changes.typed.items() if not key.startswith((f"{path}.", f"{path}["))}
    opened = tuple(one for one in changes.opened if one != path and not one.startswith(f"{path}."))
    return replace(changes, typed={**kept, path: None}, opened=opened)


def _count(data: Any, path: str) -> int:
    rows = found_at(data, location_of(path))
    return len(rows) if isinstance(rows, list) else 0


def _renamed(key: str, table: str, places: list[int | None]) -> str:
    """A key with the number that its row has now; empty where the row is gone."""
    if not key.startswith(f"{table}["):
        return key
    number, _, rest = key[len(table) + 1 :].partition("]")
    place = places[int(number) - 1] if int(number) <= len(places) else None
    return "" if place is None else f"{table}[{place}]{rest}"

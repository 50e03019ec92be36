"""What the page changes in a case: keys that were typed, rows that were added, moved or taken out."""

from __future__ import annotations

import json
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from rigcheck.case.errors import Location
from rigcheck.case.reading.tables import MOST_ROWS
from rigcheck.case.schema.kinds import is_unknown
from rigcheck.page.typed import LONGEST_TYPED, BadRequestError, field_of, location_of, text_of, value_of
from rigcheck.wording.plain import Plain

MOST_KEYS = 2000  # keys of one request


@dataclass(frozen=True, slots=True)
class Changes:
    """Changes against the file that the page started from.

    Attributes:
        base: SHA-256 of that file; empty for a blank rig.
        typed: Key path, rows counted from 1 as they stand on the page, to the text; None takes the key or part out.
        rows: Path of a repeated table to the number that each of its rows has in the file, 0 for a new one.
        opened: Parts that are being described and have no key yet.
    """

    base: str = ""
    typed: Mapping[str, str | None] = field(default_factory=dict)
    rows: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    opened: tuple[str, ...] = ()

    @property
    def plain(self) -> Plain:
        """The same for JSON."""
        rows = {table: list(order) for table, order in self.rows.items()}
        return {"base": self.base, "typed": dict(self.typed), "rows": rows, "opened": list(self.opened)}


def changes_of(data: Any) -> Changes:
    """Changes as the page sends them.

    Args:
        data: Parsed JSON.

    Raises:
        BadRequestError: It is not what the page sends.
    """
    if not isinstance(data, dict) or not set(data) <= {"base", "typed", "rows", "opened"}:
        raise BadRequestError("no changes")
    base, typed = data.get("base", ""), data.get("typed", {})
    rows, opened = data.get("rows", {}), data.get("opened", [])
    if not isinstance(base, str) or not isinstance(typed, dict) or not isinstance(rows, dict):
        raise BadRequestError("no changes")
    if not isinstance(opened, list) or len(typed) > MOST_KEYS or len(rows) + len(opened) > MOST_KEYS:
        raise BadRequestError("too many changes")
    for path, text in typed.items():
        _typed_fits(path, text)
    for table, order in rows.items():
        _rows_fit(table, order)
    for path in opened:
        if not isinstance(path, str) or field_of(path).section is None:
            raise BadRequestError("no such part")
    return Changes(base, typed, {table: tuple(order) for table, order in rows.items()}, tuple(opened))


def _typed_fits(path: str, text: Any) -> None:
    if not isinstance(text, str | None):
        raise BadRequestError("not a text")
    if text is not None and len(text) > LONGEST_TYPED:
        raise BadRequestError("a text too long")
    if field_of(path).section is not None and text is not None:
        raise BadRequestError("a table has no text")


def _rows_fit(table: str, order: Any) -> None:
    if not field_of(table).repeated or not isinstance(order, list) or len(order) > MOST_ROWS:
        raise BadRequestError("no such rows")
    if not all(isinstance(number, int) and not isinstance(number, bool) and number >= 0 for number in order):
        raise BadRequestError("no such rows")
    old = [number for number in order if number]
    if len(set(old)) < len(old):
        raise BadRequestError("a row stands there twice")


def laid_over(data: Mapping[str, Any], changes: Changes) -> Plain:
    """The file with the changes of the page, as the reader takes it.

    Args:
        data: The file, parsed.
        changes: What the page changes.

    Returns:
        A new dict; what is typed as it stood in the file has the value of the file.

    Raises:
        BadRequestError: A row is named that is not there.
    """
    found: Plain = with_rows(data, changes)
    for path, text in sorted(changes.typed.items(), key=lambda pair: (pair[1] is not None, len(pair[0]))):
        location = location_of(path)
        if text is None:
            _take_out(found, location)
            continue
        here = _inside(found, location[:-1])
        last = location[-1]
        if not isinstance(here, dict):
            raise BadRequestError("a key of no table")
        if last not in here or text_of(here[last]) != text:
            here[last] = value_of(text, field_of(path).kind)
    return found


def with_rows(data: Mapping[str, Any], changes: Changes) -> Plain:
    """The file with its rows as they stand on the page, no key changed.

    Raises:
        BadRequestError: A row is named that is not there.
    """
    found: Plain = deepcopy(dict(data))
    for table, order in changes.rows.items():
        location = location_of(table)
        above = _inside(found, location[:-1], make=any(order) or bool(order))
        if not isinstance(above, dict):
            continue
        old = above.get(str(location[-1]), [])
        if not isinstance(old, list) or max(order, default=0) > len(old):
            raise BadRequestError("no such row")
        above[str(location[-1])] = [deepcopy(old[number - 1]) if number else {} for number in order]
        if not order:
            del above[str(location[-1])]
    return found


def hash_of(data: Mapping[str, Any]) -> str:
    """A short name of the numbers on the page: two that read the same have the same."""
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, default=str)
    return sha256(text.encode()).hexdigest()[:20]


def _inside(data: Plain, steps: Location, *, make: bool = True) -> Any:
    """The table at a place, opened where it is not there yet."""
    here: Any = data
    for place, step in enumerate(steps):
        if isinstance(step, int):
            if not isinstance(here, list) or step >= len(here):
                raise BadRequestError("no such row")
            here = here[step]
            continue
        if not isinstance(here, dict):
            raise BadRequestError("a key of no table")
        if step not in here or is_unknown(here[step]):  # a part that is said to be unknown may be described
            if not make:
                return None
            rows = place + 1 < len(steps) and isinstance(steps[place + 1], int)
            here[step] = [] if rows else {}
        here = here[step]
    return here


def _take_out(data: Plain, location: Location) -> None:
    here: Any = data
    for step in location[:-1]:
        if isinstance(step, int):
            if not isinstance(here, list) or step >= len(here):
                raise BadRequestError("no such row")
            here = here[step]
        elif isinstance(here, dict) and step in here:
            here = here[step]
        else:
            return
    if isinstance(here, dict):
        here.pop(location[-1], None)

"""Change a case file key by key: a value in its place, a new key behind the last of its table, whole rows moved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rigcheck.case.errors import Location
from rigcheck.case.models.case import Case
from rigcheck.case.reading.positions import Statement, statements
from rigcheck.case.schema.keys import find_field, toml_text
from rigcheck.case.schema.sections import Section, fields_of


class EditError(Exception):
    """A file that is written in a way that this page does not change; the message says so."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One key to be changed.

    Attributes:
        location: Where.
        value: What it becomes; None where it, or the part, is taken out.
        new: Whether it stands nowhere yet.
    """

    location: Location
    value: Any
    new: bool = False


def edits_between(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Edit]:
    """What makes one case of another whose rows are the same: taken out, changed and new keys, in the models' order."""
    found: list[Edit] = []
    _differ(old, new, (), found)
    return sorted(found, key=lambda edit: (edit.value is not None, edit.new, _order(edit.location)))


def _differ(old: Any, new: Any, place: Location, found: list[Edit]) -> None:
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        found.extend(Edit((*place, key), None) for key in old if key not in new)
        for key, value in new.items():
            if key in old:
                _differ(old[key], value, (*place, key), found)
            else:
                _brought(value, (*place, key), found)
    elif _rows(old) and _rows(new) and len(old) == len(new):
        for number, (one, other) in enumerate(zip(old, new, strict=True)):
            _differ(one, other, (*place, number), found)
    elif isinstance(new, Mapping) or _rows(new):  # a part that was said to be unknown
        found.append(Edit(place, None))
        _brought(new, place, found)
    elif old != new or type(old) is not type(new):
        found.append(Edit(place, new))


def _rows(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(row, Mapping) for row in value)


def _brought(value: Any, place: Location, found: list[Edit]) -> None:
    if isinstance(value, Mapping):
        for key, inside in value.items():
            _brought(inside, (*place, key), found)
    else:
        found.append(Edit(place, value, new=True))


def _order(location: Location) -> tuple[int, ...]:
    """Place of a key in the models, keys of a table before the tables in it."""
    order: list[int] = []
    for step, name in enumerate(location):
        if isinstance(name, int):
            order.append(name)
            continue
        section, field = find_field(location[: step + 1])
        words = [] if section is None else [one.word for one in fields_of(section).values()]
        table = field is not None and field.section is not None
        order += [int(table), words.index(name) if name in words else len(words)]
    return tuple(order)


def edited(text: str, edit: Edit) -> str:
    """The text of a file with one key changed, and nothing else.

    Args:
        text: The file.
        edit: The change.

    Raises:
        EditError: It is written in a way that this page does not change.
    """
    every = statements(text)
    here = next((one for one in every if not one.heading and one.location == edit.location), None)
    if edit.value is None:
        return _without(text, every, edit.location, here)
    if here is not None:
        first, last = here.value
        return text[:first] + _in_the_quotes(edit.value, text[first:last]) + text[last:]
    within = _inline(every, edit.location)
    if edit.new and within is None:
        return _with_key(text, every, edit)
    if edit.new and within is not None and within.location == edit.location[:-1]:
        return _on_its_line(text, within, edit)
    return _by_the_library(text, edit)


def with_rows(text: str, *, table: Location, order: Sequence[int]) -> str:
    """The text of a file with the rows of a repeated table in another order.

    Args:
        text: The file.
        table: Place of the repeated table.
        order: For each row its number in the file, counted from 1; 0 for a new one.

    Raises:
        EditError: The rows are not written each under its own heading.
    """
    every = statements(text)
    blocks = _row_blocks(text, every, table)
    if not blocks:
        if any(number for number in order):
            raise EditError(f"the rows of {'.'.join(map(str, table))} are written on one line; change them in the file")
        return _first_rows(text, every, table, len(order))
    end = _newline(text)
    parts = [text[slice(*blocks[number - 1])] if number else f"[[{_heading(table)}]]{end}" for number in order]
    found = text[: blocks[0][0]]
    for place in range(max(len(parts), len(blocks))):
        gap = text[blocks[place - 1][1] : blocks[place][0]] if 0 < place < len(blocks) else ""
        if place < len(parts):
            found += (gap or (end if place else "")) + parts[place]
            found += "" if found.endswith("\n") else end
        elif gap.strip():
            found += gap
    return found + text[blocks[-1][1] :]


def _first_rows(text: str, every: list[Statement], table: Location, count: int) -> str:
    for _ in range(count):
        at = _behind(text, every, table[:-1]) if table[:-1] else len(text)
        text = _inserted(text, at, f"{_newline(text)}[[{_heading(table)}]]")
        every = statements(text)
    return text


def _row_blocks(text: str, every: list[Statement], table: Location) -> list[tuple[int, int]]:
    """Begin and end of every row: its heading with the remarks right above it, its keys, the tables in it."""
    depth = len(table)
    starts = [one for one in every if one.heading and one.rows and one.table[:depth] == table
              and len(one.table) == depth + 1]  # fmt: skip
    found = []
    for one in starts:
        inside = one.table
        end = one.end
        for other in every[every.index(one) + 1 :]:
            if other.table[: len(inside)] != inside:
                break
            end = other.end
        found.append((_with_remarks(text, one.start), end))
    return [(start, max(start, stop)) for start, stop in found]


def _with_remarks(text: str, start: int) -> int:
    """Where the remarks right above a line begin."""
    while start > 0:
        above = text.rfind("\n", 0, start - 1) + 1
        if not text[above:start].lstrip(" \t").startswith("#"):
            break
        start = above
    return start


def _heading(table: Location) -> str:
    return ".".join(step for step in table if isinstance(step, str))


def _without(text: str, every: list[Statement], location: Location, here: Statement | None) -> str:
    if here is not None:
        return text[: here.start] + text[here.end :]
    depth = len(location)
    inside = [one for one in every if one.location[:depth] == location]
    if not inside:
        return _by_the_library(text, Edit(location, None))
    for one in reversed(inside):
        start = _with_remarks(text, one.start) if one.heading else one.start
        text = text[:start] + text[one.end :]
    return text


def _inline(every: list[Statement], location: Location) -> Statement | None:
    """The statement whose value is a table or list written on one line that a place lies in."""
    return next(
        (one for one in every if one.path and len(one.location) < len(location)
         and one.location == location[: len(one.location)]),
        None,
    )  # fmt: skip


def _with_key(text: str, every: list[Statement], edit: Edit) -> str:
    """The text with a new key: behind the last of its table, under a heading of its own where it has none."""
    table, key = edit.location[:-1], str(edit.location[-1])
    line = f"{key} = {toml_text(edit.value)}"
    own = [one for one in every if one.table == table and (one.heading or len(one.path) == 1)]
    if own and (not table or any(one.heading for one in own)):
        return _inserted(text, own[-1].end, line)
    if not table:
        return _before_headings(text, every, line)
    dotted = [one for one in every if one.path and one.location[: len(table)] == table and one.table != table]
    if dotted and not any(one.heading and one.table[: len(table)] == table for one in every):
        prefix = ".".join(map(str, table[len(dotted[-1].table) :]))
        return _inserted(text, dotted[-1].end, f"{prefix}.{line}")
    end = _newline(text)
    at = _behind(text, every, table[:-1]) if len(table) > 1 else len(text)
    return _inserted(text, at, f"{end if text.strip() else ''}[{_heading(table)}]{end}{line}")


def _on_its_line(text: str, within: Statement, edit: Edit) -> str:
    """The text with a new key at the end of a table that is written on one line."""
    first, last = within.value
    inner = text[first : last - 1]
    body = inner.rstrip()
    comma = "" if body == "{" else ","
    key = f"{body}{comma} {edit.location[-1]} = {toml_text(edit.value)}"
    return text[:first] + key + inner[len(body) :] + text[last - 1 :]


def _before_headings(text: str, every: list[Statement], line: str) -> str:
    """A key of no table where no such key stands yet: before the first heading and its remarks."""
    first = next((one for one in every if one.heading), None)
    if first is None:
        return _inserted(text, len(text), line)
    start = _with_remarks(text, first.start)
    return text[:start] + line + _newline(text) * 2 + text[start:]


def _behind(text: str, every: list[Statement], table: Location) -> int:
    """Where a table ends with all that is in it; the end of the file where it stands nowhere."""
    inside = [one for one in every if one.location[: len(table)] == table]
    return max((one.end for one in inside), default=len(text))


def _inserted(text: str, at: int, line: str) -> str:
    end = _newline(text)
    if at and not text[:at].endswith("\n"):
        return f"{text[:at]}{end}{line}{text[at:]}"
    return f"{text[:at]}{line}{end}{text[at:]}"


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _in_the_quotes(value: Any, old: str) -> str:
    """A value as it is written, in single quotes where the old one stood in such."""
    single = old.startswith("'") and not old.startswith("'''")
    if single and isinstance(value, str) and "'" not in value and value.isprintable():
        return f"'{value}'"
    return toml_text(value)


def _by_the_library(text: str, edit: Edit) -> str:
    """A key inside a table that is written on one line."""
    import tomlkit

    document = tomlkit.parse(text)
    if tomlkit.dumps(document) != text:
        raise EditError("the file is written in a way that this page does not change")
    here: Any = document
    for step in edit.location[:-1]:
        here = here[step]
    if edit.value is None:
        del here[edit.location[-1]]
    else:
        here[edit.location[-1]] = edit.value
    return tomlkit.dumps(document)


def fresh_text(data: Mapping[str, Any]) -> str:
    """A whole file of parsed keys and values, in the order of the models.

    Args:
        data: As the reader takes it.
    """
    return "".join(_table_text(Case, data, "")).lstrip("\n")


def _table_text(section: type[Section], data: Mapping[str, Any], path: str) -> Iterator[str]:
    fields = fields_of(section).values()
    yield from (f"{one.word} = {toml_text(data[one.word])}\n" for one in fields if not one.section and one.word in data)
    for one in fields:
        if one.section is None or one.word not in data:
            continue
        below = f"{path}.{one.word}".removeprefix(".")
        for row in data[one.word] if one.repeated else [data[one.word]]:
            yield f"\n[[{below}]]\n" if one.repeated else f"\n[{below}]\n"
            yield from _table_text(one.section, row, below)

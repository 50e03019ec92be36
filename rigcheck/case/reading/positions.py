"""Where things stand in the text of a TOML file: its headings and its keys, each with its place in the case."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from rigcheck.case.errors import Location, Problem, key_path

_OPEN, _CLOSE = "[{", "]}"
_LONGEST = 200_000  # letters of a text whose problems get their lines; a case has a tenth of it


@dataclass(frozen=True, slots=True)
class Statement:
    """A heading or a key with its value.

    Attributes:
        start: Where its first line begins.
        end: Where its last line ends, line end included.
        table: Place of the table that it opens or stands in, rows counted from 0.
        path: Its own key, more than one name where it is dotted; empty for a heading.
        rows: Whether it is a heading of a repeated table.
        value: Begin and end of the value; (0, 0) for a heading.
    """

    start: int
    end: int
    table: Location
    path: tuple[str, ...]
    rows: bool = False
    value: tuple[int, int] = (0, 0)

    @property
    def heading(self) -> bool:
        """Whether it opens a table."""
        return not self.path

    @property
    def location(self) -> Location:
        """Its place in the case."""
        return (*self.table, *self.path)


def statements(text: str) -> list[Statement]:
    """Everything that stands in a file that the TOML reader takes, in its order."""
    found: list[Statement] = []
    counts: dict[Location, int] = {}
    table: Location = ()
    for start, at in _beginnings(text):
        if text[at] == "[":
            rows = text.startswith("[[", at)
            names, close = _names(text, at + (2 if rows else 1))
            close = text.index("]", close) + (2 if rows else 1)
            table = _place(names, counts, rows=rows)
            found.append(Statement(start, _line_end(text, close), table, (), rows))
            continue
        names, equals = _names(text, at)
        first = _skip_blanks(text, equals + 1)
        last = _value_end(text, first)
        found.append(Statement(start, _line_end(text, last), table, names, False, (first, last)))
    return found


def with_lines(problems: Iterable[Problem], *, text: str) -> list[Problem]:
    """Problems with the line that each stands in: that of its key, or of the table in which the key is missing.

    Args:
        problems: Problems of the file.
        text: The file.

    Returns:
        The same problems; those of a file that the TOML reader does not take name their line already.
    """
    told = list(problems)
    if len(text) > _LONGEST or not any(one.key for one in told):
        return told
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError):
        return told
    lines: dict[str, int] = {}
    for one in statements(text):
        lines.setdefault(key_path(one.location), text.count("\n", 0, one.start) + 1)
    return [replace(one, line=_line_of(one.key, lines=lines)) for one in told]


def _line_of(key: str, *, lines: dict[str, int]) -> int:
    """Line of a key or, where it is not there, of the nearest table around it; 0 for none."""
    while key:
        if key in lines:
            return lines[key]
        key = key[: max(key.rfind("."), key.rfind("["), 0)]
    return 0


def _beginnings(text: str) -> Iterator[tuple[int, int]]:
    """Begin of the line and first letter of every statement."""
    at = 0
    while at < len(text):
        first = _skip_blanks(text, at)
        if first >= len(text):
            return
        if text[first] in "\r\n":
            at = first + 1
        elif text[first] == "#":
            at = _line_end(text, first)
        else:
            yield at, first
            at = _statement_end(text, first)


def _statement_end(text: str, first: int) -> int:
    if text[first] == "[":
        _, close = _names(text, first + (2 if text.startswith("[[", first) else 1))
        return _line_end(text, close)
    _, equals = _names(text, first)
    return _line_end(text, _value_end(text, _skip_blanks(text, equals + 1)))


def _place(names: tuple[str, ...], counts: dict[Location, int], *, rows: bool) -> Location:
    """Place of the table of a heading: each repeated table on the way stands for its last row."""
    place: Location = ()
    for number, name in enumerate(names, 1):
        place = (*place, name)
        if number == len(names) and rows:
            counts[place] = counts.get(place, 0) + 1
        if place in counts:
            place = (*place, counts[place] - 1)
    return place


def _names(text: str, at: int) -> tuple[tuple[str, ...], int]:
    """The names of a dotted key, and where what follows them begins."""
    names: list[str] = []
    while True:
        at = _skip_blanks(text, at)
        end = _string_end(text, at) if text[at] in "\"'" else at
        while text[end] not in " \t.=]" and end > at - 1 and text[at] not in "\"'":
            end += 1
        token = text[at:end]
        names.append(next(iter(tomllib.loads(f"{token} = 0"))))
        at = _skip_blanks(text, end)
        if text[at] != ".":
            return tuple(names), at
        at += 1


def _skip_blanks(text: str, at: int) -> int:
    while at < len(text) and text[at] in " \t":
        at += 1
    return at


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end + 1


def _string_end(text: str, at: int) -> int:
    """Where a text of any of the four kinds ends."""
    quote = text[at]
    long = text.startswith(quote * 3, at)
    close = quote * 3 if long else quote
    end = at + len(close)
    while not text.startswith(close, end):
        end += 2 if text[end] == "\\" and quote == '"' else 1
    end += len(close)
    while long and end < len(text) and text[end] == quote:  # up to two quotes may stand before the closing three
        end += 1
    return end


def _value_end(text: str, at: int) -> int:
    """Where a value ends, blanks and remark behind it left out."""
    depth, end = 0, at
    while at < len(text):
        letter = text[at]
        if letter in "\"'":
            at = end = _string_end(text, at)
            continue
        if letter == "#" or (letter in "\r\n" and depth == 0):
            if depth == 0:
                break
            at = _line_end(text, at)
            continue
        depth += (letter in _OPEN) - (letter in _CLOSE)
        at += 1
        if letter not in " \t\r\n":
            end = at
    return end

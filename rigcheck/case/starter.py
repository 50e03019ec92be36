"""A case file made of what somebody said and of nothing else; all other keys stand in it as commented examples."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.schema.keys import find_field, toml_text
from rigcheck.case.schema.kinds import Flag, Point, Quantity, Whole
from rigcheck.case.schema.sections import Field, Section, fields_of

NAME = "starter"
"""How the problems of a starter case call it."""
Answers = Mapping[str, str]
"""Key path, repeated tables counted from 1 as in `line.link[2].wll`, to what was typed."""

_HEAD = """\
# A case for rigcheck. It holds what was said and nothing else; nothing is filled in.
# A line that begins with "# " and a key shows how that key is written, with a value that is an example and no advice:
# take the "# " away and put your own value in. What is left out takes a default that every result lists, or is a part
# that is not assessed, and then the verdict is INCOMPLETE. A whole rig to learn from: the folder cases/.
"""
_LEFT_OUT = frozenset(
    {"factors", "measured", "person", "ice", "wind", "towing", "weld", "tail_leg", "second_line", "line.backup", "mat",
     "fitting"}
)  # fmt: skip
"""Tables whose examples stand in docs/cases.md alone; what is said of them is written all the same."""
_YES, _NO = frozenset({"yes", "y", "true"}), frozenset({"no", "n", "false"})
_PLACE = re.compile(r"\[(\d+)\]")


def starter_text(answers: Answers) -> str:
    """The text of a case from answers.

    Args:
        answers: What was said, key by key.

    Returns:
        The file: each answer as it was typed, every other key of the job commented out.

    Raises:
        CaseError: An answer cannot be read, or a key is needed that nobody gave; all of them at once.
    """
    unknown = [Problem(NAME, path, "is no key of a case") for path in answers if field_at(path) is None]
    if unknown:
        raise CaseError(unknown)
    text = _HEAD + "".join(_tables(Case, "", answers))
    try:
        read_case_text(text, name=NAME)
    except CaseError as error:
        raise CaseError(one for problem in error.problems for one in _spelled(problem)) from None
    return text


def problems_of(answers: Answers) -> list[Problem]:
    """Everything that keeps answers from being a case; none where they are one."""
    try:
        starter_text(answers)
    except CaseError as error:
        return list(error.problems)
    return []


def _spelled(problem: Problem) -> Iterator[Problem]:
    """A problem as it is; for a table that is missing, its needed keys, one problem each."""
    _, field = find_field(tuple(_PLACE.sub("", problem.key).split(".")))
    if field is None or field.section is None:
        yield problem
        return
    for one in fields_of(field.section).values():
        row = "[1]" if one.repeated else ""
        if one.required:
            example = toml_text(one.about.example)
            why = f"is missing; write for example {one.word} = {example}"
            yield from _spelled(Problem(NAME, f"{problem.key}.{one.word}{row}", why))


def field_at(path: str) -> Field | None:
    """The declaration of the key of an answer; None where there is no such key, or where it is a table."""
    steps = tuple(_PLACE.sub("", path).split("."))
    _, field = find_field(steps)
    return None if field is None or field.section is not None else field


def _tables(section: type[Section], path: str, answers: Answers) -> Iterator[str]:
    """A table with its keys, then the tables in it."""
    yield _keys(section, path, answers)
    for field in fields_of(section).values():
        if field.section is None:
            continue
        below = f"{path}.{field.word}" if path else field.word
        plain = _PLACE.sub("", below)
        if not field.repeated:
            if plain not in _LEFT_OUT or any(given.startswith(f"{below}.") for given in answers):
                yield from _tables(field.section, below, answers)
            continue
        count = max((int(found[1]) for given in answers if (found := _row(given, below))), default=0)
        for row in range(1, count + 1):
            yield from _tables(field.section, f"{below}[{row}]", answers)
        if plain not in _LEFT_OUT and count == 0:
            yield from _tables(field.section, below, {})


def _row(given: str, table: str) -> re.Match[str] | None:
    return re.match(re.escape(table) + r"\[(\d+)\]\.", given)


def _keys(section: type[Section], path: str, answers: Answers) -> str:
    """The heading of a table and its keys, those that nobody gave commented out."""
    fields = [field for field in fields_of(section).values() if field.section is None]
    below = {field.word: f"{path}.{field.word}" if path else field.word for field in fields}
    given = any(one in answers for one in below.values())
    lines = [""]
    if path:
        plain = _PLACE.sub("", path)
        opening = f"[[{plain}]]" if _repeated(plain) else f"[{plain}]"
        lines.append(opening if given or _within(path, answers) else f"# {opening}")
    for field in fields:
        typed = answers.get(below[field.word])
        value = toml_text(field.about.example) if typed is None else _written(typed, field)
        line = f"{'# ' if typed is None else ''}{field.word} = {value}"
        lines.append(f"{line:<44}# {field.about.meaning}")
    return "\n".join(lines) + "\n" if fields else ""


def _within(path: str, answers: Answers) -> bool:
    """Whether a table in a row of a repeated table must be opened for what is said further down; never a plain one."""
    return bool(_PLACE.search(path)) and any(given.startswith(f"{path}.") for given in answers)


def _repeated(path: str) -> bool:
    _, field = find_field(tuple(path.split(".")))
    return field is not None and field.repeated


def _written(typed: str, field: Field) -> str:
    """What was typed as it stands in the file: yes and no as true and false, counts bare, all else in quotes."""
    text, kind = typed.strip(), field.kind
    if isinstance(kind, Flag) and text.casefold() in _YES | _NO:
        return toml_text(text.casefold() in _YES)
    bare = isinstance(kind, Whole) or (isinstance(kind, Quantity) and kind.dimension == "number")
    if bare and re.fullmatch(r"[+-]?\d+(\.\d+)?", text):
        return text
    if isinstance(kind, Point):
        return toml_text([part.strip().strip("\"'") for part in text.strip("[]").split(",")])
    return _quoted(text)


def _quoted(value: Any) -> str:
    return toml_text(str(value))

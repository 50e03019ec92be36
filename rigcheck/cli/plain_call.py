"""The options of `check`, each once, and the short way into it: loading the parser of all commands takes a third of it.

The parser's own definitions (`rigcheck.cli.options`, the command itself) are made from these records.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

from rigcheck.cli.looks import Units

_COMMAND = "check"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Option:
    """One option of the command line.

    Attributes:
        word: As it is typed.
        name: What the command calls it.
        default: Without it; a flag has False, one of a few words the first of them, a number 0.
        help: What it does.
        hidden: Whether the help leaves it out.
    """

    word: str
    name: str
    default: bool | int | StrEnum
    help: str
    hidden: bool = False

    def read(self, rest: Iterator[str]) -> Any:
        """Its value, from the words behind it; None where they are none that it takes."""
        if isinstance(self.default, bool):
            return True
        word = next(rest, "")
        if isinstance(self.default, StrEnum):
            kind = type(self.default)
            return kind(word) if word in list(kind) else None
        return int(word) if word.isascii() and word.isdigit() else None


JSON = Option("--json", "as_json", False, "Print the result as JSON, for machines.")
UNITS = Option("--units", "units", Units.us, "Units of the output: US customary or SI.")
WIDTH = Option("--width", "width", 0, "Width of the screen in letters.", hidden=True)
WHOLE = Option("--all", "whole", False, "Print every mode of every part.")
CONFIRM = Option("--confirm", "confirm", False, "Solve the governing states anew as a frame; 0.5 % apart is an error.")
CURES = Option("--remedies", "cures", False, "List all that would cure a rig that is over.")
CHECK = (JSON, UNITS, WHOLE, CONFIRM, CURES, WIDTH)
"""Every option of the command `check`."""


@dataclass(frozen=True, slots=True)
class PlainCall:
    """A call of `check`.

    Attributes:
        files: The case files.
        options: What it was asked for, by the names of the command.
    """

    files: tuple[Path, ...]
    options: dict[str, Any]


def plain_call(arguments: Sequence[str]) -> PlainCall | None:
    """Understand the commonest calls; None leaves a call to the parser, which knows every command and every mistake.

    Args:
        arguments: What stands after the name of the program.
    """
    if arguments[:1] != [_COMMAND]:
        return None
    known = {option.word: option for option in CHECK}
    given = {option.name: option.default for option in CHECK}
    files: list[Path] = []
    rest = iter(arguments[1:])
    for word in rest:
        if word in known:
            value = known[word].read(rest)
            if value is None:
                return None
            given[known[word].name] = value
        elif not word or word.startswith("-"):
            return None
        else:
            files.append(Path(word))
    return PlainCall(tuple(files), given) if files else None

"""Understand a plain call of `check` by itself: loading the parser of all commands takes a third of a whole check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from rigcheck.cli.looks import Units

_COMMAND = "check"
_FLAGS = {"--json": "as_json", "--all": "whole"}


@dataclass(frozen=True, slots=True)
class PlainCall:
    """A call of `check`.

    Attributes:
        files: The case files.
        as_json: JSON instead of text.
        whole: Every mode of every part.
        units: Units of the results.
    """

    files: tuple[Path, ...]
    as_json: bool
    whole: bool
    units: Units


def plain_call(arguments: Sequence[str]) -> PlainCall | None:
    """Understand the commonest calls; None leaves a call to the parser, which knows every option and every mistake.

    Args:
        arguments: What stands after the name of the program.
    """
    if arguments[:1] != [_COMMAND]:
        return None
    given = {"as_json": False, "whole": False}
    files: list[Path] = []
    units = Units.us
    rest = iter(arguments[1:])
    for word in rest:
        if word in _FLAGS:
            given[_FLAGS[word]] = True
        elif word == "--units":
            value = next(rest, "")
            if value not in list(Units):
                return None
            units = Units(value)
        elif not word or word.startswith("-"):
            return None
        else:
            files.append(Path(word))
    return PlainCall(tuple(files), units=units, **given) if files else None

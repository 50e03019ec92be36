"""One line for each of several checked files, and the same as data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from rigcheck.output.screen import Look, Page
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain

if TYPE_CHECKING:
    from rigcheck.case.errors import Problem


UNUSABLE = "unusable"
PROBLEMS = "rigcheck.problems/1"


def problems_result(file: str, *, problems: Sequence[Problem]) -> Plain:
    """A file that cannot be used, the contract `rigcheck.problems/1`.

    Args:
        file: Its name.
        problems: All that is wrong with it.

    Returns:
        The file with its problems, each with key path, what is wrong, what would do and what looks alike.
    """
    return {
        "schema": PROBLEMS,
        "input": {"file": file},
        "verdict": UNUSABLE,
        "problems": [
            {"key": one.key, "why": one.why, "accepted": list(one.accepted), "nearest": list(one.nearest)}
            for one in problems
        ],
    }


def summary_entry(file: str, *, found: Mapping[str, Any]) -> tuple[str, str, str]:
    """Mark, sentence and style of one file.

    Args:
        file: The file as the user names it.
        found: Its result, or what is wrong with it.

    Returns:
        The verdict in capitals; file and headline; name of the style.
    """
    verdict = str(found["verdict"])
    if verdict == UNUSABLE:
        count = len(found["problems"])
        return verdict.upper(), f"{file}: {count} problem{'s' if count > 1 else ''}, listed above", "stops"
    _, colon, rest = str(found["headline"]).partition(": ")
    return verdict.upper(), f"{file}: {rest}" if colon else file, verdict


def summary_screen(entries: Sequence[tuple[str, str, str]], *, look: Look) -> str:
    """All files under one another, then what they come to and the cautions.

    Args:
        entries: Mark, sentence and style of each file.
        look: Width and color.

    Returns:
        The screen.
    """
    page = Page(look)
    widest = max(len(mark) for mark, _, _ in entries)
    for mark, text, style in entries:
        page.items([(mark.ljust(widest), text)], style=style)
    page.line()
    words = ("unusable", "over", "incomplete", "tight", "within")
    counts = {word: sum(mark == word.upper() for mark, _, _ in entries) for word in words}
    told = ", ".join(f"{count} {word}" for word, count in counts.items() if count)
    page.line(f"{len(entries)} files: {told}. `rigcheck check FILE` alone says why.")
    page.heading("Cautions")
    page.items(("-", text) for text in CAUTIONS)
    return page.text()

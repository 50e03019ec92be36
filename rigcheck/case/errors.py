"""What is wrong with a case file, one line a problem, all of them at once."""

from collections.abc import Iterable
from dataclasses import dataclass

from rigcheck.quantities import one_of

LONGEST_SHOWN = 60
Location = tuple[str | int, ...]  # steps of a key path; rows of a repeated table by their number from 0


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that makes a case unusable.

    Attributes:
        file: Name of the file.
        key: Key path, repeated tables counted from 1, as in line.link[2].wll; empty for the whole file.
        why: What was given and what is wrong with it.
        accepted: What would do.
        nearest: Valid keys or words that look like what was given.
        line: Line of the file, counted from 1; 0 where it stands in none.
    """

    file: str
    key: str
    why: str
    accepted: tuple[str, ...] = ()
    nearest: tuple[str, ...] = ()
    line: int = 0

    def __str__(self) -> str:
        line = f"line {self.line}" if self.line else ""
        return ": ".join(text for text in (self.file, line, self.key, self.sentence) if text)

    @property
    def sentence(self) -> str:
        """What is wrong and what would do, without its place."""
        accepted = f"; write {one_of(self.accepted)}" if self.accepted else ""
        nearest = f"; nearest: {', '.join(self.nearest)}" if self.nearest else ""
        return f"{self.why}{accepted}{nearest}"


class CaseError(Exception):
    """A case that cannot be used; carries every problem of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def key_path(location: Iterable[str | int]) -> str:
    """Path as a person reads it: ("line", "link", 1, "wll") is line.link[2].wll."""
    text = ""
    for step in location:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{printable(step)}"
    return text.removeprefix(".")


def printable(text: str) -> str:
    """The text with nothing in it that could move a terminal's cursor, and not too long."""
    clean = printable_line(text)
    return clean if len(clean) <= LONGEST_SHOWN else clean[:LONGEST_SHOWN] + "..."


def printable_line(text: str) -> str:
    """A whole sentence with nothing in it that could move a terminal's cursor."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def shown(given: object) -> str:
    """What the person wrote, short, as it looks in the file."""
    if isinstance(given, bool):
        return "true" if given else "false"
    if isinstance(given, dict):
        return "a table"
    if isinstance(given, list):
        return "a list"
    if isinstance(given, int) and given.bit_length() > 200:
        return "a very large number"
    return f'"{printable(given)}"' if isinstance(given, str) else printable(str(given))


def nearest_words(given: str, words: Iterable[str]) -> tuple[str, ...]:
    """At most three words that look like the given one, whatever their capitals."""
    from difflib import get_close_matches  # only a misspelt case pays for it

    known = {word.lower(): word for word in words}
    return tuple(known[one] for one in get_close_matches(given[:LONGEST_SHOWN].lower(), list(known), n=3, cutoff=0.6))

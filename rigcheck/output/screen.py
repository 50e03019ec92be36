"""Put paragraphs, lists and tables on a screen of a given width; plain ASCII layout, color only where it is wanted.

A screen is told whole, or as one screen of 45 lines: then each section says how many of its lines it wants there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from textwrap import wrap

NARROWEST = 40
LINES = 45
"""Lines of one screen."""
STANDING = (
    "A check, not a certificate: a licensed engineer and the local rules decide.",
    "Nobody under a hung box or in its fall path: block it first. Rated parts only.",
)
"""The standing cautions where they must fit two lines; in full they end report, card and whole screens."""
_GAP = 2
_LEAST = 12, 8  # letters; where a column of text would be narrower, fixed columns give room too, down to the second
_MEASURE = re.compile(r"\d (?=(?:%|in|ft|lb|psi|deg|gpm|mph|g|mm|kN|N|MPa|kg)\b|%)")  # a number and its unit
_TIED = "\u00a0"  # stands for a blank at which a line is not broken
_FIXED_SHARE = 3
_MOST_OF_HEAD, _LEAST_OF_HEAD = 20, 5  # lines and groups before the first heading of one screen
_STYLES = {  # ANSI codes of colors, bold
    "over": "1;31",
    "stops": "1;31",
    "incomplete": "1;33",
    "tight": "1;33",
    "within": "32",
    "head": "1",
}


@dataclass(frozen=True, slots=True)
class Look:
    """How a screen looks: its width in letters, whether it has color, and whether all of it is told."""

    width: int = 80
    color: bool = False
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes:
        head: Its heading.
        number: Set to the right and not broken.
        share: Its part of the room that numbers and fixed columns leave; 0 for a column as wide as its longest cell.
    """

    head: str
    number: bool = False
    share: int = 1

    @property
    def fixed(self) -> bool:
        """As wide as its longest cell."""
        return self.number or self.share == 0


@dataclass(slots=True)
class _Part:
    """A section of a screen.

    Attributes:
        keep: Lines of it that one screen of it may take; none for a section that only the whole screen has.
        least: Groups that stay on one screen however full it is.
        groups: Its lines, those of one paragraph, entry or row together; the heading and a table's head first.
        head: How many of the first groups are heading.
    """

    keep: int
    least: int = 1
    groups: list[list[str]] = field(default_factory=list)
    head: int = 0

    def shown(self, groups: int) -> list[str]:
        """Its lines when only so many of its groups are told; the last line says how many are not."""
        lines = [line for group in self.groups[: self.head + groups] for line in group]
        left = len(self.groups) - self.head - groups
        return [*lines, f"   and {left} more: --all"] if left > 0 and self.head else lines


class Page:
    """Parts of a screen in order; `text` gives them."""

    def __init__(self, look: Look) -> None:
        self.look = Look(max(look.width, NARROWEST), look.color, look.whole)
        self._parts: list[_Part] = [_Part(_MOST_OF_HEAD, _LEAST_OF_HEAD)]
        self._last: list[str] = []

    @property
    def _groups(self) -> list[list[str]]:
        return self._parts[-1].groups

    def line(self, text: str = "", *, style: str = "") -> None:
        """One paragraph from the margin, broken between words."""
        self._add(_broken(text, width=self.look.width), style=style)

    def heading(self, text: str, *, keep: int = 0, least: int = 1) -> None:
        """A blank line and a heading, which begin a section.

        Args:
            text: The heading.
            keep: Lines that the section may take on one screen; none where only the whole screen has it.
            least: Paragraphs, entries or rows of it that stay there however full the screen is.
        """
        self._parts.append(_Part(keep, least))
        self.line()
        self.line(text, style="head")
        self._parts[-1].head = len(self._groups)

    def part(self, *, keep: int = 0) -> None:
        """A blank line, which begins a section without a heading."""
        self._parts.append(_Part(keep))
        self.line()
        self._parts[-1].head = 1

    def close(self, verdict: str, *, rest: str, style: str = "") -> None:
        """The last lines of one screen: the standing cautions, what the whole one has, and the verdict once more."""
        if self.look.whole:
            return
        lines = ["", *(one for text in (*STANDING, rest) for one in _broken(text, width=self.look.width))]
        self._last = [*lines, *self._colored([_clipped(verdict, self.look.width)], style)]

    def items(self, texts: Iterable[tuple[str, str]], *, style: str = "") -> None:
        """A list; each entry is its mark and its text, continued under the text."""
        entries = list(texts)
        lead = 2 + max((len(mark) for mark, _ in entries), default=0)
        for mark, text in entries:
            first, *rest = _broken(text, width=self.look.width - lead)
            self._add([f" {mark}".ljust(lead) + first, *(" " * lead + line for line in rest)], style=style)

    def table(self, columns: Sequence[Column], *, rows: Iterable[tuple[Sequence[str], str]]) -> None:
        """A table; each row is its cells, which may hold several lines, and its style."""
        told = list(rows)
        widths = _widths(columns, cells=[[column.head for column in columns], *(cells for cells, _ in told)],
                         room=self.look.width)  # fmt: skip
        first = len(self._groups) == self._parts[-1].head
        self._row([column.head for column in columns], columns=columns, widths=widths, style="head")
        self._add(["-" * (sum(widths) + _GAP * (len(widths) - 1))])
        self._parts[-1].head += 2 if first and self._parts[-1].head else 0
        for cells, style in told:
            self._row(cells, columns=columns, widths=widths, style=style)

    def text(self) -> str:
        """The screen."""
        if self.look.whole:
            lines = [line for part in self._parts for group in part.groups for line in group]
        else:
            lines = [*_fitted(self._parts, room=LINES - len(self._last)), *self._last]
        return "".join(f"{line}\n" for line in lines)

    def _row(self, cells: Sequence[str], *, columns: Sequence[Column], widths: Sequence[int], style: str) -> None:
        broken = [_broken(cell, width=width, hyphens=True) for cell, width in zip(cells, widths, strict=True)]
        told = []
        for number in range(max(len(lines) for lines in broken)):
            parts = []
            for lines, column, width in zip(broken, columns, widths, strict=True):
                part = lines[number] if number < len(lines) else ""
                parts.append(part.rjust(width) if column.number else part.ljust(width))
            told.append((" " * _GAP).join(parts))
        self._add(told, style=style)

    def _add(self, lines: Iterable[str], *, style: str = "") -> None:
        self._groups.append(self._colored(lines, style))

    def _colored(self, lines: Iterable[str], style: str) -> list[str]:
        code = _STYLES.get(style, "") if self.look.color else ""
        plain = [line.rstrip() for line in lines]
        return [f"\x1b[{code}m{line}\x1b[0m" if code and line else line for line in plain]


def _fitted(parts: Sequence[_Part], *, room: int) -> list[str]:
    """Sections that fit a screen: each as long as it wants, then the longest of them one entry shorter at a time."""
    told = [part for part in parts if part.keep and len(part.groups) > part.head]
    counts = [_most(part) for part in told]

    def height(i: int) -> int:
        return len(told[i].shown(counts[i]))

    while sum(map(height, range(len(told)))) > room:
        loose = [i for i in range(len(told)) if counts[i] > told[i].least]
        if not loose:
            break
        longest = max(loose, key=lambda i: (bool(told[i].head), height(i) / told[i].keep, i))
        counts[longest] -= 1
    return [line for part, count in zip(told, counts, strict=True) for line in part.shown(count)][:room]


def _most(part: _Part) -> int:
    """How many groups of a section go into the lines that it wants."""
    every = len(part.groups) - part.head
    return next((n for n in range(every, 1, -1) if len(part.shown(n)) <= part.keep), min(every, 1))


def _clipped(text: str, width: int) -> str:
    """As much of a verdict as fits a line, whole clauses where that can be."""
    if len(text) <= width:
        return text
    last = max(text.rfind(mark, 0, width + 1) for mark in (", ", "; ", ": "))
    return text[:last] if last > width // 4 else f"{text[: width - 3]}..."


def _broken(text: str, *, width: int, hyphens: bool = False) -> list[str]:
    """Lines of a text, broken between words where they can be, a number kept with its unit."""
    found: list[str] = []
    for line in text.split("\n"):
        if len(line) <= width:
            found.append(line)
        else:
            tied = _tied(line, width=width)
            lines = wrap(tied, width=max(width, 1), break_on_hyphens=hyphens)
            found += [one.replace(_TIED, " ") for one in lines]
    return found


def _tied(line: str, *, width: int) -> str:
    """The line with numbers tied to their units, unless a word would then be too long for a line."""
    tied = _MEASURE.sub(lambda found: found[0][0] + _TIED, line)
    words = tied.split(" ")
    return " ".join(word if len(word) <= width else word.replace(_TIED, " ") for word in words)


def _widths(columns: Sequence[Column], *, cells: Sequence[Sequence[str]], room: int) -> list[int]:
    """Widths of columns: as wide as their longest cell, or narrower where all do not fit.

    Then headings of numbers take several lines, and columns of text become narrower, no word of theirs broken where
    that can be.
    """
    every = range(len(columns))
    natural = [max(max(map(len, row[i].split("\n"))) for row in cells) for i in every]
    left = room - _GAP * (len(columns) - 1)
    if sum(natural) <= left:
        return natural
    for i in every:
        if columns[i].number:
            body = max((max(map(len, row[i].split("\n"))) for row in cells[1:]), default=0)
            natural[i] = max(body, _longest_word(cells[0][i]))
    longest = [max(_longest_word(row[i]) for row in cells) for i in every]
    text = [i for i in every if not columns[i].fixed]
    words = [i for i in every if not columns[i].number]
    for loose, few in zip((text, words), _LEAST, strict=True):
        least = [min(natural[i], max(few, longest[i])) for i in every]
        rest = left - sum(natural[i] for i in every if i not in loose)
        if rest >= sum(least[i] for i in loose):
            break
    else:
        loose, rest, least = list(every), left, [0 for _ in every]
    return _given(natural, least=least, loose=loose, rest=rest, share=[one.share or _FIXED_SHARE for one in columns])


def _longest_word(text: str) -> int:
    """Letters of the longest piece that a cell is not broken in."""
    return max(map(len, re.split(r"\s|(?<=[a-zA-Z]-)(?=[a-zA-Z])", text)))


def _given(
    natural: Sequence[int], *, least: Sequence[int], loose: Sequence[int], rest: int, share: Sequence[int]
) -> list[int]:
    """The room shared out among the loose columns: to none more than it needs, to none less than its least."""
    widths, still = list(natural), list(loose)
    while still:
        given = {i: rest * share[i] // sum(share[j] for j in still) for i in still}
        settled = {i: least[i] for i in still if given[i] < least[i]}
        settled = settled or {i: natural[i] for i in still if natural[i] <= given[i]}
        for i, width in (settled or given).items():
            widths[i] = width
        if not settled:
            break
        rest -= sum(settled.values())
        still = [i for i in still if i not in settled]
    return widths

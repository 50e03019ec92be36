"""Put paragraphs, lists and tables on a screen of a given width; plain ASCII layout, color only where it is wanted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from textwrap import wrap

NARROWEST = 40
_GAP = 2
_LEAST = 12, 8  # letters; where a column of text would be narrower, fixed columns give room too, down to the second
_MEASURE = re.compile(r"\d (?=(?:%|in|ft|lb|psi|deg|gpm|mph|g|mm|kN|N|MPa|kg)\b|%)")  # a number and its unit
_TIED = "\u00a0"  # stands for a blank at which a line is not broken
_FIXED_SHARE = 3
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
    """How a screen looks: its width in letters, and whether it has color."""

    width: int = 80
    color: bool = False


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


class Page:
    """Parts of a screen in order; `text` gives them."""

    def __init__(self, look: Look) -> None:
        self.look = Look(max(look.width, NARROWEST), look.color)
        self._lines: list[str] = []

    def line(self, text: str = "", *, style: str = "") -> None:
        """One paragraph from the margin, broken between words."""
        self._add(_broken(text, width=self.look.width), style=style)

    def heading(self, text: str) -> None:
        """A blank line and a heading."""
        self.line()
        self.line(text, style="head")

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
        self._row([column.head for column in columns], columns=columns, widths=widths, style="head")
        self._add(["-" * (sum(widths) + _GAP * (len(widths) - 1))])
        for cells, style in told:
            self._row(cells, columns=columns, widths=widths, style=style)

    def text(self) -> str:
        """The whole screen."""
        return "".join(f"{line}\n" for line in self._lines)

    def _row(self, cells: Sequence[str], *, columns: Sequence[Column], widths: Sequence[int], style: str) -> None:
        broken = [_broken(cell, width=width, hyphens=True) for cell, width in zip(cells, widths, strict=True)]
        for number in range(max(len(lines) for lines in broken)):
            parts = []
            for lines, column, width in zip(broken, columns, widths, strict=True):
                part = lines[number] if number < len(lines) else ""
                parts.append(part.rjust(width) if column.number else part.ljust(width))
            self._add([(" " * _GAP).join(parts)], style=style)

    def _add(self, lines: Iterable[str], *, style: str = "") -> None:
        code = _STYLES.get(style, "") if self.look.color else ""
        for line in lines:
            plain = line.rstrip()
            self._lines.append(f"\x1b[{code}m{plain}\x1b[0m" if code and plain else plain)


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

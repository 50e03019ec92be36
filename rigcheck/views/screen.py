"""Put paragraphs, lists and tables on a screen of a given width; plain ASCII layout, colour only where it is wanted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from textwrap import wrap

NARROWEST = 40
_GAP = 2
_LEAST = 12  # letters; where a column of text would be narrower, fixed columns give room too
_FIXED_SHARE = 3
_STYLES = {"over": "1;31", "stops": "1;31", "tight": "1;33", "within": "32", "head": "1"}  # ANSI codes of colours, bold


@dataclass(frozen=True, slots=True)
class Look:
    """How a screen looks: its width in letters, and whether it has colour."""

    width: int = 80
    colour: bool = False


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
        self.look = Look(max(look.width, NARROWEST), look.colour)
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
        broken = [_broken(cell, width=width) for cell, width in zip(cells, widths, strict=True)]
        for number in range(max(len(lines) for lines in broken)):
            parts = []
            for lines, column, width in zip(broken, columns, widths, strict=True):
                part = lines[number] if number < len(lines) else ""
                parts.append(part.rjust(width) if column.number else part.ljust(width))
            self._add([(" " * _GAP).join(parts)], style=style)

    def _add(self, lines: Iterable[str], *, style: str = "") -> None:
        code = _STYLES.get(style, "") if self.look.colour else ""
        for line in lines:
            plain = line.rstrip()
            self._lines.append(f"\x1b[{code}m{plain}\x1b[0m" if code and plain else plain)


def _broken(text: str, *, width: int) -> list[str]:
    """Lines of a text, broken between words where they can be."""
    found: list[str] = []
    for line in text.split("\n"):
        if len(line) <= width:
            found.append(line)
        else:
            found += wrap(line, width=max(width, 1), break_on_hyphens=False)
    return found


def _widths(columns: Sequence[Column], *, cells: Sequence[Sequence[str]], room: int) -> list[int]:
    """Widths of columns: as wide as their longest cell, those of text narrower where all do not fit."""
    natural = [max(max(map(len, row[i].split("\n"))) for row in cells) for i in range(len(columns))]
    share = [column.share or _FIXED_SHARE for column in columns]
    left = room - _GAP * (len(columns) - 1)
    every = range(len(columns))
    text = [i for i in every if not columns[i].fixed]
    words = [i for i in every if not columns[i].number]
    for loose, least in ((text, _LEAST), (words, _LEAST // 2), (list(every), 0)):
        rest = left - sum(width for i, width in enumerate(natural) if i not in loose)
        if rest >= sum(min(natural[i], least) for i in loose):
            break
    left, widths = rest, list(natural)
    while loose and sum(natural[i] for i in loose) > left:
        given = {i: left * share[i] // sum(share[j] for j in loose) for i in loose}
        content = [i for i in loose if natural[i] <= given[i]]
        if not content:
            return [given.get(i, width) for i, width in enumerate(widths)]
        left -= sum(natural[i] for i in content)
        loose = [i for i in loose if i not in content]
    return widths

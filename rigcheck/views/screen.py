"""Put paragraphs, lists and tables on a screen of a given width; plain ASCII layout, colour only where it is wanted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import StringIO
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.table import Table

NARROWEST = 40
_RULE = "    \n    \n -- \n    \n    \n    \n    \n    \n"  # hyphens under the head of a table and nothing else
STYLES = {"over": "bold red", "tight": "bold yellow", "within": "green", "stops": "bold red", "head": "bold"}


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
        number: Set to the right and never broken.
        share: Its part of the room that numbers and fixed columns leave; 0 for a column as wide as its longest cell.
    """

    head: str
    number: bool = False
    share: int = 1


class Page:
    """Parts of a screen in order; `text` makes the text."""

    def __init__(self, look: Look) -> None:
        self.look = Look(max(look.width, NARROWEST), look.colour)
        self._parts: list[Any] = []

    def line(self, text: str = "", *, style: str = "") -> None:
        """One paragraph from the margin, broken between words."""
        from rich.text import Text  # rich takes a tenth of the whole run and only screens need it

        self._parts.append(Text(text, style=STYLES.get(style, style), overflow="fold"))

    def heading(self, text: str) -> None:
        """A blank line and a heading."""
        self.line()
        self.line(text, style="head")

    def items(self, texts: Iterable[tuple[str, str]], *, style: str = "") -> None:
        """A list; each entry is its mark and its text, continued under the text."""
        from rich.table import Table

        grid = Table.grid(padding=(0, 1), pad_edge=False)
        grid.add_column(no_wrap=True)
        grid.add_column(overflow="fold")
        for mark, text in texts:
            grid.add_row(f" {mark}", text, style=STYLES.get(style, style))
        self._parts.append(grid)

    def table(self, columns: Sequence[Column], *, rows: Iterable[tuple[Sequence[str], str]]) -> None:
        """A table; each row is its cells, which may hold several lines, and its style."""
        made = self._table(columns)
        for cells, style in rows:
            made.add_row(*cells, style=STYLES.get(style, style))
        self._parts.append(made)

    def _table(self, columns: Sequence[Column]) -> Table:
        from rich.box import Box
        from rich.table import Table

        rule = Box(_RULE, ascii=True)
        made = Table(box=rule, padding=(0, 1, 0, 0), pad_edge=False, header_style="bold", show_edge=False)
        for column in columns:
            right = column.number
            made.add_column(
                column.head,
                justify="right" if right else "left",
                no_wrap=right,
                overflow="fold",
                ratio=None if right else column.share or None,
            )
        return made

    def text(self) -> str:
        """The whole screen, blanks at line ends taken off."""
        from rich.console import Console

        out = StringIO()
        console = Console(
            file=out,
            width=self.look.width,
            force_terminal=self.look.colour,
            color_system="auto" if self.look.colour else None,
            no_color=None if self.look.colour else True,
            highlight=False,
            markup=False,
            emoji=False,
            legacy_windows=False,
        )
        for part in self._parts:
            console.print(part)
        return "".join(f"{line.rstrip()}\n" for line in out.getvalue().splitlines())

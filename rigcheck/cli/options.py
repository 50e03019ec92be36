"""Options that several commands share, and the look of the screen."""

from __future__ import annotations

import os
import shutil
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from rigcheck.views.screen import Look

PIPED_WIDTH = 80
WIDEST = 120  # longer lines are hard to read


class Units(StrEnum):
    """Units of the output."""

    us = "us"
    si = "si"


CaseFile = Annotated[Path, typer.Argument(metavar="FILE", help="The case file.", show_default=False)]
CaseFiles = Annotated[list[Path], typer.Argument(metavar="FILE", help="The case files.", show_default=False)]
AsJson = Annotated[bool, typer.Option("--json", help="Print the result as JSON, for machines.")]
OutputUnits = Annotated[Units, typer.Option("--units", help="Units of the output: US customary or SI.")]
Width = Annotated[int, typer.Option("--width", hidden=True, min=0, help="Width of the screen in letters.")]
Force = Annotated[bool, typer.Option("--force", help="Replace a file that is there already.")]


def look(width: int = 0) -> Look:
    """Width and colour that suit where stdout goes.

    Args:
        width: Wanted width; that of the terminal, or 80 when piped, if 0.
    """
    from rigcheck.views.screen import Look

    terminal = sys.stdout.isatty()
    if not width:
        columns = os.environ.get("COLUMNS", "")
        if terminal or columns.isdigit():
            width = min(shutil.get_terminal_size((PIPED_WIDTH, 24)).columns, WIDEST)
        else:
            width = PIPED_WIDTH
    dumb = os.environ.get("TERM", "") == "dumb" or (os.name == "nt" and "WT_SESSION" not in os.environ)
    return Look(width=width, colour=terminal and not dumb and not os.environ.get("NO_COLOR"))

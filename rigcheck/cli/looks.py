"""Units of the output, and the width and color of the screen; loads nothing that a plain check does not need."""

from __future__ import annotations

import os
import sys
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigcheck.output.screen import Look

PIPED_WIDTH = 80
WIDEST = 120  # longer lines are hard to read


class Units(StrEnum):
    """Units of the output."""

    us = "us"
    si = "si"


def look(width: int = 0, *, whole: bool = True) -> Look:
    """Width and color that suit where stdout goes.

    Args:
        width: Wanted width; that of the terminal, or 80 when piped, if 0.
        whole: Everything, and not one screen.
    """
    from rigcheck.output.screen import Look

    terminal = sys.stdout.isatty()
    if not width:
        columns = os.environ.get("COLUMNS", "")
        if terminal or columns.isdigit():
            import shutil  # with all that compresses files, which a piped answer need not wait for

            width = min(shutil.get_terminal_size((PIPED_WIDTH, 24)).columns, WIDEST)
        else:
            width = PIPED_WIDTH
    dumb = os.environ.get("TERM", "") == "dumb" or (os.name == "nt" and "WT_SESSION" not in os.environ)
    return Look(width=width, color=terminal and not dumb and not os.environ.get("NO_COLOR"), whole=whole)

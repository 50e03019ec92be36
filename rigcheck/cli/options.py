"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rigcheck.cli.looks import Units, look

__all__ = ["AsJson", "CaseFile", "CaseFiles", "Everything", "Force", "OutputUnits", "Units", "Width", "look"]

CaseFile = Annotated[Path, typer.Argument(metavar="FILE", help="The case file.", show_default=False)]
CaseFiles = Annotated[list[Path], typer.Argument(metavar="FILE", help="The case files.", show_default=False)]
AsJson = Annotated[bool, typer.Option("--json", help="Print the result as JSON, for machines.")]
OutputUnits = Annotated[Units, typer.Option("--units", help="Units of the output: US customary or SI.")]
Everything = Annotated[bool, typer.Option("--all", help="Print all of it, and not one screen of 45 lines.")]
Width = Annotated[int, typer.Option("--width", hidden=True, min=0, help="Width of the screen in letters.")]
Force = Annotated[bool, typer.Option("--force", help="Replace a file that is there already.")]

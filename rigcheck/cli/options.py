"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rigcheck.cli.looks import Units, look
from rigcheck.cli.plain_call import JSON, UNITS, WIDTH

__all__ = ["AsJson", "CaseFile", "CaseFiles", "Everything", "Force", "OutputUnits", "Units", "Width", "look"]

CaseFile = Annotated[Path, typer.Argument(metavar="FILE", help="The case file.", show_default=False)]
CaseFiles = Annotated[list[Path], typer.Argument(metavar="FILE", help="The case files.", show_default=False)]
AsJson = Annotated[bool, typer.Option(JSON.word, help=JSON.help)]
OutputUnits = Annotated[Units, typer.Option(UNITS.word, help=UNITS.help)]
Everything = Annotated[bool, typer.Option("--all", help="Print all of it, and not one screen of 45 lines.")]
Width = Annotated[int, typer.Option(WIDTH.word, hidden=WIDTH.hidden, min=0, help=WIDTH.help)]
Force = Annotated[bool, typer.Option("--force", help="Replace a file that is there already.")]

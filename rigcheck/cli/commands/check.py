"""The command `check`: every part in every state."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.check_files import check_files
from rigcheck.cli.options import AsJson, CaseFiles, OutputUnits, Units, Width
from rigcheck.cli.plain_call import CONFIRM, CURES, WHOLE


def command(
    files: CaseFiles,
    *,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    whole: Annotated[bool, typer.Option(WHOLE.word, help=WHOLE.help)] = False,
    confirm: Annotated[bool, typer.Option(CONFIRM.word, help=CONFIRM.help)] = False,
    cures: Annotated[bool, typer.Option(CURES.word, help=CURES.help)] = False,
    width: Width = 0,
) -> int:
    """Check every part of a rig in every state of its life; of several files, one line each."""
    return check_files(files, as_json=as_json, units=units, whole=whole, confirm=confirm, cures=cures, width=width)

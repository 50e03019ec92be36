"""The command `check`: every part in every state."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.check_files import check_files
from rigcheck.cli.options import AsJson, CaseFiles, OutputUnits, Units, Width


def command(
    files: CaseFiles,
    *,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    whole: Annotated[bool, typer.Option("--all", help="Print every mode of every part.")] = False,
    confirm: Annotated[
        bool, typer.Option("--confirm", help="Solve the governing states anew as a frame; 0.5 % apart is an error.")
    ] = False,
    cures: Annotated[bool, typer.Option("--remedies", help="List all that would cure a rig that is over.")] = False,
    width: Width = 0,
) -> int:
    """Check every part of a rig in every state of its life; of several files, one line each."""
    return check_files(files, as_json=as_json, units=units, whole=whole, confirm=confirm, cures=cures, width=width)

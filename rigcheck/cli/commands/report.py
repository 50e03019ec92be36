"""The command `report`: one HTML file for the engineer who reviews the rig."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from rigcheck.cli.codes import UNUSABLE_INPUT, code_of
from rigcheck.cli.inputs import read_whole
from rigcheck.cli.options import AsJson, CaseFile, Force, OutputUnits, Units
from rigcheck.cli.output import complain, refuse_existing, say_json, write_file

Output = Annotated[
    Path | None,
    typer.Option("--output", "-o", metavar="FILE", help="File to write; needed unless --json.", show_default=False),
]
Length = Annotated[
    bool,
    typer.Option("--length/--no-length", help="With the curve over the length and the rig with one input moved."),
]

Working = Annotated[bool, typer.Option("--working/--no-working", help="With the worked calculation.")]


def command(
    file: CaseFile,
    *,
    output: Output = None,
    force: Force = False,
    working: Working = True,
    length: Length = True,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
) -> int:
    """Write the reviewing engineer's packet as one self-contained page: drawings, checks, loads, curves, sources.

    With --json everything the page shows goes to stdout as JSON. Where a frame does not confirm the statics within half
    a percent, nothing is written: that is a mistake of this program, exit code 70.
    """
    if output is None and not as_json:
        complain("report: say where to write it, such as -o report.html; or --json for machines")
        return UNUSABLE_INPUT
    from rigcheck.case.tacks import must_be_finished
    from rigcheck.output.report.packet import packet
    from rigcheck.output.report.page import report_html

    if output is not None:
        refuse_existing(output, force=force, case=file)
    case, source, text = read_whole(file)
    must_be_finished(case, name=source.file)
    made = date.today().isoformat()
    found = packet(case, source=source, text=text, system=units.value, curves=length, working=working, made=made)
    if output is not None:
        write_file(output, text=report_html(found), force=force)
        complain(f"{output}: written")
    if as_json:
        say_json(found)
    return code_of(found["result"]["verdict"])

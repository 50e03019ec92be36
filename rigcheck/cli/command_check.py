"""The command `check`: every part in every state."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.codes import NOTHING_OVER, SOMETHING_OVER
from rigcheck.cli.inputs import read
from rigcheck.cli.options import AsJson, CaseFiles, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json


def command(
    files: CaseFiles,
    *,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    whole: Annotated[bool, typer.Option("--all", help="Print every mode of every part.")] = False,
    width: Width = 0,
) -> int:
    """Check every part of a rig in every state of its life; of several files, one line each."""
    if len(files) > 1:
        from rigcheck.cli.check_many import check_many

        return check_many(files, as_json=as_json, units=units, width=width)
    from rigcheck.case.rig import Rig
    from rigcheck.check.assess import assess
    from rigcheck.views.result import result
    from rigcheck.views.terminal import check_screen

    case, source = read(files[0])
    found = result(assess(Rig(case)), source=source, system=units.value)
    if as_json:
        say_json(found)
    else:
        say(check_screen(found, look=look(width), whole=whole))
    return SOMETHING_OVER if found["verdict"] == "over" else NOTHING_OVER

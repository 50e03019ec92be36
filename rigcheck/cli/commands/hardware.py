"""The command `hardware`: the smallest standard size of every link and steel part that is not used beyond a limit."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.codes import code_for
from rigcheck.cli.inputs import read_finished
from rigcheck.cli.options import AsJson, CaseFile, Everything, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json

MaxUtilization = Annotated[
    int | None,
    typer.Option("--max-utilization", min=10, max=100, metavar="PERCENT", help="Most utilization of a chosen part;"
                 " factors.tight_above of the case when not given.", show_default=False),
]  # fmt: skip


def command(
    file: CaseFile, *, max_utilization: MaxUtilization = None, as_json: AsJson = False, units: OutputUnits = Units.us,
    width: Width = 0, everything: Everything = False,
) -> int:  # fmt: skip
    """List the smallest standard size of each link and steel part that passes, with the rating to look for on its tag.

    Exit code 1 where the rig would still be over with all of them, 3 where parts of the load path are not assessed.
    """
    from rigcheck.case.rig import Rig
    from rigcheck.output.hardware.view import hardware_result, hardware_screen
    from rigcheck.output.rig_words import beside, checked
    from rigcheck.studies.hardware.study import hardware

    case, source = read_finished(file)
    rig = Rig(case)
    own = beside(checked(rig, name=source.file))
    found = hardware(rig, max_utilization=None if max_utilization is None else max_utilization / 100.0)
    told = {**hardware_result(found, case=case, source=source, system=units.value), **own}
    if as_json:
        say_json(told)
    else:
        say(hardware_screen(told, look=look(width, whole=everything)))
    return code_for(over=told["together"]["over"], complete=told["complete"])

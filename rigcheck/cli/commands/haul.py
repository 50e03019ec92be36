"""The command `haul`: what holds the folded box when parked and on the road."""

from __future__ import annotations

from rigcheck.cli.codes import code_of
from rigcheck.cli.inputs import read_finished
from rigcheck.cli.options import AsJson, CaseFile, Everything, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json


def command(
    file: CaseFile,
    *,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Park and haul the folded box: straps, stops, hinge, wind, and the list before the road."""
    from rigcheck.case.errors import CaseError, Problem
    from rigcheck.case.rig import Rig
    from rigcheck.output.haul.screen import haul_screen
    from rigcheck.output.haul.view import haul_result
    from rigcheck.studies.haul.study import haul

    case, source = read_finished(file)
    study = haul(Rig(case))
    if study is None:
        raise CaseError([Problem(source.file, "fold.to", 'is not given; write how far it is folded, such as "92 deg"')])
    found = haul_result(study, source=source, system=units.value)
    if as_json:
        say_json(found)
    else:
        say(haul_screen(found, look=look(width, whole=everything)))
    return code_of(found["verdict"])

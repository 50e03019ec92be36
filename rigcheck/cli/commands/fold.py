"""The command `fold`: whether the box can be folded with its lines, how far, and with which pull."""

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
    """Fold the box from deployed to `fold.to`: what holds it, how hard the lines pull, whether it gets there."""
    from rigcheck.assessment.assess import assess
    from rigcheck.case.errors import CaseError, Problem
    from rigcheck.case.rig import Rig
    from rigcheck.output.fold.screen import fold_screen
    from rigcheck.output.fold.view import fold_result
    from rigcheck.studies.fold.study import fold_of

    case, source = read_finished(file)
    if case.fold.to is None:
        raise CaseError([Problem(source.file, "fold.to", 'is not given; write how far it is folded, such as "92 deg"')])
    found = fold_result(fold_of(assess(Rig(case))), source=source, system=units.value)
    if as_json:
        say_json(found)
    else:
        say(fold_screen(found, look=look(width, whole=everything)))
    return code_of(found["verdict"])

"""The command `props`: the hung box beside the same box on a tail leg, and on a second pair of lines."""

from __future__ import annotations

from rigcheck.cli.codes import code_for
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
    """Compare the box hung on its lines with one on a tail leg, and with one on a second pair of lines.

    Those of [tail_leg] and [second_line] in the case, else where one would try them first. Exit code 1 where something
    is over with each of them, 3 where parts of the load path are not assessed.
    """
    from rigcheck.case.rig import Rig
    from rigcheck.output.props.screen import props_screen
    from rigcheck.output.props.view import props_result
    from rigcheck.output.rig_words import beside, checked
    from rigcheck.studies.props.study import props

    case, source = read_finished(file)
    rig = Rig(case)
    own = beside(checked(rig, name=source.file))
    found = props(rig)
    told = {**props_result(found, rig=rig, source=source, system=units.value), **own}
    if as_json:
        say_json(told)
    else:
        say(props_screen(told, look=look(width, whole=everything)))
    return code_for(over=all(one.over for one in found), complete=told["complete"])

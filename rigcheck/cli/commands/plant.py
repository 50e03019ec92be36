"""The command `plant`: whether the plant under the box tips, what its feet carry, tongue and axle on the road."""

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
    """Whether the plant tips with its box: every way, in every load case; with least ballast, feet, tongue and axle."""
    from rigcheck.assessment.assess import assess
    from rigcheck.case.rig import Rig
    from rigcheck.output.plant.screen import plant_screen
    from rigcheck.output.plant.view import plant_result
    from rigcheck.studies.plant.study import plant_study

    case, source = read_finished(file)
    answer = assess(Rig(case))
    found = plant_result(plant_study(answer), assessment=answer, source=source, system=units.value)
    if as_json:
        say_json(found)
    else:
        say(plant_screen(found, look=look(width, whole=everything)))
    return code_of(found["verdict"])

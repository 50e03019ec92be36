"""The command `length`: the longest box that passes every check, or the same of any one key."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import typer

from rigcheck.cli.codes import code_for
from rigcheck.cli.inputs import read_finished
from rigcheck.cli.options import AsJson, CaseFile, Everything, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json


class Hanger(StrEnum):
    """What the hanger does when the length changes."""

    fraction = "fraction"
    fixed = "fixed"


Vary = Annotated[str, typer.Option("--vary", metavar="KEY", help="Any one numeric key, such as line.link[2].wll.")]
Low = Annotated[str | None, typer.Option("--from", metavar="VALUE", help="Start of the range, with its unit.")]
High = Annotated[str | None, typer.Option("--to", metavar="VALUE", help="End of the range, with its unit.")]
Follows = Annotated[Hanger, typer.Option("--hanger", help="Over the length: keep its fraction of it, or its place.")]
Points = Annotated[int, typer.Option("--points", min=5, max=1000, help="Values scanned.")]


def command(  # noqa: PLR0913 (its parameters are the options of the command line)
    file: CaseFile,
    *,
    vary: Vary = "box.length",
    low: Low = None,
    high: High = None,
    hanger: Follows = Hanger.fraction,
    points: Points = 33,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Find the longest box that passes every check; with --vary, the same of any one key of the case.

    Exit code 1 where no value of the range passes every check, 3 where parts of the load path are not assessed.
    """
    from rigcheck.case.rig import Rig
    from rigcheck.output.length.screen import length_screen
    from rigcheck.output.length.view import length_result
    from rigcheck.output.rig_words import beside, checked
    from rigcheck.studies.length.study import sweep
    from rigcheck.studies.vary.variable import value_of, variable

    case, source = read_finished(file)
    key = variable(case, vary)
    ends = (
        None if low is None else value_of(key, low, option="--from"),
        None if high is None else value_of(key, high, option="--to"),
    )
    rig = Rig(case)
    own = beside(checked(rig, name=source.file))
    found = sweep(rig, variable=key, span=ends, hanger=hanger.value, points=points)
    told = {**length_result(found, case=case, source=source, system=units.value), **own}
    if as_json:
        say_json(told)
    else:
        say(length_screen(told, look=look(width, whole=everything)))
    return code_for(over=not found.whole, complete=told["complete"])

"""The command `card`: one page for the wall of the shop."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rigcheck.cli.codes import code_of
from rigcheck.cli.inputs import read
from rigcheck.cli.options import AsJson, CaseFile, Everything, Force, OutputUnits, Units, Width, look
from rigcheck.cli.output import complain, refuse_existing, say, say_json, write_file

Output = Annotated[
    Path | None,
    typer.Option("--output", "-o", metavar="FILE", help="Write a page to print; text to the screen when not given."),
]


def command(
    file: CaseFile,
    *,
    output: Output = None,
    force: Force = False,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Print the rig's limits in shop words on one page: bed mark, tags, sizes, what never to do, what to look at."""
    from rigcheck.assessment.assess import assess
    from rigcheck.case.rig import Rig
    from rigcheck.case.tacks import is_tacked
    from rigcheck.output.card.data import card_data
    from rigcheck.output.card.page import card_html
    from rigcheck.output.card.screen import card_screen
    from rigcheck.output.check.result import result
    from rigcheck.output.fold.view import fold_result
    from rigcheck.studies.bed_mark.study import bed_mark
    from rigcheck.studies.fold.study import fold_of

    if output is not None:
        refuse_existing(output, force=force, case=file)
    case, source = read(file)
    rig = Rig(case)
    found = assess(rig)
    still = case.fold.to is None or is_tacked(case)
    folded = None if still else fold_result(fold_of(found), system=units.value, whole=False)
    told = result(found, source=source, system=units.value)
    card = card_data(found, result=told, bed=bed_mark(rig, found=found), fold=folded, system=units.value)
    if output is not None:
        write_file(output, text=card_html(card), force=force)
        complain(f"{output}: written")
    if as_json:
        say_json(card)
    elif output is None:
        say(card_screen(card, look=look(width, whole=everything)))
    return code_of(card["verdict"])

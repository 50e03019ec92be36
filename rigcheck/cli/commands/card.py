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
    from rigcheck.case.rig import Rig
    from rigcheck.output.card.page import card_html
    from rigcheck.output.card.screen import card_screen
    from rigcheck.output.card.whole import card_of

    if output is not None:
        refuse_existing(output, force=force, case=file)
    case, source = read(file)
    card = card_of(Rig(case), source=source, system=units.value)
    if output is not None:
        write_file(output, text=card_html(card), force=force)
        complain(f"{output}: written")
    if as_json:
        say_json(card)
    elif output is None:
        say(card_screen(card, look=look(width, whole=everything)))
    return code_of(card["verdict"])

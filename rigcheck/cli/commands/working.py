"""The command `working`: the governing parts worked out by hand, step by step."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import typer

from rigcheck.cli.codes import code_of
from rigcheck.cli.inputs import read
from rigcheck.cli.options import AsJson, CaseFile, Everything, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json


class Part(StrEnum):
    """Parts that are worked out."""

    line = "line"
    hinge = "hinge"
    rail = "rail"
    rail_strength = "rail-strength"
    pin = "pin"
    ear = "ear"
    lug = "lug"
    face = "face"
    weld = "weld"
    seam = "seam"
    post = "post"
    brace = "brace"
    cross_member = "cross-member"
    floor = "floor"
    road = "road"
    plant = "plant"


Parts = Annotated[
    list[Part] | None, typer.Option("--part", help="Only this part; may be given again.", show_default=False)
]
States = Annotated[
    list[str] | None,
    typer.Option(
        "--state", metavar="STATE", help="Only this state, such as packed; may be given again.", show_default=False
    ),
]


def command(
    file: CaseFile,
    *,
    part: Parts = None,
    state: States = None,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Work out by hand what governs the rig, and each part from line to floor where it is used most.

    Symbols, equation, numbers put in, result, clause; derived from the free body. The exit code is that of `check`.
    """
    from rigcheck.assessment.assess import assess
    from rigcheck.calculation import UnknownStateError, working, working_result
    from rigcheck.case.errors import CaseError, Problem, printable
    from rigcheck.case.reading.renamed import STATES
    from rigcheck.case.rig import Rig
    from rigcheck.output.rig_words import beside
    from rigcheck.output.working.screen import working_screen

    case, source = read(file)
    found = assess(Rig(case))
    parts = None if not part else [one.value for one in part]
    try:
        sections = working(found, parts, states=state, system=units.value)
    except UnknownStateError as error:
        new = STATES.get(error.given)
        why = "is no load case of this rig" if new is None else f"has a new name; write {new}"
        accepted = error.known if new is None else ()
        raise CaseError([Problem("--state", printable(error.given), why, accepted)]) from None
    told = {**working_result(sections, title=case.title, source=source, system=units.value), **beside(found)}
    if as_json:
        say_json(told)
    else:
        say(working_screen(told, look=look(width, whole=everything or parts is not None)))
    return code_of(told["verdict"])

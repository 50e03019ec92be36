"""The command `proof`: water and sandbags that load the lines to 125 % of what they carry at work."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.codes import code_of
from rigcheck.cli.inputs import read_finished
from rigcheck.cli.options import AsJson, CaseFile, Everything, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json

Bag = Annotated[str, typer.Option("--bag", metavar="FORCE", help="Weight of one filled sandbag.")]
BagsAt = Annotated[
    str | None, typer.Option("--bags-at", metavar="DIST", help="Middle of the pile, along the floor from the hinge.")
]


def command(
    file: CaseFile,
    *,
    bag: Bag = "50 lb",
    bags_at: BagsAt = None,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Give the water and sandbags for a proof load of 125 %, in four steps, no other part past yield.

    Exit code 1 where it cannot be reached, or where the check of the case is over anyway; 3 where that is incomplete.
    """
    from rigcheck.case.errors import CaseError, Problem
    from rigcheck.case.rig import Rig
    from rigcheck.output.proof.screen import proof_screen
    from rigcheck.output.proof.view import proof_result
    from rigcheck.output.rig_words import checked
    from rigcheck.studies.proof.study import proof

    case, source = read_finished(file)
    one = _value(bag, "--bag", dimension="force", most=2000.0)
    place = None if bags_at is None else _value(bags_at, "--bags-at", dimension="length", most=case.box.length)
    checked(Rig(case), name=source.file)
    try:
        study = proof(Rig(case), bag=one, bags_at=place)
    except ValueError as error:
        raise CaseError([Problem(source.file, "perch", f"no proof load can be given: {error}")]) from None
    found = proof_result(study, source=source, system=units.value)
    if as_json:
        say_json(found)
    else:
        say(proof_screen(found, look=look(width, whole=everything)))
    return code_of("over" if found["alone"]["verdict"] == "over" else found["verdict"])


def _value(text: str, option: str, *, dimension: str, most: float) -> float:
    """A positive quantity up to a limit.

    Raises:
        CaseError: It is not one.
    """
    from rigcheck.case.errors import CaseError, Problem, printable_line
    from rigcheck.quantities import QuantityError
    from rigcheck.quantities import read as read_quantity

    try:
        value = read_quantity(text, dimension="force" if dimension == "force" else "length")
    except QuantityError as error:
        raise CaseError([Problem("options", option, printable_line(error.why), error.accepted)]) from None
    if not 1.0 <= value <= most:
        raise CaseError([Problem("options", option, f'"{printable_line(text)}" is out of range')])
    return value

"""The command `materials`: what to cut, weld and buy."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.codes import UNUSABLE_INPUT, code_of
from rigcheck.cli.inputs import read
from rigcheck.cli.options import AsJson, CaseFile, OutputUnits, Units, Width, look
from rigcheck.cli.output import complain, say, say_json

AsCsv = Annotated[bool, typer.Option("--csv", help="Print rows for a spreadsheet.")]
Whole = Annotated[bool, typer.Option("--all", help="Every piece, weld and caution, however long.")]


def command(
    file: CaseFile, *, csv: AsCsv = False, as_json: AsJson = False, whole: Whole = False,
    units: OutputUnits = Units.us, width: Width = 0,
) -> int:  # fmt: skip
    """List every piece to cut, every weld to lay and every part to buy, with sums.

    What the case does not describe is listed as not described. The exit code is that of `check`.
    """
    if csv and as_json:
        complain("materials: --csv or --json, not both")
        return UNUSABLE_INPUT
    from rigcheck.assessment.assess import assess
    from rigcheck.case.rig import Rig
    from rigcheck.output.materials.screen import materials_screen
    from rigcheck.output.materials.view import csv_rows, materials_result

    case, source = read(file)
    told = materials_result(assess(Rig(case)), source=source, system=units.value)
    if as_json:
        say_json(told)
    elif csv:
        say(_spreadsheet(csv_rows(told)))
    else:
        say(materials_screen(told, look=look(width), whole=whole))
    return code_of(told["verdict"])


def _spreadsheet(rows: list[list[object]]) -> str:
    import csv
    import io

    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    return text.getvalue()

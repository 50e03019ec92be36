"""Check several files in one go: a line for each, and the worst of their exit codes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from rigcheck.cli.codes import NOTHING_OVER, UNUSABLE_INPUT, code_of, gravest
from rigcheck.cli.inputs import read
from rigcheck.cli.looks import Units, look
from rigcheck.cli.output import complain, say, say_json


def check_many(files: Sequence[Path], *, as_json: bool, units: Units, width: int) -> int:
    """Check files one after the other; one that cannot be used does not keep the others from being checked.

    Args:
        files: The case files.
        as_json: A list of results instead of lines.
        units: Units of the results.
        width: Width of the screen; that of the terminal if 0.

    Returns:
        2 where a file cannot be used, else 1 where something is over, else 3 where a rig is incomplete, else 0.
    """
    from rigcheck.assessment.assess import assess
    from rigcheck.case.errors import CaseError, printable_line
    from rigcheck.case.rig import Rig
    from rigcheck.output.check.result import result
    from rigcheck.output.check.summary import problems_result, summary_entry, summary_screen

    told: list[dict[str, Any]] = []
    codes = [NOTHING_OVER]
    for file in files:
        try:
            case, source = read(file)
        except CaseError as error:
            for problem in error.problems:
                complain(str(problem))
            told.append(problems_result(printable_line(file.name), problems=error.problems))
            codes.append(UNUSABLE_INPUT)
            continue
        told.append(result(assess(Rig(case)), source=source, system=units.value))
        codes.append(code_of(told[-1]["verdict"]))
    if as_json:
        say_json(told)
    else:
        entries = [summary_entry(printable_line(str(file)), found=one) for file, one in zip(files, told, strict=True)]
        say(summary_screen(entries, look=look(width)))
    return gravest(codes)

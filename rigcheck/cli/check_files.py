"""What the command `check` does: one file in full, several with a line each."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rigcheck.cli.codes import UNUSABLE_INPUT, code_of
from rigcheck.cli.inputs import read
from rigcheck.cli.looks import Units, look
from rigcheck.cli.output import complain, say, say_json

if TYPE_CHECKING:
    from rigcheck.case.errors import CaseError


def check_files(
    files: Sequence[Path],
    *,
    as_json: bool = False,
    units: Units = Units.us,
    whole: bool = False,
    confirm: bool = False,
    cures: bool = False,
    width: int = 0,
) -> int:
    """Check files and tell what was found.

    Args:
        files: The case files.
        as_json: JSON instead of text.
        units: Units of the results.
        whole: Every mode of every part.
        confirm: Solve the governing states anew as a frame; of one file only.
        cures: All changes that would cure a rig that is over, and not only the best of them; of one file only.
        width: Width of the screen; that of the terminal if 0.

    Returns:
        Exit code.

    Raises:
        SecondOpinionError: The frame does not confirm the statics.
    """
    if (confirm or cures) and len(files) > 1:
        complain(f"check: --{'confirm' if confirm else 'remedies'} takes one file at a time")
        return UNUSABLE_INPUT
    if len(files) > 1:
        from rigcheck.cli.check_many import check_many

        return check_many(files, as_json=as_json, units=units, width=width)
    from rigcheck.assessment.assess import assess
    from rigcheck.case.errors import CaseError
    from rigcheck.case.rig import Rig
    from rigcheck.output.check.extras import extras
    from rigcheck.output.check.result import result
    from rigcheck.output.check.screen import check_screen

    try:
        case, source = read(files[0])
    except CaseError as error:
        if not as_json:
            raise
        return _unusable(files[0], error=error)
    answer = assess(Rig(case))
    more = extras(answer, system=units.value, whole=as_json)
    if confirm:
        from rigcheck.output.check.confirm import with_second_opinion

        more = with_second_opinion(more, assessment=answer, system=units.value)
    found = result(answer, source=source, system=units.value, extras=more)
    if found["verdict"] == "over":
        # a rig with nothing over need not wait for these to load
        from rigcheck.output.remedies.view import remedies_data
        from rigcheck.studies.remedies.study import FEW, remedies

        found["remedies"] = remedies_data(remedies(Rig(case), found=answer, most=None if cures else FEW))
    if as_json:
        say_json(found)
    else:
        say(check_screen(found, look=look(width, whole=whole), whole=whole))
    return code_of(found["verdict"])


def _unusable(file: Path, *, error: CaseError) -> int:
    """Tell machines what is wrong with a file as several files are told, and people as always."""
    from rigcheck.case.errors import printable_line
    from rigcheck.output.check.summary import problems_result

    for problem in error.problems:
        complain(str(problem))
    say_json(problems_result(printable_line(file.name), problems=error.problems))
    return UNUSABLE_INPUT

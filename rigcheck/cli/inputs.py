"""Read what the user gives, and put into lines what is wrong with it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from rigcheck.cli.output import OutputError

if TYPE_CHECKING:
    from rigcheck.case import Case
    from rigcheck.output.check.result import Source


def read(path: Path) -> tuple[Case, Source]:
    """A case with the name and hash of its file.

    Args:
        path: The file.

    Raises:
        CaseError: With every problem of the file.
    """
    case, source, _ = read_whole(path)
    return case, source


def read_finished(path: Path) -> tuple[Case, Source]:
    """The same of a box that is more than tacked.

    Args:
        path: The file.

    Raises:
        CaseError: With every problem of the file, or that its box is only tacked.
    """
    from rigcheck.case.tacks import must_be_finished

    case, source = read(path)
    must_be_finished(case, name=source.file)
    return case, source


def read_whole(path: Path) -> tuple[Case, Source, str]:
    """A case with the name and hash of its file, and its text; the file is read once.

    Args:
        path: The file.

    Raises:
        CaseError: With every problem of the file.
    """
    from hashlib import sha256

    from rigcheck.case.errors import printable_line
    from rigcheck.case.reading.read import file_bytes, file_name, read_case_bytes
    from rigcheck.output.check.result import Source

    raw, name = file_bytes(path), file_name(path)
    case = read_case_bytes(raw, name=name, place=path)
    _measured_fits(case, name=name)
    source = Source(file=printable_line(path.name), sha256=sha256(raw).hexdigest())
    return case, source, raw.decode("utf-8-sig")


def _measured_fits(case: Case, *, name: str) -> None:
    """Refuse what was weighed where no such box could weigh that, under the name of the file.

    Raises:
        CaseError: With what does not fit.
    """
    if case.measured.empty_weight is None and case.measured.tail_lift is None:
        return
    from rigcheck.case.errors import CaseError, Problem
    from rigcheck.case.rig import Rig
    from rigcheck.loads.steel import take_off

    try:
        take_off(Rig(case))
    except CaseError as error:
        problems = (Problem(name, one.key, one.why, one.accepted, one.nearest) for one in error.problems)
        raise CaseError(problems) from None


def problems_of(error: Exception) -> list[str]:
    """Lines that say what is wrong with the input; none where the error is not the user's."""
    if isinstance(error, OutputError):
        return [str(error)]
    from rigcheck.case.errors import CaseError

    if isinstance(error, CaseError):
        return [str(problem) for problem in error.problems]
    return []

"""Read what the user gives, and put into lines what is wrong with it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from rigcheck.cli.output import OutputError

if TYPE_CHECKING:
    from rigcheck.case import Case
    from rigcheck.views.result import Source


def read(path: Path) -> tuple[Case, Source]:
    """A case with the name and hash of its file.

    Args:
        path: The file.

    Raises:
        CaseError: With every problem of the file.
    """
    from hashlib import sha256

    from rigcheck.case import read_case
    from rigcheck.case.errors import printable_line
    from rigcheck.views.result import Source

    case = read_case(path)
    return case, Source(file=printable_line(path.name), sha256=sha256(path.read_bytes()).hexdigest())


def problems_of(error: Exception) -> list[str]:
    """Lines that say what is wrong with the input; none where the error is not the user's."""
    if isinstance(error, OutputError):
        return [str(error)]
    from rigcheck.case.errors import CaseError

    if isinstance(error, CaseError):
        return [str(problem) for problem in error.problems]
    return []

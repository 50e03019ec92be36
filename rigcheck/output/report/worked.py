"""The worked calculation of a rig as a report takes it in."""

from __future__ import annotations

from rigcheck.assessment.assess import Assessment
from rigcheck.output.check.result import Source
from rigcheck.quantities import System
from rigcheck.wording.plain import Plain


def worked(found: Assessment, *, source: Source | None, system: System) -> Plain | None:
    """The worked calculation of a rig.

    Args:
        found: The answer for one rig.
        source: The file it came from.
        system: Units of every number.

    Returns:
        The calculation as a plain dict; None at a dead point, which has no numbers to put in.
    """
    if found.solution.held.dead[found.solution.hung].any():
        return None
    # sympy loads here and nowhere before
    from rigcheck.calculation import working, working_result

    title = found.solution.rig.case.title
    return working_result(working(found, system=system), title=title, source=source, system=system)

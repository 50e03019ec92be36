"""The worked calculation of a report in a process of its own, so that it takes no time beside the rest."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigcheck.quantities import System
from rigcheck.views.result import Source

Plain = dict[str, Any]


def worked(text: str, *, source: Source | None, system: System) -> Plain | None:
    """The worked calculation of a case file.

    Args:
        text: The case file.
        source: The file it came from.
        system: Units of every number.

    Returns:
        The calculation as a plain dict; None at a dead point, which has no numbers to put in.
    """
    # sympy loads here and nowhere before
    from rigcheck.case import read_case_text
    from rigcheck.case.rig import Rig
    from rigcheck.check.assess import assess
    from rigcheck.views.working import working, working_result

    case = read_case_text(text)
    found = assess(Rig(case))
    if found.solution.held.dead[found.solution.hung].any():
        return None
    return working_result(working(found, system=system), title=case.title, source=source, system=system)


def beside(text: str, *, source: Source | None, system: System) -> Callable[[], Plain | None]:
    """Start the worked calculation in another process.

    Args:
        text: The case file.
        source: The file it came from.
        system: Units of every number.

    Returns:
        A function that waits for the calculation; where no process can be had, it works it out itself.
    """
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import get_context

    try:
        pool = ProcessPoolExecutor(max_workers=1, mp_context=get_context("spawn"))
        future = pool.submit(worked, text, source=source, system=system)
        pool.shutdown(wait=False)  # takes no more work; what was given is still done
    except (OSError, RuntimeError):
        return lambda: worked(text, source=source, system=system)

    def wait() -> Plain | None:
        try:
            return future.result()
        except BrokenProcessPool:
            return worked(text, source=source, system=system)

    return wait

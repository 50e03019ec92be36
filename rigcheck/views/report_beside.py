"""The worked calculation of a report in a process of its own, so that it takes no time beside the rest."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from rigcheck.check.assess import Assessment
from rigcheck.quantities import System
from rigcheck.views.result import Source

Plain = dict[str, Any]


class BesideError(Exception):
    """The process beside failed in a way that cannot be handed over."""


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
    from rigcheck.views.working import working, working_result

    title = found.solution.rig.case.title
    return working_result(working(found, system=system), title=title, source=source, system=system)


@contextmanager
def beside(found: Assessment, *, source: Source | None, system: System) -> Iterator[Callable[[], Plain | None]]:
    """The worked calculation while something else goes on.

    Another process is split off where that is harmless: on Linux, as long as this one has a single thread. Elsewhere
    the calculation is made when it is asked for.

    Args:
        found: The answer for one rig.
        source: The file it came from.
        system: Units of every number.

    Yields:
        A function that waits for the calculation.
    """
    if not _alone():
        yield lambda: worked(found, source=source, system=system)
        return
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        _send(writing, found=found, source=source, system=system)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        try:
            yield lambda: _received(pipe.read())
        finally:
            pipe.close()  # a child that still writes ends by that
            os.waitpid(child, 0)


def _alone() -> bool:
    """Whether this process has one thread and can be split."""
    try:
        return sys.platform == "linux" and len(os.listdir("/proc/self/task")) == 1
    except OSError:
        return False


def _send(writing: int, *, found: Assessment, source: Source | None, system: System) -> None:
    """In the child: work out, hand over what came of it, and end without anything of the parent's."""
    code = 1
    try:
        try:
            answer: tuple[bool, Any] = (True, worked(found, source=source, system=system))
        except Exception as error:  # every failure is the parent's to tell
            answer = (False, error)
        try:
            told = pickle.dumps(answer)
        except Exception:
            told = pickle.dumps((False, BesideError(repr(answer[1]))))
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(told)
        code = 0
    finally:
        os._exit(code)


def _received(told: bytes) -> Plain | None:
    """In the parent: the calculation, or the error that ended it."""
    if not told:
        raise BesideError("the worked calculation ended without a word")
    good, answer = pickle.loads(told)
    if not good:
        raise answer
    found: Plain | None = answer
    return found

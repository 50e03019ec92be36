"""What takes longest in a report in a process of its own, so that it takes no time beside the rest."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from rigcheck.assessment.assess import Assessment
from rigcheck.output.check.result import Source
from rigcheck.quantities import System
from rigcheck.wording.plain import Plain

Answer = TypeVar("Answer")


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
    from rigcheck.calculation import working, working_result

    title = found.solution.rig.case.title
    return working_result(working(found, system=system), title=title, source=source, system=system)


@contextmanager
def beside(work: Callable[[], Answer]) -> Iterator[Callable[[], Answer]]:
    """Do some work while something else goes on.

    Another process is split off where that is harmless: on Linux, as long as this one has a single thread. Elsewhere
    the work is done when its answer is asked for.

    Args:
        work: What gives the answer, which can be pickled; it must not print or write.

    Yields:
        A function that waits for the answer.
    """
    if not _alone():
        yield work
        return
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        _send(writing, work=work)
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


def _send(writing: int, *, work: Callable[[], Any]) -> None:
    """In the child: do the work, hand over what came of it, and end without anything of the parent's."""
    code = 1
    try:
        try:
            answer: tuple[bool, Any] = (True, work())
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


def _received(told: bytes) -> Any:
    """In the parent: the answer, or the error that ended the work."""
    if not told:
        raise BesideError("the process beside ended without a word")
    good, answer = pickle.loads(told)
    if not good:
        raise answer
    return answer

"""The entry point: runs a command and turns everything that can happen into one of the exit codes."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

from rigcheck.cli.codes import INTERRUPTED, OUR_BUG, UNUSABLE_INPUT
from rigcheck.cli.output import complain, prepare_streams
from rigcheck.cli.plain_call import plain_call

TRACE = "RIGCHECK_TRACE"
_RARE = 100_000


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Args:
        arguments: What stands after the name of the program; that of this process when not given.

    Returns:
        Exit code: 0 nothing over and complete, 1 something over, 3 nothing over but incomplete, 2 the input is
        unusable, 70 our own bug.
    """
    prepare_streams()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # no large matrix products here; threads only cost their start
    gc.set_threshold(_RARE)  # else a tenth of a short life goes into looking for garbage that it does not make
    words = sys.argv[1:] if arguments is None else list(arguments)
    try:
        plain = plain_call(words)
        if plain is not None:
            from rigcheck.cli.check_files import check_files

            return check_files(plain.files, **plain.options)
        from rigcheck.cli.app import run

        return run(words)
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        return _failed(error)


def _failed(error: Exception) -> int:
    """Complain about an error, and say whose it is."""
    from rigcheck.cli.inputs import problems_of  # the models load only when there is something to report

    problems = problems_of(error)
    if problems:
        for problem in problems:
            complain(problem)
        return UNUSABLE_INPUT
    if os.environ.get(TRACE):
        import traceback

        traceback.print_exception(error, file=sys.stderr)
    name = type(error).__name__
    words = " ".join(str(error).split())[:200]
    what = f"{name}: {words}" if words else name
    complain(
        f"rigcheck: a bug in rigcheck, not a finding about the rig ({what}). Please report it with the case file and"
        f" with what {TRACE}=1 in the environment prints."
    )
    return OUR_BUG

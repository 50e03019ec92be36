"""The command `spread`: the chance that each part is over when numbers are not known well, and what matters most."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Annotated

import typer

from rigcheck.cli.codes import code_for
from rigcheck.cli.inputs import read_finished
from rigcheck.cli.options import AsJson, CaseFile, Everything, OutputUnits, Units, Width, look
from rigcheck.cli.output import say, say_json

Vary = Annotated[
    list[str] | None,
    typer.Option("--vary", metavar="KEY=SPREAD", help="A key that is not known well: +-X, LOW..HIGH or normal X (one"
                 " standard deviation); again for each. Without any, what is usually not known well.",
                 show_default=False),
]  # fmt: skip
Usual = Annotated[bool, typer.Option("--usual", help="What is usually not known well besides the keys of --vary.")]
Samples = Annotated[int, typer.Option("--samples", min=10, max=10_000_000, help="How many.")]
Whole = Annotated[bool, typer.Option("--whole", help="Check all samples in all load cases; some hundred times slower.")]
Seed = Annotated[int, typer.Option("--seed", min=0, help="The same one gives the same answer.")]


def command(  # noqa: PLR0913 (its parameters are the options of the command line)
    file: CaseFile,
    *,
    vary: Vary = None,
    with_usual: Usual = False,
    samples: Samples = 1000,
    seed: Seed = 1,
    whole: Whole = False,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Check many samples of what is not known well: how likely each part is over, and what to measure first.

    Exit code 1 where anything is over in any sample, 3 where parts of the load path are not assessed.
    """
    from rigcheck.case.rig import Rig
    from rigcheck.output.rig_words import beside, checked
    from rigcheck.output.spread.view import spread_result, spread_screen
    from rigcheck.studies.spread.study import spread
    from rigcheck.studies.spread.unknowns import given, usual

    case, source = read_finished(file)
    unknowns = given(case, vary or ())
    if with_usual or not unknowns:
        unknowns += usual(case, leave=[one.variable.key for one in unknowns])
    rig = Rig(case)
    own = beside(checked(rig, name=source.file))
    with _progress(samples) as done:
        found = spread(rig, unknowns=unknowns, samples=samples, seed=seed, whole=whole, done=done)
    told = {**spread_result(found, case=case, source=source, system=units.value), **own}
    if as_json:
        say_json(told)
    else:
        say(spread_screen(told, look=look(width, whole=everything)))
    return code_for(over=told["chance_over"] > 0.0, complete=told["complete"])


@contextmanager
def _progress(samples: int) -> Iterator[Callable[[int], None] | None]:
    """A bar on stderr, at a terminal only."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console  # only a run at a terminal pays for it
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("samples"), BarColumn(), TextColumn("{task.completed:,.0f} of {task.total:,.0f}"),
               TimeRemainingColumn())  # fmt: skip
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("samples", total=samples)
        yield lambda count: bar.advance(task, count)

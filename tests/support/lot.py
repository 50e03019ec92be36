"""Draw rigs by lot, run them through everything, and say what is wrong with what comes out."""

import json
import re
import shlex
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import fields, is_dataclass
from importlib import import_module
from io import BytesIO, TextIOWrapper
from pathlib import Path
from random import Random
from typing import Any

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import Case, check_case
from rigcheck.case.rig import Rig, varied
from rigcheck.cli import main
from rigcheck.output.schemas import result_schema
from rigcheck.studies.vary.variable import Variable
from tests.support.extreme_rigs import KINDS, Data, extreme_case, nudged, toml_of
from tests.support.schema_reader import broken

BOUND = 1e-9  # of the largest force in a rig: what balance may leave over
WORKED_OUT = (
    ("rigcheck.case.reading.read", "read_case_bytes"),
    ("rigcheck.assessment.assess", "assess"),
    ("rigcheck.output.check.extras", "bed_mark"),
    ("rigcheck.studies.fold.study", "fold"),
    ("rigcheck.output.fold.view", "remedies"),
    ("rigcheck.studies.haul.study", "haul"),
    ("rigcheck.studies.length.study", "sweep"),
    ("rigcheck.studies.hardware.study", "hardware"),
    ("rigcheck.studies.props.study", "props"),
    ("rigcheck.studies.remedies.study", "remedies"),
)  # what commands ask for, where they take it from when they run
NEVER = ("nan", "inf", "safe", "None", "True", "False")  # words that no screen shows


class Listening(Rig):
    """A rig that remembers which keys were read as numbers: those that a batch may vary."""

    heard: set[str]

    def number(self, key: str) -> Array:
        self.heard.add(key)
        return Rig(self.case, self.varied).number(key)


def heard_by(case: Case) -> frozenset[str]:
    """Keys of a case that its check reads as numbers."""
    spy = Listening(case)
    object.__setattr__(spy, "heard", set())
    assess(spy)
    return frozenset(spy.heard)


def plain(key: str) -> str:
    """A key path without the numbers of repeated tables."""
    return re.sub(r"\.\d+", "", key)


def arrays(found: Any) -> Iterator[tuple[str, Array]]:
    """Every array of numbers in a result, wherever it is nested; once each, under the first place it stands at."""
    seen: dict[int, Any] = {}
    left: list[tuple[str, Any]] = [("", found)]
    while left:
        at, here = left.pop()
        if isinstance(here, np.ndarray):
            if here.dtype.kind == "f" and id(here) not in seen:
                seen[id(here)] = here
                yield at, here
        elif isinstance(here, (list, tuple)):
            left += [(f"{at}[{number}]", one) for number, one in enumerate(here)]
        elif is_dataclass(here) and not isinstance(here, (Rig, type)) and id(here) not in seen:
            seen[id(here)] = here
            left += [(f"{at}.{one.name}", getattr(here, one.name)) for one in fields(here)]


def nan_in(found: Any) -> list[str]:
    """Where in a result something is no number."""
    return [f"NaN in {at}" for at, values in arrays(found) if np.isnan(values).any()]


def wrong_with(found: Assessment) -> list[str]:
    """NaN anywhere, an endless number where none may stand, a balance that does not close."""
    wrong = nan_in(found)
    for name in ("held", "demand"):
        balance = getattr(found.solution, name)
        if not (np.isfinite(balance.tension).all() and np.isfinite(balance.hinge).all()):
            wrong.append(f"a force of {name} is not finite")
            continue
        largest = np.maximum(np.abs(balance.hinge).max((-3, -2, -1)), np.abs(balance.tension).max((-2, -1)))
        left = balance.residual.max(-1) / np.maximum(largest, 1.0)
        if left.max() > BOUND:
            wrong.append(f"{left.max():.3g} of the largest force of {name} is left over")
    if not np.isfinite(found.utilization).all():
        wrong.append("the utilization is not finite")
    return wrong


def batch_of(seed: int, *, size: int) -> tuple[Rig, list[Case]]:
    """A structure drawn by lot, with a batch of sizes of it.

    Args:
        seed: Which one.
        size: Designs in the batch.

    Returns:
        The batch, and each of its designs as a case of its own.
    """
    rng = Random(seed)
    while True:
        data = extreme_case(rng)
        data.pop("measured", None)  # what was weighed belongs to one box and not to a batch
        case = check_case(data)
        keys = heard_by(case)
        free = frozenset(plain(key) for key in keys) & KINDS.spans.keys()
        cases = [check_case(nudged(data, rng=rng, keys=free)) for _ in range(size)]
        values = {key: np.array([float(Rig(one).number(key)) for one in cases]) for key in sorted(keys)}
        return varied(Rig(case), {key: many for key, many in values.items() if np.ptp(many) > 0.0}), cases


def _uses(found: Assessment, *, row: int | None = None) -> dict[tuple[str, str, bool, bool], float]:
    """Utilization of every check that applies to one design."""
    at = () if row is None else row
    return {
        (use.check.part, use.check.mode, use.check.snag, use.check.on_accidents): value
        for use in found.worst
        if (value := float(np.broadcast_to(use.utilization, found.utilization.shape)[at])) >= 0.0
    }


def unlike_its_row(batch: Assessment, *, row: int, alone: Assessment) -> list[str]:
    """What of a rig alone is not what its row of the batch says."""
    many, one = _uses(batch, row=row), _uses(alone)
    wrong = [f"the checks differ: {sorted(many.keys() ^ one.keys())}"] if many.keys() != one.keys() else []
    wrong += [
        f"{key[0]}, {key[1]}: {many[key]!r} in the batch, {one[key]!r} alone"
        for key in many.keys() & one.keys()
        if not np.isclose(many[key], one[key], rtol=1e-7, atol=1e-9)
    ]
    raised = {flag.code for flag in batch.flags if flag.where[row].any()}
    apart = raised ^ {flag.code for flag in alone.flags}
    if apart:
        wrong.append(f"findings differ: {sorted(apart)}")
    return wrong


def call(*arguments: str) -> tuple[int, str, str]:
    """Exit code, stdout and stderr of one command, run in this process."""
    out, err = (TextIOWrapper(BytesIO(), encoding="utf-8") for _ in range(2))
    with redirect_stdout(out), redirect_stderr(err):
        code = main(arguments)
    texts = []
    for stream in (out, err):
        stream.flush()
        texts.append(stream.buffer.getvalue().decode("utf-8"))  # type: ignore[attr-defined]
    return code, *texts


@contextmanager
def worked_once(*, cures: bool = True) -> Iterator[list[Assessment]]:
    """Work out a rig once for people and for machines: the same question again gets the same answer as the first time.

    Args:
        cures: Also look for what cures a rig that is over, which takes longer than all else together.

    Yields:
        The assessments that were worked out.
    """
    seen: dict[tuple[str, str], tuple[Any, Any]] = {}
    assessments: list[Assessment] = []
    closed = False

    def once(name: str, real: Any) -> Any:
        def asked(*arguments: Any, **more: Any) -> Any:
            if closed:  # a module that was first loaded meanwhile took this for the real one
                return real(*arguments, **more)
            if name == "remedies" and not cures:
                return []
            key = name, " ".join(map(_known, (*arguments, *more.items())))
            if key not in seen:
                # what is asked about stays alive, so that nothing else can have its address
                seen[key] = real(*arguments, **more), (arguments, more)
                if isinstance(seen[key][0], Assessment):
                    assessments.append(seen[key][0])
            return seen[key][0]

        return asked

    modules = [(import_module(module), name) for module, name in WORKED_OUT]
    real = [getattr(module, name) for module, name in modules]
    for (module, name), one in zip(modules, real, strict=True):
        setattr(module, name, once(name, one))
    try:
        yield assessments
    finally:
        closed = True
        seen.clear()
        for (module, name), one in zip(modules, real, strict=True):
            setattr(module, name, one)


def _known(value: Any) -> str:
    """What tells an argument from others: a rig of one case is that case, a batch is itself."""
    if isinstance(value, tuple):
        return "(" + ", ".join(map(_known, value)) + ")"
    if isinstance(value, Rig):
        return f"rig {id(value.case)}" if not value.varied else f"batch {id(value)}"
    plainly = isinstance(value, (str, bytes, int, float, frozenset, type(None), Variable))
    return repr(value) if plainly else f"{type(value).__name__} {id(value)}"


def wrong_with_command(command: str, file: Path, *, width: int = 80) -> list[str]:
    """Run one command on a file, for people and for machines.

    Args:
        command: Its name, with its options.
        file: A case that can be read.
        width: Of the screen.

    Returns:
        What is wrong with exit code, screen and JSON; nothing where the case does not say enough for this command.
    """
    name, *more = shlex.split(command)
    code, screen, told = call(name, str(file), *more, "--width", str(width))
    if code == 2:
        named = [line for line in told.splitlines() if line.startswith(f"{file.name}: ") and " " in line]
        return [] if named and not screen else [f"{command}: 2 without a sentence: {told!r}"]
    if code not in (0, 1, 3):
        return [f"{command}: exit code {code}: {told.strip()}"]
    wrong = [f"{command}: line of {len(line)} letters" for line in screen.splitlines() if len(line) > width][:1]
    wrong += [f"{command}: the word {word}" for word in NEVER if re.search(rf"\b{word}\b", screen)]
    again, text, told = call(name, str(file), *more, "--json")
    if again != code:
        wrong.append(f"{command}: exit code {code} for people and {again} with --json: {told.strip()}")
    try:
        found = json.loads(text, parse_constant=lambda word: wrong.append(f"{command}: {word} in the JSON"))
    except ValueError as error:
        return [*wrong, f"{command}: no JSON: {error}"]
    if name == "check":
        wrong += broken(found, schema=result_schema())
    return wrong


def run_whole(data: Data, *, folder: Path, commands: Sequence[str], width: int = 80) -> list[str]:
    """Run one rig through commands.

    Args:
        data: The case as in a file.
        folder: Where its file goes.
        commands: Names of commands, with their options.
        width: Of the screens.

    Returns:
        What is wrong.
    """
    file = folder / "rig.toml"
    file.write_text(toml_of(data), encoding="utf-8")
    return [one for command in commands for one in wrong_with_command(command, file, width=width)]


def run_once(data: Data, *, folder: Path, commands: Sequence[str], width: int = 80, cures: bool = True) -> list[str]:
    """Run one rig through commands as `run_whole` does, each working it out once; its numbers and balance too.

    Args:
        data: The case as in a file.
        folder: Where its file goes.
        commands: Names of commands, with their options.
        width: Of the screens.
        cures: Also look for what cures a rig that is over.

    Returns:
        What is wrong.
    """
    with worked_once(cures=cures) as assessments:
        wrong = run_whole(data, folder=folder, commands=commands, width=width)
        return wrong + [one for found in assessments for one in wrong_with(found)]

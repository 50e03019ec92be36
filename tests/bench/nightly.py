"""Everything that is drawn by lot, for as long as is said: cases over all commands, relations, faults, confirmation.

    nice -n 19 python -m tests.bench.nightly --minutes 240 --seed 1 --workers 2
    python -m tests.bench.nightly --minutes 5 --only many --only relations

Each kind of step has a share of the processor time; the next step is of the kind that is furthest behind. Most of it
goes to commands that take little, all of them on one drawn case that is worked out once (`many`), and to those that
take long, one of them on each case (`heavy`). The number of a step is its seed: `--only KIND --first NUMBER --steps 1`
runs one again. What is wrong is printed as it is found, and one summary at the end says how many were really run, of
which none is left out. Faults that are set in the code, by `tests.bench.mutate`, run behind the rest where
`--mutations` asks for some. Ends in 1 where anything was wrong.
"""

import argparse
import json
import re
import resource
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from random import Random

from tests.bench.confirm_rigs import confirmed
from tests.bench.fuzz import mutated
from tests.bench.spread_whole import understated
from tests.support.card_relation import card_apart
from tests.support.extreme_rigs import KINDS, Data, extreme_case, nudged, toml_of
from tests.support.lot import NEVER, call, worked_once
from tests.support.lot import wrong_with as wrong_with_numbers
from tests.support.relations import SAME_ANSWER, differences

ROOT = Path(__file__).parents[2]
MANY = ("check", "fold", "haul", "field --weight '500 lb'", "proof", "materials", "plant")
HEAVY = (
    "hardware", "card", "working", "spread --samples 10", "report --no-working --no-length -o PAGE", "check --remedies",
    "props", "check --all --units si", "materials --csv", "hardware --json", "card --json", "props --json",
    "spread --samples 520", "length --points 5", "length --points 5 --json",
)  # fmt: skip
ANSWERS = (0, 1, 2, 3)
SLOWEST = 120.0  # s of processor time for one case under one command, on a machine that does other things as well
MOST_MEMORY = 1200.0  # MiB
BROKEN_TRIES = 5


@dataclass
class Kind:
    """A kind of step.

    Attributes:
        share: Of the processor time.
        run: Takes the number of the step and a folder; gives what was wrong, or words in brackets that are counted.
        steps: How many were run.
        spent: On them. [s]
        slowest: One of them. [s]
        memory: Most of a process. [MiB]
        counted: Words in brackets.
        wrong: What was wrong.
    """

    share: float
    run: Callable[[str, int, Path], list[str]]
    steps: int = 0
    spent: float = 0.0
    slowest: float = 0.0
    memory: float = 0.0
    counted: dict[str, int] = field(default_factory=dict)
    wrong: list[str] = field(default_factory=list)


def wrong_with(words: str, code: int, out: str, told: str, *, took: float) -> list[str]:
    """What is wrong with one answer."""
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    shown = out if "--json" not in words and "--csv" not in words else ""
    told_what_was_read = words.startswith("field")  # readings that no box gives are shown, and are no verdict
    wrong = {
        f"exit code {code}: {told.strip()[:300]}": code not in ANSWERS,
        "something on stdout beside exit code 2": code == 2
        and out != ""
        and "--json" not in words
        and not told_what_was_read,
        "exit code 2 without a word": code == 2 and not told.strip(),
        "letters that do not print": not all(one.isprintable() or one in "\n\xa0" for one in out + told),
        f"{took:.0f} s": took > SLOWEST,
        f"{memory:.0f} MiB": memory > MOST_MEMORY,
        "a word that no screen shows": any(re.search(rf"\b{word}\b", shown) for word in NEVER),
    }
    return [f"{words}: {what}" for what, so in wrong.items() if so]


def asked(words: str, file: Path) -> tuple[int, list[str]]:
    """Exit code of one command on a file, and what is wrong with its answer."""
    import shlex

    name, *more = shlex.split(words.replace("PAGE", str(file.with_suffix(".html")) + " --force"))
    begun = time.process_time()
    code, out, told = call(name, str(file), *more)
    wrong = wrong_with(words, code, out, told, took=time.process_time() - begun)
    if "--json" in words and code != 2:
        try:
            json.loads(out, parse_constant=lambda word: wrong.append(f"{words}: {word} in the JSON"))
        except ValueError as error:
            wrong.append(f"{words}: no JSON: {error}")
    return code, wrong


def through_many(seed: str, number: int, folder: Path) -> list[str]:
    """One drawn case through all commands that take little, for people and for machines, worked out once."""
    file = folder / "rig.toml"
    file.write_text(toml_of(extreme_case(Random(f"night {seed} {number}"))), encoding="utf-8")
    found: list[str] = []
    with worked_once(cures=False) as assessments:
        for words in MANY:
            code, wrong = asked(words, file)
            again, more = asked(f"{words} --json", file)
            found += [f"[{words.split()[0]} {code}]", f"[{words.split()[0]} {again}]", *wrong, *more]
            found += [f"{words}: exit code {code} for people and {again} with --json"] * (code != again)
        return found + [one for assessment in assessments for one in wrong_with_numbers(assessment)]


def through_heavy(seed: str, number: int, folder: Path) -> list[str]:
    """One drawn case through one command that takes long; all of them in turn."""
    file = folder / "rig.toml"
    file.write_text(toml_of(extreme_case(Random(f"night {seed} {number}"))), encoding="utf-8")
    words = HEAVY[number % len(HEAVY)]
    code, wrong = asked(words, file)
    return [f"[{words.split()[0]} {code}]", *wrong]


def through_relations(seed: str, number: int, folder: Path) -> list[str]:
    """One drawn case beside those that must get its answer; every third one for what may never lower a utilization.

    Every fifth is a sound rig with some of its numbers moved, whose card must say what the other commands do.
    """
    from rigcheck.case import CaseError
    from tests.assessment.test_relations import broken_by_more
    from tests.assessment.test_same_answer import plain_case

    if number % 5 == 4:
        return card_apart(_sound(Random(f"night {seed} {number}")), folder=folder)
    if number % 3 == 2:
        return broken_by_more(plain_case(f"{seed} {number}"))
    data = extreme_case(Random(f"night {seed} {number}")) if number % 3 else plain_case(f"{seed} {number}")
    wrong = []
    for name, other in SAME_ANSWER.items():
        try:
            wrong += [f"{name}: {one}" for one in differences(data, other(data))]
        except CaseError:  # weighed as no such box can weigh
            return ["[cannot weigh that]"]
    return wrong


def _sound(rng: Random) -> Data:
    """Larkspur Bar with a few of its numbers moved a little, so that most of them hold."""
    data = tomllib.loads((ROOT / "cases" / "larkspur-bar.toml").read_text(encoding="utf-8"))
    data.pop("measured", None)
    return nudged(data, rng=rng, keys=frozenset(KINDS.spans), share=0.03)


def through_faults(seed: str, number: int, folder: Path) -> list[str]:
    """The file of one drawn case, damaged: refused in words, or read."""
    rng = Random(f"night {seed} {number}")
    text, file, wrong = toml_of(extreme_case(rng)), folder / "rig.toml", []
    for _ in range(BROKEN_TRIES):
        file.write_bytes(mutated(text, rng=rng, others=[text]).encode("utf-8", "surrogatepass"))
        code, more = asked("check", file)
        wrong += [f"[check {code}]", *more]
    return wrong


def through_confirm(seed: str, number: int, _: Path) -> list[str]:
    """One drawn rig held against the frame."""
    word, told = confirmed(f"night {seed} {number}")
    return [f"[{word}]", *([told] if word == "differs" else [])]


def through_spread(seed: str, number: int, _: Path) -> list[str]:
    """One drawn rig, its spread by few rows beside that by all rows."""
    return understated(f"night {seed} {number}", samples=600)


def sweep(_: str, number: int, __: Path) -> list[str]:
    """Every number of one shipped case a hundred times off."""
    from tests.robustness.test_absurd import CASES, test_a_number_a_hundred_times_off_is_refused_found_or_over

    test_a_number_a_hundred_times_off_is_refused_found_or_over(CASES[number % len(CASES)].stem)
    return []


def kinds() -> dict[str, Kind]:
    """Every kind of step with its share."""
    return {
        "many": Kind(0.35, through_many),
        "heavy": Kind(0.25, through_heavy),
        "relations": Kind(0.12, through_relations),
        "faults": Kind(0.08, through_faults),
        "confirm": Kind(0.07, through_confirm),
        "spread": Kind(0.1, through_spread),
        "absurd": Kind(0.03, sweep),
    }


@dataclass
class Step:
    """What came of one step: what was wrong or is counted, how long it took and how much memory its process had."""

    name: str
    number: int
    found: list[str]
    took: float
    memory: float


def step(name: str, seed: str, number: int) -> Step:
    """Run one step."""
    begun = time.process_time()
    try:
        with tempfile.TemporaryDirectory() as folder:
            found = kinds()[name].run(seed, number, Path(folder))
    except Exception as error:
        found = [f"{type(error).__name__}: {error}"]
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return Step(name, number, found, time.process_time() - begun, memory)


def note(kind: Kind, done: Step) -> None:
    """Count a step, and print what was wrong."""
    kind.steps += 1
    kind.spent += done.took
    kind.slowest = max(kind.slowest, done.took)
    kind.memory = max(kind.memory, done.memory)
    for one in done.found:
        if one.startswith("["):
            kind.counted[one] = kind.counted.get(one, 0) + 1
        else:
            kind.wrong.append(f"{done.name} {done.number}: {one}")
            print(kind.wrong[-1][:600], flush=True)


def summary(found: dict[str, Kind], *, seed: str, minutes: float) -> str:
    """What was really run, in lines."""
    memory = max(kind.memory for kind in found.values())
    lines = [f"seed {seed}, {minutes:.0f} minutes, {memory:.0f} MiB at the most"]
    for name, kind in found.items():
        counted = ", ".join(f"{word[1:-1]}: {many}" for word, many in sorted(kind.counted.items()))
        lines.append(
            f"{name}: {kind.steps} run in {kind.spent:.0f} s of processor time, the slowest {kind.slowest:.1f} s, "
            f"{len(kind.wrong)} wrong" + (f" ({counted})" if counted else "")
        )
    return "\n".join(lines)


def steps(every: dict[str, Kind], *, given: argparse.Namespace) -> Iterator[Step]:
    """Steps as they are done, by so many processes, until the time is over or there are enough of each kind."""
    begun, started = time.monotonic(), dict.fromkeys(every, 0)
    running: set[Future[Step]] = set()
    with ProcessPoolExecutor(given.workers, mp_context=get_context("fork")) as pool:
        while True:
            open_ = [name for name in every if started[name] < given.steps]
            late = time.monotonic() - begun > 60.0 * given.minutes
            while open_ and not late and len(running) < given.workers:
                mean = {name: every[name].spent / max(every[name].steps, 1) for name in open_}
                name = min(open_, key=lambda one: (mean[one] * started[one] + 0.1) / every[one].share)
                running.add(pool.submit(step, name, given.seed, given.first + started[name]))
                started[name] += 1
                open_ = [name for name in every if started[name] < given.steps]
            if not running:
                return
            done, running = wait(running, return_when=FIRST_COMPLETED)
            yield from (one.result() for one in done)


def main() -> int:
    """Run until the time is over; 1 where anything was wrong."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--minutes", type=float, default=240.0)
    options.add_argument("--seed", default="1")
    options.add_argument("--only", action="append", choices=list(kinds()), help="a kind of step; again for each")
    options.add_argument("--first", type=int, default=0, help="number of the first step of each kind")
    options.add_argument("--steps", type=int, default=10**9, help="of each kind at the most")
    options.add_argument("--workers", type=int, default=1, help="processes at a time")
    options.add_argument("--mutations", type=int, default=0, help="faults set in the code, behind the rest")
    options.add_argument("--summary", type=Path, help="where the summary goes as well, written after every tenth step")
    given = options.parse_args()
    every = {name: kind for name, kind in kinds().items() if not given.only or name in given.only}
    begun = time.monotonic()
    for done in steps(every, given=given):
        note(every[done.name], done)
        if given.summary and sum(kind.steps for kind in every.values()) % 10 == 0:
            told = summary(every, seed=given.seed, minutes=(time.monotonic() - begun) / 60.0)
            given.summary.write_text(told + "\n", encoding="utf-8")
    told = summary(every, seed=given.seed, minutes=(time.monotonic() - begun) / 60.0)
    print(told)
    if given.summary:
        given.summary.write_text(told + "\n", encoding="utf-8")
    if given.mutations:
        command = [sys.executable, "-m", "tests.bench.mutate", "--faults", "--sample", str(given.mutations), "rigcheck"]
        subprocess.run([*command, "--seed", str(abs(hash(given.seed)) % 10**6)], cwd=ROOT, check=False)
    return 1 if any(kind.wrong for kind in every.values()) else 0


if __name__ == "__main__":
    sys.exit(main())

"""Fuzz the reader of quantities and the reader of cases for a while; what it finds becomes a test.

    python -m tests.bench.fuzz --seconds 300
    python -m tests.bench.fuzz --seconds 60 --what case

Guided by coverage: an input that runs a line of the reader that no other did is kept and mutated further. Nothing but
the error that a person is shown may come out; it stops at the first input that raises another, or that takes longer
than a second, and prints it. `tests.bench.fuzz_target` puts the same readers under a fuzzer of its own.
"""

import argparse
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from random import Random
from types import FrameType
from typing import Any

from rigcheck.case import CaseError, read_case_text
from rigcheck.case.reading.read import read_case_bytes
from rigcheck.quantities import DIMENSIONS, QuantityError, exact, read, write
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
PACKAGE = str(ROOT / "rigcheck")
SLOW = 1.0  # seconds
BITS = (
    *"0123456789./-' \"\u2032\u2033\t\n[]{}=,#_\\eE+", "ft", "in", "1/2", "1 1/2", "lb", "psi", "deg", "ga", "%", "mm",
    "kN", "in/ft", "nan", "inf", "1e999", "0x", "true", "\0", "\x1b", "\u0663", "\ufeff", "\ud7ff", "\U0001f600",
    "[[line.link]]\n", "kind = ", '"""', "[box]\n", "1979-05-27", "length", "9" * 40,
)  # fmt: skip
QUANTITIES = ("6 ft 8 in", "1 1/2 in/ft", "220 gpm", "125 lb/ft3", "2 kN", "14 ga", "8'", '-3 5/8"', "1e3 lb", "12 %")

Lines = set[tuple[str, int]]


@contextmanager
def traced(seen: Lines) -> Iterator[None]:
    """Note every line of the package that runs."""

    def line(frame: FrameType, event: str, _: Any) -> Any:
        if not frame.f_code.co_filename.startswith(PACKAGE):
            return None
        if event == "line":
            seen.add((frame.f_code.co_filename, frame.f_lineno))
        return line

    sys.settrace(line)
    try:
        yield
    finally:
        sys.settrace(None)


def mutated(text: str, *, rng: Random, others: list[str]) -> str:
    """The text with a few things put in, taken out, doubled, or spliced with another."""
    for _ in range(rng.choice((1, 1, 2, 4))):
        at = rng.randint(0, len(text))
        end = min(len(text), at + rng.choice((1, 1, 3, 12)))
        how = rng.randrange(5)
        if how == 0:
            text = text[:at] + rng.choice(BITS) + text[at:]
        elif how == 1:
            text = text[:at] + text[end:]
        elif how == 2:
            text = text[:at] + text[at:end] * rng.choice((2, 3, 50)) + text[end:]
        elif how == 3:
            text = text[:at] + rng.choice(BITS) + text[end:]
        else:
            other = rng.choice(others)
            text = text[:at] + other[rng.randint(0, len(other)) :]
    return text[:20_000]


def quantity(text: str) -> None:
    """Read a text as everything; what is read must be finite and come back from its own text."""
    for dimension in DIMENSIONS:
        if dimension == "number":
            continue
        try:
            value = read(text, dimension=dimension)
        except QuantityError as error:
            assert error.accepted and error.why
            continue
        assert abs(value) < float("inf"), (text, value)
        assert read(exact(value, dimension=dimension), dimension=dimension) == value, (text, value)
        write(value, dimension=dimension)


def case(text: str) -> None:
    """Read a text as a case; what is refused is refused in lines that print."""
    try:
        read_case_text(text)
    except CaseError as error:
        assert error.problems
        assert all(str(problem).isprintable() for problem in error.problems)
    with suppress(CaseError):
        read_case_bytes(text.encode("utf-8", "surrogatepass"), name="fuzz.toml")


def fuzz(run: Callable[[str], None], *, seeds: list[str], seconds: float, rng: Random) -> tuple[int, int, int, str]:
    """Mutate and run until the time is over or something is wrong.

    Returns:
        How many inputs ran, how many are kept, how many lines they run, and what is wrong with the last one.
    """
    kept, seen, count = list(seeds), set[tuple[str, int]](), 0
    begun = time.monotonic()
    while time.monotonic() - begun < seconds:
        text = seeds[count] if count < len(seeds) else mutated(rng.choice(kept), rng=rng, others=seeds)
        count += 1
        before, start = len(seen), time.monotonic()
        try:
            with traced(seen):
                run(text)
        except Exception as error:
            return count, len(kept), len(seen), f"{type(error).__name__}: {error}\n{text!r}"
        took = time.monotonic() - start
        if took > 10.0 * SLOW:  # tracing slows it about ten times
            return count, len(kept), len(seen), f"{took:.1f} s under trace\n{text!r}"
        if len(seen) > before and count > len(seeds):
            kept.append(text)
    return count, len(kept), len(seen), ""


def seeds_of(what: str) -> list[str]:
    """Good inputs to start from."""
    if what == "quantity":
        return list(QUANTITIES)
    return [starter_text(), *(path.read_text(encoding="utf-8") for path in sorted((ROOT / "cases").glob("*.toml")))]


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=float, default=120.0, help="how long, for each reader")
    parser.add_argument("--seed", type=int, default=1, help="where chance comes from")
    parser.add_argument("--what", choices=("quantity", "case"), action="append", help="which reader; both if not said")
    given = parser.parse_args(arguments)
    bad = 0
    for what in given.what or ("quantity", "case"):
        run = quantity if what == "quantity" else case
        count, kept, lines, wrong = fuzz(run, seeds=seeds_of(what), seconds=given.seconds, rng=Random(given.seed))
        print(
            f"{what}: {count} inputs, {kept} kept, {lines} lines of the package reached"
            f"{'; WRONG: ' if wrong else ''}{wrong}"
        )
        bad += bool(wrong)
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

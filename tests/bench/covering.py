"""Which test runs which line of the package, and for how long: recorded once, for the faults to be tried on.

    nice python -m tests.bench.covering --record /tmp/covering.json

Every test runs by itself, with empty caches and fixtures of its own, so that a line is told by all tests that need it
and not only by the first. Of a test with many parameters a few are recorded, and the rest are taken to be like them.
Left out are the tests that say nothing about right or wrong by themselves: frozen outputs, in which a hash that
changes is neither, pages that are held to what wrote them, spelling, lint, wheel; and those that are slow: a browser, a
run that was cut off. Programs that a test starts are not followed. A record is taken up again: what has not changed
stays.
"""

import argparse
import functools
import hashlib
import importlib
import json
import pkgutil
import signal
import sys
import time
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType

import pytest
from _pytest.runner import runtestprotocol

from tests.bench.watching import Caches, Watch

TOP = Path(__file__).parents[2]
LEFT_OUT = (
    "tests/contract",
    "tests/outside/test_verification.py",
    "tests/outside/test_open_box.py",
    "tests/page/test_browser.py",
    "tests/page/test_later.py",
    "tests/page/test_shop.py",
    "tests/page/test_stale.py",
    "tests/test_constants.py",
    "tests/test_docs.py",
    "tests/test_faults.py",
    "tests/test_layers.py",
    "tests/test_public_names.py",
    "tests/test_quality.py",
    "tests/test_spelling.py",
    "tests/test_wheel.py",
)
"""Tests that are never tried on a fault."""
PER_FUNCTION = 3
"""How many of a test's parameters are recorded."""
LONGEST = 30.0
"""Processor time after which a test is cut off and left out. [s]"""


@dataclass
class Ran:
    """What one test ran.

    Attributes:
        seconds: Processor time, watched. [s]
        passed: Whether it was green.
        state: Hash of its file.
        lines: One bit a line, by module.
    """

    seconds: float
    passed: bool
    state: str
    lines: dict[str, int]

    @functools.cached_property
    def breadth(self) -> int:
        """How many lines of the package it ran."""
        return sum(bits.bit_count() for bits in self.lines.values())


@dataclass
class Record:
    """What every recorded test ran.

    Attributes:
        ran: By test.
        states: Hash of each module as it was then.
        imported: One bit a line that ran while tests were collected, by module.
    """

    ran: dict[str, Ran] = field(default_factory=dict)
    states: dict[str, str] = field(default_factory=dict)
    imported: dict[str, int] = field(default_factory=dict)

    @classmethod
    def read(cls, path: Path) -> "Record":
        """Read a record; an empty one where there is none."""
        if not path.exists():
            return cls()
        raw = json.loads(path.read_text(encoding="utf-8"))
        ran = {
            test: Ran(row["s"], row["ok"], row["state"], {module: int(bits, 16) for module, bits in row["of"].items()})
            for test, row in raw["ran"].items()
        }
        return cls(ran, raw["states"], {module: int(bits, 16) for module, bits in raw["imported"].items()})

    def write(self, path: Path) -> None:
        """Write it."""
        ran = {
            test: {"s": one.seconds, "ok": one.passed, "state": one.state, "of": _hex(one.lines)}
            for test, one in self.ran.items()
        }
        path.write_text(
            json.dumps({"ran": ran, "states": self.states, "imported": _hex(self.imported)}), encoding="utf-8"
        )

    def fresh(self, test: str, *, tree: Path) -> bool:
        """Whether neither a test nor anything that it ran has changed since."""
        one = self.ran.get(test)
        if one is None or one.state != state(test.split("::")[0], tree=tree):
            return False
        return all(self.states.get(module) == state(module, tree=tree) for module in one.lines)

    def of_line(self, module: str, *, first: int, last: int) -> list[str]:
        """Green tests that ran a line of a module between two."""
        mask = ((1 << (last - first + 1)) - 1) << first
        return [test for test, one in self.ran.items() if one.passed and one.lines.get(module, 0) & mask]

    def of_module(self, module: str) -> list[str]:
        """Green tests that ran any line of a module."""
        return [test for test, one in self.ran.items() if one.passed and one.lines.get(module)]


def _hex(lines: dict[str, int]) -> dict[str, str]:
    return {module: f"{bits:x}" for module, bits in lines.items()}


@functools.cache
def state(file: str, *, tree: Path) -> str:
    """Hash of a file; empty where it is not."""
    path = tree / file
    return hashlib.sha256(path.read_bytes()).hexdigest()[:12] if path.is_file() else ""


class Cut(BaseException):
    """A test took too long."""


class Recorder:
    """Runs the tests one by one and notes which lines each of them ran."""

    def __init__(self, record: Record, *, out: Path, share: tuple[int, int], tree: Path = TOP) -> None:
        self._record, self._out, self._share, self._tree = record, out, share, tree
        self._watch, self._caches = Watch(tree), Caches()

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        plain_hypothesis()
        self._watch.start()
        import_all()

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        self._record.imported = self._watch.stop()
        chosen = few_of_each(items)
        self._record.ran = {
            test: one for test, one in self._record.ran.items() if self._record.fresh(test, tree=self._tree)
        }
        new = [item for item in chosen if item.nodeid not in self._record.ran]
        part, parts = self._share
        print(f"{len(chosen)} of {len(items)} tests, {len(new)} to be recorded", flush=True)
        items[:] = new[part::parts]

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        signal.signal(signal.SIGPROF, _cut)
        for number, item in enumerate(session.items):
            self._caches.clear()
            before = time.process_time()
            self._watch.start()
            signal.setitimer(signal.ITIMER_PROF, LONGEST)
            reports = runtestprotocol(item, log=False, nextitem=None)
            signal.setitimer(signal.ITIMER_PROF, 0.0)
            lines = self._watch.stop()
            passed = all(report.passed for report in reports)
            file = item.nodeid.split("::")[0]
            self._record.ran[item.nodeid] = Ran(
                round(time.process_time() - before, 4), passed, state(file, tree=self._tree), lines
            )
            if number % 50 == 49:
                print(f"{number + 1} of {len(session.items)}, {time.process_time():.0f} s", flush=True)
                self._save()
        self._save()
        return True

    def _save(self) -> None:
        modules = {module for one in self._record.ran.values() for module in one.lines}
        self._record.states = {module: state(module, tree=self._tree) for module in sorted(modules)}
        self._record.write(self._out)


def _cut(_number: int, _frame: FrameType | None) -> None:
    raise Cut


def plain_hypothesis() -> None:
    """Draw the same each time, look for no smaller example, and be patient."""
    from hypothesis import HealthCheck, Phase, settings

    settings.register_profile(
        "faults",
        settings.get_profile("patient"),
        phases=(Phase.explicit, Phase.generate),
        database=None,
        suppress_health_check=[HealthCheck.too_slow],
    )
    settings.load_profile("faults")


def import_all() -> None:
    """Import every module of the package, so that none is imported in the middle of a test."""
    package = importlib.import_module("rigcheck")
    for found in pkgutil.walk_packages(package.__path__, "rigcheck."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)


def few_of_each(items: Sequence[pytest.Item]) -> list[pytest.Item]:
    """A few of each test's parameters, spread over them."""
    functions: dict[str, list[pytest.Item]] = defaultdict(list)
    for item in items:
        functions[item.nodeid.split("[")[0]].append(item)
    chosen = []
    for members in functions.values():
        count = min(PER_FUNCTION, len(members))
        chosen += [members[i * len(members) // count] for i in range(count)]
    return chosen


def options(tree: Path) -> list[str]:
    """How pytest is called."""
    ignored = [f"--ignore={path}" for path in LEFT_OUT]
    plugins = ["-p", "no:cacheprovider", "-p", "no:xdist", "-W", "ignore::pytest.PytestAssertRewriteWarning"]
    plain = ["-c", str(tree / "pyproject.toml"), "-o", "addopts=--import-mode=importlib --strict-markers"]
    said = ["-q", "--continue-on-collection-errors", "--hypothesis-seed=0", f"--rootdir={tree}"]
    return [*said, *plugins, *ignored, *plain]


def merged(files: Sequence[Path]) -> Record:
    """Several records put together."""
    whole = Record()
    for one in map(Record.read, files):
        whole.ran |= {test: ran for test, ran in one.ran.items() if ran.passed or test not in whole.ran}
        whole.states |= one.states
        whole.imported |= one.imported
    return whole


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Which test runs which line?")
    parser.add_argument("--record", type=Path, required=True)
    parser.add_argument("--share", type=int, nargs=2, default=(0, 1), help="which part of how many")
    parser.add_argument("tests", nargs="*", default=["tests"])
    chosen = parser.parse_args()
    sys.dont_write_bytecode = True
    recorder = Recorder(Record.read(chosen.record), out=chosen.record, share=tuple(chosen.share))
    pytest.main([*options(TOP), *chosen.tests], plugins=[recorder])
    return 0


if __name__ == "__main__":
    # the plugin that pytest imports and this program are one module
    sys.exit(importlib.import_module("tests.bench.covering").main())

"""Try a fault: put it into the package in a forked process and run the tests that run its line until one is red.

A parent imports what all tests need and forks a keeper, which imports the package and collects all tests once. For each
fault the keeper forks a process, which puts the fault into the function it stands in and runs the tests that were
recorded to run that line (tests/bench/covering.py), quickest and nearest first. A fault outside functions, or in one
that was called while modules were imported, is tried in a process that imports everything anew from a copy.
"""

import gc
import json
import math
import os
import resource
import select
import shutil
import signal
import sys
import time
import traceback
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

from tests.bench.covering import Record, import_all, options, plain_hypothesis
from tests.bench.faults import Spot, with_fault
from tests.bench.planting import function_of, living_functions, put_in, users
from tests.bench.watching import Caches

CAP = 25.0
"""Processor time for one fault, after which it counts as alive. [s]"""
MEMORY = 4 << 30
"""What a fault may take beside what is there. [byte]"""
PATIENCE = 600.0
"""How long a process may wait for anything. [s]"""
WARM = ("anastruct", "hypothesis", "matplotlib.figure", "numpy", "pydantic", "rich.table", "scipy.optimize", "sympy",
        "tomlkit", "typer")  # fmt: skip
"""What is imported once for all."""
QUICK = 0.08
"""Under this a test is quick. [s]"""
ANEW = 40
"""Tests that are collected anew for a fault outside functions, nearest first."""


@dataclass(frozen=True)
class Outcome:
    """What became of a fault.

    Attributes:
        alive: No test turned red.
        by: The test that did, or how the process ended.
        tried: How many tests were run.
        seconds: Processor time. [s]
        whole: Whether all tests that run its line were run.
    """

    alive: bool
    by: str
    tried: int
    seconds: float
    whole: bool


def nearest_first(tests: Sequence[str], *, module: str, record: Record) -> list[str]:
    """Tests in the order in which they most likely turn red soonest."""
    room, name = module.split("/")[1], module.split("/")[-1].removesuffix(".py")
    parent = module.split("/")[-2]

    def cost(test: str) -> float:
        ran = record.ran[test]
        file = test.split("::")[0]
        near = 0.2 if f"/{room}/" in file else 1.0
        near *= 0.3 if name in file or (parent != room and parent in file) else 1.0
        return (ran.seconds + 0.01) * math.sqrt(ran.breadth + 1.0) * near

    return sorted(tests, key=cost)


class Runner:
    """Runs tests one by one in this process until one is red, and says so on a pipe."""

    def __init__(self, pipe: int, *, seconds: dict[str, float], cap: float) -> None:
        self._pipe, self._seconds, self._cap = pipe, seconds, cap

    def say(self, *words: object) -> None:
        """Write one line."""
        os.write(self._pipe, (json.dumps(words) + "\n").encode())

    def run(self, items: Sequence[pytest.Item]) -> None:
        """Run them."""
        start = time.process_time()
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        for number, item in enumerate(items):
            used = time.process_time() - start
            if used > self._cap:
                self.say("cut", number, used)
                return
            self.say("began", number, item.nodeid)
            signal.setitimer(signal.ITIMER_PROF, 10.0 + 10.0 * self._seconds.get(item.nodeid, 1.0))
            after = items[number + 1] if number + 1 < len(items) else None
            reports = runtestprotocol(item, log=False, nextitem=after)
            signal.setitimer(signal.ITIMER_PROF, 0.0)
            if any(report.failed for report in reports):
                self.say("red", number + 1, time.process_time() - start, item.nodeid)
                return
        self.say("green", len(items), time.process_time() - start)

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        plain_hypothesis()

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.say("red", 0, 0.0, f"collecting {report.nodeid}")
            os._exit(0)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.run(session.items)
        return True


class Keeper:
    """Has collected all tests, and forks a process for each fault it is asked about."""

    def __init__(self, asked: int, answers: int, *, tree: Path, record: Record) -> None:
        self._asked, self._answers, self._tree, self._record = asked, answers, tree, record
        self._caches = Caches()

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        plain_hypothesis()
        import_all()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        like: dict[str, list[str]] = {}
        for test in items:
            like.setdefault(test.split("[")[0], []).append(test)
        living_functions()
        gc.collect()
        gc.freeze()  # shared with the forked processes
        with os.fdopen(self._asked) as asked:
            for line in asked:
                raw = json.loads(line)
                found = self._try(Spot(**raw["spot"]), raw["tests"], cap=raw["cap"], items=items, like=like)
                os.write(self._answers, (json.dumps(found) + "\n").encode())
        return True

    def _try(
        self, spot: Spot, tests: list[str], *, cap: float, items: dict[str, pytest.Item], like: dict[str, list[str]]
    ) -> list[Any] | None:
        """Fork and run; None where the fault cannot be put into a living function."""
        known = [one for test in tests for one in ([test] if test in items else like.get(test, ()))]
        every: list[str] = []
        for test in known:
            # the other parameters of a quick test at once, those of others last
            ran = self._record.ran.get(test)
            quick = ran is not None and ran.seconds < QUICK
            every += [test, *(like[test.split("[")[0]] if quick else ())]
        more = [one for test in dict.fromkeys(test.split("[")[0] for test in known) for one in like[test]]
        every = list(dict.fromkeys([*every, *more]))
        seconds = {test: ran.seconds for test, ran in self._record.ran.items()}

        def work(pipe: int) -> None:
            runner = Runner(pipe, seconds=seconds, cap=cap)
            if not put_in(spot, tree=self._tree):
                runner.say("outside", 0, 0.0)
                return
            self._caches.clear()
            runner.run([items[test] for test in every])

        return forked(work)


def forked(work: Any) -> list[Any]:
    """Do something in a forked process that cannot do harm; return the last line it said, and how it ended."""
    out, into = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(out)
            nothing = os.open(os.devnull, os.O_RDWR)
            for stream in (0, 1, 2):
                os.dup2(nothing, stream)
            size = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * resource.getpagesize()
            resource.setrlimit(resource.RLIMIT_AS, (size + MEMORY, size + MEMORY))
            work(into)
        finally:
            os._exit(0)
    os.close(into)
    said = b""
    while select.select([out], [], [], PATIENCE)[0]:
        piece = os.read(out, 65536)
        if not piece:
            break
        said += piece
    else:
        os.kill(child, signal.SIGKILL)
    os.close(out)
    _, status, used = os.wait4(child, 0)
    lines = said.decode().splitlines()
    last = json.loads(lines[-1]) if lines else ["nothing", 0, 0.0]
    if last[0] == "began":
        last = ["died", last[1] + 1, used.ru_utime + used.ru_stime, last[2]]
    return [*last, status] if last[0] == "died" else last


class Bench:
    """Tries faults on a copy of the package and its tests."""

    def __init__(self, tree: Path, *, record: Record) -> None:
        self._tree, self._record = tree, record
        for name in WARM:
            __import__(name)
        asked, self._ask = os.pipe()
        self._answers, answers = os.pipe()
        self._keeper = os.fork()
        if self._keeper == 0:
            try:
                os.close(self._ask)
                os.close(self._answers)
                _enter(tree)
                pytest.main([*options(tree), "tests"], plugins=[Keeper(asked, answers, tree=tree, record=record)])
            except BaseException:
                traceback.print_exc()
            finally:
                os._exit(0)
        os.close(asked)
        os.close(answers)
        self._lines = os.fdopen(self._answers)

    def close(self) -> None:
        """End the keeper."""
        os.close(self._ask)
        os.waitpid(self._keeper, 0)

    def attempt(self, spot: Spot, *, cap: float = CAP) -> Outcome:
        """Try one fault."""
        source = (self._tree / spot.module).read_text(encoding="utf-8")
        inside = function_of(spot, source=source) is not None
        tests = self._record.of_line(spot.module, first=spot.line, last=spot.end_line)
        early = (self._record.imported.get(spot.module, 0) >> spot.line) & 1
        if not inside:
            tests = self._record.of_module(spot.module) or self._beside(spot.module)
        tests = nearest_first(tests, module=spot.module, record=self._record)
        if not inside:
            where = users(spot, source=source)
            first = {test for line in where for test in self._record.of_line(spot.module, first=line, last=line)}
            tests.sort(key=lambda test: test not in first)
        if not tests:
            return Outcome(True, "no test runs it", 0, 0.0, True)
        found: list[Any] = ["outside", 0, 0.0]
        if inside:
            asked = {"spot": vars(spot), "tests": tests, "cap": cap}
            os.write(self._ask, (json.dumps(asked) + "\n").encode())
            found = json.loads(self._lines.readline())
        if found[0] == "outside" or (early and found[0] in ("green", "cut")):
            found = self._anew(spot, source, tests, cap=cap)
        word, tried, seconds = found[0], found[1], found[2]
        by = str(found[3]) if word in ("red", "died") else word
        return Outcome(
            word in ("green", "cut"), by if word != "died" else f"ended in {by}", tried, seconds, word != "cut"
        )

    def _beside(self, module: str) -> list[str]:
        """Tests of the room of a module that holds nothing but declarations, which no test runs after its import."""
        room = f"tests/{module.split('/')[1]}/"
        return [test for test, ran in self._record.ran.items() if ran.passed and test.startswith(room)]

    def _anew(self, spot: Spot, source: str, tests: list[str], *, cap: float) -> list[Any]:
        """Import everything anew with the fault in the file, nearest tests first, then all."""
        path = self._tree / spot.module
        kept = path.stat()
        seconds = {test: ran.seconds for test, ran in self._record.ran.items()}
        # of a quick test all parameters
        tests = list(dict.fromkeys(one.split("[")[0] if seconds.get(one, 1.0) < QUICK else one for one in tests))
        found: list[Any] = ["green", 0, 0.0]
        tried = 0
        try:
            path.write_text(with_fault(source, spot), encoding="utf-8")
            # another time than that of its compiled form
            os.utime(path, (kept.st_atime, kept.st_mtime + 1.0 + time.monotonic() % 1000.0))
            for some in filter(None, (tests[:ANEW], tests[ANEW:])):

                def work(pipe: int, some: list[str] = some) -> None:
                    _enter(self._tree)
                    runner = Runner(pipe, seconds=seconds, cap=cap)
                    pytest.main([*options(self._tree), *some], plugins=[runner])

                found = forked(work)
                if found[0] == "nothing":
                    found = ["red", 0, 0.0, "importing"]
                tried += found[1]
                if found[0] != "green":
                    break
        finally:
            path.write_text(source, encoding="utf-8")
            os.utime(path, (kept.st_atime, kept.st_mtime))
        return [found[0], tried, *found[2:]]


def _enter(tree: Path) -> None:
    """Take package and tests from a copy."""
    os.chdir(tree)
    sys.dont_write_bytecode = True
    for name in [one for one in sys.modules if one.split(".")[0] in ("rigcheck", "tests")]:
        del sys.modules[name]
    sys.path[:] = [str(tree), *(one for one in sys.path if one != os.environ.get("PYTHONPATH"))]
    sys.path_importer_cache.clear()


def copy(tree: Path, *, top: Path) -> None:
    """Put a copy of the package and its tests into a directory, as it stands."""
    for name in ("rigcheck", "tests", "docs", "cases"):
        shutil.copytree(top / name, tree / name)
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy2(top / name, tree / name)

"""Time a whole `rigcheck report CASE -o FILE` of every shipped case against the bare import of a plotting library.

    python -m tests.bench.report_speed
    python -m tests.bench.report_speed --runs 9 cases/larkspur-bar.toml

The two take turns, so that whatever else the machine does falls on both. Beside wall time stands processor time, user
and system, which hardly depends on what else runs and is what the bound holds. Files are written
too, and their size is told. The figures go into tests/outside/data/benchmarks.toml, with the machine they stem from.
"""

from __future__ import annotations

import argparse
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
BOUND = 12.0  # times the import
LARGEST = 1.5  # MiB


def once(arguments: list[str], *, compiled: Path) -> tuple[float, float]:
    """Wall time and processor time of one process with its children, modules compiled as those of a package are. [s]"""
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    done = subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=False,
                          env={**own, "PYTHONPYCACHEPREFIX": str(compiled)})  # fmt: skip
    wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1, 3):
        raise SystemExit(done.stderr.decode())
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def measure(case: Path, *, runs: int, folder: Path) -> tuple[float, float, float, float, float]:
    """Medians of wall and processor time of report and import, and the size of the page. [s, s, s, s, MiB]"""
    target = folder / f"{case.stem}.html"
    commands = (["-m", "rigcheck", "report", str(case), "-o", str(target), "--force"], ["-c", "import matplotlib"])
    times: list[list[tuple[float, float]]] = [[], []]
    for arguments in commands:
        once(arguments, compiled=folder)  # caches of the disk, compiled modules
    for _ in range(runs):
        for kept, arguments in zip(times, commands, strict=True):
            kept.append(once(arguments, compiled=folder))
    wall, spent = ([statistics.median(one[i] for one in kept) for kept in times] for i in range(2))
    return wall[0], wall[1], spent[0], spent[1], target.stat().st_size / 2**20


def main() -> int:
    """Print a line for each case; 1 where one takes too long or weighs too much."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("cases", nargs="*", type=Path, default=sorted((ROOT / "cases").glob("*.toml")))
    options.add_argument("--runs", type=int, default=5)
    given = options.parse_args()
    bad = 0
    print(f"median of {given.runs} runs, report and import in turn; bound {BOUND:g} times, {LARGEST:g} MiB")
    with tempfile.TemporaryDirectory() as folder:
        for case in given.cases:
            wall, base, spent, spent_base, size = measure(case.resolve(), runs=given.runs, folder=Path(folder))
            bad += spent / spent_base > BOUND or size > LARGEST
            print(
                f"{case.stem:16} wall {1e3 * wall:6.0f} ms, {wall / base:5.1f} times {1e3 * base:4.0f} ms;"
                f" processor {1e3 * spent:6.0f} ms, {spent / spent_base:5.1f} times {1e3 * spent_base:4.0f} ms;"
                f" {size:.2f} MiB",
                flush=True,
            )
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main())

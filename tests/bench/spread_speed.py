"""How long the spread study takes and how much memory, beside the whole-process time of importing a frame solver.

Run by hand from the root of the repository:

    python -m tests.bench.spread_speed [CASE] [--most 1000000]

Every run is a process of its own; processor time is counted, so that other work on the machine does not. The figures
go into docs/verification.md by hand, with the machine they stem from.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import subprocess
import sys

RUNS = 5
TARGET = 20.0  # times the import of the frame solver, for 100 000 samples
MEMORY = 1024.0  # MiB
_STUDY = """
import resource, sys, time
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.studies.spread.study import spread
from rigcheck.studies.spread.unknowns import usual
case = read_case(sys.argv[1])
start = time.process_time()
spread(Rig(case), unknowns=usual(case), samples=int(sys.argv[2]))
print(time.process_time() - start, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0)
"""


def import_time() -> float:
    """Median whole-process time of importing the frame solver. [s]"""
    times = []
    for _ in range(RUNS):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-c", "import anastruct"], check=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return statistics.median(times)


def study(case: str, *, samples: int) -> tuple[float, float]:
    """Time and peak memory of one study, all states and all checks. [s, MiB]"""
    done = subprocess.run(
        [sys.executable, "-c", _STUDY, case, str(samples)], check=True, capture_output=True, text=True
    )
    seconds, memory = done.stdout.split()
    return float(seconds), float(memory)


def main() -> None:
    """Print the figures."""
    options = argparse.ArgumentParser()
    options.add_argument("case", nargs="?", default="cases/larkspur-bar.toml")
    options.add_argument("--most", type=int, default=100_000)
    given = options.parse_args()
    unit = import_time()
    print(f"import of the frame solver, whole process: {unit:.3f} s (median of {RUNS})")
    samples = 1000
    while samples <= given.most:
        seconds, memory = study(given.case, samples=samples)
        per = 1e3 * seconds / samples
        print(f"{samples:>8} samples: {seconds:9.2f} s, {per:7.3f} ms each, {seconds / unit:9.1f} imports,"
              f" {memory:6.0f} MiB (target {MEMORY:g})")  # fmt: skip
        last = per
        samples *= 10
    print(f"100 000 at this rate: {100.0 * last:.0f} s, {100.0 * last / unit:.0f} imports (target {TARGET:g})")


if __name__ == "__main__":
    main()

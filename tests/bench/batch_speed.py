"""What one design costs in a batch beside one solve of its rail by a frame solver, and 200 random longest boxes.

Run by hand from the root of the repository:

    python -m tests.bench.batch_speed [CASE] [--rigs 200]

The figures go into docs/verification.md by hand, with the machine they stem from.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.check.assess import assess
from rigcheck.check.solve import Solution, solve
from rigcheck.studies import second_opinion
from rigcheck.studies.vary_batch import judge
from tests.studies.test_length import longest_holds

DESIGNS = 200
RUNS = 5
TARGET = 1000.0  # frame solve over one design in a batch
STATES = frozenset({"packed"})


def frame_time(solution: Solution) -> float:
    """Shortest time of one solve of one rail under one load by the frame solver. [s]"""
    times: list[float] = []
    real = second_opinion.solve_frame

    def timed(*arguments: object, **more: object) -> object:
        start = time.process_time()
        try:
            return real(*arguments, **more)  # type: ignore[arg-type]
        finally:
            times.append(time.process_time() - start)

    second_opinion.solve_frame = timed  # type: ignore[assignment]
    try:
        for _ in range(RUNS):
            second_opinion.confirm(solution, state=0)
    finally:
        second_opinion.solve_frame = real
    return min(times)


def batch_time(rig: Rig, *, only: frozenset[str] | None) -> tuple[float, int]:
    """Time of one design in a batch, statics and all checks, and its rows of the state axis. [s]"""
    values = float(rig.number("bed.density")) * np.linspace(0.95, 1.05, DESIGNS)
    batch = varied(rig, {"bed.density": values})
    judge(batch, only=only)
    start = time.process_time()
    judge(batch, only=only)
    rows = len(solve(rig, only=only).rows)
    return (time.process_time() - start) / DESIGNS, rows


def main() -> None:
    """Print the figures."""
    options = argparse.ArgumentParser()
    options.add_argument("case", nargs="?", default="cases/larkspur-bar.toml")
    options.add_argument("--rigs", type=int, default=0)
    given = options.parse_args()
    rig = Rig(read_case(given.case))
    solver = frame_time(assess(rig).solution)
    print(f"one solve of one rail under one load by the frame solver: {1e3 * solver:.2f} ms")
    for only in (STATES, None):
        each, rows = batch_time(rig, only=only)
        words = "all states" if only is None else ", ".join(sorted(only))
        rails = 3 * rows  # limp left, limp right, even
        print(f"one design in a batch of {DESIGNS}, {words}, {rows} rows, every check: {1e3 * each:.3f} ms")
        print(f"  {solver / each:.2f} designs and {solver / each * rails:.0f} rails a solve (target {TARGET:g})")
    if given.rigs:
        limited = longest_holds(given.rigs, seed=5)
        print(f"{given.rigs} random rigs: the longest box passes, one a hundredth longer fails ({limited} limited)")


if __name__ == "__main__":
    main()

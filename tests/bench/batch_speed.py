"""What the rails of one design cost in a batch beside one solve of the same box as a space frame.

Run by hand from the root of the repository:

    python -m tests.bench.batch_speed [CASE]

Both sides do the same work: both rails of the packed box under its loads as they are and factored, their forces, peaks
and deflection. A design of the batch also has its loads taken off, its geometry, lines and hinge solved. Processor time
is counted. The figures go into tests/outside/data/benchmarks.toml by hand.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from rigcheck.analysis.solve import Keep, Solution, solve
from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.crosscheck import second_opinion

DESIGNS = 2000
RUNS = 5
TARGET = 1000.0  # frame solve over one design in a batch
EVEN = 2


def frame_time(solution: Solution, *, row: int) -> float:
    """Shortest time of one solve of the box by the frame solver. [s]"""
    times: list[float] = []
    module = vars(second_opinion)
    real = module["solve_frame"]

    def timed(*arguments: object, **more: object) -> object:
        start = time.process_time()
        try:
            return real(*arguments, **more)
        finally:
            times.append(time.process_time() - start)

    module["solve_frame"] = timed
    try:
        for _ in range(RUNS):
            second_opinion.confirm(solution, state=row, bound=EVEN)
    finally:
        module["solve_frame"] = real
    return min(times)


def batch_time(rig: Rig, *, row: int) -> float:
    """Shortest time of one design in a batch: loads, lines, hinge, and both rails bent and sagged. [s]"""
    values = float(rig.number("bed.density")) * np.linspace(0.95, 1.05, DESIGNS)
    batch = varied(rig, {"bed.density": values})
    keep = Keep(hung=(row,), road=(), bent=((0, EVEN),), flanks={}, sagged=((0, EVEN),), road_bent=False)
    times = []
    for _ in range(RUNS):
        start = time.process_time()
        found = solve(batch, keep=keep)
        times.append(time.process_time() - start)
        assert found.peaks.max_moment.shape == found.sag.sag.shape == (DESIGNS, 1, 2)
    return min(times) / DESIGNS


def main() -> None:
    """Print the figures."""
    options = argparse.ArgumentParser()
    options.add_argument("case", nargs="?", default="cases/larkspur-bar.toml")
    given = options.parse_args()
    rig = Rig(read_case(given.case))
    whole = assess(rig).solution
    row = next(i for i, one in enumerate(whole.rows) if one.state == "packed")
    solver, each = frame_time(whole, row=row), batch_time(rig, row=row)
    print(f"one solve of the box by the frame solver: {1e3 * solver:.2f} ms")
    print(f"the rails of one design in a batch of {DESIGNS}: {1e6 * each:.1f} microseconds")
    print(f"{solver / each:.0f} designs a solve (target {TARGET:g})")


if __name__ == "__main__":
    main()

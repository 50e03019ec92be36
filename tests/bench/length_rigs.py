"""The longest box of rigs drawn by lot, in all states: at that length it passes, a hundredth longer it fails.

    python -m tests.bench.length_rigs --count 200

Half of the rigs hang from the tests' own sound box, half are starters of many sizes that fold and go on the road. Both
lengths are written out as cases and checked by themselves, each as a rig of its own. What no length cures is set aside,
as in the study. The figures go into tests/outside/data/benchmarks.toml by hand.
"""

import argparse
import sys
import time
from random import Random

import numpy as np

from rigcheck.analysis.rows import OVER
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.studies.length.record import Blocker
from rigcheck.studies.length.study import sweep
from rigcheck.studies.vary.case import design
from rigcheck.studies.vary.follow import moved
from rigcheck.studies.vary.variable import variable
from tests.studies.test_length import random_sound
from tests.support.extreme_rigs import KINDS, nudged, starter_data

PAST = 1.01


def drawn(count: int, *, seed: int) -> list[Rig]:
    """Rigs over the range of the trade, every part described.

    Args:
        count: How many.
        seed: Where chance starts.
    """
    rng = Random(seed)
    starters = []
    for _ in range(count // 2):
        data = nudged(starter_data(), rng=rng, keys=frozenset(KINDS.spans), share=rng.choice((0.1, 0.3)))
        starters.append(Rig(check_case(data)))
    return [*random_sound(count - len(starters), seed=seed), *starters]


def passes(found: Assessment, *, blockers: tuple[Blocker, ...]) -> bool:
    """Whether nothing is over and nothing stops, apart from what no length cures."""
    parts = {(one.part, one.mode) for one in blockers}
    codes = {one.part for one in blockers if one.least is None}
    over = [
        one
        for one in found.worst
        if float(one.utilization) > OVER and (one.check.part, one.check.mode) not in parts
    ]  # fmt: skip
    return not over and not any(flag.stops and flag.code not in codes for flag in found.flags)


def main() -> int:
    """Print what was found; 1 where a rig was wrong."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=200, help="how many rigs")
    parser.add_argument("--seed", type=int, default=2718, help="where chance starts")
    given = parser.parse_args()
    limited = wrong = bands = blocked = 0
    begun = time.process_time()
    for number, rig in enumerate(drawn(given.count, seed=given.seed)):
        if number % 20 == 0:
            print(f"rig {number}, {time.process_time() - begun:.0f} s of processor", file=sys.stderr, flush=True)
        found = sweep(rig, variable=variable(rig.case, "box.length"))
        bands += len(found.bands) > 1
        blocked += bool(found.blockers)
        if not found.bands or found.bands[-1].above is None:
            continue
        limited += 1
        high = found.bands[-1].high
        at, past = (
            assess(Rig(design(moved(rig, key="box.length", values=np.asarray(length)).rig, 0)))
            for length in (high, PAST * high)
        )
        if not passes(at, blockers=found.blockers) or passes(past, blockers=found.blockers):
            wrong += 1
            print(f"rig {number}: wrong at {high:.4f} in", flush=True)
    took = time.process_time() - begun
    print(
        f"{given.count} rigs, {limited} with a longest box inside the range, {bands} with several bands, {blocked} with"
    )
    print(f"something that no length cures; {wrong} wrong; {took / given.count:.2f} s of processor a rig")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())

"""Draw rigs by lot and confirm each by a space frame, as `check --confirm` does; none may end in 70.

    python -m tests.bench.confirm_rigs
    python -m tests.bench.confirm_rigs --rigs 60 --first 1000 --minutes 3

What a frame cannot follow, far out of proportion, is counted apart: the command then says that nothing is confirmed.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from random import Random

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.confirm import NOTHING, SecondOpinionError, second_opinion
from rigcheck.wording.scale import Scale
from tests.support.extreme_rigs import extreme_case


def confirmed(seed: int | str) -> tuple[str, str]:
    """What became of one rig in a word, and what was said where it would have ended in 70."""
    try:
        found = assess(Rig(check_case(extreme_case(Random(seed)))))
    except CaseError:
        return "refused", ""
    try:
        told = second_opinion(found, scale=Scale())
    except SecondOpinionError as error:
        return "differs", str(error)
    if told["agrees"]:
        return "agrees", ""
    return ("nothing hangs" if told["text"] == NOTHING else "no frame"), told["text"]


def main() -> int:
    """Print what became of the rigs; 1 where one differs."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--rigs", type=int, default=200)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--minutes", type=float, default=10.0)
    given = options.parse_args()
    started, count = time.monotonic(), Counter[str]()
    for seed in range(given.first, given.first + given.rigs):
        if time.monotonic() - started > 60.0 * given.minutes:
            print(f"stopped after {given.minutes:g} minutes")
            break
        word, told = confirmed(seed)
        count[word] += 1
        if word in ("differs", "no frame"):
            print(f"seed {seed}: {word}: {told}", flush=True)
    print(f"{count.total()} rigs in {time.monotonic() - started:.0f} s:", dict(count))
    return 1 if count["differs"] else 0


if __name__ == "__main__":
    sys.exit(main())

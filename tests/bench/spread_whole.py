"""Hold the spread study, which checks most samples at a few rows, against the one that checks all at every row.

    nice -n 19 python -m tests.bench.spread_whole --rigs 200 --samples 2000
    python -m tests.bench.spread_whole --rigs 1 --first 17

Each rig is drawn by lot, and so are two to five of its numbers and how far they range, half to twice of what they are.
The chance that anything is over may not be understated: not by the chance itself, and not by the bound beside it.
"""

from __future__ import annotations

import argparse
import sys
import time
from random import Random

import numpy as np

from rigcheck.case import Case, CaseError, check_case
from rigcheck.case.rig import Rig
from rigcheck.studies.spread.study import Spread, spread
from rigcheck.studies.spread.unknowns import Unknown, given
from tests.support.extreme_rigs import Maker, _drawn, nudged, starter_data

KEYS = (
    "water.flow", "bed.depth", "bed.density", "box.sheet", "box.length", "hanger.at", "perch.height",
    "perch.downstream", "person.weight", "line.wear", "mat.weight", "wind.parked", "plant.cross_slope",
    "line.link[1].wll", "hinge.pin", "hanger.lug.plate", "perch.post.free_length", "factors.hung",
)  # fmt: skip
FORMS = ("{key}=+-{some} %", "{key}=normal {some} %")
SLACK = 1e-12


def drawn(seed: str) -> tuple[Case, list[Unknown]]:
    """A rig and what is not known of it, with wide ranges."""
    rng = Random(f"spread {seed}")
    while True:
        if rng.random() < 0.6:
            data = nudged(starter_data(), rng=rng, keys=frozenset(KEYS) | {"line.link.wll"}, share=0.5)
        else:
            data = _drawn(Maker(rng, wild=0.0))
        data.pop("measured", None)
        try:
            case = check_case(data)
        except CaseError:
            continue
        found: list[Unknown] = []
        for key in rng.sample(KEYS, k=rng.randint(4, 10)):
            for some in (60, 30, 15, 6):
                text = rng.choice(FORMS).format(key=key, some=some)
                try:
                    found += given(case, [text])
                except CaseError:
                    continue
                break
        if len(found) >= 2:
            return case, found[:5]


def both(case: Case, unknowns: list[Unknown], *, samples: int, seed: int = 1) -> tuple[Spread, Spread]:
    """The study by few rows and by all of them."""
    rig = Rig(case)
    few = spread(rig, unknowns=unknowns, samples=samples, seed=seed)
    return few, few if few.tried is None else spread(rig, unknowns=unknowns, samples=samples, seed=seed, whole=True)


def understated(seed: str, *, samples: int) -> list[str]:
    """What the study by few rows understates of one drawn rig; words in brackets say what kind of rig it was."""
    case, unknowns = drawn(seed)
    try:
        few, whole = both(case, unknowns, samples=samples)
    except CaseError as error:
        return [f"[refused: {str(error)[:40]}]"]
    if few.tried is None:
        return ["[every sample at every row]"]
    wrong = []
    if few.over < whole.over - SLACK:
        wrong.append(f"over {few.over:.4%} by few rows, {whole.over:.4%} by all")
    if few.over_most < whole.over - SLACK:
        wrong.append(f"at most {few.over_most:.4%} by few rows, {whole.over:.4%} by all")
    high = np.array(few.highest.quantiles) - np.array(whole.highest.quantiles)
    if np.any(high < -1e-9 * np.array(whole.highest.quantiles)):
        wrong.append(f"quantiles {few.highest.quantiles} by few rows, {whole.highest.quantiles} by all")
    what = "never over" if whole.over == 0.0 else "always over" if whole.over == 1.0 else "now and then over"
    keys = ", ".join(one.variable.name for one in unknowns)
    return [f"[{what}]", *(f"{one} ({keys})" for one in wrong)]


def main() -> int:
    """Print what is understated; 1 where anything is."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--rigs", type=int, default=200)
    options.add_argument("--samples", type=int, default=2000)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--minutes", type=float, default=1e6)
    asked = options.parse_args()
    begun, count = time.monotonic(), dict[str, int]()
    rigs = wrong = 0
    for number in range(asked.first, asked.first + asked.rigs):
        if time.monotonic() - begun > 60.0 * asked.minutes:
            break
        found = understated(str(number), samples=asked.samples)
        rigs += 1
        wrong += any(not one.startswith("[") for one in found)
        for one in found:
            if one.startswith("["):
                count[one[1:-1]] = count.get(one[1:-1], 0) + 1
            else:
                print(f"rig {number}: {one}", flush=True)
    told = ", ".join(f"{many} {what}" for what, many in sorted(count.items()))
    print(f"{rigs} rigs of {asked.samples} samples in {time.monotonic() - begun:.0f} s ({told}): {wrong} understated")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

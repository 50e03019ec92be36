"""Hold the spread study, which checks most samples at a few rows, against the one that checks all at every row.

    nice -n 19 python -m tests.bench.spread_whole --rigs 200 --samples 2000
    nice -n 19 python -m tests.bench.spread_whole --rigs 200 --samples 2000 --looked 80 --log spread.log
    python -m tests.bench.spread_whole --rigs 1 --first 17

Each rig is drawn by lot, and so are two to five of its numbers and how far they range, half to twice of what they are.
The chance that anything is over may not be understated: not by the chance itself, and not by the bound beside it.

Every sample at every row takes some 50 ms. With `--looked` only so many of those that the few rows have as not over are
looked at in every row: half of them the ones nearest to over, half drawn from the others. None may be over after all.
With `--log` each rig has its line there, and one that has is not run again.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path
from random import Random

import numpy as np

from rigcheck.case import Case, CaseError, check_case
from rigcheck.case.rig import Rig, varied
from rigcheck.studies.spread.sampling import extremes_first, latin_hypercube
from rigcheck.studies.spread.study import Spread, _at_every_row, _at_few_rows, _Kept, _nobody, spread
from rigcheck.studies.spread.trial import FIRST
from rigcheck.studies.spread.unknowns import Unknown, given
from rigcheck.studies.vary.variable import must_matter, watched
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


def over_after_all(seed: str, *, samples: int, looked: int) -> list[str]:
    """As `understated`, of some samples alone: which of them are over at every row and not at the few."""
    case, unknowns = drawn(seed)
    rig = Rig(case)
    try:
        _, carried = watched(rig, only=None)
        for one in unknowns:
            must_matter(one.variable, carried)
        shares = latin_hypercube(samples, unknowns=len(unknowns), seed=1)
        values = np.stack([one.values(shares[:, i]) for i, one in enumerate(unknowns)], axis=-1)
        values = values[extremes_first(values, most=FIRST)]
        keys = [one.variable.key for one in unknowns]
        batch = varied(rig, {key: values[:, i] for i, key in enumerate(keys)})
        few, tried = _at_few_rows(batch, samples=samples, only=None, tell=_nobody)
        if tried is None:
            return ["[every sample at every row]"]
        open_ = np.flatnonzero(~few.over())
        near = open_[np.argsort(-few.highest()[open_], kind="stable")][: looked // 2]
        rest = np.setdiff1d(open_, near)
        others = np.random.default_rng(7).choice(rest, size=min(looked - looked // 2, rest.size), replace=False)
        at = np.concatenate([near, others]).astype(int)
        if not at.size:
            return ["[always over]"]
        whole = _Kept(at.size)
        _at_every_row(varied(rig, {key: values[at, i] for i, key in enumerate(keys)}), whole, only=None, tell=_nobody)
    except CaseError as error:
        return [f"[refused: {str(error)[:40]}]"]
    missed = int(whole.over().sum())
    short = int((whole.highest() > few.highest()[at] * (1.0 + 1e-9)).sum())
    words = ["never over" if open_.size == samples else "now and then over", *(["some use is short"] if short else [])]
    wrong = [
        f"{missed} of {at.size} over after all, {samples - open_.size} of {samples} by few rows ({', '.join(keys)})"
    ]
    return [*(f"[{one}]" for one in words), *(wrong if missed else [])]


def main() -> int:
    """Print what is understated; 1 where anything is."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--rigs", type=int, default=200)
    options.add_argument("--samples", type=int, default=2000)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--minutes", type=float, default=1e6)
    options.add_argument("--looked", type=int, help="samples that are looked at in every row; all where not said")
    options.add_argument("--log", type=Path, help="a line for each rig; those that have one are not run again")
    asked = options.parse_args()
    done = (
        {line.split(":")[0] for line in asked.log.read_text().splitlines()} if asked.log and asked.log.exists() else {}
    )
    begun, count = time.monotonic(), dict[str, int]()
    rigs = wrong = 0
    for number in range(asked.first, asked.first + asked.rigs):
        if time.monotonic() - begun > 60.0 * asked.minutes:
            break
        if str(number) in done:
            continue
        took = time.process_time()
        if asked.looked:
            found = over_after_all(str(number), samples=asked.samples, looked=asked.looked)
        else:
            found = understated(str(number), samples=asked.samples)
        took = time.process_time() - took
        if asked.log:
            with asked.log.open("a", encoding="utf-8") as file:
                file.write(f"{number}: {'; '.join(found)} ({took:.1f} s)\n")
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

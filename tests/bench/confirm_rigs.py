"""Draw rigs by lot and confirm each by a space frame, as `check --confirm` does; none may end in 70.

    python -m tests.bench.confirm_rigs
    python -m tests.bench.confirm_rigs --rigs 60 --first 1000 --minutes 3

What a frame cannot follow, far out of proportion, is counted apart: the command then says that nothing is confirmed.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from tests.support.extreme_rigs import extreme_case, toml_of
from tests.support.lot import call

OUR_BUG = 70


def confirmed(seed: int | str, *, folder: Path) -> tuple[str, str]:
    """What became of one rig in a word, and what was said where it ended in 70."""
    file = folder / "rig.toml"
    file.write_text(toml_of(extreme_case(Random(seed))), encoding="utf-8")
    code, out, told = call("check", str(file), "--confirm", "--json")
    if code == OUR_BUG:
        return "differs", told.strip()
    if code == 2:
        return "refused", ""
    found = json.loads(out)["confirm"]
    if found["agrees"]:
        return "agrees", ""
    return ("no frame" if "none could be had" in found["text"] else "nothing hangs"), found["text"]


def main() -> int:
    """Print what became of the rigs; 1 where one differs."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--rigs", type=int, default=200)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--minutes", type=float, default=10.0)
    given = options.parse_args()
    started, count = time.monotonic(), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(given.first, given.first + given.rigs):
            if time.monotonic() - started > 60.0 * given.minutes:
                print(f"stopped after {given.minutes:g} minutes")
                break
            word, told = confirmed(seed, folder=Path(folder))
            count[word] += 1
            if word in ("differs", "no frame"):
                print(f"seed {seed}: {word}: {told}", flush=True)
    print(f"{count.total()} rigs in {time.monotonic() - started:.0f} s:", dict(count))
    return 1 if count["differs"] else 0


if __name__ == "__main__":
    sys.exit(main())

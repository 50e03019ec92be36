"""Draw many rigs by lot and run each through the commands; says which seeds went wrong, and how.

    python -m tests.bench.many_rigs --count 10000
    python -m tests.bench.many_rigs --start 4711 --count 1 --command check --command "length --points 9"

Every rig goes through check, fold and haul, for people and for machines; every tenth through the slower commands as
well, of which `length` takes as long as thirty checks. A seed gives the same rig on every machine.
"""

import argparse
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from tests.extreme_rigs import extreme_case
from tests.lot import run_whole

EVERY = ("check", "fold", "haul")
SOME = ("length --points 9", "working", "card", "proof", "spread --samples 10")
WIDTHS = (60, 80, 120)


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--start", type=int, default=0, help="first seed")
    parser.add_argument("--count", type=int, default=10_000, help="how many rigs")
    parser.add_argument("--command", action="append", help="a command to run instead; again for each")
    parser.add_argument("--tenth", type=int, default=10, help="how many rigs apart the slower commands run")
    given = parser.parse_args(arguments)
    begun, wrong = time.monotonic(), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(given.start, given.start + given.count):
            commands = given.command or (EVERY + SOME if seed % given.tenth == 0 else EVERY)
            data = extreme_case(Random(f"single {seed}"))
            for one in run_whole(data, folder=Path(folder), commands=commands, width=WIDTHS[seed % len(WIDTHS)]):
                wrong[one] += 1
                print(f"seed {seed}: {one}", flush=True)
            if seed % 500 == 499:
                print(f"{seed + 1 - given.start} rigs, {time.monotonic() - begun:.0f} s", flush=True)
    print(f"{given.count} rigs in {time.monotonic() - begun:.0f} s, {sum(wrong.values())} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

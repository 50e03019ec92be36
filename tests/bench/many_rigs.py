"""Draw many rigs by lot and run each through check, fold, haul and length; says which seeds went wrong, and how.

    python -m tests.bench.many_rigs --count 10000 --log rigs.log
    python -m tests.bench.many_rigs --start 4711 --count 1 --command check --command working

Every rig goes through every command, for people and for machines; a seed gives the same rig on every machine. With a
log, seeds that it has as fine are not run again: a run that was stopped goes on, and one that found something runs only
that again. `length` scans the fewest values that it takes, and draws in the ends of what passes as it always does. The
check of every twentieth rig also looks for what would cure it, which takes longer than all else together.
"""

import argparse
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from tests.support.extreme_rigs import extreme_case
from tests.support.lot import run_once

COMMANDS = ("check", "fold", "haul", "length --points 5")
WIDTHS = (60, 80, 120)
FINE = "fine"


def fine_in(log: Path | None) -> set[int]:
    """Seeds that a log has as fine, whatever it said of them before."""
    if log is None or not log.exists():
        return set()
    told = dict(line.split(": ", 1) for line in log.read_text(encoding="utf-8").splitlines() if ": " in line)
    return {int(seed) for seed, what in told.items() if what == FINE}


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--start", type=int, default=0, help="first seed")
    parser.add_argument("--count", type=int, default=10_000, help="how many rigs")
    parser.add_argument("--command", action="append", help="a command to run instead; again for each")
    parser.add_argument("--log", type=Path, help="where to keep which seeds were fine, and to go on from")
    parser.add_argument("--cures", type=int, default=20, help="how many rigs apart a check looks for what cures them")
    given = parser.parse_args(arguments)
    done, begun, wrong = fine_in(given.log), time.monotonic(), Counter[str]()
    seeds = [seed for seed in range(given.start, given.start + given.count) if seed not in done]
    with tempfile.TemporaryDirectory() as folder:
        for number, seed in enumerate(seeds, start=1):
            try:
                data = extreme_case(Random(f"single {seed}"))
                width = WIDTHS[seed % len(WIDTHS)]
                commands, cures = given.command or COMMANDS, seed % given.cures == 0
                found = run_once(data, folder=Path(folder), commands=commands, width=width, cures=cures)
            except Exception as error:
                found = [f"{type(error).__name__}: {error}"]
            wrong.update(found)
            for one in found:
                print(f"seed {seed}: {one}", flush=True)
            if given.log:
                with given.log.open("a", encoding="utf-8") as file:
                    file.write("".join(f"{seed}: {' '.join(one.split())}\n" for one in found) or f"{seed}: {FINE}\n")
            if number % 500 == 0:
                print(f"{number} of {len(seeds)} rigs, {time.monotonic() - begun:.0f} s", flush=True)
    took = time.monotonic() - begun
    print(
        f"{len(seeds)} rigs in {took:.0f} s, {time.process_time():.0f} s of them working; {sum(wrong.values())} wrong"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

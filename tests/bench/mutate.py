"""Put single faults into a module, one at a time, and see whether a test turns red.

    nice python -m tests.bench.covering --record /tmp/covering.json
    nice python -m tests.bench.mutate --record /tmp/covering.json --log /tmp/mutation.jsonl rigcheck/strength
    nice python -m tests.bench.mutate --record /tmp/covering.json --log /tmp/faults.jsonl --faults --sample 600 \
        --seed 7 --minutes 30 rigcheck
    python -m tests.bench.mutate --log /tmp/mutation.jsonl --write
    python -m tests.bench.mutate --log /tmp/faults.jsonl --faults --sample 600 --seed 7 --write rigcheck

A fault is a numeric constant moved by one percent, or, with `--faults`, of any kind in tests/bench/faults.py: a sign,
the larger for the smaller, `and` for `or`, a comparison turned round, a term or an entry of a list left out, the wrong
index or side, a finding that is not added, the wrong unit.

First tests/bench/covering.py records which test runs which line. A fault is then tried in a forked process on the tests
that run its line, nearest and quickest first, until one is red (tests/bench/trying.py); one that no test runs is alive
at once, and so is one whose processor time is up. A test that is ended by a fault, as by a loop without end, counts as
red. **Frozen outputs and pages held to what wrote them never count: that a hash changes says nothing about right and
wrong.** Nor do lint and types, nor tests that are red with no fault. The work is done on a copy in a temporary
directory; the checkout is never touched.

One run per log. A run that is broken off, or whose minutes are up, is taken up again from its log. `--sample` makes so
many faults, drawn by the seed over all modules named, each kind in its turn, in the order of the draw, so that what was
made is a fair draw even where the minutes ran out. `--named` takes those that were set by hand in
tests/bench/named_faults.toml. `--again` tries only those that the log has alive, after tests were added.

`--write` puts the modules of the log, or of several put together, whose constants were all moved into
tests/outside/data/mutation.toml, from which docs/verification.md is written, and leaves those of other modules there;
every survivor needs its reason in tests/outside/data/survivors.toml, by module and text of its line. `--write` with
`--sample` or `--named` writes what was made of that draw, and of how many, into tests/outside/data/samples.toml.
`--stale` names the modules that have changed since.

Left alone: whole numbers that are not part of arithmetic (axes, counts), exponents, 0, and numbers under 1e-5 or over
1e5 that guard a division or a comparison (E and the like are not guards and are named in tests/bench/faults.py).
"""

import argparse
import hashlib
import json
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, zip_longest
from pathlib import Path
from random import Random

from tests.bench import faults, trying
from tests.bench.covering import Record, merged
from tests.bench.faults import KINDS, Spot

TOP = Path(__file__).parents[2]
DATA = TOP / "tests" / "outside" / "data" / "mutation.toml"
NAMED = Path(__file__).with_name("named_faults.toml")
SAMPLES = DATA.with_name("samples.toml")
REASONS = DATA.with_name("survivors.toml")


def spots(module: str, *, tree: Path = TOP, kinds: tuple[str, ...] = ("constant",)) -> Iterator[Spot]:
    """Yield the faults of some kinds that a module can have."""
    return faults.spots(module, tree=tree, kinds=kinds)


def _hash(module: str, *, tree: Path = TOP) -> str:
    return hashlib.sha256((tree / module).read_bytes()).hexdigest()[:12]


def _key(spot: Spot, *, tree: Path) -> str:
    place = f"{spot.module}:{_hash(spot.module, tree=tree)}:{spot.line}:{spot.column}"
    return place if spot.kind == "constant" else f"{place}:{spot.kind}:{spot.put}"


def _read(log: Path) -> dict[str, dict[str, object]]:
    if not log.exists():
        return {}
    rows = (json.loads(line) for line in log.read_text(encoding="utf-8").splitlines() if line.strip())
    return {str(row["key"]): row for row in rows}


@dataclass(frozen=True)
class Draw:
    """Which faults are to be tried.

    Attributes:
        paths: Modules and directories.
        kinds: Kinds of faults.
        sample: How many of them, drawn over all modules; all where 0.
        seed: Of the draw.
        by_hand: Those of tests/bench/named_faults.toml instead.
        within: Of the draw, only those of these modules and directories; all of it where empty.
    """

    paths: tuple[str, ...]
    kinds: tuple[str, ...] = ("constant",)
    sample: int = 0
    seed: int = 0
    by_hand: bool = False
    within: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What the page calls it."""
        if self.by_hand:
            return "set by hand (any fault)"
        return ", ".join(sorted(self.within or self.paths)) + (
            " (constants)" if self.kinds == ("constant",) else " (any fault)"
        )

    def every(self, tree: Path) -> list[Spot]:
        """All of which it is drawn, or could have been within."""
        return self._kept(self._all(tree))

    def chosen(self, tree: Path) -> list[Spot]:
        """Those drawn, in the order of the draw."""
        return self._kept(drawn(self._all(tree), sample=0 if self.by_hand else self.sample, seed=self.seed))

    def _all(self, tree: Path) -> list[Spot]:
        if self.by_hand:
            return faults.named(NAMED, tree=tree)
        return [spot for module in modules_of(self.paths) for spot in spots(module, tree=tree, kinds=self.kinds)]

    def _kept(self, some: list[Spot]) -> list[Spot]:
        return [spot for spot in some if not self.within or spot.module.startswith(self.within)]


def run(draw: Draw, *, log: Path, record: Record, minutes: float, cap: float, again: bool = False) -> int:
    """Try the faults that the log does not know yet; return how many survive.

    Args:
        draw: Which.
        log: Where the rows are kept.
        record: Which test runs which line.
        minutes: Stop after so long.
        cap: Processor time for one of them. [s]
        again: Try those again that the log has alive, and no others.
    """
    end = time.monotonic() + 60.0 * minutes
    known = _read(log)
    left = 0
    with tempfile.TemporaryDirectory() as holder:
        tree = Path(holder).resolve()
        trying.copy(tree, top=TOP)
        rows = {_key(spot, tree=tree): spot for spot in draw.chosen(tree)}
        bench = trying.Bench(tree, record=record)
        for key, spot in rows.items():
            if not (key in known and known[key]["survives"]) if again else key in known:
                continue
            if time.monotonic() > end:
                print("the minutes are up; run it again to go on", flush=True)
                break
            outcome = bench.attempt(spot, cap=cap)
            left += outcome.alive
            row = {"key": key, "module": spot.module, "line": spot.line, "value": spot.value, "kind": spot.kind}
            row |= {"put": spot.put, "text": spot.text, "survives": outcome.alive, **vars(outcome)}
            with log.open("a", encoding="utf-8") as file:
                file.write(json.dumps(row) + "\n")
            if outcome.alive:
                print(f"{spot.module}:{spot.line}: {spot.kind}, {spot.put} survives in: {spot.text}", flush=True)
        bench.close()
    return left


def drawn(every: list[Spot], *, sample: int, seed: int) -> list[Spot]:
    """Faults drawn by lot, each kind in its turn, in the order of the draw; all of them where `sample` is 0."""
    if not sample:
        return every
    lot = Random(seed)
    decks = [[spot for spot in every if spot.kind == kind] for kind in KINDS]
    shuffled = [lot.sample(deck, len(deck)) for deck in decks if deck]
    in_turn = (spot for turn in zip_longest(*shuffled) for spot in turn if spot is not None)
    return list(islice(in_turn, sample))


def modules_of(paths: Sequence[str]) -> list[str]:
    """Modules under some paths."""
    return sorted(
        str(file.relative_to(TOP))
        for path in paths
        for file in ([TOP / path] if path.endswith(".py") else (TOP / path).rglob("*.py"))
    )


def reasons() -> dict[tuple[str, str, float | str], str]:
    """Why a fault may stand without a test turning red, by module, text of its line and value or kind."""
    rows = tomllib.loads(REASONS.read_text(encoding="utf-8"))["survivor"]
    values = {(row["module"], row["text"], float(value)): row["why"] for row in rows for value in row.get("values", ())}
    return values | {(row["module"], row["text"], kind): row["why"] for row in rows for kind in row.get("kinds", ())}


def write(log: Path) -> None:
    """Write the rows of each module whose constants were all moved for the verification page, and keep the others.

    Raises:
        LookupError: A survivor has no reason.
    """
    why = reasons()
    rows: dict[str, list[dict[str, object]]] = {}
    for row in _read(log).values():
        module = str(row["module"])
        if (TOP / module).exists() and str(row["key"]).split(":")[1] == _hash(module):
            rows.setdefault(module, []).append(row)
    blocks = {one["module"]: _block(one) for one in tomllib.loads(DATA.read_text(encoding="utf-8"))["mutation"]}
    blocks = {module: block for module, block in blocks.items() if (TOP / module).exists()}
    for module, found in sorted(rows.items()):
        if len(found) < len(list(spots(module))):
            continue
        blocks[module] = _block({"module": module, "state": _hash(module), **_counted(found, why=why)})
    DATA.write_text("\n".join(block for _, block in sorted(blocks.items())), encoding="utf-8")


def _counted(found: list[dict[str, object]], *, why: dict[tuple[str, str, float | str], str]) -> dict[str, str]:
    """How many constants were moved and caught, and the survivors, each with its reason.

    Raises:
        LookupError: A survivor has no reason.
    """
    alive = [row for row in found if row["survives"]]
    modules = {str(row["module"]) for row in found}
    told: dict[str, list[str]] = {}
    for row in sorted(alive, key=lambda row: (str(row["module"]), int(str(row["line"])))):
        module = str(row["module"])
        kind = str(row.get("kind", "constant"))
        moved = float(str(row["value"])) if kind == "constant" else kind
        key = (module, str(row["text"]), moved)
        if key not in why:
            raise LookupError(f"{module}:{row['line']}: {moved} has no reason: {row['text']}")
        place = f"line {row['line']}, {moved if isinstance(moved, str) else format(moved, 'g')}"
        told.setdefault(why[key], []).append(place if len(modules) == 1 else f"{module.split('/')[-1]} {place}")
    names = "; ".join(f"{', '.join(places)}: {reason}" for reason, places in told.items()) or "none"
    return {"changed": str(len(found)), "caught": str(len(found) - len(alive)), "survivors": names}


def write_sample(log: Path, *, draw: Draw) -> None:
    """Write what was made of one draw for the verification page, in place of the last draw of the same paths.

    Raises:
        LookupError: A survivor has no reason.
    """
    every, log_rows = draw.every(TOP), _read(log)
    keys = [_key(spot, tree=TOP) for spot in draw.chosen(TOP)]
    found = [log_rows[key] for key in keys if key in log_rows]
    states = sorted({f"{spot.module}:{_hash(spot.module)}" for spot in every})
    row = {"rooms": draw.name, "state": hashlib.sha256("\n".join(states).encode()).hexdigest()[:12]}
    row |= {"seed": str(draw.seed), "of": str(len(every)), **_counted(found, why=reasons())}
    before = tomllib.loads(SAMPLES.read_text(encoding="utf-8"))["sample"] if SAMPLES.exists() else []
    rows = {**{one["rooms"]: one for one in before}, draw.name: row}
    SAMPLES.write_text("\n".join(_block(rows[one], of="sample") for one in sorted(rows)), encoding="utf-8")


def _block(row: dict[str, str], *, of: str = "mutation") -> str:
    first = ("module", "state") if of == "mutation" else ("rooms", "state", "seed", "of")
    return f"[[{of}]]\n" + "".join(f'{key} = "{row[key]}"\n' for key in (*first, "changed", "caught", "survivors"))


def stale(paths: list[str]) -> list[str]:
    """Modules with constants whose state is not the one that was run last."""
    rows = tomllib.loads(DATA.read_text(encoding="utf-8"))["mutation"]
    run_last = {row["module"]: row["state"] for row in rows}
    return [one for one in modules_of(paths) if any(spots(one)) and run_last.get(one) != _hash(one)]


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Do the tests notice a single fault?")
    parser.add_argument("paths", nargs="*", default=["rigcheck/strength", "rigcheck/statics"])
    parser.add_argument("--log", type=Path)
    parser.add_argument("--faults", action="store_true", help="faults of every kind, not only constants")
    parser.add_argument("--record", type=Path, nargs="+", help="which test runs which line, from tests.bench.covering")
    parser.add_argument("--again", action="store_true", help="try only those that the log has alive")
    parser.add_argument("--sample", type=int, default=0, help="make so many, drawn by lot; all where 0")
    parser.add_argument("--seed", type=int, default=0, help="of the draw")
    parser.add_argument("--within", nargs="+", default=[], help="of the draw, only what lies in these")
    parser.add_argument("--named", action="store_true", help="those of tests/bench/named_faults.toml")
    parser.add_argument("--cap", type=float, default=trying.CAP, help="processor time for one fault, in seconds")
    parser.add_argument("--minutes", type=float, default=1.0e6, help="stop after so long")
    parser.add_argument("--stale", action="store_true", help="name the modules that have changed since and stop")
    parser.add_argument("--write", action="store_true", help="write the page's data from the log and stop")
    chosen = parser.parse_args()
    if chosen.stale:
        print("\n".join(found := stale(chosen.paths)) or "none")
        return 1 if found else 0
    if chosen.log is None:
        parser.error("--log says where the rows are kept")
    kinds = KINDS if chosen.faults else ("constant",)
    draw = Draw(
        tuple(chosen.paths), kinds=kinds, sample=chosen.sample, seed=chosen.seed, by_hand=chosen.named,
        within=tuple(chosen.within),
    )  # fmt: skip
    if chosen.write:
        if chosen.sample or chosen.named:
            write_sample(chosen.log, draw=draw)
        else:
            write(chosen.log)
        return 0
    if chosen.record is None:
        parser.error("--record says which test runs which line; python -m tests.bench.covering writes it")
    record, bounds = merged(chosen.record), {"minutes": chosen.minutes, "cap": chosen.cap}
    return 1 if run(draw, log=chosen.log, record=record, again=chosen.again, **bounds) else 0


if __name__ == "__main__":
    sys.exit(main())

"""Put single faults into a module, one at a time, and see whether a test turns red.

    nice python -m tests.bench.mutate --log /tmp/mutation.jsonl rigcheck/strength rigcheck/statics
    nice python -m tests.bench.mutate --log /tmp/faults.jsonl --faults --sample 600 --seed 7 --minutes 30 rigcheck
    python -m tests.bench.mutate --log /tmp/mutation.jsonl --write
    python -m tests.bench.mutate --log /tmp/faults.jsonl --faults --sample 600 --seed 7 --write rigcheck

A fault is a numeric constant moved by one percent, or, with `--faults`, of any kind in tests/bench/faults.py: a sign,
the larger for the smaller, `and` for `or`, a comparison turned round, a term or an entry of a list left out, the wrong
index or side, a finding that is not added, the wrong unit.

The work is done on a copy of the package and its tests in a temporary directory; the checkout is never touched. One run
per log. A run that is broken off, or whose minutes are up, is taken up again from its log. `--sample` makes so many
faults, drawn by the seed over all modules named, each kind in its turn, in the order of the draw, so that what was made
is a fair draw even where the minutes ran out. Tests that are red before anything is moved are left out, and named.
`--write` puts the modules of the log, or of several put together, whose constants were all moved into
tests/outside/data/mutation.toml, from which docs/verification.md is written, and leaves those of other modules there;
every survivor needs its reason in tests/outside/data/survivors.toml, by module and text of its line. `--write` with
`--sample` writes what was made of that draw, and of how many, into tests/outside/data/samples.toml. `--stale` names the
modules that have changed since.

Which tests: those named after the module, then those that import it, then, for strength and statics, the rest of their
room, for the other rooms what is quick and looks at all of it, and at last all tests that are marked quick.

Left alone: whole numbers that are not part of arithmetic (axes, counts), exponents, 0, and numbers under 1e-5 or over
1e5 that guard a division or a comparison (E and the like are not guards and are named in tests/bench/faults.py).
"""

import argparse
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterator
from functools import cache
from itertools import islice, zip_longest
from pathlib import Path
from random import Random

from tests.bench import faults
from tests.bench.faults import KINDS, Spot, with_fault

TOP = Path(__file__).parents[2]
DATA = TOP / "tests" / "outside" / "data" / "mutation.toml"
SAMPLES = DATA.with_name("samples.toml")
REASONS = DATA.with_name("survivors.toml")
EXTRA = {
    "strength": [f"tests/outside/test_{name}.py" for name in ("aisc", "welds", "bth1", "faces")],
    "statics": [
        f"tests/outside/test_{name}.py"
        for name in ("beam_tables", "fold", "posts", "rigs_by_hand", "propped_frames", "frames_3d", "rail_beams")
    ],
    "analysis": ["tests/outside/test_rigs_by_hand.py", "tests/parts/test_hung_findings.py"],
    "parts": ["tests/outside/test_rigs_by_hand.py", "tests/parts/test_hung_findings.py"],
    "loads": ["tests/outside/test_hydraulics.py", "tests/loads/test_contents.py", "tests/loads/test_states.py"],
}
"""Quick tests of a room beside its own directory, tried only when that has nothing to say."""
WHOLE = ("strength", "statics")
"""Rooms whose own tests are quick enough to be tried altogether."""
OWN = {
    "analysis/across.py": ["parts/test_members.py", "parts/test_roll.py"],
    "analysis/bending.py": ["parts/test_members.py", "analysis/test_solve_balance.py"],
    "analysis/links/rating.py": ["analysis/test_links.py"],
    "analysis/links/rope.py": ["analysis/test_links.py"],
    "analysis/links/ways.py": ["analysis/test_links.py"],
    "analysis/lost.py": ["analysis/test_solve_balance.py", "parts/test_lines.py"],
    "analysis/road.py": ["analysis/test_folded.py", "analysis/test_road_cases.py"],
    "arrays/guarded.py": [
        "strength/test_plates.py",
        "strength/test_welds.py",
        "strength/test_chord.py",
        "strength/test_flexure.py",
    ],
    "crosscheck/braced_post.py": ["statics/test_post.py"],
    "loads/contents.py": ["loads/test_contents.py", "loads/test_states.py"],
    "loads/lost.py": ["analysis/test_solve_balance.py"],
    "loads/measured.py": ["studies/test_field_measured.py"],
    "loads/moving.py": ["loads/test_hung_states.py", "loads/test_states.py"],
    "loads/steel.py": ["loads/test_contents.py", "loads/test_states.py"],
    "parts/cross_member/welds.py": ["parts/test_members.py"],
    "parts/line/checks.py": ["parts/test_hung_findings.py", "parts/test_lines.py"],
    "parts/line/geometry.py": ["parts/test_hung_findings.py"],
    "statics/balance.py": ["statics/test_limp.py", "statics/test_balance.py"],
    "statics/deflection.py": ["statics/test_limp.py", "statics/test_rail.py"],
    "statics/pair.py": ["statics/test_grillage.py", "statics/test_limp.py"],
    "statics/post.py": ["statics/test_post_energy.py", "statics/test_post.py"],
    "strength/bases.py": ["strength/test_pins.py", "strength/test_connections.py"],
    "strength/connections/bth1.py": ["strength/test_bth1.py"],
    "strength/connections/lugs.py": ["strength/test_connections.py"],
    "strength/connections/weld_lines.py": ["strength/test_welds.py"],
}
"""Test files of a module that are not called after it."""


def spots(module: str, *, tree: Path = TOP, kinds: tuple[str, ...] = ("constant",)) -> Iterator[Spot]:
    """Yield the faults of some kinds that a module can have."""
    return faults.spots(module, tree=tree, kinds=kinds)


def tests_of(module: str, *, tree: Path) -> list[list[str]]:
    """Return the test sets to try, quickest first."""
    room, name = module.split("/")[1], module.split("/")[-1]
    inside = "/".join(module.split("/")[1:])
    folder = module.split("/")[-2]
    own = [f"tests/{file}" for file in OWN.get(inside, [f"{room}/test_{name}", f"{room}/test_{folder}.py"])]
    own = [file for file in own if (tree / file).exists()]
    if room in WHOLE:
        near = sorted(str(file.relative_to(tree)) for file in (tree / "tests" / room).glob("test_*.py"))
    else:
        near = [file for file in _importing(module, tree=tree) if file not in own]
    rest = [file for file in [*near, *EXTRA.get(room, [])] if (tree / file).exists() and file not in own]
    if room in WHOLE:
        return [chosen for chosen in (own, rest) if chosen]
    last = [file for file in rest if file not in near]
    return [chosen for chosen in (own, near, last, ["-m", "quick", "tests"]) if chosen]


@cache
def _importing(module: str, *, tree: Path) -> tuple[str, ...]:
    """Test files that import a module; those of the studies, which are slow, for modules of the studies alone."""
    dotted = module.removesuffix(".py").replace("/", ".")
    package, name = dotted.rsplit(".", 1)
    line = re.compile(rf"^(?:from {re.escape(dotted)} import |from {re.escape(package)} import .*\b{name}\b)", re.M)
    slow = () if "/studies/" in module or "/output/" in module else ("studies", "output")
    files = (file for file in (tree / "tests").rglob("test_*.py") if file.parent.name not in slow)
    return tuple(sorted(str(one.relative_to(tree)) for one in files if line.search(one.read_text(encoding="utf-8"))))


def survives(spot: Spot, *, tree: Path, still: Path, red: set[str]) -> bool:
    """Put one fault into the copy, run the tests, take it out; `red` gathers tests that are red in the other copy."""
    path = tree / spot.module
    source = path.read_text(encoding="utf-8")
    path.write_text(with_fault(source, spot), encoding="utf-8")
    try:
        return all(_green(chosen, tree=tree, still=still, red=red) for chosen in tests_of(spot.module, tree=tree))
    finally:
        path.write_text(source, encoding="utf-8")


def _pytest(chosen: list[str], *options: str, tree: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-B", "-m", "pytest", "-q", "-p", "no:cacheprovider", "--hypothesis-seed=0", *options]
    environment = dict(os.environ, PYTHONPATH=str(tree))
    return subprocess.run([*command, *chosen], cwd=tree, env=environment, capture_output=True, text=True, check=False)


def _green(chosen: list[str], *, tree: Path, still: Path, red: set[str]) -> bool:
    """Run one test set in the copy without what is red anyway; where nothing is left of it, it says nothing."""
    nothing_collected = 5
    while True:
        left_out = [word for test in sorted(red) for word in ("--deselect", test)]
        done = _pytest(chosen, "-x", "-rfE", "--tb=no", *left_out, tree=tree)
        if done.returncode in (0, nothing_collected):
            return True
        failed = re.findall(r"^(?:FAILED|ERROR) (\S+?(?:\[.*?\])?)(?= - |$)", done.stdout, re.M)
        before = {test for test in failed if _red(test, still=still)} - red
        if not before:
            return False
        red |= before


@cache
def _red(test: str, *, still: Path) -> bool:
    """Whether a test is red with nothing moved."""
    return _pytest([test], tree=still).returncode in (1, 2)


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


def _copy(tree: Path, *, committed: bool) -> None:
    """Put a copy of the package and its tests into a directory: as it stands, or as it was committed last."""
    if committed:
        tree.mkdir()
        packed = subprocess.run(["git", "archive", "HEAD"], cwd=TOP, capture_output=True, check=True).stdout
        subprocess.run(["tar", "-x"], cwd=tree, input=packed, check=True)
        return
    for name in ("rigcheck", "tests"):
        shutil.copytree(TOP / name, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "docs", "cases", "README.md"):
        if (TOP / name).is_dir():
            shutil.copytree(TOP / name, tree / name)
        elif (TOP / name).exists():
            shutil.copy(TOP / name, tree / name)


def run(
    paths: list[str],
    *,
    log: Path,
    committed: bool = False,
    sample: int = 0,
    seed: int = 0,
    minutes: float = 1.0e6,
    kinds: tuple[str, ...] = ("constant",),
) -> int:
    """Try the faults under the paths that the log does not know yet; return how many survive.

    Args:
        paths: Modules and directories.
        log: Where the rows are kept.
        committed: Put them into the last commit.
        sample: How many of them, drawn over all modules; all where 0.
        seed: Of the draw.
        minutes: Stop after so long.
        kinds: Kinds of faults.
    """
    end = time.monotonic() + 60.0 * minutes
    modules = modules_of(paths)
    known = _read(log)
    left = 0
    with tempfile.TemporaryDirectory() as holder:
        tree, still = Path(holder) / "copy", Path(holder) / "still"
        _copy(tree, committed=committed)
        shutil.copytree(tree, still)
        red: set[str] = set()
        every = [
            spot for module in modules if (tree / module).exists() for spot in spots(module, tree=tree, kinds=kinds)
        ]
        chosen = drawn(every, sample=sample, seed=seed)
        for spot in (one for one in chosen if _key(one, tree=tree) not in known):
            if time.monotonic() > end:
                print("the minutes are up; run it again to go on", flush=True)
                break
            alive = survives(spot, tree=tree, still=still, red=red)
            left += alive
            row = {"key": _key(spot, tree=tree), "module": spot.module, "line": spot.line, "value": spot.value}
            row |= {"kind": spot.kind, "put": spot.put, "text": spot.text}
            row |= {"survives": alive, "left_out": sorted(red)}
            with log.open("a", encoding="utf-8") as file:
                file.write(json.dumps(row) + "\n")
            if alive:
                print(f"{spot.module}:{spot.line}: {spot.kind}, {spot.put} survives in: {spot.text}", flush=True)
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


def modules_of(paths: list[str]) -> list[str]:
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


def write_sample(log: Path, *, paths: list[str], sample: int, seed: int, kinds: tuple[str, ...]) -> None:
    """Write what was made of one draw for the verification page, in place of the last draw of the same paths.

    Raises:
        LookupError: A survivor has no reason.
    """
    every = [spot for module in modules_of(paths) for spot in spots(module, kinds=kinds)]
    log_rows = _read(log)
    keys = [_key(spot, tree=TOP) for spot in drawn(every, sample=sample, seed=seed)]
    found = [log_rows[key] for key in keys if key in log_rows]
    states = sorted({f"{spot.module}:{_hash(spot.module)}" for spot in every})
    name = ", ".join(sorted(paths)) + (" (constants)" if kinds == ("constant",) else " (any fault)")
    row = {"rooms": name, "state": hashlib.sha256("\n".join(states).encode()).hexdigest()[:12], "seed": str(seed)}
    row |= {"of": str(len(every)), **_counted(found, why=reasons())}
    before = tomllib.loads(SAMPLES.read_text(encoding="utf-8"))["sample"] if SAMPLES.exists() else []
    rows = {**{one["rooms"]: one for one in before}, name: row}
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
    parser.add_argument("--committed", action="store_true", help="put them into the last commit, not the checkout")
    parser.add_argument("--sample", type=int, default=0, help="make so many, drawn by lot; all where 0")
    parser.add_argument("--seed", type=int, default=0, help="of the draw")
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
    if chosen.write and chosen.sample:
        write_sample(chosen.log, paths=chosen.paths, sample=chosen.sample, seed=chosen.seed, kinds=kinds)
        return 0
    if chosen.write:
        write(chosen.log)
        return 0
    bounds = {"sample": chosen.sample, "seed": chosen.seed, "minutes": chosen.minutes}
    return 1 if run(chosen.paths, log=chosen.log, committed=chosen.committed, kinds=kinds, **bounds) else 0


if __name__ == "__main__":
    sys.exit(main())

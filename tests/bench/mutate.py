"""Move every numeric constant of a module by one percent, one at a time, and see whether a test turns red.

    python -m tests.bench.mutate --log /tmp/mutation.jsonl rigcheck/strength rigcheck/statics
    python -m tests.bench.mutate --log /tmp/mutation.jsonl --write

The work is done on a copy of the package and its tests in a temporary directory; the checkout is never touched. One run
per log. A run that is broken off is taken up again from its log. `--write` turns the log, or several put together,
into tests/outside/data/mutation.toml, from which docs/verification.md is written; every survivor needs its reason in
tests/outside/data/survivors.toml, by module and text of its line. `--stale` names the modules that have changed since.

Left alone: whole numbers that are not part of arithmetic (indices, axes, counts), exponents, 0, and numbers under 1e-5
or over 1e5 that guard a division or a comparison (E and the like are not guards and are named below).
"""

import argparse
import ast
import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

TOP = Path(__file__).parents[2]
DATA = TOP / "tests" / "outside" / "data" / "mutation.toml"
REASONS = DATA.with_name("survivors.toml")
PHYSICS = {29.0e6, 11.2e6}
"""Large numbers that are physics and not guards."""
EXTRA = {
    "strength": ["tests/outside/test_aisc.py", "tests/outside/test_welds.py", "tests/outside/test_bth1.py"],
    "statics": [
        f"tests/outside/test_{name}.py"
        for name in ("beam_tables", "fold", "posts", "rigs_by_hand", "propped_frames", "frames_3d", "rail_beams")
    ],
}
"""Quick tests of a room beside its own directory, tried only when that has nothing to say."""
OWN = {
    "strength/arrays.py": ["test_plates.py", "test_welds.py", "test_chord.py", "test_flexure.py"],
    "strength/bases.py": ["test_pins.py", "test_connections.py"],
    "strength/bth1.py": ["test_bth1.py"],
    "strength/link_rating.py": ["test_links.py"],
    "strength/lugs.py": ["test_connections.py"],
    "strength/weld_lines.py": ["test_welds.py"],
    "statics/balance.py": ["test_limp.py", "test_balance.py"],
    "statics/braced_post.py": ["test_post.py"],
    "statics/deflection.py": ["test_limp.py", "test_rail.py"],
    "statics/post.py": ["test_post_energy.py", "test_post.py"],
}
"""Test files of a module that are not called after it."""


@dataclass(frozen=True)
class Spot:
    """One constant: where it is and what it is."""

    module: str
    line: int
    column: int
    end: int
    value: float
    text: str


def spots(module: str, *, tree: Path = TOP) -> Iterator[Spot]:
    """Yield the constants of a module that are worth moving."""
    source = (tree / module).read_text(encoding="utf-8")
    lines = source.splitlines()
    parsed = ast.parse(source)
    parents = {child: node for node in ast.walk(parsed) for child in ast.iter_child_nodes(node)}
    for node in ast.walk(parsed):
        if not isinstance(node, ast.Constant) or isinstance(node.value, bool):
            continue
        if not isinstance(node.value, int | float) or not _counts(node, parents):
            continue
        yield Spot(
            module=module,
            line=node.lineno,
            column=node.col_offset,
            end=node.end_col_offset or 0,
            value=float(node.value),
            text=lines[node.lineno - 1].strip(),
        )


def _counts(node: ast.Constant, parents: dict[ast.AST, ast.AST]) -> bool:
    """Tell whether moving this constant would change an answer."""
    parent = parents[node]
    in_arithmetic = isinstance(parent, ast.BinOp)
    if in_arithmetic and isinstance(parent.op, ast.Pow) and parent.right is node:
        return False
    if isinstance(node.value, int) and not in_arithmetic:
        return False
    size = abs(float(node.value))
    return size in PHYSICS or 1.0e-5 <= size <= 1.0e5


def tests_of(module: str, *, tree: Path) -> list[list[str]]:
    """Return the test sets to try, quickest first."""
    room, name = module.split("/")[1], module.split("/")[-1]
    inside = "/".join(module.split("/")[1:])
    own = [f"tests/{room}/{file}" for file in OWN.get(inside, [f"test_{name}"])]
    own = [file for file in own if (tree / file).exists()]
    room_files = sorted(str(file.relative_to(tree)) for file in (tree / "tests" / room).glob("test_*.py"))
    rest = [file for file in [*room_files, *EXTRA.get(room, [])] if (tree / file).exists() and file not in own]
    return [chosen for chosen in (own, rest) if chosen]


def survives(spot: Spot, *, tree: Path) -> bool:
    """Move one constant in the copy, run the tests, put it back."""
    path = tree / spot.module
    source = path.read_text(encoding="utf-8")
    lines = source.splitlines(keepends=True)
    # columns count bytes of the line
    line = lines[spot.line - 1].encode()
    moved = repr(spot.value * 1.01)
    lines[spot.line - 1] = (line[: spot.column] + moved.encode() + line[spot.end :]).decode()
    path.write_text("".join(lines), encoding="utf-8")
    try:
        return all(_green(chosen, tree=tree) for chosen in tests_of(spot.module, tree=tree))
    finally:
        path.write_text(source, encoding="utf-8")


def _green(chosen: list[str], *, tree: Path) -> bool:
    """Run one test set in the copy."""
    command = [
        sys.executable,
        "-B",
        "-m",
        "pytest",
        "-x",
        "-q",
        "-p",
        "no:cacheprovider",
        "--hypothesis-seed=0",
        *chosen,
    ]
    environment = dict(os.environ, PYTHONPATH=str(tree))
    return subprocess.run(command, cwd=tree, env=environment, capture_output=True, check=False).returncode == 0


def _hash(module: str, *, tree: Path = TOP) -> str:
    return hashlib.sha256((tree / module).read_bytes()).hexdigest()[:12]


def _key(spot: Spot, *, tree: Path) -> str:
    return f"{spot.module}:{_hash(spot.module, tree=tree)}:{spot.line}:{spot.column}"


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


def run(paths: list[str], *, log: Path, committed: bool = False) -> int:
    """Try every constant under the paths that the log does not know yet; return how many survive."""
    modules = sorted(
        str(file.relative_to(TOP))
        for path in paths
        for file in ([TOP / path] if path.endswith(".py") else (TOP / path).rglob("*.py"))
    )
    known = _read(log)
    left = 0
    with tempfile.TemporaryDirectory() as holder:
        tree = Path(holder) / "copy"
        _copy(tree, committed=committed)
        for module in (one for one in modules if (tree / one).exists()):
            todo = [spot for spot in spots(module, tree=tree) if _key(spot, tree=tree) not in known]
            if todo and not all(_green(chosen, tree=tree) for chosen in tests_of(module, tree=tree)):
                print(f"{module}: its tests are red before anything is moved; left out")
                continue
            for spot in todo:
                alive = survives(spot, tree=tree)
                left += alive
                row = {"key": _key(spot, tree=tree), "module": module, "line": spot.line, "value": spot.value}
                row |= {"text": spot.text, "survives": alive}
                with log.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(row) + "\n")
                if alive:
                    print(f"{module}:{spot.line}: {spot.value:g} survives in: {spot.text}", flush=True)
    return left


def reasons() -> dict[tuple[str, str, float], str]:
    """Why a constant may move without a test turning red, by module, text of its line and value."""
    rows = tomllib.loads(REASONS.read_text(encoding="utf-8"))["survivor"]
    return {(row["module"], row["text"], float(value)): row["why"] for row in rows for value in row["values"]}


def write(log: Path) -> None:
    """Write the rows of the newest state of each module for the verification page.

    Raises:
        LookupError: A survivor has no reason.
    """
    why = reasons()
    rows: dict[str, list[dict[str, object]]] = {}
    for row in _read(log).values():
        module = str(row["module"])
        if (TOP / module).exists() and str(row["key"]).split(":")[1] == _hash(module):
            rows.setdefault(module, []).append(row)
    blocks = []
    for module, found in sorted(rows.items()):
        alive = sorted((row for row in found if row["survives"]), key=lambda row: int(str(row["line"])))
        told: dict[str, list[str]] = {}
        for row in alive:
            key = (module, str(row["text"]), float(str(row["value"])))
            if key not in why:
                raise LookupError(f"{module}:{row['line']}: {row['value']} has no reason: {row['text']}")
            told.setdefault(why[key], []).append(f"line {row['line']}, {row['value']:g}")
        names = "; ".join(f"{', '.join(places)}: {reason}" for reason, places in told.items()) or "none"
        blocks.append(
            f'[[mutation]]\nmodule = "{module}"\nstate = "{_hash(module)}"\nchanged = "{len(found)}"\n'
            f'caught = "{len(found) - len(alive)}"\nsurvivors = "{names}"\n'
        )
    DATA.write_text("\n".join(blocks), encoding="utf-8")


def stale(paths: list[str]) -> list[str]:
    """Modules with constants whose state is not the one that was run last."""
    rows = tomllib.loads(DATA.read_text(encoding="utf-8"))["mutation"]
    run_last = {row["module"]: row["state"] for row in rows}
    modules = sorted(str(file.relative_to(TOP)) for path in paths for file in (TOP / path).rglob("*.py"))
    return [one for one in modules if any(spots(one)) and run_last.get(one) != _hash(one)]


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Do the tests notice a constant that is one percent off?")
    parser.add_argument("paths", nargs="*", default=["rigcheck/strength", "rigcheck/statics"])
    parser.add_argument("--log", type=Path)
    parser.add_argument(
        "--committed", action="store_true", help="move the constants of the last commit, not of the checkout"
    )
    parser.add_argument("--stale", action="store_true", help="name the modules that have changed since and stop")
    parser.add_argument("--write", action="store_true", help="write the page's data from the log and stop")
    chosen = parser.parse_args()
    if chosen.stale:
        print("\n".join(found := stale(chosen.paths)) or "none")
        return 1 if found else 0
    if chosen.log is None:
        parser.error("--log says where the rows are kept")
    if chosen.write:
        write(chosen.log)
        return 0
    return 1 if run(chosen.paths, log=chosen.log, committed=chosen.committed) else 0


if __name__ == "__main__":
    sys.exit(main())

"""Move every numeric constant of a module by one percent, one at a time, and see whether a test turns red.

    python -m tests.bench.mutate --log /tmp/mutation.jsonl rigcheck/strength rigcheck/statics
    python -m tests.bench.mutate --log /tmp/mutation.jsonl --write

The work is done on a copy of the package and its tests in a temporary directory; the checkout is never touched. One run
at a time. A run that is broken off is taken up again from its log. `--write` turns the log into
tests/outside/data/mutation.toml, from which docs/verification.md is written.

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
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

TOP = Path(__file__).parents[2]
DATA = TOP / "tests" / "outside" / "data" / "mutation.toml"
PHYSICS = {29.0e6, 11.2e6}
"""Large numbers that are physics and not guards."""
EXTRA = {
    "strength": ["tests/outside/test_aisc.py", "tests/outside/test_welds.py", "tests/outside/test_bth1.py"],
    "statics": ["tests/outside"],
}
"""Tests of a room beside its own directory, tried only when that has nothing to say."""
OWN = {
    "strength/arrays.py": ["test_plates.py", "test_welds.py", "test_chord.py", "test_flexure.py"],
    "strength/bases.py": ["test_pins.py", "test_connections.py"],
    "strength/bth1.py": ["test_bth1.py"],
    "strength/lugs.py": ["test_connections.py"],
    "strength/weld_lines.py": ["test_welds.py"],
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
    rest = [path for path in [f"tests/{room}", *EXTRA.get(room, [])] if (tree / path).exists()]
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


def run(paths: list[str], *, log: Path) -> int:
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
        for name in ("rigcheck", "tests"):
            shutil.copytree(TOP / name, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
        for name in ("pyproject.toml", "docs", "cases", "README.md"):
            if (TOP / name).is_dir():
                shutil.copytree(TOP / name, tree / name)
            elif (TOP / name).exists():
                shutil.copy(TOP / name, tree / name)
        for module in modules:
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


def write(log: Path) -> None:
    """Write the rows of the newest state of each module for the verification page."""
    rows: dict[str, list[dict[str, object]]] = {}
    for row in _read(log).values():
        module = str(row["module"])
        if (TOP / module).exists() and str(row["key"]).split(":")[1] == _hash(module):
            rows.setdefault(module, []).append(row)
    blocks = []
    for module, found in sorted(rows.items()):
        alive = [row for row in found if row["survives"]]
        names = "; ".join(f"line {row['line']}: {row['value']:g}" for row in alive) or "none"
        blocks.append(
            f'[[mutation]]\nmodule = "{module}"\nchanged = "{len(found)}"\n'
            f'caught = "{len(found) - len(alive)}"\nsurvivors = "{names}"\n'
        )
    DATA.write_text("\n".join(blocks), encoding="utf-8")


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Do the tests notice a constant that is one percent off?")
    parser.add_argument("paths", nargs="*", default=["rigcheck/strength", "rigcheck/statics"])
    parser.add_argument("--log", type=Path, required=True)
    parser.add_argument("--write", action="store_true", help="write the page's data from the log and stop")
    chosen = parser.parse_args()
    if chosen.write:
        write(chosen.log)
        return 0
    return 1 if run(chosen.paths, log=chosen.log) else 0


if __name__ == "__main__":
    sys.exit(main())

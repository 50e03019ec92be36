"""Build the wheel, put it into a clean environment of every Python found, and run every shipped case there.

    python -m tests.bench.wheels
    python -m tests.bench.wheels --python python3.12

Needs the network: dependencies come from the package index. Every environment must give the same exit codes and, but
for rounding, the same numbers.
"""

import argparse
import json
import math
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
WANTED = ("3.11", "3.12", "3.13")
ALIKE = 1e-6


def pythons() -> list[str]:
    """An interpreter for each wanted version that is here."""
    found = []
    for version in WANTED:
        kept = sorted(Path.home().glob(f".pyenv/versions/{version}.*/bin/python"))
        here = shutil.which(f"python{version}")
        for candidate in (*map(str, reversed(kept)), *([here] if here else [])):
            done = subprocess.run([candidate, "--version"], capture_output=True, text=True, check=False)
            if done.returncode == 0 and done.stdout.startswith(f"Python {version}."):
                found.append(candidate)
                break
    return found


def built(folder: Path) -> Path:
    """The wheel."""
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


def results(python: str, *, wheel: Path, folder: Path) -> dict[str, tuple[int, Any]]:
    """Exit code and JSON of every shipped case in a clean environment."""
    place = folder / Path(python).parent.parent.name
    subprocess.run([python, "-m", "venv", str(place)], check=True)
    binary = place / "bin"
    install = [str(binary / "python"), "-m", "pip", "install", "-q", "--disable-pip-version-check", str(wheel)]
    subprocess.run(install, check=True)
    found = {}
    for case in sorted((ROOT / "cases").glob("*.toml")):
        command = [str(binary / "rigcheck"), "check", str(case), "--json"]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
        if done.returncode not in (0, 1, 3) or done.stderr:
            raise SystemExit(f"{python}: {case.name}: {done.returncode}: {done.stderr}")
        found[case.stem] = (done.returncode, json.loads(done.stdout))
    return found


def alike(one: Any, other: Any) -> bool:
    """Whether two results are the same but for rounding."""
    if isinstance(one, dict):
        return isinstance(other, dict) and one.keys() == other.keys() and all(alike(one[k], other[k]) for k in one)
    if isinstance(one, list):
        same = isinstance(other, list) and len(one) == len(other)
        return same and all(alike(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=ALIKE, abs_tol=ALIKE)
    return bool(one == other)


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--python", action="append", help="an interpreter; again for each")
    given = parser.parse_args(arguments)
    bad = 0
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        wheel, first = built(folder), None
        for python in given.python or pythons():
            found = results(python, wheel=wheel, folder=folder)
            first = first or found
            unlike = [name for name in found if not alike(found[name], first[name])]
            bad += len(unlike)
            print(f"{python}: {len(found)} cases, unlike the first: {', '.join(unlike) or 'none'}", flush=True)
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

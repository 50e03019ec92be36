"""The built wheel holds everything the program needs, and runs away from the checkout."""

import importlib.util
import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.support.said import SAID

ROOT = Path(__file__).parents[1]
CASE = ROOT / "cases" / "larkspur-bar.toml"
KEPT = {".py", ".toml", ".json", ".typed", ".js", ".css", ".svg"}

pytestmark = pytest.mark.skipif(
    importlib.util.find_spec("hatchling") is None, reason="hatchling is not installed; pip install hatchling builds it"
)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (found,) = folder.glob("rigcheck-*.whl")
    return found


@pytest.fixture(scope="module")
def unpacked(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def run(unpacked: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """The program out of the wheel, started far from the checkout."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    command = [sys.executable, "-m", "rigcheck", *arguments]
    return subprocess.run(
        command,
        cwd=unpacked.parent,
        env={**environment, "PYTHONPATH": str(unpacked), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_wheel_holds_the_package_and_nothing_else(wheel):
    with zipfile.ZipFile(wheel) as archive:
        names = {name for name in archive.namelist() if ".dist-info/" not in name}
    files = (path for path in (ROOT / "rigcheck").rglob("*") if path.suffix in KEPT)
    assert names == {
        "rigcheck/output/limits.md",
        "rigcheck/output/method.md",
        *(path.relative_to(ROOT).as_posix() for path in files),
    }


def test_the_wheel_says_its_license_and_its_command(wheel):
    with zipfile.ZipFile(wheel) as archive:
        meta = {name.rpartition("/")[2]: archive.read(name).decode() for name in archive.namelist() if "info/" in name}
    assert "License-Expression: GPL-3.0-or-later" in meta["METADATA"] and "Requires-Python: >=3.11" in meta["METADATA"]
    assert "rigcheck = rigcheck.cli:main" in meta["entry_points.txt"] and "LICENSE" in meta


def test_a_case_runs_out_of_the_wheel(unpacked):
    code = "import rigcheck; print(rigcheck.__file__)"
    environment = {**os.environ, "PYTHONPATH": str(unpacked)}
    where = subprocess.run(
        [sys.executable, "-c", code], cwd=unpacked.parent, env=environment, capture_output=True, text=True, check=True
    )
    assert where.stdout.startswith(str(unpacked))
    done = run(unpacked, "check", str(CASE), "--json")
    assert done.returncode in (0, 1, 3) and done.stderr == ""
    assert json.loads(done.stdout)["input"]["file"] == CASE.name


COMMANDS = ("--version", "--help", "tables shackle", "new", "fold CASE", "haul CASE", "card CASE")


@pytest.mark.parametrize("words", COMMANDS)
def test_commands_find_their_data_in_the_wheel(words, unpacked):
    said = SAID if words == "new" else []
    done = run(unpacked, *(str(CASE) if word == "CASE" else word for word in words.split()), *said)
    assert done.returncode in (0, 1, 3) and done.stderr == "" and done.stdout


def test_the_schema_is_in_the_wheel(unpacked):
    code = "from rigcheck.output.schemas import result_schema; print(result_schema()['title'])"
    environment = {**os.environ, "PYTHONPATH": str(unpacked)}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=unpacked.parent, env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout == "rigcheck.result/2\n"

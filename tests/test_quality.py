"""Lint, types and the shape of the repository, as tests."""

import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests import conftest

ROOT = Path(__file__).parents[1]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "rigcheck", "tests", "cases", "docs"}
BUILT = {"build", "dist"}


def run(module: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    if importlib.util.find_spec(module) is None:
        pytest.skip(f"{module} is not installed; pip install -e '.[test]' brings it")
    command = [sys.executable, "-m", module, *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_lint():
    done = run("ruff", "check", "--no-cache", "rigcheck", "tests")
    assert done.returncode == 0, done.stdout + done.stderr


def test_layout_of_the_code():
    done = run("ruff", "format", "--check", "--no-cache", "rigcheck", "tests")
    assert done.returncode == 0, done.stdout + done.stderr


def test_types():
    """From a clean checkout everything is read; after that mypy's own cache, which it keeps true, spares the rest."""
    done = run("mypy", "--strict", "rigcheck")
    assert done.returncode == 0, done.stdout + done.stderr


def test_what_is_called_quick_is_there_and_looks_into_every_room():
    files = {path.name: path.parent.name for path in (ROOT / "tests").rglob("test_*.py")}
    named = conftest.QUICK_FILES | conftest.ONE_CASE
    assert files.keys() >= named
    rooms = {path.name for path in (ROOT / "rigcheck").iterdir() if (path / "__init__.py").exists()}
    tested = rooms & {folder.name for folder in (ROOT / "tests").iterdir()}
    assert tested <= conftest.QUICK_FOLDERS | {files[name] for name in named}


def test_top_level_holds_these_entries_and_no_other():
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found - BUILT == TOP


def test_modules_are_rooms_not_halls():
    long = {str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines()) for path in modules()}
    assert {name: lines for name, lines in long.items() if lines > 400} == {}


def test_every_module_says_its_job_in_its_first_line():
    for path in modules():
        first = path.read_text(encoding="utf-8").partition("\n")[0]
        assert first.startswith('"""') and len(first) > 15, path


def test_the_example_of_the_readme_is_what_the_program_prints():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    example = re.search(r"^## What it prints\n\n```text\n(.*?)^```$", text, re.M | re.S)
    assert example is not None
    command = [sys.executable, "-m", "rigcheck", "check", "cases/larkspur-bar.toml", "--width", "80"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    told = [line for line in done.stdout.splitlines() if "sha256" not in line]
    assert example[1].splitlines() == told[: len(example[1].splitlines())]


def modules() -> list[Path]:
    return sorted((ROOT / "rigcheck").rglob("*.py"))


def test_readme_gives_two_commands_and_names_only_files_that_are_there():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^```sh\n(.*?)^```$", text, re.M | re.S)
    assert [command.count("\n") for command in commands] == [1, 1]
    assert commands[0].startswith("python3 -m venv .venv && ") and "rigcheck check cases/" in commands[0]
    assert commands[1].endswith("python -m pytest -n 2\n")
    for name in {*re.findall(r"\b(?:cases|docs)/[\w./-]*\w", text)}:
        assert (ROOT / name).exists(), name

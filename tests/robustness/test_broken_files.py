"""Broken case files: exit code 2, the key named, what would do, no traceback, in bounded time and memory."""

import os
import re
import subprocess
import sys
import time
from itertools import groupby
from pathlib import Path

import pytest

from rigcheck.case.reading.read import MOST_TOLD
from rigcheck.cli import main
from tests.robustness.broken.corpus import Broken, corpus
from tests.support.powerless import powerless
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
SLOWEST = 5.0  # seconds for the worst single file, on a busy machine
CORPUS = corpus()
KINDS = {kind: list(files) for kind, files in groupby(CORPUS, key=lambda one: one.name.rpartition(" ")[0])}


def wrong_with(one: Broken, *, folder: Path, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """What is wrong with the answer to one broken file."""
    place = folder / "box.toml"
    place.write_bytes(one.raw)
    begun = time.perf_counter()
    code = main(["check", str(place)])
    took = time.perf_counter() - begun
    out, err = capsys.readouterr()
    lines = err.splitlines()
    named = not one.key or any(re.match(rf"box\.toml: (?:line \d+: )?{re.escape(one.key)}", line) for line in lines)
    wrong = {
        f"exit code {code}": code != 2,
        "something on stdout": out != "",
        "no complaint": not lines,
        "a line without the file": not all(line.startswith("box.toml: ") for line in lines),
        f"{one.key} is not named": not named,
        f"{one.says} is not said": not all(words in err for words in one.says),
        "letters that do not print": not all(line.isprintable() for line in lines),
        "a line without end": max(map(len, lines), default=0) > 1200,
        f"{len(lines)} lines": len(lines) > MOST_TOLD + 1,
        f"{took:.1f} s": took > SLOWEST,
    }
    return [f"{one.name}: {what}: {err[:300]}" for what, so in wrong.items() if so]


def test_there_are_enough_of_them():
    assert len(CORPUS) >= 300


@pytest.mark.parametrize("kind", KINDS)
def test_broken_files_are_refused_with_a_reason(kind, tmp_path, capsys):
    wrong = [line for one in KINDS[kind] for line in wrong_with(one, folder=tmp_path, capsys=capsys)]
    assert wrong == []


def test_a_good_file_is_none_of_them(tmp_path, capsys):
    told = wrong_with(Broken("good", starter_text().encode()), folder=tmp_path, capsys=capsys)
    assert any("exit code" in line for line in told)


@pytest.mark.skipif(sys.platform != "linux", reason="limits of another kind")
@pytest.mark.parametrize("what", ["50 MB of remarks", "50 MB in one line", "endless"])
def test_a_large_file_takes_little_memory_and_time(what, tmp_path):
    import resource

    place = tmp_path / "large.toml"
    if what == "endless":
        place = Path("/dev/zero")
    else:
        with place.open("wb") as file:
            file.write(b"# remark\n" * 6_000_000 if what.endswith("remarks") else b'title = "' + b"x" * 50_000_000)

    def frugal() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (400_000_000, 400_000_000))
        resource.setrlimit(resource.RLIMIT_CPU, (20, 20))

    command = [sys.executable, "-m", "rigcheck", "check", str(place)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, preexec_fn=frugal)
    assert done.returncode == 2 and f"{place.name}: the file is larger than 1 MiB" in done.stderr, done.stderr


def test_places_that_are_no_file(tmp_path, capsys):
    (tmp_path / "loop.toml").symlink_to(tmp_path / "loop.toml")
    (tmp_path / "nowhere.toml").symlink_to(tmp_path / "gone" / "rig.toml")
    good = tmp_path / "good.toml"
    good.write_text(starter_text())
    (tmp_path / "link.toml").symlink_to(good)
    for name, words in (
        ("loop.toml", "loop.toml: the file cannot be read: "),
        ("nowhere.toml", "nowhere.toml: there is no such file"),
        (".", ": this is a folder, not a file"),
        ("good.toml/rig.toml", "rig.toml: the file cannot be read: "),
        ("x" * 5000, ": the file cannot be read: "),
        ("a\0b.toml", "a?b.toml: the file cannot be read: its name cannot be used"),
        ("\x1b[2Jrig.toml", "?[2Jrig.toml: there is no such file"),
        ("\udcff.toml", "?.toml: there is no such file"),
        ("", "folder"),
    ):
        assert main(["check", str(tmp_path / name)]) == 2, name
        out, err = capsys.readouterr()
        assert out == "" and words in err and err.count("\n") == 1, (name, err)
    assert main(["check", str(tmp_path / "link.toml")]) in (0, 1, 3)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="permissions of another kind")
def test_a_file_without_permission(capsys):
    with powerless() as folder:
        place = folder / "locked.toml"
        place.write_text(starter_text())
        assert main(["check", str(place)]) in (0, 1, 3)
        capsys.readouterr()
        place.chmod(0)
        assert main(["check", str(place)]) == 2
    out, err = capsys.readouterr()
    assert (out, err) == ("", "locked.toml: the file may not be read (permission)\n")

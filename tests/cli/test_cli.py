"""The command line: exit codes, what goes to stdout and stderr, files whole or not at all, what it loads."""

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from rigcheck import __version__
from rigcheck.cli import entry, main
from rigcheck.cli.app import command_names
from rigcheck.cli.output import OutputError, json_text, write_file
from rigcheck.wording.cautions import CAUTIONS
from tests.support.said import SAID
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
NEVER = ("scipy", "sympy", "matplotlib", "anastruct", "Pynite", "pandas", "rich")


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("rig") / "rig.toml"
    place.write_text(starter_text(title="Grebe Flat, Größe 9"), encoding="utf-8")
    return place


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "rigcheck", *arguments]
    return subprocess.run(
        command, cwd=ROOT, env={**os.environ, **environment}, capture_output=True, stdin=subprocess.DEVNULL, check=False
    )


def loaded(*arguments: str) -> set[str]:
    """Top-level modules that a run of the command line leaves loaded."""
    code = (
        "import io, sys; from rigcheck.cli import main; out, sys.stdout = sys.stdout, io.StringIO();"
        "code = main(sys.argv[1:]); sys.stdout = out;"
        "print(code, *sorted({name.partition('.')[0] for name in sys.modules}))"
    )
    command = [sys.executable, "-c", code, *arguments]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    code, *names = done.stdout.split()
    assert code in "0123", done.stderr
    return set(names)


def test_check_prints_the_verdict_and_the_cautions(case, capsys):
    code = main(["check", str(case)])
    out, err = capsys.readouterr()
    verdict = next(line for line in out.splitlines() if line.partition(":")[0] in ("OVER", "INCOMPLETE"))
    assert code == (1 if verdict.startswith("OVER") else 3)
    assert err == ""
    assert out.startswith("Grebe Flat, Größe 9\nrig.toml, sha256 ")
    assert out.splitlines()[-1].startswith(verdict.partition(":")[0])
    main(["check", str(case), "--all"])
    assert " ".join(capsys.readouterr().out.split()).endswith(CAUTIONS[-1])


@pytest.mark.parametrize(("verdict", "code"), [("within", 0), ("tight", 0), ("incomplete", 3), ("over", 1)])
def test_the_verdict_makes_the_exit_code(verdict, code, case, capsys, monkeypatch):
    from rigcheck.output.check import result as module

    made = module.result
    monkeypatch.setattr(module, "result", lambda *one, **more: {**made(*one, **more), "verdict": verdict})
    assert main(["check", str(case)]) == code
    assert main(["check", str(case), "--json"]) == code


def test_json_is_bytes_of_one_object_with_the_hash_of_the_file(case):
    import hashlib

    done = run("check", str(case), "--json")
    found = json.loads(done.stdout.decode("utf-8"), parse_constant=lambda word: pytest.fail(word))
    assert done.returncode == {"over": 1, "incomplete": 3}[found["verdict"]]
    assert done.stderr == b""
    assert found["title"] == "Grebe Flat, Größe 9"
    assert found["input"] == {"file": "rig.toml", "sha256": hashlib.sha256(case.read_bytes()).hexdigest()}


def test_si_units_change_the_screen_and_the_json(case, capsys):
    main(["check", str(case), "--units", "si"])
    out = capsys.readouterr().out
    assert " kN" in out and " mm" in out and "lb*in" not in out
    main(["check", str(case), "--units", "si", "--json"])
    assert json.loads(capsys.readouterr().out)["units"]["force"] == "N"


def test_a_console_without_the_letters_shows_question_marks(case):
    done = run("check", str(case), PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert done.returncode in (0, 1, 3)
    assert done.stdout.startswith(b"Grebe Flat, Gr??e 9") and done.stdout.isascii() and done.stderr == b""


def test_no_color_when_piped(case):
    assert b"\x1b" not in run("check", str(case), FORCE_COLOR="1", TERM="xterm-256color").stdout


def test_unusable_input_is_2_with_every_problem_on_stderr(tmp_path, capsys):
    place = tmp_path / "bad.toml"
    text = starter_text().replace('length = "9 ft 4 in"', "length = 8").replace("[hanger]\n", "[hanger]\nheigth = 3\n")
    place.write_text(text)
    assert main(["check", str(place)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert ": box.length: " in err and ": hanger.heigth: " in err and "nearest: height" in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["check"], "Missing argument"),
        (["check", "/no/such/file.toml"], "file.toml: there is no such file"),
        (["check", "rig.toml", "--units", "cubits"], "cubits"),
        (["check", "rig.toml", "--color"], "No such option"),
        (["chek", "rig.toml"], "Did you mean 'check'?"),
        (["tables", "nothing-like-this"], "no table and no row holds all of: nothing-like-this"),
        (["new", "--length", "8 fx"], 'box.length: "8 fx"'),
    ],
)
def test_what_cannot_be_used_is_2_and_says_so(arguments, words, capsys):
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == "" and words in err and "Traceback" not in err


def test_our_own_bug_is_70_in_one_line(case, capsys, monkeypatch):
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("float division by zero")

    monkeypatch.setattr("rigcheck.assessment.assess.assess", broken)
    monkeypatch.delenv(entry.TRACE, raising=False)
    assert main(["check", str(case)]) == 70
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1
    assert "a bug in rigcheck" in err and "ZeroDivisionError: float division by zero" in err and entry.TRACE in err
    monkeypatch.setenv(entry.TRACE, "1")
    assert main(["check", str(case)]) == 70
    assert "Traceback" in capsys.readouterr().err


def test_an_error_of_our_own_that_looks_like_a_missing_key_is_still_ours(case, capsys, monkeypatch):
    monkeypatch.setattr("rigcheck.assessment.assess.assess", lambda _: {}["perch.post.shape"])
    assert main(["check", str(case)]) == 70
    assert "KeyError" in capsys.readouterr().err


def test_an_interrupt_is_no_verdict(case, monkeypatch):
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("rigcheck.assessment.assess.assess", stopped)
    assert main(["check", str(case)]) == 130


@pytest.mark.skipif(os.name == "nt", reason="pipes of another kind")
@pytest.mark.parametrize("more", [[], ["--json"]])
def test_a_reader_that_goes_away_is_no_error(more, case):
    verdict = run("check", str(case)).returncode
    command = [sys.executable, "-m", "rigcheck", "check", str(case), *more]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None and process.stderr is not None
        process.stdout.close()
        err = process.stderr.read()
        assert process.wait(60) == verdict
    assert err == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_a_full_disk_is_no_verdict(case):
    with Path("/dev/full").open("wb") as full:
        command = [sys.executable, "-m", "rigcheck", "check", str(case)]
        done = subprocess.run(command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 2 and b"the output cannot be written" in done.stderr


def test_version_and_help(capsys):
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"rigcheck {__version__}\n"
    assert main(["--help"]) == main(["-h"]) == 0
    out = capsys.readouterr().out
    assert all(f"\n  {name} " in out for name in command_names())
    assert "Exit codes: 0 nothing over and all of the load path assessed, 1 something over, 3" in " ".join(out.split())
    assert command_names()[:3] == ["check", "page", "new"] and "tables" in command_names()


def test_every_command_has_help_with_its_defaults(capsys):
    for name in command_names():
        assert main([name, "--help"]) == 0
        assert len(capsys.readouterr().out.splitlines()) > 5
    main(["check", "--help"])
    out = capsys.readouterr().out
    assert "[default: us]" in out and "--width" not in out


def test_nothing_is_overwritten_unasked(tmp_path, capsys):
    place = tmp_path / "mine.toml"
    place.write_text("mine")
    assert main(["new", str(place)]) == 2
    assert "there is a file already; --force replaces it" in capsys.readouterr().err
    assert place.read_text() == "mine"
    assert main(["new", str(place), "--force", *SAID]) == 0
    assert tomllib.loads(place.read_text())["title"] == "Tern Gully"
    assert [one.name for one in tmp_path.iterdir()] == ["mine.toml"]


def test_a_file_is_whole_or_not_there(tmp_path, monkeypatch):
    place = tmp_path / "page.html"
    place.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match=r"page.html: cannot be written: No space left on device"):
        write_file(place, text="new", force=True)
    assert place.read_text() == "old" and len(list(tmp_path.iterdir())) == 1


def test_a_file_that_appears_meanwhile_is_kept(tmp_path, monkeypatch):
    place = tmp_path / "page.html"
    monkeypatch.setattr(os, "fsync", lambda _: place.write_text("somebody else's"))
    with pytest.raises(OutputError, match="there is a file already"):
        write_file(place, text="new", force=False)
    assert place.read_text() == "somebody else's" and len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize("place", [".", "no/such/folder/rig.toml"])
def test_places_that_cannot_be_written_are_named(place, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["new", place, "--force", *SAID]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith(f"{place}: ") and list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="permissions of another kind")
def test_a_written_file_has_the_permissions_of_any_new_file(tmp_path):
    write_file(tmp_path / "one", text="", force=False)
    (tmp_path / "other").touch()
    assert (tmp_path / "one").stat().st_mode == (tmp_path / "other").stat().st_mode


def test_json_text_refuses_what_is_no_number():
    assert json.loads(json_text({"a": [], "b": [{"x": 1.5}, None]})) == {"a": [], "b": [{"x": 1.5}, None]}
    assert json.loads(json_text([1, 2])) == [1, 2]
    with pytest.raises(ValueError, match="JSON"):
        json_text({"a": float("nan")})


def test_tables_search_with_sources(capsys):
    assert main(["tables", "rope_6x19_fc_ips", "--width", "80"]) == 0
    out, err = capsys.readouterr()
    assert err == "" and "12200" in out and "source: " in out and "(source checked)" in out
    assert main(["tables"]) == 0
    assert "rope_6x19_fc_ips 10" in capsys.readouterr().out
    assert main(["tables", "rope_6x19_fc_ips", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)[0]["rows"]
    assert len(rows) == 10 and all(row["source"] and row["clause"] and row["known"] for row in rows)


@pytest.mark.parametrize("line", ["--help", "--version", "check --help", "tables", "tables rope", "new"])
def test_help_tables_and_new_do_without_numpy(line):
    assert not loaded(*line.split(), *(SAID if line == "new" else ())) & {"numpy", *NEVER}


def test_check_loads_no_slow_library(case):
    names = loaded("check", str(case))
    assert "numpy" in names  # the test sees what is loaded
    assert not names & set(NEVER)
    assert not loaded("check", str(case), "--json") & set(NEVER)

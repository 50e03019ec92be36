"""The short way into `check`: it says the same as the parser of all commands and leaves to it what it does not know."""

import subprocess
import sys
from pathlib import Path

import pytest

from rigcheck.cli import entry, main
from rigcheck.cli.app import _whole
from rigcheck.cli.looks import Units
from rigcheck.cli.plain_call import CHECK, plain_call

ROOT = Path(__file__).parents[2]
CASE = str(ROOT / "cases" / "larkspur-bar.toml")
OTHER = str(ROOT / "cases" / "magpie-landing.toml")


@pytest.mark.parametrize(
    "arguments",
    [
        ["check", CASE],
        ["check", CASE, "--json"],
        ["check", "--units", "si", CASE],
        ["check", CASE, "--all"],
        ["check", CASE, "--json", "--units", "us"],
        ["check", CASE, OTHER],
        ["check", "missing.toml"],
        ["check", CASE, "--width", "60"],
        ["check", "--remedies", CASE, "--all", "--units", "si"],
    ],
)
def test_both_ways_say_the_same(arguments, capsys, monkeypatch):
    assert plain_call(arguments) is not None
    short = main(arguments), *capsys.readouterr()
    monkeypatch.setattr(entry, "plain_call", lambda _: None)
    assert (main(arguments), *capsys.readouterr()) == short


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["--help"],
        ["check"],
        ["check", "--help"],
        ["check", CASE, "-h"],
        ["check", ""],
        ["check", CASE, "--units"],
        ["check", CASE, "--units", "metric"],
        ["check", CASE, "--units=si"],
        ["check", CASE, "--width"],
        ["check", CASE, "--width", "-3"],
        ["check", CASE, "--width", "wide"],
        ["check", CASE, "--json", "--color"],
        ["check", "--", CASE],
        ["check", "--json"],
        ["report", CASE],
        [CASE],
    ],
)
def test_everything_else_is_left_to_the_parser(arguments):
    assert plain_call(arguments) is None


def test_what_a_plain_call_holds():
    call = plain_call(["check", "a.toml", "--units", "si", "--all", "b.toml"])
    assert call is not None
    assert call.files == (Path("a.toml"), Path("b.toml"))
    assert call.options == {
        "as_json": False, "whole": True, "units": Units.si, "confirm": False, "cures": False, "width": 0,
    }  # fmt: skip


def test_the_parser_has_the_same_options_with_the_same_defaults():
    """One list of records serves both: an option that one has and the other has not would be left to chance."""
    (parser,) = [one for name, one in _whole().commands.items() if name == "check"]
    told = {one.opts[0]: one for one in parser.params if one.param_type_name == "option" and one.name != "help"}
    assert sorted(told) == sorted(option.word for option in CHECK)
    for option in CHECK:
        known = told[option.word]
        assert (known.name, known.default, known.help) == (option.name, option.default, option.help)
        assert known.hidden == option.hidden and known.is_flag == isinstance(option.default, bool)


def test_a_plain_check_loads_no_parser():
    code = (
        "import io, sys; from rigcheck.cli import main; out, sys.stdout = sys.stdout, io.StringIO();"
        "main(['check', sys.argv[1]]); sys.stdout = out;"
        "print(*sorted({'typer', 'pydantic', 'difflib', 'tempfile', 'importlib.metadata'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code, CASE], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []

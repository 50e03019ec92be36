"""The worked calculation as people see it: on a screen, in a report, as JSON, from the command line."""

import json
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rigcheck.calculation import working, working_result
from rigcheck.cli.codes import SOMETHING_OVER, UNUSABLE_INPUT
from rigcheck.cli.entry import main
from rigcheck.output.screen import Look
from rigcheck.output.working.html import working_html
from rigcheck.output.working.screen import broken, working_screen
from rigcheck.wording.cautions import CAUTIONS
from tests.calculation.working_rigs import NAMES, shipped

CASES = Path(__file__).parents[2] / "cases"
EVIL = 'Box <script>alert(1)</script> "&" \N{HEBREW LETTER ALEF}'


def told(name: str, **options):
    return working_result(working(shipped(name), **options), title=EVIL, system=options.get("system", "us"))


@pytest.mark.parametrize("name", NAMES)
def test_screen_fits_eighty_columns_in_plain_ascii(name):
    text = working_screen({**told(name), "title": name}, look=Look(width=80))
    assert max(map(len, text.splitlines())) <= 80
    assert text.isascii() and "\x1b" not in text
    assert "None" not in text and "nan" not in text.split()
    assert all(" ".join(caution.split()) in " ".join(text.split()) for caution in CAUTIONS)


def test_screen_shows_equation_numbers_and_answer_under_each_other():
    lines = working_screen(told("two-stone-pit", parts=["line"]), look=Look(width=80)).splitlines()
    start = next(i for i, line in enumerate(lines) if line.strip() == "d = u_z*x_H - u_x*z_H")
    column = lines[start].index("=")
    assert [line.index("=") for line in lines[start : start + 3]] == [column] * 3
    assert lines[start + 2].endswith(" in")


@pytest.mark.parametrize("width", [40, 60, 120])
def test_a_long_equation_is_broken_and_nothing_of_it_is_lost(width):
    text = "H_n = -1050.96*0.608227 - 356.673*(-0.498993) - 254.67*(-0.496464) - 9.05839*cos(-7.5 deg) + 3"
    lines = broken(text, width=width)
    assert max(map(len, lines)) <= width
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert not any(line.rstrip().endswith((" -", " +")) for line in lines)


def test_html_is_escaped_well_formed_and_without_script():
    found = told("cinder-fork")
    text = working_html(found)
    assert "<script" not in text
    for one in re.findall(r"<math.*?</math>", text):
        ElementTree.fromstring(one)
    steps = [step for section in found["sections"] for step in section["steps"]]
    assert text.count("<math") >= sum(1 + (step["numbers"] is not None) for step in steps if step["equation"])
    ElementTree.fromstring(f"<div>{text}</div>".replace("&nbsp;", " "))


def test_json_is_plain_and_whole(capsys):
    assert main(["working", str(CASES / "cinder-fork.toml"), "--json", "--part", "line"]) == SOMETHING_OVER
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "rigcheck.working/2" and found["input"]["file"] == "cinder-fork.toml"
    (section,) = found["sections"]
    last = section["steps"][-1]
    assert section["verdict"] == "over" and last["result"] == pytest.approx(section["utilization"], rel=1e-9)
    assert {"heading", "terms", "equation", "numbers", "answer", "unit", "clause"} <= set(last)


def test_command_takes_parts_states_and_units(capsys):
    asked = ["--part", "post", "--part", "pin", "--state", "packed", "--units", "si"]
    main(["working", str(CASES / "larkspur-bar.toml"), *asked])
    text = capsys.readouterr().out
    assert "1. PIN" in text and "2. POST" in text and "LINE:" not in text
    assert " mm" in text and " lb" not in text


def test_exit_code_is_that_of_check(capsys):
    for name in ("cinder-fork", "larkspur-bar", "quarter-creek"):
        path = str(CASES / f"{name}.toml")
        assert main(["working", path, "--part", "pin"]) == main(["check", path])
    capsys.readouterr()


def test_a_state_that_is_none_is_refused_with_those_that_are(capsys):
    assert main(["working", str(CASES / "larkspur-bar.toml"), "--state", "sunk"]) == UNUSABLE_INPUT
    told_error = capsys.readouterr()
    assert told_error.out == "" and "sunk" in told_error.err and "packed" in told_error.err
    assert main(["working", str(CASES / "larkspur-bar.toml"), "--part", "roof"]) == UNUSABLE_INPUT

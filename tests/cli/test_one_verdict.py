"""Every command gives one verdict on a rig, that of `check`, and the exit code that belongs to it."""

import json
from pathlib import Path

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.assessment.verdict import WORDS, rig_word, verdict
from rigcheck.case.reading.read import read_case, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.haul.study import haul
from rigcheck.studies.vary.case import with_values
from tests.support.whole_rig import starter_text

CASES = Path(__file__).parents[2] / "cases"
SHIPPED = sorted(path.stem for path in CASES.glob("*.toml"))
CODES = {"over": 1, "incomplete": 3, "tight": 0, "within": 0}
KEYS = ("verdict", "tight", "complete", "not_assessed", "missing")
SLOW = ("hardware", "length --points 5", "spread --samples 10", "working --part line", "props")


def told(capsys, command, case):
    """Exit code and JSON of a command."""
    name, *more = command.split()
    code = main([name, str(CASES / f"{case}.toml"), *more, "--json"])
    return code, json.loads(capsys.readouterr().out or "null")


@pytest.mark.parametrize("case", SHIPPED)
def test_quick_commands_say_what_check_says(case, capsys):
    code, found = told(capsys, "check", case)
    assert code == CODES[found["verdict"]]
    commands = ["card"] + (["fold", "haul"] if read_case(CASES / f"{case}.toml").fold.to is not None else [])
    for command in commands:
        again, other = told(capsys, command, case)
        assert (again, other["verdict"], other["tight"]) == (code, found["verdict"], found["tight"]), command
        alone = other["alone"]["verdict"] if command != "card" else found["verdict"]
        assert alone != "over" or found["verdict"] == "over", command
    assert command == "card" or all(found[key] == other[key] for key in KEYS)


@pytest.mark.parametrize("command", SLOW)
def test_slow_commands_say_what_check_says(command, capsys):
    case = "sawpit-bend"
    _, found = told(capsys, "check", case)
    code, other = told(capsys, command, case)
    assert all(found[key] == other[key] for key in KEYS)
    assert code in (CODES[found["verdict"]], CODES["over"])


@pytest.mark.parametrize("case", ["larkspur-bar"])
def test_the_report_and_the_summary_say_what_check_says(case, capsys):
    code, found = told(capsys, "check", case)
    again, packet = told(capsys, "report --no-working --no-length", case)
    assert again == code and packet["result"]["headline"] == found["headline"]
    for key in ("checks", "governing", "highest_utilization", "findings", "not_assessed", "plant_loads"):
        assert packet["result"][key] == found[key], key
    main(["check", *[str(CASES / f"{case}.toml")] * 2, "--json"])
    assert {one["headline"] for one in json.loads(capsys.readouterr().out)} == {found["headline"]}


def test_a_proof_load_never_reads_better_than_the_rig(capsys):
    for case in ("sawpit-bend",):
        _, found = told(capsys, "check", case)
        code, proof = told(capsys, "proof", case)
        assert proof["verdict"] == found["verdict"] and code in (CODES[found["verdict"]], 1)
        assert WORDS.index(proof["alone"]["verdict"]) >= WORDS.index(found["verdict"]) or found["verdict"] == "tight"


@pytest.mark.parametrize("case", ["fallow-ditch", "sawpit-bend", "larkspur-bar", "windlass-flat"])
def test_neither_fold_nor_road_is_over_by_itself_where_the_rig_is_not(case):
    """Folds and perches moved about: what a part alone finds over, the whole finds too."""
    base = read_case(CASES / f"{case}.toml")
    changes = [{"fold.to": float(np.radians(to))} for to in (40.0, 110.0)]
    changes += [{"perch.height": base.perch.height * share} for share in (0.7, 1.4)]
    for change in changes:
        found = assess(Rig(with_values(base, change)))
        road = haul(found.solution.rig, assessment=found)
        alone = bool(fold_of(found).over) or (road is not None and bool(road.over))
        assert not alone or bool(found.over), change


def test_the_gravest_word_holds():
    every = [(over, complete, tight) for over in (True, False) for complete in (True, False) for tight in (True, False)]
    words = [rig_word(over=over, complete=complete, tight=tight) for over, complete, tight in every]
    assert words == ["over"] * 4 + ["tight", "within", "incomplete", "incomplete"]


def test_a_rig_with_a_part_left_out_is_incomplete_and_stays_tight():
    base = read_case_text(starter_text(), name="whole")
    less = {"perch.post": None, "cross_member.weld_length": None, "factors.tight_above": 0.2}
    found = assess(Rig(with_values(base, less)))
    assert verdict(found).word == "incomplete" and verdict(found).tight
    assert {"perch.post", "cross_member.weld"} <= {one.id for one in found.not_assessed}

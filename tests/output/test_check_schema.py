"""The JSON of `check` against the schema that ships with it."""

import json
import subprocess
import sys
from copy import deepcopy
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.cli.output import json_text
from rigcheck.output.check.result import SCHEMA, result
from rigcheck.output.schemas import result_schema
from tests.support.schema_reader import broken
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
CASES = sorted((ROOT / "cases").glob("*.toml"))


@pytest.fixture(scope="module")
def found() -> dict:
    return json.loads(json_text(result(assess(Rig(read_case(CASES[0]))))))


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_every_case_that_ships_gives_json_of_the_schema(case, capsys):
    assert main(["check", str(case), "--json"]) in (0, 1, 3)
    made = json.loads(capsys.readouterr().out, parse_constant=lambda word: pytest.fail(word))
    assert broken(made, schema=result_schema()) == []


def test_si_gives_json_of_the_schema(tmp_path, capsys):
    place = tmp_path / "rig.toml"
    place.write_text(starter_text())
    main(["check", str(place), "--json", "--units", "si"])
    assert broken(json.loads(capsys.readouterr().out), schema=result_schema()) == []


@pytest.mark.parametrize("option", ["--remedies", "--confirm", "--all"])
def test_every_option_gives_json_of_the_schema(option, capsys):
    case = ROOT / "cases" / "quarter-creek.toml"
    assert main(["check", str(case), "--json", option]) == 1
    assert broken(json.loads(capsys.readouterr().out), schema=result_schema()) == []


def test_the_take_up_that_makes_one_line_carry_all_is_one_number_a_row(found):
    taken = [one["take_up_to_carry_all"] for row in found["states"] for one in row["bounds"] if one["bound"] == "stiff"]
    assert any(taken) and all(one is None or isinstance(one, float) for one in taken)  # none while it is moved


def test_the_schema_names_the_contract():
    assert result_schema()["properties"]["schema"]["const"] == SCHEMA == result_schema()["title"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda data: data.pop("verdict"), "$: verdict is missing"),
        (lambda data: data.update(verdict="fine"), "$.verdict: 'fine' is none of"),
        (lambda data: data.update(extra=1), "$: extra is not in the schema"),
        (lambda data: data["states"][0]["cg"].update(s="8"), "$.states[0].cg.s: '8' is no number"),
        (lambda data: data["states"][0].update(weight=None), "$.states[0].weight: None is no number"),
        (lambda data: data["checks"][0].update(utilization=-1.0), "$.checks[0].utilization: -1.0 is out of range"),
        (lambda data: data["governing"].update(side="both"), "$.governing.side: 'both' is none of"),
        (lambda data: data["input"] is None and data.update(input={"file": "a", "sha256": "0"}), "does not match"),
        (lambda data: data.update(stopped=0), "$.stopped: 0 is no boolean"),
    ],
)
def test_the_schema_sees_what_is_wrong(change, said, found):
    data = deepcopy(found)
    change(data)
    told = broken(data, schema=result_schema())
    assert any(said in one for one in told), told


def test_the_schema_is_read_without_numpy():
    code = "import sys; from rigcheck.output import schemas; schemas.result_schema(); sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0

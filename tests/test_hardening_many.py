"""Several files in one call of `check`: a line for each, and the worst exit code."""

import json
from pathlib import Path

import pytest

from rigcheck.case.starter import starter_text
from rigcheck.cli import main
from rigcheck.views.cautions import CAUTIONS

CASES = Path(__file__).parents[1] / "cases"
WITHIN, OVER = CASES / "larkspur-bar.toml", CASES / "cinder-fork.toml"


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    place = tmp_path / "bad.toml"
    text = starter_text(sheet="14 ga").replace('sheet = "14 ga"', 'sheet = "13 ga"')
    place.write_text(text.replace("[bed]", "[bedd]"))
    return place


def test_one_line_a_file_and_the_cautions_once(capsys):
    assert main(["check", str(WITHIN), str(OVER), "--width", "120"]) == 1
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert err == "" and len([line for line in lines if ".toml: " in line]) == 2
    assert lines[0].startswith(f" WITHIN {WITHIN}:")
    assert any(line.startswith(" OVER   ") for line in lines)
    assert "2 files: 1 over, 1 within." in out and out.count(CAUTIONS[0]) == 1


@pytest.mark.parametrize("order", [(WITHIN, OVER), (OVER, WITHIN)])
def test_something_over_is_1_wherever_it_stands(order, capsys):
    assert main(["check", *map(str, order)]) == 1


def test_nothing_over_is_0(capsys):
    assert main(["check", str(WITHIN), str(WITHIN)]) == 0


def test_an_unusable_file_is_2_and_the_others_are_checked_all_the_same(bad, capsys, monkeypatch):
    monkeypatch.chdir(bad.parent)
    assert main(["check", "bad.toml", str(OVER), "none.toml"]) == 2
    out, err = capsys.readouterr()
    told = " ".join(out.split())
    assert "UNUSABLE bad.toml: 2 problems" in told and "OVER" in told and "3 files: 2 unusable, 1 over." in told
    assert 'bad.toml: box.sheet: "13 ga"' in err and "bad.toml: bedd: " in err and "none.toml: there is no" in err


def test_json_is_a_list_in_the_order_of_the_files(bad, capsys):
    assert main(["check", str(WITHIN), str(bad), str(OVER), "--json", "--units", "si"]) == 2
    found = json.loads(capsys.readouterr().out)
    assert [one["schema"] for one in found] == ["rigcheck.result/1", "rigcheck.problems/1", "rigcheck.result/1"]
    assert [one["verdict"] for one in found] == ["within", "unusable", "over"]
    assert [one["input"]["file"] for one in found] == [WITHIN.name, "bad.toml", OVER.name]
    assert {one["key"] for one in found[1]["problems"]} == {"box.sheet", "bedd"}
    assert found[0]["units"]["force"] == "N"


def test_one_file_gives_the_whole_screen_and_one_object(capsys):
    main(["check", str(WITHIN)])
    assert "Assumptions: " in capsys.readouterr().out
    main(["check", str(WITHIN), "--json"])
    assert json.loads(capsys.readouterr().out)["verdict"] == "within"


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_lines_fit_the_width(width, bad, capsys):
    main(["check", str(WITHIN), str(OVER), "--width", str(width)])
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines())) <= width

"""Several files in one call of `check`: a line for each, and the worst exit code."""

import json
from pathlib import Path

import pytest

from rigcheck.cli import main
from rigcheck.cli.codes import gravest
from rigcheck.wording.cautions import CAUTIONS
from tests.support.whole_rig import starter_text

CASES = Path(__file__).parents[2] / "cases"
OVER = CASES / "cinder-fork.toml"


@pytest.fixture(scope="module")
def incomplete(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Nothing over, and a part of the load path that is not described."""
    place = tmp_path_factory.mktemp("rig") / "gap.toml"
    place.write_text(starter_text().replace("pin_retained = true", "pin_retained = false"))
    return place


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    place = tmp_path / "bad.toml"
    text = starter_text(sheet="14 ga").replace('sheet = "14 ga"', 'sheet = "13 ga"')
    place.write_text(text.replace("[bed]", "[bedd]"))
    return place


def test_one_line_a_file_and_the_cautions_once(incomplete, capsys):
    assert main(["check", str(incomplete), str(OVER), "--width", "120"]) == 1
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert err == "" and len([line for line in lines if ".toml: " in line]) == 2
    assert lines[0].startswith(f" INCOMPLETE {incomplete}:")
    assert any(line.startswith(" OVER       ") for line in lines)
    assert "2 files: 1 over, 1 incomplete." in out and out.count(CAUTIONS[0]) == 1


@pytest.mark.parametrize("turn", [1, -1])
def test_something_over_is_1_wherever_it_stands(turn, incomplete, capsys):
    assert main(["check", *[str(incomplete), str(OVER)][::turn]]) == 1


def test_nothing_over_but_incomplete_is_3(incomplete, capsys):
    assert main(["check", str(incomplete), str(incomplete)]) == 3


def test_the_gravest_of_several_codes_wins():
    assert [gravest(codes) for codes in ([0, 3], [3, 1, 0], [1, 2, 3], [0, 0])] == [3, 1, 2, 0]


def test_an_unusable_file_is_2_and_the_others_are_checked_all_the_same(bad, capsys, monkeypatch):
    monkeypatch.chdir(bad.parent)
    assert main(["check", "bad.toml", str(OVER), "none.toml"]) == 2
    out, err = capsys.readouterr()
    told = " ".join(out.split())
    assert "UNUSABLE bad.toml: 2 problems" in told and "OVER" in told and "3 files: 2 unusable, 1 over." in told
    assert (
        ': box.sheet: "13 ga"' in err
        and ": bedd: " in err
        and "bad.toml: line " in err
        and "none.toml: there is no" in err
    )


def test_json_is_a_list_in_the_order_of_the_files(incomplete, bad, capsys):
    assert main(["check", str(incomplete), str(bad), str(OVER), "--json", "--units", "si"]) == 2
    found = json.loads(capsys.readouterr().out)
    assert [one["schema"] for one in found] == ["rigcheck.result/2", "rigcheck.problems/1", "rigcheck.result/2"]
    assert [one["verdict"] for one in found] == ["incomplete", "unusable", "over"]
    assert [one["input"]["file"] for one in found] == [incomplete.name, "bad.toml", OVER.name]
    assert {one["key"] for one in found[1]["problems"]} == {"box.sheet", "bedd"}
    assert found[0]["units"]["force"] == "N"


def test_one_file_gives_the_whole_screen_and_one_object(incomplete, capsys):
    main(["check", str(incomplete), "--all"])
    assert "Assumptions: " in capsys.readouterr().out
    main(["check", str(incomplete), "--json"])
    assert json.loads(capsys.readouterr().out)["verdict"] == "incomplete"


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_lines_fit_the_width(incomplete, width, bad, capsys):
    main(["check", str(incomplete), str(OVER), "--width", str(width)])
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines())) <= width

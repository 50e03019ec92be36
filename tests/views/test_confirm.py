"""The second opinion of a check: told by quantity, and an error of this program where it disagrees."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from rigcheck.cli.codes import OUR_BUG, UNUSABLE_INPUT
from rigcheck.cli.entry import main
from rigcheck.studies.second_opinion import LIMIT, Comparison, Confirmation
from rigcheck.views import confirm
from rigcheck.views.confirm import KINDS, SecondOpinionError, confirmed
from rigcheck.views.scale import Scale

CASE = Path(__file__).parents[2] / "cases" / "larkspur-bar.toml"


def one(difference: float) -> Confirmation:
    pairs = (
        Comparison("line tension", "force", True, 1000.0, 1000.0, 0.0),
        Comparison("hinge force z", "force", True, 200.0, 200.0 * (1.0 + difference), difference),
        Comparison("sag", "length", False, 0.1, 0.1, 0.0),
    )
    return Confirmation(3, 2, "packed (low side left), even", pairs, 0.0)


def test_tells_the_largest_difference_of_each_kind():
    found = confirmed([one(0.001), one(0.004)], scale=Scale())
    assert found["largest"] == {"line tension": 0.0, "hinge force": 0.004, "peak rail moment": None, "sag": 0.0}
    assert "hinge force 0.4 %" in found["text"] and "line tension under 0.0001 %" in found["text"]


@pytest.mark.parametrize("difference", [LIMIT * 1.001, 0.02, 1.0])
def test_more_than_the_limit_is_an_error_that_names_quantity_state_and_numbers(difference):
    with pytest.raises(SecondOpinionError, match=r"hinge force z in packed \(low side left\), even is 200 lbf by the"):
        confirmed([one(0.0), one(difference)], scale=Scale())


def test_just_within_the_limit_passes():
    assert confirmed([one(LIMIT)], scale=Scale())["agrees"] is True


def test_nothing_to_confirm_is_told_and_no_error():
    found = confirmed([], scale=Scale())
    assert found["agrees"] is None and found["rows"] == [] and "Largest" not in found["text"]


def test_check_confirm_prints_the_differences(capsys):
    assert main(["check", str(CASE), "--confirm", "--json"]) in (0, 1, 3)
    found = json.loads(capsys.readouterr().out)["confirm"]
    assert found["agrees"] is True and 0.0 < found["largest_difference"] <= LIMIT
    assert set(found["largest"]) == set(KINDS) and all(value <= LIMIT for value in found["largest"].values())
    assert main(["check", str(CASE), "--confirm", "--width", "80"]) in (0, 1, 3)
    text = " ".join(capsys.readouterr().out.split())
    assert "Second opinion" in text and "peak rail moment" in text


def test_check_without_confirm_says_nothing_of_it(capsys):
    main(["check", str(CASE), "--json"])
    assert json.loads(capsys.readouterr().out)["confirm"] is None


def test_a_difference_ends_in_exit_code_70_and_no_result(capsys, monkeypatch):
    honest = confirm.confirm_governing

    def crooked(assessment):
        found = honest(assessment)
        wrong = [replace(pair, difference=0.006) for pair in found[0].comparisons]
        return [replace(found[0], comparisons=tuple(wrong)), *found[1:]]

    monkeypatch.setattr(confirm, "confirm_governing", crooked)
    assert main(["check", str(CASE), "--confirm"]) == OUR_BUG
    told = capsys.readouterr()
    assert told.out == "" and "second opinion: line tension in" in told.err and "0.6 % apart" in told.err
    assert told.err.count("\n") == 1


def test_several_files_are_refused(capsys):
    assert main(["check", str(CASE), str(CASE), "--confirm"]) == UNUSABLE_INPUT
    assert "one file" in capsys.readouterr().err

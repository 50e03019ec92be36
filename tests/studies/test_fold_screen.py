"""The screen and the JSON of the fold, and the exit codes of its command."""

import json
from pathlib import Path

import pytest

from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.cli import main
from rigcheck.output.fold.screen import fold_screen, plot
from rigcheck.output.fold.view import fold_result
from rigcheck.output.fold.words import remedy_sentence
from rigcheck.output.screen import Look
from rigcheck.studies.fold.study import fold

CASES = Path(__file__).parents[2] / "cases"
FOLDS = ("sawpit-bend", "fallow-ditch", "windlass-flat")


@pytest.fixture(scope="module", params=FOLDS)
def found(request):
    return fold_result(fold(Rig(read_case(CASES / f"{request.param}.toml"))))


def test_it_is_plain_json(found):
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert found["schema"] == "rigcheck.fold/2"
    assert len(found["rows"]) == 181


@pytest.mark.parametrize("width", [60, 80, 120])
def test_screen_fits_and_is_ascii(found, width):
    text = fold_screen(found, look=Look(width=width))
    assert text.isascii()
    assert max(len(line) for line in text.splitlines()) <= width
    assert "safe" not in text.lower().replace("mine-safety", "")
    assert text.rstrip().endswith(" ".join(found["cautions"][-1].split()[-1:]))


def test_no_pull_is_given_where_the_lines_do_not_hold(found):
    for row in found["rows"]:
        if row["hold"] in ("dead_point", "falls_outward"):
            assert row["line"] is None and row["line_alone_demand"] is None and row["hinge"] is None
        elif row["hold"] == "slack_inward":
            assert row["line"] == 0.0 and row["hinge"] is None and row["snub"] > 0.0
        else:
            assert row["line"] >= 0.0 and set(row["hinge"]) == {"left", "right"}


def test_plot_marks_what_holds(found):
    lines = plot(found, width=80)
    assert len(lines) == 15 and "*" in "".join(lines[:12])
    marks = lines[12].partition("|")[2]
    last = {"held": "=", "slack_inward": "s", "falls_outward": "v"}[found["rows"][-1]["hold"]]
    assert marks[0] == "=" and marks[-1] == last


@pytest.mark.parametrize(
    ("key", "move", "said"),
    [
        ("perch.height", 6.0, "Raise the perches 6 in (perch.height 50 in)"),
        ("perch.height", -6.0, "Lower the perches 6 in (perch.height 50 in)"),
        ("perch.downstream", 6.0, "Move the perches 6 in toward the tail (perch.downstream 50 in)"),
        ("perch.downstream", -6.0, "Move the perches 6 in back (perch.downstream 50 in)"),
    ],
)
def test_a_remedy_moves_the_perches_the_way_it_means(key, move, said):
    one = {"key": key, "move": move, "value": 50.0, "needs_snub": False, "utilization": 0.5, "governs": "folding"}
    assert remedy_sentence({**one, "lines_hold": True}, unit="in").startswith(f"{said}: then the fold is reached")
    assert "over their rating" in remedy_sentence({**one, "lines_hold": False}, unit="in")
    assert "add a snub line" in remedy_sentence({**one, "needs_snub": True, "lines_hold": True}, unit="in")


def test_sentences_say_why():
    never = fold_result(fold(Rig(read_case(CASES / "fallow-ditch.toml"))))
    assert never["headline"].startswith("The fold alone: OVER: cannot be folded to 92.0 deg; as it stands it gets to 6")
    assert "before the weight comes over the hinge" in never["why"][0]
    assert any(sentence.startswith("Move the perches") for sentence in never["why"])
    falls = fold_result(fold(Rig(read_case(CASES / "windlass-flat.toml"))))
    assert "falls inward" in falls["why"][0] and "fold.snub = true" in falls["why"][1]


def test_si_is_the_same_answer():
    study = fold(varied(Rig(read_case(CASES / "sawpit-bend.toml")), {"line.link.1.wll": 1500.0}))  # so that it is tight
    us, si = fold_result(study), fold_result(study, system="si")
    assert si["pull"]["largest"] == pytest.approx(us["pull"]["largest"] * 4.4482216152605)
    assert si["line"]["deployed"] == pytest.approx(us["line"]["deployed"] * 25.4)
    assert si["alone"] == us["alone"] and us["tight"]


@pytest.mark.parametrize("case", FOLDS)
def test_exit_code_is_that_of_the_verdict_on_the_rig(case, capsys):
    code = main(["fold", str(CASES / f"{case}.toml"), "--json"])
    out = capsys.readouterr()
    found = json.loads(out.out)
    assert code == {"over": 1, "incomplete": 3}.get(found["verdict"], 0) and out.err == ""
    assert found["alone"]["verdict"] != "over" or code == 1


def test_a_case_that_does_not_say_how_far_is_unusable(tmp_path, capsys):
    text = (CASES / "sawpit-bend.toml").read_text(encoding="utf-8")
    case = tmp_path / "still.toml"
    case.write_text(text[: text.index("[fold]")], encoding="utf-8")
    assert main(["fold", str(case)]) == 2
    out = capsys.readouterr()
    assert out.out == "" and "fold.to" in out.err

"""The materials list: equal to the take-off, hand-worked welds, one screen, nothing invented."""

import csv
import io
import tomllib
from functools import cache
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.loads.steel import take_off
from rigcheck.output.materials.screen import materials_screen
from rigcheck.output.materials.view import csv_rows, materials_result
from rigcheck.quantities import tape
from rigcheck.studies.materials.study import materials
from rigcheck.studies.materials.welds import weld_metal, weld_runs
from tests.support.whole_rig import starter_text

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))


@cache
def found(path):
    return assess(Rig(read_case(path)))


@cache
def told(path, system="us"):
    return materials_result(found(path), system=system)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_list_is_the_take_off_to_the_pound(path):
    weighed = {piece.name: float(piece.weight) for piece in take_off(found(path).solution.rig)}
    listed = materials(found(path))
    own = [piece for piece in listed.pieces if piece.place == "box"]
    assert sum(weighed.values()) == pytest.approx(
        listed.weight("box") + sum(one.weight for one in listed.carried), abs=0.01
    )
    assert len(own) + len(listed.carried) == len(weighed)
    # and piece by piece from the cut: sheet at 490 lb/ft3, shapes at their weight for each foot
    sheets = [one for one in own if one.across is not None]
    assert sheets
    for one in sheets:
        assert one.weight == pytest.approx(one.count * one.length * one.across * one.sheet * 490.0 / 1728.0, rel=1e-9)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
@pytest.mark.parametrize("system", ["us", "si"])
def test_it_is_one_screen(path, system):
    lines = materials_screen(told(path, system)).splitlines()
    assert len(lines) <= 45
    assert max(map(len, lines)) <= 80
    assert "not a certificate" in "\n".join(lines)


def test_all_names_what_the_short_screen_leaves_out():
    one = told(CASES[0])
    text = materials_screen(one, whole=True)
    for piece in one["pieces"]:
        assert piece["name"].split(",")[0] in text
    for caution in one["cautions"]:
        assert caution[:30] in text


def test_a_weighed_box_says_what_the_scale_found_more():
    data = tomllib.loads(CASES[3].read_text(encoding="utf-8"))
    rig = Rig(check_case(data | {"measured": {"empty_weight": "700 lb"}}))
    listed = materials(assess(rig))
    assert listed.empty == pytest.approx(700.0)
    assert listed.carried[-1].source == "measured less estimate"
    assert listed.weight("box") + sum(one.weight for one in listed.carried) == pytest.approx(700.0)


def test_weld_metal_by_hand():
    """A 1/4 in fillet a foot long: 0.25^2/2 in2 x 12 in x 490/1728 lb/in3 = 0.1063 lb flat, 0.117 lb with its crown."""
    assert weld_metal(0.25, length=12.0) == pytest.approx(0.1063 * 1.1, rel=1e-3)


def test_stitches_by_hand():
    """106 in of 2 in stitches 3 1/2 in apart: (106 - 2)/3.5 = 29.7, so 30 on each rail, 60 in all, 120 in."""
    path = next(one for one in CASES if one.stem == "larkspur-bar")
    runs, _ = weld_runs(found(path).solution.rig)
    (seam,) = [one for one in runs if one.key == "rail.wall_seam.leg"]
    assert (seam.count, seam.length) == (60, 120.0)


def test_what_is_not_described_is_listed_and_not_guessed():
    data = tomllib.loads(starter_text())
    del data["hanger"]["lug"]
    for key in ("pin", "barrels", "barrel_length"):
        del data["hinge"][key]
    del data["perch"]["post"]["weld"]
    listed = materials(assess(Rig(check_case(data))))
    text = "\n".join(listed.missing)
    for word in ("hanger lugs", "welds of the hanger lugs", "hinge pins", "base welds of the perch posts"):
        assert word in text
    assert not [one for one in listed.pieces if one.key in ("hanger.lug", "hinge.pin")]


def test_the_window_of_a_hoist_is_that_of_the_check():
    path = next(one for one in CASES if one.stem == "larkspur-bar")
    (hoist,) = [one for one in told(path)["hardware"] if one["least"] is not None]
    assert hoist["least"] <= hoist["wll"] <= hoist["most"]


def test_rows_for_a_spreadsheet_hold_every_piece(capsys):
    path = next(one for one in CASES if one.stem == "larkspur-bar")
    assert main(["materials", str(path), "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    steel = sum(float(row["weight_lb"]) for row in rows if row["list"] in ("box", "carried"))
    assert steel == pytest.approx(sum(float(piece.weight) for piece in take_off(found(path).solution.rig)), abs=0.01)
    listed = told(path)
    names = {"carried": "carried", "weld": "welds", "hardware": "hardware", "not described": "not_described",
             "caution": "cautions"}  # fmt: skip
    for name, key in names.items():
        assert [row["list"] for row in rows].count(name) == len(listed[key]), name
    assert len(rows) == len(listed["pieces"]) + sum(len(listed[key]) for key in names.values())
    heads = csv_rows(told(path, "si"))[0]
    assert "length_mm" in heads and "weight_N" in heads


def test_a_name_is_no_formula_in_a_spreadsheet():
    one = dict(told(CASES[0]))
    one["not_described"] = ["=1+1"]
    assert "'=1+1" in [row[1] for row in csv_rows(one)]


@pytest.mark.parametrize(
    ("inches", "words"),
    [(28.2092, "2 ft 4 3/16 in"), (106.0, "8 ft 10 in"), (23.25, "23 1/4 in"), (24.0, "24 in"), (36.0, "3 ft"),
     (0.3125, "5/16 in"), (0.0, "0 in"), (24.0625, "2 ft 1/16 in"), (-1.5, "-1 1/2 in"), (0.01, "0 in")],
)  # fmt: skip
def test_a_tape_reads(inches, words):
    assert tape(inches) == words


def test_a_tape_rounds_up_and_down_to_its_marks():
    assert (tape(10.01, rounding="up"), tape(10.05, rounding="down")) == ("10 1/16 in", "10 in")

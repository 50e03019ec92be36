"""The haul study: lean and lift-off, verdict, batch; its dict, its screen, its command."""

import json

import numpy as np
import pytest

from rigcheck.case.rig import varied
from rigcheck.cli import main
from rigcheck.output.haul.screen import haul_screen
from rigcheck.output.haul.view import haul_result
from rigcheck.output.screen import Look
from rigcheck.studies.haul.study import haul
from tests.support.road_rig import BACK, STOP, road_rig, row
from tests.support.whole_rig import starter_text

RIGHT = {**BACK, "from": ["80 in", "-13 in", "0 in"], "to": ["-60 in", "-13 in", "80 in"]}
MPH = 17.6


def study(*straps, **more):
    found = haul(road_rig(*straps, **more))
    assert found is not None
    return found


def test_lift_off_is_the_gust_that_turns_the_lean_round():
    rig = road_rig(BACK, RIGHT, stops=(STOP,), fold="86 deg")
    still = haul(rig)
    speeds = np.array([0.99, 1.01]) * float(still.lift_off)
    turn = haul(varied(rig, {"wind.parked": speeds})).found.restraint.turn
    assert float(still.lean) > 0.0
    toward_head = turn[:, row(still.found, "parked", wind_to="-x", held_by="lines", low_side="left")]
    assert (toward_head > 0.0).tolist() == [True, False]


def test_no_gust_along_the_plant_lifts_a_flat_box():
    assert float(study(BACK, fold="0 deg").lift_off) == 0.0


def test_bare_fold_is_not_assessed_and_says_what_it_would_do():
    found = haul_result(study())
    assert found["alone"] == {
        "verdict": "incomplete", "not_assessed": ["parked and hauling: no tie-down and no stop is described"],
    }  # fmt: skip
    assert "no tie-down holds the box" in found["headline"]
    assert [one for one in found["before_the_road"] if one.startswith("tie the box down")]
    free = [one for one in found["rows"] if not one["held"]]
    assert free and all(one["hinge"] is None and one["tie_downs"] is None for one in free)


def test_what_must_be_done_before_the_road_is_said_and_the_pin_where_nothing_holds_it():
    loose, kept = (haul_result(study(BACK, more=more)) for more in ("", "[hinge]\npin_retained = true\n"))
    pin = "pin the hinge against jumping out"
    assert [one for one in loose["before_the_road"] if one.startswith(pin)]
    assert not [one for one in kept["before_the_road"] if one.startswith(pin)]
    for found in (loose, kept):
        assert [one for one in found["before_the_road"] if one.startswith("take the pull off the hoists and lines")]
        assert [one for one in found["before_the_road"] if one.startswith("shovel and wash out the bed")]


def test_strong_straps_both_ways_are_within():
    ahead = {**BACK, "to": ["60 in", "13 in", "30 in"]}
    found = study(BACK, RIGHT, ahead, stops=(STOP,), more="[hinge]\npin_retained = true\n")
    plain = haul_result(found)
    assert not found.over
    assert plain["alone"]["verdict"] == "incomplete"
    assert all("eyelet" in text for text in plain["alone"]["not_assessed"])  # all else is described
    for told in plain["tie_downs"]:
        assert told["pull"] <= told["wll"]
    text = " ".join(plain["why"])
    assert "Tie-down 1: each of 1 needs a working load limit of at least" in text
    assert "Tie-down 3: pulls in no load case" in text


def test_weak_strap_is_over_in_exactly_its_ratio():
    strong = study(BACK, RIGHT, stops=(STOP,))
    weak = study({**BACK, "wll": "90 lb", "mbf": "270 lb"}, RIGHT, stops=(STOP,))

    def used(found):
        return next(
            one["utilization"]
            for one in haul_result(found)["checks"]
            if (one["part"], one["mode"]) == ("tie-down 1", "working load limit")
        )

    assert used(weak) == pytest.approx(10.0 * used(strong))
    uses = [one["utilization"] for one in haul_result(weak)["checks"]]
    assert uses[0] is None  # nothing is left that holds it down
    assert float(weak.utilization) > max(use for use in uses[1:])


def test_an_assessment_that_is_there_is_taken():
    rig, there = road_rig(BACK), object()
    assert haul(rig, assessment=there).assessment is there


def test_a_batch_is_its_members():
    rig = road_rig(BACK, RIGHT, stops=(STOP,))
    lengths = np.array([95.0, 120.0])
    many = haul(varied(rig, {"box.length": lengths}))
    for i, length in enumerate(lengths):
        one = haul(varied(rig, {"box.length": length}))
        assert many.utilization[i] == pytest.approx(float(one.utilization), rel=1e-12)
        assert many.lift_off[i] == pytest.approx(float(one.lift_off), rel=1e-12)
        assert bool(many.over[i]) == bool(one.over)
    with pytest.raises(ValueError, match="one rig"):
        haul_result(many)


def test_result_is_json_in_both_systems():
    found = study(BACK, RIGHT, stops=(STOP,), hinge_above_road="50 in")
    us, si = haul_result(found), haul_result(found, system="si")
    json.dumps([us, si], allow_nan=False)
    assert all(set(row["line"]) == {"left", "right"} for row in us["rows"] if row["line"] is not None)
    assert us["schema"] == "rigcheck.haul/2"
    assert si["weight"] == pytest.approx(us["weight"] * 4.4482216152605)
    assert si["height"] == pytest.approx(us["height"] * 25.4)
    assert [one["utilization"] for one in si["checks"]] == [one["utilization"] for one in us["checks"]]


@pytest.mark.parametrize("width", [60, 80, 120])
def test_screen_fits_and_ends_with_the_cautions(width):
    found = haul_result(study(BACK, stops=(STOP,)))
    lines = haul_screen(found, look=Look(width=width)).splitlines()
    assert max(len(line) for line in lines) <= width
    text = " ".join(" ".join(lines).split())
    assert found["headline"] in text
    assert " safe" not in text.lower()
    assert text.isascii()
    assert text.index("Before the road") < text.index("Cautions")
    for part in (*found["before_the_road"], *found["cautions"]):
        assert " ".join(part.split()) in text


def test_command(tmp_path, capsys):
    file = tmp_path / "rig.toml"
    file.write_text(starter_text())
    assert main(["haul", str(file)]) == 3
    assert "Before the road" in capsys.readouterr().out
    assert main(["haul", str(file), "--json", "--units", "si"]) == 3
    found = json.loads(capsys.readouterr().out)
    assert found["input"]["file"] == "rig.toml"
    assert found["units"]["force"] == "N"
    weak = starter_text().replace('wll = "1600 lb"', 'wll = "100 lb"').replace('mbf = "4800 lb"', 'mbf = "300 lb"')
    file.write_text(weak)
    assert main(["haul", str(file)]) == 1
    file.write_text("\n".join(line for line in starter_text().splitlines() if not line.startswith('to = "84 deg"')))
    capsys.readouterr()
    assert main(["haul", str(file)]) == 2
    caught = capsys.readouterr()
    assert caught.out == ""
    assert "fold.to" in caught.err


def test_a_fitting_that_is_called_mats_is_not_the_mats():
    place = 'at = "70 in"\nacross = "0 in"\nheight = "2 in"\n'
    spare = f'[[fitting]]\nname = "mats, spare, in a bin"\nweight = "31 lb"\n{place}'
    assert float(study(BACK, stops=(STOP,), more=spare).mats) == 0.0

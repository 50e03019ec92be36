"""The result keeps its contract: keys, units, balance of the forces it tells, nulls where there is no number."""

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig, varied
from rigcheck.output.check.checks import checks
from rigcheck.output.check.result import Extras, result
from rigcheck.wording.scale import Scale, ratio
from tests.output.conftest import assessed

CONTRACT = {
    "schema", "title", "verdict", "complete", "not_assessed", "units", "states", "rail", "checks", "governing",
    "findings", "plant_loads", "tie_downs", "fold", "assumptions", "cautions", "confirm",
}  # fmt: skip
STATE = {"state", "variant", "weight", "cg", "fold_deg", "line_length", "lever_arm", "line_angle", "bounds"}
RAIL = {"state", "bound", "side", "max_moment", "max_shear", "max_axial", "sag", "tail_deflection"}
CHECK = {
    "part", "mode", "state", "bound", "side", "demand", "capacity", "unit", "utilization", "capacity_basis", "verdict",
    "basis", "clause",
}  # fmt: skip
FINDING = {"code", "state", "bound", "side", "text", "stops"}
BOUNDS = {"limp", "stiff", "loose", "one_line", "lost"}
HANGING = {"empty", "running", "surge", "plugged", "packed", "lopsided", "cleanout", "iced"}
POUND = 4.4482216152605  # newton, exact
INCH = 25.4  # millimetre, exact


def test_keys_of_the_contract(us):
    assert us.keys() >= CONTRACT
    assert us["schema"] == "rigcheck.result/2"
    for rows, keys in ((us["states"], STATE), (us["rail"], RAIL), (us["checks"], CHECK), (us["findings"], FINDING)):
        assert rows
        for row in rows:
            assert row.keys() >= keys
    assert us["units"].items() >= {
        "force": "lbf", "length": "in", "moment": "lbf*in", "stress": "psi", "angle": "deg",
    }.items()  # fmt: skip


def test_words_of_the_contract(us):
    assert us["verdict"] in ("within", "tight", "incomplete", "over")
    for row in us["checks"]:
        assert row["verdict"] in ("within", "tight", "over", "not_assessed")
        assert row["capacity_basis"] in ("working", "ultimate")
        assert row["bound"] in BOUNDS and row["side"] in ("left", "right")
    for state in us["states"]:
        for bound in state["bounds"]:
            assert bound["bound"] in BOUNDS
            assert bound["on"] in (("left", "right") if bound["bound"] in ("one_line", "lost") else (None,))
            assert bound["line"].keys() == {"left", "right"}
            assert all(one.keys() == {"x", "y", "z"} for one in bound["hinge"].values())


@pytest.mark.parametrize("which", ["us", "si", "dead", "pull_only"])
def test_json_holds_no_nan_and_comes_back_the_same(which, request):
    found = request.getfixturevalue(which)
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_checks_come_in_the_order_of_their_use_and_the_first_governs(us):
    used = [row["utilization"] for row in us["checks"]]
    assert used == sorted(used, reverse=True)
    assert us["governing"] == us["checks"][0]
    assert us["utilization"] == us["highest_utilization"] == used[0]
    for row in us["checks"]:
        assert row["utilization"] == pytest.approx(row["demand"] / row["capacity"], rel=1e-12)
        assert (row["verdict"] == "over") == (row["utilization"] > 1.0)


def test_every_row_that_a_check_names_is_among_the_states(us):
    told = [(state["state"], state["variant"]) for state in us["states"]]
    assert all((row["state"], row["variant"]) in told for row in us["checks"])


def test_forces_of_every_hanging_state_carry_its_weight(us):
    looked_at = 0
    for state in us["states"]:
        if state["state"] not in HANGING:
            continue
        up = math.sin(math.radians(state["line_angle"]))
        for bound in state["bounds"]:
            pull = sum(bound["line"].values())
            hinge = sum(one["z"] for one in bound["hinge"].values())
            assert pull * up + hinge == pytest.approx(state["weight"], rel=1e-9)
            looked_at += 1
    assert looked_at > 100


def test_plant_carries_what_the_box_weighs(us):
    weights: dict[str, set[float]] = {}
    for state in us["states"]:
        weights.setdefault(state["state"], set()).add(round(state["weight"], 6))
    hung = [one for one in us["plant_loads"] if one["state"] in HANGING]
    assert len(hung) > 5
    for one in us["plant_loads"]:
        if one["state"] in HANGING:
            down = -sum(force["z"] for place in ("hinge", "perch") for force in one[place].values())
            assert round(down, 6) in weights[one["state"]]


def test_a_line_pulls_its_perch_toward_the_box(us):
    for one in us["plant_loads"]:
        if one["state"] in HANGING:
            assert all(force["z"] <= 0.0 <= force["x"] for force in one["perch"].values())


def test_worst_loads_are_the_largest_among_the_states(us):
    assert any(one["state"] in HANGING for one in us["worst_loads"])
    for one in us["worst_loads"]:
        if one["state"] in HANGING:
            pulls = [
                pull
                for state in us["states"]
                if state["state"] == one["state"]
                for bound in state["bounds"]
                for pull in bound["line"].values()
            ]
            assert one["line"]["force"] == max(pulls)


def test_si_is_the_same_result_in_other_units(us, si):
    assert si["units"].items() >= {"force": "N", "length": "mm", "moment": "N*m", "stress": "MPa"}.items()
    assert si["verdict"] == us["verdict"] and si["utilization"] == us["utilization"]
    factors = {"lbf": ("N", POUND), "in": ("mm", INCH), "lbf*in": ("N*m", POUND * INCH / 1000.0),
               "psi": ("MPa", POUND / INCH**2), "lbf/in": ("N/mm", POUND / INCH), "": ("", 1.0)}  # fmt: skip
    for ours, theirs in zip(us["checks"], si["checks"], strict=True):
        unit, factor = factors[ours["unit"]]
        assert theirs["unit"] == unit
        assert theirs["demand"] == pytest.approx(ours["demand"] * factor, rel=1e-12)
        assert theirs["capacity"] == pytest.approx(ours["capacity"] * factor, rel=1e-12)
    for ours, theirs in zip(us["states"], si["states"], strict=True):
        assert theirs["weight"] == pytest.approx(ours["weight"] * POUND, rel=1e-12)
        assert theirs["cg"]["s"] == pytest.approx(ours["cg"]["s"] * INCH, rel=1e-12)
        assert theirs["line_angle"] == ours["line_angle"]
    person = [state["variant"]["person_s"] for state in si["states"] if "person_s" in (state["variant"] or {})]
    assert max(person) == pytest.approx(112.0 * INCH)


def test_a_dead_point_stops_the_rig_and_has_no_numbers(dead):
    assert dead["verdict"] == "over" and dead["stopped"]
    assert dead["utilization"] is None and dead["governing"]["utilization"] is None
    stops = [one for one in dead["findings"] if one["stops"]]
    assert "dead_point" in {one["code"] for one in stops}
    assert dead["findings"][: len(stops)] == stops
    here = {one["state"] for one in stops if one["code"] == "dead_point"}
    assert here
    nothing = [state for state in dead["states"] if state["bounds"] and state["bounds"][0]["line"]["left"] is None]
    assert {state["state"] for state in nothing} == here
    assert all(bound["hinge"]["left"] is None for state in nothing for bound in state["bounds"])
    dry = next(one for one in dead["findings"] if (one["code"], one["state"]) == ("dead_point", "empty"))
    assert (dry["bound"], dry["side"]) == (None, None)  # it holds for every way of sharing


def test_a_pull_only_device_stops_the_rig_whatever_the_numbers(pull_only):
    assert pull_only["verdict"] == "over" and pull_only["utilization"] is None
    assert pull_only["highest_utilization"] == pull_only["checks"][0]["utilization"] is not None


def test_findings_come_once_for_a_code_and_state(us, dead, pull_only):
    for found in (us, dead, pull_only):
        told = [(one["code"], one["state"], one["text"]) for one in found["findings"]]
        assert len(told) == len(set(told))


def test_every_chosen_factor_is_among_the_assumptions():
    found = result(assessed(factors={"hung": 1.5}))
    factors = {one["key"]: one for one in found["assumptions"] if one["key"].startswith("factors.")}
    assert {"factors.hung", "factors.surge", "factors.line_broken", "factors.rope_design"} <= factors.keys()
    assert (factors["factors.hung"]["value"], factors["factors.hung"]["defaulted"]) == ("1.5", False)
    assert factors["factors.surge"]["defaulted"] and factors["factors.surge"]["source"]
    assert "factors.surge" in found["defaulted"] and "factors.hung" not in found["defaulted"]


def test_tight_begins_above_the_reserve():
    found = result(assessed(factors={"tight_above": "10 %"}))
    words = {row["verdict"] for row in found["checks"] if row["utilization"] <= 1.0}
    assert words == {"within", "tight"}
    assert all((row["verdict"] == "within") == (row["utilization"] <= 0.1) for row in found["checks"])


def test_take_off_adds_up_to_the_dry_box(us):
    total = sum(piece["weight"] for piece in us["take_off"])
    assert us["empty"]["weight"] == pytest.approx(total)
    dry = next(state for state in us["states"] if state["state"] == "empty")
    assert total == pytest.approx(dry["weight"], rel=1e-12)
    assert us["empty"]["cg"]["s"] == pytest.approx(dry["cg"]["s"], rel=1e-12)
    assert us["empty"]["cg"]["n"] == pytest.approx(dry["cg"]["n"], rel=1e-9)


def test_water_is_loaded_by_the_larger_depth(us):
    water = us["water"]
    deeper = max(water["normal_depth"], water["critical_depth"])
    assert water["depth"] == deeper
    assert water["loaded_by"] == ("critical depth" if deeper == water["critical_depth"] else "normal depth")


def test_extras_are_taken_over(assessment):
    extra: dict[str, Any] = {"depth": 3.25, "text": "Stop feeding at 3 1/4 in."}
    found = result(assessment, extras=Extras(bed_mark=extra))
    assert found["bed_mark"] == extra and found["fold"] is None


def test_a_batch_is_refused(assessment):
    rig = varied(Rig(assessment.solution.rig.case), {"box.length": np.array([100.0, 112.0])})
    with pytest.raises(ValueError, match="not of a batch"):
        result(assess(rig))


def test_a_check_that_holds_nothing_against_anything_is_not_called_within(assessment):
    """Below nothing there is no use to speak of: neither a number nor a word of praise."""
    first = assessment.worst[0]
    loose = replace(assessment, worst=[replace(first, utilization=np.asarray(-0.5))])
    for row in checks(loose, scale=Scale(), tight_above=0.85):
        assert row["verdict"] == "not_assessed" and row["utilization"] is None
    assert len(checks(loose, scale=Scale(), tight_above=0.85)) == 1


def test_what_has_no_number_is_null():
    assert [ratio(value) for value in (1e9, math.inf, -0.1, 0.0, 1.2)] == [None, None, None, 0.0, 1.2]
    scale = Scale()
    assert scale.many(np.array([[1.0, math.inf], [math.nan, -0.0]]), dimension="force") == [[1.0, None], [None, 0.0]]
    assert scale.one(math.nan, dimension="length") is None
    with pytest.raises(ValueError, match="one by one"):
        scale.many(np.array([0.1]), dimension="pitch")


def test_a_check_says_its_factor_and_which_strength_it_is_held_against(us):
    """Sag is that of the weight at rest, a hoist holds 1.33 times the hung one; a broken line is on strength."""
    rows = {(one["part"], one["mode"]): one for one in us["checks"]}
    assert rows["rail", "sag between hinge and hanger"]["dynamic_factor"] is None
    hoist = next(part for part, _ in rows if "lever hoist" in part)
    working, breaking = rows[hoist, "working load limit"], rows[hoist, "breaking strength"]
    assert working["dynamic_factor"].startswith("dynamic (impact) factor 1.33 (hung)")
    assert (working["capacity_basis"], breaking["capacity_basis"]) == ("working", "ultimate")
    assert breaking["capacity"] > working["capacity"]


def test_the_weight_of_a_state_is_that_of_its_heaviest_row(assessment, us):
    solution, unlike = assessment.solution, 0
    for worst in us["worst_loads"]:
        weights = [
            float(weight)
            for row, weight, dead in zip(solution.rows, solution.service.weight, solution.held.dead, strict=True)
            if row.state == worst["state"] and not dead
        ]
        assert worst["weight"] == pytest.approx(max(weights))
        unlike += min(weights) < 0.99 * max(weights)
    assert unlike > 1  # gusts that lift, a broken line in heavy and in light states


def test_the_pitch_that_is_left_is_the_least_of_its_state(assessment, us):
    solution = assessment.solution
    left = np.asarray(solution.layout.pitch - solution.sag.rise)  # a fall that sags flat has none left
    unlike = 0
    for worst in us["worst_loads"]:
        state = worst["state"]
        here = [
            place
            for place, (row, _) in enumerate(solution.sagged.pairs)
            if solution.rows[row].state == state and not solution.held.dead[row]
        ]
        if here:
            assert worst["pitch_left"]["value"] == pytest.approx(12.0 * np.tan(left[here].min()))
            unlike += left[here].min() < left[here].max() - 1e-6
    assert unlike > 3

"""Sentences on what governs: the right side, part, load, limit, way of sharing and factor."""

from typing import Any

import pytest

from rigcheck.output.check.why import headline, why

LINE: dict[str, Any] = {
    "part": "line link 2: lever hoist", "mode": "working load limit", "group": "line", "state": "packed",
    "variant": None, "bound": "limp", "on": None, "side": "left", "demand": 2524.2, "capacity": 2000.0, "unit": "lbf",
    "utilization": 1.2621, "capacity_basis": "working", "verdict": "over", "accident": False,
    "dynamic_factor": "dynamic (impact) factor 1.33 (hung)", "basis": "marked working load limit", "clause": "",
}  # fmt: skip
UNITS = {"length": "in", "force": "lbf"}


def about(row: dict[str, Any] | None, **more: Any) -> dict[str, Any]:
    base = {"verdict": "over", "governing": row, "checks": [row] if row else [], "findings": [], "not_assessed": [],
            "highest_utilization": row["utilization"] if row else None, "units": UNITS}  # fmt: skip
    return {**base, **more}


def test_a_line_link():
    first, second = why(about(LINE))
    assert first == (
        "With the box packed with gravel to the top of its sides, the left line puts 2,525 lb on its lever hoist"
        " (line link 2); its working load limit is 2,000 lb (127 %)."
    )
    assert second == (
        "Basis: the box free to twist, each line holding its own side; dynamic (impact) factor 1.33"
        " (hung); marked working load limit."
    )
    assert headline(about(LINE)) == "OVER: line link 2: lever hoist, working load limit, 127 %, packed"


def test_rail_stress_droop_and_any_other_part():
    rail = {**LINE, "part": "rail", "group": "rail", "mode": "stress, bending with axial", "unit": "psi"}
    assert "the left rail is stressed to 2,525 psi; 2,000 psi is allowed (127 %)." in why(about(rail))[0]
    droop = {**rail, "mode": "tail deflection", "unit": "in", "demand": 0.4012, "capacity": 0.3178}
    droop["dynamic_factor"] = None
    first, second = why(about(droop))
    assert "the tail deflection of the left rail is 0.402 in; the yardstick is 0.317 in (127 %)." in first
    assert "unfactored" in second
    pin = {**LINE, "part": "hinge pin", "group": "hinge", "mode": "shear", "side": "right"}
    assert "the right hinge pin sees 2,525 lb; 2,000 lb is allowed (127 %) in shear." in why(about(pin))[0]
    both = {**pin, "unit": "", "demand": 1.2621, "capacity": 1.0, "mode": "bending both ways"}
    assert "the right hinge pin has an interaction ratio of 1.27 in bending both ways (127 %)." in why(about(both))[0]


def test_what_varies_is_in_the_opening():
    person = {**LINE, "state": "cleanout", "variant": {"person_side": "left", "person_s": 112.0}}
    assert why(about(person))[0].startswith(
        "At clean-out, with the bed in and somebody on the box (weight on the left rail, 112 in from the hinge), the"
    )


def test_a_stop_comes_first_and_once():
    stop = {"code": "dead_point", "state": "folding", "text": "no tension can hold the box", "stops": True}
    found = about({**LINE, "utilization": None}, findings=[stop, {**stop, "state": "line_broken"}])
    found |= {"highest_utilization": 1.2621}
    assert why(found)[0] == "While the box is being folded: no tension can hold the box."
    assert [sentence for sentence in why(found) if "no tension" in sentence] == why(found)[:1]
    assert headline(found) == (
        "OVER: a line passes through the hinge pin (dead center); line link 2: lever hoist, working load limit, 127 %,"
        " packed"
    )


def test_a_stop_hides_no_number_but_a_part_within_is_not_blamed():
    stop = {"code": "pull_only_holds", "state": "empty", "text": "it may not hold", "stops": True}
    row = {**LINE, "verdict": "within", "utilization": None, "demand": 1000.0}
    assert (
        headline(about(row, findings=[stop], highest_utilization=0.5)) == "OVER: a pull-only come-along holds the box"
    )


@pytest.mark.parametrize(("bound", "said"), [(None, True), ("one_line", False), ("limp", True)])
def test_a_case_that_a_backup_makes_safe_is_not_called_forbidden(bound, said):
    """The backup holds the box on both lines; on one it hangs slack and the device holds somebody up."""
    people = {"code": "person_on_hung_box", "state": LINE["state"], "text": "block it", "stops": False, "bound": bound}
    assert LINE["bound"] == "limp"
    assert ("cautions forbid" in headline(about(LINE, findings=[people]))) is said


def test_missing_parts_are_counted_in_the_headline():
    row = {**LINE, "verdict": "within", "utilization": 0.68}
    found = about(row, verdict="incomplete", tight=False, not_assessed=["hinge pin", "perch post"])
    assert headline(found) == (
        "INCOMPLETE: nothing checked is over, 2 parts of the load path not assessed; highest: line link 2: lever hoist,"
        " working load limit, 68 %, packed"
    )
    over = about(LINE, not_assessed=["hinge pin"])
    assert headline(over).endswith("; 1 part of the load path not assessed")


def test_the_tightness_of_an_incomplete_rig_stays_visible():
    row = {**LINE, "verdict": "tight", "utilization": 0.93}
    found = about(row, verdict="incomplete", tight=True, highest_utilization=0.93, not_assessed=["hinge pin"])
    assert headline(found).endswith("1 part of the load path not assessed; tight: line link 2: lever hoist,"
                                    " working load limit, 93 %, packed")  # fmt: skip


def test_other_parts_that_are_over_are_counted():
    other = {**LINE, "part": "hinge pin"}
    assert why(about(LINE, checks=[LINE, other]))[-1] == "1 other check is over too; see the table."
    assert why(about(LINE, checks=[LINE, other, {**other, "mode": "shear"}]))[-1].startswith("2 other checks are over")


def test_nothing_to_say_is_said_in_one_word():
    assert headline(about(None, verdict="within")) == "WITHIN"
    assert why(about(None)) == []

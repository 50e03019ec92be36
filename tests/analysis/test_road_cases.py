"""Shipped rigs show what the top of their file says, and nothing else is over in them."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig

CASES = Path(__file__).parents[2] / "cases"


@pytest.fixture
def governing(request):
    found = assess(Rig(read_case(CASES / f"{request.param}.toml")))
    over = [one for one in found.worst if float(one.utilization) > 1.0]
    return found, over


@pytest.mark.parametrize("governing", ["tollgate-riffle"], indirect=True)
def test_the_count_of_tie_downs_governs(governing):
    found, over = governing
    assert [(one.check.part, one.check.mode) for one in over] == [("tie-downs", "number")]
    assert (float(over[0].demand), float(over[0].capacity)) == (3.0, 2.0)
    assert not np.any(found.stopped)


@pytest.mark.parametrize("governing", ["magpie-landing"], indirect=True)
def test_a_mark_near_to_what_breaks_it_is_over_and_takes_the_other_line_with_it(governing):
    """Pulled to 1,650 lb, marked 1,600: a quarter of 1,650 counts (four, the least of no standard), less 4 % wear."""
    found, over = governing
    assert {(one.check.part, one.check.mode) for one in over} == {
        ("line link 2: swivel, pulled in the shop", "working load limit"),
        ("line link 2: swivel, pulled in the shop", "breaking strength"),
    }
    by_mode = {one.check.mode: one for one in over}
    assert float(by_mode["working load limit"].capacity) == pytest.approx(1650.0 / 4.0 * 0.96)
    assert float(by_mode["breaking strength"].capacity) == pytest.approx(1650.0 * 0.96)
    assert found.solution.rows[int(by_mode["breaking strength"].state)].state == "line_broken"
    assert not np.any(found.stopped)


@pytest.mark.parametrize("governing", ["tollgate-riffle"], indirect=True)
def test_with_a_third_strap_nothing_is_over(governing):
    """As the top of the file says; 13 ft 2 in along the vehicle and its bunk ask for three."""
    text = (CASES / "tollgate-riffle.toml").read_text(encoding="utf-8")
    third = text[text.index("[[haul.tie_down]]") : text.rindex("[[haul.tie_down]]")]
    found = assess(Rig(read_case_text(text.replace("[[haul.stop]]", f"{third}[[haul.stop]]"))))
    assert float(found.utilization) <= 1.0
    assert not np.any(found.stopped)


WHAT_EACH_SHOWS = {
    "larkspur-bar": (set(), set()),
    "sawpit-bend": (set(), set()),
    "cinder-fork": ({"line link 2: lever hoist"}, set()),
    "heron-shelf": ({"plant on its feet"}, {"plant_tips"}),
    "kestrel-bench": ({"perch post base weld"}, set()),
    "lower-hatch": (set(), {"pull_only_holds"}),
    "magpie-landing": ({"line link 2: swivel, pulled in the shop"}, set()),
    "quarter-creek": ({"hinge pin"}, set()),
    "tollgate-riffle": ({"tie-downs"}, set()),
    "two-stone-pit": ({"line link 1: bow shackle at the hanger"}, set()),
    "windlass-flat": (set(), {"fold_slack_inward"}),
}
"""Parts that are over and findings that stop, of each rig that is not about a fold out of reach."""


@pytest.mark.parametrize("name", sorted(WHAT_EACH_SHOWS))
def test_a_rig_is_complete_and_over_by_what_its_file_says_alone(name):
    found = assess(Rig(read_case(CASES / f"{name}.toml")))
    over = {one.check.part for one in found.worst if float(one.utilization) > 1.0}
    stops = {flag.code for flag in found.flags if flag.stops}
    assert (over, stops) == WHAT_EACH_SHOWS[name]
    assert [one.text for one in found.not_assessed] == []


def test_a_box_with_perches_over_it_is_over_in_the_fold_alone():
    found = assess(Rig(read_case(CASES / "fallow-ditch.toml")))
    over = [one for one in found.worst if float(one.utilization) > 1.0]
    assert over
    assert {found.solution.rows[int(one.state)].state for one in over} == {"folding"}
    assert {flag.code for flag in found.flags if flag.stops} == {"dead_point", "fold_falls_outward"}
    assert [one.text for one in found.not_assessed] == []


def test_a_box_is_over_the_day_it_packs_and_on_no_other():
    """Hoists of cinder-fork at their worst in each state: over packed and dug out, not running or at clean-out."""
    rig = Rig(read_case(CASES / "cinder-fork.toml"))
    worst = {}
    for state in ("empty", "running", "surge", "plugged", "packed", "lopsided", "cleanout", "digout", "iced"):
        found = assess(rig, only=frozenset({state}))
        worst[state] = max(
            float(one.utilization) for one in found.worst if one.check.part == "line link 2: lever hoist"
        )
    assert {state for state, use in worst.items() if use > 1.0} == {"packed", "digout"}


def test_the_hardest_pull_of_low_perches_comes_at_the_end_of_the_fold():
    found = assess(Rig(read_case(CASES / "sawpit-bend.toml")))
    governing = found.worst[int(found.governing)]
    row = found.solution.rows[int(governing.state)]
    assert governing.check.part == "line link 2: lever hoist"
    assert (row.variant["while"], round(row.variant["fold_deg"])) == ("folding", 70)


def test_the_shackle_of_splayed_lines_holds_what_is_pulled_in_line():
    """7/16 in: 3,000 lb less 5 % wear holds the hoist's 2,400 lb (84 %); splayed it does not; 1/2 in does."""
    text = (CASES / "two-stone-pit.toml").read_text(encoding="utf-8")
    straight = assess(Rig(read_case_text(text.replace('spacing = "52 in"', 'spacing = "24 in"'))))
    link = "line link 1: bow shackle at the hanger"
    use = max(float(one.utilization) for one in straight.worst if one.check.part == link and not one.check.on_accidents)
    assert use == pytest.approx(2400.0 / (3000.0 * 0.95), rel=1e-3)
    larger = assess(Rig(read_case_text(text.replace('size = "7/16 in"', 'size = "1/2 in"'))))
    assert float(larger.utilization) <= 1.0


def test_a_plant_tips_with_a_packed_box_and_stands_with_a_running_one():
    """As the top of the file says: by its tail feet packed and dug out, cured by either change."""
    text = (CASES / "heron-shelf.toml").read_text(encoding="utf-8")
    found = assess(Rig(read_case_text(text)))
    over = [one for one in found.worst if float(one.utilization) > 1.0]
    assert [one.check.mode for one in over] == ["tipping toward the tail"]
    (stop,) = (flag for flag in found.flags if flag.stops)
    where = np.flatnonzero(np.broadcast_to(stop.where, found.solution.shape).any((-2, -1)))
    assert {found.solution.rows[int(i)].state for i in where} == {"packed", "digout"}
    farther = text.replace('downstream = "-7 in"', 'downstream = "9 in"')
    # 790 lb over the nose jack, at the height of the hinge, with 2780 lb at (-51, -5)
    loaded = text.replace('"2780 lb"', '"3570 lb"')
    loaded = loaded.replace('"-51 in"', f'"{(2780 * -51 + 790 * -131) / 3570} in"')
    loaded = loaded.replace('"-5 in"', f'"{2780 * -5 / 3570} in"')
    for cured in (farther, loaded):
        assert cured != text
        after = assess(Rig(read_case_text(cured)))
        assert float(after.utilization) <= 1.0 and not np.any(after.stopped)

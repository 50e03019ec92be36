"""Which stops keep the folded box from moving the way the vehicle drives (49 CFR 393.110: fewer straps then)."""

import pytest

from rigcheck.parts.tie_down.checks import blocked_forward, folded_checks, folded_flags
from tests.support.road_rig import BACK, STOP, hold, road_rig

FORWARD = {"head": "upstream", "tail": "downstream", "left": "left", "right": "right"}
"""The way the vehicle drives, by what goes first; upstream is toward the head."""
AGAINST = {"upstream": "downstream", "downstream": "upstream", "left": "right", "right": "left"}


@pytest.mark.parametrize("direction", ["upstream", "downstream", "left", "right", "up", "down"])
@pytest.mark.parametrize("leading", FORWARD)
def test_a_stop_blocks_what_it_pushes_against(leading: str, direction: str) -> None:
    rig = road_rig(BACK, stops=({**STOP, "direction": direction},), leading_end=leading)
    assert blocked_forward(rig) is (AGAINST[FORWARD[leading]] == direction)
    assert not blocked_forward(road_rig(BACK, leading_end=leading))


def test_each_set_of_the_road_names_its_paragraph() -> None:
    """49 CFR 393.102(a)(1) is of breaking strength and (a)(2) of working load limits (seen)."""
    straps = [one for one in folded_checks(hold(road_rig(BACK)), before=0) if one.part.startswith("tie-down 1")]
    assert {(one.ultimate, one.clause[: len("49 CFR 393.102(a)(1)")]) for one in straps} == {
        (True, "49 CFR 393.102(a)(1)"),
        (False, "49 CFR 393.102(a)(2)"),
    }


def test_what_lets_the_box_go_on_the_road_stops_and_what_is_only_said_does_not() -> None:
    stops = {one.code for one in folded_flags(hold(road_rig(BACK)), before=0) if one.stops}
    assert stops == {"parked_falls_outward", "parked_falls_inward", "road_unrestrained", "no_tie_downs"}


def test_the_weaker_steel_of_rail_and_box_counts_in_the_folded_rail() -> None:
    """A rail of A500B on a box of unknown steel yields where the unknown steel does."""

    def most(more: str) -> list[float]:
        rows = folded_checks(hold(road_rig(BACK, more=more)), before=0)
        return [float(one.capacity) for one in rows if one.part == "rail"]

    assert most('steel = "A500B"\n') == most("") and max(most("")) < 46.0e3


def test_the_widest_and_the_highest_load_of_the_road() -> None:
    """102 in wide (23 CFR 658.15) and 13 ft 6 in high (commonest state limit), both from memory."""
    rows = folded_checks(hold(road_rig(BACK, hinge_above_road="30 in")), before=0)
    limits = {one.mode: float(one.capacity.ravel()[0]) for one in rows if one.group == "envelope"}
    assert limits == {"overall width": 102.0, "overall height": 162.0}

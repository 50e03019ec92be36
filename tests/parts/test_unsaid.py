"""What a case leaves out without naming a part is said: no water, no tube at the head, no height on the road."""

import re
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import assumptions
from rigcheck.parts.unsaid import taken_in_place, water_not_assessed

CASE = (Path(__file__).parents[2] / "cases" / "larkspur-bar.toml").read_text(encoding="utf-8")


def without(text: str, *, table: str) -> str:
    """The case without one table."""
    return re.sub(rf"^\[{table}\]\n(?:[^\[\n].*\n|\n)*", "", text, flags=re.MULTILINE)


def rig_of(text: str) -> Rig:
    return Rig(read_case_text(text, name="unsaid"))


def test_a_plant_that_says_nothing_of_its_water_is_not_complete():
    assert water_not_assessed(rig_of(CASE)) == []
    found = assess(rig_of(without(CASE, table="water")), only=frozenset({"empty", "packed"}))
    (water,) = (one for one in found.not_assessed if one.id == "water.flow")
    assert "running, surge and plugged" in water and water.group == "line"


def test_a_plant_without_water_says_so():
    assert water_not_assessed(rig_of(re.sub(r'^flow = ".*"', 'flow = "0 gpm"', CASE, flags=re.MULTILINE))) == []


@pytest.mark.parametrize(
    ("end_tube", "defaulted"), [("", True), ('[end_tube]\nshape = "HSS2x2x1/8"\nhead = false\n', False)]
)
def test_without_a_tube_at_the_head_a_cross_member_is_said_to_carry_the_barrels(end_tube, defaulted):
    text = without(CASE, table="end_tube").replace("[cross_member]", f"{end_tube}[cross_member]")
    (told,) = (
        one for one in assumptions(assess(rig_of(text), only=frozenset({"empty"}))) if one["key"] == "end_tube.head"
    )
    assert "carries its barrels" in told["source"] and told["defaulted"] is defaulted
    assert all(one.key != "end_tube.head" for one in taken_in_place(rig_of(CASE), hauled=True))


def test_that_cross_member_is_checked_for_the_barrels():
    """Forces along the box twist it by the height of the hinge over it: with twice the height it is used more."""
    text = without(CASE, table="end_tube")
    uses = []
    for height in ("1 1/2 in", "3 in"):
        rig = rig_of(re.sub(r'(\[hinge\]\nheight = )".*"', rf'\1"{height}"', text))
        found = assess(rig, only=frozenset({"empty"}))
        uses.append(max(float(one.utilization) for one in found.worst if one.check.part == "head cross-member"))
        assert any(one.check.part == "hinge barrel face" for one in found.worst)
    assert 0.0 < uses[0] < uses[1]


def test_a_height_on_the_road_that_nobody_gave_is_said_where_the_box_is_hauled():
    bare = rig_of(re.sub(r"^hinge_above_road.*\n", "", CASE, flags=re.MULTILINE))
    keys = [[one.key for one in taken_in_place(rig, hauled=hauled)] for rig, hauled in
            ((bare, True), (bare, False), (rig_of(CASE), True))]  # fmt: skip
    assert keys == [["haul.hinge_above_road"], [], []]

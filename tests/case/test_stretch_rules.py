"""Stretches and joints that cannot be: a rule refuses what breaks it at its key, and takes what stands at its edge."""

import tomllib
from typing import Any

import pytest

from rigcheck.case import check_case
from rigcheck.case.errors import CaseError
from tests.support.whole_rig import starter_text

BOLTED = {"made": "bolted", "count": 4, "size": "1/2 in", "pitch": "2 in", "first": "1 in", "flange": "3/8 in"}
WELDED = {"made": "welded", "leg": "1/8 in"}


def refused(first: dict[str, Any], last: dict[str, Any], more: dict[str, dict[str, Any]]) -> set[str]:
    """Keys that are refused in a box 112 in long, 26 in wide, with sides 6 1/2 in high, in two stretches."""
    data = tomllib.loads(starter_text())
    data["stretch"] = [{"length": "56 in", **first}, {"length": "56 in", **last}]
    for table, keys in more.items():
        data.setdefault(table, {}).update(keys)
    try:
        check_case(data)
    except CaseError as error:
        return {problem.key for problem in error.problems}
    return set()


def joined(**keys: Any) -> dict[str, Any]:
    return {"joint": {key: value for key, value in ({**BOLTED, **keys}).items() if value is not None}}


@pytest.mark.parametrize(
    ("first", "last", "more", "keys"),
    [
        ({}, {}, {}, set()),
        ({"length": "55 in"}, {}, {}, {"box.length"}),
        ({"side_height": "6 in"}, {"side_height": "6 in"}, {}, {"box.side_height"}),
        ({}, {"side_height": "7 in"}, {}, {"box.side_height"}),
        ({"side_height": "5 in"}, {}, {}, set()),
        ({"width": "24 in"}, {"width": "24 in"}, {}, {"box.width"}),
        ({"width": "24 in"}, {"width": "26 in"}, {}, {"stretch[2].width"}),  # a step
        ({"width": "24 in", "width_tail": "26 in"}, {}, {"rail": {"effective_floor_width": "2 in"}}, set()),
        ({"width": "24 in", "width_tail": "26 in"}, {}, {"rail": {"spacing": "26 in"}}, {"rail.spacing"}),
        ({"side_height": "1 1/2 in"}, {}, {"bed": {"depth": "2 in"}}, {"stretch[1].side_height"}),
        ({"joint": WELDED}, {}, {}, {"stretch[1].joint"}),  # the first joins nothing
        # four bolts 2 in apart from 1 in up: the highest at 7 in; three inches over the higher side is the most
        ({}, joined(), {}, set()),
        ({}, joined(pitch="2 3/4 in"), {}, set()),  # 9 1/4 of 9 1/2 in
        ({}, joined(pitch="2 7/8 in"), {}, {"stretch[2].joint.pitch"}),  # 9 5/8 in
        ({"side_height": "5 in"}, joined(pitch="2 3/4 in"), {}, set()),  # a flange follows the higher side
        ({}, joined(pitch="1 in"), {}, set()),  # two diameters
        ({}, joined(pitch="15/16 in"), {}, {"stretch[2].joint.pitch"}),
        ({}, joined(size=None), {}, {"stretch[2].joint.size"}),
        ({}, joined(first=None), {}, {"stretch[2].joint.first"}),
        ({}, {"joint": {**WELDED, "count": 4, "flange": "3/8 in"}}, {},
         {"stretch[2].joint.count", "stretch[2].joint.flange"}),
        ({}, {"joint": {"made": "welded"}}, {}, {"stretch[2].joint.leg"}),
        ({}, {"joint": {**WELDED, "weld_length": "6 1/2 in"}}, {}, set()),
        ({"side_height": "6 in"}, {"joint": {**WELDED, "weld_length": "6 1/4 in"}}, {},
         {"stretch[2].joint.weld_length"}),  # longer than the lower wall
        ({"side_height": "6 1/4 in"}, {"joint": {**WELDED, "stiffener": True}}, {}, set()),
        ({"side_height": "6 in"}, {"joint": {**WELDED, "stiffener": True}}, {}, {"stretch[2].joint.stiffener"}),
        ({}, {}, {"tail_leg": {"at": "100 in"}}, {"tail_leg"}),
    ],
)  # fmt: skip
def test_a_rule_refuses_at_its_key(first, last, more, keys):
    assert refused(first, last, more) == keys

"""A box in stretches is worked by hand like any other: rails that run apart, their joints, members where they turn."""

import tomllib
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.calculation.book import Book
from rigcheck.calculation.calculation import section_by, worked_by
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.parts.joint.ways import JointWay
from rigcheck.parts.rail.ways import RailWay
from tests.calculation.test_working_checks import agrees, comes_to

CASE = Path(__file__).parents[1] / "outside" / "data" / "thistle-apron.toml"
THREE = [  # the hangers stand in the last one, which narrows
    {"length": "27 in", "width": "21 in", "width_tail": "33 in", "sheet": "3/16 in"},
    {"length": "44 in", "side_height": "8 in", "joint": {"made": "welded", "leg": "1/8 in", "floor": True}},
    {"length": "30 in", "side_height": "8 in", "width_tail": "27 in",
     "joint": {"made": "welded", "leg": "3/16 in", "stiffener": True, "floor": True}},
]  # fmt: skip
ASIDE = [{"name": "pump", "weight": "80 lb", "at": "15 in", "across": "9 in", "height": "6 in"}]
RIGS: dict[str, dict[str, Any]] = {
    "hangers in a taper": {"stretch": THREE, "fitting": ASIDE},
    "no members across": {"stretch": THREE, "cross_member": None, "end_tube": None},
}
WAYS = {
    "hangers in a taper": {JointWay.WELD, JointWay.TURN, RailWay.TOGETHER, RailWay.EDGE, "cross-member"},
    "no members across": {RailWay.STRESS},
}


@cache
def of(name: str) -> Assessment:
    data = tomllib.loads(CASE.read_text(encoding="utf-8"))
    for key, value in RIGS[name].items():
        if value is None:
            del data[key]
        else:
            data[key] = deepcopy(value)
    return assess(Rig(check_case(data)))


@pytest.mark.parametrize(("name", "ways"), WAYS.items())
def test_what_is_of_a_flared_box_alone_is_worked_where_it_is_worst(name, ways):
    """Forces in it come from its own free body: whatever the algebra has other than the check is refused."""
    wanted = [one for one in of(name).worst if one.check.way in ways or one.check.own_name in ways]
    worst = {one.check.way or one.check.own_name: one for one in sorted(wanted, key=lambda one: float(one.utilization))}
    assert worst.keys() == ways
    for one in worst.values():
        book = Book(of(name), among=lambda other, check=one.check: other is check)
        section = section_by(book, str(worked_by(one.check)))
        assert section.steps and all(agrees(step) for step in section.steps), one.check.part
        assert comes_to(section, float(one.utilization)), one.check.part

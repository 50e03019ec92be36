"""What stands beside the numbers of a worked page, and the one number on it that comes from a search."""

import math
import re
import tomllib
from copy import deepcopy
from types import SimpleNamespace

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.calculation import working
from rigcheck.calculation.lug_pull import arm_of
from rigcheck.calculation.post import buckling_angle
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from tests.calculation.working_rigs import CASES


def told(name: str, part: str, *, change) -> str:
    """One part of a shipped case worked, its data changed before."""
    data = tomllib.loads(next(path for path in CASES if path.stem == name).read_text(encoding="utf-8"))
    change(data)
    return " ".join(str(section.plain()) for section in working(assess(Rig(check_case(deepcopy(data)))), [part]))


def test_a_foot_without_a_name_is_told_by_its_number():
    # in the file: left and right jack at the tail, nose jack; over the edge of the first two the plant tips at its tail
    said = told("heron-shelf", "plant", change=lambda data: [foot.pop("name") for foot in data["plant"]["foot"]])
    assert re.findall(r"The edge runs from ([^.]*), downstream\.", said) == ["foot 2 to foot 1"]


@pytest.mark.parametrize(
    ("stand_off", "value", "words"),
    [(1.25, 1.25, "weld to hole"), (0.0, 2.0, "weld to hole, taken as the edge distance")],
)
def test_where_the_arm_of_a_lug_comes_from(stand_off, value, words):
    sizes = {"hanger.lug.stand_off": stand_off, "hanger.lug.edge": 2.0}
    spot = SimpleNamespace(solution=SimpleNamespace(rig=SimpleNamespace(number=sizes.__getitem__)))
    sheet = SimpleNamespace(given=lambda _, value, __, words: (value, words))
    assert arm_of(sheet, spot, end="hanger") == (value, words)


@pytest.mark.parametrize(
    ("joint", "hold", "angle"),
    # Timoshenko and Gere: a free post, 2.0 L, pi/2; a post fixed below and held at its top, least root of tan x = x
    [(0.7, 0.0, math.pi / 2.0), (1.0, 1e9, 4.493409457909064)],
)
def test_a_held_post_buckles_as_a_column_of_the_book(joint, hold, angle):
    assert buckling_angle(joint, hold=hold) == pytest.approx(angle, rel=1e-6)

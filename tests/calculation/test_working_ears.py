"""A hinge of ears worked by hand: pin, ears, welds and the tube under them, in single and in double shear."""

import tomllib

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.calculation.book import Book
from rigcheck.calculation.calculation import section_by, worked_by
from rigcheck.calculation.ear import PARTS
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from tests.parts.test_ears import EARS


@pytest.mark.parametrize("shear", ["double", "single"])
@pytest.mark.parametrize("on", ["nose", "top", None])
def test_every_check_of_ears_is_worked(shear, on):
    data = tomllib.loads(EARS)
    data["hinge"] = {**data["hinge"], "shear": shear, "barrel_on": on}
    data["hinge"] = {key: value for key, value in data["hinge"].items() if value is not None}
    checked = assess(Rig(check_case(data)))
    seen = set()
    for one in checked.worst:
        if one.check.part in PARTS:
            seen.add(one.check.part)
            assert worked_by(one.check) == "ear"
            section = section_by(Book(checked, among=lambda check, own=one.check: check is own), "ear")
            assert section.utilization == pytest.approx(float(one.utilization), rel=1e-12)
            assert section.steps[-1].result == pytest.approx(float(one.utilization), rel=1e-9)
    assert seen == set(PARTS)

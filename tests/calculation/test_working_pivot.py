"""A center pivot worked by hand: bar, ears, lug, welds, the tube, and the box off level or caught by one hoist."""

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.calculation.book import Book
from rigcheck.calculation.calculation import section_by, worked_by
from rigcheck.calculation.pivot import PARTS
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig
from tests.support.pivot_rig import changed


def test_every_check_of_a_pivot_and_what_stands_on_it_is_worked():
    checked = assess(Rig(read_case_text(changed(), name="pivot")))
    seen, bounds = set(), set()
    for one in checked.worst:
        if worked_by(one.check) not in ("pivot", "cross-member", "line"):
            continue
        section = section_by(Book(checked, among=lambda check, own=one.check: check is own), worked_by(one.check))
        if one.check.item in PARTS:
            seen.add(one.check.item)
            bounds.add(int(one.bound))
        assert section.utilization == pytest.approx(float(one.utilization), rel=1e-12)
        assert any(step.result == pytest.approx(section.utilization, rel=1e-9) for step in section.steps)
    assert seen == set(PARTS) and len(bounds) > 1

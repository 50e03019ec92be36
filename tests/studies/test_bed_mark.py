"""The bed mark is kept: nothing is over with it in the box, and something is with an eighth of an inch more."""

from pathlib import Path

import pytest

from rigcheck.case.reading import read_case, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.check.assess import assess
from rigcheck.studies.bed_mark import bed_mark
from rigcheck.studies.vary_case import with_values
from tests.whole_rig import starter_text

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))


def over_with(case, depth):
    return bool(assess(Rig(with_values(case, {"bed.depth": depth}))).over)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_mark_of_a_shipped_case_holds_and_an_eighth_more_does_not(path):
    case = read_case(path)
    mark = bed_mark(Rig(case))
    if mark.depth is None:
        assert over_with(case, 0.0) and mark.limit and mark.state
        return
    assert not over_with(case, mark.depth)
    assert mark.depth == case.box.side_height or over_with(case, min(mark.depth + 0.125, case.box.side_height))
    assert all(not over_with(case, share * mark.depth) for share in (0.0, 0.5))


def test_the_mark_of_a_rig_with_nothing_over_holds_over_all_its_depths():
    case = read_case_text(starter_text(), name="whole")
    assert not over_with(case, case.bed.depth)  # else nothing is tried here
    mark = bed_mark(Rig(case))
    assert mark.depth is not None and case.bed.depth <= mark.depth < case.box.side_height
    assert not any(over_with(case, share * mark.depth) for share in (0.0, 0.25, 0.5, 0.75, 1.0))
    assert over_with(case, mark.depth + 0.125) and mark.limit and mark.state
    assert mark.running is not None and mark.running >= mark.depth


def test_an_assessment_that_is_there_already_changes_nothing():
    case = read_case_text(starter_text(), name="whole")
    assert bed_mark(Rig(case), found=assess(Rig(case))) == bed_mark(Rig(case))


def test_what_is_over_without_any_bed_leaves_no_mark():
    case = read_case_text(starter_text(), name="whole")
    weak = with_values(case, {"line.link.2.wll": 300.0})
    mark = bed_mark(Rig(weak))
    assert mark.depth is None and "lever hoist" in mark.limit

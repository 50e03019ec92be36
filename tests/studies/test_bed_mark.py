"""The bed mark is kept: nothing is over with it in the box, and something is with an eighth of an inch more."""

from pathlib import Path

import pytest

from rigcheck.case.reading import read_case
from rigcheck.case.rig import Rig
from rigcheck.check.assess import assess
from rigcheck.studies.bed_mark import bed_mark
from rigcheck.studies.vary_case import with_values

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


def test_an_assessment_that_is_there_already_changes_nothing():
    case = read_case(CASES[3])
    assert bed_mark(Rig(case), found=assess(Rig(case))) == bed_mark(Rig(case))


def test_what_is_over_without_any_bed_leaves_no_mark():
    case = read_case(next(path for path in CASES if path.stem == "larkspur-bar"))
    weak = with_values(case, {"line.link.1.wll": 300.0})
    mark = bed_mark(Rig(weak))
    assert mark.depth is None and "lever hoist" in mark.limit


def test_the_running_box_alone_stands_more_and_never_less():
    for name in ("larkspur-bar", "sawpit-bend"):
        mark = bed_mark(Rig(read_case(next(path for path in CASES if path.stem == name))))
        assert mark.running is not None and (mark.depth is None or mark.running >= mark.depth)

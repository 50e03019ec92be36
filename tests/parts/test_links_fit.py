"""Links that do not fit into the line of a box that is never folded."""

import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.parts.fold.checks import fold_flags
from tests.parts.test_posts import BOX


@pytest.mark.parametrize(("closed", "fits"), [("13 in", True), ("120 in", False)])
def test_links_longer_than_the_line_are_told_without_a_fold(closed, fits):
    hoist = 'wll = "1500 lb"\n'
    solution = solve(Rig(read_case_text(BOX.replace(hoist, f'{hoist}headroom = "{closed}"\n'))))
    found = [flag for flag in fold_flags(solution) if flag.where.any()]
    assert [(flag.code, flag.stops) for flag in found] == ([] if fits else [("line_too_short", True)])

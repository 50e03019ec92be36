"""Folded and towed box: a lifted hinge is told, a bounce leaves lines slack, the road sees posts and tubes."""

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.rig import varied
from rigcheck.parts.line.geometry import hung_flags
from rigcheck.parts.tie_down.checks import folded_flags
from tests.support.road_rig import BACK, STOP, hold, road_rig

POST = """
[perch.post]
shape = "HSS4x4x1/4"
free_length = "20 in"
lug_offset = "{offset}"
"""


def test_a_hinge_that_is_lifted_on_the_road_is_told():
    found = hold(road_rig(BACK, stops=(STOP,)))
    flag = next(one for one in folded_flags(found, before=0) if one.code == "hinge_uplift")
    lifted = (found.restraint.hinge[..., 2] < 0.0).any(-1) & ~found.restraint.unrestrained
    up = next(i for i, one in enumerate(found.rows) if one.variant.get("direction") == "up")
    assert lifted[up]
    assert np.array_equal(flag.where[:, 0, 0], lifted) and not flag.stops


@pytest.mark.parametrize(("down", "snaps"), [(1.9, False), (2.0, True), (3.0, True)])
def test_a_bounce_as_hard_upward_as_downward_leaves_the_lines_slack(down, snaps):
    solution = solve(varied(road_rig(BACK), {"towing.vertical": np.array(down)}))
    flag = next(one for one in hung_flags(solution) if one.code == "slack_and_snap")
    rows = np.broadcast_to(flag.where, (len(solution.rows), 1, 1))[:, 0, 0]
    assert np.array_equal(rows, solution.states("towing") & snaps) and not flag.stops


def test_overall_width_is_over_posts_and_stiffeners():
    plain = road_rig(BACK, hinge_above_road="50 in")
    # 26 in inside, two walls of 12 ga, two stiffeners of 1 1/2 in; perches at 31 in are wider still
    assert float(hold(plain).envelope.width) == pytest.approx(31.0)
    posts = road_rig(BACK, more=POST.format(offset="1/2 in"), hinge_above_road="50 in")
    assert float(hold(posts).envelope.width) == pytest.approx(31.0 - 2.0 * 0.5 + 4.0)
    near = varied(plain, {"perch.spacing": np.array(20.0), "hanger.spacing": np.array(20.0)})
    assert float(hold(near).envelope.width) == pytest.approx(26.0 + 2.0 * (0.1046 + 1.5), abs=0.01)

"""Findings of the fold: signs of moment and arm, line length against links, re-hooks, posts in the way."""

import numpy as np
import pytest

from rigcheck.analysis.clearance import envelope, fouls, side_clearance
from rigcheck.analysis.solve import layout, solve
from rigcheck.assessment.assess import assess
from rigcheck.case.rig import varied
from rigcheck.parts.fold.checks import (
    BEHIND,
    DEAD,
    HELD,
    OUTWARD,
    SLACK,
    fold_flags,
    holding,
    kept,
    line_reach,
    re_hooks,
)
from rigcheck.statics.geometry import pose
from tests.statics.random_rigs import FOLDING, PLAIN, rig_of

HOIST = """
[[line.link]]
kind = "lever hoist"
wll = "2500 lb"
rated_to_suspend = true
lift = "50 in"
headroom = "14 in"
"""
POST = """
[perch.post]
shape = "HSS3x3x1/4"
free_length = "50 in"
"""


def hold_of(moment: float, *, arm: float, dead: bool = False) -> int:
    return int(holding(np.array([moment, 1000.0]), arm=np.array([arm, 30.0]), dead=np.array([dead, False]))[0])


@pytest.mark.parametrize(
    ("moment", "arm", "dead", "word"),
    [
        (800.0, 20.0, False, HELD),
        (-800.0, -20.0, False, BEHIND),
        (800.0, -20.0, False, OUTWARD),
        (-800.0, 20.0, False, SLACK),
        (800.0, 0.5, True, DEAD),
        (800.0, -0.5, True, DEAD),
        (-800.0, -0.5, True, DEAD),
        (-800.0, 0.5, True, SLACK),
        (0.0, 20.0, False, HELD),
        (0.0, -20.0, False, HELD),
    ],
)
def test_signs_of_moment_and_arm(moment, arm, dead, word):
    assert hold_of(moment, arm=arm, dead=dead) == word


def test_a_snub_line_keeps_only_a_box_that_leans_inward():
    moment = np.array([800.0, 800.0, -800.0, -800.0, -800.0])
    hold = np.array([OUTWARD, DEAD, SLACK, DEAD, BEHIND])
    assert kept(hold, moment=moment, snub=True).tolist() == [False, False, True, True, True]
    assert kept(hold, moment=moment, snub=False).tolist() == [False, False, False, False, True]


def test_the_snub_line_is_held_against_its_mark_where_the_lines_are_slack():
    marked = rig_of(FOLDING.replace("70 deg", "110 deg") + 'snub = true\nsnub_wll = "300 lb"\n')
    found = assess(marked, only=frozenset({"empty", "folding"}))
    use = next(one for one in found.worst if one.check.part == "snub line")
    solution = found.solution
    row = solution.rows[int(use.state)]
    weight, moment = solution.service.weight[int(use.state)], solution.service.moment[int(use.state), 1]
    dead = bool(solution.held.dead[int(use.state)])
    assert row.state == "folding" and moment < 0.0 and (dead or solution.pose.arm[int(use.state)] > 0.0)
    lever = float(np.hypot(marked.number("hanger.at"), marked.number("hanger.height") - marked.number("hinge.height")))
    assert float(use.demand) == pytest.approx(1.1 * -moment / lever, rel=1e-9) and 0.0 < float(use.demand) < weight
    assert float(use.utilization) == pytest.approx(float(use.demand) / 300.0, rel=1e-12)
    assert not any("snub" in part for part in found.not_assessed)


def test_a_snub_line_without_a_mark_is_not_assessed_where_the_fold_needs_it():
    def missing(text: str) -> bool:
        return any("snub line" in part for part in assess(rig_of(text)).not_assessed)

    assert missing(FOLDING.replace("70 deg", "110 deg") + "snub = true\n")
    assert not missing(FOLDING + "snub = true\n")  # never past its balance point
    assert not missing(FOLDING)


def test_line_reach_adds_links_in_a_row_and_the_closed_hoist():
    reach = line_reach(rig_of(FOLDING.replace("[water]", HOIST + "[water]")))
    assert float(reach.least) == pytest.approx(40.0 + 14.0)  # the rope, the hoist; the shackle has no length
    assert float(reach.take_up) == pytest.approx(50.0)
    assert reach.unmeasured == ("link 1: shackle",)
    assert not reach.lift_unknown


def test_a_hoist_on_the_lead_takes_up_parts_times_as_much():
    text = FOLDING.replace("[water]", HOIST + 'carries = "lead"\n[water]').replace("[line]", "[line]\nparts = 2")
    reach = line_reach(rig_of(text))
    assert float(reach.take_up) == pytest.approx(25.0)
    assert float(reach.least) == pytest.approx(40.0)


def test_without_travel_no_re_hook_is_counted_and_it_is_said():
    rig = rig_of(FOLDING)
    assert line_reach(rig).lift_unknown
    assert {flag.code for flag in fold_flags(solve(rig)) if np.any(flag.where)} >= {
        "lift_unknown",
        "line_length_unknown",
    }


def test_re_hooks():
    reach = line_reach(rig_of(FOLDING.replace("[water]", HOIST + "[water]")))
    assert re_hooks(np.array([0.0, 49.0, 50.0, 50.1, 100.0, 100.1]), reach=reach).tolist() == [0, 0, 0, 1, 1, 2]


def raised(rig) -> dict[str, np.ndarray]:
    """Codes that hold somewhere, with whether they stop."""
    return {flag.code: flag.stops for flag in fold_flags(solve(rig)) if np.any(flag.where)}


def test_no_finding_where_the_case_does_not_fold():
    assert not [flag for flag in fold_flags(solve(rig_of(PLAIN))) if flag.where.any()]


def test_a_low_forward_perch_falls_outward():
    rig = varied(rig_of(FOLDING), {"perch.downstream": 20.0, "perch.height": 36.0, "fold.to": np.radians(85.0)})
    assert raised(rig)["fold_falls_outward"]


def test_past_the_balance_point_the_box_falls_inward_unless_there_is_a_snub():
    changes = {"perch.downstream": -20.0, "perch.height": 90.0, "fold.to": np.radians(100.0)}
    assert raised(varied(rig_of(FOLDING), changes))["fold_slack_inward"]
    assert not raised(varied(rig_of(FOLDING + "snub = true\n"), changes))["fold_slack_inward"]


def test_line_too_short_and_re_hook():
    rig = varied(rig_of(FOLDING.replace("[water]", HOIST + "[water]")), {"fold.to": np.radians(85.0)})
    found = raised(rig)
    assert found["line_too_short"] and not found["rehook_needed"]
    longer = varied(rig, {"line.link.1.length": 1.0, "line.link.2.headroom": 1.0, "line.link.2.lift": 200.0})
    assert not {"line_too_short", "rehook_needed"} & set(raised(longer))


def test_hinge_uplift_is_said_once_the_box_is_on_its_way():
    rig = varied(rig_of(FOLDING), {"hanger.at": 25.0})
    assert "hinge_uplift" in raised(rig)


def upright(rig, *, floor: float):
    points = layout(rig)
    fold = np.array([np.radians(floor)]) + points.pitch
    return points, pose(points, fold=fold)


@pytest.mark.parametrize(("forward", "struck"), [(-6.0, True), (-8.2, True), (-9.4, False), (-14.0, False)])
def test_an_upright_box_reaches_back_by_its_side_height(forward, struck):
    # the sides stand 7 in behind the hinge, the post is 3 in deep and stands within the width of the box
    rig = varied(rig_of(FOLDING + POST), {"perch.downstream": forward, "perch.spacing": 29.0})
    points, at = upright(rig, floor=90.0)
    assert float(side_clearance(rig, layout=points)) < 0.0
    assert bool(fouls(rig, layout=points, at=at)[0][1][0]) is struck
    wide = varied(rig, {"perch.spacing": 40.0})
    assert not fouls(wide, layout=layout(wide), at=at)[0][1].any()


def test_without_a_post_only_the_perch_lug_counts():
    rig = varied(rig_of(FOLDING), {"perch.downstream": -6.0, "perch.height": 60.0, "perch.spacing": 29.0})
    points, at = upright(rig, floor=90.0)
    assert fouls(rig, layout=points, at=at)[0][1].all()
    low = varied(rig, {"perch.downstream": -7.5})
    assert not fouls(low, layout=layout(low), at=at)[0][1].any()


def test_a_knee_brace_in_the_way():
    brace = '[perch.post.brace]\nfoot_downstream = "20 in"\nfoot_below = "45 in"\ntop_below = "6 in"\n'
    brace += 'shape = "HSS2x2x1/8"\n'
    rig = varied(rig_of(FOLDING + POST + brace), {"perch.downstream": -20.0, "perch.spacing": 30.0})
    points, at = upright(rig, floor=90.0)
    found = dict(fouls(rig, layout=points, at=at))
    assert found["braces of the perch posts"].all() and not found["perch posts"].any()


def test_envelope_of_the_box():
    low, high, half = envelope(rig_of(FOLDING))
    assert float(low) == pytest.approx(-0.1046 - 1.5, abs=0.002)  # 12 ga floor, 1 1/2 in cross-members under it
    assert float(high) == 7.0
    assert float(half) == pytest.approx(13.5 + 0.1046 + 1.5, abs=0.002)

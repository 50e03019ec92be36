"""Backups when a line parts and when the box is folded, shackles on turned lugs, nobody on the box."""

import numpy as np
import pytest

from rigcheck.analysis.rows import worst
from rigcheck.analysis.solve import solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.line.checks import line_flags, link_checks, unrated
from tests.support import road_rig

RIG = """
title = "Dabchick Row, trial"
[box]
length = "104 in"
width = "25 in"
side_height = "6 in"
pitch = "1 1/2 in/ft"
sheet = "12 ga"
[hanger]
at = "68 in"
height = "6 in"
spacing = "27 in"
{lug}
[perch]
downstream = "-6 in"
height = "57 in"
spacing = "31 in"
[line]
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[[line.link]]
kind = "come-along"
wll = "2500 lb"
mbf = "10000 lb"
rated_to_suspend = false
{backup}
[person]
people = {people}
"""
LUG = """
[hanger.lug]
plate = "1/2 in"
hole = "11/16 in"
edge = "1 1/4 in"
width = "3 in"
turned = "{turned}"
"""
BACKUP = '[[line.backup]]\nkind = "chain"\nsize = "5/16 in"\ngrade = "80"\n'
MARKED = '[[line.backup]]\nkind = "rated part"\nwll = "3000 lb"\n'


def solved(*, backup="", lug="", people=1):
    return solve(Rig(read_case_text(RIG.format(backup=backup, lug=lug, people=people))))


def test_a_backup_is_held_against_the_peak_when_the_other_line_parts():
    solution = solved(backup=BACKUP)
    strong = next(one for one in link_checks(solution) if one.part.startswith("backup") and one.ultimate)
    allowed = solution.allowed & np.array([row.ultimate for row in solution.rows])[:, None]
    found = worst(strong, allowed=allowed, shape=solution.shape)
    lost = solution.states("line_broken")
    assert solution.rows[int(found.state)].state == "line_broken"
    assert float(found.demand) == pytest.approx(float(solution.demand.tension[lost].max()))
    assert float(found.utilization) > 0.0


def test_a_backup_with_more_than_a_quarter_inch_of_slack_is_a_drop():
    rig = solved(backup=BACKUP).rig
    found = line_flags(solve(varied(rig, {"line.backup_slack": np.array([0.0, 0.249, 0.251])})))
    (drop,) = (flag for flag in found if flag.code == "backup_drop")
    assert np.ravel(drop.where).tolist() == [False, False, True]


def test_a_backup_without_a_breaking_strength_is_told():
    assert any(text.startswith("backup link 1") for text in unrated(solved(backup=MARKED)))
    assert not any(text.startswith("backup") for text in unrated(solved(backup=BACKUP)))


def test_a_backup_cut_to_running_length_does_not_hold_the_parked_box():
    text = '[[line.link]]\nkind = "come-along"\nwll = "2500 lb"\nrated_to_suspend = false\n' + BACKUP
    solution = solve(Rig(read_case_text(_with(text))))
    parked = solution.states("parked")
    device = next(one for one in link_checks(solution) if one.part == "line link 2: come-along")
    backup = next(one for one in link_checks(solution) if one.part.startswith("backup"))
    stiff = BOUNDS.index("stiff")
    shape = solution.shape
    assert np.broadcast_to(device.where, shape)[parked][:, stiff].all()
    assert not np.broadcast_to(backup.where, shape)[parked][:, stiff].any()
    flag = next(one for one in line_flags(solution) if one.code == "pull_only_holds")
    assert np.broadcast_to(flag.where, shape)[parked][:, stiff].all()


def _with(text):
    """The text of the road rig with more links on its line."""
    straps = road_rig._table("[[haul.tie_down]]", road_rig.BACK) + road_rig._table("[[haul.stop]]", road_rig.STOP)
    head = road_rig.HEAD.replace('grade = "carbon"\n', 'grade = "carbon"\n' + text, 1)
    return head + '[fold]\nto = "90 deg"\n' + straps


def test_a_shackle_keeps_less_on_a_lug_that_is_turned_away_from_the_line():
    def capacity(lug):
        solution = solved(lug=lug)
        check = next(one for one in link_checks(solution) if one.part == "line link 1: shackle" and not one.ultimate)
        return float(check.capacity.reshape(-1)[0])

    plain = capacity("")
    assert capacity(LUG.format(turned="0 deg")) == plain
    # across the plate it pulls with u_y cos 30 + u_s sin 30, some 20 degrees: 70 % is kept
    assert capacity(LUG.format(turned="30 deg")) == pytest.approx(0.7 * plain)


def test_a_person_is_warned_of_hoists_and_of_no_other_part():
    """A line of rope and shackles holds people no more than steel does; only what can slip is warned of."""
    text = RIG.format(backup="", lug="", people=1)
    fixed = text.replace(text[text.index('[[line.link]]\nkind = "come-along"') : text.index("[person]")], "")
    codes = [{one.code for one in line_flags(solve(Rig(read_case_text(each))))} for each in (text, fixed)]
    assert "person_on_hung_box" in codes[0] and "person_on_hung_box" not in codes[1]


def test_a_pull_only_device_that_pulls_a_snagged_box_does_what_it_may():
    solution = solved()
    flag = next(one for one in line_flags(solution) if one.code == "pull_only_holds")
    where, snagged = np.broadcast_to(flag.where, solution.shape), solution.states("snagged")
    assert snagged.any() and not where[snagged].any() and where[~snagged].all()


@pytest.mark.parametrize("people", [0, 1])
def test_nobody_is_warned_of_a_person_where_there_is_none(people):
    solution = solved(people=people, backup=BACKUP)
    flag = next(one for one in line_flags(solution) if one.code == "person_on_hung_box")
    assert bool(flag.where.any()) is bool(people)

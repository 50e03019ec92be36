"""The window of a hoist: what the line needs and what a snagged box stands, each seen by the whole engine."""

import re
from dataclasses import replace

import numpy as np
import pytest

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.studies.hardware.base import Base
from rigcheck.studies.hardware.choices import choices_for
from rigcheck.studies.hardware.record import Choice
from rigcheck.studies.hoist_window.study import hoist_windows
from rigcheck.studies.vary.case import with_values

from .rigs import SOUND, case_of

STEP = 10.0  # lb: marks are told in such steps
RESERVE = 0.85  # the default of `factors.tight_above`
TUBES = """[end_tube]
shape = "HSS3x3x1/4"
head = true
tail = true
[cross_member]
steel = "A500C"
"""
STOUT = (
    SOUND.replace('stiffener = "HSS2x2x3/16"', 'stiffener = "HSS2x2x1/4"\nsteel = "A500C"')
    .replace("[cross_member]\n", TUBES)
    .replace("[hinge]\n", '[hinge]\nheight = "-1 5/8 in"\n')
)
HOISTED = STOUT.replace(
    'kind = "wire rope"',
    'kind = "lever hoist"\nwll = "2000 lb"\nrated_to_suspend = true\n[[line.link]]\nkind = "wire rope"',
    1,
)
WEAK = HOISTED.replace("HSS4x4x3/8", "HSS2x2x1/8").replace('weld = "3/8 in"', 'weld = "1/8 in"')


def without(text: str, *tables: str) -> str:
    """The case less some of its tables."""
    parts = re.split(r"(?m)^(?=\[)", text)
    return "".join(part for part in parts if part.partition("]")[0].strip("[") not in tables)


STEEL = ("rail", "cross_member", "end_tube", "hinge", "perch.lug", "perch.post")
LUG_ALONE = without(HOISTED, *STEEL)
ONLY_HOIST = """wear = "0 %"
[[line.link]]
kind = "lever hoist"
wll = "2000 lb"
rated_to_suspend = true
"""
HOIST = "line link 2: lever hoist"


def marked(text: str, pounds: float) -> Assessment:
    return assess(Rig(with_values(case_of(text), {"line.link.1.wll": pounds})))


def snagged(text: str, pounds: float) -> float:
    """Highest use of what a hoist at its full rating pulls at: the snagged box, and what is held to the rating."""
    rig = Rig(with_values(case_of(text), {"line.link.1.wll": pounds}))
    whole, stuck = assess(rig), assess(rig, only=frozenset({"empty", "snagged"}))
    uses = [one.utilization for one in whole.worst if one.check.snag]
    uses += [one.utilization for one in stuck.worst if one.check.part != HOIST and one.check.unit != "length"]
    return max(float(use) for use in uses)


def choice_of(rig: Rig) -> Choice:
    """What the shopping list says of the hoist."""
    (choice,) = choices_for(Base.of(rig, assess(rig), max_utilization=RESERVE), parts=frozenset({HOIST}))
    return choice


def own(found: Assessment) -> float:
    return max(float(one.utilization) for one in found.worst if one.check.part == HOIST)


@pytest.mark.parametrize("text", [HOISTED, LUG_ALONE], ids=["all described", "one lug"])
def test_at_the_largest_mark_nothing_is_over_and_one_step_more_is(text):
    (window,) = hoist_windows(assess(Rig(case_of(text))))
    assert window.most is not None and window.most % STEP == 0.0
    assert snagged(text, window.most) <= 1.0 < snagged(text, window.most + STEP)


def test_the_least_mark_keeps_the_reserve_and_one_step_less_does_not():
    (window,) = hoist_windows(assess(Rig(case_of(HOISTED))))
    assert own(marked(HOISTED, window.least)) <= RESERVE < own(marked(HOISTED, window.least - STEP))
    assert own(marked(HOISTED, window.needs)) == pytest.approx(1.0)


def test_a_lug_alone_stands_in_proportion():
    """Every row of a lug grows in proportion with the pull: the most is the mark over the use that it has."""
    (window,) = hoist_windows(assess(Rig(case_of(LUG_ALONE))))
    assert window.most == STEP * np.floor(2000.0 / snagged(LUG_ALONE, 2000.0) / STEP)
    assert window.limit[0].startswith("hanger lug")


@pytest.mark.parametrize("pounds", [600.0, 2000.0, 9000.0])
def test_the_window_does_not_hang_on_the_mark_that_is_there(pounds):
    (window,) = hoist_windows(marked(HOISTED, pounds))
    (other,) = hoist_windows(assess(Rig(case_of(HOISTED))))
    assert window.marked == pounds
    assert replace(window, marked=0.0, limit=()) == replace(other, marked=0.0, limit=())


def test_anchors_weaker_than_the_line_needs_leave_no_window():
    (window,) = hoist_windows(assess(Rig(case_of(WEAK))))
    assert window.empty and window.most is not None and window.needs > window.most
    assert own(marked(WEAK, window.most)) > 1.0 or snagged(WEAK, window.needs) > 1.0
    # what the line needs is told with what is kept in hand, as everywhere, since full use would open no window either
    assert own(marked(WEAK, window.least)) <= RESERVE < own(marked(WEAK, window.least - STEP))
    choice = choice_of(Rig(case_of(WEAK)))
    assert not choice.changes and "no hoist fits" in choice.note


def test_a_line_without_a_hoist_has_none_and_one_with_nothing_behind_it_has_no_most():
    assert hoist_windows(assess(Rig(case_of()))) == ()
    bare = without(LUG_ALONE, "hanger.lug", "line.link").replace('[line]\nwear = "5 %"\n', "[line]\n" + ONLY_HOIST)
    (window,) = hoist_windows(assess(Rig(case_of(bare))))
    assert window.most is None and not window.empty and window.least > 0.0


@pytest.mark.parametrize("pounds", [600.0, 2000.0, 9000.0])
def test_the_shopping_list_offers_a_hoist_inside_its_window_only(pounds):
    rig = Rig(with_values(case_of(HOISTED), {"line.link.1.wll": pounds}))
    (window,) = hoist_windows(assess(rig))
    choice = choice_of(rig)
    bought = choice.changes.get("line.link.1.wll", pounds)
    assert (choice.needs, choice.most) == (window.least, window.most)
    assert window.least <= bought <= window.most

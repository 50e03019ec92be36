"""What nobody could assess: each entry knows what it is of, and the most decisive stands first."""

from pathlib import Path

import pytest

from rigcheck.analysis.missing import DECIDES, Missing, ranked
from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case, read_case_text
from rigcheck.case.rig import Rig

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
BARE = """
title = "bare"
[box]
length = "9 ft 3 in"
width = "27 in"
side_height = "7 in"
pitch = "1 1/4 in/ft"
sheet = "12 ga"
[hinge]
height = "0 in"
spacing = "25 in"
[hanger]
at = "6 ft 2 in"
height = "7 in"
spacing = "30 in"
[perch]
downstream = "-9 in"
height = "86 in"
spacing = "38 in"
[[line.link]]
kind = "lever hoist"
wll = "2000 lb"
rated_to_suspend = true
lift = "9 ft"
headroom = "14 in"
"""


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_every_entry_of_a_shipped_case_has_an_id_of_its_own_and_a_group(path):
    found = assess(Rig(read_case(path))).not_assessed
    assert all(one.id and one.group in DECIDES for one in found)
    assert len({one.id for one in found}) == len(found)


def test_what_the_box_hangs_from_stands_before_floor_and_road():
    found = assess(Rig(read_case_text(BARE, name="bare"))).not_assessed
    ids = [one.id for one in found]
    assert ids.index("hanger.lug") < ids.index("perch.post") < ids.index("hinge.pin") < ids.index("rail")
    assert ids.index("rail") < ids.index("cross_member") < ids.index("fold.to")
    assert found[-1].id == "line.link.0.mbf" and found[-1].accident  # at work the link is rated


def test_each_is_told_once():
    one = Missing("perch post", id="perch.post", group="perch")
    assert ranked([one, Missing("perch post", id="perch.post", group="perch")]) == [one]

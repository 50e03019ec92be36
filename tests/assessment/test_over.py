"""Over is what is stopped or used too much, each by itself."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from rigcheck.assessment.assess import _masks, assess
from rigcheck.assessment.verdict import rig_word, verdict
from rigcheck.case import read_case
from rigcheck.case.rig import Rig

CASE = Path(__file__).parents[2] / "cases" / "larkspur-bar.toml"


def test_a_stop_and_a_use_over_one_are_each_enough():
    sound = assess(Rig(read_case(CASE)))
    assert not sound.over and not sound.stopped
    assert replace(sound, stopped=np.asarray(True)).over
    assert replace(sound, utilization=np.asarray(1.0 + 1e-9)).over
    assert not replace(sound, utilization=np.asarray(1.0)).over
    assert verdict(replace(sound, stopped=np.asarray(True))).word == "over"


def test_no_row_is_held_against_both_working_values_and_strength():
    """A row in which a line parts is an accident, every other one that applies is work."""
    solution = assess(Rig(read_case(CASE))).solution
    working, accident = _masks(solution)
    parted = np.array([row.state == "line_broken" for row in solution.rows])
    assert working.any() and accident.any() and not (working & accident).any()
    assert not working[parted].any() and not accident[~parted & ~solution.states("hauling")].any()


def test_the_gravest_word_stands():
    assert rig_word(over=True, complete=False, tight=True) == "over"
    assert rig_word(over=False, complete=False, tight=True) == "incomplete"
    assert rig_word(over=False, complete=True, tight=True) == "tight"
    assert rig_word(over=False, complete=True, tight=False) == "within"

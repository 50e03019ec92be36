"""Ratings of shackles, hooks, turnbuckles, eyebolts and chain."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.tables import TableError, hardware
from rigcheck.tables.link_kinds import LINK_KINDS, LinkKind


def test_shackles_grow_and_alloy_is_above_carbon():
    last = 0.0
    for size in hardware.shackle_sizes():
        one = hardware.shackle(size)
        assert one.wll > last
        last = one.wll
        assert one.mbf == 5.0 * one.wll
        assert size < one.pin_diameter < one.inside_width
    for size in hardware.shackle_sizes("alloy"):
        assert hardware.shackle(size, grade="alloy").wll > hardware.shackle(size).wll


@pytest.mark.parametrize(("size", "pin"), [(0.5, 0.625), (0.375, 0.4375), (0.25, 0.31), (0.75, 0.875), (1.5, 1.625)])
def test_pins_printed_to_two_places_are_not_taken_larger_than_they_are(size, pin):
    assert hardware.shackle(size).pin_diameter == pin


def test_unmarked_shackle_is_far_below_a_marked_one():
    for size in hardware.shackle_sizes():
        assert hardware.unmarked_shackle(size) < hardware.shackle(size).wll


@pytest.mark.parametrize(
    ("angle", "left"), [(0, 1.0), (5, 1.0), (5.1, 0.70), (-30, 0.70), (45, 0.70), (46, 0.50), (90, 0.50), (91, 0.0)]
)
def test_shackle_pulled_sideways(angle, left):
    assert hardware.shackle_side_fraction(angle) == left


@pytest.mark.parametrize(
    ("angle", "left"),
    [(0, 1.0), (5, 1.0), (6, 0.80), (15, 0.80), (16, 0.65), (-31, 0.30), (60, 0.25), (90, 0.25), (91, 0.0)],
)
def test_eyebolt_pulled_off_its_axis(angle, left):
    assert hardware.eyebolt_angle_fraction(angle) == left


def test_plain_eyebolt_is_for_straight_pull_only():
    assert hardware.eyebolt_angle_fraction(5.0, shoulder=False) == 1.0
    assert hardware.eyebolt_angle_fraction(10.0, shoulder=False) == 0.0


@given(st.floats(0.0, 120.0), st.floats(0.0, 60.0))
def test_a_worse_angle_never_helps(angle, more):
    for fraction in (hardware.shackle_side_fraction, hardware.eyebolt_angle_fraction):
        assert fraction(angle + more) <= fraction(angle)


def test_turnbuckle_hook_end_is_the_weaker():
    for size in (0.25, 0.375, 0.5, 0.75, 1.0):
        assert hardware.turnbuckle(size, end="hook").wll < hardware.turnbuckle(size, end="jaw").wll
    assert hardware.turnbuckle(0.5, end="eye").wll == 2200.0
    assert "4000 lb" in hardware.turnbuckle(0.75, end="jaw").note
    with pytest.raises(TableError, match="jaw, eye, hook"):
        hardware.turnbuckle(0.5, end="stub")


def test_eyebolts():
    assert (hardware.eyebolt(0.5).wll, hardware.eyebolt(0.5).mbf) == (1840.0, 9200.0)
    assert hardware.eyebolt_most(0.5) == 2600.0  # a maker's own figure (seen)
    with pytest.raises(TableError, match=r"nearest: 0\.5 in"):
        hardware.eyebolt(0.55)


def test_hooks_go_by_their_rating():
    found = hardware.hook(4000.0)
    assert (found.wll, found.mbf, found.inside_width) == (4000.0, 20000.0, 1.12)
    assert hardware.hook(3000.0, grade="alloy").inside_width == 0.97
    with pytest.raises(TableError, match="1500 lb, 2000 lb"):
        hardware.hook(1234.0)
    with pytest.raises(TableError, match="carbon, alloy"):
        hardware.hook(4000.0, grade="brass")


def test_only_alloy_chain_may_hold_a_load_up():
    allowed = [grade for grade in hardware.CHAIN_GRADES if hardware.chain(0.375, grade=grade).lifting_allowed]
    assert allowed == ["80", "100"]
    assert "not for overhead lifting" in hardware.chain(0.375, grade="70").note


@pytest.mark.parametrize("grade", ["80", "g80", "Grade 80", " G80 "])
def test_ways_of_writing_a_chain_grade(grade):
    assert hardware.chain(0.3125, grade=grade).wll == 4500.0


def test_chain_breaking_force_by_grade():
    assert hardware.chain(0.375, grade="43").mbf == 3.0 * 5400.0
    assert hardware.chain(0.375, grade="80").mbf == 4.0 * 7100.0


def test_chain_that_is_not_listed():
    assert 0.28125 in hardware.chain_sizes("80")
    with pytest.raises(TableError, match="30, 43, 70, 80, 100"):
        hardware.chain(0.375, grade="79")
    with pytest.raises(TableError, match="grade 80 chain"):
        hardware.chain(0.25, grade="80")
    with pytest.raises(TableError, match="carbon, alloy"):
        hardware.shackle(0.5, grade="8")


def test_every_kind_of_link_has_its_record_and_its_least_design_factor():
    """The word of a case, what it is and the factor of its standard: a kind without one of them would end in a bug."""
    assert list(LINK_KINDS) == list(get_args(LinkKind))
    assert all(4.0 <= hardware.least_design_factor(kind) <= 5.0 for kind in LINK_KINDS)
    assert all(what.marked for what in LINK_KINDS.values() if what.hoist)

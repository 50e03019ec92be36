"""Formulas of the field study by numbers that are worked by hand."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.loads.pieces import Strip
from rigcheck.studies.field import reduce, tension
from rigcheck.studies.field.lines import carried_error, drawn_out
from rigcheck.studies.field.model import Model, _moment_of, water_moment
from rigcheck.studies.field.readings import LoadCell, Readings, SidePull
from rigcheck.studies.field.record import Result, What, result_of

from .rigs import SOUND, rig_of


def test_two_offsets_drawn_out_to_none():
    """120 lb at 0.2 in and 135 lb at 0.4 in: (120 x 0.16 - 135 x 0.04)/(0.16 - 0.04) = 115 lb."""
    assert float(drawn_out([120.0, 135.0], offsets=[0.2, 0.4])) == pytest.approx(115.0)


def test_either_line_has_half_of_the_moment_over_the_arm():
    """9,000 lb in at 45 in: 200 lb, 100 a line."""
    assert Model.tension.fget(SimpleNamespace(moment=9000.0, arm=45.0)) == pytest.approx(100.0)


def test_the_moment_of_a_wedge_along_the_floor_by_hand():
    """From 10 to 30 in, 2 to 5 lb/in, its middle 1 to 3 in above the floor, the hinge 1 1/2 in below it.

    It weighs 70 lb. Along: 70 x 10 + (2 + 2 x 5) 20^2/6 = 1,500 lb in. Up, with t from 0 to 1:
    20 times the integral of (2 + 3 t)(1 + 2 t), 2 + 7/2 + 2, which is 150, and 70 x 1.5 more: 255 lb in.
    """
    rig = SimpleNamespace(number=lambda key: np.asarray({"box.pitch": 0.1, "hinge.height": -1.5}[key]))
    wedge = Strip(start=10.0, end=30.0, w_start=2.0, w_end=5.0, n_start=1.0, n_end=3.0)
    by_hand = 1500.0 * 0.9950042 + 255.0 * 0.0998334
    assert float(_moment_of(rig, strips=[wedge])) == pytest.approx(by_hand, rel=1e-7)
    assert float(_moment_of(rig, strips=[wedge, wedge])) == pytest.approx(2.0 * by_hand, rel=1e-7)


MODEL = SimpleNamespace(arm=45.0, moment=9000.0, tension=100.0)
NO_WATER = Result(what=What.WATER, how="", value=0.0, error=0.0, expected=0.0, dimension="moment")


def read(what, value, *, error=1.0, dimension="force"):
    return Result(what=What(what), how="load cell", value=value, error=error, expected=0.0, dimension=dimension)


@pytest.mark.parametrize(
    ("lines", "how", "value"),
    [
        ({"left": 90.0, "right": 95.0}, "both line tensions times the lever arm", 8325.0),  # 185 lb at 45 in
        ({"left": 90.0}, "one line's tension, twice", 8100.0),
        ({"right": 95.0}, "one line's tension, twice", 8550.0),
        ({"each": 92.0}, "one line's tension, twice", 8280.0),
    ],
)
def test_the_moment_that_lines_hold_says_of_how_many(lines, how, value):
    some = [read(f"{side} tension", force) for side, force in lines.items()]
    (found,) = reduce._by_lines(MODEL, readings=Readings(), water=NO_WATER, lines=some)
    assert (found.how, found.value, found.dimension) == (how, pytest.approx(value), "moment")


def test_the_moment_of_a_lift_before_and_after_a_fill():
    """100 and 180 lb at 90 in, 6,000 lb in of water: 9,000 before it and 16,200 less the water after it."""
    water = Result(what="water", how="", value=6000.0, error=60.0, expected=6000.0, dimension="moment")
    told = Readings(tail_lift=(100.0, 180.0), at=90.0, water_fill=4.0)
    before, after = reduce._by_tail(MODEL, readings=told, water=water, lines=[], remarks=[])
    assert (before.value, after.value) == pytest.approx((9000.0, 10200.0))
    # 2 % of the force, an eighth of an inch, and what the water may be off
    assert before.error == pytest.approx(np.hypot(2.0 * 90.0, 0.125 * 100.0), rel=1e-6)
    assert after.error == pytest.approx(np.sqrt((3.6 * 90.0) ** 2 + (0.125 * 180.0) ** 2 + 60.0**2), rel=1e-6)
    assert {one.dimension for one in (before, after)} == {"moment"}


def test_the_moment_of_a_lift_while_the_lines_carry():
    """50 lb at 90 in and 90 and 95 lb in the lines at 45 in: 4,500 and 8,325 lb in; each of the four may be off."""
    lines = [read("left tension", 90.0, error=3.0), read("right tension", 95.0, error=4.0)]
    told = Readings(tail_lift=(50.0,), at=90.0, lines_carry=True)
    (found,) = reduce._by_tail(MODEL, readings=told, water=NO_WATER, lines=lines, remarks=[])
    assert found.value == pytest.approx(12825.0)
    parts = (1.0 * 90.0, 0.125 * 50.0, 5.0 * 45.0, 0.125 * 185.0)  # the lines together are off by hypot(3, 4)
    assert found.error == pytest.approx(np.sqrt(sum(part**2 for part in parts)), rel=1e-6)


@pytest.mark.parametrize(("carry", "expected"), [(False, 9600.0 / 90.0), (True, 5100.0 / 90.0)])
def test_what_a_line_is_expected_to_hold(carry, expected):
    """9,000 lb in of the box and 600 of water, over both lines at 45 in; less 50 lb at 90 in where they carry."""
    told = Readings(load_cell=(LoadCell(force=60.0, side="left"),), tail_lift=(50.0,), at=90.0, lines_carry=carry)
    (found,) = tension.line_tensions(MODEL, readings=told, water=600.0, remarks=[])
    assert (found.what, found.value, found.dimension) == ("left tension", 60.0, "force")
    assert found.expected == pytest.approx(expected) and found.error == pytest.approx(1.2)


def test_a_sag_that_cannot_be_read_says_what_it_would_be():
    """0.4 lb/in over 60 in at 100 lb: 0.4 x 60^2/(8 x 100) = 1.8 in."""
    model = SimpleNamespace(line_length=60.0, line_angle=0.0, line_weight=0.4)
    like = read("each tension", 0.0)
    remarks = []
    (found,) = tension._sagging(model, readings=Readings(sag=0.05), like=replace(like, expected=100.0), remarks=remarks)
    assert not found.usable and [one.code for one in remarks] == ["sag_too_small"]
    assert "a sag of 0.05 in" in remarks[0].text and "it is 1.8 in" in remarks[0].text
    # pulled aside as well, the span is the one that was taped then: 1.8 in at 72 in is 144 lb
    taped = Readings(sag=1.8, side_pull=(SidePull(force=9.0, offset=1.0, span=72.0),))
    (found,) = tension._sagging(model, readings=taped, like=like, remarks=remarks)
    assert found.value == pytest.approx(0.4 * 72.0**2 / (8.0 * 1.8))
    nothing = SimpleNamespace(line_length=60.0, line_angle=0.0, line_weight=None)
    assert tension._sagging(nothing, readings=Readings(sag=1.8), like=like, remarks=remarks) == []
    assert remarks[-1].code == "line_weight_unknown"


def test_a_pull_on_a_box_that_rests_wants_to_know_how_the_line_stretches():
    pulls, remarks = [SidePull(force=8.0, offset=1.0, span=60.0)], []
    model = SimpleNamespace(stiffness=None)
    (found,) = tension._pulled(model, pulls=pulls, readings=Readings(rests=True), like=read("left tension", 0.0),
                               remarks=remarks)  # fmt: skip
    assert [one.code for one in remarks] == ["stretch_unknown"]
    assert found.value == pytest.approx(8.0 * np.sqrt(60.0**2 - 4.0) / 4.0)  # as on a hanging box
    # with 9,000 lb/in: less what stretches it by sqrt(60^2 + 2^2) - 60 = 0.0333 in, 300 lb, is nothing left
    remarks.clear()
    tension._pulled(SimpleNamespace(stiffness=9000.0), pulls=pulls, readings=Readings(rests=True),
                    like=read("left tension", 0.0), remarks=remarks)  # fmt: skip
    assert [(one.code, one.spoils) for one in remarks] == [("pull_means_nothing", True)]


def test_lines_without_an_arm_tell_nothing_of_a_moment():
    found = reduce.reduce(rig_of(), readings=Readings(load_cell=(LoadCell(force=400.0),), weight=300.0, arm=0.0))
    assert [(one.code, one.spoils) for one in found.remarks] == [("dead_point", True)]
    assert found.moment is None and found.tension.value == 400.0 and found.weight.dimension == "force"


@pytest.mark.parametrize(("apart", "told"), [(430.0, []), (450.0, ["readings_disagree"])])
def test_readings_disagree_beyond_twice_what_both_may_be_off(apart, told):
    """Off by 120 and 180: 216 together, so 433."""
    moments = [read("moment", 9000.0, error=120.0), read("moment", 9000.0 + apart, error=180.0)]
    remarks = []
    reduce._disagreement(moments, remarks=remarks)
    assert [one.code for one in remarks] == told


def test_the_tension_that_follows_from_a_moment():
    (found,) = reduce._from_moments(MODEL, moments=[read("moment", 9000.0, dimension="moment")], readings=Readings())
    assert (found.value, found.expected, found.dimension) == (pytest.approx(100.0), 100.0, "force")


def test_scale_and_tape_are_checked_by_water_whose_moment_is_known():
    """100 lb before and 180 lb after a fill, lifted at 90 in: 7,200 lb in of a water of 6,000 reads 1.2 times high."""
    water = Result(what=What.WATER, how="", value=6000.0, error=60.0, expected=6000.0, dimension="moment")
    told = Readings(tail_lift=(100.0, 180.0), at=90.0, water_fill=4.0)
    (found,) = reduce._scale_check(told, water=water)
    assert found.value == pytest.approx(1.2)
    # 2 % of each force, 1/8 in of 90, 1 % of the water: 1.2 sqrt((2^2 + 3.6^2)/80^2 + (1/720)^2 + 0.01^2)
    assert found.error == pytest.approx(1.2 * np.sqrt(0.05148**2 + 0.0013889**2 + 0.01**2), rel=1e-3)


def test_still_water_in_a_box_that_is_cut_is_that_of_the_whole():
    """89 in, cut at 60: a pool of 5 in at the tail is 44 in long and lies in both, one of 2 in in the last alone."""
    cut = rig_of(SOUND + '[[stretch]]\nlength = "60 in"\n[[stretch]]\nlength = "29 in"\n')
    depths = np.array([0.5, 2.0, 5.0])
    np.testing.assert_allclose(water_moment(cut, depths=depths), water_moment(rig_of(), depths=depths), rtol=1e-9)


@pytest.mark.parametrize(("error", "usable"), [(49.9, True), (50.2, False)])
def test_what_is_in_doubt_by_more_than_half_tells_nothing(error, usable):
    like = Result(what=What.WEIGHT, how="", value=0.0, error=0.0, expected=0.0, dimension="force")
    assert result_of(lambda force: np.asarray(force), [(100.0, error)], like=like).usable is usable


def test_an_error_is_that_of_the_slope_at_the_reading():
    """x^3 at 2 has slope 12: an error of 0.1 is one of 1.2."""
    error = carried_error(lambda x: np.asarray(x**3), readings=[2.0], errors=[0.1])
    assert float(error) == pytest.approx(1.2, rel=1e-6)


@pytest.mark.parametrize(
    ("given", "options"),
    [
        ({}, [""]),
        ({"tail_lift": (90.0,)}, ["--at"]),
        ({"tail_lift": (90.0,), "at": 80.0}, []),
        ({"weight": 400.0}, []),
        ({"sag": 0.4}, []),
        ({"load_cell": (LoadCell(force=400.0),)}, []),
        ({"at": 80.0}, [""]),
        ({"weight": 400.0, "state": "packed"}, ["--weight"]),
        ({"load_cell": (LoadCell(force=400.0),), "state": "packed", "water_fill": 4.0}, ["--water-fill"]),
        ({"weight": 400.0, "water_fill": 4.0}, ["--water-fill"]),
        ({"tail_lift": (90.0, 95.0), "at": 80.0}, ["--tail-lift"]),
        ({"tail_lift": (90.0, 95.0), "at": 80.0, "water_fill": 4.0}, []),
        ({"side_pull": (SidePull(force=9.0, offset=15.0, span=60.0),)}, ["--offset"]),
        ({"side_pull": (SidePull(force=9.0, offset=14.9, span=60.0),)}, []),
    ],
)
def test_readings_that_do_not_go_together_are_told_by_their_option(given, options):
    assert [option for option, _ in Readings(**given).problems()] == options

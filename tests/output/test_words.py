"""Numbers in text are never rounded toward danger, and words say what varies."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.wording.scale import Scale
from rigcheck.wording.words import bound_word, case_word, number, percent, state_opening, variant_words

MAGNITUDES = st.floats(1e-6, 1e8)


def value_of(text: str) -> float:
    return float(text.partition(" ")[0].replace(",", ""))


@given(MAGNITUDES, st.sampled_from(["lbf", "in", "psi", "deg", ""]))
def test_demands_are_not_rounded_down_nor_capacities_up(value, unit):
    up, down = value_of(number(value, unit=unit, rounding="up")), value_of(number(value, unit=unit, rounding="down"))
    assert down <= value * (1.0 + 1e-9) and value * (1.0 - 1e-9) <= up
    assert up - down <= 0.011 * value


@given(st.floats(0.0, 10.0))
def test_percent_is_not_rounded_down(use):
    shown = value_of(percent(use))
    assert use * 100.0 - 1e-6 <= shown < use * 100.0 + 1.0


@given(st.floats(10.0, 1e300, exclude_min=True))
def test_past_ten_times_no_digit_is_shown_and_none_is_less(use):
    assert percent(use) == "over 1,000 %"


def test_a_snagged_box_is_the_load_case_of_a_hoist_at_its_full_rating():
    row = {"state": "folding", "snag": True}
    assert (case_word(row), case_word(row, short=True)) == ("box snagged (folding)", "box snagged")
    assert case_word({"state": "folding", "snag": False}) == "folding"
    assert case_word({"state": "snagged", "snag": True}) == "box snagged"


def test_percent_of_a_use_at_its_limit():
    assert [percent(use) for use in (1.0, 1.0000001, 0.85, 12.3456)] == ["100 %", "101 %", "85 %", "over 1,000 %"]
    assert percent(None) == "beyond"


@pytest.mark.parametrize(
    ("value", "unit", "rounding", "text"),
    [
        (2524.2, "lbf", "up", "2,525 lb"),
        (2524.9, "lbf", "down", "2,524 lb"),
        (12345.6, "lbf*in", "up", "12,350 lb*in"),
        (1500.0, "N", "nearest", "1.5 kN"),
        (0.03841, "in", "up", "0.0385 in"),
        (-1234.5, "lbf", "nearest", "-1,234 lb"),
        (-0.25, "in", "nearest", "-0.25 in"),
        (0.0, "lbf", "up", "0 lb"),
        (1.0, "", "down", "1"),
    ],
)
def test_numbers_as_they_are_shown(value, unit, rounding, text):
    assert number(value, unit=unit, rounding=rounding) == text


def test_no_value_is_a_dash():
    assert number(None, unit="lbf") == "-"


def test_what_varies_in_words():
    variant = {"person_side": "left", "person_s": 112.0, "low_side": "right"}
    assert variant_words(variant, unit="in", short=True) == "person left at 112 in, leans right"
    assert (
        variant_words(variant, unit="in") == "weight on the left rail, 112 in from the hinge, the plant leaning right"
    )
    assert variant_words({"fold_deg": 92.4}, unit="in", short=True) == "at 92.4 deg"
    assert variant_words({"new_thing": "odd_word", "gust_n": 3.0, "speed": 2.0}, unit="mm") == (
        "new thing odd word, gust n 3 mm, speed 2"
    )
    assert variant_words(None, unit="in") == ""


def test_each_way_of_sharing_by_its_name():
    """A limp box is free to twist and a stiff one rigid: the one for the other turns the meaning round."""
    ways = {"limp": "free to twist", "stiff": "torsionally rigid", "loose": "hinge free in roll",
            "one_line": "one line alone", "lost": "one line broken"}  # fmt: skip
    assert {way: bound_word(way) for way in ways} == ways
    assert not any(bound_word(way, state="hauling") for way in ways)


def test_places_of_a_row_are_lengths_and_all_else_is_not():
    """100 in are 2,540 mm; a share and a word stay what they are."""
    row = {"person_s": 100.0, "share": 0.5, "side": "left"}
    assert Scale("si").variant(row) == {"person_s": pytest.approx(2540.0), "share": 0.5, "side": "left"}
    assert Scale().variant({}) is None


def test_unknown_states_and_bounds_have_words():
    assert state_opening("spring_melt") == "In the load case spring melt"
    assert bound_word("two_lines") == "two lines" and bound_word(None) == ""

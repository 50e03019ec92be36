"""Road rules as arithmetic, against the look-ups one by one."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.connections import tiedown as rules
from rigcheck.tables import tiedown

LENGTHS = np.array([1.0, 59.9, 60.0, 60.1, 119.9, 120.0, 120.1, 240.0, 240.1, 400.0])


@pytest.mark.parametrize("weight", [900.0, 1100.0, 1100.1, 5000.0])
@pytest.mark.parametrize("blocked", [True, False])
def test_number_is_the_look_up_for_each_length(weight, blocked):
    one_by_one = [tiedown.least_number(x, weight=weight, blocked_forward=blocked).value for x in LENGTHS]
    assert rules.least_number(LENGTHS, weight=weight, blocked=blocked).tolist() == one_by_one


@given(st.floats(1.0, 600.0), st.floats(1.0, 5000.0), st.booleans())
def test_blocked_never_needs_more(length, weight, blocked):
    free = rules.least_number(length, weight=weight, blocked=False)
    assert rules.least_number(length, weight=weight, blocked=True) <= free
    assert rules.least_number(length, weight=weight, blocked=blocked) >= 1.0


def test_aggregate_and_hold_down():
    limits = np.array([[1000.0, 500.0], [800.0, 500.0]])
    got = rules.aggregate_limit(limits, counts=[2, 3], kinds=["to anchor", "over, other side"])
    assert got.tolist() == [1000.0 + 1500.0, 800.0 + 1500.0]
    assert rules.aggregate_limit(limits, counts=[1, 1], kinds=["over, same side"] * 2).tolist() == [750.0, 650.0]
    down = np.array([0.5, -0.5])
    assert rules.hold_down(limits, counts=[2, 1], down=down).tolist() == [1000.0, 800.0]
    assert float(rules.least_aggregate(700.0)) == 350.0
    assert float(rules.least_hold_down(700.0)) == 140.0


def test_road_envelope_is_the_commonest_legal_one():
    """102 in is 8 ft 6 in (23 CFR 658.15, from memory); 13 ft 6 in high is what most states allow (from memory)."""
    assert rules.WIDEST == 12.0 * 8.5
    assert rules.HIGHEST == 12.0 * 13.5

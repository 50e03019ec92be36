"""Road rules as arithmetic, against the rule as it reads."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.connections import tiedown as rules

FREE = [  # 49 CFR 393.110(b) as it reads: feet, pounds, tie-downs
    (5, 1100, 1), (5, 1101, 2), (5.01, 100, 2), (10, 100, 2), (10.01, 100, 3), (20, 100, 3), (20.5, 100, 4),
]  # fmt: skip
BLOCKED = [(4, 9000, 1), (10, 100, 1), (10.01, 100, 2)]  # 393.110(c)


@pytest.mark.parametrize(("blocked", "rows"), [(False, FREE), (True, BLOCKED)])
def test_number_of_tie_downs(blocked, rows):
    feet, weight, number = np.array(rows, dtype=float).T
    assert rules.least_number(12.0 * feet, weight=weight, blocked=blocked).tolist() == number.tolist()
    mixed = rules.least_number(12.0 * feet, weight=weight, blocked=np.array([[True], [False]]))
    assert mixed[0 if blocked else 1].tolist() == number.tolist()


@given(st.floats(1.0, 600.0), st.floats(1.0, 5000.0), st.floats(0.0, 200.0), st.booleans())
def test_longer_never_needs_fewer(length, weight, more, blocked):
    needed, longer = rules.least_number(np.array([length, length + more]), weight=weight, blocked=blocked)
    assert 1.0 <= needed <= longer


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

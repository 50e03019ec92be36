"""Rows of one state share the most that their bent rails carry: by hand, from five pairs of two states."""

import numpy as np

from rigcheck.analysis.alike import Alike, alike
from rigcheck.analysis.solve import solve
from rigcheck.loads.pieces import BOUNDS
from tests.statics.random_rigs import PLAIN, rig_of

STIFF, LOOSE = BOUNDS.index("stiff"), BOUNDS.index("loose")


def test_the_larger_of_its_own_and_of_what_goes_on_meanwhile():
    """State 0 has 3 and 5 under stiff, state 1 has 4: a row of 1 takes 4, and 5 where 0 goes on meanwhile."""
    of = np.array([0 * len(BOUNDS) + STIFF, 0 * len(BOUNDS) + STIFF, 1 * len(BOUNDS) + STIFF])
    kinds = np.array([[[0, 0]], [[1, 1]], [[1, 0]], [[0, 1]], [[2, 2]]])
    rows = Alike(kinds, of, np.zeros(3, dtype=bool))
    values = np.array([[3.0, 1.0], [5.0, 0.0], [4.0, 2.0]])
    bound_of = np.tile(np.arange(len(BOUNDS)), (len(kinds), 1))
    most = rows.most(values, bound_of=bound_of)
    assert most.shape == (5, len(BOUNDS), 2)
    left = most[:, STIFF, 0]
    assert left.tolist() == [5.0, 4.0, 5.0, 5.0, 5.0]  # the last has no bent rail of its own: the most of all
    assert most[:, STIFF, 1].tolist() == [1.0, 2.0, 2.0, 2.0, 2.0]
    assert np.all(most[:, LOOSE] == 0.0)


def test_each_bent_pair_is_told_by_its_state_and_its_bound():
    """Pairs of one state under one bound are alike, all others apart."""
    rows = solve(rig_of(PLAIN), only=frozenset({"empty", "packed", "line_broken"})).rows
    pairs = [(row, bound) for row in range(len(rows)) for bound in range(len(BOUNDS))]
    found = alike(rows, pairs=pairs)
    for (row, bound), own, parted in zip(pairs, found.of, found.parted, strict=True):
        same = [other for other, of in zip(pairs, found.of, strict=True) if of == own]
        assert {(rows[i].state, k) for i, k in same} == {(rows[row].state, bound)}
        assert parted == (rows[row].state == "line_broken")
        assert own % len(BOUNDS) == bound and own // len(BOUNDS) == found.kinds[row, 0, 0]

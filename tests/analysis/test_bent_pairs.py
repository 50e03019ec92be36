"""Which angles of the fold have their rails bent: both ends, and where the lines pull hardest."""

import numpy as np

from rigcheck.analysis.bending import bent_pairs
from rigcheck.analysis.solve import solve
from tests.statics.random_rigs import FOLDING, rig_of


def test_both_ends_of_the_fold_and_a_pull_that_runs_away_between_are_bent():
    solution = solve(rig_of(FOLDING), only=frozenset({"empty", "folding"}))
    rows, hung = solution.rows, solution.states("empty")
    folding = [i for i, row in enumerate(rows) if row.state == "folding" and row.bend]
    spike = folding[len(folding) // 2 + 1]
    total = np.where(np.arange(len(rows)) == spike, 5000.0, 300.0)
    pairs, counted = bent_pairs(rows, total=total)
    bent = {row for row, _ in pairs}
    assert {folding[0], folding[-1], spike} <= bent and len(bent & set(folding)) < len(folding)
    assert {int(row) for row in np.flatnonzero(hung) if rows[row].bend} <= bent
    assert all(on for (row, _), on in zip(pairs, counted, strict=True) if row == spike)
    rising = bent_pairs(rows, total=300.0 * 1.08 ** np.arange(len(rows)))[0]
    assert len({row for row, _ in rising} & set(folding)) < 0.5 * len(folding)  # nothing runs away
    calm = {row for row, _ in bent_pairs(rows, total=np.full(len(rows), 300.0))[0]}
    assert {folding[0], folding[-1]} <= calm

"""The rows of a rig in which something decides, so that changes can be tried in them first."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from rigcheck.analysis.rows import Flag, Worst
from rigcheck.assessment.assess import Assessment
from rigcheck.tables.load_cases import EMPTY, FOLDING

_EACH = 3  # rows of each state looked at where a finding holds: the first, the middle one, the last
_FOLD = 15  # every so many angles of a fold, where the fold decides


def decisive(found: Assessment, *, checks: Iterable[Worst], flags: Iterable[Flag] = ()) -> tuple[int, ...]:
    """Places of rows that decide, those of the folded box left out.

    Args:
        found: The assessment of one rig.
        checks: Those whose worst rows count.
        flags: Findings whose rows count, some of each state.

    Returns:
        Places as `assess` takes them, rising; always among them a box at rest and both ends of the fold.
    """
    solution = found.solution
    hung = solution.life.loads.rows
    names = [row.state for row in hung]
    places = {int(one.state) for one in checks if float(one.utilization) >= 0.0}
    for flag in flags:
        held = np.asarray(np.broadcast_to(flag.where, solution.shape).any((-2, -1)))[: len(hung)]
        for state in dict.fromkeys(names):
            rows = [i for i in np.flatnonzero(held) if names[i] == state]
            places |= {int(rows[round(k)]) for k in np.linspace(0, len(rows) - 1, _EACH)} if rows else set()
    fold = [i for i, name in enumerate(names) if name == FOLDING]
    if places & set(fold):
        places |= set(fold[::_FOLD])
    ends = {fold[0], fold[-1]} if fold else set()
    return tuple(sorted({i for i in places if i < len(hung)} | ends | {names.index(EMPTY)}))

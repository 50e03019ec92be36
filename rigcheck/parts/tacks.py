"""A box that is only tacked: what must be said of its trial hang, and what nobody may take from it."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution
from rigcheck.case.tacks import is_tacked


def tacked_not_assessed(solution: Solution) -> list[Missing]:
    """Everything but the empty hang of a box that is only tacked."""
    if not is_tacked(solution.rig.case):
        return []
    text = (
        "every load case but the empty box hung for trial: the box is only tacked (weld.made); once its welds are laid,"
        ' say made = "finished"'
    )
    return [Missing(text, id="weld.made", group="line")]


def tack_flags(solution: Solution) -> list[Flag]:
    """That a trial hang is judged on tacks alone."""
    if not is_tacked(solution.rig.case):
        return []
    text = (
        "judged on its tacks alone, hung empty for trial: no water, no gravel, nobody on it or under it, blocks under"
        " its tail while it hangs; nothing here holds for the road, the fold or the finished box"
    )
    return [Flag(code="tacked", text=text, where=np.ones((1, 1, 1), dtype=np.bool_))]

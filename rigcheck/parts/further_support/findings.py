"""What must be said of a tail leg or a second pair of lines: that no check counts on it."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution


def prop_flags(solution: Solution) -> list[Flag]:
    """A further support that is described and not counted on."""
    told = {"tail_leg": "the tail leg", "second_line": "the second pair of lines"}
    named = [words for key, words in told.items() if solution.rig.value(key) is not None]
    if not named:
        return []
    text = (
        f"{' and '.join(named)} counted as not there: a leg settles or washes out, a second pair takes what its stretch"
        " leaves to it; `rigcheck props` shows what each comes to, and a leg can bend the rails more than none does"
    )
    return [Flag(code="prop_not_counted", text=text, where=np.asarray(True))]

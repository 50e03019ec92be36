"""Findings on stated values that are gentler on the rig than is usual: whoever reads the verdict must know of them."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution
from rigcheck.case.usual import usual_keys

_NEAR = 1e-9


def usual_flags(solution: Solution) -> list[Flag]:
    """One finding for each key that is stated below its usual value; all states are judged with it."""
    rig = solution.rig
    flags = []
    for usual in usual_keys():
        if not rig.has(usual.path):
            continue
        gentle = rig.number(usual.path) < usual.value * (1.0 - _NEAR)
        if np.any(gentle):
            text = (
                f"{usual.path} is stated gentler than the usual {usual.words} ({usual.source}): the verdict rests on "
                "it; have a reason that an engineer accepts"
            )
            flags.append(Flag(code="gentler_than_usual", text=text, where=gentle[..., None, None, None]))
    return flags

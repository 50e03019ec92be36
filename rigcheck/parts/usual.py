"""Findings on stated values that are gentler than usual, or that hardly any rig has: a verdict rests on them."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution
from rigcheck.case.built import built_keys
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


def built_flags(solution: Solution) -> list[Flag]:
    """One finding for each key whose size is outside what is built; zero may say that there is none."""
    rig = solution.rig
    flags = []
    for built in built_keys(rig.case):
        size = np.abs(rig.number(built.key))
        outside = (size < built.least * (1.0 - _NEAR)) | (size > built.most * (1.0 + _NEAR))
        if built.none_at_zero:
            outside &= size > 0.0
        if np.any(outside):
            text = (
                f"{built.name} is outside {built.words}, which covers what is built (common practice, no source): look "
                "at its unit and at the tape; the verdict rests on it"
            )
            flags.append(Flag(code="unlikely_value", text=text, where=outside[..., None, None, None]))
    return flags

"""Whether the links of a line reach from hanger to perch at all: a line that is not described whole is not a line."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution
from rigcheck.parts.fold.checks import line_reach
from rigcheck.tables.link_kinds import LINK_KINDS

BY_TAPE = 1.0  # in: how far lengths read off a tape may be out before links count as too short; our own assumption


def reach_flags(solution: Solution) -> list[Flag]:
    """Links that do not reach, with every hoist let out as far as it goes.

    Nothing where a link has no length, a hoist or turnbuckle no lift, or the line has several parts: then nobody
    knows how long it can be.

    Args:
        solution: The statics.

    Returns:
        One finding, or none.

    Source: own geometry, docs/method.md#line-length.
    """
    rig = solution.rig
    reach = line_reach(rig)
    untold = any(
        LINK_KINDS[link.kind].adjusts and not rig.has(f"line.link.{i}.lift")
        for i, link in enumerate(rig.value("line.link"))
    )
    if untold or reach.unmeasured or int(rig.value("line.parts")) > 1:
        return []
    longest = np.asarray(reach.least + reach.take_up)[..., None]
    short = solution.hung & (solution.pose.line_length > longest + BY_TAPE)
    told = f", {float(np.max(longest)):.4g} in at the most" if longest.size == 1 else ""
    text = (
        f"the links do not reach from hanger to perch{told}: part of the line is not described, or it hangs elsewhere"
    )
    return [Flag(code="line_does_not_reach", text=text, where=short[..., None, None], stops=True)]

"""The bed mark: the deepest settled bed at which nothing is over while the box runs."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

import numpy as np

from rigcheck.case.rig import Rig, varied
from rigcheck.check.assess import Assessment, assess
from rigcheck.check.rows import OVER, Mask, Worst

STEP = 0.125  # in: marks are read off a tape to an eighth, rounded down
_COARSE = 9
_RUNNING = frozenset({"running"})


@dataclass(frozen=True, slots=True)
class BedMark:
    """How deep the bed may settle.

    Attributes:
        depth: Rounded down to an eighth, 0 where nothing may settle. [in]
        side_height: Top of the sides. [in]
        to_the_top: True where even a bed to the top of the sides is not over while running.
        limit: Part and mode that is over just beyond the mark; empty where nothing is.
        any_bed: False where the running box is over with a clean floor.
    """

    depth: float
    side_height: float
    to_the_top: bool
    limit: str
    any_bed: bool


def bed_mark(rig: Rig) -> BedMark:
    """Deepest bed for a single rig, by a coarse scan from the clean floor up and a second scan of the step that fails.

    Everything below the mark passes, so that a rig that fails again at a lesser depth is caught by the scan.

    Args:
        rig: One rig, not a batch.

    Returns:
        The mark, in the running state with its water over the bed, on two lines and with the lines worked in turn.

    Source: docs/method.md#bed-mark.
    """
    side = float(rig.number("box.side_height"))
    low, high = 0.0, side
    limit, first = "", True
    while first or high - low > STEP / 2.0:
        depths = np.linspace(low, high, _COARSE)
        found = assess(varied(rig, {"bed.depth": depths}), only=_RUNNING)
        bad = np.flatnonzero(_over(found))
        if bad.size == 0:
            low = high
            break
        limit = _limit(found, int(bad[0]))
        if bad[0] == 0:
            return BedMark(depth=0.0, side_height=side, to_the_top=False, limit=limit, any_bed=False)
        low, high, first = float(depths[bad[0] - 1]), float(depths[bad[0]]), False
    depth = floor(low / STEP + 1e-9) * STEP
    whole = low >= side
    return BedMark(depth=side if whole else depth, side_height=side, to_the_top=whole, limit=limit, any_bed=True)


def _loaded(found: Assessment) -> list[Worst]:
    """Checks that what lies in the box can change; a snagged hoist does not ask how full it is."""
    return [one for one in found.worst if not one.check.snag]


def _over(found: Assessment) -> Mask:
    used = np.max(np.stack(np.broadcast_arrays(*(one.utilisation for one in _loaded(found)))), axis=0)
    return np.asarray(found.stopped | (used > OVER))


def _limit(found: Assessment, index: int) -> str:
    if bool(found.stopped[index]):
        return next(flag.code for flag in found.flags if flag.stops and flag.where[index].any())
    check = max(_loaded(found), key=lambda one: float(one.utilisation[index])).check
    return f"{check.part}, {check.mode}"

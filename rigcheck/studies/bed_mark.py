"""The bed mark: the deepest settled bed at which nothing is over while the box runs."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

import numpy as np

from rigcheck.case.rig import Rig, varied
from rigcheck.check.assess import Assessment, assess
from rigcheck.check.rows import OVER, Mask, Worst

STEP = 0.25  # in: the mark is painted on a side wall; to a quarter, rounded down
_MOST = 80  # depths looked at in one batch; a side over 20 in is looked at in coarser steps
_RUNNING = frozenset({"running"})


@dataclass(frozen=True, slots=True)
class BedMark:
    """How deep the bed may settle.

    Attributes:
        depth: Rounded down to a quarter, 0 where nothing may settle. [in]
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
    """Deepest bed for a single rig: every quarter of an inch from the clean floor up, in one batch.

    Everything below the mark passes, so that a rig that fails again at a lesser depth is caught.

    Args:
        rig: One rig, not a batch.

    Returns:
        The mark, in the running state with its water over the bed, on two lines and with the lines worked in turn.

    Source: docs/method.md#bed-mark.
    """
    side = float(rig.number("box.side_height"))
    step = max(STEP, side / _MOST)
    depths = np.append(np.arange(0.0, side, step), side)
    found = assess(varied(rig, {"bed.depth": depths}), only=_RUNNING)
    bad = np.flatnonzero(_over(found))
    if bad.size == 0:
        return BedMark(depth=side, side_height=side, to_the_top=True, limit="", any_bed=True)
    first = int(bad[0])
    below = float(depths[max(first - 1, 0)])
    depth = floor(below / STEP + 1e-9) * STEP
    return BedMark(depth=depth, side_height=side, to_the_top=False, limit=_limit(found, first), any_bed=first > 0)


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

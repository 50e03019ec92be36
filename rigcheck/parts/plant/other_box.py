"""The box that feeds this one, on the same plant: whatever stands in it while this one is in any state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.types import Array
from rigcheck.case.fed import feeding
from rigcheck.case.rig import Rig

_SAME = 6  # digits of pound and inch by which two rows are told apart


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class OtherBox:
    """Weights of the feeding box in every row in which the plant stands on its feet, each once.

    Attributes:
        weight: Under the loads as they are, shape (row,). [lbf]
        at: Center from the middle of the hinge axis of this box, plant axes, shape (row, 3). [in]
    """

    weight: Array
    at: Array


def other_box(rig: Rig) -> OtherBox | None:
    """The box that feeds this one; None where none does.

    Args:
        rig: The rig, one or a batch.

    Source: own derivation, docs/method.md#fed-by.
    """
    if rig.case.fed_by is None or feeding(rig.case) is None:
        return None
    return rig.once("other box", _worked_out)


def _worked_out(rig: Rig) -> OtherBox:
    other, table = feeding(rig.case), rig.case.fed_by
    assert other is not None and table is not None
    solution = solve(Rig(other))
    rows = np.flatnonzero(solution.cases(lambda case: case.on_feet))
    found = np.concatenate([solution.service.weight[rows, None], _centers(solution)[rows]], axis=-1)
    told = np.unique(np.round(found, _SAME), axis=0)
    apart = np.array([table.downstream, 0.0, -table.below])
    return OtherBox(told[:, 0], told[:, 1:] - apart)


def _centers(solution: Solution) -> Array:
    """Center of the box of every row from the middle of its hinge axis, plant axes, shape (state, 3). [in]"""
    found, points = solution.service, solution.pose
    s, y, n = (found.center[..., axis] for axis in range(3))
    up = n - solution.layout.hinge_height[..., None]
    x = s * points.along[..., 0] + up * points.normal[..., 0]
    return np.stack([x, y, s * points.along[..., 1] + up * points.normal[..., 1]], axis=-1)

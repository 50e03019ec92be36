"""The first peak after a line has parted: how far the line that survives, the hinge and the box overshoot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import ALONE, BOUNDS, SHARED, Row
from rigcheck.statics.balance import Balance

_BOUND_AXIS = {"tension": -2, "hinge": -3, "roll": -1, "twist": -1}
"""Forces that are raised, and how far from the end their bound axis stands."""
_SHARED = [i for i, bound in enumerate(BOUNDS) if bound in SHARED]
_SURVIVOR = ((0, BOUNDS.index("left")), (1, BOUNDS.index("right")))
"""Side of the line that is left, and the bound in which it carries all."""


def after_loss(balance: Balance, *, rows: Sequence[Row], jump: Array) -> Balance:
    """In rows where one line parts, the first peak: after + (jump - 1)(after - before).

    Before is the way of sharing of the whole box that leaves the least to the line that survives, with the hinge
    forces and the twist that go with it: the less it had, the farther it jumps. Where both lines go on holding, as on a
    center pivot with backups, all forces are raised as if the load came on at once.

    Args:
        balance: Forces under every bound, shapes (..., state, bound, ...).
        rows: The rows.
        jump: Dynamic factor of the step, shape (...). [1]

    Returns:
        The same with those rows raised.

    Source: undamped step, docs/method.md#line-broken.
    """
    shared = np.flatnonzero([row.ultimate and not row.bounds & ALONE for row in rows])
    if shared.size:
        balance = _taken_over(balance, where=shared, jump=jump)
    where = np.flatnonzero([row.ultimate and bool(row.bounds & ALONE) for row in rows])
    if not where.size:
        return balance
    extra = (np.asarray(jump) - 1.0)[..., None]
    found = {name: getattr(balance, name).copy() for name in _BOUND_AXIS}
    # bound axis first: shapes (bound, ..., row, rest)
    lost = {name: np.moveaxis(getattr(balance, name), axis, 0)[_rows(where, rest=-axis - 1)]
            for name, axis in _BOUND_AXIS.items()}  # fmt: skip
    for side, bound in _SURVIVOR:
        had = lost["tension"][_SHARED][..., side]
        least = np.asarray(_SHARED)[had.argmin(0)]
        for name, axis in _BOUND_AXIS.items():
            rest = (None,) * (-axis - 1)
            values = lost[name]
            before = np.take_along_axis(values, least[(None, ..., *rest)], axis=0)[0]
            peak = values[bound] + extra[(..., *rest)] * (values[bound] - before)
            found[name][(..., where, bound, *(slice(None),) * (-axis - 1))] = peak
        found["tension"][..., where, bound, 1 - side] = 0.0  # the parted line stays slack
    return replace(balance, **found)


def _taken_over(balance: Balance, *, where: NDArray[np.intp], jump: Array) -> Balance:
    """A backup takes its side's share at once: every force `jump` times that at rest, a step from nothing."""
    found = {}
    for name, axis in _BOUND_AXIS.items():
        values = getattr(balance, name).copy()
        rest = (None,) * (-axis)
        values[_rows(where, rest=-axis)] *= np.asarray(jump)[(..., None, *rest)]
        found[name] = values
    return replace(balance, **found)


def _rows(where: NDArray[np.intp], *, rest: int) -> tuple[object, ...]:
    return (..., where, *(slice(None),) * rest)

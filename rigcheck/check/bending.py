"""Which rails are bent in which rows, and where their values stand over states, bounds and sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.check.join import taken
from rigcheck.loads.pieces import BOUNDS, Loads, Row, take
from rigcheck.statics.balance import Balance
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.statics.rail import LEAN, RailForces, rail_forces

Array = NDArray[np.float64]

MOVING = ("folding", "dragging")  # states without a deflection at rest
SHARE = np.array([[0, 1], [2, 2], [2, 2], [2, 2], [2, 2]])
"""Which of `rigcheck.statics.rail.SHARES` bends a rail, shape (bound, side): in a limp box its own, else half."""

Rail = tuple[int, int | None]
"""A row and the share bent in it; all shares where it is None."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bending:
    """The rails of the rows whose bending is worked out.

    Attributes:
        rows: Their places on the state axis.
        forces: Rail forces, state axis of these rows only.
        slots: Where the value of a row, bound and side stands among (row, share) laid flat, counted from 1; 0 where it
            is not worked out. Shape (state, bound, side).
        parted: True in those of these rows in which one line has parted, shape (row,).
    """

    rows: tuple[int, ...]
    forces: RailForces
    slots: NDArray[np.intp]
    parted: NDArray[np.bool_]

    def on_bounds(self, values: Array) -> Array:
        """Values of the bent rails, (..., row, share), as (..., state, bound, side), zero where none is worked out."""
        flat = values.reshape(*values.shape[:-2], -1)
        padded = np.concatenate([np.zeros((*flat.shape[:-1], 1)), flat], axis=-1)
        return np.asarray(padded[..., self.slots])


def bent_rows(rows: Sequence[Row]) -> list[Rail]:
    """Rows whose rails are bent under the factored loads."""
    return [(i, None) for i, row in enumerate(rows) if row.bend]


def sagged_rows(rows: Sequence[Row]) -> list[Rail]:
    """Rows whose rails sag under the loads as they are, at rest."""
    return [(i, None) for i, row in enumerate(rows) if row.bend and not row.ultimate and row.state not in MOVING]


def lean_of(rails: Sequence[Rail]) -> Array:
    """How far each share leans, shape (share,), or (rail, 1) where one share of each rail is wanted."""
    wanted = [share for _, share in rails if share is not None]
    return LEAN[wanted][:, None] if wanted else LEAN


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Rails:
    """What the rails of every row share.

    Attributes:
        layout: Points of the rig.
        pose: The box in each row.
        axis: Neutral axis above the floor. [in]
        count: Rows of the state axis.
    """

    layout: Layout
    pose: Pose
    axis: Array
    count: int

    def bend(self, rails: Sequence[Rail], *, loads: Loads, balance: Balance) -> Bending:
        """Forces on some rails.

        Args:
            rails: The rails wanted: of every one all shares, or of every one a single share.
            loads: Loads of every row.
            balance: What hangs on lines and hinge in every row, before a line parts.
        """
        rows = tuple(row for row, _ in rails)
        forces = rail_forces(
            take(loads, rows=rows),
            layout=self.layout,
            pose=taken(self.pose, rows=rows),
            balance=taken(balance, rows=rows),
            axis=self.axis,
            lean=lean_of(rails),
        )
        slots = np.zeros((self.count, len(BOUNDS), 2), dtype=np.intp)
        for place, (row, share) in enumerate(rails):
            if share is None:
                slots[row] = 1 + place * len(LEAN) + SHARE
            else:
                slots[row][share == SHARE] = 1 + place
        parted = np.array([loads.rows[row].ultimate for row in rows], dtype=np.bool_)
        return Bending(rows, forces, slots, parted)

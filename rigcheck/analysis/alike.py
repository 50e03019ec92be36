"""What stands for a rail that is not bent in a row: the most of the rails bent in rows of its own state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import BOUNDS, Row

_NONE = -1


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Alike:
    """States of the rows and of the bent pairs, as numbers.

    Attributes:
        kinds: State of each row, and the one that goes on meanwhile (its own where none does), shape (state, 1, 2).
        of: State and bound of each bent pair as one number, shape (pair,).
        parted: Bent pairs in whose row a line has parted, shape (pair,).
    """

    kinds: NDArray[np.intp]
    of: NDArray[np.intp]
    parted: NDArray[np.bool_]

    def at(self, places: slice | tuple[NDArray[np.intp], NDArray[np.intp]]) -> Alike:
        """At some places of the state axis."""
        kinds = self.kinds[places] if isinstance(places, slice) else self.kinds[places[0], 0]
        return replace(self, kinds=kinds)

    def most(self, values: Array, *, bound_of: NDArray[np.intp]) -> Array:
        """The most of the rows of the same state, or of what goes on meanwhile, under the same bound.

        Of all rows under that bound where none of those is bent.

        Args:
            values: Of the pairs, zero where one does not count, shape (..., pair, side).
            bound_of: Bound of each place, shape (state, bound).

        Returns:
            Shape (..., state, bound, side).
        """
        if not self.of.size:
            return np.zeros((*values.shape[:-2], *bound_of.shape, values.shape[-1]))
        order = np.argsort(self.of, kind="stable")
        starts = np.flatnonzero(np.diff(self.of[order], prepend=_NONE))
        each = np.maximum.reduceat(values[..., order, :], starts, axis=-2)
        bounds = self.of % len(BOUNDS)
        every = [values[..., bounds == bound, :].max(-2, initial=0.0) for bound in range(len(BOUNDS))]
        most = np.concatenate([np.stack(every, axis=-2), each], axis=-2)
        table = np.full((int(max(self.kinds.max(), self.of.max() // len(BOUNDS))) + 1) * len(BOUNDS), _NONE)
        table[self.of[order][starts]] = len(BOUNDS) + np.arange(len(starts))
        own, meanwhile = (table[self.kinds[..., k] * len(BOUNDS) + bound_of] for k in (0, 1))
        own = np.where(own == _NONE, np.where(meanwhile == _NONE, bound_of, meanwhile), own)
        meanwhile = np.where(meanwhile == _NONE, own, meanwhile)
        return np.asarray(np.maximum(most[..., own, :], most[..., meanwhile, :]))


def states_of(row: Row) -> tuple[str, str]:
    """State of a row, and the one that goes on meanwhile."""
    return row.state, str(row.variant.get("while", row.state))


def alike(rows: Sequence[Row], *, pairs: Sequence[tuple[int, int]]) -> Alike:
    """Which rows are of one state.

    Args:
        rows: Every row.
        pairs: Row and bound of the bent rails.
    """
    told = [states_of(row) for row in rows]
    numbers = {state: k for k, state in enumerate(dict.fromkeys(state for both in told for state in both))}
    kinds = np.array([[numbers[state] for state in both] for both in told], dtype=np.intp).reshape(-1, 1, 2)
    of = [int(kinds[row, 0, 0]) * len(BOUNDS) + bound for row, bound in pairs]
    parted = np.array([rows[row].ultimate for row, _ in pairs], dtype=np.bool_)
    return Alike(kinds, np.array(of, dtype=np.intp), parted)

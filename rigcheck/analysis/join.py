"""Put the rows of the folded box behind the hung ones on the state axis, and take some rows out of many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from rigcheck.statics.balance import Balance
from rigcheck.statics.geometry import Pose
from rigcheck.statics.resultant import Resultant

Rows = TypeVar("Rows", Pose, Resultant, Balance)

_STATE_AXIS: Mapping[str, int] = {
    # counted from the last axis; -1 for every field that is not named
    "along": -2, "normal": -2,
    "center": -2, "force": -2, "moment": -2,
    "tension": -3, "hinge": -4, "roll": -2, "twist": -2, "residual": -2,
}  # fmt: skip


_BOUND_AXIS: Mapping[str, int] = {"tension": -2, "hinge": -3, "roll": -1, "twist": -1, "residual": -1}
"""Counted from the last axis, of the fields that have one."""


def _spread(part: NDArray[Any], *, batch: tuple[int, ...], axis: int) -> NDArray[Any]:
    return np.broadcast_to(part, (*batch, *part.shape[part.ndim + axis :]))


def behind(first: Rows, *, second: Rows) -> Rows:
    """The rows of `second` behind those of `first`, batch shapes broadcast.

    Args:
        first: Rows of the hung box.
        second: Rows of the folded box.

    Returns:
        All rows on one state axis.
    """
    joined: dict[str, Any] = {}
    for each in fields(first):
        axis: int = _STATE_AXIS.get(each.name, -1)
        parts: list[NDArray[Any]] = [getattr(first, each.name), getattr(second, each.name)]
        batch: tuple[int, ...] = np.broadcast_shapes(*(part.shape[: part.ndim + axis] for part in parts))
        whole = [_spread(part, batch=batch, axis=axis) for part in parts]
        joined[each.name] = np.concatenate(whole, axis=axis)
    return type(first)(**joined)


def taken(every: Rows, *, rows: Sequence[int] | slice, bounds: Sequence[int] | None = None) -> Rows:
    """Some rows of the state axis.

    Args:
        every: All rows.
        rows: Places of the wanted ones, in the order wanted; a place may come twice. Of a slice nothing is copied.
        bounds: For each of them the one bound wanted, left as a bound axis of one; all bounds where not said.

    Returns:
        Those rows.
    """
    at = rows if isinstance(rows, slice) else np.asarray(rows, dtype=np.intp)
    few: dict[str, Any] = {}
    for each in fields(every):
        values: NDArray[Any] = getattr(every, each.name)
        if bounds is None or each.name not in _BOUND_AXIS:
            past: int = -1 - _STATE_AXIS.get(each.name, -1)
            rest: tuple[Any, ...] = (..., at, *(slice(None),) * past)
            few[each.name] = values[rest]
            continue
        beyond: int = -1 - _BOUND_AXIS[each.name]
        index: tuple[Any, ...] = (..., at, np.asarray(bounds, dtype=np.intp), *(slice(None),) * beyond)
        few[each.name] = np.expand_dims(values[index], _BOUND_AXIS[each.name])
    return type(every)(**few)

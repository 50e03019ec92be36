"""Put the rows of the folded box behind the hung ones on the state axis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import TypeVar

import numpy as np

from rigcheck.statics.balance import Balance
from rigcheck.statics.geometry import Pose
from rigcheck.statics.resultant import Resultant

Rows = TypeVar("Rows", Pose, Resultant, Balance)

_STATE_AXIS: Mapping[str, int] = {
    # counted from the last axis; -1 for every field that is not named
    "along": -2, "normal": -2,
    "centre": -2, "force": -2, "moment": -2,
    "tension": -3, "hinge": -4, "roll": -2, "twist": -2, "residual": -2,
}  # fmt: skip


def behind(first: Rows, *, second: Rows) -> Rows:
    """The rows of `second` behind those of `first`, batch shapes broadcast.

    Args:
        first: Rows of the hung box.
        second: Rows of the folded box.

    Returns:
        All rows on one state axis.
    """
    joined = {}
    for field in fields(first):
        axis = _STATE_AXIS.get(field.name, -1)
        parts = [getattr(first, field.name), getattr(second, field.name)]
        batch = np.broadcast_shapes(*(part.shape[: part.ndim + axis] for part in parts))
        whole = [np.broadcast_to(part, (*batch, *part.shape[part.ndim + axis :])) for part in parts]
        joined[field.name] = np.concatenate(whole, axis=axis)
    return type(first)(**joined)

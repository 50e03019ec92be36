"""Arrays that name the batch first and keep it last in memory, so that sums over a few rows run over many designs."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array


def zeros(batch: tuple[int, ...], *rest: int) -> Array:
    """Nothing, of shape (*batch, *rest), the batch innermost in memory.

    Args:
        batch: Shape of the batch of designs.
        rest: Lengths of the axes behind it.
    """
    own = len(rest)
    return np.moveaxis(np.zeros((*rest, *batch)), tuple(range(own)), tuple(range(-own, 0)))


def side_by_side(*parts: Array | float, axis: int = -1) -> Array:
    """Values on a new axis, as `numpy.stack` puts them, with that axis outermost in memory.

    Args:
        parts: What stands side by side; shapes broadcast.
        axis: The new axis, counted from the last.
    """
    shapes = [np.shape(part) for part in parts]
    shape = shapes[0] if shapes.count(shapes[0]) == len(shapes) else np.broadcast_shapes(*shapes)
    whole = np.empty((len(parts), *shape))
    for place, part in enumerate(parts):
        whole[place] = part
    own = list(range(1, len(shape) + 1))
    own.insert(len(shape) + 1 + axis, 0)
    return whole.transpose(own)


def per_row(value: Array | float) -> Array:
    """A value of each design, shape (...), beside what has rows, ways of sharing and sides, shape (..., 1, 1, 1)."""
    return np.asarray(value)[..., None, None, None]

"""Bare sheet under what is welded to it: it bends as a plate, by yield lines, long before its weld goes."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide
from rigcheck.arrays.types import Array


def plastic_moment(thickness: Values, *, fy: Values, stressed: Values) -> Array:
    """Plastic moment of an inch of sheet that is stressed along its plane too, m = Fy t^2/4 (1 - U^2).

    Args:
        thickness: Sheet, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        stressed: U, stress in the plane over the yield stress, shape (...).

    Returns:
        The moment per inch, shape (...). [lbf]

    Source: plastic bending with axial force of a rectangle, geometry.
    """
    left = 1.0 - np.minimum(np.abs(as_array(stressed)), 1.0) ** 2
    return np.asarray(0.25 * as_array(fy) * as_array(thickness) ** 2 * left)


def push_between_edges(moment: Values) -> Array:
    """Push at a point of a sheet whose edges are held and free to turn, 2 pi m, the size of its foot not counted.

    Args:
        moment: m, shape (...). [lbf]

    Returns:
        The push, shape (...). [lbf]

    Source: Johansen's yield line theory, simply supported plate (memory); docs/method.md#bare-sheet.
    """
    return 2.0 * np.pi * as_array(moment)


def push_on_free_edge(moment: Values, *, foot: Values, arm: Values) -> Array:
    """Push on a sheet held along one line alone, m (l + 2 a)/a: the push spreads at 45 degrees from its foot.

    Args:
        moment: m, shape (...). [lbf]
        foot: l, length of the foot along the held line, shape (...). [in]
        arm: a, from the held line, shape (...). [in]

    Returns:
        The push, shape (...). [lbf]

    Source: equilibrium of a strip, docs/method.md#bare-sheet.
    """
    far = as_array(arm)
    return as_array(moment) * divide(as_array(foot) + 2.0 * far, far, where_zero=UNLIMITED)

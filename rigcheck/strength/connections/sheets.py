"""Bare sheet under what is welded to it: it bends as a plate, by yield lines, long before its weld goes."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import Basis, allowable

_SHEET = "docs/method.md#bare-sheet"


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
    moment = 0.25 * as_array(fy) * as_array(thickness) ** 2 * left
    return step(moment, "m_p", "Plastic moment of an inch of sheet, its own stress counted", clause=_SHEET)


def sheet_carries(thickness: Values, *, fy: Values, stressed: Values, basis: Basis) -> Array:
    """What an inch of sheet may carry in bending, shape (...). [lbf]

    Args:
        thickness: Sheet, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        stressed: Stress in its plane over the yield stress, shape (...).
        basis: Basis of allowable strength; the sheet is held to the divisor of a face.

    Source: docs/method.md#bare-sheet.
    """
    nominal = plastic_moment(thickness, fy=fy, stressed=stressed)
    return step(allowable(nominal, divisor=basis.face), "m_a", "An inch of it may carry", clause=_SHEET)


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


def wall_under_lug(
    pull: Values, *, moment: Values, foot: Values, height: Values, bends: Values, turns: Values
) -> Array:
    """Use of a side wall under a hanger lug: a cantilever off the floor, and turned about its height.

    T (arm about the foot of the wall)/(m (l + 2 a)), the foot spread at 45 degrees down to the floor, and T (arm about
    its height)/(l N/2), half of the foot pushing and half pulling.

    Args:
        pull: T, shape (...). [lbf]
        moment: m, what an inch of sheet may carry, shape (...). [lbf]
        foot: l, along the wall, shape (...). [in]
        height: a, of the hole above the floor, at most that of the wall, shape (...). [in]
        bends: Arm of a pound of the pull about the foot of the wall, shape (...). [in]
        turns: Arm of a pound of the pull about the height of the wall, shape (...). [in]

    Returns:
        The use, shape (...).

    Source: equilibrium of a strip, docs/method.md#bare-sheet.
    """
    length, up = as_array(foot), as_array(height)
    fallen = step(divide(bends, moment * (length + 2.0 * up), where_zero=UNLIMITED), "u_b",
                  "For each pound, bent about its foot", clause=_SHEET)  # fmt: skip
    most = step(push_on_free_edge(moment, foot=length, arm=np.maximum(up, length)), "N_s",
                "Most push square to the wall", clause=_SHEET)  # fmt: skip
    twisted = step(divide(turns, 0.5 * length * most, where_zero=UNLIMITED), "u_t",
                   "For each pound, turned about its height", clause=_SHEET)  # fmt: skip
    use = np.abs(as_array(pull)) * (fallen + twisted)
    return step(use, "U", "Utilization, both added", clause=_SHEET)


def floor_under_barrel(square: Values, *, along: Values, moment: Values, length: Values, arm: Values) -> Array:
    """Use of the free edge of a floor sheet under one barrel: half a plate under its push, m l under its turn.

    Args:
        square: Force square to the floor, its size, shape (...). [lbf]
        along: Force along the floor, its size, shape (...). [lbf]
        moment: m, what an inch of sheet may carry, shape (...). [lbf]
        length: l, of the barrel, shape (...). [in]
        arm: Of the force along the floor, shape (...). [in]

    Returns:
        The use, shape (...).

    Source: yield lines of a plate (memory), docs/method.md#bare-sheet.
    """
    most = step(0.5 * push_between_edges(moment), "N_s", "Most push square to the floor", clause=_SHEET)
    pushed = divide(square, most, where_zero=UNLIMITED)
    turned = divide(as_array(along) * arm, as_array(moment) * length, where_zero=UNLIMITED)
    return step(pushed + turned, "U", "Utilization, both added", clause=_SHEET)

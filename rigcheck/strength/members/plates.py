"""Thin sheet: the width that works in compression, and crippling under a point load."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide, root
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import OMEGA_YIELDING, Basis
from rigcheck.strength.members.compression import ELASTIC_MODULUS

POISSON = 0.3
"""Poisson's ratio of steel. Source: AISI S100 A2 (memory)."""
HELD_BOTH_EDGES = 4.0
"""Plate buckling factor k with both long edges held. Source: AISI S100 Appendix 1, 1.1 (memory)."""
FULL_WIDTH = 0.673
"""Slenderness up to which the whole width works. Source: AISI S100 Appendix 1, Eq. 1.1-1 (memory)."""
CRIPPLING_OMEGA = 1.80
"""Divisor for web crippling, one loaded flange, unstiffened. Source: AISI S100 Table G5-2 (memory)."""
CRIPPLING_INSIDE = (13.0, 0.32, 0.10, 0.01)
"""C, C_R, C_N, C_h away from an end. Source: AISI S100 Table G5-2, unstiffened, unfastened, interior (memory)."""
CRIPPLING_END = (4.0, 0.40, 0.60, 0.03)
"""C, C_R, C_N, C_h at an end. Source: AISI S100 Table G5-2, unstiffened, unfastened, end (memory)."""


def plate_slenderness(width: Values, *, thickness: Values, stress: Values, edges: Values = HELD_BOTH_EDGES) -> Array:
    """Slenderness of a flat sheet in compression, lambda = sqrt(f/Fcr).

    Fcr = k pi^2 E/[12 (1 - mu^2)] (t/w)^2.

    Args:
        width: Flat width, shape (...). [in]
        thickness: Thickness, shape (...). [in]
        stress: Compressive stress, shape (...). [psi]
        edges: Plate buckling factor k, shape (...).

    Returns:
        Slenderness, shape (...).

    Source: AISI S100 Appendix 1, Eq. 1.1-3, 1.1-4 (memory).
    """
    per_edge = np.pi**2 * ELASTIC_MODULUS / (12.0 * (1.0 - POISSON**2))
    critical = as_array(edges) * per_edge * divide(thickness, width, where_zero=1.0e6) ** 2
    return root(divide(np.abs(as_array(stress)), critical, where_zero=UNLIMITED))


def effective_width(width: Values, *, thickness: Values, stress: Values, edges: Values = HELD_BOTH_EDGES) -> Array:
    """Width of a flat sheet that works in compression, b (1 - 0.22/lambda)/lambda where lambda > 0.673.

    Args:
        width: Flat width, shape (...). [in]
        thickness: Thickness, shape (...). [in]
        stress: Compressive stress, shape (...). [psi]
        edges: Plate buckling factor k, 4 or 0.43, shape (...).

    Returns:
        Effective width, shape (...). [in]

    Source: AISI S100 Appendix 1, Eq. 1.1-1, 1.1-2 (memory).
    """
    slenderness = plate_slenderness(width, thickness=thickness, stress=stress, edges=edges)
    lean = np.maximum(slenderness, FULL_WIDTH)
    return as_array(width) * np.where(slenderness > FULL_WIDTH, np.minimum((1.0 - 0.22 / lean) / lean, 1.0), 1.0)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Web:
    """A sheet wall that a point load presses or pulls in its plane.

    Attributes:
        thickness: Thickness, shape (...). [in]
        height: Flat height, shape (...). [in]
        bearing: Length over which the load enters, shape (...). [in]
        bend_radius: Inside radius of the bend beside it, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        at_end: True within 1.5 heights of an end, shape (...).
    """

    thickness: Values
    height: Values
    bearing: Values
    bend_radius: Values
    fy: Values
    at_end: Values = False


def web_crippling(web: Web, *, basis: Basis) -> Array:
    """Allowable point load on the edge of a sheet wall without a doubler; a screening value only.

    C t^2 Fy (1 - C_R sqrt(R/t))(1 + C_N sqrt(N/t))(1 - C_h sqrt(h/t)). Outside h/t 200 and N/t 210 the ratios are held
    there; N counts up to twice the height.

    Args:
        web: The wall, shape (...). [in, psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable load, shape (...). [lbf]

    Source: AISI S100 G5, Eq. G5-1 and Table G5-2 (memory). Divisor: 1.80 raised as the basis raises 1.67.
    """
    thick = as_array(web.thickness)
    at_end = as_array(web.at_end) > 0.0
    c, c_r, c_n, c_h = (
        np.where(at_end, end, inside) for end, inside in zip(CRIPPLING_END, CRIPPLING_INSIDE, strict=True)
    )
    length = np.minimum(as_array(web.bearing), 2.0 * as_array(web.height))
    length = step(length, "N_w", "Length over which it enters, at most twice the height")
    bend = np.maximum(1.0 - c_r * root(divide(web.bend_radius, thick)), 0.0)
    spread = 1.0 + c_n * root(np.minimum(divide(length, thick), 210.0))
    slender = np.maximum(1.0 - c_h * root(divide(web.height, thick)), 0.0)
    bend = step(bend, "c_b", "Left by the bend beside it")
    spread = step(spread, "c_l", "Gained by the length over which it enters")
    slender = step(slender, "c_h", "Left by the height of the wall")
    nominal = c * thick**2 * as_array(web.fy) * bend * spread * slender
    nominal = step(nominal, "P_n", "Nominal load on the edge of the wall", clause="AISI S100 G5, Eq. G5-1 (memory)")
    held = nominal / (basis.yielding * CRIPPLING_OMEGA / OMEGA_YIELDING)
    return step(held, "P_w", "Allowed load on the edge of the wall", clause="AISI S100 Table G5-2 (memory), raised")

"""Several actions on one member at once; every answer is a utilization, 1 at the limit."""

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import Basis

TORSION_COUNTS = 0.20
"""Torsion over its allowable value from which it is counted. Source: AISC 360-22 H3.2 (seen)."""


def axial_and_bending(axial: Values, *, major: Values, minor: Values = 0.0) -> Array:
    """Axial force with bending about one or both axes.

    P + (8/9)(Mx + My) where P >= 0.2, else P/2 + Mx + My. The second also stands as a floor under the first: it is the
    larger only where both are over 1, and keeps the utilization from falling as P passes 0.2.

    Args:
        axial: Axial force over its allowable value, shape (...).
        major: Moment over its allowable value about the first axis, shape (...).
        minor: The same about the second axis, shape (...).

    Returns:
        Utilization, shape (...).

    Source: AISC 360-22 Eq. (H1-1a) (seen), (H1-1b) (memory).
    """
    push = np.abs(as_array(axial))
    bent = np.abs(as_array(major)) + np.abs(as_array(minor))
    small = push / 2.0 + bent
    found = as_array(np.where(push >= 0.2, np.maximum(push + 8.0 / 9.0 * bent, small), small))
    return step(found, "U_1", "Axial force with bending", clause="AISC 360-22 Eq. (H1-1a) (seen), (H1-1b) (memory)")


def with_torsion(axial: Values, *, bending: Values, shear: Values, torsion: Values) -> Array:
    """Torsion with everything else, (P + M) + (V + T)^2.

    Args:
        axial: Axial force over its allowable value, shape (...).
        bending: Moment over its allowable value, both axes added, shape (...).
        shear: Shear over its allowable value, shape (...).
        torsion: Torsion over its allowable value, shape (...).

    Returns:
        Utilization, shape (...).

    Source: AISC 360-22 Eq. (H3-6) (seen).
    """
    direct = np.abs(as_array(axial)) + np.abs(as_array(bending))
    found = as_array(direct + (np.abs(as_array(shear)) + np.abs(as_array(torsion))) ** 2)
    return step(found, "U_2", "With shear and torsion", clause="AISC 360-22 Eq. (H3-6) (seen)")


def lifting_sum(axial: Values, *, bending: Values, shear: Values, torsion: Values) -> Array:
    """A member of a lifting device: axial force and bending added whole, then with shear at the same point.

    P + M, and sqrt((P + M)^2 + (V + T)^2), which is sqrt(f^2 + 3 fv^2) over Fy/Nd, shear being over Fy/(Nd sqrt 3).

    Args:
        axial: Axial force over its allowable value, shape (...).
        bending: Moment over its allowable value, grown, both axes added, shape (...).
        shear: Shear over its allowable value, shape (...).
        torsion: Torsion over its allowable value, shape (...).

    Returns:
        Utilization, shape (...).

    Source: ASME BTH-1 3-2.4, 3-2.5 (memory); docs/method.md#interaction.
    """
    direct = np.abs(as_array(axial)) + np.abs(as_array(bending))
    found = as_array(np.hypot(direct, np.abs(as_array(shear)) + np.abs(as_array(torsion))))
    return step(found, "U_3", "Sum for a lifting device", clause="ASME BTH-1 3-2.4, 3-2.5 (memory)")


def member(axial: Values, *, major: Values, minor: Values, shear: Values, torsion: Values, basis: Basis) -> Array:
    """Utilization of a member under everything at once.

    H1-1 and, where torsion is over a fifth of its allowable value, H3-6, which is never the smaller of the two; shear
    and torsion alone. Under lifting the sum of BTH-1 where it is more.

    Args:
        axial: Axial force over its allowable value, shape (...).
        major: Moment over its allowable value about the first axis, shape (...).
        minor: The same about the second axis, shape (...).
        shear: Shear over its allowable value, shape (...).
        torsion: Torsion over its allowable value, shape (...).
        basis: Basis of allowable strength.

    Returns:
        Utilization, shape (...).

    Source: AISC 360-22 H1.1, H3.2, G, H3.1; ASME BTH-1 3-2.4, 3-2.5 (memory).
    """
    bent = np.abs(as_array(major)) + np.abs(as_array(minor))
    plain = axial_and_bending(axial, major=major, minor=minor)
    twisted = with_torsion(axial, bending=bent, shear=shear, torsion=torsion)
    turned = np.abs(as_array(torsion))
    counted = np.where(turned > TORSION_COUNTS, np.maximum(plain, twisted), plain)
    if basis.lifting_members:
        counted = np.maximum(counted, lifting_sum(axial, bending=bent, shear=shear, torsion=torsion))
    whole = np.maximum(np.maximum(counted, np.abs(as_array(shear))), turned)
    clause = "AISC 360-22 H1.1, H3.2, G, H3.1; ASME BTH-1 3-2.4, 3-2.5 (memory)"
    return step(whole, "U_w", "All together", clause=clause)

"""Fillet welds: strength per inch and limits of size."""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import SHEAR_YIELD, Basis

THROAT = 1.0 / sqrt(2.0)
"""Throat of an equal-leg fillet over its leg. Source: geometry, AISC 360-22 J2.2a."""
WELD_SHEAR = 0.60
"""Weld shear strength over electrode strength. Source: AISC 360-22 Table J2.5, Eq. (J2-4) (seen)."""
CONFIDENCE = {"tested": 1.00, "shop": 0.85, "field": 0.70}
"""Share of the calculated strength counted on, by who laid the weld. Source: our own assumption, no standard.

tested: by a qualified welder, inspected; shop: in position on the bench, looked at; field: in place, out of position.
"""
SMALLEST_LEG = ((0.25, 0.1250), (0.50, 0.1875), (0.75, 0.2500))
"""Thinner part up to this, and its smallest leg [in]. Source: AISC 360-22 Table J2.4 (1/8, 1/4 seen, rest memory)."""
SMALLEST_LEG_OVER = 0.3125
"""Smallest leg over the last thickness of the table [in]. Source: AISC 360-22 Table J2.4 (memory)."""


def direction_factor(angle: Values) -> Array:
    """Gain of a fillet pulled across its length, kds = 1 + 0.50 sin(angle)^1.5.

    The checks of this package use 1.0, the angle of a weld pulled along its length.

    Args:
        angle: Angle between the force and the weld, shape (...). [rad]

    Returns:
        The factor, 1 to 1.5, shape (...).

    Source: AISC 360-22 Eq. (J2-5) (seen).
    """
    return 1.0 + 0.50 * np.abs(np.sin(as_array(angle))) ** 1.5


def fillet_nominal(leg: Values, *, electrode: Values, angle: Values = 0.0) -> Array:
    """Nominal strength of one inch of fillet weld, Rn = 0.60 Fexx kds leg / sqrt(2).

    Args:
        leg: Leg, shape (...). [in]
        electrode: Tensile strength of the weld metal, shape (...). [psi]
        angle: Angle between the force and the weld, shape (...). [rad]

    Returns:
        Strength per inch, shape (...). [lbf/in]

    Source: AISC 360-22 J2.4, Eq. (J2-4) (seen).
    """
    return WELD_SHEAR * as_array(electrode) * direction_factor(angle) * THROAT * as_array(leg)


def base_metal_nominal(thickness: Values, *, fu: Values) -> Array:
    """Nominal strength of one inch of the plate beside a weld in shear rupture, 0.60 Fu t.

    Args:
        thickness: Plate thickness, shape (...). [in]
        fu: Tensile strength of the plate, shape (...). [psi]

    Returns:
        Strength per inch, shape (...). [lbf/in]

    Source: AISC 360-22 J4.2, Eq. (J4-4) (seen).
    """
    return SHEAR_YIELD * as_array(fu) * as_array(thickness)


def base_metal_yield(thickness: Values, *, fy: Values) -> Array:
    """Nominal strength of one inch of the plate beside a weld in shear yield, 0.60 Fy t.

    Args:
        thickness: Plate thickness, shape (...). [in]
        fy: Yield stress of the plate, shape (...). [psi]

    Returns:
        Strength per inch, shape (...). [lbf/in]

    Source: AISC 360-22 J4.2(a), Eq. (J4-3) (memory).
    """
    return SHEAR_YIELD * as_array(fy) * as_array(thickness)


def base_metal_allowable(thickness: Values, *, fy: Values, fu: Values, basis: Basis) -> Array:
    """Allowable force on one inch of the plate beside a weld: shear yield or shear rupture, whichever is less.

    Under the lifting basis the yield is Fy t/(Nd sqrt 3).

    Args:
        thickness: Plate thickness, shape (...). [in]
        fy: Yield stress of the plate, shape (...). [psi]
        fu: Tensile strength of the plate, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable force per inch, shape (...). [lbf/in]

    Source: AISC 360-22 J4.2, Eq. (J4-3) (memory), (J4-4) (seen); ASME BTH-1 3-2.3.6 (memory).
    """
    yielding = base_metal_yield(thickness, fy=fy) / basis.connection_shear
    held = np.minimum(yielding, base_metal_nominal(thickness, fu=fu) / basis.rupture)
    return step(held, "f_b", "Metal beside the weld allows", clause="AISC 360-22 J4.2 (yield memory, rupture seen)")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Joint:
    """One inch of a fillet weld and the metal it joins.

    Attributes:
        leg: Leg, shape (...). [in]
        length: Length of one run of weld, shape (...). [in]
        electrode: Tensile strength of the weld metal, shape (...). [psi]
        thickness: Thinner part joined, shape (...). [in]
        fy: Yield stress of that part, shape (...). [psi]
        fu: Tensile strength of that part, shape (...). [psi]
        faces: Welds that share the thinner part at one place, 1 or 2, shape (...).
    """

    leg: Values
    length: Values
    electrode: Values
    thickness: Values
    fy: Values
    fu: Values
    faces: Values = 1.0


def fillet_allowable(joint: Joint, *, basis: Basis, confidence: Values = 1.0) -> Array:
    """Allowable force per inch of weld: weld metal, or base metal in yield or rupture, whichever is less.

    A run shorter than four legs counts with a leg of a quarter of its length. Where two welds load one plate from both
    faces, each has half of the plate.

    Args:
        joint: The weld and what it joins, shape (...).
        basis: Basis of allowable strength.
        confidence: Share counted on, shape (...); see `CONFIDENCE`.

    Returns:
        Allowable force per inch, shape (...). [lbf/in]

    Source: AISC 360-22 J2.4 (seen), J2.2b (a quarter of the length, memory), J4.2; ASME BTH-1 3-3.4 (memory).
    """
    leg = np.minimum(as_array(joint.leg), as_array(joint.length) / 4.0)
    leg = step(leg, "l_c", "Leg that counts, a quarter of its run at most", clause="AISC 360-22 J2.2b (memory)")
    metal = fillet_nominal(leg, electrode=joint.electrode) / basis.weld
    plate = base_metal_allowable(joint.thickness, fy=joint.fy, fu=joint.fu, basis=basis)
    clause = "AISC 360-22 J2.4 (seen); ASME BTH-1 3-3.4 (memory)"
    counted = step(metal * as_array(confidence), "f_w", "Weld metal allows", clause=clause)
    held = np.minimum(counted, plate / as_array(joint.faces))
    return step(held, "f_j", "Allowed force per inch", clause="AISC 360-22 J2.4 (seen), J4.2")


def smallest_leg(thinner: Values) -> Array:
    """Smallest fillet for the thinner part joined.

    Args:
        thinner: Thickness of the thinner part, shape (...). [in]

    Returns:
        Leg, shape (...). [in]

    Source: AISC 360-22 Table J2.4 (1/8 and 1/4 in seen, rest memory).
    """
    thickness = as_array(thinner)
    leg = np.full(np.shape(thickness), SMALLEST_LEG_OVER)
    for limit, size in reversed(SMALLEST_LEG):
        leg = np.where(thickness <= limit, size, leg)
    return leg

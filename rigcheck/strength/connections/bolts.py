"""Bolts in tension and shear, and a flange that one of them pulls away from its wall."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import STRESS
from rigcheck.strength.bases import Basis

TENSION = {"A307": 45_000.0, "A325": 90_000.0, "A490": 113_000.0}
"""Nominal tensile stress of bolts on their whole area [psi]. Source: AISC 360-16 Table J3.2 (memory)."""
SHEAR = {"A307": 27_000.0, "A325": 54_000.0, "A490": 68_000.0}
"""Nominal shear stress with threads in the shear plane [psi]. Source: AISC 360-16 Table J3.2 (memory)."""
LOWEST = "A307"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bolt:
    """One bolt, allowable.

    Attributes:
        tension: Shape (...). [lbf]
        shear: Shape (...). [lbf]
    """

    tension: Array
    shear: Array


def bolt_strength(size: Values, *, grade: str, basis: Basis) -> Bolt:
    """Allowable tension and shear of one bolt, F_n A_b over the divisor of connections.

    Args:
        size: Diameter, shape (...). [in]
        grade: A word of `TENSION`.
        basis: Basis of allowable strength.

    Source: AISC 360-16 J3.6, Eq. (J3-1), Table J3.2 (memory); ASME BTH-1 3-1.3 for the divisor (memory).
    """
    diameter = as_array(size)
    area = step(np.pi * diameter**2 / 4.0, "A_b", "Area of a bolt")
    pull, cut = (
        beside(Quantity(table[grade], symbol, STRESS, f"nominal {word} stress of {grade}"), diameter)
        for table, symbol, word in ((TENSION, "F_nt", "tensile"), (SHEAR, "F_nv", "shear"))
    )
    clause = "AISC 360-16 J3.6, Table J3.2 (memory)"
    return Bolt(
        tension=step(pull * area / basis.rupture, "R_t", "Allowed pull of a bolt", clause=clause),
        shear=step(cut * area / basis.rupture, "R_v", "Allowed shear of a bolt", clause=clause),
    )


def pulled_flange(thickness: Values, *, strip: Values, gauge: Values, fy: Values, basis: Basis) -> Array:
    """Pull of a bolt that a flange takes as a cantilever from its wall, F_y p t^2/(4 g) over the divisor of yielding.

    A flange that holds so much bends one way only, and does not pry on its bolts.

    Args:
        thickness: Flange, shape (...). [in]
        strip: Length of flange that a bolt has, shape (...). [in]
        gauge: From the wall to the middle of the bolt, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable pull, shape (...). [lbf]

    Source: plastic moment of a plate, AISC 360-16 F11 (memory); AISC Manual part 9, prying (memory).
    """
    shape = np.minimum(1.5, basis.solid_limit)  # a plate's plastic over its elastic modulus, or the basis's limit
    moment = as_array(fy) * shape * as_array(strip) * as_array(thickness) ** 2 / 6.0
    allowed = moment / as_array(gauge) / basis.yielding
    return step(allowed, "R_f", "Pull of a bolt that its flange takes", clause="AISC 360-16 F11 (memory)")

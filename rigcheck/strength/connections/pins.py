"""Solid round pins: bending and shear of the pin itself."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import SHEAR_YIELD, Basis, Flexure, allowable_moment

ROUND_LIMIT = 1.60
"""Largest moment of a solid round over its yield moment. Source: AISC 360-22 F11.1 (memory)."""
UNTHREADED_SHEAR = 0.563
"""Shear strength of an unthreaded rod over its tensile strength. Source: AISC 360-22 Table J3.2 (memory)."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PinStrength:
    """Allowable strength of one solid round pin.

    Attributes:
        moment: Allowable bending moment, shape (...). [lbf*in]
        shear: Allowable shear on one plane, shape (...). [lbf]
    """

    moment: Array
    shear: Array


def pin_strength(diameter: Values, *, fy: Values, fu: Values, basis: Basis) -> PinStrength:
    """Allowable bending and single-plane shear of a solid round pin.

    Bending: 1.60 Fy S, which is under Fy Z, held to 1.25 Fy S under the lifting basis. Shear: the average stress
    over the area held to 0.60 Fy over the shear divisor, that is Fy/(Nd sqrt 3) under the lifting basis, and not more
    than an unthreaded rod of the same metal takes, 0.563 Fu over the rupture divisor.

    Args:
        diameter: Pin diameter, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        fu: Tensile strength, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable moment and shear, shape (...).

    Source: AISC 360-22 F11.1, G1 and Table J3.2; ASME BTH-1 3-2.3 and 3-2.3.6, average shear stress (memory).
    """
    size, yield_stress, tensile = np.broadcast_arrays(as_array(diameter), as_array(fy), as_array(fu))
    area = step(np.pi * size**2 / 4.0, "A_p", "Area of the pin")
    yield_moment = step(yield_stress * np.pi * size**3 / 32.0, "M_y", "Yield moment of the pin")
    nominal = ROUND_LIMIT * yield_moment  # under Fy Z, which is 1.70 Fy S for a round
    mark = np.ones_like(nominal)
    bending = Flexure(nominal=nominal, yield_moment=yield_moment, compact=mark, solid=mark)
    shear = np.minimum(SHEAR_YIELD * yield_stress / basis.shear, UNTHREADED_SHEAR * tensile / basis.rupture) * area
    shear = step(shear, "V_a", "Allowed shear on one plane", clause="AISC 360-22 G1, Table J3.2; ASME BTH-1 3-2.3.6")
    return PinStrength(moment=allowable_moment(bending, basis=basis), shear=shear)


def pin_moment(force: Values, *, outer: Values, gap: Values, inner: Values) -> Array:
    """Bending moment in a pin that two outer plates hold and one inner plate pulls.

    M = (P/2)(t_outer/2 + gap + t_inner/4): half the pull enters at the middle of each outer plate and is taken out
    over each half of the inner one.

    Args:
        force: Pull on the inner plate, shape (...). [lbf]
        outer: Thickness or length of one outer plate or barrel, shape (...). [in]
        gap: Clear distance between inner and outer, shape (...). [in]
        inner: Thickness or length of the inner plate or barrel, shape (...). [in]

    Returns:
        Moment at mid-length, shape (...). [lbf*in]

    Source: statics, docs/method.md#pin.
    """
    arm = as_array(outer) / 2.0 + as_array(gap) + as_array(inner) / 4.0
    return step(np.abs(as_array(force)) / 2.0 * arm, "M_p", "Moment of the pin", clause="statics, docs/method.md#pin")

"""Connections by allowable strength design: plates on a pin, and what a pin bears on."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import LENGTH
from rigcheck.strength.bases import PIN_BEARING, SHEAR_YIELD, Basis
from rigcheck.strength.connections.bth1 import PinPlate, beside_hole, beyond_hole, clearance_factor

EFFECTIVE_ADDITION = 0.63
"""Added to 2 t for the width that works beside a pin hole [in]. Source: AISC 360-22 D5.1 (seen)."""
_ADDITION = Quantity(EFFECTIVE_ADDITION, "e_0", LENGTH, "addition of the clause")
_CLAUSE = "AISC 360-22 D5, J7 (seen)"
CLOSE_PIN = 1.0 / 32.0
"""Hole less pin up to which nothing is taken off [in]. Source: AISC 360-22 D5.1 (seen)."""
LOOSE_PIN = 1.0 / 16.0
"""Hole less pin up to which the clause is written [in]. Source: AISC 360-22 D5.1 (memory)."""
LOOSE_FACTOR = 0.95
"""Shear rupture left between those two. Source: AISC 360-22 D5.1 (memory)."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PinConnected:
    """Allowable pull on a pin-connected plate, mode by mode.

    Attributes:
        tension: Rupture beside the hole, shape (...). [lbf]
        shear: Shear rupture beyond the hole, shape (...). [lbf]
        bearing: Bearing on the pin, shape (...). [lbf]
        gross: Yielding of the plate away from the hole, shape (...). [lbf]
        capacity: Smallest of them, shape (...). [lbf]
        effective_width: Width that works on each side of the hole, shape (...). [in]
        within_limits: 1 where the proportions of D5.2 hold, shape (...).
    """

    tension: Array
    shear: Array
    bearing: Array
    gross: Array
    capacity: Array
    effective_width: Array
    within_limits: Array


def pin_connected(plate: PinPlate, *, basis: Basis) -> PinConnected:
    """Allowable pull of a pin on a plate, in its plane.

    Fu 2 t be with be = 2 t + 0.63 <= b; 0.6 Cr Fu 2 t (a + d/2); 1.8 Fy d t; Fy w t.
    Holes looser than 1/16 in are beyond the clause: the lifting clearance factor then takes the place of 0.95, on the
    tension as well, and `within_limits` is 0.

    Args:
        plate: The plate; `edge_radius` is not used, shape (...). [in, psi]
        basis: Basis of allowable strength.

    Returns:
        Strength in each mode, shape (...). [lbf]

    Source: AISC 360-22 D5.1, Eq. (D5-1), (D5-2), D5.2, J7(a), D2(a) (seen).
    """
    thick, hole = as_array(plate.thickness), as_array(plate.hole)
    pin = np.minimum(as_array(plate.pin), hole)
    near, beyond = beside_hole(plate), beyond_hole(plate)
    working = np.minimum(2.0 * thick + beside(_ADDITION, thick), near)
    working = step(working, "b_f", "Effective width beside the hole", clause="AISC 360-22 D5.1 (seen)")
    clearance = hole - pin
    loose = clearance > LOOSE_PIN + 1.0e-9
    stand_in = np.minimum(LOOSE_FACTOR, clearance_factor(pin, hole=hole))
    factor = np.where(clearance <= CLOSE_PIN + 1.0e-9, 1.0, np.where(loose, stand_in, LOOSE_FACTOR))
    fracture = as_array(plate.fu) / basis.rupture
    tension = np.where(loose, stand_in, 1.0) * fracture * 2.0 * thick * working
    planes = np.where(beyond > 0.0, 2.0 * thick * (beyond + pin / 2.0), 0.0)
    shear = SHEAR_YIELD * factor * fracture * planes
    bearing = pin_bearing(pin, thickness=thick, fy=plate.fy, basis=basis)
    gross = as_array(plate.fy) * as_array(plate.width) * thick / basis.yielding
    tension = step(tension, "P_tn", "Rupture beside the hole", clause=_CLAUSE)
    gross = step(gross, "P_gr", "Yielding away from the hole", clause="AISC 360-22 D2 (seen)")
    shear = step(shear, "P_sh", "Allowed pull, double-plane shear", clause=_CLAUSE)
    bearing = step(bearing, "P_be", "Allowed pull, bearing on the pin", clause=_CLAUSE)
    slack = 1.0 + 1.0e-9
    limits = (
        (beyond * slack >= 1.33 * working)
        & (as_array(plate.width) * slack >= 2.0 * working + pin)
        & (clearance <= CLOSE_PIN + 1.0e-9)
    )
    capacity = np.minimum(np.minimum(tension, shear), np.minimum(bearing, gross))
    return PinConnected(
        tension=tension,
        shear=shear,
        bearing=bearing,
        gross=gross,
        capacity=capacity,
        effective_width=np.broadcast_to(working, np.shape(capacity)),
        within_limits=np.broadcast_to(np.where(limits, 1.0, 0.0), np.shape(capacity)),
    )


def pin_bearing(pin: Values, *, thickness: Values, fy: Values, basis: Basis) -> Array:
    """Allowable bearing between a pin and a plate or barrel, 1.8 Fy d t.

    Under the lifting basis the divisor makes it 1.25 Fy d t/Nd.

    Args:
        pin: Pin diameter, shape (...). [in]
        thickness: Thickness or length in bearing, shape (...). [in]
        fy: Lower yield stress of the two, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable force, shape (...). [lbf]

    Source: AISC 360-22 J7(a) (seen); ASME BTH-1 Eq. (3-53) (memory).
    """
    return PIN_BEARING * as_array(fy) * as_array(pin) * as_array(thickness) / basis.bearing

"""Connections by allowable strength design: plates on a pin, eyebars, bearing, plate tension and shear."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Array, Values, as_array, divide
from rigcheck.strength.bases import PIN_BEARING, SHEAR_YIELD, Basis
from rigcheck.strength.connections.bth1 import PinPlate, clearance_factor

EFFECTIVE_ADDITION = 0.63
"""Added to 2 t for the width that works beside a pin hole [in]. Source: AISC 360-22 D5.1 (seen)."""
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
    beside = np.maximum((as_array(plate.width) - hole) / 2.0, 0.0)
    beyond = np.maximum(as_array(plate.edge) - hole / 2.0, 0.0)
    working = np.minimum(2.0 * thick + EFFECTIVE_ADDITION, beside)
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


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Eyebar:
    """An eyebar: a bar with a round head.

    Attributes:
        thickness: Thickness, shape (...). [in]
        width: Width of the body, shape (...). [in]
        head: Diameter of the head, shape (...). [in]
        neck_radius: Radius where the head runs into the body, shape (...). [in]
        hole: Hole diameter, shape (...). [in]
        pin: Pin diameter, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
    """

    thickness: Values
    width: Values
    head: Values
    neck_radius: Values
    hole: Values
    pin: Values
    fy: Values


def eyebar(bar: Eyebar, *, basis: Basis) -> tuple[Array, Array]:
    """Allowable tension of an eyebar, Fy w t of the body, and whether its proportions allow that formula.

    w <= 8 t, t >= 1/2 in, d >= 7/8 w, hole <= d + 1/32 in, R >= head, 2/3 w < b <= 3/4 w (the upper limit is for the
    calculation only: a wider head counts with 3/4 w).

    Args:
        bar: The eyebar, shape (...). [in, psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable tension [lbf], and 1 where the proportions hold, each shape (...).

    Source: AISC 360-22 D6.1, D6.2 (seen).
    """
    thick, wide, pin = as_array(bar.thickness), as_array(bar.width), as_array(bar.pin)
    beside = (as_array(bar.head) - as_array(bar.hole)) / 2.0
    holds = (
        (wide <= 8.0 * thick * (1.0 + 1.0e-9))
        & (thick >= 0.5 - 1.0e-9)
        & (pin >= 7.0 / 8.0 * wide * (1.0 - 1.0e-9))
        & (as_array(bar.hole) <= pin + CLOSE_PIN + 1.0e-9)
        & (as_array(bar.neck_radius) >= as_array(bar.head) * (1.0 - 1.0e-9))
        & (beside > 2.0 / 3.0 * wide)
    )
    return as_array(bar.fy) * wide * thick / basis.yielding, np.where(holds, 1.0, 0.0)


def plate_tension(gross: Values, *, net: Values, fy: Values, fu: Values, basis: Basis) -> Array:
    """Allowable tension of a plate, Fy Ag or Fu Ae.

    Args:
        gross: Gross area, shape (...). [in2]
        net: Effective net area, shape (...). [in2]
        fy: Yield stress, shape (...). [psi]
        fu: Tensile strength, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable force, shape (...). [lbf]

    Source: AISC 360-22 J4.1, Eq. (J4-1), (J4-2) (rupture seen); ASME BTH-1 3-2.1 (memory).
    """
    return np.minimum(as_array(fy) * as_array(gross) / basis.yielding, as_array(fu) * as_array(net) / basis.rupture)


def plate_shear(gross: Values, *, net: Values, fy: Values, fu: Values, basis: Basis) -> Array:
    """Allowable shear of a plate, 0.60 Fy Agv or 0.60 Fu Anv.

    Args:
        gross: Gross area in shear, shape (...). [in2]
        net: Net area in shear, shape (...). [in2]
        fy: Yield stress, shape (...). [psi]
        fu: Tensile strength, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable force, shape (...). [lbf]

    Source: AISC 360-22 J4.2, Eq. (J4-3) (memory), (J4-4) (seen); ASME BTH-1 3-2.3.6 (memory).
    """
    yielding = SHEAR_YIELD * as_array(fy) * as_array(gross) / basis.connection_shear
    return np.minimum(yielding, SHEAR_YIELD * as_array(fu) * as_array(net) / basis.rupture)


def slotted_box_lag(width: Values, *, depth: Values, plate: Values, thickness: Values, length: Values) -> Array:
    """Shear lag of a rectangular tube slotted over a plate, U = 1 - xbar/l.

    xbar = b - (2 b^2 + t H - 2 t^2)/(2 H + 4 b - 4 t), b = (B - tp)/2.

    Args:
        width: Size of the tube across the plate, B, shape (...). [in]
        depth: Size along the plate, H, shape (...). [in]
        plate: Plate thickness tp, shape (...). [in]
        thickness: Wall thickness t, shape (...). [in]
        length: Weld length l, shape (...). [in]

    Returns:
        The factor, 0 to 1, shape (...).

    Source: AISC 360-22 Table D3.1 case 5 (seen).
    """
    thick, high = as_array(thickness), as_array(depth)
    half = (as_array(width) - as_array(plate)) / 2.0
    upper = 2.0 * half**2 + thick * high - 2.0 * thick**2
    offset = half - divide(upper, 2.0 * high + 4.0 * half - 4.0 * thick)
    return np.maximum(1.0 - divide(offset, length, where_zero=UNLIMITED), 0.0)

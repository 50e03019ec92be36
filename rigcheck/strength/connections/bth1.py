"""Lifting-device formulas: plates on a pin, and the pin itself.

The standard itself was not at hand; every equation here is from memory of ASME BTH-1 and is held in the tests against
AISC 360-22 on the same plate, against its own limits and against hand work.
"""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import Values, as_array, divide, root
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import ANGLE
from rigcheck.strength.bases import LIFTING_BEARING, Basis

CLEARANCE_SLOPE = 0.275
"""Slope of the clearance factor. Source: ASME BTH-1 Eq. (3-46) (memory)."""
CLOSE_FIT = 1.10
"""Hole over pin up to which the clearance factor is 1. Source: ASME BTH-1 3-3.3.1 (memory)."""
SHEAR_PLANE_ANGLE = 55.0
"""Angle of the two shear planes for a pin that fills its hole [deg]. Source: ASME BTH-1 Eq. (3-52) (memory)."""
_CLAUSE = "ASME BTH-1 3-3.3.1 (memory)"
_PLANE = Quantity(float(np.deg2rad(SHEAR_PLANE_ANGLE)), "gamma", ANGLE, "shear-plane angle, pin filling its hole")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PinPlate:
    """A plate that a pin pulls on, symmetric about the line of pull.

    Attributes:
        thickness: Plate thickness, shape (...). [in]
        width: Width across the pull, at the hole, shape (...). [in]
        edge: Hole center to the edge along the pull, shape (...). [in]
        hole: Hole diameter, shape (...). [in]
        pin: Pin diameter, not over the hole, shape (...). [in]
        edge_radius: Radius of the outer edge, 0 where it is cut square, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        fu: Tensile strength, shape (...). [psi]
    """

    thickness: Values
    width: Values
    edge: Values
    hole: Values
    pin: Values
    edge_radius: Values
    fy: Values
    fu: Values


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PinPlateStrength:
    """Allowable pull on a plate, mode by mode.

    Attributes:
        tension: Tension beside the hole, shape (...). [lbf]
        splitting: Fracture on the single plane beyond the pin, shape (...). [lbf]
        double_shear: Shear on the two planes beyond the pin, shape (...). [lbf]
        bearing: Bearing on the pin, shape (...). [lbf]
        capacity: Smallest of them, shape (...). [lbf]
        clearance_factor: Factor for a loose pin, shape (...).
        effective_width: Width that works on each side of the hole, shape (...). [in]
    """

    tension: Array
    splitting: Array
    double_shear: Array
    bearing: Array
    capacity: Array
    clearance_factor: Array
    effective_width: Array


def clearance_factor(pin: Values, *, hole: Values) -> Array:
    """Strength left in a plate whose pin is smaller than its hole.

    Cr = 1 - 0.275 sqrt(1 - (Dp/Dh)^2), and 1 where Dh/Dp <= 1.1.

    Args:
        pin: Pin diameter, shape (...). [in]
        hole: Hole diameter, shape (...). [in]

    Returns:
        The factor, 0.725 to 1, shape (...).

    Source: ASME BTH-1 Eq. (3-46) (memory).
    """
    ratio = divide(pin, hole)
    close = as_array(hole) <= CLOSE_FIT * as_array(pin) * (1.0 + 1.0e-12)
    left = np.where(close, 1.0, 1.0 - CLEARANCE_SLOPE * root(1.0 - ratio**2))
    return step(left, "C_r", "Clearance factor of the pin", clause="ASME BTH-1 Eq. (3-46) (memory)")


def beside_hole(plate: PinPlate) -> Array:
    """Plate beside the hole on each side, nothing where the hole reaches over the edge, shape (...). [in]"""
    beside = np.maximum((as_array(plate.width) - as_array(plate.hole)) / 2.0, 0.0)
    return step(beside, "b_e", "Plate beside the hole")


def beyond_hole(plate: PinPlate) -> Array:
    """Plate beyond the hole along the pull, nothing where the hole reaches over the edge, shape (...). [in]"""
    return step(np.maximum(as_array(plate.edge) - as_array(plate.hole) / 2.0, 0.0), "a_e", "Plate beyond the hole")


def effective_width(plate: PinPlate) -> Array:
    """Width beside the hole that works in tension, on each side.

    beff = min(be, 4 t, 0.6 be (Fu/Fy) sqrt(Dh/be)), be = (width - hole)/2.

    Args:
        plate: The plate, shape (...). [in, psi]

    Returns:
        Effective width, shape (...). [in]

    Source: ASME BTH-1 Eq. (3-47), (3-48) (memory).
    """
    beside = beside_hole(plate)
    # be sqrt(Dh/be) = sqrt(Dh be)
    drawn = 0.6 * divide(plate.fu, plate.fy) * root(as_array(plate.hole) * beside)
    works = np.minimum(np.minimum(beside, 4.0 * as_array(plate.thickness)), drawn)
    return step(works, "b_f", "Effective width beside the hole", clause="ASME BTH-1 Eq. (3-47), (3-48) (memory)")


def shear_planes(plate: PinPlate) -> Array:
    """Area of the two shear planes beyond the pin.

    Av = 2 t [a + (Dp/2)(1 - cos phi) - z], phi = 55 deg Dp/Dh, a = edge - hole/2, z = r - sqrt(r^2 - (Dp/2 sin phi)^2)
    for an edge curved to radius r and 0 for one cut square.

    Args:
        plate: The plate, shape (...). [in]

    Returns:
        Area, never negative, shape (...). [in2]

    Source: ASME BTH-1 Eq. (3-51), (3-52) (memory); z by geometry, docs/method.md#lug.
    """
    pin = np.minimum(as_array(plate.pin), as_array(plate.hole))
    angle = beside(_PLANE, pin) * divide(pin, plate.hole)
    angle = step(angle, "phi", "Shear-plane angle", clause="ASME BTH-1 Eq. (3-52) (memory)")
    beyond = beyond_hole(plate)
    radius = as_array(plate.edge_radius)
    lost = np.where(radius > 0.0, radius - root(radius**2 - (pin / 2.0 * np.sin(angle)) ** 2), 0.0)
    lost = step(lost, "z", "Fall of the round edge at the planes", clause="geometry, docs/method.md#lug")
    plane = beyond + pin / 2.0 * (1.0 - np.cos(angle)) - lost
    area = np.where(beyond > 0.0, 2.0 * as_array(plate.thickness) * np.maximum(plane, 0.0), 0.0)
    return step(area, "A_v", "Area of the two shear planes", clause="ASME BTH-1 Eq. (3-51) (memory)")


def pin_plate(plate: PinPlate, *, basis: Basis) -> PinPlateStrength:
    """Allowable pull of a pin on a plate, in its plane.

    Pt = Cr Fu 2 t beff; Pb = Cr Fu t [1.13 a + 0.92 be/(1 + be/Dh)]; Pv = 0.70 Fu Av; Pp = 1.25 Fy Dp t. The first
    three are divided by the basis's rupture divisor (1.20 Nd), the last by its yielding divisor (Nd).

    Args:
        plate: The plate, shape (...). [in, psi]
        basis: Basis of allowable strength.

    Returns:
        Strength in each mode, shape (...). [lbf]

    Source: ASME BTH-1 3-3.3.1, Eq. (3-45), (3-49), (3-50), (3-53) (memory).
    """
    thick, hole = as_array(plate.thickness), as_array(plate.hole)
    pin = np.minimum(as_array(plate.pin), hole)
    factor = clearance_factor(pin, hole=hole)
    working, near, beyond = effective_width(plate), beside_hole(plate), beyond_hole(plate)
    fracture = as_array(plate.fu) / basis.rupture
    tension = factor * fracture * 2.0 * thick * working
    edge_band = 1.13 * beyond + 0.92 * divide(near * hole, hole + near)
    splitting = np.where(beyond > 0.0, factor * fracture * thick * edge_band, 0.0)
    double_shear = 0.70 * fracture * shear_planes(plate)
    bearing = LIFTING_BEARING * as_array(plate.fy) / basis.yielding * pin * thick
    tension = step(tension, "P_te", "Allowed pull, tension beside the hole", clause=_CLAUSE)
    splitting = step(splitting, "P_sp", "Allowed pull, single-plane fracture beyond the hole", clause=_CLAUSE)
    double_shear = step(double_shear, "P_sh", "Allowed pull, double-plane shear", clause=_CLAUSE)
    bearing = step(bearing, "P_be", "Allowed pull, bearing on the pin", clause=_CLAUSE)
    capacity = np.minimum(np.minimum(tension, splitting), np.minimum(double_shear, bearing))
    return PinPlateStrength(
        tension=tension,
        splitting=splitting,
        double_shear=double_shear,
        bearing=bearing,
        capacity=capacity,
        clearance_factor=np.broadcast_to(factor, np.shape(capacity)),
        effective_width=np.broadcast_to(working, np.shape(capacity)),
    )

"""Members in shear and in torsion."""

import numpy as np

from rigcheck.arrays.guarded import Values, as_array, divide, root
from rigcheck.arrays.traced import beside, step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import SHEAR_YIELD, Basis
from rigcheck.strength.members.compression import YOUNG

BOX_PLATE_FACTOR = 5.0
"""Shear buckling factor kv of a tube wall. Source: AISC 360-22 G4 (seen)."""
LEG_PLATE_FACTOR = 1.2
"""Shear buckling factor kv of an angle leg. Source: AISC 360-22 G3 (memory)."""


def web_factor(ratio: Values, *, fy: Values, plate_factor: float) -> Array:
    """Share of the shear yield stress that a wall reaches before it buckles, Cv2.

    1 to h/t = 1.10 sqrt(kv E/Fy), 1.10 sqrt(kv E/Fy)/(h/t) to 1.37 of it, 1.51 kv E/((h/t)^2 Fy) beyond.

    Args:
        ratio: Flat depth over thickness, shape (...).
        fy: Yield stress, shape (...). [psi]
        plate_factor: Shear buckling factor kv.

    Returns:
        The factor, 0 to 1, shape (...).

    Source: AISC 360-22 G2.2, Eq. (G2-9) (seen), (G2-10), (G2-11) (memory).
    """
    edge = root(divide(plate_factor * beside(YOUNG, fy), fy))
    scaled = np.maximum(divide(ratio, edge), 1.0e-6)
    factor = np.where(scaled <= 1.10, 1.0, np.where(scaled <= 1.37, 1.10 / scaled, 1.51 / scaled**2))
    return step(factor, "C_v", "Share of the shear yield stress before the wall buckles", clause="AISC 360-22 G2.2")


def box_shear(ratio: Values, *, thickness: Values, fy: Values) -> Array:
    """Nominal shear strength of a square or rectangular tube, Vn = 0.6 Fy (2 h t) Cv2.

    Args:
        ratio: Flat depth along the shear over thickness, shape (...).
        thickness: Design wall thickness, shape (...). [in]
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 G4, Eq. (G4-1) (seen).
    """
    webs = 2.0 * as_array(ratio) * as_array(thickness) ** 2
    return SHEAR_YIELD * as_array(fy) * webs * web_factor(ratio, fy=fy, plate_factor=BOX_PLATE_FACTOR)


def leg_shear(ratio: Values, *, thickness: Values, fy: Values) -> Array:
    """Nominal shear strength of one angle leg, Vn = 0.6 Fy b t Cv2.

    Args:
        ratio: Leg over thickness, shape (...).
        thickness: Leg thickness, shape (...). [in]
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 G3 (memory).
    """
    leg = as_array(ratio) * as_array(thickness) ** 2
    return SHEAR_YIELD * as_array(fy) * leg * web_factor(ratio, fy=fy, plate_factor=LEG_PLATE_FACTOR)


def round_shear_stress(ratio: Values, *, fy: Values, length: Values, diameter: Values) -> Array:
    """Shear stress at which a round tube buckles or yields.

    The larger of 1.60 E/(sqrt(Lv/D) (D/t)^(5/4)) and 0.78 E/(D/t)^(3/2), at most 0.6 Fy.

    Args:
        ratio: Diameter over wall; 0 for a solid bar, shape (...).
        fy: Yield stress, shape (...). [psi]
        length: Length from largest to zero shear, shape (...). [in]
        diameter: Outside diameter, shape (...). [in]

    Returns:
        Stress, shape (...). [psi]

    Source: AISC 360-22 G5, Eq. (G5-2a), (G5-2b) (seen).
    """
    return _round_stress(ratio, fy=fy, spans=divide(length, diameter), by_length=1.60, by_wall=0.78)


def _round_stress(ratio: Values, *, fy: Values, spans: Array, by_length: float, by_wall: float) -> Array:
    """Larger of the two buckling stresses of a round wall, at most 0.6 Fy."""
    wall = np.maximum(as_array(ratio), 1.0)
    # a very short tube is held at the stress of one whose length is a hundredth of its diameter
    young = beside(YOUNG, fy)
    long = by_length * young / (np.sqrt(np.maximum(spans, 0.01)) * wall**1.25)
    short = by_wall * young / wall**1.5
    stress = np.minimum(np.maximum(long, short), SHEAR_YIELD * as_array(fy))
    return step(stress, "F_cr", "Shear stress at which the round wall buckles or yields", clause="AISC 360-22 G5, H3.1")


def round_shear(area: Values, *, ratio: Values, fy: Values, length: Values, diameter: Values) -> Array:
    """Nominal shear strength of a round tube or pipe, Vn = Fcr A/2.

    Args:
        area: Area, shape (...). [in2]
        ratio: Diameter over wall, shape (...).
        fy: Yield stress, shape (...). [psi]
        length: Length from largest to zero shear, shape (...). [in]
        diameter: Outside diameter, shape (...). [in]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 G5, Eq. (G5-1) (seen).
    """
    return round_shear_stress(ratio, fy=fy, length=length, diameter=diameter) * as_array(area) / 2.0


def sheet_shear(thickness: Values, *, height: Values, fy: Values, plate_factor: float, basis: Basis) -> Array:
    """Allowable shear of one sheet wall held along its edges, 0.6 Fy t h Cv2 over the divisor.

    Args:
        thickness: Of the wall, shape (...). [in]
        height: Of the wall, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        plate_factor: Shear buckling factor kv.
        basis: Basis of allowable strength.

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 G2.1, G2.2 (memory).
    """
    wall, high = as_array(thickness), as_array(height)
    factor = web_factor(high / wall, fy=fy, plate_factor=plate_factor)
    held = SHEAR_YIELD * as_array(fy) * wall * high * factor / basis.shear
    return step(held, "V_w", "Allowed shear of the wall", clause="AISC 360-22 G2 (memory)")


def solid_shear(area: Values, *, fy: Values) -> Array:
    """Nominal shear strength of a solid bar or plate, Vn = 0.6 Fy A, the average stress.

    Args:
        area: Area, shape (...). [in2]
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 J4.2, Eq. (J4-3) (memory); ASME BTH-1 3-2.3.6 (memory).
    """
    return SHEAR_YIELD * as_array(fy) * as_array(area)


def box_torsion(torsion_modulus: Values, *, ratio: Values, fy: Values) -> Array:
    """Nominal torsional strength of a square or rectangular tube, Tn = Fcr C.

    Fcr = 0.6 Fy where h/t <= 2.45 sqrt(E/Fy), 0.6 Fy 2.45 sqrt(E/Fy)/(h/t) to 3.07, 0.458 pi^2 E/(h/t)^2 beyond.

    Args:
        torsion_modulus: Torsional constant C, shape (...). [in3]
        ratio: The larger flat width over thickness, shape (...).
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf*in]

    Source: AISC 360-22 H3.1(b) (form seen; limits and Eq. (H3-4), (H3-5) memory).
    """
    stress = SHEAR_YIELD * as_array(fy)
    scaled = np.maximum(divide(ratio, root(divide(beside(YOUNG, fy), fy))), 1.0e-6)
    slender = np.minimum(0.458 * np.pi**2 * as_array(fy) / scaled**2, stress)
    share = np.where(scaled <= 2.45, stress, np.where(scaled <= 3.07, stress * 2.45 / scaled, slender))
    share = step(share, "F_cr", "Shear stress at which it buckles or yields", clause="AISC 360-22 H3.1(b)")
    return share * as_array(torsion_modulus)


def round_torsion(torsion_modulus: Values, *, ratio: Values, fy: Values, length: Values, diameter: Values) -> Array:
    """Nominal torsional strength of a round tube, pipe or bar, Tn = Fcr C.

    Fcr the larger of 1.23 E/(sqrt(L/D) (D/t)^(5/4)) and 0.60 E/(D/t)^(3/2), at most 0.6 Fy.

    Args:
        torsion_modulus: Torsional constant C, shape (...). [in3]
        ratio: Diameter over wall; 0 for a solid bar, shape (...).
        fy: Yield stress, shape (...). [psi]
        length: Length of the member, shape (...). [in]
        diameter: Outside diameter, shape (...). [in]

    Returns:
        Strength, shape (...). [lbf*in]

    Source: AISC 360-22 H3.1(a), Eq. (H3-2a), (H3-2b) (memory).
    """
    stress = _round_stress(ratio, fy=fy, spans=divide(length, diameter), by_length=1.23, by_wall=0.60)
    return stress * as_array(torsion_modulus)


def open_torsion(torsion_modulus: Values, *, fy: Values) -> Array:
    """Nominal torsional strength of a bar or an angle, first shear yield, warping not counted.

    Args:
        torsion_modulus: Torque over largest shear stress, shape (...). [in3]
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf*in]

    Source: AISC 360-22 H3.3(b) (memory).
    """
    return SHEAR_YIELD * as_array(fy) * as_array(torsion_modulus)

"""Members in compression: column stress and walls too thin to work over their whole width."""

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide, root
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import STRESS
from rigcheck.strength.bases import LIFTING_BUCKLING, Basis

ELASTIC_MODULUS = 29.0e6
"""Young's modulus of steel [psi]. Source: AISC 360-22 (seen)."""
YOUNG = Quantity(ELASTIC_MODULUS, "E", STRESS, "modulus of elasticity")
"""The same with its symbol."""
SHEAR_MODULUS = 11.2e6
"""Shear modulus of steel [psi]. Source: AISC 360-22 (seen)."""
TUBE_WALL = (1.40, 0.20, 1.38)
"""Slenderness limit over sqrt(E/Fy), c1, c2 of a tube wall. Source: AISC 360-22 Tables B4.1a, E7.1 (seen)."""
ANGLE_LEG = (0.45, 0.22, 1.49)
"""The same for an angle leg. Source: AISC 360-22 Tables B4.1a, E7.1 (memory)."""
ROUND_LIMIT = 0.45
"""D/t Fy/E up to which the clause on round walls is written. Source: AISC 360-22 E7.2 (memory)."""
INELASTIC_LIMIT = 2.25
"""Fy/Fe up to which a column yields as it buckles. Source: AISC 360-22 E3 (memory)."""
SLENDER_LIMIT = 200.0
"""Lc/r that a member should stay under. Source: AISC 360-22 E2 user note (memory)."""


Walls = tuple[Values, Values]


def euler_stress(slenderness: Values) -> Array:
    """Elastic buckling stress, Fe = pi^2 E / (Lc/r)^2.

    Args:
        slenderness: Effective length over radius of gyration, shape (...).

    Returns:
        Stress, held at E for the stockiest, shape (...). [psi]

    Source: AISC 360-22 Eq. (E3-4) (seen).
    """
    ratio = np.maximum(as_array(slenderness), np.pi)
    elastic = np.pi**2 * beside(YOUNG, slenderness) / ratio**2
    return step(elastic, "F_E", "Elastic buckling stress", clause="AISC 360-22 Eq. (E3-4) (seen)")


def column_stress(slenderness: Values, *, fy: Values) -> Array:
    """Nominal compressive stress of a member without slender walls.

    Fn = 0.658^(Fy/Fe) Fy where Lc/r <= 4.71 sqrt(E/Fy), else 0.877 Fe.

    Args:
        slenderness: Effective length over radius of gyration, shape (...).
        fy: Yield stress, shape (...). [psi]

    Returns:
        Stress, shape (...). [psi]

    Source: AISC 360-22 E3, Eq. (E3-2) (seen), (E3-3) (memory).
    """
    return stress_at(euler_stress(slenderness), fy=fy)


def stress_at(elastic: Values, *, fy: Values) -> Array:
    """Nominal compressive stress from the elastic buckling stress, however that was found.

    Fn = 0.658^(Fy/Fe) Fy where Fy/Fe <= 2.25, else 0.877 Fe.

    Args:
        elastic: Elastic buckling stress Fe, shape (...). [psi]
        fy: Yield stress, shape (...). [psi]

    Returns:
        Stress, shape (...). [psi]

    Source: AISC 360-22 Eq. (E3-2) (seen), (E3-3) (memory).
    """
    yield_stress, buckling = as_array(fy), as_array(elastic)
    ratio = divide(yield_stress, buckling, where_zero=1.0e9)
    inelastic = 0.658 ** np.minimum(ratio, INELASTIC_LIMIT) * yield_stress
    stress = np.where(ratio <= INELASTIC_LIMIT, inelastic, 0.877 * buckling)
    return step(stress, "F_n", "Column stress", clause="AISC 360-22 Eq. (E3-2) (seen), (E3-3) (memory)")


def lifting_stress(elastic: Values, *, fy: Values) -> Array:
    """Compressive stress of a lifting device's member times Nd, from its elastic buckling stress.

    [1 - x^2/2] Fy / [1 + (9/40) x - (3/40) x^3] with x = (KL/r)/Cc up to 1, and pi^2 E/(1.15 (KL/r)^2) beyond.
    Cc = sqrt(2 pi^2 E/Fy), so that x^2 = Fy/(2 Fe).

    Args:
        elastic: Elastic buckling stress Fe, shape (...). [psi]
        fy: Yield stress, shape (...). [psi]

    Returns:
        Stress, shape (...). [psi]

    Source: ASME BTH-1 3-2.2, Eq. (3-3), (3-5) (memory).
    """
    yield_stress, buckling = as_array(fy), as_array(elastic)
    square = divide(yield_stress, 2.0 * buckling, where_zero=1.0e9)
    slender = np.minimum(root(square), 1.0)
    slender = step(slender, "x_c", "Slenderness over that of elastic buckling", clause="ASME BTH-1 3-2.2 (memory)")
    short = (1.0 - slender**2 / 2.0) * yield_stress / (1.0 + 9.0 / 40.0 * slender - 3.0 / 40.0 * slender**3)
    stress = np.where(square <= 1.0, short, buckling / LIFTING_BUCKLING)
    return step(stress, "F_l", "Column stress of a lifting device", clause="ASME BTH-1 3-2.2 (memory)")


def allowable_stress(elastic: Values, *, fy: Values, basis: Basis) -> Array:
    """Allowable compressive stress from the elastic buckling stress.

    Args:
        elastic: Elastic buckling stress Fe, shape (...). [psi]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength; under lifting the lesser of both column curves counts.

    Returns:
        Stress, shape (...). [psi]

    Source: AISC 360-22 E3 (seen); ASME BTH-1 3-2.2 (memory).
    """
    stress = stress_at(elastic, fy=fy)
    if basis.lifting_members:
        stress = np.minimum(stress, lifting_stress(elastic, fy=fy))
    return step(
        stress / basis.yielding, "F_a", "Allowed stress in compression", clause="AISC 360-22 E3; ASME BTH-1 3-2.2"
    )


def effective_ratio(ratio: Values, *, stress: Values, fy: Values, wall: tuple[float, float, float]) -> Array:
    """Share of a wall that works at a compressive stress.

    1 where lambda <= lambda_r sqrt(Fy/Fn), else (1 - c1 q) q with q = sqrt(Fel/Fn), Fel = (c2 lambda_r/lambda)^2 Fy.

    Args:
        ratio: Flat width over thickness, shape (...).
        stress: Nominal compressive stress Fn, shape (...). [psi]
        fy: Yield stress, shape (...). [psi]
        wall: Limit over sqrt(E/Fy), c1 and c2 of this kind of wall.

    Returns:
        The share, 0 to 1, shape (...).

    Source: AISC 360-22 E7.1, Eq. (E7-2), (E7-3), (E7-5) (seen).
    """
    limit, c1, c2 = wall
    slenderness, yield_stress, working = as_array(ratio), as_array(fy), as_array(stress)
    edge = limit * root(divide(beside(YOUNG, fy), yield_stress))
    local = (c2 * divide(edge, slenderness, where_zero=1.0e6)) ** 2 * yield_stress
    share = root(divide(local, working, where_zero=1.0e6))
    slender = slenderness > edge * root(divide(yield_stress, working, where_zero=1.0e6))
    share = step(share, "q", "Root of its own buckling stress over the stress", clause="AISC 360-22 Eq. (E7-5) (seen)")
    works = np.where(slender, np.clip((1.0 - c1 * share) * share, 0.0, 1.0), 1.0)
    return step(works, "rho", "Share of the wall that works", clause="AISC 360-22 Eq. (E7-2), (E7-3) (seen)")


def box_compression(slenderness: Values, *, area: Values, thickness: Values, walls: Walls, fy: Values) -> Array:
    """Nominal compressive strength of a square or rectangular tube.

    Pn = Fn Ae, Ae = A - sum of the widths that do not work, times the thickness.

    Args:
        slenderness: Effective length over least radius of gyration, shape (...).
        area: Area, shape (...). [in2]
        thickness: Design wall thickness, shape (...). [in]
        walls: Flat width over thickness across and upright, each shape (...).
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 E3, E7 (seen).
    """
    return _thin_walled(slenderness, area=area, thickness=thickness, walls=walls, fy=fy, kind=TUBE_WALL, alike=2.0)


def _thin_walled(
    slenderness: Values, *, area: Values, thickness: Values, walls: Walls, fy: Values,
    kind: tuple[float, float, float], alike: float,
) -> Array:  # fmt: skip
    """Column stress on what works of a section of two kinds of wall, `alike` of each."""
    stress = column_stress(slenderness, fy=fy)
    first, second = (
        alike * (1.0 - effective_ratio(wall, stress=stress, fy=fy, wall=kind)) * as_array(wall) for wall in walls
    )
    lost = (first + second) * as_array(thickness) ** 2
    works = step(np.maximum(as_array(area) - lost, 0.0), "A_e", "Area that works", clause="AISC 360-22 E7 (seen)")
    return as_array(stress * works)


def round_compression(slenderness: Values, *, area: Values, ratio: Values, fy: Values) -> Array:
    """Nominal compressive strength of a round tube or pipe.

    Ae = A [0.038 E/(Fy D/t) + 2/3] <= A; the standard starts at 0.11 E/Fy, where this is still A. Over 0.45 E/Fy,
    beyond the standard, the wall is held to its value there times the square of the ratio.

    Args:
        slenderness: Effective length over radius of gyration, shape (...).
        area: Area, shape (...). [in2]
        ratio: Outside diameter over wall thickness; 0 for a solid bar, shape (...).
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 E3 (seen), E7.2, Eq. (E7-6), (E7-7) (memory).
    """
    per_limit = divide(as_array(ratio) * as_array(fy), beside(YOUNG, fy))
    beyond = np.minimum(divide(ROUND_LIMIT, per_limit, where_zero=UNLIMITED), 1.0) ** 2
    share = divide(0.038, np.minimum(per_limit, ROUND_LIMIT), where_zero=UNLIMITED) + 2.0 / 3.0
    share = np.minimum(share, 1.0) * beyond
    share = step(share, "rho", "Share of the area that works", clause="AISC 360-22 E7.2 (memory)")
    return as_array(column_stress(slenderness, fy=fy) * share * as_array(area))


def angle_compression(slenderness: Values, *, area: Values, thickness: Values, legs: Walls, fy: Values) -> Array:
    """Nominal compressive strength of a single angle pushed along its centroid.

    Buckling about the least axis. The relief for angles held by one leg is not used, nor is the bending from an
    eccentric end; that moment is the caller's.

    Args:
        slenderness: Effective length over least radius of gyration, shape (...).
        area: Area, shape (...). [in2]
        thickness: Leg thickness, shape (...). [in]
        legs: Leg over thickness of both legs, each shape (...).
        fy: Yield stress, shape (...). [psi]

    Returns:
        Strength, shape (...). [lbf]

    Source: AISC 360-22 E3, E7 with the values of an angle leg (memory).
    """
    return _thin_walled(slenderness, area=area, thickness=thickness, walls=legs, fy=fy, kind=ANGLE_LEG, alike=1.0)


def moment_amplifier(axial: Values, *, euler: Values, ratio: Values = 1.0, second_order: float = 1.60) -> Array:
    """Growth of the moment in a member that is pushed while it bends.

    B1 = Cm / (1 - alpha P/Pe) >= 1. It is held at 1e6 from P = Pe/alpha on, so that such a member never passes.

    Args:
        axial: Compression, positive; tension counts as none, shape (...). [lbf]
        euler: Elastic buckling load in the plane of bending, shape (...). [lbf]
        ratio: Equivalent uniform moment factor Cm, shape (...).
        second_order: Factor alpha of the basis.

    Returns:
        The factor, at least 1, shape (...).

    Source: AISC 360-22 Appendix 8, Eq. (A-8-3) (memory).
    """
    push = np.maximum(as_array(axial), 0.0)
    left = 1.0 - second_order * divide(push, euler, where_zero=UNLIMITED)
    grown = np.where(left > 1.0e-6, as_array(ratio) / np.maximum(left, 1.0e-6), 1.0e6)
    clause = "AISC 360-22 Appendix 8, Eq. (A-8-3) (memory)"
    return step(np.maximum(grown, 1.0), "B_1", "Growth of the moment", clause=clause)

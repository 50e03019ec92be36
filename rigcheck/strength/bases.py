"""Bases of allowable strength: what a nominal strength is divided by, one divisor for each family of limit states."""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array

DESIGN_FACTOR_B = 3.0
"""Design factor Nd of a category B device. Source: ASME BTH-1, 3-1.3 (memory)."""
CONNECTION_FACTOR = 1.20
"""Extra on Nd for fracture and for connections. Source: ASME BTH-1, 3-1.3 (memory)."""
OMEGA_YIELDING = 1.67
"""Yielding and buckling of members. Source: AISC 360-22 D2, E1, F1, G1, H3 (seen)."""
OMEGA_RUPTURE = 2.00
"""Rupture, bearing and welds. Source: AISC 360-22 D2, D5, J2.4, J4, J7 (seen)."""
OMEGA_CONNECTION_SHEAR = 1.50
"""Shear yielding of a connecting element. Source: AISC 360-22 J4.2 (memory)."""
OMEGA_FACE = 1.50
"""Plastic bending of a tube's face under a plate along it. Source: AISC 360 chapter K, Eq. (K1-12) (memory)."""
SHEAR_YIELD = 0.60
"""Shear yield stress over tension yield stress. Source: AISC 360-22 G2.1, J4.2 (seen)."""
PIN_BEARING = 1.80
"""Bearing stress on a pin over yield stress. Source: AISC 360-22 J7(a) (seen)."""
LIFTING_BUCKLING = 1.15
"""Extra on Nd where a member buckles elastically. Source: ASME BTH-1 3-2.2, Eq. (3-5), and 3-2.4 (memory)."""
LIFTING_BEARING = 1.25
"""Bearing stress on a pin that does not turn under load, over Fy/Nd. Source: ASME BTH-1, Eq. (3-53) (memory)."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Basis:
    """Divisors and shape limits of one basis.

    Attributes:
        name: Word for it in files and output.
        title: What it is, in one line.
        yielding: Divisor for yielding and buckling in tension, compression, flexure and torsion.
        shear: Divisor for shear yielding, on a nominal stress of 0.60 Fy.
        connection_shear: The same for plates and other connecting elements.
        rupture: Divisor for rupture on a net or shear area.
        weld: Divisor for weld metal and base metal at a weld.
        face: Divisor for plastic bending of a tube's flat face.
        bearing: Divisor for bearing on a pin, on a nominal stress of 1.80 Fy.
        compact_limit: Largest moment of a compact section over its yield moment.
        other_limit: The same for a section with a wall that is not compact.
        solid_limit: The same for solid bars, pins and plates on the flat.
        lifting_members: Whether members are held to BTH-1's own column curve and sums as well as to those of AISC 360.
        second_order: Factor on the axial load where it makes a moment grow, alpha of AISC 360-22 Appendix 8.
        source: Document and clauses.
    """

    name: str
    title: str
    yielding: float
    shear: float
    connection_shear: float
    rupture: float
    weld: float
    face: float
    bearing: float
    compact_limit: float
    other_limit: float
    solid_limit: float
    lifting_members: bool
    second_order: float
    source: str


FRAME = Basis(
    name="frame",
    title="AISC 360-22 allowable strength design",
    yielding=OMEGA_YIELDING,
    shear=OMEGA_YIELDING,
    connection_shear=OMEGA_CONNECTION_SHEAR,
    rupture=OMEGA_RUPTURE,
    weld=OMEGA_RUPTURE,
    face=OMEGA_FACE,
    bearing=OMEGA_RUPTURE,
    compact_limit=UNLIMITED,
    other_limit=UNLIMITED,
    solid_limit=UNLIMITED,
    lifting_members=False,
    second_order=1.60,
    source="AISC 360-22 D, E, F, G, H, J (omega 1.67 and 2.00 seen; 1.50 memory)",
)
LIFTING = Basis(
    name="lifting",
    title="ASME BTH-1 design category B, design factor 3.0",
    yielding=DESIGN_FACTOR_B,
    # Fv = Fy/(Nd sqrt 3) written as a divisor of 0.60 Fy
    shear=DESIGN_FACTOR_B * SHEAR_YIELD * sqrt(3.0),
    connection_shear=DESIGN_FACTOR_B * SHEAR_YIELD * sqrt(3.0),
    rupture=DESIGN_FACTOR_B * CONNECTION_FACTOR,
    weld=DESIGN_FACTOR_B * CONNECTION_FACTOR,
    face=DESIGN_FACTOR_B,
    # 1.25 Fy/Nd written as a divisor of 1.80 Fy
    bearing=DESIGN_FACTOR_B * PIN_BEARING / LIFTING_BEARING,
    compact_limit=1.10,
    other_limit=1.00,
    solid_limit=1.25,
    lifting_members=True,
    # F'e = pi^2 E / (1.15 Nd (KL/r)^2)
    second_order=LIFTING_BUCKLING * DESIGN_FACTOR_B,
    source="ASME BTH-1 3-1.3, 3-2.1 to 3-2.5, 3-3.3, 3-3.4 (memory)",
)
ULTIMATE = Basis(
    name="ultimate",
    title="nominal strength, for accidents only",
    yielding=1.0,
    shear=1.0,
    connection_shear=1.0,
    rupture=1.0,
    weld=1.0,
    face=1.0,
    bearing=1.0,
    compact_limit=UNLIMITED,
    other_limit=UNLIMITED,
    solid_limit=UNLIMITED,
    lifting_members=False,
    second_order=1.0,
    source="AISC 360-22 nominal strengths, no divisor (for a line that has parted)",
)
BASES = {basis.name: basis for basis in (LIFTING, FRAME, ULTIMATE)}
"""Every basis by its word."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Flexure:
    """Nominal moment strength of a section and what a basis needs to limit it.

    Attributes:
        nominal: Nominal moment strength, shape (...). [lbf*in]
        yield_moment: First-yield moment Fy S of the whole section, shape (...). [lbf*in]
        compact: True where every wall is compact, shape (...).
        solid: True for bars, pins and plates on the flat, shape (...).
    """

    nominal: Array
    yield_moment: Array
    compact: Array
    solid: Array


def allowable(nominal: Values, *, divisor: float) -> Array:
    """Allowable strength Rn / divisor.

    Args:
        nominal: Nominal strength, shape (...). [any]
        divisor: One divisor of a basis.

    Returns:
        Allowable strength, shape (...). [as nominal]

    Source: AISC 360-22 B3.2; ASME BTH-1 3-2 (memory).
    """
    return as_array(nominal) / divisor


def allowable_moment(flexure: Flexure, *, basis: Basis) -> Array:
    """Allowable moment: the nominal one, held to the basis's share of the yield moment, over its divisor.

    Under the lifting basis the limits are 1.10 (compact), 1.00 (not compact) and 1.25 (solid bars).

    Args:
        flexure: Nominal strength and its section, shape (...).
        basis: Basis of allowable strength.

    Returns:
        Allowable moment, shape (...). [lbf*in]

    Source: AISC 360-22 F1; ASME BTH-1 3-2.3.1 to 3-2.3.5 (memory).
    """
    limit = np.where(flexure.compact > 0.0, basis.compact_limit, basis.other_limit)
    limit = np.where(flexure.solid > 0.0, basis.solid_limit, limit)
    held = np.minimum(flexure.nominal, limit * flexure.yield_moment) / basis.yielding
    return step(held, "M_a", "Allowed moment", clause="AISC 360-22 F1; ASME BTH-1 3-2.3 (memory)")

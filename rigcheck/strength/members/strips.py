"""The floor sheet as a strip an inch wide between its supports: moment, stress, sag, under a load and under a foot."""

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import NUMBER
from rigcheck.strength.bases import Basis, Flexure, allowable_moment
from rigcheck.strength.members.compression import YOUNG

STRIP_MOMENT = (1.0 / 8.0, 1.0 / 8.0, 0.1071)
"""Largest moment over w L^2 for one, two, and three or more equal spans.

Source: continuous-beam tables, AISC Manual Table 3-22 (16th edition) (memory); 0.1071 is that of four spans, the worst.
"""
STRIP_SAG = (5.0 / 384.0, 1.0 / 185.0, 0.0069)
"""Largest deflection over w L^4/(E I) for the same. Source: as `STRIP_MOMENT` (memory)."""
SPREAD = 0.60
"""Added to a foot's own width, over the span, for the strip that carries it at mid-span.

Source: one-way slab practice, 2.4 x (1 - x/L) at x = L/2 (BS 8110-1 3.5.2.2, memory), used here for steel sheet.
"""
FOOT_CONTINUOUS = 0.203 / 0.25
"""Moment under a load amid an end span of a continuous strip over that of a single span, P L/4.

Source: continuous-beam tables, 0.203 P L for two and for three equal spans (memory).
"""
PLASTIC = 1.5
"""Plastic over elastic modulus of a flat plate. Source: geometry."""
_CONTINUOUS = Quantity(FOOT_CONTINUOUS, "c_f", NUMBER, "left of it in a continuous sheet, 0.203/0.25")
_TABLES = "continuous-beam tables (memory), docs/method.md#floor"
_FLOOR = "docs/method.md#floor"


def _by_spans(spans: Values, factors: tuple[float, float, float]) -> Array:
    """Pick the factor of one, two, or three or more spans."""
    count = as_array(spans)
    return np.where(count <= 1, factors[0], np.where(count <= 2, factors[1], factors[2]))


def strip_moment(pressure: Values, *, span: Values, spans: Values, overhang: Values = 0.0) -> Array:
    """Largest moment in an inch-wide floor strip over the cross-members, evenly loaded.

    Args:
        pressure: Load, shape (...). [psi]
        span: Clear distance between cross-members, shape (...). [in]
        spans: Number of spans the sheet runs over, shape (...).
        overhang: Sheet past the last support, a cantilever, shape (...). [in]

    Returns:
        Moment per inch of width, shape (...). [lbf*in/in]

    Source: continuous-beam tables (memory); docs/method.md#floor.
    """
    load = np.abs(as_array(pressure))
    factor = Quantity(_by_spans(spans, STRIP_MOMENT), "k_m", NUMBER, "largest moment over p L^2 of so many spans")
    moment = beside(factor, pressure) * load * as_array(span) ** 2
    most = np.maximum(moment, load * as_array(overhang) ** 2 / 2.0)
    return step(most, "m_1", "Moment of an inch-wide strip under its load", clause=_TABLES)


def strip_sag(pressure: Values, *, span: Values, spans: Values, thickness: Values) -> Array:
    """Largest deflection of the same strip, in bending only; the sheet's pull as a membrane is not counted.

    Args:
        pressure: Load, shape (...). [psi]
        span: Clear distance between cross-members, shape (...). [in]
        spans: Number of spans the sheet runs over, shape (...).
        thickness: Sheet thickness, shape (...). [in]

    Returns:
        Deflection, shape (...). [in]

    Source: continuous-beam tables (memory); docs/method.md#floor.
    """
    inertia = step(as_array(thickness) ** 3 / 12.0, "I_1", "Second moment of an inch of sheet")
    load = np.abs(as_array(pressure)) * as_array(span) ** 4
    factor = Quantity(_by_spans(spans, STRIP_SAG), "k_d", NUMBER, "largest sag over p L^4/(E I) of so many spans")
    stiff = beside(YOUNG, pressure) * inertia
    sag = beside(factor, pressure) * divide(load, stiff, where_zero=UNLIMITED)
    return step(sag, "w_d", "Sag of the sheet", clause=_TABLES)


def foot_width(foot: Values, *, span: Values, floor: Values) -> Array:
    """Width of floor that shares one foot at mid-span: foot + 0.60 span, at most the floor.

    Args:
        foot: Width of the foot across the span, shape (...). [in]
        span: Clear distance between cross-members, shape (...). [in]
        floor: Width of the floor, shape (...). [in]

    Returns:
        Effective width, shape (...). [in]

    Source: one-way slab practice (memory), see `SPREAD`.
    """
    shares = np.minimum(as_array(foot) + SPREAD * as_array(span), as_array(floor))
    clause = "one-way slab practice (memory), docs/method.md#floor"
    return step(shares, "b_f", "Width of floor that shares the foot", clause=clause)


def foot_moment(force: Values, *, foot: Values, span: Values, floor: Values, spans: Values = 1.0) -> Array:
    """Largest moment per inch of floor under one foot at mid-span, P L/4 over the width that shares it.

    Of neighboring spans the least that any number of them helps is counted.

    Args:
        force: Weight on the foot, shape (...). [lbf]
        foot: Width of the foot across the span, shape (...). [in]
        span: Clear distance between cross-members, shape (...). [in]
        floor: Width of the floor, shape (...). [in]
        spans: Number of spans the sheet runs over, shape (...).

    Returns:
        Moment per inch of width, shape (...). [lbf*in/in]

    Source: statics; width by one-way slab practice (memory), docs/method.md#floor.
    """
    shares = foot_width(foot, span=span, floor=floor)
    single = divide(np.abs(as_array(force)) * as_array(span) / 4.0, shares, where_zero=UNLIMITED)
    moment = single * np.where(as_array(spans) > 1.5, beside(_CONTINUOUS, force), 1.0)
    return step(moment, "m_2", "Moment of an inch-wide strip under the foot", clause=_TABLES)


def with_foot(moment: Values, *, foot: Values) -> Array:
    """Moment of a strip under its load and a foot together, both at their largest, shape (...). [lbf*in/in]

    Args:
        moment: Under its load, shape (...). [lbf*in/in]
        foot: Under the foot, shape (...). [lbf*in/in]
    """
    return step(as_array(moment) + as_array(foot), "m", "Moment with the foot added", clause=_FLOOR)


def strip_modulus(thickness: Values) -> Array:
    """Elastic modulus of a strip of sheet an inch wide, shape (...). [in^2]

    Args:
        thickness: Sheet thickness, shape (...). [in]

    Source: geometry.
    """
    return step(as_array(thickness) ** 2 / 6.0, "S_1", "Modulus of an inch of sheet")


def strip_stress(moment: Values, *, thickness: Values) -> Array:
    """Bending stress of a strip of sheet, shape (...). [psi]

    Args:
        moment: Per inch of width, shape (...). [lbf*in/in]
        thickness: Sheet thickness, shape (...). [in]

    Source: statics.
    """
    return step(as_array(moment) / strip_modulus(thickness), "sigma", "Bending stress of the sheet", clause=_FLOOR)


def strip_allows(thickness: Values, *, fy: Values, basis: Basis) -> Array:
    """Allowable bending stress of a strip of sheet: a flat plate, its plastic modulus 1.5 times its elastic one.

    Args:
        thickness: Sheet thickness, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength; lifting counts 1.25 of the 1.5.

    Returns:
        Allowable stress on the elastic modulus, shape (...). [psi]

    Source: AISC 360-22 F11 (memory); ASME BTH-1 3-2.3 (memory).
    """
    modulus = strip_modulus(thickness)
    first = fy * modulus
    plate = Flexure(nominal=PLASTIC * first, yield_moment=first, compact=np.ones(()), solid=np.ones(()))
    return step(
        allowable_moment(plate, basis=basis) / modulus,
        "F_a",
        "Allowed bending stress",
        clause="AISC 360-22 F11 (memory)",
    )

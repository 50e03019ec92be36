"""A lug on either basis: pull in its plane, and the share of the pull that bends it sideways."""

from dataclasses import dataclass, replace

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import SHEAR_YIELD, Basis, allowable_moment
from rigcheck.strength.connections.bth1 import PinPlate, pin_plate
from rigcheck.strength.connections.pinned_plates import pin_connected
from rigcheck.strength.members.flexure import Bend, bar_flexure

_FRAME = "AISC 360-22 D5, J7 (seen)"


def plate_clause(basis: Basis) -> str:
    """Clause that a plate at a pin is held to on a basis."""
    return "ASME BTH-1 3-3.3.1 (memory)" if basis.lifting_members else _FRAME


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class LugStrength:
    """Allowable pull on a lug in its plane, mode by mode.

    Attributes:
        tension: Beside the hole, shape (...). [lbf]
        splitting: On the single plane beyond the hole, shape (...). [lbf]
        shear: On the two planes beyond the hole, shape (...). [lbf]
        bearing: On the pin, shape (...). [lbf]
        capacity: Smallest of them, shape (...). [lbf]
        within_limits: 1 where the proportions are inside the clause, shape (...).
    """

    tension: Array
    splitting: Array
    shear: Array
    bearing: Array
    capacity: Array
    within_limits: Array


def lug_strength(plate: PinPlate, *, basis: Basis) -> LugStrength:
    """Allowable pull on a lug, by the clauses that belong to the basis.

    lifting: ASME BTH-1 3-3.3.1. frame and ultimate: AISC 360-22 D5 and J7, and splitting by the lifting formula with
    the basis's own divisor, because D5 guards against it by proportions that a shop lug seldom has.

    Args:
        plate: The lug, shape (...). [in, psi]
        basis: Basis of allowable strength.

    Returns:
        Strength in each mode, shape (...). [lbf]

    Source: ASME BTH-1 3-3.3.1 (memory); AISC 360-22 D5.1, J7(a), D2(a) (seen).
    """
    lifting = pin_plate(plate, basis=basis)
    if basis.lifting_members:
        return LugStrength(
            tension=lifting.tension,
            splitting=lifting.splitting,
            shear=lifting.double_shear,
            bearing=lifting.bearing,
            capacity=lifting.capacity,
            within_limits=np.ones_like(lifting.capacity),
        )
    frame = pin_connected(plate, basis=basis)
    return LugStrength(
        tension=step(
            np.minimum(frame.tension, frame.gross), "P_te", "Allowed pull, tension beside the hole", clause=_FRAME
        ),
        splitting=lifting.splitting,
        shear=frame.shear,
        bearing=frame.bearing,
        capacity=np.minimum(frame.capacity, lifting.splitting),
        within_limits=frame.within_limits,
    )


def root_tension(thickness: Values, *, width: Values, fy: Values, basis: Basis) -> Array:
    """Allowable pull on a plate out of what it is welded to, t w Fy over the divisor.

    Args:
        thickness: Plate thickness, shape (...). [in]
        width: Plate at its root, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable pull, shape (...). [lbf]

    Source: AISC 360-22 D2 (seen); ASME BTH-1 3-2.1 (memory).
    """
    pull = as_array(thickness) * as_array(width) * as_array(fy) / basis.yielding
    clause = "AISC 360-22 D2 (seen); ASME BTH-1 3-2.1 (memory)"
    return step(pull, "P_r", "Allowed tension at the weld root", clause=clause)


def flat_plate_moment(thickness: Values, *, width: Values, fy: Values, basis: Basis) -> Array:
    """Allowable moment of a plate bent on the flat, out of its own plane.

    Fy Z over the divisor, held to 1.25 Fy S/Nd under the lifting basis.

    Args:
        thickness: Plate thickness, shape (...). [in]
        width: Width that bends, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable moment, shape (...). [lbf*in]

    Source: AISC 360-22 F11 (memory); ASME BTH-1 3-2.3 (memory).
    """
    return _plate_moment(depth=as_array(thickness), breadth=as_array(width), fy=fy, basis=basis, upright=False)


def upright_plate_moment(thickness: Values, *, depth: Values, fy: Values, basis: Basis, length: Values) -> Array:
    """Allowable moment of a plate bent in its own plane, rolling over counted; at most 1.10 Fy S/Nd (lifting).

    Args:
        thickness: Plate thickness, shape (...). [in]
        depth: Plate size along the force, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.
        length: Stand-off of the force, the length free to roll, shape (...). [in]

    Returns:
        Allowable moment, shape (...). [lbf*in]

    Source: AISC 360-22 F11 (memory).
    """
    return _plate_moment(
        depth=as_array(depth), breadth=as_array(thickness), fy=fy, basis=basis, upright=True, length=length
    )


def plate_torsion(thickness: Values, *, width: Values, fy: Values, basis: Basis) -> Array:
    """Allowable torsion of a plate about its own length, its root cross-section a rectangle.

    The largest stress of a rectangle is 3 T k/(l t^2), l its longer and t its shorter side, k a polynomial of t/l that
    fits Saint-Venant's series; held to the shear stress of a connecting element.

    Args:
        thickness: Plate thickness, shape (...). [in]
        width: Plate at its root, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable torsion, shape (...). [lbf*in]

    Source: torsion of a rectangular bar (handbook of stress formulas, memory); AISC 360-22 J4.2 (memory).
    """
    long = np.maximum(as_array(width), as_array(thickness))
    short = np.minimum(as_array(width), as_array(thickness))
    stress = SHEAR_YIELD * as_array(fy) / basis.connection_shear
    clause = "torsion of a rectangular bar (memory); AISC 360-22 J4.2 (memory)"
    r = short / long
    shape = 1.0 + r * (0.6095 + r * (0.8865 + r * (-1.8023 + r * 0.9100)))
    allowed = stress * long * short**2 / (3.0 * shape)
    return step(allowed, "T_r", "Allowed torsion at the weld root", clause=clause)


def _plate_moment(
    *, depth: Array, breadth: Array, fy: Values, basis: Basis, upright: bool, length: Values = 0.0
) -> Array:
    """Moment of a solid rectangle `depth` high along the force and `breadth` wide."""
    modulus = step(breadth * depth**2 / 6.0, "S", "Elastic modulus of the plate")
    flat = Bend(
        modulus=modulus,
        plastic=1.5 * modulus,
        depth=depth,
        width=breadth,
        thickness=np.minimum(depth, breadth),
        web_ratio=0.0,
        flange_ratio=0.0,
        area=depth * breadth,
        radius=0.0,
        torsion=0.0,
        fy=fy,
        length=length if upright else 0.0,
    )
    strength = bar_flexure(flat)
    if upright:  # 1.25 is for bars bent flat; a root shorter than the plate is thick is not one
        strength = replace(strength, solid=np.zeros(()))
    return allowable_moment(strength, basis=basis)

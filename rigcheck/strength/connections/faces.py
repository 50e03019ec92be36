"""Faces of tubes under a plate or a branch: the wall bends, punches or crushes where something is welded to it.

A rectangular face bends as a yield line: a stiff foot b wide and l long in a strip of width B held along both walls of
the tube. Every strength here is nominal over a divisor of the basis. The limits within which the clauses are written
are the caller's to tell; past them the strength is lowered in proportion, and `inside` is 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide, root
from rigcheck.arrays.traced import Quantity, beside, step
from rigcheck.arrays.types import Array
from rigcheck.quantities.measures import STRESS
from rigcheck.strength.bases import SHEAR_YIELD, Basis
from rigcheck.strength.members.compression import YOUNG

LONGITUDINAL_LIMIT = 40.0
"""B/t up to which a plate along the tube is covered. Source: AISC 360 chapter K, Table K1.2A (memory)."""
TRANSVERSE_LIMIT = 35.0
"""The same for a plate across the tube. Source: AISC 360 chapter K, Table K1.2A (memory)."""
ROUND_LIMIT = 50.0
"""D/t up to which a plate on a round tube is covered. Source: AISC 360 chapter K, Table K2.1A (memory)."""
YIELD_LIMIT = 52.0e3
"""Yield stress up to which the clauses are written [psi]. Source: AISC 360 chapter K (memory)."""
_YIELD_LIMIT = Quantity(YIELD_LIMIT, "F_0", STRESS, "largest yield stress that the clauses are written for")
_CLAUSE = "AISC 360 chapter K (memory)"
_KEPT = "Left of the face by the tube's own stress"
YIELD_SHARE = 0.80
"""Yield over tensile strength up to which they are. Source: AISC 360 chapter K (memory)."""
WIDEST = 0.85
"""Foot over face up to which the face bends; wider feet reach the side walls. Source: AISC 360 K3 (memory)."""
CORNER = 1.5
"""Outside corner of a tube over its wall, for the side wall that works. Source: AISC 360 K, k = 1.5 t (memory)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Face:
    """One face of a tube.

    Attributes:
        width: Face across the tube; the diameter of a round one, shape (...). [in]
        depth: Tube square to the face, shape (...). [in]
        wall: Design wall, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        fu: Tensile strength, shape (...). [psi]
        stressed: Axial and bending stress of the tube there over its yield stress over the divisor, shape (...).
        round: Whether the tube is round.
    """

    width: Values
    depth: Values
    wall: Values
    fy: Values
    fu: Values
    stressed: Values = 0.0
    round: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Foot:
    """What stands on it.

    Attributes:
        length: Along the tube, shape (...). [in]
        breadth: Across the tube, shape (...). [in]
        ends: Ends of the foot past which the tube runs on, or is closed: 2, or 1 at an open end, shape (...).
        faces: 2 for a plate that goes through the tube and is welded to both faces, else 1, shape (...).
    """

    length: Values
    breadth: Values
    ends: Values = 2.0
    faces: Values = 1.0


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class FaceStrength:
    """What the face allows, each alone, shapes (...).

    Attributes:
        pull: Square to the face, either way. [lbf]
        along: Moment in the plane that holds the tube's axis. [lbf*in]
        across: Moment about the tube's axis. [lbf*in]
        inside: 1 where the limits of the clause hold, 0 where the strength was lowered for being past them.
    """

    pull: Array
    along: Array
    across: Array
    inside: Array


def chord_factor(stressed: Values) -> Array:
    """What the tube's own stress leaves of its face, Qf = sqrt(1 - U^2).

    The clause takes it where the face is pressed; here it counts either way.

    Args:
        stressed: U, stress over what is allowed, shape (...).

    Returns:
        The factor, 0 to 1, shape (...).

    Source: AISC 360 chapter K, Eq. (K1-17) (memory).
    """
    kept = root(1.0 - np.minimum(np.abs(as_array(stressed)), 1.0) ** 2)
    return step(kept, "Q_f", _KEPT, clause="AISC 360 chapter K, Eq. (K1-17) (memory)")


def round_chord_factor(stressed: Values) -> Array:
    """The same for a round tube, Qf = 1 - 0.3 U (1 + U).

    Args:
        stressed: U, stress over what is allowed, shape (...).

    Returns:
        The factor, 0.4 to 1, shape (...).

    Source: AISC 360 chapter K, Eq. (K1-5) (memory).
    """
    used = np.minimum(np.abs(as_array(stressed)), 1.0)
    kept = 1.0 - 0.3 * used * (1.0 + used)
    return step(kept, "Q_f", _KEPT, clause="AISC 360 chapter K, Eq. (K1-5) (memory)")


def sound_yield(fy: Values, *, fu: Values) -> Array:
    """Yield stress that counts: at most 52 ksi and four fifths of the tensile strength, shape (...). [psi]"""
    counted = np.minimum(np.minimum(as_array(fy), beside(_YIELD_LIMIT, fy)), YIELD_SHARE * as_array(fu))
    return step(counted, "F_c", "Yield stress that counts", clause=_CLAUSE)


def face_strength(face: Face, *, foot: Foot, basis: Basis) -> FaceStrength:
    """Allowable pull and moments on the face of a tube.

    Args:
        face: The face, shape (...).
        foot: What stands on it, shape (...).
        basis: Basis of allowable strength.

    Returns:
        The strength, shapes (...).

    Source: AISC 360 chapter K (memory); EN 1993-1-8 Tables 7.3, 7.13, 7.14 (memory); docs/method.md#tube-face.
    """
    return _round(face, foot=foot, basis=basis) if face.round else _flat(face, foot=foot, basis=basis)


def yield_line(ratio: Values, *, slender: Values, ends: Values, kept: Values) -> Array:
    """Push through a flat face over Fy t^2: [2 l/B + 4 sqrt(1 - b/B) Qf] / (1 - b/B), half of the second at one end.

    Args:
        ratio: b/B, foot over face across the tube, under 1, shape (...).
        slender: l/B, foot along the tube over face, shape (...).
        ends: Ends past which the tube runs on, 1 or 2, shape (...).
        kept: Qf, shape (...).

    Returns:
        The number, shape (...).

    Source: AISC 360 chapter K, Eq. (K1-12) (memory); yield line worked out in docs/method.md#tube-face.
    """
    left = 1.0 - as_array(ratio)
    return (2.0 * as_array(slender) + 2.0 * as_array(ends) * root(left) * as_array(kept)) / left


def _flat(face: Face, *, foot: Foot, basis: Basis) -> FaceStrength:
    """Face of a square or rectangular tube."""
    width, wall, length = as_array(face.width), as_array(face.wall), as_array(foot.length)
    fy = sound_yield(face.fy, fu=face.fu)
    ratio = np.minimum(divide(foot.breadth, width), WIDEST)
    transverse = as_array(foot.breadth) > length
    limit = np.where(transverse, TRANSVERSE_LIMIT, LONGITUDINAL_LIMIT)
    thin = np.minimum(divide(limit * wall, width), 1.0)
    kept = chord_factor(face.stressed)
    both = as_array(foot.faces)
    base = fy * wall**2 * thin / basis.face
    pull = both * base * yield_line(ratio, slender=divide(length, width), ends=foot.ends, kept=kept)
    pull = np.where(transverse, np.minimum(pull, _across(face, foot=foot, fy=fy, basis=basis)), pull)
    wide = divide(foot.breadth, width) > WIDEST
    pull = np.where(wide, np.minimum(pull, _side_walls(face, length=length, fy=fy, kept=kept, basis=basis)), pull)
    turn = divide(1.0 + ratio, 1.0 - ratio)
    fans = 0.5 * as_array(foot.ends) * root(2.0 * width * ratio * width * turn)
    across = both * base * (0.5 * length * turn + fans * kept)
    pull = step(pull, "N_f", "Allowed pull square to the face", clause=_CLAUSE)
    inside = (thin >= 1.0 - 1e-9) & (as_array(face.fy) <= YIELD_LIMIT) & (as_array(face.fy) <= 0.81 * as_array(face.fu))
    return FaceStrength(
        pull=pull,
        along=step(0.5 * length * pull, "M_fa", "Allowed moment along the tube", clause=_CLAUSE),
        across=step(across, "M_fc", "Allowed moment about the tube", clause="docs/method.md#tube-face"),
        inside=np.where(inside, 1.0, 0.0),
    )


def _across(face: Face, *, foot: Foot, fy: Array, basis: Basis) -> Array:
    """A plate across a flat face: uneven pull along it, and shear of the wall round its ends.

    10/(B/t) Fy t Bp, and 0.60 Fy t (2 tp + 2 Bep) with Bep = 10 Bp/(B/t).
    """
    wall, breadth = as_array(face.wall), as_array(foot.breadth)
    works = np.minimum(divide(10.0 * wall, face.width), 1.0) * breadth
    uneven = fy * wall * works / basis.yielding
    punched = SHEAR_YIELD * fy * wall * 2.0 * (as_array(foot.length) + works) / basis.yielding
    return as_array(foot.faces) * np.minimum(uneven, punched)


def _side_walls(face: Face, *, length: Array, fy: Array, kept: Array, basis: Basis) -> Array:
    """Both side walls under a foot as wide as the tube.

    Yield 2 Fy t (5 k + l), crippling 1.6 t^2 [1 + 3 l/h] sqrt(E Fy) Qf.
    """
    wall = as_array(face.wall)
    yielding = 2.0 * fy * wall * (5.0 * CORNER * wall + length) / basis.face
    flat = np.maximum(as_array(face.depth) - 3.0 * wall, wall)
    crippling = 1.6 * wall**2 * (1.0 + 3.0 * length / flat) * np.sqrt(beside(YOUNG, fy) * fy) * kept / basis.rupture
    return np.minimum(yielding, crippling)


def _round(face: Face, *, foot: Foot, basis: Basis) -> FaceStrength:
    """Wall of a round tube under a plate along it: 5.5 Fy t^2 (1 + 0.25 l/D) Qf; moment 0.8 l of it.

    The clause gives nothing for a moment about the tube's axis; two such pulls, the plate's thickness apart, are taken.
    One end past which the tube does not run on halves what does not grow with the length.
    """
    wall, across, length = as_array(face.wall), as_array(face.width), as_array(foot.length)
    fy = sound_yield(face.fy, fu=face.fu)
    thin = np.minimum(divide(ROUND_LIMIT * wall, across), 1.0)
    kept = round_chord_factor(face.stressed)
    reach = 0.5 * as_array(foot.ends) + 0.25 * divide(length, across, where_zero=UNLIMITED)
    pull = as_array(foot.faces) * 5.5 * fy * wall**2 * reach * thin * kept / basis.yielding
    pull = step(pull, "N_f", "Allowed pull square to the wall", clause=_CLAUSE)
    inside = (thin >= 1.0 - 1e-9) & (as_array(face.fy) <= YIELD_LIMIT) & (as_array(face.fy) <= 0.81 * as_array(face.fu))
    return FaceStrength(
        pull=pull,
        along=step(0.8 * length * pull, "M_fa", "Allowed moment along the tube", clause=_CLAUSE),
        across=step(pull * as_array(foot.breadth), "M_fc", "Allowed moment about the tube", clause=_CLAUSE),
        inside=np.where(inside, 1.0, 0.0),
    )

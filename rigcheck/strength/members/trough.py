"""A half pipe, or an angle with its edges up, as a member across a floor: open, or closed by a plate on both edges."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import SHEAR_YIELD, Basis, Flexure, allowable_moment
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.strength.members.shear import box_torsion, open_torsion

HALF_PIPE_SHEAR = 2.2227
"""Largest over average shear stress of a thin half pipe, (2 asin(2/pi)/pi - 1 + sqrt(1 - 4/pi^2)) pi/(pi/2 - 4/pi).

Source: V Q/(I t), own derivation, docs/method.md#traps-and-gates.
"""
_SHEAR = "AISC 360-22 G (memory), elastic; ASME BTH-1 3-2.3.6 (memory)"
ANGLE_SHEAR = 3.0 / sqrt(2.0)
"""The same of two thin legs that slope 45 degrees. Source: V Q/(I t), own derivation."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Trough:
    """A trough as a member, all shapes (...).

    Attributes:
        area: Of its metal. [in2]
        modulus: Least elastic modulus, level axis. [in3]
        sheared: Area which, at even stress, stands as much upright shear as it does. [in2]
        constant: Torsion constant. [in4]
        twisted: Torque over largest shear stress. [in3]
        buckling: Stress at which its wall buckles. [psi]
        cell: Area that a plate encloses with it, middle of wall and plate. [in2]
        ratio: Largest flat width over thickness of its walls and cover, where it is closed. [1]
        closed: Whether a plate closes it.
    """

    area: Array
    modulus: Array
    sheared: Array
    constant: Array
    twisted: Array
    buckling: Array
    cell: Array
    ratio: Array
    closed: bool


def half_pipe(inside: Values, *, wall: Values, cover: Values | None = None) -> Trough:
    """A half pipe hung below a floor by both edges.

    Bent as open: I = pi/8 (R^4 - r^4) - A y^2, y = 4 (R^3 - r^3)/(3 pi (R^2 - r^2)) from its edges, which are the
    farthest of it. Twisted open as a thin strip, J = A t^2/3; closed as a cell, J = 4 A_m^2/sum(ds/t).

    Args:
        inside: Inside radius, shape (...). [in]
        wall: Shape (...). [in]
        cover: Thickness of the plate that closes it; open where None. [in]

    Source: geometry; St Venant, Bredt (memory); AISC 360-22 Eq. (F8-4) (memory); docs/method.md#traps-and-gates.
    """
    r, t = as_array(inside), as_array(wall)
    out = r + t
    area = 0.5 * pi * (out**2 - r**2)
    low = 4.0 * (out**3 - r**3) / (3.0 * pi * (out**2 - r**2))
    inertia = pi / 8.0 * (out**4 - r**4) - area * low**2
    middle = r + 0.5 * t
    cell = 0.5 * pi * middle**2
    twist = _twist(area, wall=t, cell=cell, around=pi * middle, chord=2.0 * middle, cover=cover)
    return Trough(
        area=area,
        modulus=inertia / low,
        sheared=area / HALF_PIPE_SHEAR,
        constant=twist.constant,
        twisted=twist.twisted,
        cell=np.asarray(cell),
        ratio=twist.ratio,
        closed=cover is not None,
        buckling=np.asarray(0.33 * ELASTIC_MODULUS * t / (2.0 * out)),
    )


def vee(leg: Values, *, wall: Values, cover: Values | None = None) -> Trough:
    """An angle of equal legs hung below a floor by both edges, bent about the axis that is level then.

    Args:
        leg: Outside length of each leg, shape (...). [in]
        wall: Shape (...). [in]
        cover: Thickness of the plate that closes it; open where None. [in]

    Source: geometry; St Venant, Bredt (memory); AISC 360-22 Eq. (F10-8) (memory); docs/method.md#traps-and-gates.
    """
    a, t = as_array(leg), as_array(wall)
    area = (2.0 * a - t) * t
    out = (a**2 + a * t - t**2) / (2.0 * (2.0 * a - t))
    own = (t * (a - out) ** 3 + a * out**3 - (a - t) * (out - t) ** 3) / 3.0
    mixed = a * t * (0.5 * a - out) * (0.5 * t - out) + (a - t) * t * (0.5 * t - out) * (0.5 * (a + t) - out)
    inertia = own - np.abs(mixed)
    farthest = np.maximum(sqrt(2.0) * out, (a + t) / sqrt(2.0) - sqrt(2.0) * out)
    middle = a - 0.5 * t
    cell = 0.5 * middle**2
    twist = _twist(area, wall=t, cell=cell, around=2.0 * middle, chord=sqrt(2.0) * middle, cover=cover)
    return Trough(
        area=area,
        modulus=inertia / farthest,
        sheared=area / ANGLE_SHEAR,
        constant=twist.constant,
        twisted=twist.twisted,
        cell=np.asarray(cell),
        ratio=twist.ratio,
        closed=cover is not None,
        buckling=np.asarray(0.71 * ELASTIC_MODULUS * (t / a) ** 2),
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Twist:
    """What a trough does in torsion; fields as those of `Trough`."""

    constant: Array
    twisted: Array
    ratio: Array


def _twist(area: Array, *, wall: Array, cell: Array, around: Array, chord: Array, cover: Values | None) -> _Twist:
    if cover is None:
        constant = area * wall**2 / 3.0
        return _Twist(constant=constant, twisted=constant / wall, ratio=np.ones(()))
    plate = as_array(cover)
    return _Twist(
        constant=4.0 * cell**2 / (around / wall + chord / plate),
        twisted=2.0 * cell * np.minimum(wall, plate),
        ratio=np.maximum(around / wall, chord / plate),
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Allowed:
    """What a trough stands, each alone, shapes (...): moment, torsion [lbf*in], shear [lbf]."""

    moment: Array
    shear: Array
    torsion: Array


def allowed(trough: Trough, *, fy: Values, basis: Basis) -> Allowed:
    """Allowable moment, shear and torsion of a trough: elastic, its wall as one that may buckle.

    Args:
        trough: The trough, shape (...).
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.

    Source: AISC 360-22 F8, F10, G, H3; ASME BTH-1 3-2.3 (memory); docs/method.md#traps-and-gates.
    """
    stress = as_array(fy)
    bent = Flexure(nominal=np.minimum(stress, trough.buckling) * trough.modulus, yield_moment=stress * trough.modulus,
                   compact=np.zeros(()), solid=np.zeros(()))  # fmt: skip
    if trough.closed:
        twisted = box_torsion(trough.twisted, ratio=trough.ratio, fy=stress)
    else:
        twisted = open_torsion(trough.twisted, fy=stress)
    return Allowed(
        moment=allowable_moment(bent, basis=basis),
        shear=step(SHEAR_YIELD * stress * trough.sheared / basis.shear, "V_a", "Allowed shear", clause=_SHEAR),
        torsion=step(twisted / basis.shear, "T_a", "Allowed torsion", clause="AISC 360-22 H3 (memory)"),
    )

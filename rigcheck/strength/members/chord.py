"""Top chord of an open box, pushed along its length and held sideways by side walls and cross-members (U-frames)."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import Values, as_array, divide, root
from rigcheck.arrays.traced import beside, step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import Basis
from rigcheck.strength.members.compression import YOUNG, allowable_stress

_CHORD = "docs/method.md#top-chord"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class UFrame:
    """What holds a chord sideways.

    Attributes:
        height: Chord centroid over the cross-member's axis, shape (...). [in]
        wall: Side wall thickness, shape (...). [in]
        stiffener: Second moment of one upright stiffener at each cross-member, 0 for none, shape (...). [in4]
        width: Distance between the side walls, shape (...). [in]
        cross_member: Second moment of a cross-member, bent upright, shape (...). [in4]
        spacing: Distance between cross-members, shape (...). [in]
    """

    height: Values
    wall: Values
    stiffener: Values
    width: Values
    cross_member: Values
    spacing: Values


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Chord:
    """The chord itself.

    Attributes:
        area: Area that is pushed, shape (...). [in2]
        inertia: Second moment about its upright axis, shape (...). [in4]
        length: Length between its ends, shape (...). [in]
        ends_held: 1 where both ends are held sideways, 0 where one is free, shape (...).
        fy: Yield stress, shape (...). [psi]
    """

    area: Values
    inertia: Values
    length: Values
    ends_held: Values
    fy: Values


def side_stiffness(frame: UFrame) -> Array:
    """Sideways force per inch of movement and per inch of chord.

    1/k = s [a^3/(3 E Iw) + a^2 B/(2 E Ic)], Iw = s t^3/12 + stiffener. Both chords move outward together, which is the
    softer way: the cross-member then bends to one even curve.

    Args:
        frame: The U-frame, shape (...).

    Returns:
        Stiffness, shape (...). [lbf/in per in]

    Source: U-frame stiffness of half-through bridges (memory); derivation in docs/method.md#top-chord.
    """
    height, spacing = as_array(frame.height), as_array(frame.spacing)
    young = beside(YOUNG, spacing)
    upright = spacing * as_array(frame.wall) ** 3 / 12.0 + as_array(frame.stiffener)
    upright = step(upright, "I_w", "Second moment of the wall of one bay")
    lean = divide(height**3, 3.0 * young * upright, where_zero=1.0e6)
    turn = divide(height**2 * as_array(frame.width), 2.0 * young * as_array(frame.cross_member), where_zero=1.0e6)
    stiff = divide(1.0, spacing * (lean + turn), where_zero=0.0)
    return step(stiff, "k_u", "Sideways force per inch of movement and of edge, a U-frame", clause=_CHORD)


def chord_buckling(chord: Chord, *, frame: UFrame) -> Array:
    """Push at which the chord buckles sideways.

    2 sqrt(k E I), half of it where an end is free; never over pi^2 E I/s^2, the chord held only at the cross-members,
    and never under pi^2 E I/L^2 (a quarter of it with a free end), the chord not held at all.

    Args:
        chord: The chord, shape (...).
        frame: What holds it, shape (...).

    Returns:
        Elastic buckling load, shape (...). [lbf]

    Source: bar on an elastic foundation (memory: Engesser; free end half of it, Hetenyi); docs/method.md#top-chord.
    """
    stiff = beside(YOUNG, chord.inertia) * as_array(chord.inertia)
    held = as_array(chord.ends_held) > 0.0
    founded = np.where(held, 2.0, 1.0) * root(side_stiffness(frame) * stiff)
    between = np.pi**2 * divide(stiff, as_array(frame.spacing) ** 2, where_zero=1.0e12)
    alone = np.where(held, 1.0, 0.25) * np.pi**2 * divide(stiff, as_array(chord.length) ** 2, where_zero=1.0e12)
    founded = step(founded, "N_1", "Compression at which it buckles on the U-frames", clause=_CHORD)
    between = step(between, "N_2", "Between two cross-members")
    alone = step(alone, "N_3", "Not held at all")
    force = np.maximum(np.minimum(founded, between), np.minimum(alone, between))
    return step(force, "N_k", "Compression at which the edge buckles", clause=_CHORD)


def chord_allowable(chord: Chord, *, frame: UFrame, basis: Basis) -> Array:
    """Allowable compressive stress of the chord.

    Args:
        chord: The chord, shape (...).
        frame: What holds it, shape (...).
        basis: Basis of allowable strength.

    Returns:
        Stress, shape (...). [psi]

    Source: AISC 360-22 E3 with Fe = Ncr/A; ASME BTH-1 3-2.2 (memory); docs/method.md#top-chord.
    """
    elastic = divide(chord_buckling(chord, frame=frame), chord.area)
    elastic = step(elastic, "F_E", "Elastic buckling stress", clause=_CHORD)
    return allowable_stress(elastic, fy=chord.fy, basis=basis)

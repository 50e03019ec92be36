"""Members in bending: tubes, pipes, solid bars and single angles."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide, root
from rigcheck.arrays.traced import beside, step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import Flexure
from rigcheck.strength.members.compression import YOUNG

ROUND_LIMIT = 1.60
"""Largest moment of a solid round over its yield moment. Source: AISC 360-22 F11.1 (memory)."""
SOLID_LIMIT = 1.50
"""The same for a rectangle. Source: AISC 360-22 F11.1 (memory)."""
_SLENDER = "AISC 360-22 F7.2(c) (seen)"
SLENDER_WEB = 5.70
"""Web ratio over sqrt(E/Fy) from which a web is slender. Source: AISC 360-22 Table B4.1b case 19 (memory)."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bend:
    """A member bent about one axis.

    Attributes:
        modulus: Elastic section modulus about that axis, shape (...). [in3]
        plastic: Plastic section modulus about it, shape (...). [in3]
        depth: Outside size square to the axis, shape (...). [in]
        width: Outside size along the axis, shape (...). [in]
        thickness: Wall or leg thickness, shape (...). [in]
        web_ratio: Flat depth over thickness; diameter over wall if round; leg over thickness of an angle, shape (...).
        flange_ratio: The same, along the axis, shape (...).
        area: Area, shape (...). [in2]
        radius: Radius of gyration about the other axis, shape (...). [in]
        torsion: Torsion constant, shape (...). [in4]
        fy: Yield stress, shape (...). [psi]
        length: Length between points held against twisting and moving sideways, shape (...). [in]
        gradient: Moment gradient factor Cb, 1 on the low side, shape (...).
    """

    modulus: Values
    plastic: Values
    depth: Values
    width: Values
    thickness: Values
    web_ratio: Values
    flange_ratio: Values
    area: Values
    radius: Values
    torsion: Values
    fy: Values
    length: Values = 0.0
    gradient: Values = 1.0


def _yielding(bend: Bend) -> tuple[Array, Array]:
    """Plastic moment Fy Z and yield moment Fy S."""
    plastic, first_yield = as_array(bend.fy) * as_array(bend.plastic), as_array(bend.fy) * as_array(bend.modulus)
    return step(plastic, "M_p", "Plastic moment"), step(first_yield, "M_y", "Yield moment")


def box_effective_modulus(bend: Bend) -> Array:
    """Section modulus of a tube whose flange is too thin to work over its whole width.

    be = 1.92 t sqrt(E/Fy) [1 - 0.38/(b/t) sqrt(E/Fy)] <= b; the same width is left out of the tension flange.

    Args:
        bend: The tube, shape (...).

    Returns:
        Effective modulus Se, shape (...). [in3]

    Source: AISC 360-22 F7.2(c), Eq. (F7-3), (F7-4) (seen).
    """
    thick, depth = as_array(bend.thickness), as_array(bend.depth)
    root_e = root(divide(beside(YOUNG, bend.fy), bend.fy))
    flat = as_array(bend.flange_ratio) * thick
    works = 1.92 * thick * root_e * (1.0 - divide(0.38, bend.flange_ratio) * root_e)
    lost = step(flat - np.clip(works, 0.0, flat), "b_l", "Width of the flange that does not work", clause=_SLENDER)
    works = as_array(bend.modulus) - divide(lost * thick * (depth - thick) ** 2, depth)
    return step(works, "S_e", "Effective modulus", clause="AISC 360-22 F7.2(c), Eq. (F7-3), (F7-4) (seen)")


def _box_flange(bend: Bend, *, plastic: Array, first_yield: Array) -> Array:
    """Strength as the compression flange buckles, F7.2."""
    root_e = root(divide(beside(YOUNG, bend.fy), bend.fy))
    ratio = as_array(bend.flange_ratio)
    share = np.maximum(divide(ratio - 1.12 * root_e, (1.40 - 1.12) * root_e), 0.0)
    noncompact = plastic - (plastic - first_yield) * share
    slender = as_array(bend.fy) * np.maximum(box_effective_modulus(bend), 0.0)
    held = np.where(ratio > 1.40 * root_e, np.minimum(slender, first_yield), noncompact)
    return step(held, "M_f", "Moment as the flange buckles", clause="AISC 360-22 F7.2 (seen)")


def _box_web(bend: Bend, *, plastic: Array, first_yield: Array) -> Array:
    """Strength as the web buckles, F7.3; over the slender limit the yield moment falls with its square."""
    root_e = root(divide(beside(YOUNG, bend.fy), bend.fy))
    scaled = divide(bend.web_ratio, root_e)
    noncompact = plastic - (plastic - first_yield) * (0.305 * scaled - 0.738)
    slender = first_yield * divide(SLENDER_WEB, scaled) ** 2
    held = np.where(scaled > SLENDER_WEB, slender, np.where(scaled > 2.42, noncompact, plastic))
    return step(held, "M_w", "Moment as the web buckles", clause="AISC 360-22 F7.3 (seen)")


def box_lateral_lengths(bend: Bend) -> tuple[Array, Array]:
    """Lengths over which a rectangular tube starts to twist and roll.

    Lp = 0.13 E ry sqrt(J A)/Mp, Lr = 2 E ry sqrt(J A)/(0.7 Fy S).

    Args:
        bend: The tube, shape (...).

    Returns:
        Lp and Lr, each shape (...). [in]

    Source: AISC 360-22 Eq. (F7-12), (F7-13) (seen).
    """
    stiff = beside(YOUNG, bend.fy) * as_array(bend.radius) * root(as_array(bend.torsion) * as_array(bend.area))
    plastic, _ = _yielding(bend)
    short = divide(0.13 * stiff, plastic)
    long = divide(2.0 * stiff, 0.7 * as_array(bend.fy) * as_array(bend.modulus))
    return (
        step(short, "L_p", "Length up to which it does not roll over", clause="AISC 360-22 Eq. (F7-12) (seen)"),
        step(long, "L_r", "Length from which it rolls over elastically", clause="AISC 360-22 Eq. (F7-13) (seen)"),
    )


def _box_lateral(bend: Bend, *, plastic: Array, first_yield: Array) -> Array:
    """Strength as the member rolls over, F7.4; none where it is not deeper than wide.

    The straight line of the clause lies a little over the elastic curve near Lr; it is held to that curve, so that
    stronger steel never holds less.
    """
    short, long = box_lateral_lengths(bend)
    length = as_array(bend.length)
    share = divide(length - short, long - short)
    between = plastic - (plastic - 0.7 * first_yield) * share
    stiff = 2.0 * beside(YOUNG, bend.fy) * root(as_array(bend.torsion) * as_array(bend.area)) * as_array(bend.radius)
    beyond = divide(stiff, length, where_zero=UNLIMITED)
    rolled = np.minimum(as_array(bend.gradient) * np.where(length > long, beyond, np.minimum(between, beyond)), plastic)
    rolled = step(rolled, "M_l", "Moment as it rolls over", clause="AISC 360-22 F7.4 (seen)")
    can_roll = (as_array(bend.depth) > as_array(bend.width) * (1.0 + 1.0e-9)) & (length > short)
    return np.where(can_roll, rolled, plastic)


def box_flexure(bend: Bend) -> Flexure:
    """Nominal moment strength of a square or rectangular tube.

    Smallest of yielding Fy Z, flange buckling, web buckling and lateral-torsional buckling.

    Args:
        bend: The tube, shape (...).

    Returns:
        Strength and what a basis needs to limit it, shape (...).

    Source: AISC 360-22 F7 (seen); slender webs: own rule, on the low side of F7.3(c).
    """
    plastic, first_yield = _yielding(bend)
    nominal = np.minimum(
        np.minimum(
            _box_flange(bend, plastic=plastic, first_yield=first_yield),
            _box_web(bend, plastic=plastic, first_yield=first_yield),
        ),
        _box_lateral(bend, plastic=plastic, first_yield=first_yield),
    )
    root_e = root(divide(beside(YOUNG, bend.fy), bend.fy))
    compact = (as_array(bend.flange_ratio) <= 1.12 * root_e) & (as_array(bend.web_ratio) <= 2.42 * root_e)
    return _flexure(nominal, first_yield=first_yield, compact=compact, solid=False)


def _flexure(nominal: Array, *, first_yield: Array, compact: ArrayLike, solid: ArrayLike) -> Flexure:
    """Pack a strength with its marks, all of one shape."""
    like = np.zeros(np.broadcast_shapes(np.shape(nominal), np.shape(first_yield), np.shape(compact), np.shape(solid)))
    return Flexure(
        nominal=as_array(nominal + like),
        yield_moment=as_array(first_yield + like),
        compact=np.asarray(compact, dtype=np.float64) + like,
        solid=np.asarray(solid, dtype=np.float64) + like,
    )


def round_flexure(bend: Bend) -> Flexure:
    """Nominal moment strength of a round tube or pipe.

    Fy Z where D/t <= 0.07 E/Fy; (0.021 E/(D/t) + Fy) S up to 0.31 E/Fy; 0.33 E/(D/t) S beyond.

    Args:
        bend: The tube; `web_ratio` is D/t, shape (...).

    Returns:
        Strength and what a basis needs to limit it, shape (...).

    Source: AISC 360-22 F8, Eq. (F8-1) to (F8-4) (memory).
    """
    ratio, fy, modulus = as_array(bend.web_ratio), as_array(bend.fy), as_array(bend.modulus)
    plastic, first_yield = _yielding(bend)
    young = beside(YOUNG, fy)
    per_limit = ratio * fy / young
    noncompact = np.minimum((divide(0.021 * young, ratio) + fy) * modulus, plastic)
    slender = divide(0.33 * young, ratio) * modulus
    nominal = np.where(per_limit <= 0.07, plastic, np.where(per_limit <= 0.31, noncompact, slender))
    nominal = step(nominal, "M_n", "Moment as the wall buckles", clause="AISC 360-22 F8.2 (memory)")
    return _flexure(nominal, first_yield=first_yield, compact=per_limit <= 0.07, solid=False)


def bar_flexure(bend: Bend, *, solid_round: Values = False) -> Flexure:
    """Nominal moment strength of a solid bar, rectangular or round.

    Fy Z, not over 1.50 Fy S (rectangle) or 1.60 Fy S (round). A rectangle deeper than wide can roll over: with
    q = Lb d/t^2, Cb (1.52 - 0.274 q Fy/E) Fy S over q = 0.08 E/Fy, and 1.9 E Cb S/q over 1.9 E/Fy.

    Args:
        bend: The bar, shape (...).
        solid_round: True for a round bar, shape (...).

    Returns:
        Strength and what a basis needs to limit it, shape (...).

    Source: AISC 360-22 F11, Eq. (F11-1) to (F11-5) (memory).
    """
    fy, gradient = as_array(bend.fy), as_array(bend.gradient)
    is_round = as_array(solid_round) > 0.0
    most, first_yield = _yielding(bend)
    plastic = np.minimum(most, np.where(is_round, ROUND_LIMIT, SOLID_LIMIT) * first_yield)
    slender = divide(as_array(bend.length) * as_array(bend.depth), as_array(bend.width) ** 2)
    words = "Length times depth over width squared, times Fy/E"
    scaled = step(slender * fy / beside(YOUNG, fy), "q_b", words, clause="AISC 360-22 F11.2 (memory)")
    between = gradient * (1.52 - 0.274 * scaled) * first_yield
    beyond = gradient * divide(1.9, scaled) * first_yield
    rolled = np.where(scaled <= 0.08, plastic, np.minimum(np.where(scaled <= 1.9, between, beyond), plastic))
    tall = (as_array(bend.depth) > as_array(bend.width) * (1.0 + 1.0e-9)) & ~is_round
    nominal = step(np.where(tall, rolled, plastic), "M_n", "Nominal moment", clause="AISC 360-22 F11 (memory)")
    return _flexure(nominal, first_yield=first_yield, compact=True, solid=~tall)


def angle_flexure(bend: Bend) -> Flexure:
    """Nominal moment strength of a single angle bent about an axis along one leg.

    Not held sideways along its length: My = 0.80 Fy S. With the toe in compression,
    Mcr = 0.58 E b^4 t Cb/Lb^2 [sqrt(1 + 0.88 (Lb t/b^2)^2) - 1], b the shorter leg; then (1.92 - 1.17 sqrt(My/Mcr)) My,
    or (0.92 - 0.17 Mcr/My) Mcr where Mcr < My. Legs over 0.54 sqrt(E/Fy):
    Fy Sc (2.43 - 1.72 (b/t) sqrt(Fy/E)); over 0.91 sqrt(E/Fy): 0.71 E Sc/(b/t)^2, Sc = 0.80 S.
    Never taken over Fy S, so that the caps of 1.5 My do not come up. For unequal legs a screening value.

    Args:
        bend: The angle; `modulus` is the least one about the axis, shape (...).

    Returns:
        Strength and what a basis needs to limit it, shape (...).

    Source: AISC 360-22 F10, Eq. (F10-1) to (F10-8) (memory).
    """
    fy = as_array(bend.fy)
    _, first_yield = _yielding(bend)
    own = step(0.80 * first_yield, "M_g", "Yield moment about a leg", clause="AISC 360-22 F10.2 (memory)")
    leg = np.minimum(as_array(bend.depth), as_array(bend.width))
    stiff = 0.58 * beside(YOUNG, fy) * leg**4 * as_array(bend.thickness) * as_array(bend.gradient)
    slope = 0.88 * divide(as_array(bend.thickness), leg**2) ** 2
    # [sqrt(1 + k Lb^2) - 1]/Lb^2 = k/[sqrt(1 + k Lb^2) + 1], which also holds at Lb = 0
    per_length = slope / (root(1.0 + slope * as_array(bend.length) ** 2) + 1.0)
    critical = step(stiff * per_length, "M_cr", "Moment at which it rolls over", clause="AISC 360-22 F10.2 (memory)")
    stocky = (1.92 - 1.17 * root(divide(own, critical, where_zero=UNLIMITED))) * own
    rolls = (0.92 - 0.17 * divide(critical, own)) * critical
    lateral = np.where(critical >= own, stocky, rolls)
    scaled = divide(np.maximum(as_array(bend.web_ratio), as_array(bend.flange_ratio)), root(beside(YOUNG, fy) / fy))
    local = np.where(scaled > 0.91, divide(0.71, scaled**2), 2.43 - 1.72 * scaled) * own
    lateral = step(lateral, "M_l", "Moment as it rolls over", clause="AISC 360-22 F10.2 (memory)")
    local = step(local, "M_f", "Moment as a leg buckles", clause="AISC 360-22 F10.3 (memory)")
    nominal = np.minimum(np.minimum(lateral, local), first_yield)
    return _flexure(nominal, first_yield=first_yield, compact=scaled <= 0.54, solid=False)

"""Any steel shape as a member: one batch may mix tubes, pipes, angles and bars."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.strength.bases import Basis, Flexure, allowable_moment
from rigcheck.strength.members import compression, flexure, shear
from rigcheck.tables.shapes import Shape

BOX, ROUND, ANGLE, BAR, ROUND_BAR = range(5)
"""Codes of the families of shapes."""
FAMILY = {
    "hss": BOX,
    "tube": BOX,
    "pipe": ROUND,
    "round tube": ROUND,
    "angle": ANGLE,
    "bar": BAR,
    "round bar": ROUND_BAR,
}
"""Family of each kind of shape."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Section:
    """Properties of shapes as arrays, standing as their names are written.

    Attributes:
        family: Code of the family, shape (...).
        area: Area, shape (...). [in2]
        depth: Outside height, shape (...). [in]
        width: Outside width, shape (...). [in]
        t_design: Thickness that the properties rest on, shape (...). [in]
        ix: Second moment, horizontal axis, shape (...). [in4]
        sx: Least elastic modulus, horizontal axis, shape (...). [in3]
        zx: Plastic modulus, horizontal axis, shape (...). [in3]
        rx: Radius of gyration, horizontal axis, shape (...). [in]
        iy: Second moment, vertical axis, shape (...). [in4]
        sy: Least elastic modulus, vertical axis, shape (...). [in3]
        zy: Plastic modulus, vertical axis, shape (...). [in3]
        ry: Radius of gyration, vertical axis, shape (...). [in]
        r_min: Least radius of gyration, shape (...). [in]
        j: Torsion constant, shape (...). [in4]
        torsion_c: Torque over largest shear stress, shape (...). [in3]
        h_over_t: Flat height over thickness, shape (...).
        b_over_t: Flat width over thickness, shape (...).
    """

    family: Array
    area: Array
    depth: Array
    width: Array
    t_design: Array
    ix: Array
    sx: Array
    zx: Array
    rx: Array
    iy: Array
    sy: Array
    zy: Array
    ry: Array
    r_min: Array
    j: Array
    torsion_c: Array
    h_over_t: Array
    b_over_t: Array


def section_of(shapes: Sequence[Shape]) -> Section:
    """Lay the properties of shapes side by side.

    Args:
        shapes: Shapes from the tables.

    Returns:
        Their properties, shape (shape,).
    """
    names = [name for name in Section.__dataclass_fields__ if name != "family"]
    columns = {name: np.array([getattr(shape, name) for shape in shapes], dtype=np.float64) for name in names}
    return Section(family=np.array([FAMILY[shape.kind] for shape in shapes], dtype=np.float64), **columns)


def tension(section: Section, *, fy: Values, fu: Values, basis: Basis, net: Values = 1.0) -> Array:
    """Allowable tension, yielding of the gross area or rupture of the effective net area.

    Args:
        section: The shapes, shape (...).
        fy: Yield stress, shape (...). [psi]
        fu: Tensile strength, shape (...). [psi]
        basis: Basis of allowable strength.
        net: Effective net area over gross area, shape (...).

    Returns:
        Allowable tension, shape (...). [lbf]

    Source: AISC 360-22 D2 (seen); ASME BTH-1 3-2.1 (memory).
    """
    gross = as_array(fy) * section.area / basis.yielding
    held = np.minimum(gross, as_array(fu) * section.area * as_array(net) / basis.rupture)
    return step(held, "P_t", "Allowed pull", clause="AISC 360-22 D2 (seen); ASME BTH-1 3-2.1 (memory)")


def compression_strength(section: Section, *, length: Values, fy: Values, basis: Basis) -> Array:
    """Allowable compression, buckling about the least axis.

    Args:
        section: The shapes, shape (...).
        length: Effective length K L, shape (...). [in]
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.

    Returns:
        Allowable compression, shape (...). [lbf]

    Source: AISC 360-22 E3, E7; under the lifting basis not over the curve of ASME BTH-1 3-2.2 (memory) either.
    """
    slenderness = divide(length, section.r_min, where_zero=UNLIMITED)
    walls = (section.b_over_t, section.h_over_t)
    area, wall = section.area, section.t_design

    def solid() -> Array:
        return compression.column_stress(slenderness, fy=fy) * area

    nominal = _pick(
        section,
        {
            BOX: lambda: compression.box_compression(slenderness, area=area, thickness=wall, walls=walls, fy=fy),
            ROUND: lambda: compression.round_compression(slenderness, area=area, ratio=section.h_over_t, fy=fy),
            ANGLE: lambda: compression.angle_compression(slenderness, area=area, thickness=wall, legs=walls, fy=fy),
            BAR: solid,
            ROUND_BAR: solid,
        },
    )
    if basis.lifting_members:
        whole = compression.lifting_stress(compression.euler_stress(slenderness), fy=fy) * area
        nominal = np.minimum(nominal, whole)
    return step(
        nominal / basis.yielding, "P_a", "Allowed compression", clause="AISC 360-22 E3, E7; ASME BTH-1 3-2.2 (memory)"
    )


def _pick(section: Section, answers: Mapping[int, Callable[[], Array]]) -> Array:
    """Take each shape's answer from its own family; families that no shape belongs to are not worked out."""
    if section.family.size == 1:
        return answers[int(section.family.item())]()
    present = [family for family in answers if np.any(section.family == family)]
    answer = answers[present[0]]()
    for family in present[1:]:
        answer = np.where(section.family == family, answers[family](), answer)
    return answer


def _bend(section: Section, *, about: str, fy: Values, length: Values, gradient: Values) -> flexure.Bend:
    """Turn a section to the axis it is bent about."""
    flat = about == "x"
    return flexure.Bend(
        modulus=section.sx if flat else section.sy,
        plastic=section.zx if flat else section.zy,
        depth=section.depth if flat else section.width,
        width=section.width if flat else section.depth,
        thickness=section.t_design,
        web_ratio=section.h_over_t if flat else section.b_over_t,
        flange_ratio=section.b_over_t if flat else section.h_over_t,
        area=section.area,
        radius=section.ry if flat else section.rx,
        torsion=section.j,
        fy=fy,
        length=length,
        gradient=gradient,
    )


def moment_strength(
    section: Section, *, about: str, fy: Values, basis: Basis, length: Values = 0.0, gradient: Values = 1.0
) -> Array:
    """Allowable moment about the horizontal ("x") or the vertical ("y") axis.

    Args:
        section: The shapes, shape (...).
        about: "x" or "y".
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.
        length: Length between points held against twisting and moving sideways, shape (...). [in]
        gradient: Moment gradient factor Cb, shape (...).

    Returns:
        Allowable moment, shape (...). [lbf*in]

    Source: AISC 360-22 F7, F8, F10, F11; ASME BTH-1 3-2.3 (memory).
    """
    bend = _bend(section, about=about, fy=fy, length=length, gradient=gradient)

    def held(strength: Flexure) -> Array:
        return allowable_moment(strength, basis=basis)

    return _pick(
        section,
        {
            BOX: lambda: held(flexure.box_flexure(bend)),
            ROUND: lambda: held(flexure.round_flexure(bend)),
            ANGLE: lambda: held(flexure.angle_flexure(bend)),
            BAR: lambda: held(flexure.bar_flexure(bend)),
            ROUND_BAR: lambda: held(flexure.bar_flexure(bend, solid_round=True)),
        },
    )


def shear_strength(section: Section, *, along: str, fy: Values, basis: Basis, length: Values) -> Array:
    """Allowable shear along the height ("y") or the width ("x") of the shape.

    Args:
        section: The shapes, shape (...).
        along: "y" for upright shear, "x" for shear across.
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.
        length: Length from largest to zero shear, for round tubes, shape (...). [in]

    Returns:
        Allowable shear, shape (...). [lbf]

    Source: AISC 360-22 G3, G4, G5; ASME BTH-1 3-2.3.6 (memory).
    """
    ratio = section.h_over_t if along == "y" else section.b_over_t
    area, wall = section.area, section.t_design
    nominal = _pick(
        section,
        {
            BOX: lambda: shear.box_shear(ratio, thickness=wall, fy=fy),
            ROUND: lambda: shear.round_shear(area, ratio=ratio, fy=fy, length=length, diameter=section.depth),
            ANGLE: lambda: shear.leg_shear(ratio, thickness=wall, fy=fy),
            BAR: lambda: shear.solid_shear(area, fy=fy),
            ROUND_BAR: lambda: shear.solid_shear(area, fy=fy),
        },
    )
    return step(nominal / basis.shear, "V_a", "Allowed shear", clause="AISC 360-22 G; ASME BTH-1 3-2.3.6 (memory)")


def torsion_strength(section: Section, *, fy: Values, basis: Basis, length: Values) -> Array:
    """Allowable torsion.

    Args:
        section: The shapes, shape (...).
        fy: Yield stress, shape (...). [psi]
        basis: Basis of allowable strength.
        length: Length of the member, for round tubes, shape (...). [in]

    Returns:
        Allowable torsion, shape (...). [lbf*in]

    Source: AISC 360-22 H3; under the lifting basis shear stress over Fy/(Nd sqrt 3) (memory).
    """
    ratio = np.maximum(section.h_over_t, section.b_over_t)
    modulus, across = section.torsion_c, section.depth

    def solid() -> Array:
        return shear.open_torsion(modulus, fy=fy)

    nominal = _pick(
        section,
        {
            BOX: lambda: shear.box_torsion(modulus, ratio=ratio, fy=fy),
            ROUND: lambda: shear.round_torsion(modulus, ratio=section.h_over_t, fy=fy, length=length, diameter=across),
            ANGLE: solid,
            BAR: solid,
            ROUND_BAR: solid,
        },
    )
    return step(nominal / basis.shear, "T_a", "Allowed torsion", clause="AISC 360-22 H3 (memory)")

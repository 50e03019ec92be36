"""Section properties from plain geometry, for the shapes that no published table lists."""

from dataclasses import dataclass
from math import hypot, pi, sqrt

CORNER_OVER_WALL = 2.0
"""Outside corner radius of a square or rectangular tube over its wall, as in the AISC tables."""


@dataclass(frozen=True, slots=True)
class Properties:
    """Properties of a plane section; x is the horizontal axis, y the vertical one.

    Attributes:
        area: Area. [in2]
        ix: Second moment about the horizontal axis through the centroid. [in4]
        sx: Least elastic section modulus about that axis. [in3]
        zx: Plastic section modulus about it. [in3]
        iy: As `ix`, vertical axis. [in4]
        sy: As `sx`, vertical axis. [in3]
        zy: As `zx`, vertical axis. [in3]
        j: Torsion constant. [in4]
        torsion_c: Torque over largest shear stress. [in3]
        x_bar: Centroid from the left face. [in]
        y_bar: Centroid from the bottom face. [in]
        r_min: Least radius of gyration, about any axis. [in]
    """

    area: float
    ix: float
    sx: float
    zx: float
    iy: float
    sy: float
    zy: float
    j: float
    torsion_c: float
    x_bar: float
    y_bar: float
    r_min: float


def _rounded_block(depth: float, width: float, radius: float) -> tuple[float, float, float]:
    """Area, second moment and plastic modulus of a full rectangle with rounded corners, horizontal axis."""
    removed = radius**2 * (1.0 - pi / 4.0)
    area = depth * width - 4.0 * removed
    # corner square about the axis, less the quarter disc left in it, each moved from its own centroid
    square = radius**4 / 12.0 + radius**2 * (depth / 2.0 - radius / 2.0) ** 2
    disc_arm = depth / 2.0 - radius + 4.0 * radius / (3.0 * pi)
    disc = radius**4 * (pi / 16.0 - 4.0 / (9.0 * pi)) + pi * radius**2 / 4.0 * disc_arm**2
    inertia = width * depth**3 / 12.0 - 4.0 * square + 4.0 * disc
    corner_moment = radius**2 * (depth / 2.0 - radius / 2.0) - pi * radius**2 / 4.0 * disc_arm
    plastic = width * depth**2 / 4.0 - 4.0 * corner_moment
    return area, inertia, plastic


def rectangular_tube(depth: float, *, width: float, wall: float) -> Properties:
    """Return the properties of a tube with outside corner radius 2 t and inside radius t.

    Args:
        depth: Outside height. [in]
        width: Outside width. [in]
        wall: Design wall thickness, at most a quarter of the lesser side. [in]

    Source: own derivation (parallel axes); torsion by Bredt on the mid-line, torsion modulus as the AISC
    Specification commentary on H3: C = 2 (B - t)(H - t) t - 4.5 (4 - pi) t^3 (memory).
    """
    outer, inner = CORNER_OVER_WALL * wall, (CORNER_OVER_WALL - 1.0) * wall

    def about(high: float, wide: float) -> tuple[float, float, float]:
        whole = _rounded_block(high, wide, outer)
        hole = _rounded_block(high - 2.0 * wall, wide - 2.0 * wall, inner)
        return whole[0] - hole[0], whole[1] - hole[1], whole[2] - hole[2]

    area, ix, zx = about(depth, width)
    _, iy, zy = about(width, depth)
    mid_radius = (outer + inner) / 2.0
    enclosed = (depth - wall) * (width - wall) - mid_radius**2 * (4.0 - pi)
    perimeter = 2.0 * (depth + width - 2.0 * wall) - 2.0 * mid_radius * (4.0 - pi)
    return Properties(
        area=area,
        ix=ix,
        sx=ix / (depth / 2.0),
        zx=zx,
        iy=iy,
        sy=iy / (width / 2.0),
        zy=zy,
        j=4.0 * enclosed**2 * wall / perimeter,
        torsion_c=2.0 * (width - wall) * (depth - wall) * wall - 4.5 * (4.0 - pi) * wall**3,
        x_bar=width / 2.0,
        y_bar=depth / 2.0,
        r_min=sqrt(min(ix, iy) / area),
    )


def round_section(diameter: float, *, inside: float) -> Properties:
    """Return the properties of a round tube or, with `inside` zero, of a round bar.

    Args:
        diameter: Outside diameter. [in]
        inside: Inside diameter. [in]
    """
    area = pi * (diameter**2 - inside**2) / 4.0
    i = pi * (diameter**4 - inside**4) / 64.0
    s = i / (diameter / 2.0)
    z = (diameter**3 - inside**3) / 6.0
    middle = diameter / 2.0
    return Properties(
        area=area,
        ix=i,
        sx=s,
        zx=z,
        iy=i,
        sy=s,
        zy=z,
        j=2.0 * i,
        torsion_c=2.0 * s,
        x_bar=middle,
        y_bar=middle,
        r_min=sqrt(i / area),
    )


def rectangle(depth: float, *, width: float) -> Properties:
    """Return the properties of a solid bar.

    Args:
        depth: Height. [in]
        width: Width. [in]

    Source: torsion of a rectangle, a b^3 (1/3 - 0.21 b/a (1 - b^4 / 12 a^4)) and a b^2 / (3 + 1.8 b/a), stress
    formula handbooks (memory).
    """
    long, short = max(depth, width), min(depth, width)
    ratio = short / long
    ix, iy = width * depth**3 / 12.0, depth * width**3 / 12.0
    area = depth * width
    return Properties(
        area=area,
        ix=ix,
        sx=width * depth**2 / 6.0,
        zx=width * depth**2 / 4.0,
        iy=iy,
        sy=depth * width**2 / 6.0,
        zy=depth * width**2 / 4.0,
        j=long * short**3 * (1.0 / 3.0 - 0.21 * ratio * (1.0 - ratio**4 / 12.0)),
        torsion_c=long * short**2 / (3.0 + 1.8 * ratio),
        x_bar=width / 2.0,
        y_bar=depth / 2.0,
        r_min=short / sqrt(12.0),
    )


def _angle_about(high: float, wide: float, wall: float) -> tuple[float, float, float, float]:
    """Centroid height, second, least elastic and plastic modulus; `wide` is the leg along the axis."""
    upright, foot = wall * (high - wall), wide * wall
    area = upright + foot
    center = (upright * (high + wall) / 2.0 + foot * wall / 2.0) / area
    inertia = (
        wall * (high - wall) ** 3 / 12.0
        + upright * ((high + wall) / 2.0 - center) ** 2
        + wide * wall**3 / 12.0
        + foot * (center - wall / 2.0) ** 2
    )
    if foot >= area / 2.0:
        cut = area / (2.0 * wide)  # the equal-area line lies in the foot
        plastic = wide * (cut**2 + (wall - cut) ** 2) / 2.0 + upright * ((high + wall) / 2.0 - cut)
    else:
        above = area / (2.0 * wall)
        plastic = wall * (above**2 + (high - wall - above) ** 2) / 2.0 + foot * (high - above - wall / 2.0)
    return center, inertia, inertia / max(high - center, center), plastic


def angle(depth: float, *, width: float, wall: float) -> Properties:
    """Return the properties of an angle with square corners: upright leg on the left, foot at the bottom.

    The axes are parallel to the legs and are not principal axes; `r_min` is about the least principal axis.

    Args:
        depth: Upright leg, outside. [in]
        width: Foot, outside. [in]
        wall: Leg thickness. [in]
    """
    y_bar, ix, sx, zx = _angle_about(depth, width, wall)
    x_bar, iy, sy, zy = _angle_about(width, depth, wall)
    upright, rest = wall * depth, wall * (width - wall)
    area = upright + rest
    product = upright * (wall / 2.0 - x_bar) * (depth / 2.0 - y_bar) + rest * ((width + wall) / 2.0 - x_bar) * (
        wall / 2.0 - y_bar
    )
    least = (ix + iy) / 2.0 - hypot((ix - iy) / 2.0, product)
    j = (depth + width - wall) * wall**3 / 3.0
    return Properties(
        area=area,
        ix=ix,
        sx=sx,
        zx=zx,
        iy=iy,
        sy=sy,
        zy=zy,
        j=j,
        torsion_c=j / wall,
        x_bar=x_bar,
        y_bar=y_bar,
        r_min=sqrt(least / area),
    )

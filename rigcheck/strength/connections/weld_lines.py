"""Weld groups as lines of unit throat: their properties and the elastic vector sum."""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED, Values, as_array, divide
from rigcheck.arrays.types import Array

RING_POINTS = 24
"""Points that stand for a ring weld, on the polygon drawn round it: 0.9 % high at most. Source: own choice."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class WeldLine:
    """A weld group of unit throat about its own centroid; x across, y up, z out of the plane of the weld.

    Attributes:
        length: Total length, shape (...). [in]
        ix: Second moment about the x axis, shape (...). [in3]
        iy: Second moment about the y axis, shape (...). [in3]
        ip: Polar second moment, shape (...). [in3]
        sx: Section modulus about the x axis, shape (...). [in2]
        sy: Section modulus about the y axis, shape (...). [in2]
        x: Places to look at, across, shape (..., point). [in]
        y: Places to look at, up, shape (..., point). [in]
    """

    length: Array
    ix: Array
    iy: Array
    ip: Array
    sx: Array
    sy: Array
    x: Array
    y: Array


def _line(length: Array, *, ix: Array, iy: Array, x: tuple[Array, ...], y: tuple[Array, ...]) -> WeldLine:
    """Build a group from its moments and its corners."""
    across = np.stack(np.broadcast_arrays(*x, *y)[: len(x)], axis=-1)
    up = np.stack(np.broadcast_arrays(*y, *x)[: len(y)], axis=-1)
    return WeldLine(
        length=length,
        ix=ix,
        iy=iy,
        ip=ix + iy,
        sx=divide(ix, np.max(np.abs(up), axis=-1)),
        sy=divide(iy, np.max(np.abs(across), axis=-1)),
        x=across,
        y=up,
    )


def two_verticals(width: Values, *, depth: Values) -> WeldLine:
    """Two upright lines, a plate welded on both faces.

    Args:
        width: Distance between them, shape (...). [in]
        depth: Length of each, shape (...). [in]

    Returns:
        S = d^2/3, Ip = d(3 b^2 + d^2)/6, shape (...).

    Source: weld-as-a-line handbook table (seen).
    """
    wide, deep = np.broadcast_arrays(as_array(width), as_array(depth))
    x, y = wide / 2.0, deep / 2.0
    return _line(2.0 * deep, ix=deep**3 / 6.0, iy=2.0 * deep * x**2, x=(-x, -x, x, x), y=(-y, y, -y, y))


def channel(width: Values, *, depth: Values) -> WeldLine:
    """Two level lines and one upright at their left end.

    Args:
        width: Length of each level line, shape (...). [in]
        depth: Length of the upright, shape (...). [in]

    Returns:
        S = b d + d^2/6, Ip = (8 b^3 + 6 b d^2 + d^3)/12 - b^4/(2 b + d), centroid b^2/(2 b + d) from the upright.

    Source: weld-as-a-line handbook table (seen).
    """
    wide, deep = np.broadcast_arrays(as_array(width), as_array(depth))
    y = deep / 2.0
    length = 2.0 * wide + deep
    centroid = divide(wide**2, length)
    ix = 2.0 * wide * y**2 + deep**3 / 12.0
    iy = 2.0 * wide**3 / 3.0 - length * centroid**2
    left, right = -centroid, wide - centroid
    return _line(length, ix=ix, iy=iy, x=(left, left, right, right), y=(-y, y, -y, y))


def rectangle(width: Values, *, depth: Values) -> WeldLine:
    """Welded all round a rectangle.

    Args:
        width: Width, shape (...). [in]
        depth: Depth, shape (...). [in]

    Returns:
        S = b d + d^2/3, Ip = (b + d)^3/6, shape (...).

    Source: weld-as-a-line handbook table (seen).
    """
    wide, deep = np.broadcast_arrays(as_array(width), as_array(depth))
    x, y = wide / 2.0, deep / 2.0
    return _line(
        2.0 * (wide + deep),
        ix=2.0 * wide * y**2 + deep**3 / 6.0,
        iy=2.0 * deep * x**2 + wide**3 / 6.0,
        x=(-x, -x, x, x),
        y=(-y, y, -y, y),
    )


def ring(diameter: Values) -> WeldLine:
    """Welded all round a circle.

    The places looked at lie on a polygon round the circle, so that the worst of them is never less than the true peak.

    Args:
        diameter: Diameter, shape (...). [in]

    Returns:
        S = pi d^2/4, Ip = pi d^3/4, shape (...).

    Source: weld-as-a-line handbook table (memory); geometry.
    """
    size = as_array(diameter)
    angle = np.arange(RING_POINTS) * 2.0 * np.pi / RING_POINTS
    out = size[..., np.newaxis] / 2.0 / np.cos(np.pi / RING_POINTS)
    half = np.pi * size**3 / 8.0
    modulus = np.pi * size**2 / 4.0
    return WeldLine(
        length=np.pi * size,
        ix=half,
        iy=half,
        ip=2.0 * half,
        sx=modulus,
        sy=modulus,
        x=out * np.cos(angle),
        y=out * np.sin(angle),
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class WeldLoad:
    """Force and moment at the centroid of a weld group, right-handed.

    Attributes:
        fx: Force across, in the plane of the weld, shape (...). [lbf]
        fy: Force up, in the plane of the weld, shape (...). [lbf]
        fz: Force out of the plane, shape (...). [lbf]
        mx: Moment about the x axis, shape (...). [lbf*in]
        my: Moment about the y axis, shape (...). [lbf*in]
        mz: Moment in the plane of the weld, shape (...). [lbf*in]
    """

    fx: Values = 0.0
    fy: Values = 0.0
    fz: Values = 0.0
    mx: Values = 0.0
    my: Values = 0.0
    mz: Values = 0.0


def peak_force(line: WeldLine, *, load: WeldLoad) -> Array:
    """Largest force per inch of the group, by the elastic vector sum.

    At a place (x, y): fx/L - mz y/Ip, fy/L + mz x/Ip, fz/L + mx y/Ix - my x/Iy. The sum of squares is convex in
    (x, y), so that its largest value over straight lines of weld is at one of their ends.
    A single line has no strength against bending about itself, and a weld of no length none at all: such a load reads
    as an unlimited force per inch.

    Args:
        line: The group, shape (...).
        load: What it carries, shape (...).

    Returns:
        Largest force per inch, shape (...). [lbf/in]

    Source: elastic method, statics (memory: AISC Manual part 8); docs/method.md#weld-as-a-line.
    """

    def per(amount: Values, size: Array) -> Array:
        return divide(amount, size, where_zero=0.0)[..., np.newaxis]

    across = per(load.fx, line.length) - per(load.mz, line.ip) * line.y
    up = per(load.fy, line.length) + per(load.mz, line.ip) * line.x
    out = per(load.fz, line.length) + per(load.mx, line.ix) * line.y - per(load.my, line.iy) * line.x
    peak = np.max(np.sqrt(across**2 + up**2 + out**2), axis=-1)
    pairs = (
        (load.fx, line.length),
        (load.fy, line.length),
        (load.fz, line.length),
        (load.mx, line.ix),
        (load.my, line.iy),
        (load.mz, line.ip),
    )
    for amount, size in pairs:
        peak = np.where((np.abs(as_array(amount)) > 0.0) & (size <= 0.0), UNLIMITED, peak)
    return np.asarray(peak)

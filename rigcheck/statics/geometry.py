"""Where the box, its hangers and its lines stand at a fold angle, in plant axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.statics.along import Along

LEFT, RIGHT = 0, 1
SIDE = np.array([1.0, -1.0])  # the sign of y on the left and on the right


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Layout:
    """The points that fix the statics, all shapes (...).

    Attributes:
        pitch: Floor angle deployed, falling to the tail. [rad]
        length: Box length. [in]
        hinge_height: Hinge axis above the floor. [in]
        hinge_spacing: Between the two hinge groups. [in]
        hanger_s: Station of the hangers. [in]
        hanger_n: Height of the hangers above the floor. [in]
        hanger_spacing: Between the hangers. [in]
        perch_x: Perch lugs from the hinge axis, downstream positive. [in]
        perch_z: Perch lugs above the hinge axis. [in]
        perch_spacing: Between the perch lugs. [in]
        rail_spacing: Between the rails, at the hangers where they do not stand alike all along. [in]
        along: What changes along the rails; None where nothing does.
        rolled: How far a box that its hinge does not keep from rolling may stand off level; None where the hinge does.
            [rad]
    """

    pitch: Array
    length: Array
    hinge_height: Array
    hinge_spacing: Array
    hanger_s: Array
    hanger_n: Array
    hanger_spacing: Array
    perch_x: Array
    perch_z: Array
    perch_spacing: Array
    rail_spacing: Array
    along: Along | None = None
    rolled: Array | None = None


def most_apart(layout: Layout) -> Array:
    """Between the rails where they stand farthest apart, shape (...). [in]"""
    if layout.along is None:
        return layout.rail_spacing
    ends = [end for piece in layout.along.pieces for end in (piece.head, piece.tail)]
    return np.asarray(np.max(np.stack(np.broadcast_arrays(*ends)), axis=0))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Pose:
    """The box at one fold angle per row, shapes (..., state) unless said.

    Attributes:
        angle: Floor above level, negative when it falls to the tail. [rad]
        along: e_s in the plant's x and z, shape (..., state, 2). [1]
        normal: e_n in the plant's x and z, shape (..., state, 2). [1]
        hanger_x: Hanger from the hinge axis. [in]
        hanger_z: Hanger above the hinge axis. [in]
        hanger_y: Hanger across, left. [in]
        ux: Line direction, hanger to perch. [1]
        uy: The same across, for the left line; the right one has the other sign. [1]
        uz: The same upward. [1]
        u_s: Line direction along the floor. [1]
        u_n: Line direction square to the floor. [1]
        line_length: Pin of the hanger to pin of the perch. [in]
        arm: Lever arm of either line about the hinge axis, x_H u_z - z_H u_x. [in]
        radius: Hanger from the hinge axis in side view. [in]
    """

    angle: Array
    along: Array
    normal: Array
    hanger_x: Array
    hanger_z: Array
    hanger_y: Array
    ux: Array
    uy: Array
    uz: Array
    u_s: Array
    u_n: Array
    line_length: Array
    arm: Array
    radius: Array

    @property
    def line_angle(self) -> Array:
        """Line above level, asin(u_z), shape (..., state). [rad]"""
        return np.asarray(np.arcsin(np.clip(self.uz, -1.0, 1.0)))

    @property
    def splay(self) -> Array:
        """Left line out of the side view, atan2(u_y, -u_x), shape (..., state). [rad]"""
        return np.asarray(np.arctan2(self.uy, -self.ux))


def pose(layout: Layout, *, fold: Array) -> Pose:
    """The box and its lines at given fold angles.

    Args:
        layout: Points of the rig, shapes (...).
        fold: Fold angle psi, 0 deployed, positive up, shape (..., state). [rad]

    Returns:
        The pose, shapes (..., state).

    Source: own derivation, docs/method.md#axes.
    """

    def column(value: Array) -> Array:
        return np.asarray(value)[..., None]

    angle = fold - column(layout.pitch)
    cos, sin = np.cos(angle), np.sin(angle)
    s, n = column(layout.hanger_s), column(layout.hanger_n - layout.hinge_height)
    x, z = s * cos - n * sin, s * sin + n * cos
    y = column(0.5 * layout.hanger_spacing) + 0.0 * x
    to_x, to_z = column(layout.perch_x) - x, column(layout.perch_z) - z
    to_y = column(0.5 * layout.perch_spacing) - y
    length = np.sqrt(to_x**2 + to_y**2 + to_z**2)
    divisor = np.where(length > 0.0, length, 1.0)
    ux, uy, uz = to_x / divisor, to_y / divisor, to_z / divisor
    return Pose(
        angle=angle,
        along=side_by_side(cos, sin),
        normal=side_by_side(-sin, cos),
        hanger_x=x,
        hanger_z=z,
        hanger_y=y,
        ux=ux,
        uy=uy,
        uz=uz,
        u_s=ux * cos + uz * sin,
        u_n=-ux * sin + uz * cos,
        line_length=length,
        arm=x * uz - z * ux,
        radius=np.hypot(x, z),
    )

"""Both rails under their own loads before any line pulls."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.arrays.types import Array
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.statics.grillage import Grillage
from rigcheck.statics.rail import Curves, RailForces


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Unheld:
    """Both rails under their own loads before any line pulls, row by row, and a line's pound in their difference.

    Attributes:
        rails: Terms with a side axis, shapes (..., row, side, term).
        curves: The same piece by piece.
        layout: Points of the rig.
        pose: The box in each row, shapes (..., row).
        box: The grillage.
        axis: Neutral axis above the floor, shape (...). [in]
        turn: Integral of M_L - M_R from the hinge to each member, shape (..., row, member). [lbf*in2]
        left: M_L - M_R left open at the tail, shape (..., row). [lbf*in]
        turn_of_n: The same for a pound square to the floor at the left hanger more than at the right one.
        left_of_n: The same.
        turn_of_s: The same for a pound along the floor.
        left_of_s: The same.
    """

    rails: RailForces
    curves: Curves
    layout: Layout
    pose: Pose
    box: Grillage
    axis: Array
    turn: Array
    left: Array
    turn_of_n: Array
    left_of_n: Array
    turn_of_s: Array
    left_of_s: Array

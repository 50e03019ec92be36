"""What keeps the box from rolling: two hinge groups at its sides, or, on a center pivot, its two lines alone."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import ALONE, SHARED

CENTER_PIVOT = "center pivot"
OFF_LEVEL = np.radians(2.0)  # assumption: what an eye sees of a box that hangs, no source
LEAST_APART = 2.0  # in: ears of a pivot that nobody describes are taken as near to each other as a case may state


def pivots(rig: Rig) -> bool:
    """Whether the box turns on one bar at mid-width, so that nothing but its lines keeps it from rolling."""
    return bool(rig.value("hinge.kind") == CENTER_PIVOT)


def on_one_line(rig: Rig) -> frozenset[str]:
    """Ways of sharing of a box whose lines may be worked in turn: on a center pivot it rolls, and both stay taut."""
    return SHARED if pivots(rig) else SHARED | ALONE


def folds_on_one(rig: Rig) -> bool:
    """Whether one line may carry the box while it is folded."""
    return bool(rig.value("fold.one_line")) and not pivots(rig)


def off_level(rig: Rig) -> Array | None:
    """How far a box on a center pivot may stand rolled off level, shape (...); None on any other hinge. [rad]"""
    return rig.number_or("hinge.off_level", OFF_LEVEL) if pivots(rig) else None


def hinge_apart(rig: Rig, *, head: Array) -> Array:
    """Between the two hinge groups, or between the two ears of a center pivot, shape (...). [in]

    Args:
        rig: The rig, one or a batch.
        head: Width of the box at its head, which stands for the hinge groups where nothing is said.
    """
    if not pivots(rig) or rig.has("hinge.spacing"):
        return rig.number_or("hinge.spacing", head)
    if rig.value("hinge.ear") is None or rig.value("hinge.plant_ear") is None:
        return np.asarray(LEAST_APART + 0.0 * head)
    plates = rig.number("hinge.ear.plate") + rig.number("hinge.plant_ear.plate")
    return np.asarray(plates + 2.0 * rig.number("hinge.gap"))

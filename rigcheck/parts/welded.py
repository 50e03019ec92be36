"""A fillet weld of the rig on the metals that it joins: each as its weld sees it, and the least of what they stand."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

import numpy as np

from rigcheck.arrays.guarded import Values
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.welds import CONFIDENCE, Joint, fillet_allowable
from rigcheck.tables import steel
from rigcheck.tables.steel import Grade


def joint_on(
    rig: Rig, metal: Grade, *, leg: Values, length: Values, thickness: Values, faces: float = 1.0
) -> Joint:  # fmt: skip
    """A run of weld on one of the metals that it joins, laid with the electrode of the rig.

    Args:
        rig: The rig.
        metal: Grade of the plate or wall.
        leg: Fillet leg, shape (...). [in]
        length: Of the run, shape (...). [in]
        thickness: Of the plate or wall, shape (...). [in]
        faces: How many of its faces are welded.
    """
    electrode = steel.electrode(str(rig.value("weld.electrode"))).fexx
    return Joint(
        leg=leg, length=length, electrode=electrode, thickness=thickness, fy=metal.fy, fu=metal.fu, faces=faces
    )


def least_allowed(rig: Rig, joints: Iterable[Joint], *, basis: Basis) -> Array:
    """Least of what a weld and the metals that it joins stand, by who laid it, shape (...). [lbf/in]

    Args:
        rig: The rig.
        joints: The weld on each of the metals.
        basis: Basis of allowable strength.
    """
    confidence = CONFIDENCE[str(rig.value("weld.hand"))]
    return reduce(np.minimum, (fillet_allowable(joint, basis=basis, confidence=confidence) for joint in joints))

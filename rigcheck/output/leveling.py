"""How far a box on a center pivot rolls as one of its lines is worked, in the words of a shop."""

from __future__ import annotations

import numpy as np

from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import pivots
from rigcheck.parts.hinge.rolling import roll_per_inch
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number

_STEP = {"us": (1.0, "1 in"), "si": (10.0 / 25.4, "10 mm")}


def leveling_words(rig: Rig, *, scale: Scale) -> tuple[str, str] | None:
    """What an inch of one line does, and what to do about it; None where two hinge groups keep the box from rolling.

    Args:
        rig: One rig.
        scale: Units of the output.
    """
    if not pivots(rig):
        return None
    inches, step = _STEP[scale.system]
    angle = number(float(np.degrees(roll_per_inch(rig))) * inches, unit="deg", digits=2)
    return f"{step} of line is {angle}", "of roll, on one line alone; level it empty, keep both even."

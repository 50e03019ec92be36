"""What the largest fiber stress of a rail is made of: axial force, moment and fiber, for a reader who works it anew."""

from __future__ import annotations

import numpy as np

from rigcheck.statics.beam import Terms, evaluate
from rigcheck.statics.rail import Section
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale


def stress_parts(axial: Terms, moment: Terms, *, section: Section, at: float, scale: Scale) -> Plain:
    """Axial force and moment just uphill or just downhill of a station, whichever strains a fiber more.

    sigma = N/A -+ M c/I at the top and at the bottom fiber.

    Args:
        axial: Terms of N of one rail; tension positive, so with its sign turned from that of the terms.
        moment: Terms of M of one rail, sagging positive.
        section: The rail.
        at: The station along the floor. [in]
        scale: Units of the output.

    Returns:
        Area, inertia, force, moment, distance of the fiber from the neutral axis and its stress.

    Source: docs/method.md#rail-section.
    """
    x = np.array([at])
    tries = []
    for before in (True, False):
        n = -float(evaluate(axial, x=x, integrals=0, before=before)[0])
        m = float(evaluate(moment, x=x, integrals=0, before=before)[0])
        for c, sign in ((float(section.top - section.axis), -1.0), (float(section.axis - section.bottom), 1.0)):
            tries.append((abs(n / float(section.area) + sign * m * c / float(section.inertia)), n, m, c))
    stress, n, m, c = max(tries)
    inch = float(scale.one(1.0, dimension="length") or 1.0)
    return {
        "area": float(section.area) * inch**2,
        "inertia": float(section.inertia) * inch**4,
        "axial": scale.one(n, dimension="force"),
        "moment": scale.one(m, dimension="moment"),
        "fiber": scale.one(c, dimension="length"),
        "stress": scale.one(stress, dimension="stress"),
    }

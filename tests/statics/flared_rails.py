"""Rails of a box in three stretches, invented: one that widens, a straight one, one that narrows; in plain numbers."""

from collections.abc import Callable
from itertools import pairwise
from math import hypot

import numpy as np
from scipy.integrate import quad

from rigcheck.statics.along import Along, Piece

E = 29.0e6  # of steel [psi]
JOINTS = (0.0, 27.0, 75.0, 101.0)
WIDTHS = (21.0, 33.0, 33.0, 25.0)  # between the rails there [in]
INERTIA = (2.5, 1.8, 2.1)
AXIS = (3.2, 2.6, 2.9)
LENGTH = JOINTS[-1]


def rails(widths: tuple[float, ...] = WIDTHS) -> Along:
    """The rails as the engine knows them, shapes ()."""
    pieces = []
    for k, (start, end) in enumerate(pairwise(JOINTS)):
        values = {"start": start, "end": end, "head": widths[k], "tail": widths[k + 1], "area": 1.3}
        values |= {"inertia": INERTIA[k], "axis": AXIS[k], "modulus": E}
        pieces.append(Piece(**{name: np.asarray(value) for name, value in values.items()}))
    return Along(tuple(pieces), flared=len(set(widths)) > 1)


def stretch(s: float) -> int:
    """Number of the stretch in which a station lies."""
    return int(np.clip(np.searchsorted(JOINTS, s, side="right") - 1, 0, 2))


def spacing(s: float, widths: tuple[float, ...] = WIDTHS) -> float:
    """Between the rails. [in]"""
    return float(np.interp(s, JOINTS, widths))


def stiffness(s: float, widths: tuple[float, ...] = WIDTHS) -> float:
    """E I cos^3 of a rail, its angle in plan from what it goes along and across in its stretch. [lbf*in2]"""
    k = stretch(s)
    long, out = JOINTS[k + 1] - JOINTS[k], 0.5 * (widths[k + 1] - widths[k])
    return E * INERTIA[k] * (long / hypot(long, out)) ** 3


def integral(of: Callable[[float], float], to: float, *, breaks: tuple[float, ...] = ()) -> float:
    """By quadrature from the head, stretch by stretch."""
    inside = {place for place in (*JOINTS, *breaks) if 0.0 < place < to}
    return sum(quad(of, a, b, epsabs=0.0, epsrel=1e-12)[0] for a, b in pairwise(sorted({0.0, *inside, to})))


def rolled(s: float) -> float:
    """Integral of 1/b^2 from the head. [1/in]"""
    return integral(lambda x: spacing(x) ** -2, s) if s else 0.0

"""Closed forms of beam tables, for the rail to be held against: one beam on two supports, with or without an overhang.

Source: AISC Manual Table 3-22 (16th edition; 3-23 in the 13th to 15th) and the same forms on public formula pages.
Any consistent units. x runs from the first support; `over` beyond the second one.
"""

from math import sqrt


def simple_even(w, *, span, stiffness):
    """Even load on a simple beam (seen): reactions, largest moment, largest deflection."""
    return {"reaction": w * span / 2.0, "moment": w * span**2 / 8.0, "sag": 5.0 * w * span**4 / (384.0 * stiffness)}


def simple_even_moment(w, *, span, x):
    """Moment at x under even load on a simple beam (seen)."""
    return w * x * (span - x) / 2.0


def simple_center(force, *, span, stiffness):
    """One load at mid-span of a simple beam (shear and moment seen, deflection memory)."""
    return {"reaction": force / 2.0, "moment": force * span / 4.0, "sag": force * span**3 / (48.0 * stiffness)}


def tip_load(force, *, span, over, stiffness):
    """One load at the tip of the overhang (seen); moment at the second support, hogging positive here."""
    return {
        "first": -force * over / span,
        "second": force * (span + over) / span,
        "moment": force * over,
        "tip": force * over**2 * (span + over) / (3.0 * stiffness),
        "rise": force * over * span**2 / (9.0 * sqrt(3.0) * stiffness),
        "rise_at": span / sqrt(3.0),
    }


def even_on_overhang(w, *, span, over, stiffness):
    """Even load on the overhang only (reactions and moment seen, deflection memory)."""
    return {
        "first": -w * over**2 / (2.0 * span),
        "second": w * over * (2.0 * span + over) / (2.0 * span),
        "moment": w * over**2 / 2.0,
        "tip": w * over**3 * (4.0 * span + 3.0 * over) / (24.0 * stiffness),
    }


def even_everywhere(w, *, span, over, stiffness):
    """Even load over span and overhang (memory); `tip` down positive."""
    return {
        "first": w * (span**2 - over**2) / (2.0 * span),
        "second": w * (span + over) ** 2 / (2.0 * span),
        "moment_span": w * (span + over) ** 2 * (span - over) ** 2 / (8.0 * span**2),
        "moment_support": w * over**2 / 2.0,
        "tip": w * over * (4.0 * over**2 * span - span**3 + 3.0 * over**3) / (24.0 * stiffness),
    }

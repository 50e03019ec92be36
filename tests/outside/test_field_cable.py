"""The sideways pull against a two-segment elastic cable solved by itself: free, tied to a like line, or held fast."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from rigcheck.studies.field.lines import drawn_out, hung_pull, plain_pull, resting_pull, stiff_pull

COUNT = 150
KINDS = ("hung", "stiff", "resting")


def drawn() -> np.ndarray:
    """Tension, span, offset and stiffness of lines over the trade's range."""
    draw = np.random.default_rng(42)
    tension, span = draw.uniform(60.0, 3000.0, COUNT), draw.uniform(24.0, 140.0, COUNT)
    return np.stack([tension, span, span * draw.uniform(0.004, 0.05, COUNT), draw.uniform(1500.0, 60000.0, COUNT)], -1)


def cable_force(tension: float, span: float, offset: float, stiffness: float, *, ends: str) -> float:
    """Sideways pull that moves the middle by an offset: the far pin's place found by balance along the line.

    The natural length follows from the tension before the pull. The cable's force on the far pin along the chord must
    be what holds it there: the same as before (hung), what two like lines share (stiff), or anything (resting).
    """
    natural = span - tension / stiffness

    def state(chord: float) -> tuple[float, float]:
        half = math.hypot(0.5 * chord, offset)
        pull = stiffness * (2.0 * half - natural)
        return pull * 0.5 * chord / half, 2.0 * pull * offset / half

    def lack(chord: float) -> float:
        """What the chord force of this line and the change of the like one are short of the old tension."""
        like = stiffness * (chord - span) if ends == "stiff" else 0.0
        return state(chord)[0] + like - tension

    if ends == "resting":
        return state(span)[1]
    return state(brentq(lack, 0.5 * span, span + 1.0, xtol=1e-13, rtol=1e-15))[1]


@pytest.mark.parametrize("ends", KINDS)
def test_the_pull_gives_back_the_tension_of_an_elastic_cable(ends):
    values = drawn()
    force = np.array([cable_force(*row, ends=ends) for row in values])
    tension, span, offset, stiffness = values.T
    found = {
        "hung": lambda: hung_pull(force, offset=offset, span=span),
        "stiff": lambda: stiff_pull(force, offset=offset, span=span, stiffness=stiffness),
        "resting": lambda: resting_pull(force, offset=offset, span=span, stiffness=stiffness),
    }[ends]()
    # a hung line is taken as no longer than before; its own extra stretch is of the order of T / (k l) (d/l)^2
    tolerance = 2e-3 if ends == "hung" else 1e-9
    np.testing.assert_allclose(found, tension, rtol=tolerance)


@pytest.mark.parametrize(("ends", "share"), [("hung", 0.0), ("stiff", 0.5), ("resting", 1.0)])
def test_the_error_without_stretch_is_what_the_page_states(ends, share):
    values = drawn()
    values[:, 2] = 0.008 * values[:, 1]
    force = np.array([cable_force(*row, ends=ends) for row in values])
    tension, span, offset, stiffness = values.T
    high = plain_pull(force, offset=offset, span=span) - tension
    stated = share * 2.0 * stiffness * offset**2 / span
    np.testing.assert_allclose(high, stated, rtol=0.01, atol=1e-3 * tension.max())
    if ends == "resting":
        rope = stiffness * span  # AE
        np.testing.assert_allclose(stated, rope * 2.0 * (offset / span) ** 2, rtol=1e-12)


@pytest.mark.parametrize("ends", KINDS)
def test_two_offsets_draw_out_the_stretch(ends):
    values = drawn()
    offsets = [0.006 * values[:, 1], 0.012 * values[:, 1]]
    plain = []
    for offset in offsets:
        values[:, 2] = offset
        force = np.array([cable_force(*row, ends=ends) for row in values])
        plain.append(plain_pull(force, offset=offset, span=values[:, 1]))
    # what is left over is of the fourth order in d/l
    np.testing.assert_allclose(drawn_out(plain, offsets=offsets), values[:, 0], rtol=4e-3)

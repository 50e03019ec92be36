"""Rails that bend unlike each other where they are not parallel: by quadrature, by hand, and without a jump."""

from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.integrate import cumulative_simpson

from rigcheck.statics.beam import Segments, at
from rigcheck.statics.bent_apart import Bent, BentApart, bent_apart
from tests.statics.flared_rails import LENGTH, rails, spacing, stiffness

NODES = np.array([0.0, 14.0, 27.0, 27.0, 40.0, 60.0, 75.0, 90.0, LENGTH])
SPANS = np.diff(NODES)
MOMENT = np.random.default_rng(5).uniform(-1.0, 1.0, (1, len(SPANS), 4)) * np.array([4000.0, 300.0, 20.0, 1.0])
"""Of the left rail, value and derivatives; the right one has it the other way round."""


def bent(moment: np.ndarray = MOMENT) -> BentApart:
    """Bent unlike, with nothing that both do alike."""
    both = np.stack([moment, -moment], axis=-3)
    start, span = (np.broadcast_to(part, both.shape[:-1]) for part in (NODES[:-1], SPANS))
    none = np.zeros((1, 2, len(NODES)))
    found = SimpleNamespace(
        curves=SimpleNamespace(moment=both, start=start, span=span),
        unheld=SimpleNamespace(layout=SimpleNamespace(along=rails())),
    )
    return bent_apart(found, bent=Bent(np.broadcast_to(NODES, none.shape), none, none, none, np.zeros_like(both)))


@cache
def by_quadrature() -> tuple[np.ndarray, np.ndarray]:
    """Rise of the left rail over the mean at the nodes and b chi', from (b^2 chi')' = b M/e, in fine steps."""
    turned = rolled = 0.0
    rise, turn = [0.0], [0.0]
    for start, span, d in zip(NODES[:-1], SPANS, MOMENT[0], strict=True):
        t = np.linspace(0.0, span, 401)
        b = spacing(start) + (spacing(start + span) - spacing(start)) * t / (span or 1.0)
        bend = d[0] + d[1] * t + d[2] * t**2 / 2.0 + d[3] * t**3 / 6.0
        g = turned + cumulative_simpson(b * bend / stiffness(start), x=t, initial=0.0) if span else turned + 0.0 * t
        roll = cumulative_simpson(g / b**2, x=t, initial=0.0)[-1] if span else 0.0
        turned, rolled = g[-1], rolled + roll
        rise.append(b[-1] * rolled)
        turn.append(turned / b[-1])
    return np.array(rise), np.array(turn)


def test_unlike_bending_of_flared_rails_is_that_of_quadrature():
    found = bent().bent
    rise, turn = by_quadrature()
    assert found.sink[0, 0] == pytest.approx(rise, rel=2e-5, abs=2e-5 * np.abs(rise).max())
    assert found.slope[0, 0] == pytest.approx(turn, rel=1e-7, abs=1e-9 * np.abs(turn).max())
    assert found.sink[0, 1] == pytest.approx(-rise, rel=2e-5, abs=2e-5 * np.abs(rise).max())


def test_a_taper_under_a_moment_as_its_spacing_by_hand():
    """M = 100 b over the taper, b' = 12/27: G = int b M/e ds = 100 (b^3 - 21^3)/(3 b' e).

    chi = int G/b^2 ds = 100/(3 b'^2 e) [b^2/2 + 21^3/b - 1.5 x 21^2], the rise b chi; Gauss's points come near.
    """
    moment = np.zeros_like(MOMENT)
    for k, start in enumerate((0.0, 14.0)):
        moment[0, k, :2] = 100.0 * spacing(start), 100.0 * 12.0 / 27.0
    found = bent(moment)
    chi = 100.0 / (3.0 * (12.0 / 27.0) ** 2 * stiffness(5.0)) * (33.0**2 / 2.0 + 21.0**3 / 33.0 - 1.5 * 21.0**2)
    assert found.bent.sink[0, 0, 2] == pytest.approx(33.0 * chi, rel=1e-6)


def test_a_cubic_moment_on_parallel_rails_is_integrated_exactly():
    """M = d_0 + d_1 t + d_2 t2/2 + d_3 t3/6 lifts by (d_0 t2/2 + d_1 t3/6 + d_2 t4/24 + d_3 t5/120)/e."""
    moment = np.zeros_like(MOMENT)
    moment[0, 3] = [5.0, 6.0, -0.5, 0.2]  # 27 to 40 in
    h = 13.0
    exact = (5.0 * h**2 / 2.0 + 6.0 * h**3 / 6.0 - 0.5 * h**4 / 24.0 + 0.2 * h**5 / 120.0) / stiffness(30.0)
    assert bent(moment).bent.sink[0, 0, 4] == pytest.approx(exact, rel=1e-12)


def test_the_shape_of_rails_that_bend_apart_has_no_step_and_no_kink():
    """Every piece ends with the fall and the slope of the next node; slopes of 2 and -1 % at the hinge."""
    slope, fall, derivative = bent().with_heads(np.array([[0.02, -0.01]]))
    shape = Segments(np.broadcast_to(NODES[:-1], (1, 2, len(SPANS))), np.broadcast_to(SPANS, (1, 2, 8)), derivative)
    end = SPANS[:, None]
    long = SPANS > 0.0
    assert at(shape, t=end)[0, :, long, 0] == pytest.approx(-fall[0, :, 1:][:, long].T, rel=1e-9, abs=1e-12)
    # where the rails turn in plan a slope for each inch along is told just beyond the node
    smooth = long & ~np.isin(NODES[1:], (27.0, 75.0, LENGTH))
    turned = at(shape, t=end, order=1)[0, :, smooth, 0]
    assert turned == pytest.approx(slope[0, :, 1:][:, smooth].T, rel=1e-9, abs=1e-12)


def test_rails_that_turn_apart_at_the_hinge_rise_by_the_lever_of_each_place_by_hand():
    """Slopes of 2 and -1 %: mean 0.5 %, half the difference 1.5 %.

    In the first taper b_0 b c = s; in the straight stretch 27 + (s - 27) 21/33, which rises by 21/33 for each inch.
    """
    slope, fall, _ = bent(np.zeros_like(MOMENT)).with_heads(np.array([[0.02, -0.01]]))
    assert -fall[0, :, 1] == pytest.approx([0.02 * 14.0, -0.01 * 14.0], rel=1e-12)
    apart = 0.015 * (27.0 + 13.0 * 21.0 / 33.0)
    assert -fall[0, :, 4] == pytest.approx([0.005 * 40.0 + apart, 0.005 * 40.0 - apart], rel=1e-12)
    assert slope[0, :, 0] == pytest.approx([0.02, -0.01], rel=1e-12)
    assert slope[0, :, 4] == pytest.approx([0.005 + 0.015 * 21.0 / 33.0, 0.005 - 0.015 * 21.0 / 33.0], rel=1e-12)

"""Solid pins in bending and shear, and the bases themselves."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.bases import BASES, FRAME, LIFTING, ULTIMATE, Flexure, allowable, allowable_moment
from rigcheck.strength.connections import pins


def test_three_quarter_pin_by_hand():
    modulus, area = np.pi * 0.75**3 / 32.0, np.pi * 0.75**2 / 4.0
    lifting = pins.pin_strength(0.75, fy=36.0e3, fu=58.0e3, basis=LIFTING)
    assert lifting.moment == pytest.approx(1.25 * 12.0e3 * modulus)
    assert lifting.shear == pytest.approx(36.0e3 / (3.0 * np.sqrt(3.0)) * area)
    frame = pins.pin_strength(0.75, fy=36.0e3, fu=58.0e3, basis=FRAME)
    # Z/S of a solid round is 1.698, held to 1.60
    assert frame.moment == pytest.approx(1.60 * 36.0e3 * modulus / 1.67)
    assert frame.shear == pytest.approx(0.6 * 36.0e3 / 1.67 * area)
    ultimate = pins.pin_strength(0.75, fy=36.0e3, fu=58.0e3, basis=ULTIMATE)
    assert ultimate.moment == pytest.approx(1.60 * 36.0e3 * modulus)


def test_cold_drawn_pin_breaks_before_it_yields_in_shear():
    frame = pins.pin_strength(1.0, fy=54.0e3, fu=64.0e3, basis=FRAME)
    assert frame.shear == pytest.approx(0.563 * 64.0e3 / 2.0 * np.pi / 4.0)


def test_pin_moment_by_hand():
    # P/2 = 500 at 0.125 + 0.0625 + 0.09375
    assert pins.pin_moment(-1000.0, outer=0.25, gap=0.0625, inner=0.375) == pytest.approx(500.0 * 0.28125)


def test_pin_moment_is_that_of_the_spread_pull():
    """Point forces at the outer middles, the pull spread over the inner plate, integrated."""
    outer, gap, inner, force = 0.3, 0.1, 0.8, 2.0
    reach = outer / 2.0 + gap + inner / 2.0
    x = np.linspace(0.0, inner / 2.0, 20001)
    shear = force / 2.0 - force / inner * x  # from the face of the inner plate to its middle
    moment = force / 2.0 * (outer / 2.0 + gap) + np.sum((shear[1:] + shear[:-1]) / 2.0 * np.diff(x))
    assert pins.pin_moment(force, outer=outer, gap=gap, inner=inner) == pytest.approx(moment, rel=1e-6)
    assert reach > 0.0


@given(st.floats(0.1, 3.0), st.floats(1.0, 2.0), st.sampled_from(list(BASES.values())))
def test_bigger_or_stronger_pins_never_hold_less(size, more, basis):
    before = pins.pin_strength(size, fy=36.0e3, fu=58.0e3, basis=basis)
    bigger = pins.pin_strength(size * more, fy=36.0e3, fu=58.0e3, basis=basis)
    stronger = pins.pin_strength(size, fy=36.0e3 * more, fu=58.0e3 * more, basis=basis)
    for name in ("moment", "shear"):
        assert getattr(bigger, name) >= getattr(before, name)
        assert getattr(stronger, name) == pytest.approx(getattr(before, name) * more)
    assert bigger.moment == pytest.approx(before.moment * more**3)


def test_bases_by_their_numbers():
    assert set(BASES) == {"lifting", "frame", "ultimate"}
    assert (FRAME.yielding, FRAME.shear, FRAME.connection_shear) == (1.67, 1.67, 1.50)
    assert (FRAME.rupture, FRAME.weld, FRAME.bearing, FRAME.second_order) == (2.0, 2.0, 2.0, 1.6)
    assert (LIFTING.yielding, LIFTING.second_order) == (3.0, pytest.approx(1.15 * 3.0))
    assert pytest.approx(3.6) == LIFTING.rupture == LIFTING.weld
    assert pytest.approx(0.6 * 3.0 * 3.0**0.5) == LIFTING.shear == LIFTING.connection_shear
    assert pytest.approx(1.8 * 3.0 / 1.25) == LIFTING.bearing
    assert (LIFTING.compact_limit, LIFTING.other_limit, LIFTING.solid_limit) == (1.10, 1.00, 1.25)
    for name in ("yielding", "shear", "connection_shear", "rupture", "weld", "bearing", "second_order"):
        assert getattr(ULTIMATE, name) == 1.0
    assert allowable(300.0, divisor=LIFTING.yielding) == pytest.approx(100.0)


@pytest.mark.parametrize(("compact", "solid", "limit"), [(1.0, 0.0, 1.10), (0.0, 0.0, 1.00), (1.0, 1.0, 1.25)])
def test_shape_limits_of_the_lifting_basis(compact, solid, limit):
    one = np.array(1.0)
    strength = Flexure(nominal=1.5 * one, yield_moment=one, compact=compact * one, solid=solid * one)
    assert allowable_moment(strength, basis=LIFTING) == pytest.approx(limit / 3.0)
    assert allowable_moment(strength, basis=FRAME) == pytest.approx(1.5 / 1.67)
    weak = Flexure(nominal=0.4 * one, yield_moment=one, compact=compact * one, solid=solid * one)
    assert allowable_moment(weak, basis=LIFTING) == pytest.approx(0.4 / 3.0)

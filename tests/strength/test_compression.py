"""Columns and slender walls, beyond the printed examples."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.members import compression

E = 29.0e6


def test_both_branches_of_the_column_curve():
    elastic = compression.euler_stress(np.array([50.0, 150.0]))
    assert elastic == pytest.approx(np.pi**2 * E / np.array([2500.0, 22500.0]))
    stress = compression.column_stress(np.array([50.0, 150.0]), fy=36.0e3)
    assert stress == pytest.approx([0.658 ** (36.0e3 / elastic[0]) * 36.0e3, 0.877 * elastic[1]])


def test_branches_meet_at_the_printed_slenderness():
    edge = 4.71 * np.sqrt(E / 36.0e3)
    low, high = compression.column_stress(np.array([edge * 0.999, edge * 1.001]), fy=36.0e3)
    assert high < low < high * 1.01
    assert 36.0e3 / compression.euler_stress(edge) == pytest.approx(2.25, rel=2e-3)


def test_stocky_and_hopeless_columns():
    assert compression.column_stress(0.0, fy=36.0e3) == pytest.approx(36.0e3, rel=2e-3)
    assert compression.stress_at(0.0, fy=36.0e3) == 0.0
    assert compression.column_stress(1.0e9, fy=36.0e3) < 1e-3


def test_round_walls():
    stress = compression.column_stress(40.0, fy=50.0e3)

    def share(ratio):
        return compression.round_compression(40.0, area=2.0, ratio=ratio, fy=50.0e3) / (2.0 * stress)

    assert share(0.0) == pytest.approx(1.0)
    assert share(0.11 * E / 50.0e3) == pytest.approx(1.0)
    assert share(0.20 * E / 50.0e3) == pytest.approx(0.038 / 0.20 + 2.0 / 3.0)
    assert share(0.90 * E / 50.0e3) == pytest.approx((0.038 / 0.45 + 2.0 / 3.0) / 4.0)


def test_angle_legs():
    stress = compression.column_stress(60.0, fy=36.0e3)
    edge = 0.45 * np.sqrt(E / 36.0e3) * np.sqrt(36.0e3 / stress)
    full = compression.angle_compression(60.0, area=0.5, thickness=0.1, legs=np.array([edge * 0.999, 5.0]), fy=36.0e3)
    assert full == pytest.approx(0.5 * stress)
    ratio = 2.0 * edge
    q = 1.49 * 0.45 * np.sqrt(E / 36.0e3) / ratio * np.sqrt(36.0e3 / stress)
    thin = compression.angle_compression(60.0, area=0.9, thickness=0.1, legs=np.array([ratio, 5.0]), fy=36.0e3)
    assert thin == pytest.approx(stress * (0.9 - (1.0 - (1.0 - 0.22 * q) * q) * ratio * 0.01))


def test_tube_walls_lose_both_sides():
    stress = compression.column_stress(30.0, fy=46.0e3)
    ratio = 60.0
    q = 1.38 * 1.40 * np.sqrt(E / 46.0e3) / ratio * np.sqrt(46.0e3 / stress)
    lost = 2.0 * (1.0 - (1.0 - 0.20 * q) * q) * ratio * 0.05**2
    found = compression.box_compression(30.0, area=0.7, thickness=0.05, walls=np.array([20.0, ratio]), fy=46.0e3)
    assert found == pytest.approx(stress * (0.7 - lost))


def test_moment_amplifier():
    found = compression.moment_amplifier(np.array([-50.0, 0.0, 100.0]), euler=1000.0)
    assert found == pytest.approx([1.0, 1.0, 1.0 / 0.84])
    assert compression.moment_amplifier(100.0, euler=1000.0, ratio=0.6) == 1.0
    assert compression.moment_amplifier(100.0, euler=1000.0, second_order=3.0) == pytest.approx(1.0 / 0.7)
    assert compression.moment_amplifier(np.array([625.0, 2000.0]), euler=1000.0) == pytest.approx([1e6, 1e6])
    assert compression.moment_amplifier(1.0, euler=0.0) == 1e6
    assert compression.SLENDER_LIMIT == 200.0


@given(st.floats(0.0, 400.0), st.floats(0.0, 400.0), st.floats(25e3, 80e3), st.floats(1.0, 2.0))
def test_longer_columns_never_hold_more_and_stronger_never_less(first, second, fy, more):
    short, long = sorted((first, second))
    assert compression.column_stress(long, fy=fy) <= compression.column_stress(short, fy=fy) * (1.0 + 2e-3)
    assert compression.column_stress(short, fy=fy * more) >= compression.column_stress(short, fy=fy) * (1.0 - 2e-3)


@given(st.floats(5.0, 200.0), st.floats(0.02, 0.3), st.floats(1.0, 2.0))
def test_thicker_tubes_never_hold_less(slenderness, wall, more):
    def strength(thickness):
        width = 4.0
        flat = width / thickness - 3.0
        area = 4.0 * thickness * (width - thickness)
        return compression.box_compression(
            slenderness, area=area, thickness=thickness, walls=np.array([flat, flat]), fy=46.0e3
        )

    assert strength(wall * more) >= strength(wall) * (1.0 - 1e-9)


def test_branches_of_the_column_curve_part_at_two_and_a_quarter():
    ratios = np.array([2.249, 2.26])
    found = compression.stress_at(36.0e3 / ratios, fy=36.0e3) / 36.0e3
    assert found == pytest.approx([0.658**2.249, 0.877 / 2.26], rel=1e-6)


def test_an_angle_leg_just_over_its_limit_is_not_counted_over_its_width():
    stress = compression.column_stress(60.0, fy=36.0e3)
    edge = 0.45 * np.sqrt(E / stress)
    legs = np.array([edge * 1.0001, 5.0])
    found = compression.angle_compression(60.0, area=0.5, thickness=0.1, legs=legs, fy=36.0e3)
    assert found == pytest.approx(0.5 * stress, rel=1e-9)

"""Shear and torsion: every branch by hand."""

import numpy as np
import pytest

from rigcheck.strength.members import shear

E = 29.0e6


def test_web_factor_branches():
    edge = np.sqrt(5.0 * E / 46.0e3)
    found = shear.web_factor(np.array([1.099, 1.2, 1.369, 2.0]) * edge, fy=46.0e3, plate_factor=5.0)
    assert found == pytest.approx([1.0, 1.10 / 1.2, 1.10 / 1.369, 1.51 / 4.0])
    over = shear.web_factor(np.array([1.101, 1.371]) * edge, fy=46.0e3, plate_factor=5.0)
    assert over == pytest.approx([1.10 / 1.101, 1.51 / 1.371**2])
    assert shear.web_factor(0.0, fy=46.0e3, plate_factor=5.0) == 1.0


def test_box_and_leg():
    assert shear.box_shear(10.0, thickness=0.116, fy=46.0e3) == pytest.approx(0.6 * 46.0e3 * 2.0 * 10.0 * 0.116**2)
    slender = 2.0 * np.sqrt(5.0 * E / 46.0e3)
    assert shear.box_shear(slender, thickness=0.02, fy=46.0e3) == pytest.approx(
        0.6 * 46.0e3 * 2.0 * slender * 0.02**2 * 1.51 / 4.0
    )
    assert shear.leg_shear(12.0, thickness=0.125, fy=36.0e3) == pytest.approx(0.6 * 36.0e3 * 12.0 * 0.125**2)
    slender = 2.0 * np.sqrt(1.2 * E / 36.0e3)
    assert shear.leg_shear(slender, thickness=0.02, fy=36.0e3) == pytest.approx(
        0.6 * 36.0e3 * slender * 0.02**2 * 1.51 / 4.0
    )
    assert shear.solid_shear(0.5, fy=36.0e3) == pytest.approx(0.6 * 36.0e3 * 0.5)


def test_round_walls():
    tube = {"ratio": 100.0, "fy": 1.0e9, "diameter": 3.0}
    assert shear.round_shear_stress(**tube, length=30.0) == pytest.approx(1.60 * E / (np.sqrt(10.0) * 100.0**1.25))
    assert shear.round_shear_stress(**tube, length=3.0e6) == pytest.approx(0.78 * E / 100.0**1.5)
    assert shear.round_torsion(2.0, **tube, length=30.0) == pytest.approx(
        2.0 * 1.23 * E / (np.sqrt(10.0) * 100.0**1.25)
    )
    assert shear.round_torsion(2.0, **tube, length=3.0e6) == pytest.approx(2.0 * 0.60 * E / 100.0**1.5)
    assert shear.round_torsion(2.0, ratio=0.0, fy=36.0e3, diameter=1.0, length=0.0) == pytest.approx(43.2e3)
    assert shear.round_shear(2.0, ratio=15.0, fy=36.0e3, length=40.0, diameter=2.0) == pytest.approx(21.6e3)


def test_torsion_of_tubes_and_open_shapes():
    root = np.sqrt(E / 46.0e3)
    ratios = np.array([0.0, 2.449, 2.8, 3.069, 4.0]) * root
    found = shear.box_torsion(2.0, ratio=ratios, fy=46.0e3) / 2.0
    yielded = 0.6 * 46.0e3
    expected = [yielded, yielded, yielded * 2.45 / 2.8, yielded * 2.45 / 3.069, 0.458 * np.pi**2 * 46.0e3 / 16.0]
    assert found == pytest.approx(expected)
    joins = shear.box_torsion(1.0, ratio=np.array([2.452, 3.072]) * root, fy=46.0e3)
    assert joins == pytest.approx([yielded * 2.45 / 2.452, 0.458 * np.pi**2 * 46.0e3 / 3.072**2])
    assert shear.open_torsion(0.02, fy=36.0e3) == pytest.approx(432.0)


def test_a_very_short_round_wall_counts_as_a_hundredth_of_its_diameter_long():
    """Stress goes with one over the root of the length: at 4 and at 9 hundredths a half and a third of it."""
    wall = {"ratio": 6000.0, "fy": 1.0e9, "diameter": 50.0}
    short, none, four, nine = (
        float(shear.round_shear_stress(**wall, length=share * 50.0)) for share in (0.01, 0.0, 0.04, 0.09)
    )
    assert none == pytest.approx(short, rel=1e-12)
    assert (four, nine) == pytest.approx((none / 2.0, none / 3.0), rel=1e-9)

"""Where hanger, line and perch stand: rotation as complex numbers, a figure for the head, angles of the line."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.statics.geometry import SIDE, pose
from tests.statics.random_rigs import layout_of, random_layout

SEEDS = st.integers(0, 2**31)
COUNT = 40


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.floats(-0.4, 1.6))
def test_pose_is_a_turn_in_the_complex_plane(seed, fold):
    """The hanger, as x + i z, is s + i (n - n_h) turned by fold less pitch; the line is what is left to the perch."""
    layout = random_layout(COUNT, seed=seed)
    at = pose(layout, fold=np.full((COUNT, 1), fold))
    turn = np.exp(1j * (fold - layout.pitch))
    hanger = (layout.hanger_s + 1j * (layout.hanger_n - layout.hinge_height)) * turn
    line = layout.perch_x + 1j * layout.perch_z - hanger
    across = (layout.perch_spacing - layout.hanger_spacing) / 2.0
    length = np.sqrt(np.abs(line) ** 2 + across**2)
    np.testing.assert_allclose(at.hanger_x[:, 0] + 1j * at.hanger_z[:, 0], hanger, rtol=1e-12)
    np.testing.assert_allclose(at.line_length[:, 0], length, rtol=1e-12)
    np.testing.assert_allclose(2.0 * at.hanger_y[:, 0], layout.hanger_spacing, rtol=1e-12)
    np.testing.assert_allclose(at.uy[:, 0] * length, across, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose((at.u_s + 1j * at.u_n)[:, 0] * turn * length, line, rtol=1e-12)
    # lever arm: imaginary part of the conjugate of one times the other
    np.testing.assert_allclose(at.arm[:, 0] * length, (np.conj(hanger) * line).imag, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(at.radius[:, 0], np.abs(hanger), rtol=1e-12)


def test_a_figure_for_the_head():
    """Level box, hanger at hinge level 40 in out, perch plumb above the hinge at 40 in: arm 40 sin 45 degrees."""
    layout = layout_of(
        pitch=0.0, hinge_height=0.0, hanger_n=0.0, hanger_s=40.0, perch_x=0.0, perch_z=40.0, perch_spacing=29.0
    )
    at = pose(layout, fold=np.zeros(1))
    assert (at.ux[0], at.uy[0], at.uz[0]) == pytest.approx((-np.sqrt(0.5), 0.0, np.sqrt(0.5)))
    assert at.arm[0] == pytest.approx(28.2843, abs=1e-4)
    assert at.line_angle[0] == pytest.approx(np.pi / 4.0)
    assert at.splay[0] == 0.0


def test_angles_of_plumb_level_and_splayed_lines():
    plumb = layout_of(pitch=0.0, hinge_height=0.0, hanger_n=0.0, perch_x=71.0, perch_z=55.0, perch_spacing=29.0)
    assert pose(plumb, fold=np.zeros(1)).line_angle[0] == pytest.approx(np.pi / 2.0)
    under = layout_of(pitch=0.0, hinge_height=0.0, hanger_n=0.0, perch_x=71.0, perch_z=-55.0, perch_spacing=29.0)
    assert pose(under, fold=np.zeros(1)).line_angle[0] == pytest.approx(-np.pi / 2.0)
    # 20 in back and 20 in out on either side: 45 degrees seen from above, whatever the height
    wide = layout_of(pitch=0.0, hinge_height=0.0, hanger_n=0.0, perch_x=51.0, perch_z=30.0, perch_spacing=69.0)
    at = pose(wide, fold=np.zeros(1))
    assert at.splay[0] == pytest.approx(np.pi / 4.0)
    assert at.line_angle[0] == pytest.approx(np.arctan(30.0 / np.hypot(20.0, 20.0)))


def test_left_is_where_y_is_positive():
    assert SIDE.tolist() == [1.0, -1.0]


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_line_that_rounding_makes_more_than_plumb_is_plumb(way):
    layout = layout_of(pitch=0.0, hinge_height=0.0, hanger_n=0.0, perch_x=71.0, perch_z=55.0, perch_spacing=29.0)
    beyond = replace(pose(layout, fold=np.zeros(1)), uz=np.array([way * np.nextafter(1.0, 2.0)]))
    assert beyond.line_angle[0] == pytest.approx(way * np.pi / 2.0)

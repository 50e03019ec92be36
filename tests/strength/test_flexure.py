"""Bending strength, beyond the printed examples: every branch by hand, joins between branches, limits."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.members import flexure
from rigcheck.tables import geometry

E = 29.0e6
BOX = flexure.Bend(
    modulus=2.0,
    plastic=2.4,
    depth=4.0,
    width=2.0,
    thickness=0.1,
    web_ratio=37.0,
    flange_ratio=17.0,
    area=1.1,
    radius=0.8,
    torsion=2.0,
    fy=46.0e3,
)
ROOT = np.sqrt(E / 46.0e3)


def test_compact_tube():
    found = flexure.box_flexure(BOX)
    assert found.nominal == pytest.approx(46.0e3 * 2.4)
    assert (found.compact, found.solid, found.yield_moment) == (1.0, 0.0, pytest.approx(92.0e3))


@pytest.mark.parametrize(("web", "flange"), [(2.43, 0.5), (1.0, 1.125), (6.0, 1.0), (2.0, 1.5)])
def test_marks_of_a_tube_that_is_not_compact(web, flange):
    assert flexure.box_flexure(replace(BOX, web_ratio=web * ROOT, flange_ratio=flange * ROOT)).compact == 0.0


def test_webs():
    plastic, first = 46.0e3 * 2.4, 92.0e3
    webs = np.array([2.42, 4.0, 5.699, 11.4, 2.44, 5.75]) * ROOT
    found = flexure.box_flexure(replace(BOX, web_ratio=webs)).nominal
    between = plastic - (plastic - first) * (0.305 * 4.0 - 0.738)
    assert found[:4] == pytest.approx([plastic, between, first, first / 4.0], rel=1e-3)
    just_over = plastic - (plastic - first) * (0.305 * 2.44 - 0.738)
    assert found[[1, 4, 5]] == pytest.approx([between, just_over, first * (5.7 / 5.75) ** 2])


def test_a_flange_just_over_its_slender_limit():
    ratio = 1.41 * ROOT
    lost = (ratio - 1.92 * ROOT * (1.0 - 0.38 / 1.41)) * 0.1
    modulus = 2.0 - lost * 0.1 * 3.9**2 / 4.0
    assert flexure.box_flexure(replace(BOX, flange_ratio=ratio)).nominal == pytest.approx(46.0e3 * modulus)


def test_just_deeper_than_wide_can_roll():
    almost = replace(BOX, width=BOX.depth / 1.005, length=1.0e4)
    assert flexure.box_flexure(almost).nominal < 0.5 * 46.0e3 * 2.4
    bar = replace(almost, plastic=3.0, length=1.0e5)
    assert flexure.bar_flexure(bar).solid == 0.0
    assert flexure.bar_flexure(bar).nominal < 0.9 * 1.5 * 92.0e3


def test_a_tube_that_rolls_over():
    short, long = flexure.box_lateral_lengths(BOX)
    assert short == pytest.approx(0.13 * E * 0.8 * np.sqrt(2.2) / (46.0e3 * 2.4))
    assert long == pytest.approx(2.0 * E * 0.8 * np.sqrt(2.2) / (0.7 * 92.0e3))
    plastic = 46.0e3 * 2.4
    lengths = np.array([short, (short + long) / 2.0, 2.0 * long])
    found = flexure.box_flexure(replace(BOX, length=lengths)).nominal
    middle = plastic - (plastic - 0.7 * 92.0e3) / 2.0
    assert found == pytest.approx([plastic, middle, 2.0 * E * np.sqrt(2.2) / (2.0 * long / 0.8)])
    eased = flexure.box_flexure(replace(BOX, length=lengths, gradient=1.1)).nominal
    assert eased == pytest.approx([plastic, 1.1 * middle, 1.1 * found[2]])
    assert flexure.box_flexure(replace(BOX, length=1.0e4, width=4.0)).nominal == pytest.approx(plastic)


def test_round_tubes():
    fy = 42.0e3
    ratios = np.array([0.0699, 0.2, 0.4]) * E / fy
    found = flexure.round_flexure(replace(BOX, web_ratio=ratios, fy=fy, plastic=2.7))
    noncompact = (0.021 / 0.2 + 1.0) * fy * 2.0
    assert found.nominal == pytest.approx([fy * 2.7, noncompact, 0.33 / 0.4 * fy * 2.0])
    assert found.compact.tolist() == [1.0, 0.0, 0.0]
    edge = flexure.round_flexure(replace(BOX, web_ratio=0.0701 * E / fy, fy=fy, plastic=2.6))
    assert edge.compact == 0.0
    assert edge.nominal == pytest.approx((0.021 / 0.0701 + 1.0) * fy * 2.0)
    over = flexure.round_flexure(replace(BOX, web_ratio=0.312 * E / fy, fy=fy)).nominal
    assert over == pytest.approx(0.33 / 0.312 * fy * 2.0)
    high = flexure.round_flexure(replace(BOX, web_ratio=0.309 * E / fy, fy=fy)).nominal
    assert high == pytest.approx((0.021 / 0.309 + 1.0) * fy * 2.0)


def test_solid_bars():
    bar = replace(BOX, modulus=1.0, plastic=1.9, depth=2.0, width=0.5, fy=36.0e3)
    unit = E / 36.0e3 * 0.25 / 2.0  # length at which Lb d/t^2 = E/Fy
    lengths = np.array([0.0, 0.0799, 0.0806, 1.0, 1.8999, 3.0]) * unit
    found = flexure.bar_flexure(replace(bar, length=lengths))
    assert found.nominal / 36.0e3 == pytest.approx(
        [1.5, 1.5, 1.52 - 0.274 * 0.0806, 1.52 - 0.274, 1.52 - 0.274 * 1.8999, 1.9 / 3.0]
    )
    assert np.all(found.solid == 0.0) and np.all(found.compact == 1.0)
    joins = flexure.bar_flexure(replace(bar, length=np.array([0.081, 1.901]) * unit, plastic=1.49)).nominal
    assert joins / 36.0e3 == pytest.approx([1.49, 1.9 / 1.901])
    eased = flexure.bar_flexure(replace(bar, length=2.5 * unit, gradient=1.2)).nominal
    assert eased / 36.0e3 == pytest.approx(1.2 * 1.9 / 2.5)
    flat = flexure.bar_flexure(replace(bar, depth=0.5, width=2.0, length=1.0e5))
    assert flat.nominal / 36.0e3 == pytest.approx(1.5) and flat.solid == 1.0
    rod = flexure.bar_flexure(replace(bar, length=1.0e5), solid_round=True)
    assert rod.nominal / 36.0e3 == pytest.approx(1.6) and rod.solid == 1.0


ANGLE = replace(BOX, modulus=1.0, depth=3.0, width=3.0, thickness=0.25, web_ratio=12.0, flange_ratio=12.0, fy=36.0e3)


def test_angles():
    own = 0.8 * 36.0e3
    # stocky and short: 1.5 My is over Fy S
    assert flexure.angle_flexure(ANGLE).nominal == pytest.approx(36.0e3)
    # very long: 0.58 E b^4 t/Lb^2 (sqrt(1 + 0.88 (Lb t/b^2)^2) - 1), then (0.92 - 0.17 Mcr/My) Mcr
    thin = replace(ANGLE, thickness=0.02, length=400.0)
    critical = 0.58 * E * 81.0 * 0.02 / 400.0**2 * (np.sqrt(1.0 + 0.88 * (400.0 * 0.02 / 9.0) ** 2) - 1.0)
    assert critical < own
    assert flexure.angle_flexure(thin).nominal == pytest.approx((0.92 - 0.17 * critical / own) * critical)
    middle = replace(ANGLE, length=100.0)
    critical = 0.58 * E * 81.0 * 0.25 / 100.0**2 * (np.sqrt(1.0 + 0.88 * (25.0 / 9.0) ** 2) - 1.0)
    assert own < critical < 3.0 * own
    assert flexure.angle_flexure(middle).nominal == pytest.approx((1.92 - 1.17 * np.sqrt(own / critical)) * own)


def test_thin_angle_legs():
    own, root = 0.8 * 36.0e3, np.sqrt(E / 36.0e3)
    ratios = np.array([0.539, 0.8, 0.909, 1.2]) * root
    found = flexure.angle_flexure(replace(ANGLE, web_ratio=ratios))
    assert found.nominal == pytest.approx(
        [36.0e3, (2.43 - 1.72 * 0.8) * own, (2.43 - 1.72 * 0.909) * own, 0.71 / 1.44 * own]
    )
    assert found.compact.tolist() == [1.0, 0.0, 0.0, 0.0]
    just_over = flexure.angle_flexure(replace(ANGLE, web_ratio=np.array([0.542, 0.912]) * root))
    assert just_over.compact.tolist() == [0.0, 0.0]
    assert just_over.nominal == pytest.approx([36.0e3, 0.71 / 0.912**2 * own])
    assert flexure.angle_flexure(replace(ANGLE, flange_ratio=1.2 * root)).nominal == pytest.approx(found.nominal[3])


def _tube(depth, *, width, wall, fy, length):
    shape = geometry.rectangular_tube(depth, width=width, wall=wall)
    return flexure.Bend(
        modulus=shape.sx,
        plastic=shape.zx,
        depth=depth,
        width=width,
        thickness=wall,
        web_ratio=depth / wall - 3.0,
        flange_ratio=width / wall - 3.0,
        area=shape.area,
        radius=(shape.iy / shape.area) ** 0.5,
        torsion=shape.j,
        fy=fy,
        length=length,
    )


@given(st.floats(1.0, 6.0), st.floats(1.0, 6.0), st.floats(0.01, 0.15), st.floats(1.0, 1.6), st.floats(0.0, 300.0))
def test_thicker_tubes_never_hold_less(depth, width, wall, more, length):
    before = flexure.box_flexure(_tube(depth, width=width, wall=wall, fy=46.0e3, length=length)).nominal
    after = flexure.box_flexure(_tube(depth, width=width, wall=wall * more, fy=46.0e3, length=length)).nominal
    assert after >= before * (1.0 - 1e-9)


@given(st.floats(1.0, 6.0), st.floats(0.5, 6.0), st.floats(0.01, 0.12), st.floats(1.0, 2.0), st.floats(0.0, 300.0))
def test_stronger_steel_never_holds_less(depth, width, wall, more, length):
    before = flexure.box_flexure(_tube(depth, width=width, wall=wall, fy=33.0e3, length=length)).nominal
    after = flexure.box_flexure(_tube(depth, width=width, wall=wall, fy=33.0e3 * more, length=length)).nominal
    assert after >= before * (1.0 - 1e-9)


@given(st.floats(1.0, 200.0), st.floats(1.0, 3.0))
def test_longer_never_holds_more(length, more):
    for formula, bend in (
        (flexure.box_flexure, BOX),
        (flexure.bar_flexure, replace(BOX, plastic=3.0, width=0.2)),
        (flexure.angle_flexure, replace(ANGLE, thickness=0.05)),
    ):
        before = formula(replace(bend, length=length)).nominal
        assert formula(replace(bend, length=length * more)).nominal <= before * (1.0 + 1e-9)

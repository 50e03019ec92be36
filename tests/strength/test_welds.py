"""Fillet welds: sizes, strength per inch, and groups against integration along the weld."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.arrays.guarded import UNLIMITED
from rigcheck.strength.bases import FRAME, LIFTING, ULTIMATE
from rigcheck.strength.connections import weld_lines, welds

JOINT = welds.Joint(leg=0.25, length=6.0, electrode=70.0e3, thickness=0.375, fy=36.0e3, fu=58.0e3)


def test_weld_metal_or_base_metal():
    metal = 0.6 * 70.0e3 * 0.25 / np.sqrt(2.0)
    assert welds.fillet_allowable(JOINT, basis=FRAME) == pytest.approx(metal / 2.0)
    assert welds.fillet_allowable(JOINT, basis=LIFTING) == pytest.approx(metal / 3.6)
    assert welds.fillet_allowable(JOINT, basis=ULTIMATE, confidence=0.7) == pytest.approx(0.7 * metal)
    thin = replace(JOINT, thickness=0.1)
    # A36: shear yield 0.60 x 36 / 1.50 = 14.4 ksi is under shear rupture 0.60 x 58 / 2.00 = 17.4 ksi
    assert welds.fillet_allowable(thin, basis=FRAME) == pytest.approx(14.4e3 * 0.1)
    assert welds.fillet_allowable(replace(thin, faces=2.0), basis=FRAME) == pytest.approx(14.4e3 * 0.05)
    # lifting: Fy/(Nd sqrt 3) = 36 / 5.1962 = 6.928 ksi, rupture 34.8 / 3.60 = 9.667 ksi
    assert welds.fillet_allowable(thin, basis=LIFTING) == pytest.approx(6928.2 * 0.1, rel=1e-5)
    # strength: yield 21.6 ksi, rupture 34.8 ksi
    assert welds.fillet_allowable(thin, basis=ULTIMATE) == pytest.approx(21.6e3 * 0.1)
    short = replace(JOINT, length=0.8)
    assert welds.fillet_allowable(short, basis=FRAME) == pytest.approx(metal / 2.0 * 0.8)


def test_base_metal_ruptures_first_where_it_hardly_hardens():
    # Fy 50, Fu 58: frame yield 0.6 x 50 / 1.5 = 20.0, rupture 0.6 x 58 / 2 = 17.4 ksi
    thin = replace(JOINT, thickness=0.1, fy=50.0e3)
    assert welds.fillet_allowable(thin, basis=FRAME) == pytest.approx(17.4e3 * 0.1)


def test_direction_factor():
    angles = np.deg2rad([0.0, 30.0, 90.0, -90.0])
    assert welds.direction_factor(angles) == pytest.approx([1.0, 1.0 + 0.5 * 0.5**1.5, 1.5, 1.5])


def test_sizes():
    assert welds.smallest_leg(np.array([0.05, 0.25, 0.251, 0.5, 0.501, 0.75, 0.751])) == pytest.approx(
        [0.125, 0.125, 0.1875, 0.1875, 0.25, 0.25, 0.3125]
    )


def test_confidence_is_in_order():
    assert welds.CONFIDENCE == {"tested": 1.00, "shop": 0.85, "field": 0.70}


def _points(name, *, width, depth, count=20000):
    """Places and lengths of short pieces of weld, straight from the drawing of the group."""
    along = (np.arange(count) + 0.5) / count
    upright = (np.zeros(count), along * depth, np.full(count, depth / count))
    level = (along * width, np.zeros(count), np.full(count, width / count))
    far_upright = (upright[0] + width, upright[1], upright[2])
    high_level = (level[0], level[1] + depth, level[2])
    angle = along * 2.0 * np.pi
    circle = (depth / 2.0 * np.cos(angle), depth / 2.0 * np.sin(angle), np.full(count, np.pi * depth / count))
    groups = {
        "one": [upright],
        "verticals": [upright, far_upright],
        "horizontals": [level, high_level],
        "channel": [upright, level, high_level],
        "rectangle": [upright, far_upright, level, high_level],
        "ring": [circle],
    }
    return (np.concatenate(part) for part in zip(*groups[name], strict=True))


def _group(name, *, width, depth):
    if name == "ring":
        return weld_lines.ring(depth)
    maker = {
        "verticals": weld_lines.two_verticals,
        "channel": weld_lines.channel,
        "rectangle": weld_lines.rectangle,
    }[name]
    return maker(width, depth=depth)


NAMES = ["verticals", "channel", "rectangle", "ring"]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("width", "depth"), [(2.0, 3.0), (0.375, 2.5), (5.0, 1.0)])
def test_group_against_integration(name, width, depth):
    x, y, piece = _points(name, width=width, depth=depth)
    length = piece.sum()
    x, y = x - (x * piece).sum() / length, y - (y * piece).sum() / length
    group = _group(name, width=width, depth=depth)
    assert group.length == pytest.approx(length, rel=1e-9)
    assert group.ix == pytest.approx((y**2 * piece).sum(), rel=1e-6)
    assert group.iy == pytest.approx((x**2 * piece).sum(), rel=1e-6, abs=1e-12)
    assert group.ip == pytest.approx(((x**2 + y**2) * piece).sum(), rel=1e-6)
    assert group.sx == pytest.approx(group.ix / np.abs(y).max(), rel=1e-3)
    load = weld_lines.WeldLoad(fx=90.0, fy=-40.0, fz=65.0, mx=120.0, my=0.0 if name == "one" else -70.0, mz=55.0)
    across = load.fx / length - load.mz * y / group.ip
    up = load.fy / length + load.mz * x / group.ip
    bent = 0.0 if name == "one" else load.my * x / group.iy
    out = load.fz / length + load.mx * y / group.ix - bent
    true = np.sqrt(across**2 + up**2 + out**2).max()
    peak = weld_lines.peak_force(group, load=load)
    assert true * (1.0 - 1e-9) <= peak <= true * (1.01 if name == "ring" else 1.0 + 1e-3)


@pytest.mark.parametrize("turn", [1.0, -1.0])
def test_either_end_of_a_line_may_be_the_worst(turn):
    load = weld_lines.WeldLoad(fz=60.0, mx=90.0 * turn)
    two = weld_lines.two_verticals(0.0, depth=3.0)
    assert weld_lines.peak_force(two, load=load) == pytest.approx(10.0 + 30.0)


@pytest.mark.parametrize("name", NAMES)
def test_forces_along_the_weld_add_up_to_the_load(name):
    """The signs of the vector sum: its pieces give back force and moment."""
    x, y, piece = _points(name, width=2.0, depth=3.0)
    x, y = x - np.average(x, weights=piece), y - np.average(y, weights=piece)
    group = _group(name, width=2.0, depth=3.0)
    across = 90.0 / group.length - 55.0 * y / group.ip
    up = -40.0 / group.length + 55.0 * x / group.ip
    assert (across * piece).sum() == pytest.approx(90.0)
    assert ((x * up - y * across) * piece).sum() == pytest.approx(55.0, rel=1e-6)


@given(st.floats(0.5, 8.0), st.floats(0.5, 8.0))
def test_rectangle_closed_forms(width, depth):
    group = weld_lines.rectangle(width, depth=depth)
    assert group.sx == pytest.approx(width * depth + depth**2 / 3.0)
    assert group.sy == pytest.approx(width * depth + width**2 / 3.0)
    assert group.ip == pytest.approx((width + depth) ** 3 / 6.0)


def test_post_base_by_hand():
    # 3 in square, all round: S = 9 + 3 = 12 in2, L = 12 in; M = 30.8 kip*in
    group = weld_lines.rectangle(3.0, depth=3.0)
    peak = weld_lines.peak_force(group, load=weld_lines.WeldLoad(fx=770.0, fz=-200.0, mx=30.8e3))
    assert peak == pytest.approx(np.hypot(770.0 / 12.0, 30.8e3 / 12.0 + 200.0 / 12.0))


def test_ring_is_never_low_and_at_most_one_percent_high():
    group = weld_lines.ring(2.0)
    for turn in np.linspace(0.0, np.pi / 6.0, 7):
        load = weld_lines.WeldLoad(mx=100.0 * np.cos(turn), my=100.0 * np.sin(turn))
        peak = weld_lines.peak_force(group, load=load)
        assert 100.0 / group.sx <= peak * (1.0 + 1e-12)
        assert peak <= 1.0087 * 100.0 / group.sx
    assert group.x.shape == (24,)
    assert (group.x.sum(), group.y.sum()) == (pytest.approx(0.0, abs=1e-12), pytest.approx(0.0, abs=1e-12))


def test_what_a_weld_cannot_take_reads_as_unlimited():
    line = weld_lines.two_verticals(0.0, depth=3.0)
    assert weld_lines.peak_force(line, load=weld_lines.WeldLoad(my=1.0)) == UNLIMITED
    none = weld_lines.rectangle(0.0, depth=0.0)
    for name in ("fx", "fy", "fz", "mx", "my", "mz"):
        assert weld_lines.peak_force(none, load=weld_lines.WeldLoad(**{name: -1.0})) == UNLIMITED
    assert weld_lines.peak_force(none, load=weld_lines.WeldLoad()) == 0.0


LOADS = st.builds(weld_lines.WeldLoad, *[st.floats(-1e4, 1e4)] * 6)


@given(LOADS, st.floats(0.5, 6.0), st.floats(0.5, 6.0), st.floats(1.0, 2.0))
def test_longer_welds_never_carry_more_per_inch(load, width, depth, more):
    for maker in (weld_lines.rectangle, weld_lines.two_verticals):
        before = weld_lines.peak_force(maker(width, depth=depth), load=load)
        both = weld_lines.peak_force(maker(width * more, depth=depth * more), load=load)
        assert both <= before * (1.0 + 1e-9)


@given(st.floats(0.06, 0.5), st.floats(0.5, 8.0), st.floats(0.05, 0.5), st.floats(1.0, 2.0))
def test_more_weld_never_holds_less_per_inch(leg, length, thickness, more):
    joint = welds.Joint(leg=leg, length=length, electrode=70.0e3, thickness=thickness, fy=36.0e3, fu=58.0e3)
    before = welds.fillet_allowable(joint, basis=LIFTING)
    for name in ("leg", "length", "electrode", "thickness", "fy", "fu"):
        after = welds.fillet_allowable(replace(joint, **{name: getattr(joint, name) * more}), basis=LIFTING)
        assert after >= before * (1.0 - 1e-12)


def test_batches_broadcast():
    group = weld_lines.rectangle(np.array([[2.0], [3.0]]), depth=np.array([2.0, 3.0, 4.0]))
    load = weld_lines.WeldLoad(fx=np.array([100.0, 200.0, 300.0]))
    peak = weld_lines.peak_force(group, load=load)
    assert peak.shape == (2, 3)
    assert peak[1, 2] == weld_lines.peak_force(weld_lines.rectangle(3.0, depth=4.0), load=weld_lines.WeldLoad(300.0))

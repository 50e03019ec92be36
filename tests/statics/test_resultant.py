"""Loads as one force and one moment: strips by Gauss points, couples of the rails by hand."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.loads.pieces import Lump, Push, Row, Strip, stack
from rigcheck.statics.geometry import pose
from rigcheck.statics.resultant import resultant, spread
from tests.statics.random_rigs import hang, layout_of, section_of

SEEDS = st.integers(0, 2**31)
NODES, WEIGHTS = np.polynomial.legendre.leggauss(3)


def drawn(seed: int) -> tuple[list[Strip], list[Lump], list[Push]]:
    draw = np.random.default_rng(seed).uniform
    strips = [
        Strip(
            start=start, end=start + draw(3.0, 40.0), w_start=draw(0.0, 12.0), w_end=draw(0.0, 12.0),
            n_start=draw(-1.0, 6.0), n_end=draw(-1.0, 6.0), y=draw(-9.0, 9.0),
        )
        for start in (0.0, 17.0, 60.0)
    ]  # fmt: skip
    lumps = [Lump(weight=draw(1.0, 200.0), s=draw(0.0, 100.0), y=draw(-13.0, 13.0), n=draw(-1.0, 8.0)) for _ in "ab"]
    pushes = [
        Push(fx=draw(-50.0, 50.0), fy=draw(-50.0, 50.0), fz=draw(-50.0, 50.0), s=draw(0.0, 100.0),
             y=draw(-13.0, 13.0), n=draw(-1.0, 8.0))
    ]  # fmt: skip
    return strips, lumps, pushes


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.floats(-0.3, 1.4))
def test_force_and_moment_are_those_of_every_gauss_point(seed, fold):
    strips, lumps, pushes = drawn(seed)
    gravity = np.random.default_rng(seed + 1).uniform([-0.4, -0.4, -2.0], [0.4, 0.4, -0.6])
    layout = layout_of()
    row = Row(state="running", strips=strips, lumps=lumps, pushes=pushes, gravity=tuple(gravity), fold=fold)
    loads = stack([row], batch=())
    found = resultant(loads, layout=layout, pose=pose(layout, fold=loads.fold))
    angle = fold - float(layout.pitch)
    along, square = np.array([np.cos(angle), 0.0, np.sin(angle)]), np.array([-np.sin(angle), 0.0, np.cos(angle)])
    weights, places = [], []
    for one in strips:
        for node, share in zip(0.5 + 0.5 * NODES, 0.5 * WEIGHTS, strict=True):
            weights.append((one.w_start + (one.w_end - one.w_start) * node) * (one.end - one.start) * share)
            n = one.n_start + (one.n_end - one.n_start) * node
            places.append((one.start + (one.end - one.start) * node, one.y, n))
    weights += [one.weight for one in lumps]
    places += [(one.s, one.y, one.n) for one in lumps]
    mass, at = np.array(weights), np.array(places)

    def points(s, y, n):
        return s * along + (n - 0.5) * square + np.array([0.0, y, 0.0])  # hinge half an inch over the floor

    force = mass.sum() * gravity
    moment = sum(np.cross(points(*place), weight * gravity) for weight, place in zip(mass, at, strict=True))
    for one in pushes:
        shove = np.array([one.fx, one.fy, one.fz])
        force = force + shove
        moment = moment + np.cross(points(one.s, one.y, one.n), shove)
    assert found.weight[0] == pytest.approx(mass.sum(), rel=1e-12)
    assert found.center[0] == pytest.approx(mass @ at / mass.sum(), rel=1e-10, abs=1e-10)
    assert found.force[0] == pytest.approx(force, rel=1e-12, abs=1e-9)
    assert found.moment[0] == pytest.approx(moment, rel=1e-10, abs=1e-7)


def test_triangle_of_gravel_by_hand():
    """12 lb/in falling to nothing over 30 in: 180 lb, a third along, two thirds of 6 in up."""
    strip = Strip(start=10.0, end=40.0, w_start=12.0, w_end=0.0, n_start=6.0, n_end=0.0)
    found = spread(stack([Row(state="empty", strips=[strip])], batch=()))
    assert found.weight[0, 0] == pytest.approx(180.0)
    assert found.moment_s[0, 0] == pytest.approx(180.0 * 20.0)
    assert found.centroid_n[0, 0] == pytest.approx(4.0)


def test_nothing_weighs_nothing_and_lies_nowhere():
    layout = layout_of()
    strip = Strip(start=10.0, end=40.0, w_start=0.0, w_end=0.0, n_start=6.0, n_end=2.0)
    bare = hang(layout, [Row(state="empty", strips=[strip])], section=section_of())
    assert bare.resultant.weight[0] == 0.0
    assert bare.resultant.center[0].tolist() == [0.0, 0.0, 0.0]
    assert not bare.balance.tension[0].any()


@pytest.mark.parametrize(("y", "expected"), [(13.0, 1.0), (0.0, 0.0), (-13.0, -1.0), (6.5, 0.5), (20.0, 20.0 / 13.0)])
def test_rails_share_a_weight_by_the_lever_rule(y, expected):
    """Rails 26 in apart: what stands on the left one is all its own, what stands outside it lifts the other."""
    layout = layout_of(pitch=0.0)
    bare = hang(layout, [Row(state="empty", lumps=[Lump(weight=150.0, s=60.0, y=y, n=0.5)])], section=section_of())
    assert bare.resultant.rail_difference[0] == pytest.approx(expected * 150.0 * 60.0, abs=1e-9)


def test_a_side_push_over_the_floor_loads_one_rail_and_lifts_the_other():
    """40 lb to the left at 6.5 in over the floor is a couple of 260 lb*in: 10 lb down on the left rail, 10 lb up."""
    layout = layout_of(pitch=0.0)
    push = Push(fy=40.0, s=60.0, n=6.5)
    bare = hang(layout, [Row(state="empty", pushes=[push])], section=section_of())
    assert bare.resultant.rail_difference[0] == pytest.approx(20.0 * 60.0)

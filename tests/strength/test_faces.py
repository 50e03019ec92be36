"""Tube faces: limits of validity at their edges, and which way each size moves the strength."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.bases import FRAME, LIFTING, ULTIMATE
from rigcheck.strength.connections.faces import Face, Foot, face_strength, sound_yield

FACE = Face(width=4.0, depth=4.0, wall=0.116, fy=46.0e3, fu=58.0e3)
FOOT = Foot(length=3.0, breadth=0.5)


def found(face=FACE, foot=FOOT, basis=ULTIMATE):
    return face_strength(face, foot=foot, basis=basis)


def test_divisors_of_the_bases():
    assert found(basis=FRAME).pull == pytest.approx(found().pull / 1.50)
    assert found(basis=LIFTING).pull == pytest.approx(found().pull / 3.0)
    pipe = replace(FACE, round=True)
    assert found(pipe, basis=FRAME).pull == pytest.approx(found(pipe).pull / 1.67)
    assert found(pipe, basis=LIFTING).pull == pytest.approx(found(pipe).pull / 3.0)


@pytest.mark.parametrize(
    ("round_one", "foot", "limit"),
    [(False, FOOT, 40.0), (False, Foot(length=0.5, breadth=2.5), 35.0), (True, FOOT, 50.0)],
)
def test_past_the_slenderness_of_the_clause_the_face_counts_in_proportion(round_one, foot, limit):
    """Wall just inside, just outside, and half as thick as the limit: 40 along, 35 across, 50 for a round tube."""
    edge = replace(FACE, wall=4.0 / limit, round=round_one)
    inside, past = (
        found(replace(edge, wall=edge.wall * 1.0001), foot),
        found(replace(edge, wall=edge.wall * 0.9999), foot),
    )
    assert (inside.inside, past.inside) == (1.0, 0.0)
    assert past.pull == pytest.approx(inside.pull, rel=1e-3)
    half = found(replace(edge, wall=0.5 * edge.wall), foot)
    assert half.inside == 0.0
    assert half.pull <= 0.125 * inside.pull * 1.001 or foot is not FOOT  # t^2 for the metal and t for the limit


def test_the_thin_post_that_passed():
    """Post of tube 8x8x14ga, B/t over 100: under a half of what the clause would say, and told to be outside it."""
    thin = Face(width=8.0, depth=8.0, wall=0.0747, fy=46.0e3, fu=58.0e3)
    by_clause = 46.0e3 * 0.0747**2 / 0.9375 * (0.75 + 4.0 * np.sqrt(0.9375))
    assert found(thin).pull == pytest.approx(by_clause * 40.0 * 0.0747 / 8.0)
    assert found(thin).inside == 0.0


def test_yield_stress_that_counts():
    assert sound_yield(46.0e3, fu=58.0e3) == 46.0e3
    assert sound_yield(60.0e3, fu=80.0e3) == 52.0e3
    assert sound_yield(50.0e3, fu=55.0e3) == pytest.approx(44.0e3)
    assert found(replace(FACE, fy=60.0e3, fu=80.0e3)).inside == 0.0
    for one in (FACE, replace(FACE, round=True)):
        assert found(replace(one, fy=50.0e3, fu=62.0e3)).inside == 1.0  # A500 grade C is named as in
        assert found(replace(one, fy=50.0e3, fu=61.6e3)).inside == 0.0
        assert found(replace(one, fy=51.9e3, fu=70.0e3)).inside == 1.0
        assert found(replace(one, fy=52.1e3, fu=70.0e3)).inside == 0.0


def test_an_open_end_halves_the_fans_and_a_tube_at_its_stress_has_none():
    length_part = 46.0e3 * 0.116**2 * 2.0 * 0.75 / 0.875
    fans = found().pull - length_part
    assert found(foot=replace(FOOT, ends=1.0)).pull == pytest.approx(length_part + 0.5 * fans)
    assert found(replace(FACE, stressed=1.0)).pull == pytest.approx(length_part)
    assert found(replace(FACE, stressed=7.0)).pull == pytest.approx(length_part)
    assert np.all(np.isfinite([found(replace(FACE, stressed=1.0)).across, found(replace(FACE, stressed=1.0)).along]))


@pytest.mark.parametrize(("stressed", "kept"), [(0.25, 0.90625), (0.5, 0.775), (1.0, 0.4), (7.0, 0.4), (-0.5, 0.775)])
def test_a_round_tube_at_its_stress_keeps_two_fifths(stressed, kept):
    """1 - 0.3 U (1 + U), AISC 360 Eq. (K1-5) (memory): 1 - 0.3 x 0.25 x 1.25, 1 - 0.3 x 0.5 x 1.5, 1 - 0.3 x 2."""
    pipe = replace(FACE, round=True)
    assert found(replace(pipe, stressed=stressed)).pull == pytest.approx(kept * found(pipe).pull)


def test_a_foot_as_wide_as_the_tube_is_held_by_its_side_walls():
    """A tall thin tube: 2 Fy t (5 x 1.5 t + l) or crippling, both under the yield line at 0.85 of a face."""
    tall = Face(width=1.5, depth=12.0, wall=0.06, fy=46.0e3, fu=58.0e3)
    wide = found(tall, Foot(length=1.6, breadth=1.5)).pull
    crippling = 1.6 * 0.06**2 * (1.0 + 3.0 * 1.6 / (12.0 - 0.18)) * np.sqrt(29.0e6 * 46.0e3)
    yielding = 2.0 * 46.0e3 * 0.06 * (7.5 * 0.06 + 1.6)
    line = 46.0e3 * 0.06**2 / 0.15 * (2.0 * 1.6 / 1.5 + 4.0 * np.sqrt(0.15))
    assert wide == pytest.approx(min(crippling, yielding, line))


def test_side_walls_that_yield_and_side_walls_that_buckle():
    """AISC 360 K (memory): 2 Fy t (5 k + l) with k = 1.5 t; 1.6 t^2 (1 + 3 l/h) sqrt(E Fy) Qf with h = H - 3 t.

    Stocky, 2 x 2 x 1/2: 2 x 46,000 x 0.5 (5 x 0.75 + 3) = 310,500, under the yield line at 0.85 of the face,
    46,000 x 0.25/0.15 (2 x 3/2 + 4 sqrt(0.15)) = 348,800.
    Tall, 1-1/2 x 12 x 0.06, used to 0.95: Qf = sqrt(1 - 0.9025) = 0.31225; h = 11.82;
    1.6 x 0.0036 (1 + 9/11.82) sqrt(29e6 x 46,000) x 0.31225 = 3,659, under the yield line's 4,950.
    Thick, 1-1/2 x 3 x 1/4, used to 0.995: Qf = 0.0998749, h = 2.25; 0.1 (1 + 9/2.25) x 1,154,989 x Qf = 57,677.
    """
    stocky = Face(width=2.0, depth=2.0, wall=0.5, fy=46.0e3, fu=58.0e3)
    assert found(stocky, Foot(length=3.0, breadth=2.0)).pull == pytest.approx(310500.0)
    tall = Face(width=1.5, depth=12.0, wall=0.06, fy=46.0e3, fu=58.0e3, stressed=0.95)
    assert found(tall, Foot(length=3.0, breadth=1.5)).pull == pytest.approx(3659.0, rel=2e-4)
    thick = Face(width=1.5, depth=3.0, wall=0.25, fy=46.0e3, fu=58.0e3, stressed=0.995)
    assert found(thick, Foot(length=3.0, breadth=1.5)).pull == pytest.approx(57677.0, rel=1e-4)


def test_a_plate_across_a_thick_wall_pulls_evenly():
    """10/(B/t) is over one for 2 in of 1/4 in wall: the plate pulls over all of its inch, 46,000/4 = 11,500."""
    thick = Face(width=2.0, depth=2.0, wall=0.25, fy=46.0e3, fu=58.0e3)
    assert found(thick, Foot(length=0.5, breadth=1.0)).pull == pytest.approx(11500.0)


@given(
    st.floats(1.0, 10.0), st.floats(0.03, 0.5), st.floats(0.3, 8.0), st.floats(0.1, 1.0), st.floats(0.0, 1.5),
    st.sampled_from(["wall", "fy", "length", "ends", "faces"]), st.floats(1.0, 2.0),
)  # fmt: skip
def test_more_metal_never_lowers_a_face(width, wall, length, share, stressed, name, more):
    face = Face(width=width, depth=width, wall=min(wall, width / 5.0), fy=40.0e3, fu=90.0e3, stressed=stressed)
    foot = Foot(length=length, breadth=share * width, ends=1.0, faces=1.0)
    one = face if name in ("wall", "fy") else foot
    other = replace(one, **{name: getattr(one, name) * more})
    before = found(face, foot)
    after = found(other, foot) if one is face else found(face, other)
    for mode in ("pull", "along", "across"):
        assert getattr(after, mode) >= getattr(before, mode) * (1.0 - 1e-9), mode
    used = found(replace(face, stressed=stressed * more), foot)
    assert used.pull <= before.pull * (1.0 + 1e-9)

"""Tube faces: the clauses of AISC 360 chapter K worked by hand, and the yield line minimized by itself."""

from dataclasses import replace

import numpy as np
import pytest

from rigcheck.strength.bases import FRAME, ULTIMATE
from rigcheck.strength.connections.faces import Face, Foot, face_strength
from tests.outside.values import check

KIP = 1000.0
HSS4 = Face(width=4.0, depth=4.0, wall=0.116, fy=46.0e3, fu=58.0e3)
PLATE = Foot(length=3.0, breadth=0.5)
PIPE = Face(width=4.0, depth=4.0, wall=0.116, fy=42.0e3, fu=58.0e3, round=True)


def nominal(face, foot=PLATE):
    return face_strength(face, foot=foot, basis=ULTIMATE)


def test_plate_along_a_square_tube():
    check("face_hss4_plastification", nominal(HSS4).pull / KIP)
    check("face_hss4_plastification_asd", face_strength(HSS4, foot=PLATE, basis=FRAME).pull / KIP)
    check("face_hss4_stressed", nominal(replace(HSS4, stressed=0.6)).pull / KIP)
    check("face_hss4_through", nominal(HSS4, replace(PLATE, faces=2.0)).pull / KIP)
    check("face_hss4_in_plane", nominal(HSS4).along / KIP)
    check("face_hss4_across", nominal(HSS4).across / KIP)


def test_plate_across_and_wide_feet():
    check("face_hss4_transverse", nominal(HSS4, Foot(length=0.5, breadth=3.0)).pull / KIP)
    stout = Face(width=4.0, depth=2.0, wall=0.233, fy=46.0e3, fu=58.0e3)
    check("face_side_wall_yield", nominal(stout, Foot(length=4.0, breadth=4.0)).pull / KIP)


def test_plate_along_a_round_tube():
    check("face_round_plastification", nominal(PIPE).pull / KIP)
    check("face_round_stressed", nominal(replace(PIPE, stressed=0.5)).pull / KIP)
    check("face_round_in_plane", nominal(PIPE).along / KIP)


def pushed_through(*, width, wall, fy, length, breadth, fans):
    """Least push of a stiff foot through a face clamped along both walls, over the reach of its end fans.

    Work of yield lines, m = Fy t^2/4 an inch: each side strip turns by 1/a with a = (B - b)/2 and has lines 2 l + 2 x
    for each fan; each fan turns by 1/x and has lines 2 B. Written from the geometry, not from the clause.
    """
    m, a = fy * wall**2 / 4.0, (width - breadth) / 2.0
    x = np.linspace(0.02, 3.0, 200001) * width
    work = 2.0 / a * (2.0 * length + 2.0 * fans * x) + fans * 2.0 * width / x
    return m * work.min()


@pytest.mark.parametrize("ends", [1.0, 2.0])
@pytest.mark.parametrize(("width", "wall", "length", "breadth"), [(4.0, 0.116, 3.0, 0.5), (2.0, 0.174, 5.0, 1.2)])
def test_the_clause_is_the_least_of_its_yield_lines(width, wall, length, breadth, ends):
    least = pushed_through(width=width, wall=wall, fy=46.0e3, length=length, breadth=breadth, fans=ends)
    face = Face(width=width, depth=width, wall=wall, fy=46.0e3, fu=58.0e3)
    assert nominal(face, Foot(length=length, breadth=breadth, ends=ends)).pull == pytest.approx(least, rel=1e-6)


def test_the_moment_along_the_tube_is_under_its_yield_line():
    """A rocking foot, EN 1993-1-8 Table 7.14 (memory): Fy t^2 l [1/(2 h) + 2/sqrt(1 - b) + h/(1 - b)]."""
    h, b = 3.0 / 4.0, 0.125
    rocking = 46.0e3 * 0.116**2 * 3.0 * (0.5 / h + 2.0 / np.sqrt(1.0 - b) + h / (1.0 - b))
    assert 0.75 * rocking < nominal(HSS4).along < rocking

"""Composite sections by parallel axes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.members import sections
from rigcheck.tables import geometry

SIZES = st.floats(0.05, 20.0)


def test_tee_by_hand():
    # 2 x 0.2 flange under a 0.1 x 6 web: A = 0.4 + 0.6, n = (0.4*0.1 + 0.6*3.2)/1.0
    pieces = sections.rectangles(bottom=[0.0, 0.2], depth=[0.2, 6.0], width=[2.0, 0.1])
    tee = sections.composite(pieces)
    assert tee.area == pytest.approx(1.0)
    assert tee.centroid == pytest.approx(1.96)
    inertia = 2.0 * 0.2**3 / 12.0 + 0.4 * 1.86**2 + 0.1 * 6.0**3 / 12.0 + 0.6 * 1.24**2
    assert tee.inertia == pytest.approx(inertia)
    assert (tee.bottom, tee.top) == (0.0, pytest.approx(6.2))
    assert tee.modulus_bottom == pytest.approx(inertia / 1.96)
    assert tee.modulus_top == pytest.approx(inertia / 4.24)
    assert tee.radius == pytest.approx(inertia**0.5)
    # joint of web and flange: 0.4 in2 at an arm of 1.86; neutral axis: 4.24 in of web at an arm of 2.12
    assert sections.first_moment(pieces, section=tee, level=0.2) == pytest.approx(0.4 * 1.86)
    assert sections.first_moment(pieces, section=tee, level=1.96) == pytest.approx(0.1 * 4.24 * 2.12)
    assert sections.first_moment(pieces, section=tee, level=7.0) == 0.0
    assert sections.first_moment(pieces, section=tee, level=-1.0) == pytest.approx(0.0, abs=1e-12)
    assert sections.shear_flow(-500.0, first_moment=0.744, inertia=inertia) == pytest.approx(500.0 * 0.744 / inertia)


@given(SIZES, SIZES, st.lists(st.floats(0.05, 0.95), min_size=1, max_size=4))
def test_cutting_a_rectangle_changes_nothing(depth, width, cuts):
    edges = np.array([0.0, *sorted(cuts), 1.0]) * depth
    whole = sections.composite(sections.rectangles(bottom=[0.0], depth=[depth], width=[width]))
    cut = sections.composite(sections.rectangles(bottom=edges[:-1], depth=np.diff(edges), width=width))
    for name in ("area", "centroid", "inertia", "modulus_top", "modulus_bottom", "bottom", "top"):
        assert getattr(cut, name) == pytest.approx(getattr(whole, name), rel=1e-9), name
    assert whole.inertia == pytest.approx(width * depth**3 / 12.0)


def test_a_tube_is_a_block_less_its_hole():
    tube = geometry.rectangular_tube(2.0, width=1.5, wall=0.12)
    piece = sections.Pieces(*(np.array([value]) for value in (tube.area, 5.0, tube.ix, 4.0, 6.0)))
    wall = sections.rectangles(bottom=[0.0], depth=[6.0], width=[0.1])
    section = sections.composite(sections.join((wall, piece)))
    area = tube.area + 0.6
    centroid = (tube.area * 5.0 + 0.6 * 3.0) / area
    inertia = tube.ix + tube.area * (5.0 - centroid) ** 2 + 0.1 * 216.0 / 12.0 + 0.6 * (3.0 - centroid) ** 2
    assert section.inertia == pytest.approx(inertia)
    assert section.top == 6.0


def test_pieces_that_are_not_there_do_not_count():
    there = sections.rectangles(bottom=[0.0], depth=[6.0], width=[0.1])
    absent = sections.rectangles(bottom=[40.0], depth=[0.0], width=[0.0])
    both, one = sections.composite(sections.join((there, absent))), sections.composite(there)
    nothing = sections.composite(absent)
    for name in ("area", "centroid", "inertia", "radius", "bottom", "top", "modulus_top", "modulus_bottom"):
        assert getattr(both, name) == getattr(one, name)
        assert getattr(nothing, name) == 0.0


def test_rows_of_a_batch_are_single_cases():
    depths = np.array([[4.0, 2.0], [6.0, 1.0], [9.0, 0.5]])
    batch = sections.composite(sections.rectangles(bottom=[0.0, 1.0], depth=depths, width=[0.1, 1.5]))
    for row, depth in enumerate(depths):
        single = sections.composite(sections.rectangles(bottom=[0.0, 1.0], depth=depth, width=[0.1, 1.5]))
        assert batch.inertia[row] == single.inertia
    assert batch.inertia.shape == (3,)


def test_against_sectionproperties():
    from sectionproperties.analysis import Section
    from sectionproperties.pre.library import rectangular_hollow_section, rectangular_section

    t, height, strip, wall = 0.1046, 7.0, 2.0, 0.116
    floor = rectangular_section(d=t, b=strip).shift_section(0.0, -t)
    side = rectangular_section(d=height, b=t)
    tube = rectangular_hollow_section(d=1.5, b=1.5, t=wall, r_out=2.0 * wall, n_r=24).shift_section(t, height - 1.5)
    theirs = Section((floor + side + tube).create_mesh([0.01]))
    theirs.calculate_geometric_properties()
    shape = geometry.rectangular_tube(1.5, width=1.5, wall=wall)
    rectangles = sections.rectangles(bottom=[-t, 0.0], depth=[t, height], width=[strip, t])
    piece = sections.Pieces(
        *(np.array([value]) for value in (shape.area, height - 0.75, shape.ix, height - 1.5, height))
    )
    ours = sections.composite(sections.join((rectangles, piece)))
    assert ours.area == pytest.approx(theirs.get_area(), rel=2e-4)
    assert ours.centroid == pytest.approx(theirs.get_c()[1], rel=2e-4)
    assert ours.inertia == pytest.approx(theirs.get_ic()[0], rel=2e-4)
    z_top, z_bottom = theirs.get_z()[0], theirs.get_z()[1]
    assert ours.modulus_top == pytest.approx(z_top, rel=2e-4)
    assert ours.modulus_bottom == pytest.approx(z_bottom, rel=2e-4)

"""Shapes from the tables as members, all families in one batch."""

import numpy as np
import pytest

from rigcheck.strength.bases import BASES, FRAME, LIFTING
from rigcheck.strength.members import compression, flexure, shear
from rigcheck.strength.members import shapes as members
from rigcheck.tables import shapes

NAMES = ("HSS3x2x1/8", "pipe 2 std", "tube 1-1/2x1-1/2x14ga", "angle 1-1/2x1-1/2x1/8", "bar 2x1/4", "round 3/4")
SECTION = members.section_of([shapes.find(name) for name in NAMES])
FY, FU = 36.0e3, 58.0e3
STEEL = {"fy": FY, "fu": FU}


def test_tension():
    for basis in BASES.values():
        gross = members.tension(SECTION, **STEEL, basis=basis)
        assert gross == pytest.approx(np.minimum(FY / basis.yielding, FU / basis.rupture) * SECTION.area)
        net = members.tension(SECTION, **STEEL, basis=basis, net=0.3)
        assert net == pytest.approx(0.3 * FU / basis.rupture * SECTION.area)


def test_rupture_of_the_whole_area_where_no_net_area_is_given():
    found = members.tension(SECTION, fy=54.0e3, fu=64.0e3, basis=LIFTING)
    assert found == pytest.approx(64.0e3 / 3.6 * SECTION.area)


def test_gradient_is_one_where_none_is_given():
    bar = members.section_of([shapes.find("bar 2x1/4")])
    given = {"about": "x", "fy": FY, "basis": FRAME, "length": 100.0}
    assert members.moment_strength(bar, **given) == members.moment_strength(bar, **given, gradient=1.0)
    assert members.moment_strength(bar, **given, gradient=1.1) > members.moment_strength(bar, **given)


def test_every_shape_answers_as_its_own_family():
    found = members.compression_strength(SECTION, length=30.0, fy=FY, basis=FRAME) * 1.67
    slenderness = 30.0 / SECTION.r_min
    stress = compression.column_stress(slenderness, fy=FY)
    # none of these walls is slender at this stress
    assert found == pytest.approx(stress * SECTION.area)
    moments = members.moment_strength(SECTION, about="x", fy=FY, basis=FRAME) * 1.67
    z, s = SECTION.zx, SECTION.sx
    assert moments == pytest.approx(FY * np.array([z[0], z[1], z[2], s[3], 1.5 * s[4], 1.6 * s[5]]))
    flat = members.moment_strength(SECTION, about="y", fy=FY, basis=FRAME) * 1.67
    assert flat[[0, 4]] == pytest.approx(FY * np.array([SECTION.zy[0], 1.5 * SECTION.sy[4]]))
    shears = members.shear_strength(SECTION, along="y", fy=FY, basis=FRAME, length=30.0) * 1.67
    t = SECTION.t_design
    webs = 2.0 * SECTION.h_over_t * t**2
    area = np.array([webs[0], SECTION.area[1] / 2.0, webs[2], webs[3] / 2.0, SECTION.area[4], SECTION.area[5]])
    assert shears == pytest.approx(0.6 * FY * area)
    across = members.shear_strength(SECTION, along="x", fy=FY, basis=FRAME, length=30.0) * 1.67
    assert across[0] == pytest.approx(0.6 * FY * 2.0 * SECTION.b_over_t[0] * t[0] ** 2)
    torsion = members.torsion_strength(SECTION, fy=FY, basis=FRAME, length=30.0) * 1.67
    assert torsion == pytest.approx(0.6 * FY * SECTION.torsion_c)


def test_lifting_basis_holds_shapes_to_its_own_limits():
    moments = members.moment_strength(SECTION, about="x", fy=FY, basis=LIFTING)
    s = SECTION.sx
    # pipe and tubes are compact: 1.10; an angle goes to its yield moment; a bar on edge 1.10, a round 1.25
    assert moments == pytest.approx(12.0e3 * s * np.array([1.1, 1.1, 1.1, 1.0, 1.1, 1.25]))
    flat = members.moment_strength(SECTION, about="y", fy=FY, basis=LIFTING)
    assert flat[4] == pytest.approx(1.25 * 12.0e3 * SECTION.sy[4])
    shears = members.shear_strength(SECTION, along="y", fy=FY, basis=LIFTING, length=30.0)
    assert shears[4] == pytest.approx(FY / (3.0 * np.sqrt(3.0)) * SECTION.area[4])


def test_one_shape_equals_its_row_in_the_batch():
    for row, name in enumerate(NAMES):
        alone = members.section_of([shapes.find(name)])
        for formula in (members.compression_strength, members.torsion_strength):
            both = formula(SECTION, length=40.0, fy=FY, basis=LIFTING)
            assert formula(alone, length=40.0, fy=FY, basis=LIFTING)[0] == pytest.approx(both[row], rel=1e-12)


def test_length_axis_broadcasts_before_the_shapes():
    lengths = np.array([[10.0], [40.0], [120.0]])
    found = members.compression_strength(SECTION, length=lengths, fy=FY, basis=FRAME)
    assert found.shape == (3, 6)
    assert np.all(np.diff(found, axis=0) < 0.0)
    moments = members.moment_strength(SECTION, about="x", fy=FY, basis=FRAME, length=lengths, gradient=1.0)
    assert moments.shape == (3, 6)
    assert np.all(np.diff(moments, axis=0) <= 1e-9)


def test_bending_about_y_turns_the_shape():
    section = members.section_of([shapes.find("HSS3x2x1/8")])
    bend = flexure.Bend(
        modulus=section.sy,
        plastic=section.zy,
        depth=section.width,
        width=section.depth,
        thickness=section.t_design,
        web_ratio=section.b_over_t,
        flange_ratio=section.h_over_t,
        area=section.area,
        radius=section.rx,
        torsion=section.j,
        fy=70.0e3,
        length=200.0,
    )
    found = members.moment_strength(section, about="y", fy=70.0e3, basis=FRAME, length=200.0)
    assert found == pytest.approx(flexure.box_flexure(bend).nominal / 1.67)


def test_slender_walls_reach_the_families():
    thin = members.section_of([shapes.find("tube 4x4x20ga"), shapes.find("angle 3x3x1/8")])
    found = members.compression_strength(thin, length=10.0, fy=50.0e3, basis=FRAME) * 1.67
    stress = compression.column_stress(10.0 / thin.r_min, fy=50.0e3)
    assert np.all(found < 0.9 * stress * thin.area)
    twisted = members.torsion_strength(thin, fy=50.0e3, basis=FRAME, length=10.0)[0] * 1.67
    expected = shear.box_torsion(thin.torsion_c[0], ratio=thin.h_over_t[0], fy=50.0e3)
    assert twisted == pytest.approx(expected)
    assert expected < 0.6 * 50.0e3 * thin.torsion_c[0]

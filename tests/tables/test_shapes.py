"""Steel shapes by name."""

import math
from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.tables import ShapeError, geometry, shape_names, shapes
from rigcheck.tables.loader import load

LISTED = {row["name"]: row for block in ("hss", "pipe") for row in load("hss_pipe")[block]["section"]}


def test_every_listed_shape_is_found_under_its_own_name():
    assert shapes.listed_names() == tuple(LISTED)
    for name, row in LISTED.items():
        found = shapes.find(name)
        assert found.name == name
        assert found.area == row["area_in2"]
        assert found.weight_per_length == pytest.approx(row["weight_lb_per_ft"] / 12.0)
        assert found.t_design == row["t_design_in"]
        assert found.known == "seen"


def test_listed_hss_hold_together():
    # the listed area, radius and moduli of one row must fit each other and the outside sizes
    for name in LISTED:
        one = shapes.find(name)
        assert one.rx == pytest.approx(math.sqrt(one.ix / one.area), rel=0.025), name
        assert one.sx == pytest.approx(one.ix / (one.depth / 2.0), rel=0.025), name
        assert 1.0 < one.zx / one.sx < 1.8, name
        if one.kind == "hss":
            worked = geometry.rectangular_tube(one.depth, width=one.width, wall=one.t_design)
            for key in ("area", "ix", "iy", "zx", "zy", "j", "torsion_c"):
                assert getattr(worked, key) == pytest.approx(getattr(one, key), rel=0.012), (name, key)


@pytest.mark.parametrize(
    "written",
    ["HSS1-1/2x1-1/2x3/16", "hss 1.5 x 1.5 x .1875", "HSS1 1/2X1 1/2X3/16", 'HSS 1.5"x1.5"x.188"', "hss1.5×1.5×0.188"],
)
def test_ways_of_writing_one_shape(written):
    assert shapes.find(written).name == "HSS1-1/2x1-1/2x3/16"


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("pipe 1.5 sch 40", "Pipe 1-1/2 STD"),
        ("Pipe 1-1/2 Sch80", "Pipe 1-1/2 XS"),
        ("PIPE 2 xxs", "Pipe 2 XXS"),
        ("L2x2x1/4", "angle 2x2x1/4"),
        ("flat 2 in x 1/4 in", "bar 2x1/4"),
        ("rod .75", "round 3/4"),
        ("tube 1-1/2x1-1/2x14 gauge", "tube 1-1/2x1-1/2x14ga"),
    ],
)
def test_other_words_for_a_shape(written, name):
    assert shapes.find(written).name == name


def test_a_tube_written_lying_is_the_tube_turned():
    up, flat = shapes.find("HSS3x1x1/8"), shapes.find("HSS1x3x1/8")
    assert (flat.depth, flat.width, flat.ix, flat.zy) == (up.width, up.depth, up.iy, up.zx)
    assert (flat.h_over_t, flat.b_over_t, flat.r_min) == (up.b_over_t, up.h_over_t, up.r_min)
    assert flat.ix < flat.iy
    assert "flat" in flat.name


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("HSS2x2", "round tube"),
        ("HSS5x5x1/4", "HSS4x4x1/4"),
        ("HSS2x2x1/7", "HSS2x2x1/8"),
        ("W8x10", "not a shape name"),
        ("", "not a shape name"),
        ("bar 2", "two sizes"),
        ("bar 1/0x1", '"1/0" is not a size'),
        ("bar 0x1", "not between 0 and 24"),
        ("bar 25x1", "not between 0 and 24"),
        ("bar nanx1", "not a shape name"),
        ("bar 1xnan", '"nan" is not a size'),
        ("bar 1e3x1", "not a size"),
        ("tube 1x1x.3", "a quarter"),
        ("tube 1x1x13ga", "sheet gauge"),
        ("round tube 1x.3", "a quarter"),
        ("angle 2x2x1.5", "half"),
        ("pipe 2", "STD"),
        ("pipe 9 std", "not in the list of pipe"),
        ("round 3/4x1", "one size"),
        ("hss2x2x1/8x", "is not a size"),
        ("tube 1x1", "three sizes"),
        ("round tube 1", "two sizes"),
        ("angle 2x2", "three sizes"),
        ("bar ١x1", "not a shape name"),
    ],
)
def test_what_cannot_be_read_says_why_and_what_can(written, words):
    with pytest.raises(ShapeError, match="write for example HSS2x2x1/8, pipe 1-1/2 STD") as caught:
        shapes.find(written)
    assert words in str(caught.value)
    assert caught.value.accepted == shape_names.FORMS


@pytest.mark.parametrize("form", shape_names.FORMS)
def test_every_advertised_form_is_accepted(form):
    assert shapes.find(form).area > 0.0


def test_wall_of_welded_tube_is_cut_for_strength_and_whole_for_weight():
    tube = shapes.find("tube 2x2x1/8")
    assert tube.t_design == pytest.approx(0.93 * 0.125)
    # the listed 2 x 2 x 1/8 has the same design wall, and 490 lb/ft3 on the whole wall is its weight
    assert tube.area == pytest.approx(0.840, rel=0.003)
    assert tube.weight_per_length * 12.0 == pytest.approx(3.05, rel=0.003)


def test_gauge_tube_weighs_as_sheet_and_says_that_the_wall_is_read_as_sheet():
    tube = shapes.find("tube 1-1/4x1-1/4x16ga")
    thick = shapes.find("tube 1-1/4x1-1/4x.0598")
    assert tube.t_nominal == 0.0598
    assert tube.weight_per_length / thick.weight_per_length == pytest.approx(41.82 / (490.0 / 12.0))
    assert "measure the wall" in tube.note
    assert thick.note == ""


def test_solid_bars_by_hand():
    bar = shapes.find("bar 3x1/2")
    assert bar.ix == pytest.approx(0.5 * 27.0 / 12.0)
    assert bar.zx == pytest.approx(0.5 * 9.0 / 4.0)
    assert bar.sy == pytest.approx(3.0 * 0.25 / 6.0)
    assert bar.r_min == pytest.approx(0.5 / math.sqrt(12.0))
    assert bar.weight_per_length == pytest.approx(1.5 * 490.0 / 1728.0)
    # a square bar's torsion constant is 0.1406 a^4 and its modulus 0.208 a^3 in every handbook
    square = shapes.find("bar 1x1")
    assert square.j == pytest.approx(0.1406, abs=0.0005)
    assert square.torsion_c == pytest.approx(0.208, abs=0.0005)
    rod = shapes.find("round 3/4")
    assert rod.sx == pytest.approx(math.pi * 0.75**3 / 32.0)
    assert rod.zx == pytest.approx(0.75**3 / 6.0)
    assert rod.torsion_c == pytest.approx(math.pi * 0.75**3 / 16.0)


def test_equal_angle_by_hand():
    # 2 x 2 x 1/4 with square corners: legs 2 x 1/4 and 7/4 x 1/4
    angle = shapes.find("angle 2x2x1/4")
    area = 0.5 + 0.4375
    center = (0.5 * 0.125 + 0.4375 * 1.125) / area
    inertia = (
        2.0 * 0.25**3 / 12.0 + 0.5 * (center - 0.125) ** 2 + 0.25 * 1.75**3 / 12.0 + 0.4375 * (1.125 - center) ** 2
    )
    assert angle.area == pytest.approx(area)
    assert angle.y_bar == angle.x_bar == pytest.approx(center)
    assert angle.ix == angle.iy == pytest.approx(inertia)
    assert angle.sx == pytest.approx(inertia / (2.0 - center))
    assert angle.r_min < angle.rx


SIDES = st.floats(0.75, 8.0)


@given(SIDES, SIDES, st.floats(0.02, 0.18))
def test_turning_a_section_swaps_its_axes(depth, width, wall):
    for make in (geometry.rectangular_tube, geometry.angle):
        one, other = make(depth, width=width, wall=wall), make(width, width=depth, wall=wall)
        assert (one.ix, one.zx, one.sx, one.y_bar) == pytest.approx((other.iy, other.zy, other.sy, other.x_bar))
        assert (one.area, one.j, one.r_min) == pytest.approx((other.area, other.j, other.r_min))


@given(SIDES, SIDES, st.floats(0.02, 0.18))
def test_plastic_modulus_is_above_elastic_and_radius_inside_the_section(depth, width, wall):
    for make in (geometry.rectangular_tube, geometry.angle):
        one = make(depth, width=width, wall=wall)
        assert one.zx > one.sx > 0.0 and one.zy > one.sy > 0.0
        assert 0.0 < one.r_min < min(depth, width)
        assert one.j > 0.0 and one.torsion_c > 0.0


@given(SIDES, SIDES, st.floats(0.02, 0.14))
def test_a_thicker_wall_never_weakens(depth, width, share):
    # a corner of radius 2 t eats into a tube whose wall passes about a seventh of its side
    wall = share * min(depth, width)
    for make in (geometry.rectangular_tube, geometry.angle):
        thin, thick = make(depth, width=width, wall=wall), make(depth, width=width, wall=1.05 * wall)
        for key in ("area", "ix", "iy", "zx", "zy", "j", "torsion_c"):
            assert getattr(thick, key) > getattr(thin, key)


@given(st.fractions(1, 8, max_denominator=16), st.sampled_from(["{}", " {} "]))
def test_label_reads_back(size, form):
    inches = float(size)
    assert shape_names.size(form.format(shape_names.label(inches)).strip()).inches == pytest.approx(inches, abs=1e-3)


def test_every_number_of_every_shape_is_finite_and_positive():
    for name in (*LISTED, *shape_names.FORMS):
        shape = shapes.find(name)
        for field in fields(shape):
            value = getattr(shape, field.name)
            if isinstance(value, float) and field.name != "corner":
                assert math.isfinite(value) and value > 0.0, (name, field.name)

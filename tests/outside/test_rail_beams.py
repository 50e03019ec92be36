"""The rail against beam tables and against a section library: rigs degenerate to one beam on two supports."""

import numpy as np
import pytest

from rigcheck.analysis.rail_section import rail_section
from rigcheck.loads.pieces import Lump, Strip
from rigcheck.loads.pieces import Row as State
from rigcheck.statics.beam import evaluate
from rigcheck.statics.rail import curves, rail_forces
from rigcheck.statics.rail_peaks import rail_peaks
from rigcheck.tables import shapes
from tests.outside import beam_tables
from tests.statics.random_rigs import PLAIN, hang, layout_of, pairs_of, rig_of, section_of

EVEN = 2
AXIS = 3.4
SECTION = section_of(axis=AXIS)
STIFFNESS = float(SECTION.modulus * SECTION.inertia)


class Beam:
    """One of two equal rails, level, hinge and hanger on its axis, the line upright and rigid."""

    def __init__(self, *, span: float, over: float, strips: list[Strip] | None = None, lumps: list[Lump] | None = None):
        layout = layout_of(
            pitch=0.0, length=span + over, hinge_height=AXIS, hanger_s=span, hanger_n=AXIS, perch_x=span, perch_z=60.0,
            perch_spacing=29.0,
        )  # fmt: skip
        bare = hang(layout, [State(state="empty", strips=strips or [], lumps=lumps or [])], section=SECTION)
        self.rails = rail_forces(bare.loads, layout=layout, pose=bare.pose, balance=bare.balance, axis=np.asarray(AXIS))
        self.peaks = rail_peaks(curves(self.rails), section=SECTION)
        _, self.bend = pairs_of(bare, bounds=("stiff",))
        self.second = float(bare.balance.tension[0, 1, 0])
        self.first = float(self.rails.hinge_n[0, EVEN])

    def moment(self, x: float) -> float:
        at = np.broadcast_to(x, (*self.rails.pull.shape, 1))
        return float(evaluate(self.rails.moment, x=at)[0, EVEN, 0])

    def drop(self, x: float) -> float:
        """Fall at a station, from the nodes on either side of it."""
        return float(self.bend.drop_at(np.array([x]), rail=(0, 0))[0])


def even(w: float, start: float, end: float) -> Strip:
    """So much per length on each rail, at the height of the axis."""
    return Strip(start=start, end=end, w_start=2.0 * w, w_end=2.0 * w, n_start=AXIS, n_end=AXIS)


def test_simple_span_under_even_load():
    table = beam_tables.simple_even(4.0, span=90.0, stiffness=STIFFNESS)
    beam = Beam(span=90.0, over=0.0, strips=[even(4.0, 0.0, 90.0)])
    assert (beam.first, beam.second) == pytest.approx((table["reaction"],) * 2)
    assert beam.peaks.max_moment[0, EVEN] == pytest.approx(table["moment"])
    assert beam.bend.sag[0, 0] == pytest.approx(table["sag"], rel=1e-9)
    for x in (11.0, 30.0, 77.0):
        assert beam.moment(x) == pytest.approx(beam_tables.simple_even_moment(4.0, span=90.0, x=x))


def test_simple_span_with_one_load_at_the_center():
    table = beam_tables.simple_center(300.0, span=90.0, stiffness=STIFFNESS)
    beam = Beam(span=90.0, over=0.0, lumps=[Lump(weight=600.0, s=45.0, n=AXIS)])
    assert beam.second == pytest.approx(table["reaction"])
    assert beam.peaks.max_moment[0, EVEN] == pytest.approx(table["moment"])
    assert beam.bend.sag[0, 0] == pytest.approx(table["sag"], rel=1e-9)


@pytest.mark.parametrize("over", [15.0, 40.0])
def test_load_at_the_tip_of_the_overhang(over):
    table = beam_tables.tip_load(120.0, span=70.0, over=over, stiffness=STIFFNESS)
    beam = Beam(span=70.0, over=over, lumps=[Lump(weight=240.0, s=70.0 + over, n=AXIS)])
    assert (beam.first, beam.second) == pytest.approx((table["first"], table["second"]))
    assert beam.moment(70.0) == pytest.approx(-table["moment"])
    assert beam.peaks.max_moment[0, EVEN] == pytest.approx(table["moment"])
    assert beam.bend.tail_deflection[0, 0] == pytest.approx(table["tip"], rel=1e-9)
    assert beam.bend.tail_bend[0, 0] == pytest.approx(table["tip"], rel=1e-9)
    assert beam.bend.sag[0, 0] == pytest.approx(table["rise"], rel=1e-9)
    assert beam.drop(table["rise_at"]) == pytest.approx(-table["rise"], rel=1e-9)  # the span bows up


def test_even_load_on_the_overhang_only():
    table = beam_tables.even_on_overhang(5.0, span=70.0, over=30.0, stiffness=STIFFNESS)
    beam = Beam(span=70.0, over=30.0, strips=[even(5.0, 70.0, 100.0)])
    assert (beam.first, beam.second) == pytest.approx((table["first"], table["second"]))
    assert beam.peaks.max_moment[0, EVEN] == pytest.approx(table["moment"])
    assert beam.bend.tail_deflection[0, 0] == pytest.approx(table["tip"], rel=1e-9)


@pytest.mark.parametrize("over", [12.0, 28.0, 50.0])
def test_even_load_everywhere(over):
    table = beam_tables.even_everywhere(3.0, span=70.0, over=over, stiffness=STIFFNESS)
    beam = Beam(span=70.0, over=over, strips=[even(3.0, 0.0, 70.0 + over)])
    assert (beam.first, beam.second) == pytest.approx((table["first"], table["second"]))
    assert beam.moment(70.0) == pytest.approx(-table["moment_support"])
    assert beam.peaks.max_moment[0, EVEN] == pytest.approx(max(table["moment_span"], table["moment_support"]))
    assert beam.bend.tail_deflection[0, 0] == pytest.approx(table["tip"], rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("at", ["top", "bottom"])
def test_rail_section_against_a_section_library(at):
    """Wall, floor strip and tube drawn as outlines with round corners and meshed by another program."""
    library = pytest.importorskip("sectionproperties.pre.library")
    analysis = pytest.importorskip("sectionproperties.analysis")
    text = PLAIN.replace('effective_floor_width = "2 in"', f'effective_floor_width = "2 in"\nat = "{at}"')
    rig = rig_of(text)
    wall = float(rig.number("box.sheet"))
    side = float(rig.number("box.side_height"))
    tube = shapes.find(rig.value("rail.stiffener"))
    thick = 0.93 * 0.125  # design wall of a 1/8 in A500 tube
    web = library.rectangular_section(d=side, b=wall)
    strip = library.rectangular_section(d=wall, b=2.0).shift_section(y_offset=-wall)
    outline = library.rectangular_hollow_section(d=1.5, b=1.5, t=thick, r_out=2.0 * thick, n_r=12)
    outline = outline.shift_section(x_offset=wall, y_offset=side - 1.5 if at == "top" else 0.0)
    whole = (web + strip + outline).create_mesh(mesh_sizes=[0.02])
    section = analysis.Section(whole)
    section.calculate_geometric_properties()
    ours = rail_section(rig)
    assert tube.depth == 1.5
    assert float(ours.area) == pytest.approx(section.get_area(), rel=0.003)
    assert float(ours.axis) == pytest.approx(section.get_c()[1], rel=0.003)
    assert float(ours.inertia) == pytest.approx(section.get_ic()[0], rel=0.004)
    assert (float(ours.top), float(ours.bottom)) == pytest.approx((side, -wall))


def test_a_wider_floor_strip_lowers_the_axis():
    rig = rig_of(PLAIN)
    wide = rig_of(PLAIN.replace('effective_floor_width = "2 in"', 'effective_floor_width = "5 in"'))
    assert rail_section(wide).axis < rail_section(rig).axis
    assert rail_section(wide).area > rail_section(rig).area

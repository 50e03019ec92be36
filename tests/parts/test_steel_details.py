"""Hinge barrel welds with what they stand on and with end thrust, lug roots under pull, rails when a line parts."""

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.cross_member.checks import member_checks
from rigcheck.parts.hinge.checks import hinge_checks
from rigcheck.parts.lug.checks import lug_checks, lug_pull
from rigcheck.parts.rail.checks import rail_checks
from rigcheck.parts.rail.strength import beam_column, rail_strength_checks
from rigcheck.strength.bases import ULTIMATE

RIG = """
title = "Fieldfare Bench, trial"
basis = "{basis}"
[box]
length = "104 in"
width = "25 in"
side_height = "6 in"
pitch = "1 1/2 in/ft"
sheet = "{sheet}"
steel = "A36"
[rail]
stiffener = "HSS1-1/2x1-1/2x1/8"
steel = "A500B"
[cross_member]
shape = "HSS2x1-1/2x1/8"
spacing = "13 in"
steel = "A500B"
weld = "3/16 in"
weld_length = "4 in"
[hinge]
spacing = "24 in"
barrels = 5
barrel_length = "{barrel}"
pin = "1 in"
barrel_wall = "1/2 in"
barrel_steel = "A36"
weld = "1/4 in"
weld_length = "4 in"
[hanger]
at = "68 in"
height = "7 in"
spacing = "27 in"
[hanger.lug]
plate = "1/2 in"
hole = "11/16 in"
edge = "1 1/4 in"
width = "3 in"
foot = "5 in"
stand_off = "1 1/4 in"
weld = "1/4 in"
weld_length = "5 in"
steel = "A36"
[perch]
downstream = "-6 in"
height = "57 in"
spacing = "31 in"
[line]
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[weld]
hand = "tested"
"""


LEFT = BOUNDS.index("left")


def solved(*, basis="frame", sheet="12 ga", barrel="2 in"):
    return solve(Rig(read_case_text(RIG.format(basis=basis, sheet=sheet, barrel=barrel))))


def row(checks, part, mode, ultimate=False):
    return next(one for one in checks if (one.part, one.ultimate) == (part, ultimate) and one.mode.startswith(mode))


def test_the_thin_member_under_a_barrel_and_not_its_stout_wall_limits_the_weld():
    """1/4 in E70 carries 3712 lbf/in, the wall of 1/8 in tube under it 0.6 Fu t/2 of 0.116 in."""
    weld = row(hinge_checks(solved()), "hinge barrel weld", "force per inch")
    assert float(weld.capacity.max()) == pytest.approx(0.6 * 58000.0 * 0.116 / 2.0)


def test_end_thrust_bends_the_two_runs_under_a_barrel():
    solution = solved()
    weld = row(hinge_checks(solution), "hinge barrel weld", "force per inch")
    hinge = solution.demand.hinge
    pull, thrust = np.hypot(hinge[..., 0], hinge[..., 2]), np.abs(hinge[..., 1])
    # two runs of 2 in: 4 in of weld along, section modulus 2 x 2^2/6, the pin 1 in over them
    expected = np.hypot(0.5 * (1.0 + np.sqrt(5.0)) * pull / 4.0 + thrust * 1.0 / (4.0 / 3.0), thrust / 4.0)
    assert weld.demand == pytest.approx(expected)
    assert (thrust > 0.0).any()
    face = row(hinge_checks(solution), "hinge barrel", "end thrust")
    assert face.demand == pytest.approx(thrust)
    assert float(face.capacity.max()) == pytest.approx(1.8 * 36000.0 / 2.0 * np.pi / 4.0 * (2.0**2 - 1.0))


def test_two_runs_of_weld_are_no_longer_than_both_sides_of_the_barrel():
    """A case says no more than that, so the barrel is shortened under the weld as a study does."""
    rig = solved().rig
    stated, short = (
        row(hinge_checks(solve(one)), "hinge barrel weld", "force per inch").demand
        for one in (rig, varied(rig, {"hinge.barrel_length": np.array(1.0)}))
    )
    assert (short > 1.9 * stated).all()


def test_the_root_of_a_lug_is_pulled_as_well_as_bent():
    solution = solved()
    pull = lug_pull(solution, end="hanger")
    use = row(lug_checks(solution), "hanger lug", "bending both ways with tension")
    i = next(k for k, one in enumerate(solution.rows) if one.state == "packed")
    stiff = BOUNDS.index("stiff")
    tension = solution.demand.tension[i, stiff, 0]
    # 1.5 F_y S on the flat and in its plane, 5 x 1/2 at the root
    bent = pull.aside[i] * 1.25 / (5.0 * 0.25 / 4.0) + abs(pull.along[i]) * 1.25 / (0.5 * 25.0 / 4.0)
    pulled = abs(pull.out[i]) / 2.5
    expected = tension * (bent + pulled) * 1.67 / 36000.0
    assert use.demand[i, stiff, 0] == pytest.approx(expected, rel=1e-3)


def test_the_rail_takes_the_jump_of_a_parted_line():
    """The line that is left settles at S and peaks at 2 S less the least it had: the rails by as much more."""
    solution = solved()
    even = BOUNDS.index("stiff")
    calm = next(k for k, one in enumerate(solution.rows) if one.state == "running")
    lost = next(
        k for k, one in enumerate(solution.rows)
        if one.state == "line_broken" and one.variant["while"] == "running"
        and all(one.variant[key] == solution.rows[calm].variant[key] for key in ("low_side", "low_end"))
    )  # fmt: skip
    shared, whole = solution.held.tension[calm, :3], solution.held.tension[calm, even].sum()
    least = shared.min(0)  # of each line
    assert solution.demand.tension[lost, 3, 0] == pytest.approx(2.0 * whole - least[0])
    more = 2.0 - least.min() / whole
    assert more > 1.5
    factored = float(solution.rig.number("factors.hung"))
    for checks in (rail_checks(solution), rail_strength_checks(solution)):
        for check in (one for one in checks if one.ultimate and one.unit == "stress"):
            demand = np.broadcast_to(check.demand, solution.shape)
            assert demand[lost, 3, 0] == pytest.approx(more / factored * demand[calm, LEFT, 0])
    bent = beam_column(solution, basis=ULTIMATE)  # of every row, which the check has of parted ones alone
    checked = row(rail_strength_checks(solution), "rail", "compression with bending", ultimate=True).demand
    assert checked[lost, 3, 0] == pytest.approx(bent[lost, 3, 0])
    # bending grown by the push is not linear, but near enough at these pushes
    assert bent[lost, 3, 0] == pytest.approx(more / factored * bent[calm, LEFT, 0], rel=0.05)


def test_sag_and_droop_are_held_to_the_span_and_to_twice_the_overhang():
    rig = varied(solved().rig, {"rail.sag_limit": np.array(200.0), "rail.tail_limit": np.array(150.0)})
    sag, droop = (row(rail_checks(solve(rig)), "rail", mode) for mode in ("sag between", "tail deflection"))
    hanger = float(rig.number("hanger.at"))
    assert float(np.max(sag.capacity)) == pytest.approx(hanger / 200.0)
    assert float(np.max(droop.capacity)) == pytest.approx(2.0 * (104.0 - hanger) / 150.0)
    assert float(np.max(droop.demand)) > 0.0  # a loaded overhang bends down


def test_top_edge_and_wall_of_the_rail_are_held_on_strength_when_a_line_parts():
    modes = {one.mode for one in rail_strength_checks(solved()) if one.ultimate}
    assert {"top edge buckling sideways (strength)", "side wall under the hanger, screening (strength)"} <= modes


def test_the_end_weld_of_a_cross_member_is_no_stronger_than_the_sheet_it_meets():
    thin = row(member_checks(solved(sheet="16 ga")), "cross-member end weld", "force per inch")
    # shear yield, 0.6 x 36 / 1.5 = 14.4 ksi, under shear rupture, 0.6 x 58 / 2 = 17.4 ksi
    assert float(np.max(thin.capacity)) == pytest.approx(14400.0 * 0.0598)

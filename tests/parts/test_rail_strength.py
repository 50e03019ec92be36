"""The rail beyond fiber stress: by hand, one way only, and what is not described."""

import numpy as np
import pytest

from rigcheck.analysis.across import rail_twist
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution, solve
from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.rail.strength import (
    beam_column,
    rail_edge,
    rail_not_assessed,
    rail_strength_checks,
    rail_strength_flags,
    twist_share,
    wall_load,
)
from rigcheck.strength.bases import FRAME, LIFTING, ULTIMATE
from rigcheck.strength.members.compression import column_stress
from rigcheck.tables import shapes

PUSH = "compression with bending, hinge to hanger"
BOX = """
title = "Wren Gully, trial"
[box]
length = "104 in"
width = "25 in"
side_height = "6 in"
pitch = "1 1/2 in/ft"
sheet = "0.105 in"
steel = "A36"
[hanger]
at = "68 in"
height = "{height}"
spacing = "28.105 in"
{lug}
[perch]
downstream = "-6 in"
height = "57 in"
spacing = "{perch}"
[line]
[[line.link]]
kind = "lever hoist"
wll = "1500 lb"
rated_to_suspend = true
[rail]
spacing = "25.105 in"
{rail}
"""
STIFFENER = 'stiffener = "HSS1-1/2x1-1/2x1/8"\nsteel = "A500B"\n'
MEMBER = '[cross_member]\nshape = "HSS2x1x1/8"\nspacing = "16 in"\nat = "{at}"\n'
LUG = """[hanger.lug]
plate = "3/8 in"
hole = "11/16 in"
edge = "1 1/4 in"
width = "2 1/2 in"
foot = "3 in"
weld_length = "3 in"
"""
EVEN = 1  # the stiff bound


def rig_of(*rail: str, lug: str = LUG, at: str = "under", perch: str = "34 in", height: str = "5.25 in") -> Rig:
    text = BOX.format(rail="".join(rail).format(at=at), lug=lug, perch=perch, height=height)
    return Rig(read_case_text(text, name="trial.toml"))


def rows_of(solution: Solution) -> dict[str, Check]:
    return {row.mode: row for row in rail_strength_checks(solution)}


def use(row: Check) -> np.ndarray:
    return np.asarray(row.demand / row.capacity)


def packed(solution: Solution) -> int:
    return int(np.flatnonzero(solution.states("packed"))[0])


def test_push_with_bending_by_hand_at_the_worst_station():
    solution = solve(rig_of(STIFFENER, MEMBER))
    i = packed(solution)
    place = solution.bent.place(i, EVEN)
    x, axial, moment = (getattr(solution.peaks, name)[place, 0] for name in ("x", "axial", "moment"))
    section = solution.section
    assert axial.min() < 0.0  # the line pushes the rail toward the hinge
    push = -axial[x <= 68.0].min()
    euler = np.pi**2 * 29.0e6 * float(section.inertia) / 68.0**2
    grow = 1.0 / (1.0 - 1.15 * 3.0 * push / euler)  # BTH-1 3-2.4, F'e (memory)
    slender = 68.0 / np.sqrt(section.inertia / section.area)
    x = slender / np.sqrt(2.0 * np.pi**2 * 29.0e6 / 36.0e3)  # over Cc, BTH-1 3-2.2 (memory)
    lifted = (1.0 - x**2 / 2.0) * 36.0e3 / (1.0 + 9.0 / 40.0 * x - 3.0 / 40.0 * x**3)
    column = min(float(column_stress(slender, fy=36.0e3)), float(lifted))
    worst = 0.0
    for n, m in zip(axial, moment, strict=True):
        for limit in (36.0e3, column if n < 0.0 else 36.0e3):
            for lever in (-(section.top - section.axis), section.axis - section.bottom):
                ratio = n / section.area / limit + grow * m * lever / section.inertia / 36.0e3
                worst = max(worst, 3.0 * abs(ratio))
    assert beam_column(solution, basis=LIFTING)[i, EVEN, 0] == pytest.approx(worst)


def test_push_never_reads_less_than_fiber_stress():
    solution = solve(rig_of(STIFFENER, MEMBER))
    for basis in (LIFTING, FRAME, ULTIMATE):
        plain = solution.bent.on_bounds(solution.peaks.stress) * basis.yielding / 36.0e3
        assert np.all(beam_column(solution, basis=basis) >= plain * (1.0 - 1e-9)), basis.name


def test_rows_say_the_weaker_of_both_steels():
    """Sheet of A36 and a tube of A500B, 46 ksi."""
    for row in rail_strength_checks(solve(rig_of(STIFFENER, MEMBER))):
        assert "; Fy 36 ksi, " in row.basis, row.mode


def turned(solution: Solution) -> np.ndarray:
    """What the rail takes of the twist of the box; tests/statics/test_grillage.py holds it to its own equation."""
    bent = solution.bent
    own = rail_twist(solution.rig, own=bent.forces.ties.own, spacing=solution.layout.rail_spacing)
    return np.asarray(bent.of_pairs(own * bent.thrown))


def test_twist_at_the_hanger_by_hand():
    """1.5 in outside the rail, on the middle of a 1.5 in tube flush with a 6 in side; member at 64 in, hanger at 68."""
    solution = solve(rig_of(STIFFENER, MEMBER))
    i, at = packed(solution), solution.pose
    tension = solution.demand.tension[i, EVEN, 0]
    row = rows_of(solution)["torsion at the hanger"]
    own = turned(solution)[i, EVEN, 0]
    assert row.demand[i, EVEN, 0] == pytest.approx(tension * at.u_n[i] * 1.5 * 12.0 / 16.0 + own)
    higher = solve(rig_of(STIFFENER, MEMBER, height="6.25 in"))
    own = turned(higher)[i, EVEN, 0]
    raised = (rows_of(higher)["torsion at the hanger"].demand[i, EVEN, 0] - own) / higher.demand.tension[i, EVEN, 0]
    arm = higher.pose.u_n[i] * 1.5 - higher.pose.uy[i] * 1.0
    assert raised == pytest.approx(abs(arm) * 12.0 / 16.0)


def test_share_of_the_twist_along_the_rail():
    rig = rig_of(STIFFENER, MEMBER)
    hangers = np.array([64.0, 64.4, 65.0, 68.0, 72.0, 80.0])
    assert twist_share(rig, hanger=hangers) == pytest.approx([0.0, 0.4 / 16.0, 15.0 / 16.0, 12.0 / 16.0, 0.5, 0.0])
    assert twist_share(rig_of(STIFFENER), hanger=hangers) == pytest.approx(1.0)
    # a tube 1 in wide: on it as far as half an inch off its middle
    edges = twist_share(rig, hanger=np.array([64.499, 64.501]))
    assert edges == pytest.approx([0.499 / 16.0, 1.0 - 0.501 / 16.0])
    # past the last member, at 96 in, by more than the 16 in between them: all of it
    assert twist_share(rig, hanger=np.array([111.0, 112.5, 130.0])) == pytest.approx([1.0 / 16.0, 1.0, 1.0])


def test_sideways_by_hand_between_members_over_the_top():
    solution = solve(rig_of(STIFFENER, MEMBER, at="top"))
    i, at = packed(solution), solution.pose
    row = rows_of(solution)["sideways bending at the hanger"]
    tension = solution.demand.tension[i, EVEN, 0]
    assert row.demand[i, EVEN, 0] == pytest.approx(tension * (at.uy[i] * 4.0 + 0.5 * abs(at.u_s[i]) * 1.5))


def test_sideways_on_u_frames_is_that_of_a_bar_on_an_even_foundation():
    """F/(4 beta), beta = (k/(4 E I))^(1/4); k of a leaning 0.105 in wall with cross-members turning under it."""
    solution = solve(rig_of(STIFFENER, MEMBER))
    i, at = packed(solution), solution.pose
    arm, frame_i = 5.25 + 0.105 + 1.0, solution.rig
    assert frame_i is solution.rig
    lean = arm**3 / (3.0 * 29.0e6 * 16.0 * 0.105**3 / 12.0)
    turn = arm**2 * 25.0 / (2.0 * 29.0e6 * 0.280)
    stiff = 1.0 / (16.0 * (lean + turn))
    pressed = (6.0 - float(solution.section.axis)) / 3.0
    bar = 29.0e6 * (0.218 + pressed * 0.105**3 / 12.0)
    arm_aside = 0.25 * (4.0 * bar / stiff) ** 0.25
    row = rows_of(solution)["sideways bending at the hanger"]
    per_pound = row.demand[i, EVEN, 0] / solution.demand.tension[i, EVEN, 0]
    assert per_pound == pytest.approx(at.uy[i] * arm_aside + 0.75 * abs(at.u_s[i]), rel=0.01)


def test_side_wall_by_hand():
    solution = solve(rig_of(STIFFENER, MEMBER))
    i = packed(solution)
    force, allowed = wall_load(solution, basis=LIFTING)
    assert force[i, EVEN, 0] == pytest.approx(abs(solution.demand.tension[i, EVEN, 0] * solution.pose.u_n[i]))
    bearing, slim = 3.0 + 2.0 * 1.5, 6.0 / 0.105
    factors = (1.0 - 0.32) * (1.0 + 0.10 * (bearing / 0.105) ** 0.5) * (1.0 - 0.01 * slim**0.5)
    nominal = 13.0 * 0.105**2 * 36.0e3 * factors
    assert allowed.ravel()[0] == pytest.approx(nominal / (3.0 * 1.80 / 1.67))


def test_splay_of_straight_lines_is_nothing():
    solution = solve(rig_of(STIFFENER, MEMBER, at="top", perch="28.105 in"))
    row = rows_of(solution)["sideways bending at the hanger"]
    couple = 0.75 * np.abs(solution.pose.u_s)[:, None, None] * solution.demand.tension
    assert row.demand == pytest.approx(couple)


def test_more_metal_never_raises_the_use():
    rig = rig_of(STIFFENER, MEMBER)
    sides = solve(varied(rig, {"box.side_sheet": np.array([0.0747, 0.105, 0.1345, 0.1793])}))
    for mode in (PUSH, "side wall under the hanger, screening", "shear in the side wall"):
        worst = np.broadcast_to(use(rows_of(sides)[mode]), sides.shape)[:, packed(sides)].max((-2, -1))
        assert np.all(np.diff(worst) < 0.0), mode
    before: dict[str, float] = {}
    for wall in ("HSS1-1/2x1-1/2x1/8", "HSS1-1/2x1-1/2x3/16", "HSS2x2x3/16"):
        solution = solve(rig_of(STIFFENER.replace("HSS1-1/2x1-1/2x1/8", wall), MEMBER, height="5 in"))
        i = packed(solution)
        rows = rows_of(solution)
        now = {mode: float(np.broadcast_to(use(row), solution.shape)[i].max()) for mode, row in rows.items()}
        for mode in (PUSH, "top edge buckling sideways", "sideways bending at the hanger"):
            assert now[mode] < before.get(mode, 1.0e9), (mode, wall)
        before = now


def test_what_buckles_at_the_top_and_what_holds_it_by_hand():
    """HSS1-1/2x1-1/2x1/8 (A 0.609 in2, I 0.193 in4) at the top and a third of the wall over the axis, 0.105 in thick.

    The frame reaches from the middle of the tube down to the middle of the cross-member, 0.105 + 1 in under the floor,
    and bends it about its strong way.
    """
    solution = solve(rig_of(STIFFENER, MEMBER))
    tube, across = shapes.find("HSS1-1/2x1-1/2x1/8"), shapes.find("HSS2x1x1/8")
    edge = rail_edge(solution, stiffener=True)
    wall = (6.0 - float(solution.section.axis)) / 3.0
    assert float(edge.chord.area) == pytest.approx(tube.area + 0.105 * wall, rel=1e-9)
    assert float(edge.chord.inertia) == pytest.approx(tube.iy + wall * 0.105**3 / 12.0, rel=1e-9)
    assert float(edge.height) == pytest.approx(6.0 - 0.75)
    assert float(edge.frame.height) == pytest.approx(6.0 - 0.75 + 0.105 + 1.0)
    assert float(edge.frame.cross_member) == across.ix and not edge.held
    bare = rail_edge(solution, stiffener=False)
    assert float(bare.chord.area) == pytest.approx(0.105 * wall) and float(bare.height) == pytest.approx(6.0 - wall / 2)


def test_nearer_cross_members_hold_the_top_edge_better():
    rig = rig_of(STIFFENER, MEMBER)
    closer = solve(varied(rig, {"cross_member.spacing": np.array([26.0, 20.0, 16.0, 10.0])}))
    capacity = rows_of(closer)["top edge buckling sideways"].capacity.ravel()
    assert np.all(np.diff(capacity) > 0.0)
    over = solve(rig_of(STIFFENER, MEMBER, at="top"))
    under = solve(rig)
    mode = "top edge buckling sideways"
    assert rows_of(over)[mode].capacity.max() > rows_of(under)[mode].capacity.max()


def test_together_is_never_less_than_its_parts():
    solution = solve(rig_of(STIFFENER, MEMBER))
    rows = rows_of(solution)
    together = use(rows["bending both ways, shear and torsion together"])
    for mode in (PUSH, "sideways bending at the hanger", "torsion at the hanger"):
        assert np.all(together >= use(rows[mode]) - 1e-12), mode


def test_one_case_is_its_row_in_the_batch():
    rig = rig_of(STIFFENER, MEMBER)
    many, one = solve(varied(rig, {"hanger.at": np.array([60.0, 68.0, 75.0])})), solve(rig)
    for row, alone in zip(rail_strength_checks(many), rail_strength_checks(one), strict=True):
        full = np.broadcast_to(use(row), many.shape)[1]
        assert full == pytest.approx(np.broadcast_to(use(alone), one.shape)), row.mode


def test_accidents_have_rows_of_their_own():
    rows = rail_strength_checks(solve(rig_of(STIFFENER, MEMBER)))
    assert [row.mode for row in rows if row.on_accidents] == [
        "compression with bending, hinge to hanger (strength)",
        "bending both ways, shear and torsion together (strength)",
        "top edge buckling sideways (strength)",
        "side wall under the hanger, screening (strength)",
    ]


def test_what_is_not_described():
    bare = solve(rig_of(lug=""))
    rows = rows_of(bare)
    assert "top edge buckling sideways" not in rows and "side wall under the hanger, screening" not in rows
    assert rail_not_assessed(bare) == [
        "rail top edge, sideways (no cross-members described)",
        "side wall at the hanger (length of the lug's weld not known)",
    ]
    assert rail_not_assessed(solve(rig_of(STIFFENER, MEMBER))) == []
    assert [flag.code for flag in rail_strength_flags(bare)] == ["hanger_on_bare_sheet"]


@pytest.mark.parametrize("where", ["top", "cap", "bottom", "under"])
def test_stiffener_anywhere_and_bare_sheet_give_numbers(where):
    for rail in ((STIFFENER, f'at = "{where}"\n', MEMBER), (MEMBER,)):
        for row in rows_of(solve(rig_of(*rail))).values():
            assert np.all(np.isfinite(use(row))) and use(row).max() > 0.0, row.mode


def test_floor_strip_over_an_eighth_of_the_floor_is_said():
    """25 in / 8 = 3.125 in, while 5.5 in works in compression."""
    assert rail_strength_flags(solve(rig_of(STIFFENER, 'effective_floor_width = "3.12 in"\n', MEMBER))) == []
    wide = rail_strength_flags(solve(rig_of(STIFFENER, 'effective_floor_width = "3.13 in"\n', MEMBER)))
    assert [(flag.code, flag.stops) for flag in wide] == [("floor_strip_wide", True)]


def test_wide_floor_strip_is_said():
    """25 in of 0.105 in sheet at 12 ksi: lambda 2.06... half of what works is 5.5 in."""
    narrow = solve(rig_of(STIFFENER, 'effective_floor_width = "3 in"\n', MEMBER))
    wide = solve(rig_of(STIFFENER, 'effective_floor_width = "7 in"\n', MEMBER))
    assert rail_strength_flags(narrow) == []
    assert [flag.code for flag in rail_strength_flags(wide)] == ["floor_strip_wide"]


def test_a_rail_that_nobody_described_is_not_assessed_and_not_over():
    text = BOX.format(rail="", lug=LUG, perch="34 in", height="5.25 in")
    for case, described in ((text, True), (text.replace('[rail]\nspacing = "25.105 in"\n', ""), False)):
        found = assess(Rig(read_case_text(case)))
        assert ("rail" in {one.check.part for one in found.worst}) is described
        assert any(one.id == "rail" for one in found.not_assessed) is not described

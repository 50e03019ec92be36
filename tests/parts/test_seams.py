"""Seams of the rail by hand: shear flow, the hanger's pull, stitches, and what is said of a seam nobody described."""

import numpy as np
import pytest

from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution, solve
from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.floor.checks import floor_load
from rigcheck.parts.rail.seams import seam_checks, seam_flags, seams_not_assessed
from rigcheck.tables import shapes
from tests.parts.test_steel_details import RIG

WALL = "[rail.wall_seam]\n"
FLOOR = "[rail.floor_seam]\n"
RUN = 'made = "continuous"\nleg = "1/8 in"\n'
STITCH = 'made = "stitch"\nleg = "1/8 in"\nlength = "2 in"\npitch = "4 in"\n'


def rig_of(*more: str, basis: str = "frame", at: str = "top") -> Rig:
    text = RIG.format(basis=basis, sheet="12 ga", barrel="2 in").replace("[rail]", f'[rail]\nat = "{at}"')
    return Rig(read_case_text(text + "".join(more)))


def rows(rig: Rig) -> tuple[Solution, dict[str, Check]]:
    solution = solve(rig)
    return solution, {one.part: one for one in seam_checks(solution) if not one.ultimate}


def opened(solution: Solution, *, held: bool, runs: int = 1) -> float:
    """What packed gravel does to an inch of seam at the foot of a wall 6 in high, runs of 1/8 in. [lbf/in]

    Saturated gravel pushes with half of its weight under water and with the water, 62.4 lb/ft3, times 1.33: D at the
    foot. D H^2/6 and D H/2 at the foot of a free wall; D H^2/15 and 2 D H/5 of one whose top is held. In one throat of
    0.707 x 1/8 in 6 M/t, between two runs, a third of a leg outside the sheet of 0.1046 in each, M over their distance.
    """
    gravel = float(solution.rig.number("bed.density")) * 1728.0
    foot = 1.33 * (0.5 * (gravel - 62.4) + 62.4) / 1728.0 * 6.0
    moment, thrust = (foot * 36.0 / 15.0, 0.4 * foot * 6.0) if held else (foot * 36.0 / 6.0, 0.5 * foot * 6.0)
    turned = 6.0 * moment / (0.707 * 0.125) if runs == 1 else 2.0 * moment / (0.1046 + 2.0 * 0.125 / 3.0)
    return thrust + turned


def test_two_runs_take_the_push_of_the_wall_as_a_couple():
    solution, found = rows(rig_of(FLOOR + RUN + "sides = 2\n"))
    one, alone = rows(rig_of(FLOOR + RUN))
    i, stiff = next(k for k, row in enumerate(solution.rows) if row.state == "packed"), BOUNDS.index("stiff")
    both, single = (np.broadcast_to(rows_["seam of side wall and floor"].demand, solution.shape)[i, stiff, 0]
                    for rows_ in (found, alone))  # fmt: skip
    flow = np.sqrt(single**2 - opened(one, held=False) ** 2)
    assert both == pytest.approx(0.5 * np.hypot(flow, opened(solution, held=False, runs=2)), rel=1e-3)


def test_both_seams_by_hand():
    """Wall 6 x 0.1046 in, HSS1-1/2x1-1/2x1/8 flush with its top, all pieces about the floor's top."""
    solution, found = rows(rig_of(WALL + RUN, FLOOR + RUN))
    i, stiff = next(k for k, one in enumerate(solution.rows) if one.state == "packed"), BOUNDS.index("stiff")
    shear = solution.bent.on_bounds(solution.peaks.max_shear)[i, stiff, 0]
    tension, at = solution.demand.tension[i, stiff, 0], solution.pose
    tube, tube_i, sheet = 0.608, 0.188, 0.1046  # AISC Manual Table 1-12, HSS1-1/2x1-1/2x1/8
    wall = 6.0 * sheet
    axis = (wall * 3.0 + tube * 5.25) / (wall + tube)
    inertia = wall * 36.0 / 12.0 + wall * (3.0 - axis) ** 2 + tube_i + tube * (5.25 - axis) ** 2
    reach = 5.0 + 2.0 * 1.5
    along = shear * tube * (5.25 - axis) / inertia + tension * abs(at.u_s[i]) * (1.0 - tube / (wall + tube)) / reach
    pulled = np.hypot(along, tension * abs(at.u_n[i]) / reach)
    seam = found["seam of stiffener and side wall"]
    assert np.broadcast_to(seam.demand, solution.shape)[i, stiff, 0] == pytest.approx(pulled, rel=5e-3)
    # 1/8 in of E70 over 2.00, at shop confidence 0.85, under the metal beside it: 0.6 x 36 x 0.1046/1.5 = 1506 lb/in
    assert float(np.max(seam.capacity)) == pytest.approx(min(0.85 * 1856.2, 1506.2), rel=1e-3)
    # half of the floor, 12.5 in, counts for its seam
    floor = 12.5 * sheet
    axis = (wall * 3.0 + tube * 5.25 - floor * sheet / 2.0) / (wall + tube + floor)
    inertia = (
        wall * 36.0 / 12.0 + wall * (3.0 - axis) ** 2 + tube_i + tube * (5.25 - axis) ** 2
        + floor * sheet**2 / 12.0 + floor * (axis + sheet / 2.0) ** 2
    )  # fmt: skip
    flow = shear * floor * (axis + sheet / 2.0) / inertia
    seam = found["seam of side wall and floor"]
    both = np.hypot(flow, opened(solution, held=False))
    assert np.broadcast_to(seam.demand, solution.shape)[i, stiff, 0] == pytest.approx(both, rel=5e-3)
    clean = next(k for k, one in enumerate(solution.rows) if one.state == "running")
    shear = solution.bent.on_bounds(solution.peaks.max_shear)[clean, stiff, 0]
    flow = shear * floor * (axis + sheet / 2.0) / inertia  # no gravel stands against the wall
    assert np.broadcast_to(seam.demand, solution.shape)[clean, stiff, 0] == pytest.approx(flow, rel=5e-3)


@pytest.mark.parametrize("over", [False, True])
def test_half_of_the_floor_hangs_on_its_seam_where_the_members_lie_over_the_top(over):
    """12.5 in of 0.1046 in floor in the flow, and p x 12.5 lb/in square to it where no member lies under the floor."""
    text = RIG.format(basis="frame", sheet="12 ga", barrel="2 in").replace("[rail]", '[rail]\nat = "top"')
    if over:
        text = text.replace("[cross_member]", '[cross_member]\nat = "top"')
    solution, found = rows(Rig(read_case_text(text + FLOOR + RUN)))
    i, stiff = next(k for k, one in enumerate(solution.rows) if one.state == "packed"), BOUNDS.index("stiff")
    shear = solution.bent.on_bounds(solution.peaks.max_shear)[i, stiff, 0]
    tube = shapes.find("HSS1-1/2x1-1/2x1/8")
    sheet = 0.1046
    wall, floor = 6.0 * sheet, 12.5 * sheet
    axis = (wall * 3.0 + tube.area * 5.25 - floor * sheet / 2.0) / (wall + tube.area + floor)
    inertia = (
        wall * 36.0 / 12.0 + wall * (3.0 - axis) ** 2 + tube.ix + tube.area * (5.25 - axis) ** 2
        + floor * sheet**2 / 12.0 + floor * (axis + sheet / 2.0) ** 2
    )  # fmt: skip
    flow = shear * floor * (axis + sheet / 2.0) / inertia
    hung = floor_load(solution).pressure[i] * 12.5 if over else 0.0
    demand = np.broadcast_to(found["seam of side wall and floor"].demand, solution.shape)[i, stiff, 0]
    assert demand == pytest.approx(np.hypot(flow, hung + opened(solution, held=over)), rel=1e-3)
    assert bool(hung > 0.0) is over


def test_a_stitch_carries_its_pitch_and_two_runs_share():
    _, run = rows(rig_of(WALL + RUN, FLOOR + RUN))
    _, stitch = rows(rig_of(WALL + STITCH, FLOOR + STITCH))
    _, both = rows(rig_of(WALL + STITCH + "sides = 2\n", FLOOR + STITCH))
    for part, seam in run.items():
        assert stitch[part].demand == pytest.approx(2.0 * seam.demand)
    wall = "seam of stiffener and side wall"
    assert both[wall].demand == pytest.approx(run[wall].demand)
    assert float(np.max(both[wall].capacity)) < float(np.max(run[wall].capacity))  # one sheet behind two welds


def test_a_rare_stitch_is_over_where_a_run_is_not():
    rare = 'made = "stitch"\nleg = "1/8 in"\nlength = "1 in"\npitch = "24 in"\n'
    solution, found = rows(rig_of(WALL + rare, FLOOR + RUN, basis="lifting"))
    seam = found["seam of stiffener and side wall"]
    assert float(np.max(np.broadcast_to(seam.demand / seam.capacity, solution.shape))) > 1.0
    assert bool(assess(rig_of(WALL + rare, FLOOR + RUN, basis="lifting")).over)
    _, run = rows(rig_of(WALL + RUN, FLOOR + RUN, basis="lifting"))
    seam = run["seam of stiffener and side wall"]
    assert float(np.max(np.broadcast_to(seam.demand / seam.capacity, solution.shape))) < 1.0


def test_a_seam_that_is_not_described_is_not_assessed():
    assert [one.id for one in seams_not_assessed(solve(rig_of()))] == ["rail.wall_seam", "rail.floor_seam"]
    assert [one.id for one in seams_not_assessed(solve(rig_of(WALL + RUN)))] == ["rail.floor_seam"]
    assert seam_checks(solve(rig_of())) == []
    bent = solve(rig_of(WALL + RUN, FLOOR + 'made = "bent"\n'))
    assert seams_not_assessed(bent) == []
    assert {one.part for one in seam_checks(bent)} == {"seam of stiffener and side wall"}


def test_both_bases_and_the_place_of_the_stiffener():
    solution = solve(rig_of(WALL + RUN, FLOOR + RUN))
    assert {one.ultimate for one in seam_checks(solution)} == {False, True}
    _, top = rows(rig_of(WALL + RUN))
    _, low = rows(rig_of(WALL + RUN, at="bottom"))  # the lug stands on the wall: no pull through the seam
    part = "seam of stiffener and side wall"
    assert float(np.max(low[part].demand)) < float(np.max(top[part].demand))


@pytest.mark.parametrize(("pitch", "codes"), [("13.98 in", set()), ("14.02 in", {"stitch_gap_wide"})])
def test_no_gap_between_stitches_is_over_a_foot(pitch, codes):
    """In thick sheet 24 t and 0.75 t sqrt(E/Fy) are over the foot of AISC 360-22 E6.2 (memory): 12.8 for 0.6 in."""
    seam = f'made = "stitch"\nleg = "1/8 in"\nlength = "2 in"\npitch = "{pitch}"\n'
    text = RIG.format(basis="frame", sheet="0.6 in", barrel="2 in") + FLOOR + seam
    assert {one.code for one in seam_flags(solve(Rig(read_case_text(text))))} == codes


@pytest.mark.parametrize(
    ("length", "pitch", "codes"),
    [
        ("1.49 in", "3 in", {"stitch_short"}),
        ("1.5 in", "3 in", set()),
        ("2 in", "4.22 in", set()),  # 0.75 sqrt(29000/36) x 0.1046 = 2.227 in of gap
        ("2 in", "4.24 in", {"stitch_gap_wide"}),
    ],
)
def test_limits_of_stitches_at_their_edges(length, pitch, codes):
    seam = f'made = "stitch"\nleg = "1/8 in"\nlength = "{length}"\npitch = "{pitch}"\n'
    assert {one.code for one in seam_flags(solve(rig_of(FLOOR + seam)))} == codes

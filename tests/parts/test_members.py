"""Cross-members and floor on a whole rig: by hand, one way only, and what is not described."""

import numpy as np
import pytest

from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution, solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.cross_member import checks as members_module
from rigcheck.parts.cross_member.checks import TOGETHER, member_checks, member_not_assessed
from rigcheck.parts.cross_member.forces import (
    Carried,
    hanger_member,
    head_member,
    head_shape,
    tail_member,
    twisted_member,
)
from rigcheck.parts.floor.checks import floor_checks, floor_load, floor_not_assessed, floor_spans
from rigcheck.parts.rail.roll import UNJOINED
from rigcheck.statics.balance import line_per_rail
from rigcheck.strength.bases import BASES
from rigcheck.tables import shapes
from tests.support.road_rig import BACK, road_rig

BAYS = 1.143
"""What the hardest loaded member of a continuous floor carries over pressure times spacing, four bays: AISC Manual
Table 3-22c (memory), and `hardest` below. Fewer or more than four bays of three and over carry less."""

BOX = """
title = "Wren Gully, trial"
[plant]
cross_slope = "0 deg"
[box]
length = "104 in"
width = "25 in"
side_height = "6 in"
pitch = "0 deg"
sheet = "0.105 in"
allowance = "0 %"
[rail]
spacing = "26 in"
[hinge]
spacing = "24 in"
[hanger]
at = "68 in"
height = "6 in"
spacing = "28 in"
[perch]
downstream = "-6 in"
height = "57 in"
spacing = "34 in"
[line]
[[line.link]]
kind = "lever hoist"
wll = "1500 lb"
rated_to_suspend = true
[bed]
density = "128 lb/ft3"
[weld]
hand = "tested"
"""
MEMBER = """
[cross_member]
shape = "{shape}"
spacing = "{spacing}"
at = "{at}"
steel = "A500B"
weld = "1/8 in"
weld_length = "4 in"
"""
TUBE = '[end_tube]\nshape = "HSS2x1-1/2x1/8"\n'


def rig_of(*parts: str, shape: str = "HSS2x1x1/8", spacing: str = "16 in", at: str = "under") -> Rig:
    return Rig(read_case_text(BOX + "".join(parts).format(shape=shape, spacing=spacing, at=at), name="trial.toml"))


def rows_of(solution: Solution) -> dict[tuple[str, str], Check]:
    return {(row.part, row.mode): row for row in [*member_checks(solution), *floor_checks(solution)]}


def use(row: Check) -> np.ndarray:
    return np.asarray(row.demand / row.capacity)


def first(solution: Solution, state: str) -> int:
    return int(np.flatnonzero(solution.states(state))[0])


def worst_use(row: Check, solution: Solution) -> np.ndarray:
    return np.broadcast_to(use(row), solution.shape).max((-3, -2, -1))


def test_pressure_of_the_packed_box_by_hand():
    """6 in of gravel at 128 lb/ft3, the floor sheet, the cross-members under it; a level box without water."""
    solution = solve(rig_of(MEMBER))
    load = floor_load(solution)
    i = first(solution, "packed")
    gravel, sheet = 6.0 * 128.0 / 1728.0, 0.105 * 490.0 / 1728.0
    member = next(piece for piece in solution.life.pieces if piece.name.startswith("cross-members"))
    still = gravel + sheet + float(member.weight) / (104.0 * 25.0)
    assert load.still[i] == pytest.approx(still, rel=1e-6)
    assert load.pressure[i] == pytest.approx(still * 1.33, rel=1e-6)
    assert load.people[i] == 0.0
    manned = first(solution, "cleanout")
    assert load.people[manned] == pytest.approx(250.0 * 1.5)  # a person steps down: the case's own factor
    assert (load.person[manned], load.people_still[manned]) == pytest.approx((250.0, 250.0))


def test_where_only_the_road_is_looked_at_nothing_lies_on_the_floor():
    """A few rows, all of the folded box: the head member was looked at there and the program ended in 70."""
    solution = solve(road_rig(BACK))
    assert len(solution.rows) > len(solution.life.loads.rows)
    load = floor_load(solution.at_rows([len(solution.rows) - 1], bounds=[0]))
    assert load.pressure.shape == (1,) and load.pressure[0] == load.people[0] == load.people_at[0] == 0.0


def test_members_that_are_described_are_checked_each_by_its_name():
    """Floor members, the one at the hangers, the head and the tail: whichever there are, all of them."""
    whole = {row.part for row in member_checks(solve(rig_of(MEMBER, TUBE)))}
    assert {"cross-member", "hanger cross-member", "head cross-member", "tail end tube"} <= whole
    no_tail = {row.part for row in member_checks(solve(rig_of(MEMBER, TUBE + "tail = false\n")))}
    assert "tail end tube" not in no_tail and "head cross-member" in no_tail


def test_the_member_at_the_hinge_is_the_head_tube_only_where_there_is_one():
    """Without a head tube the first cross-member under the floor stands there."""
    assert head_shape(rig_of(MEMBER, TUBE)).name == shapes.find("HSS2x1-1/2x1/8").name
    for tube in ("", TUBE + "head = false\n"):
        assert head_shape(rig_of(MEMBER, tube)).name == shapes.find("HSS2x1x1/8").name
    assert head_shape(rig_of(TUBE + "head = false\n")) is None


def test_buckling_loads_of_a_member_each_way_by_hand():
    """HSS2x1x1/8 over 26 in: Ix 0.280, Iy 0.0922 in4 (AISC Manual Table 1-11, memory), pinned ends."""
    rig = rig_of(MEMBER)
    allowed = members_module._allowed(rig, shape=shapes.find("HSS2x1x1/8"), basis=BASES["frame"])
    for euler, inertia in zip(allowed.euler, (0.280, 0.0922), strict=True):
        assert float(np.ravel(euler)[0]) == pytest.approx(np.pi**2 * 29.0e6 * inertia / 26.0**2, rel=0.02)


def test_a_member_pushed_or_pulled_along_itself_is_used_by_it():
    """Nothing but 10,000 lb along it: over its strength as a strut of 26 in, or in tension Fy A / 1.67."""
    rig = rig_of(MEMBER)
    allowed = members_module._allowed(rig, shape=shapes.find("HSS2x1x1/8"), basis=BASES["frame"])
    none = np.zeros((1, 1, 1))
    pushed, pulled = (
        float(
            np.ravel(
                members_module._together(
                    Carried(upright=none, flat=none, end=none, pull=none + along, shear=none), allowed=allowed
                )
            )[0]
        )
        for along in (-10000.0, 10000.0)
    )
    # A 0.608 in2 (AISC Manual Table 1-11, memory)
    assert pulled == pytest.approx(10000.0 * 1.67 / (46.0e3 * 0.608), rel=0.02)
    assert 1.0 < pushed / pulled < 1.5


def test_pressure_is_never_less_than_all_that_lies_on_the_floor():
    solution = solve(rig_of(MEMBER))
    load = floor_load(solution)
    level = np.isin(
        np.arange(len(solution.rows)), np.flatnonzero(solution.states("running", "plugged", "iced", "packed"))
    )
    beside = sum(float(p.weight) for p in solution.life.pieces if p.name.startswith(("side walls", "rail stiff")))
    spread = load.still * 104.0 * 25.0
    assert np.all(spread[level] >= solution.service.weight[level] - beside - 40.0)


def test_cross_member_by_hand():
    """26 in between the rails; 104 in at 16 in gives 7 members, so 1.143 of a bay."""
    solution = solve(rig_of(MEMBER))
    rows, load = rows_of(solution), floor_load(solution)
    i = first(solution, "cleanout")
    per_inch = load.pressure[i] * 16.0 * BAYS
    moment = per_inch * 26.0**2 / 8.0 + 250.0 * 1.5 * 26.0 / 4.0
    row = rows["cross-member", "bending under the floor"]
    assert np.broadcast_to(row.demand, solution.shape)[i, 0, 0] == pytest.approx(moment)
    # compact tube: 1.10 of the yield moment at most
    assert row.capacity.ravel()[0] == pytest.approx(1.10 * 46.0e3 * 0.280 / 3.0, rel=0.01)
    force = rows["cross-member", "shear"].demand
    assert np.broadcast_to(force, solution.shape)[i, 0, 0] == pytest.approx(per_inch * 13.0 + 250.0 * 1.5)
    sag = rows["cross-member", "sag between the rails"]
    inertia = 0.280
    still = load.still[i] * 16.0 * BAYS
    bent = (5.0 * still * 26.0**4 / 384.0 + 250.0 * 26.0**3 / 48.0) / (29.0e6 * inertia)
    assert np.broadcast_to(sag.demand, solution.shape)[i, 0, 0] == pytest.approx(bent, rel=0.01)


def test_the_floor_sheet_may_sag_a_sixtieth_of_its_span():
    """16 in between cross-members: 0.2667 in; a yardstick of our own."""
    row = next(one for (part, mode), one in rows_of(solve(rig_of(MEMBER))).items()
               if part == "floor sheet" and mode.startswith("sag"))  # fmt: skip
    assert float(np.ravel(row.capacity)[0]) == pytest.approx(16.0 / 60.0)


def hardest(bays: int) -> float:
    """Largest inner reaction of a beam over equal bays under an even load, over load times bay: three moments."""
    inner = bays - 1
    moments = np.zeros(bays + 1)
    if inner:
        matrix = 4.0 * np.eye(inner) + np.eye(inner, k=1) + np.eye(inner, k=-1)
        moments[1:-1] = np.linalg.solve(matrix, np.full(inner, -0.5))
    shear = 0.5 + np.diff(moments)  # at the head of each bay
    tail = 1.0 - shear
    reactions = np.append(shear, 0.0) + np.append(0.0, tail)
    return float(reactions[1:-1].max()) if inner else float(reactions.max())


@pytest.mark.parametrize(("spacing", "bays", "share"), [(104.0, 1, 0.5), (52.0, 2, 1.25), (26.0, 4, 1.143)])
def test_a_cross_member_carries_what_a_continuous_floor_leaves_it(spacing, bays, share):
    """One bay half of it, two 5/4, four 8/7: the reactions of continuous beams."""
    assert hardest(bays) == pytest.approx(share, rel=5e-4)
    assert max(hardest(more) for more in range(3, 30)) == pytest.approx(8.0 / 7.0)
    solution = solve(varied(rig_of(MEMBER), {"cross_member.spacing": np.array(spacing)}))
    load, i = floor_load(solution), first(solution, "packed")
    assert load.people[i] == 0.0
    force = rows_of(solution)["cross-member", "shear"].demand
    by_hand = load.pressure[i] * spacing * share * 13.0  # half of 26 in between the rails
    assert np.broadcast_to(force, solution.shape)[i, 0, 0] == pytest.approx(by_hand)


def test_hanger_member_by_hand():
    """Hangers 1 in outside the rails and 7.105 in over the member's middle; the line splays outward."""
    solution = solve(rig_of(MEMBER, at="top"))
    i, at = first(solution, "packed"), solution.pose
    row = rows_of(solution)["hanger cross-member end weld", "force per inch"]
    tension = solution.demand.tension[i, 1, 0]
    over = 6.0 - (6.0 + 1.0)  # a 2 in tube over the top
    end = abs(tension * (at.u_n[i] * 1.0 - at.uy[i] * over))
    flat = abs(tension * at.u_s[i] * 1.0)
    pull = tension * at.uy[i]
    assert at.uy[i] > 0.0
    # two runs of 4 in, 1 in apart, 1 in off the middle: L 8, about the box 2 x 4^3/12, about itself 2 x 4 x 0.5^2
    turned, around = 2.0 * 64.0 / 12.0, 2.0 * 64.0 / 12.0 + 2.0
    out = end / 26.0 / 8.0 + (end + pull * 1.0) * 2.0 / turned
    across, along = flat / 26.0 / 8.0 + flat * 2.0 / around, pull / 8.0 + flat * 0.5 / around
    force = np.sqrt(out**2 + across**2 + along**2)
    assert np.broadcast_to(row.demand, solution.shape)[i, 1, 0] == pytest.approx(force)


def test_head_member_by_hand():
    """Hinge groups 1 in inside the rails, pin 1.105 in over the middle of a 2 in tube under a 0.105 in floor."""
    solution = solve(rig_of(TUBE))
    carried = head_member(solution, shape=head_shape(solution.rig))
    i = first(solution, "towing")
    force = solution.demand.hinge[i, 1]
    outward = force[:, 1] * np.array([1.0, -1.0])
    assert carried.pull[i, 1] == pytest.approx(outward)
    assert carried.end[i, 1] == pytest.approx(np.abs(-1.0 * force[:, 2] - outward * (0.105 + 1.0)))
    assert carried.flat[i, 1] == pytest.approx(np.abs(force[:, 0]))
    # the hinge's own shears go through it, and with 1.105 in over its middle twist it; the plain box hangs alike
    assert carried.aside[i, 1] == pytest.approx(np.abs(force[:, 0]))
    assert carried.shear[i, 1] == pytest.approx(np.abs(force[:, 2]))
    twist = solution.bent.forces.ties.torque[solution.bent.place(i, 1), 0] * np.array([1.0, -1.0])
    assert carried.torque[i, 1] == pytest.approx(np.maximum(np.abs(twist), np.abs(twist + force[:, 0] * 1.105)))


def test_all_of_the_box_on_one_line_twists_the_members_by_what_is_out_of_balance():
    """Level box, pin, hangers and line at one height: T s_H (h/b)/2 goes through the members, each by what twists it.

    Hangers 28 in and rails 26 in apart; the torques of all add up, the worst of the cross-members is told, the tail's
    tube has its own.
    """
    solution = solve(rig_of(MEMBER, TUBE))
    i, left = first(solution, "empty"), 3
    at = solution.pose
    total = float(solution.demand.total[i])
    unlike = total / float(line_per_rail(solution.layout, pose=at)[i])
    s_h, n_h = 68.0, 6.0
    torque = solution.bent.forces.ties.torque[solution.bent.place(i, left)]
    sheets = solution.bent.forces.ties.own[solution.bent.place(i, left)]
    # the pull's own moment about the pin: square to the floor at 68 in, along it 6 in over the pin
    out_of_balance = 0.5 * unlike * (float(at.u_n[i]) * s_h - float(at.u_s[i]) * n_h)
    assert torque.sum() + sheets.sum() == pytest.approx(out_of_balance)
    assert 0.0 < sheets.sum() < 0.1 * out_of_balance
    assert twisted_member(solution).torque[i, left, 0] == pytest.approx(torque[:-2].max())
    assert tail_member(solution).torque[i, left, 1] == pytest.approx(torque[-1])
    near = hanger_member(solution).torque[i, left, 0]
    assert near == pytest.approx(torque[4])  # 64 in
    assert twisted_member(solution).torque[i, 0] == pytest.approx(0.0)  # limp: nothing twists


def test_open_members_say_that_their_warping_is_neglected():
    for shape, told in (("angle 2x2x3/16", True), ("HSS2x1x1/8", False)):
        rows = rows_of(solve(rig_of(MEMBER, shape=shape)))
        clause = rows["cross-member", TOGETHER].clause
        assert ("warping neglected" in clause) is told


def test_an_angle_has_an_end_weld():
    """Two runs along its flat leg: 2 in apart, each 4 in long."""
    solution = solve(rig_of(MEMBER, shape="angle 2x2x3/16"))
    row = rows_of(solution)["cross-member end weld", "force per inch"]
    i, left = first(solution, "empty"), 3
    carried = twisted_member(solution)
    torque = float(carried.torque[i, left, 0])
    shear = float(np.broadcast_to(carried.shear, solution.shape)[i, left, 0])
    assert row.demand[i, left, 0] == pytest.approx(shear / 8.0 + torque * 1.0 / (2.0 * 4.0 * 1.0**2))


def test_both_runs_of_a_bar_share_its_one_thickness():
    """1/8 in bar of 46 ksi: each of two runs has half of it, 46,000 x 0.125/2 / (3 root 3), under 0.105 in of sheet."""
    row = rows_of(solve(rig_of(MEMBER, shape="bar 2x1/8")))["cross-member end weld", "force per inch"]
    assert float(np.max(row.capacity)) == pytest.approx(46.0e3 * 0.0625 / (3.0 * np.sqrt(3.0)))


def test_floor_by_hand():
    solution = solve(rig_of(MEMBER))
    rows, load = rows_of(solution), floor_load(solution)
    i, manned = first(solution, "packed"), first(solution, "cleanout")
    modulus = 0.105**2 / 6.0
    row = rows["floor sheet", "bending under its load"]
    over = 104.0 - 6.0 * 16.0  # sheet past the last member, no tube at the tail
    moment = max(0.1071 * load.pressure[i] * 16.0**2, load.pressure[i] * over**2 / 2.0)
    assert np.broadcast_to(row.demand, solution.shape)[i, 0, 0] == pytest.approx(moment / modulus)
    assert row.capacity.ravel()[0] == pytest.approx(1.25 * 32.0e3 / 3.0)  # unknown steel, plate on the flat, lifting
    foot = rows["floor sheet", "bending under one boot print, 4 in wide, weight at rest"]
    spread = max(0.1071 * load.pressure[manned] * 16.0**2, load.pressure[manned] * over**2 / 2.0)
    one = 250.0 * 16.0 * 0.203 / (4.0 + 0.6 * 16.0)
    assert np.broadcast_to(foot.demand, solution.shape)[manned, 0, 0] == pytest.approx((spread + one) / modulus)
    assert not np.broadcast_to(foot.where, solution.shape)[i].any()


def test_a_tube_at_the_tail_ends_the_overhang():
    past = '[end_tube]\nshape = "HSS2x1-1/2x1/8"\n'
    assert floor_spans(rig_of(MEMBER)).overhang == pytest.approx(8.0)
    assert floor_spans(rig_of(MEMBER, past)).overhang == 0.0
    top = floor_spans(rig_of(MEMBER, at="top"))
    assert (top.span, top.count) == (25.0, 1.0)


def test_a_person_away_from_the_hanger_member_does_not_stand_on_it():
    solution = solve(rig_of(MEMBER))
    manned = np.flatnonzero(solution.states("cleanout"))
    people = floor_load(solution).people_at[manned]
    shear = np.broadcast_to(hanger_member(solution).shear, solution.shape)
    force = shear[manned, 1, 0] / solution.demand.tension[manned, 1, 0]
    near, far = force[np.abs(people - 64.0) < 16.0], force[np.abs(people - 64.0) > 16.0]
    assert near.min() > far.max()


def test_past_the_last_member_the_hangers_count_on_the_last_one():
    """Members at 0, 40 and 80 in of 104, hangers at 101: two bays, 1.25 of one; people by how near to 80."""
    solution = solve(varied(rig_of(MEMBER, spacing="40 in"), {"hanger.at": np.array(101.0)}))
    carried, load = hanger_member(solution), floor_load(solution)
    manned = np.flatnonzero(solution.states("cleanout"))
    share = np.maximum(1.0 - np.abs(load.people_at[manned] - 80.0) / 40.0, 0.0)
    assert (share > 0.0).any() and (share == 0.0).any()
    floor = load.pressure[manned] * 40.0 * 1.25 * 13.0 + load.people[manned] * share
    beside = np.broadcast_to(carried.shear - carried.end / 26.0, solution.shape)[manned, 1, 0]
    assert beside == pytest.approx(floor)


def test_more_metal_never_raises_the_use():
    before = None
    for shape in ("HSS2x1x1/8", "HSS2x1x3/16", "HSS2x2x3/16", "HSS3x2x3/16"):
        solution = solve(rig_of(MEMBER, TUBE, shape=shape))
        now = worst_use(rows_of(solution)["cross-member", "bending under the floor"], solution)
        assert before is None or now < before
        before = now
    rig = rig_of(MEMBER, TUBE)
    legs = solve(varied(rig, {"cross_member.weld": np.array([0.0625, 0.125, 0.1875])}))
    for row in member_checks(legs):
        if "weld" in row.part:
            assert np.all(np.diff(worst_use(row, legs)) <= 0.0)
    closer = solve(varied(rig, {"cross_member.spacing": np.array([26.0, 20.8, 17.0, 14.0])}))
    for row in floor_checks(closer):
        assert np.all(np.diff(worst_use(row, closer)) < 0.0), row.mode


def test_one_case_is_its_row_in_the_batch():
    rig = rig_of(MEMBER, TUBE)
    many, one = solve(varied(rig, {"box.width": np.array([22.0, 25.0, 25.6])})), solve(rig)
    for row, alone in zip(rows_of(many).values(), rows_of(one).values(), strict=True):
        full = np.broadcast_to(use(row), many.shape)[1]
        assert full == pytest.approx(np.broadcast_to(use(alone), one.shape)), row.mode


def test_what_is_not_described():
    bare = solve(rig_of())
    assert rows_of(bare) == {}
    assert member_not_assessed(bare) == [UNJOINED, "cross-members", "head cross-member", "cross-member end welds"]
    assert floor_not_assessed(bare) == ["floor sheet (spans unknown)"]
    whole = solve(rig_of(MEMBER, TUBE))
    assert member_not_assessed(whole) == [] == floor_not_assessed(whole)
    assert "cross-member end welds" in member_not_assessed(solve(rig_of(MEMBER.replace('weld = "1/8 in"\n', ""))))
    assert member_not_assessed(solve(rig_of(MEMBER, at="top"))) == ["head cross-member"]
    assert member_not_assessed(solve(rig_of(MEMBER, shape="angle 2x2x3/16"))) == []
    # under the floor there is no wall to weld to: without the length along the floor nobody knows the weld
    short = MEMBER.replace('weld_length = "4 in"\n', "")
    assert "length" in member_not_assessed(solve(rig_of(short)))[0]
    assert "line" in member_not_assessed(solve(rig_of(MEMBER, shape="pipe 1-1/2 std")))[0]


@pytest.mark.parametrize("shape", ["angle 2x2x3/16", "pipe 1-1/2 std", "bar 2x1", "round tube 2x.120", "round 1-1/2"])
def test_every_family_of_shapes_gives_numbers(shape):
    solution = solve(rig_of(MEMBER, shape=shape))
    for row in rows_of(solution).values():
        assert np.all(np.isfinite(use(row))) and use(row).max() > 0.0, row.mode


def test_each_wall_of_a_box_carries_its_own_shear_and_a_bar_carries_both() -> None:
    def use(shape: str, *, upright: float, aside: float) -> float:
        allowed = members_module._allowed(rig_of(), shape=shapes.find(shape), basis=BASES["frame"])
        zero = np.zeros(())
        carried = Carried(
            upright=zero, flat=zero, end=zero, pull=zero,
            shear=upright * allowed.shear, aside=aside * allowed.aside, torque=zero,
        )  # fmt: skip
        return float(members_module._together(carried, allowed=allowed).item())

    # shares of 0.6 and 0.5: the walls of a tube stand apart, so 0.6; one bar has both, so 1.1
    assert use("HSS3x2x1/8", upright=0.6, aside=0.5) == pytest.approx(0.6)
    assert use("HSS3x2x1/8", upright=0.2, aside=0.5) == pytest.approx(0.5)
    assert use("bar 2x1", upright=0.6, aside=0.5) == pytest.approx(1.1)

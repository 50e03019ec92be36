"""Traps, troughs and gates: what stands in them against exact integrals, where it counts, and what it does to a line.

The box of these tests is 105 in long, 27 in wide and 7 in deep, with members 1 1/2 in wide every 15 in under its floor.
"""

from dataclasses import fields
from math import atan, cos, pi, sin, sqrt

import numpy as np
import pytest
from scipy.integrate import quad

from rigcheck.analysis.solve import solve
from rigcheck.case.rig import varied
from rigcheck.loads.contents import bed_layer, contents, left_over
from rigcheck.loads.folded import folded_rows
from rigcheck.loads.states import life
from rigcheck.loads.steel import dead_loads, take_off
from rigcheck.loads.trap_shape import half_ring, segment, two_legs, vee
from rigcheck.loads.traps import stands_full, stands_left
from tests.statics.random_rigs import FOLDING, PLAIN, rig_of

BARE = PLAIN.replace('effective_floor_width = "2 in"', 'effective_floor_width = "0 in"')
PIPE = '[[trap]]\nkind = "half pipe"\nat = "22.5 in"\ndiameter = "4 in"\nwall = "1/8 in"\n'
PLATE = '[[trap]]\nkind = "plate"\nat = "40 in"\nheight = "2 in"\nwall = "1/8 in"\n'
GATE = '[[gate]]\nat = "24 in"\nheight = "5 in"\nopening = "1 in"\nsheet = "3/16 in"\n'
FALL = 1.375 / 12.0
CONCENTRATE, GRAVEL, STEEL = 160.0 / 1728.0, 128.0 / 1728.0, 490.0 / 1728.0


def weight(strips):
    return sum(float(0.5 * (one.w_start + one.w_end) * (one.end - one.start)) for one in strips)


@pytest.mark.parametrize("depth", [0.0, 1e-4, 0.3, 1.0, 1.9, 2.0])
def test_a_half_pipe_partly_full_holds_the_segment_of_its_circle(depth):
    size, turn = (quad(lambda z, k=k: 2.0 * sqrt(max(4.0 - z * z, 0.0)) * z**k, -2.0, -2.0 + depth)[0] for k in (0, 1))
    found = segment(np.asarray(2.0), depth=np.asarray(depth))
    assert float(found.size) == pytest.approx(size, rel=1e-5, abs=1e-12)
    assert float(found.n) == pytest.approx(turn / size if size else -2.0, rel=1e-5)


def test_a_full_half_pipe_and_an_angle_are_the_known_figures():
    pipe, legs = segment(np.asarray(1.5), depth=np.asarray(1.5)), vee(np.asarray(3.0), depth=np.asarray(1.0))
    assert (float(pipe.size), float(pipe.n)) == pytest.approx((pi * 1.5**2 / 2.0, -4.0 * 1.5 / (3.0 * pi)))
    # a triangle one inch deep and two wide, its middle 2/3 in over the corner, which is 3/sqrt 2 below the floor
    assert (float(legs.size), float(legs.n)) == pytest.approx((1.0, 2.0 / 3.0 - 3.0 / sqrt(2.0)))
    assert float(vee(np.asarray(3.0), depth=np.asarray(3.0 / sqrt(2.0))).size) == pytest.approx(4.5)


def test_the_metal_of_half_pipe_and_angle_is_what_quadrature_gives():
    ring = half_ring(np.asarray(2.0), wall=np.asarray(0.125))
    size = quad(lambda r: pi * r, 2.0, 2.125)[0]
    low = quad(lambda r: 2.0 * r**2, 2.0, 2.125)[0] / size
    assert (float(ring.size), float(ring.n)) == pytest.approx((size, -low))
    legs = two_legs(np.asarray(3.0), wall=np.asarray(0.25))
    # two rectangles of an L, 3 x 1/4 and 1/4 x 2 3/4, whose middles lie out along the line between the legs
    areas, out = (0.75, 0.6875), ((1.5 + 0.125) / sqrt(2.0), (0.125 + 1.625) / sqrt(2.0))
    middle = sum(a * o for a, o in zip(areas, out, strict=True)) / sum(areas)
    assert (float(legs.size), float(legs.n)) == pytest.approx((sum(areas), middle - 3.0 / sqrt(2.0)))


def test_a_trap_stands_full_of_concentrate_below_the_slot():
    (strip,) = stands_full(rig_of(BARE + PIPE))
    assert weight([strip]) == pytest.approx(0.5 * pi * 4.0 * 27.0 * CONCENTRATE)
    assert (float(strip.start), float(strip.end), float(strip.n_start)) == pytest.approx(
        (20.5, 24.5, -8.0 / (3.0 * pi))
    )
    trough = PIPE + 'holds = "water and sand"\ndrained_to = "1 in"\n'
    assert weight(stands_full(rig_of(BARE + trough))) == pytest.approx(0.5 * pi * 4.0 * 27.0 * GRAVEL)
    left = 4.0 * np.arccos(0.5) - sqrt(3.0)  # the segment an inch deep of a circle of 2 in
    assert weight(stands_left(rig_of(BARE + trough))) == pytest.approx(left * 27.0 * GRAVEL)


def test_a_plate_holds_back_a_wedge_that_is_level_at_its_top():
    strips = stands_full(rig_of(BARE + PLATE))
    size = quad(lambda s: max(2.0 - (40.0 - s) * FALL, 0.0), 0.0, 40.0, points=[40.0 - 2.0 / FALL])[0]
    assert weight(strips) == pytest.approx(size * 27.0 * CONCENTRATE)
    short = stands_full(rig_of(BARE + PLATE.replace('"40 in"', '"9 in"')))
    assert weight(short) == pytest.approx((2.0 + 2.0 - 9.0 * FALL) / 2.0 * 9.0 * 27.0 * CONCENTRATE)
    packed = stands_full(rig_of(BARE + PLATE), packed=True)
    assert weight(packed) == pytest.approx(size * 27.0 * (CONCENTRATE - GRAVEL))


def test_a_trap_its_ends_and_a_gate_are_in_the_take_off():
    pieces = {piece.id: piece for piece in take_off(rig_of(BARE + PIPE + GATE))}
    wall = 0.1046  # 12 ga
    pipe = 0.5 * pi * (2.125**2 - 4.0) * (27.0 + 2.0 * wall) + pi * 4.0 * 0.125
    assert float(pieces["trap.0"].weight) == pytest.approx(pipe * STEEL, rel=1e-3)
    assert float(pieces["gate"].weight) == pytest.approx(4.0 * 27.0 * 0.1875 * STEEL, rel=1e-6)
    assert float(pieces["gate"].n) == pytest.approx(3.0)


def test_an_empty_weightless_trap_changes_nothing():
    bare = rig_of(BARE)
    nothing = {"trap.0.density": np.zeros(()), "trap.0.wall": np.zeros(())}
    one, other = solve(bare), solve(varied(rig_of(BARE + PIPE + 'drained_to = "0 in"\n'), nothing))
    assert [row.state for row in one.rows] == [row.state for row in other.rows]
    for name in ("tension", "hinge"):
        a, b = getattr(one.demand, name), getattr(other.demand, name)
        assert np.abs(a - b).max() <= 1e-9 * np.abs(a).max()
    for field in fields(one.peaks):
        a, b = getattr(one.peaks, field.name), getattr(other.peaks, field.name)
        if isinstance(a, np.ndarray) and a.dtype == float and a.shape == b.shape:
            assert np.abs(a - b).max() <= 1e-9 * max(np.abs(a).max(), 1.0), field.name


def line_pull(text, state, **variant):
    found = solve(rig_of(text.replace('cross_slope = "1.5 deg"', 'cross_slope = "0 deg"\nfore_aft_slope = "0 deg"')))
    row = next(i for i, one in enumerate(found.rows) if one.state == state and dict(one.variant) == variant)
    return float(found.held.tension[row, 1].sum())


def test_a_full_trap_pulls_the_lines_by_its_weight_and_lever_arm():
    """By hand: T d = W x. Hanger 71 in along and 7.5 in up, perch at (-8, 58); the floor falls 1 3/8 in a foot.

    x_H = 71 cos b + 7.5 sin b = 71.393, z_H = -71 sin b + 7.5 cos b = -0.6309; to the perch -79.393, 58.631, and
    (35 - 30)/2 = 2.5 aside: 98.729 long. d = (71.393 x 58.631 - 0.6309 x 79.393)/98.729 = 41.89 in.
    """
    b = atan(FALL)
    x, z = 71.0 * cos(b) + 7.5 * sin(b), -71.0 * sin(b) + 7.5 * cos(b)
    to_x, to_z = -8.0 - x, 58.0 - z
    arm = (x * to_z - z * to_x) / sqrt(to_x**2 + to_z**2 + 2.5**2)
    assert arm == pytest.approx(41.89, abs=0.01)

    def moment(own, s, n):
        return own * (s * cos(b) + n * sin(b))

    pipe = (0.5 * pi * (2.125**2 - 4.0) * (27.0 + 2.0 * 0.1046), 4.0 * (2.125**3 - 8.0) / (3.0 * pi * (2.125**2 - 4.0)))
    ends = (pi * 4.0 * 0.125, 8.0 / (3.0 * pi))
    steel = moment(pipe[0] * STEEL, 22.5, -pipe[1]) + moment(ends[0] * STEEL, 22.5, -ends[1])
    allowance = (pipe[0] + ends[0]) * STEEL * 0.08  # spread along the box, at the height of what runs along it
    full = moment(0.5 * pi * 4.0 * 27.0 * CONCENTRATE, 22.5, -8.0 / (3.0 * pi))
    told = line_pull(BARE + PIPE, "running") - line_pull(BARE, "running")
    assert told == pytest.approx((steel + full + moment(allowance, 52.5, 1.5)) / arm, rel=2e-3)
    as_left = line_pull(BARE + PIPE, "empty", traps="as left") - line_pull(BARE + PIPE, "empty")
    assert as_left == pytest.approx(full / arm, rel=1e-9)


def names(row):
    return {strip.name for strip in row.strips if np.any(np.asarray(strip.w_start) > 0.0)}


def test_a_trap_is_full_at_work_and_stays_so_unless_it_is_said_to_be_drained():
    held = "in trap 1: concentrate"
    for text, stays in ((PIPE, True), (PIPE + 'drained_to = "0 in"\n', False)):
        rig = rig_of(FOLDING.replace('floor_width = "2 in"', 'floor_width = "0 in"') + text)
        rows = life(rig).loads.rows
        dead, lumps = dead_loads(rig, pieces=take_off(rig))
        for row in rows:
            if row.state in ("running", "surge", "plugged", "packed", "lopsided", "cleanout", "digout", "iced"):
                assert held in names(row)
            elif row.state in ("towing", "folding"):
                assert (held in names(row)) is stays
            elif row.state == "snagged" or row.variant.get("gust") == "up":
                assert held not in names(row)  # weight holds the box there
        assert [row.variant.get("traps") for row in rows if row.state == "empty"].count("as left") == 2 * 2 * stays
        assert held not in names(next(row for row in rows if row.state == "empty"))
        parked = [row for row in folded_rows(rig, dead=dead, lumps=lumps) if row.state == "parked"]
        assert any(held not in names(row) for row in parked)
        assert any(held in names(row) for row in parked) is stays


def test_gravel_stands_behind_a_gate_to_its_top_and_water_over_it():
    rig = rig_of(BARE + GATE)
    bare, behind = weight(bed_layer(rig_of(BARE))), weight(bed_layer(rig))
    assert behind - bare == pytest.approx((5.0 - 1.5) * 24.0 * 27.0 * GRAVEL)
    share = 0.2
    left = weight(left_over(varied(rig, {"haul.left_over": np.asarray(share)})))
    assert left == pytest.approx(share * behind)
    found = contents(rig)
    flow = 190.0 * 231.0 / 60.0
    grains = 4.0 * 27.0 * 1728.0 / 3600.0 * (100.0 / 62.4) / 2.65  # loose yards an hour as solid cubic inches a second
    critical = (((flow + grains) / 27.0) ** 2 / 386.0886) ** (1.0 / 3.0)
    assert float(found.over_gate) == pytest.approx(1.5 * critical / cos(atan(FALL)), rel=1e-3)
    # Ritter: 4/9 of what stood behind the gate, over what runs, and no more than the sides have over the bed
    runs = float(contents(rig_of(BARE)).running)
    wave = min(7.0 - 1.5, max(3.0 * runs, runs + 4.0 / 9.0 * (5.0 + float(found.over_gate))))
    assert float(found.surge) == pytest.approx(wave)
    assert float(found.surge) > float(contents(rig_of(BARE)).surge)
    running = next(row for row in life(rig).loads.rows if row.state == "running")
    assert {"gravel behind the gate", "water over the gate"} <= names(running)

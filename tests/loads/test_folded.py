"""Rows of the parked and hauled box: which directions, which way they throw it, which of them against strength."""

import numpy as np
import pytest

from rigcheck.case.schema.sections import changed
from rigcheck.loads.folded import folded_rows, vehicle_ways
from rigcheck.loads.steel import dead_loads, take_off
from tests.support.road_rig import BACK, road_rig


def rows_of(rig):
    dead, lumps = dead_loads(rig, pieces=take_off(rig))
    return folded_rows(rig, dead=dead, lumps=lumps)


def test_nothing_folds_without_an_angle():
    rig = road_rig(BACK)
    flat = type(rig)(changed(rig.case, {"fold": changed(rig.case.fold, {"to": None})}))
    assert rows_of(flat) == []


@pytest.mark.parametrize(
    ("leading_end", "forward", "left"),
    [
        # x runs from head to tail and y to the left of someone who looks downstream
        ("head", (-1, 0), (0, -1)),
        ("tail", (1, 0), (0, 1)),
        ("left", (0, 1), (-1, 0)),
        ("right", (0, -1), (1, 0)),
    ],
)
def test_the_vehicle_throws_the_box_the_way_it_was_going(leading_end, forward, left):
    ways = vehicle_ways(leading_end)
    assert ways["forward"] == forward
    assert ways["left"] == left
    assert np.add(ways["forward"], ways["rearward"]).tolist() == [0, 0]
    assert np.add(ways["left"], ways["right"]).tolist() == [0, 0]
    rows = {
        (r.variant.get("direction"), r.variant.get("set")): r for r in rows_of(road_rig(BACK, leading_end=leading_end))
    }
    braked, limit = rows["forward", "breaking"], rows["forward", "working"]
    assert braked.gravity == (0.8 * forward[0], 0.8 * forward[1], -1.0)
    assert limit.gravity == (0.435 * forward[0], 0.435 * forward[1], -1.0)
    assert rows["rearward", "breaking"].gravity == (-0.5 * forward[0], -0.5 * forward[1], -1.0)
    assert rows["left", "breaking"].gravity == (0.5 * left[0], 0.5 * left[1], -1.0)
    assert rows["right", "working"].gravity == (-0.25 * left[0], -0.25 * left[1], -1.0)


def test_only_the_breaking_set_is_held_against_strength():
    rows = rows_of(road_rig(BACK))
    assert [r.variant["set"] == "breaking" for r in rows if r.state == "hauling"] == [
        r.ultimate for r in rows if r.state == "hauling"
    ]
    assert not any(r.ultimate for r in rows if r.state == "parked")
    assert {r.bounds for r in rows} == {frozenset({"stiff"})}


def test_own_vertical_factors_stand_alone():
    rows = {r.variant.get("direction"): r for r in rows_of(road_rig(BACK)) if r.state == "hauling"}
    assert [float(part) for part in rows["down"].gravity] == [0.0, 0.0, -1.5]
    assert [float(part) for part in rows["up"].gravity] == [0.0, 0.0, 0.5]


def test_parked_on_lines_alone_and_on_straps_alone():
    words = [(r.variant["held_by"], r.variant["wind_to"]) for r in rows_of(road_rig(BACK)) if r.state == "parked"]
    # each wind with the plant low to the lee, and low to either side across it
    assert words == [(by, to) for by in ("lines", "tie-downs") for to in ("+x", "-x", "+y", "-y") for _ in range(2)]
    assert {r.variant["held_by"] for r in rows_of(road_rig()) if r.state == "parked"} == {"lines"}


def test_wind_of_the_parking_place_and_of_the_road():
    rig = road_rig(more='[wind]\nparked = "80 mph"\nroad = "70 mph"\n')
    rows = rows_of(rig)
    face, side = 110.0 * (26.0 + 2.0 * float(rig.number("box.sheet"))) / 144.0, 110.0 * 6.0 / 144.0
    for state, load in (("parked", 0.00256 * 80.0**2 * 1.8), ("hauling", 0.00256 * 70.0**2 * 1.3)):
        push = {r.variant["wind_to"]: r.pushes[0] for r in rows if r.state == state and "wind_to" in r.variant}
        assert float(push["+x"].fx) == pytest.approx(load * face)
        assert float(push["-y"].fy) == pytest.approx(-load * side)
        assert (float(push["+x"].s), float(push["+x"].n)) == (55.0, 3.0)
    assert all(r.gravity == (0.0, 0.0, -1.0) for r in rows if r.pushes and r.state == "hauling")
    lee = {"+x": (1, None), "-x": (-1, None), "+y": (None, 1), "-y": (None, -1)}
    for row in (r for r in rows if r.state == "parked"):
        g = [float(part) for part in row.gravity]
        assert [abs(g[0]), abs(g[1]), g[2]] == pytest.approx([0.0349208, 0.0349208, -1.0])  # tan of 2 degrees
        for part, sign in zip(g, lee[str(row.variant["wind_to"])], strict=False):
            assert sign is None or part * sign > 0.0


def test_the_folded_box_weighs_itself_and_what_is_left_in_it():
    rig = road_rig(BACK, left_over="40 %")
    dead, _ = dead_loads(rig, pieces=take_off(rig))

    def heavy(strips):
        return sum(0.5 * float(one.w_start + one.w_end) * float(one.end - one.start) for one in strips)

    bed = 110.0 * 26.0 * 0.4 * 1.5 * 125.0 / 1728.0
    for row in rows_of(rig):
        assert heavy(row.strips) == pytest.approx(heavy(dead) + bed)


def test_the_bed_left_behind_rides_along():
    rig = road_rig(left_over="40 %")
    (bed,) = [strip for strip in rows_of(rig)[0].strips if strip.n_start == 0.5 * 0.4 * 1.5]
    assert float(bed.w_start) == pytest.approx(26.0 * 0.4 * 1.5 * 125.0 / 1728.0)

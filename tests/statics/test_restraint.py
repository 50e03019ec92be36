"""The folded box on hinge, straps and stops: signs by hand, sharing, residual, mirror, batch."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.analysis.solve import layout
from rigcheck.case.reading.read import check_case
from rigcheck.case.rig import Rig
from rigcheck.statics.restraint import restrain
from tests.support.road_rig import BACK, STOP, hold, road_rig, row
from tests.support.strategies import starter_cases

RIGHT = {**BACK, "from": ["80 in", "-13 in", "0 in"], "to": ["-60 in", "-13 in", "80 in"]}


@pytest.fixture(scope="module")
def upright():
    """Box square up: s is z, n is -x; a strap 80 in up pulls to -x, a stop 90 in up pushes to +x."""
    return hold(road_rig(BACK, stops=(STOP,)))


def test_braked_head_first_the_box_leans_on_its_stop(upright):
    i = row(upright, "hauling", direction="forward", set="breaking")
    w, (s, _, n) = upright.service.weight[i], upright.service.center[i]
    # moment about +y: z F_x - x F_z = s (-0.8 w) - (-n)(-w)
    by_hand = -0.8 * w * s - w * n
    assert upright.restraint.turn[i] == pytest.approx(by_hand, rel=1e-12)
    assert upright.strap[i].tolist() == [0.0]
    assert upright.stop[i, 0] == pytest.approx((0.8 * s + n) * w / 90.0, rel=1e-12)
    hinge = upright.restraint.hinge[i].sum(0)
    assert hinge == pytest.approx([0.8 * w - upright.stop[i, 0], 0.0, w], rel=1e-9, abs=1e-9)


def test_pulled_away_head_first_the_strap_holds(upright):
    i = row(upright, "hauling", direction="rearward", set="breaking")
    w, (s, _, n) = upright.service.weight[i], upright.service.center[i]
    assert upright.stop[i].tolist() == [0.0]
    assert upright.strap[i, 0] == pytest.approx((0.5 * s - n) * w / 80.0, rel=1e-12)


def test_tail_first_turns_it_round():
    found = hold(road_rig(BACK, stops=(STOP,), leading_end="tail"))
    i = row(found, "hauling", direction="forward", set="breaking")
    w, (s, _, n) = found.service.weight[i], found.service.center[i]
    assert found.strap[i, 0] == pytest.approx((0.8 * s - n) * w / 80.0, rel=1e-12)
    assert found.stop[i].tolist() == [0.0]


def test_sideways_the_hinge_carries_the_thrust_and_the_roll(upright):
    i = row(upright, "hauling", direction="left", set="breaking")  # head first, the driver's left is -y
    w, (s, _, _) = upright.service.weight[i], upright.service.center[i]
    left, right = upright.restraint.hinge[i]
    assert left[1] + right[1] == pytest.approx(0.5 * w)
    # roll about x of a push to -y at height s: y F_z - z F_y = +0.5 w s, so the hinge gives the opposite couple; the
    # strap leans on nothing across
    couple = 13.0 * (left[2] - right[2])
    assert couple == pytest.approx(-0.5 * w * s, rel=1e-9)


def test_nothing_pushes_back_without_a_stop():
    found = hold(road_rig(BACK))
    i = row(found, "hauling", direction="forward", set="breaking")
    assert found.restraint.unrestrained[i]
    assert not found.restraint.hinge[i].any()
    assert not found.restraint.force[i].any()
    assert not found.restraint.unrestrained[row(found, "hauling", direction="rearward", set="breaking")]


def test_a_strap_through_the_hinge_axis_holds_nothing():
    found = hold(road_rig({**BACK, "to": ["0 in", "13 in", "-2 in"]}))
    assert found.restraint.unrestrained[row(found, "hauling", direction="rearward", set="working")]


def test_straps_share_by_stiffness_and_square_of_arm():
    low = {**BACK, "from": ["40 in", "-13 in", "0 in"], "to": ["-60 in", "-13 in", "40 in"]}
    found = hold(road_rig({**BACK, "stiffness": "300 lb/in"}, {**low, "stiffness": "600 lb/in", "count": 2}))
    i = row(found, "hauling", direction="rearward", set="working")
    high, each_low = found.strap[i]
    # turn t: 300 x 80 t in the high one, 600 x 40 t in each low one
    assert high == pytest.approx(each_low, rel=1e-12)
    assert 80.0 * high + 2.0 * 40.0 * each_low == pytest.approx(found.restraint.turn[i], rel=1e-12)


def test_without_stiffness_the_longer_strap_is_the_softer():
    far = {**RIGHT, "to": ["-120 in", "-13 in", "80 in"]}
    found = hold(road_rig(BACK, far))
    i = row(found, "hauling", direction="rearward", set="working")
    assert found.strap[i, 0] == pytest.approx(2.0 * found.strap[i, 1], rel=1e-12)
    stated = hold(road_rig({**BACK, "stiffness": "500 lb/in"}, far))  # the other then counts as the same webbing
    np.testing.assert_allclose(stated.strap[i], found.strap[i], rtol=1e-12)


def test_a_stop_that_resists_leaves_the_straps_of_its_side_slack():
    front = {**BACK, "to": ["60 in", "13 in", "80 in"]}  # pulls to +x, as the stop pushes
    found = hold(road_rig(BACK, front, stops=(STOP,)))
    i = row(found, "hauling", direction="forward", set="working")
    assert found.stop[i, 0] > 0.0
    assert found.strap[i].tolist() == [0.0, 0.0]
    without = hold(road_rig(BACK, front))
    assert without.strap[i, 1] > 0.0


def test_parked_lines_pull_against_the_wind_that_stretches_them(upright):
    def leaning(wind_to: str, held_by: str) -> list[int]:
        """The ground leans with the wind, and to either side."""
        found = [row(upright, "parked", wind_to=wind_to, held_by=held_by, low_side=low) for low in ("left", "right")]
        assert {upright.rows[i].variant["low_end"] for i in found} == {{"+x": "tail", "-x": "head"}[wind_to]}
        return found

    for i in leaning("+x", "lines"):
        assert upright.pose.arm[i] > 0.0
        left, right = upright.balance.tension[i, 1]
        assert left == right == pytest.approx(0.5 * upright.restraint.turn[i] / upright.pose.arm[i], rel=1e-12)
        assert upright.strap[i].tolist() == [0.0]
    for i in leaning("-x", "lines"):
        assert upright.restraint.turn[i] < 0.0
        assert not upright.balance.tension[i].any()
        assert upright.stop[i, 0] > 0.0
    for i in leaning("+x", "tie-downs"):
        assert not upright.balance.tension[i].any()
        assert upright.strap[i, 0] > 0.0


def test_forces_in_a_strap_never_push_and_six_equations_close():
    for fold in ("60 deg", "85 deg", "96 deg", "130 deg"):
        found = hold(road_rig(BACK, RIGHT, stops=(STOP,), fold=fold))
        assert found.restraint.force.min() >= 0.0
        assert found.restraint.residual.max() < 1e-9 * found.service.weight.max()


@settings(deadline=None, max_examples=15)
@given(starter_cases(), st.sampled_from(["head", "tail", "left", "right"]))
def test_random_rigs_close(data, leading_end):
    data["haul"]["leading_end"] = leading_end
    found = hold(Rig(check_case(data, name="drawn")))
    assert found.restraint.residual.max() < 1e-8 * found.service.weight.max()
    held = ~found.restraint.unrestrained
    share = (found.restraint.force * found.held_by.arm).sum(-1)
    np.testing.assert_allclose(share[held], found.restraint.turn[held], rtol=1e-9, atol=1e-6)
    assert np.isfinite(found.stress).all()


def test_a_mirrored_rig_mirrors():
    one = {**BACK, "from": ["80 in", "9 in", "2 in"], "to": ["-60 in", "30 in", "20 in"]}
    two = {**one, "from": ["80 in", "-9 in", "2 in"], "to": ["-60 in", "-30 in", "20 in"]}
    here, there = hold(road_rig(one, stops=(STOP,))), hold(road_rig(two, stops=(STOP,)))
    swap = {"left": "right", "right": "left", "+y": "-y", "-y": "+y"}
    for i, found in enumerate(here.rows):
        variant = {key: swap.get(str(value), str(value)) for key, value in found.variant.items()}
        j = row(there, found.state, **variant)
        assert there.strap[j] == pytest.approx(here.strap[i])
        mirrored = here.restraint.hinge[i][::-1] * np.array([1.0, -1.0, 1.0])
        assert there.restraint.hinge[j] == pytest.approx(mirrored, abs=1e-9)


def test_more_wind_and_more_gravel_never_pull_less():
    rig = road_rig(BACK, stops=(STOP,))
    wind = hold(rig, wind__parked=np.linspace(0.0, 2000.0, 9))
    parked = np.flatnonzero(wind.rows_where("parked", wind_to="+x", held_by="tie-downs"))
    assert len(parked) == 2 and wind.strap[-1, parked, 0].min() > 2.0 * wind.strap[0, parked, 0].max()
    assert (np.diff(wind.strap[:, parked, 0], axis=0) >= -1e-9).all()
    gravel = hold(rig, haul__left_over=np.linspace(0.0, 1.0, 9))
    assert (np.diff(gravel.strap[:, row(gravel, "hauling", direction="rearward", set="working"), 0]) > 0.0).all()


def test_a_batch_is_its_members():
    rig = road_rig(BACK, RIGHT, stops=(STOP,))
    lengths = np.array([98.0, 110.0, 131.0])
    many = hold(rig, box__length=lengths)
    for i, length in enumerate(lengths):
        one = hold(rig, box__length=length)
        np.testing.assert_allclose(many.restraint.force[i], one.restraint.force, rtol=1e-12)
        np.testing.assert_allclose(many.restraint.hinge[i], one.restraint.hinge, rtol=1e-9, atol=1e-9)
        np.testing.assert_allclose(many.stress[i], one.stress, rtol=1e-9, atol=1e-9)


UNIT = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}
WORDS = {"downstream": "+x", "upstream": "-x", "left": "+y", "right": "-y", "up": "+z", "down": "-z"}


@pytest.mark.parametrize("direction", WORDS)
def test_a_stop_pushes_with_its_whole_force_along_its_direction(direction):
    """Downstream, left and up are as the axes of the plant: one pound, and no more, along one of them."""
    signed = WORDS[direction]
    found = hold(road_rig(BACK, stops=({**STOP, "direction": direction},)))
    way = found.held_by.way[:, 1]  # straps first, then stops
    expected = np.array(UNIT[signed[1]]) * (1.0 if signed[0] == "+" else -1.0)
    assert np.array_equal(way, np.broadcast_to(expected, way.shape))


@pytest.mark.parametrize(
    ("direction", "arm"), [("downstream", -30.0), ("upstream", 30.0), ("up", 20.0), ("down", -20.0)]
)
def test_a_stop_holds_by_its_force_times_its_own_arm(direction, arm):
    """Box square up, so that plant x is -n and z is s: a stop 20 in downstream of the hinge axis and 30 in over it."""
    stop = {"at": ["30 in", "0 in", "-20 in"], "direction": direction, "capacity": "9000 lb"}
    found = hold(road_rig(stops=(stop,)))
    # arm x w_z - z w_x; it holds a turn of its own sign and no other
    turn = found.restraint.turn
    lines = np.array([row.variant.get("held_by") == "lines" for row in found.rows])
    expected = np.where(turn * arm > 0.0, turn / arm, 0.0)[~lines]
    assert (expected > 0.0).any() and (expected == 0.0).any()
    assert found.stop[~lines, 0] == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("share", "holds"), [(0.0499, False), (0.0501, True)])
def test_a_strap_within_a_twentieth_of_the_hinge_axis_holds_nothing(share, holds):
    """Our own rule: an arm under 5 % of the distance from hinge axis to strap is a strap through the axis."""
    # from (0, 80) toward a point that leaves the axis 80 in times the share aside
    lean = np.arcsin(share)
    aim = [f"{-80.0 * np.tan(lean):.9f} in", "13 in", "0 in"]
    found = hold(road_rig({**BACK, "to": aim}))
    i = row(found, "hauling", direction="rearward", set="working")
    assert (found.strap[i, 0] > 0.0) == holds
    assert found.restraint.unrestrained[i] != holds


def test_a_box_without_a_turn_needs_nothing_to_hold_it():
    """Straight over its hinge axis the weight has no moment; a billionth of force times length is no turn."""
    found = hold(road_rig(BACK))
    i = row(found, "hauling", direction="forward", set="breaking")
    assert found.restraint.unrestrained[i]
    scale = np.linalg.norm(found.service.force[i]) * 110.0
    still = replace(found.service, moment=found.service.moment.copy())
    for turn, expected in ((1.02e-9, True), (0.98e-9, False), (0.0, False)):
        still.moment[i, 1] = -turn * scale
        again = restrain(still, layout=layout(found.rig), held_by=found.held_by)
        assert bool(again.unrestrained[i]) is expected

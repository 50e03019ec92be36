"""Plants on their feet: three worked by hand (docs/method.md#tipping), and every way to stand by linear programming."""

import numpy as np
import pytest
from scipy.optimize import linprog

from rigcheck.statics.tipping import WAYS, edges, footing, moments, on_wheels

A_FEET = np.array([[-10.0, 30.0, -40.0], [-10.0, -30.0, -40.0], [-100.0, 30.0, -40.0], [-100.0, -30.0, -40.0]])
B_FEET = np.array([[-6.0, 28.0, -42.0], [-6.0, -28.0, -42.0], [-90.0, 0.0, -42.0]])
C_FEET = np.array([[-8.0, 26.0, -38.0], [-8.0, -26.0, -38.0], [-96.0, 26.0, -38.0], [-96.0, -26.0, -38.0]])


def loads(*each):
    """Forces and their moments about the hinge's middle, one row, from (force, point)."""
    force = np.array([[f for f, _ in each]], dtype=float)
    at = np.array([[p for _, p in each]], dtype=float)
    return force, np.cross(at, force)


def ratio(feet, force, moment, way):
    base = edges(feet)
    found = moments(force, moment=moment, feet=feet, base=base)
    this = base.live & (base.way == WAYS.index(way))
    return found.stabilizing[0, this], found.overturning[0, this]


def test_plant_a_on_four_feet_on_level_ground():
    force, moment = loads(((0, 0, -3000), (-50, 0, 0)), ((0, 0, -700), (45, 0, 0)))
    holds, turns = ratio(A_FEET, force, moment, "downstream")
    assert (holds, turns) == (pytest.approx([3000 * 40]), pytest.approx([700 * 55]))
    for side in ("left", "right"):
        holds, turns = ratio(A_FEET, force, moment, side)
        assert holds == pytest.approx([3700 * 30]) and turns == pytest.approx([0.0])
    found = footing(force.sum(-2), moment=moment.sum(-2), feet=A_FEET)
    # tail pair about the nose feet: (3000 x 50 + 700 x 145) / 90 = 2794.44, the nose pair 905.56
    assert found.stands.all()
    assert found.least[0] == pytest.approx([944.44, 944.44, 0, 0], abs=0.01)
    assert found.most[0] == pytest.approx([1850.0, 1850.0, 905.56, 905.56], abs=0.01)


def test_plant_b_on_three_feet_on_a_slope():
    g = np.array([0.04, 0.0, -1.0])
    parts = [(2400 * g * [0, 0, 1], (-40, 0, -4)), (2400 * g * [1, 1, 0], (-40, 0, -4))]
    parts += [(900 * g * [0, 0, 1], (40, 0, -8)), (900 * g * [1, 1, 0], (40, 0, -8))]
    force, moment = loads(*parts)
    holds, turns = ratio(B_FEET, force, moment, "downstream")
    assert holds == pytest.approx([81_600]) and turns == pytest.approx([41_400 + 3_648 + 1_224])
    assert holds / turns == pytest.approx([1.763], abs=5e-4)
    found = footing(force.sum(-2), moment=moment.sum(-2), feet=B_FEET)
    nose = (81_600 - 46_272) / 84
    assert found.least[0] == pytest.approx([(3300 - nose) / 2, (3300 - nose) / 2, nose])
    assert found.most[0] == pytest.approx(found.least[0])


def test_plant_c_leans_left_in_wind():
    down, along = np.array([0, 0, -1.0]), np.array([0, 0.05, 0])
    plant, box = (-52, 4, 6), (30, 5, -6)
    parts = [(2000 * down, plant), (2000 * along, plant), (1700 * down, box), (1700 * along, box)]
    force, moment = loads(*parts, ((0, 120, 0), (30, 0, -6)))
    holds, turns = ratio(C_FEET, force, moment, "left")
    assert holds == pytest.approx([2000 * 22 + 1700 * 21])
    assert turns == pytest.approx([4_400 + 2_720 + 3_840])
    holds, turns = ratio(C_FEET, force, moment, "downstream")
    assert holds == pytest.approx([88_000]) and turns == pytest.approx([64_600])


def test_a_foot_below_the_others_turns_the_edge_with_it():
    """One tail foot 10 in lower: the edge falls to it, and a level load meets it at the height between its ends."""
    feet = np.array([[0.0, 20.0, -40.0], [0.0, -20.0, -50.0], [-60.0, 0.0, -45.0]])
    force, moment = loads(((0, 0, -1000), (-30, 0, 0)), ((100, 0, 0), (0, 0, 0)))
    holds, turns = ratio(feet, force, moment, "downstream")
    # e = (0, 40, 10) / sqrt(1700); weight 1000 x 30 x 40 / sqrt(1700), push 100 x 45 x 40 / sqrt(1700)
    assert holds == pytest.approx([1000 * 30 * 40 / np.sqrt(1700)])
    assert turns == pytest.approx([100 * 45 * 40 / np.sqrt(1700)])


def test_edges_of_a_slanted_base_go_to_the_way_they_face():
    base = edges(B_FEET)
    named = {(int(a), int(b)): WAYS[w] for a, b, w, on in zip(base.first, base.second, base.way, base.live, strict=True)
             if on}  # fmt: skip
    # seen from above, x downstream and y left, counterclockwise: right tail foot, left tail foot, nose
    assert named == {(1, 0): "downstream", (0, 2): "left", (2, 1): "right"}


def test_feet_in_one_line_hold_nothing():
    feet = np.array([[0.0, 0.0, -30.0], [-40.0, 0.0, -30.0], [-80.0, 0.0, -30.0]])
    force, moment = loads(((0, 0, -1000), (-30, 1, 0)))
    found = moments(force, moment=moment, feet=feet, base=edges(feet))
    assert (found.overturning > found.stabilizing).any()
    assert not footing(force.sum(-2), moment=moment.sum(-2), feet=feet).stands.any()


def by_programming(feet, force, moment):
    """Least and most of each foot by linear programming; None where no pushes balance the loads."""
    down = -force[2]
    x, y = feet[:, 0] + feet[:, 2] * force[0] / down, feet[:, 1] + feet[:, 2] * force[1] / down
    balance = np.stack([np.ones(len(feet)), x, y])
    right = np.array([down, moment[1], -moment[0]])
    ends = []
    for i in range(len(feet)):
        for sign in (1.0, -1.0):
            goal = np.zeros(len(feet))
            goal[i] = sign
            found = linprog(goal, A_eq=balance, b_eq=right, method="highs")
            if found.status == 2:
                return None
            ends.append(sign * found.fun)
    return np.array(ends).reshape(-1, 2)


@pytest.mark.parametrize("count", [3, 4, 6])
def test_feet_against_linear_programming(count):
    """Random bases, heights and loads: the range of each foot, and whether it stands, also by its edges."""
    rng = np.random.default_rng(count)
    stood = 0
    for _ in range(14):
        turn = 2.0 * np.pi * (np.arange(count) + rng.uniform(-0.3, 0.3, count)) / count
        feet = np.stack([-50 + 55 * np.cos(turn), 35 * np.sin(turn), rng.uniform(-48, -40, count)], axis=-1)
        pulls = rng.uniform([-200, -200, -3000], [200, 200, -500], (2, 3))
        at = rng.uniform([-85, -20, -20], [5, 20, 20], (2, 3))
        force, moment = pulls.sum(0), np.cross(at, pulls).sum(0)
        found = footing(force[None], moment=moment[None], feet=feet)
        said = by_programming(feet, force, moment)
        assert bool(found.stands[0]) == (said is not None)
        if said is None:
            assert not found.least.any() and not found.most.any()
            continue
        stood += 1
        assert np.stack([found.least[0], found.most[0]], -1) == pytest.approx(said, abs=1e-6 * -force[2])
        # the pushes of three feet balance all six: put them back
        if count == 3:
            pushes = -force * (found.least[0] / -force[2])[:, None]
            assert pushes.sum(0) == pytest.approx(-force)
            assert np.cross(feet, pushes).sum(0)[:2] == pytest.approx(-moment[:2], abs=1e-5 * np.abs(moment).max())
    assert stood > 1


def test_on_three_feet_a_ratio_of_one_is_a_foot_that_lifts():
    """What holds less what turns about the edge of two feet is the third foot's push times its distance."""
    rng = np.random.default_rng(9)
    for _ in range(20):
        force, moment = loads(((0, 0, -2000), rng.uniform(-60, 0, 3)), ((0, 0, -900), rng.uniform(-20, 60, 3)))
        base = edges(B_FEET)
        found = moments(force, moment=moment, feet=B_FEET, base=base)
        over = (found.overturning > found.stabilizing)[0, base.live].any()
        assert over != bool(footing(force.sum(-2), moment=moment.sum(-2), feet=B_FEET).stands[0])


def test_a_batch_is_its_designs():
    """Feet, loads and hull of four designs at once, one of them with a foot inside the base of the others."""
    rng = np.random.default_rng(4)
    feet = rng.uniform([-110, -40, -45], [0, 40, -40], (4, 5, 3))
    feet[2, 4] = feet[2, :4].mean(0)
    force = rng.uniform([-100, -100, -3000], [100, 100, -900], (4, 7, 2, 3))
    moment = np.cross(rng.uniform(-60, 60, (4, 7, 2, 3)), force)
    base = edges(feet)
    whole = moments(force, moment=moment, feet=feet, base=base)
    for i in range(4):
        one = edges(feet[i])
        alone = moments(force[i], moment=moment[i], feet=feet[i], base=one)
        assert whole.stabilizing[i][:, base.live[i]] == pytest.approx(alone.stabilizing[:, one.live])
        assert not whole.overturning[i][:, ~base.live[i]].any()


def test_tongue_and_axle_of_plant_c():
    track = {"axle": np.array(-38.0), "tongue": np.array(-170.0), "track": np.array(56.0)}
    bare = on_wheels(np.array([2000.0]), x=np.array([-52.0]), y=np.array([4.0]), **track)
    assert float(bare.tongue) == pytest.approx(2000 * 14 / 132)
    both = on_wheels(np.array([2000.0, 300.0]), x=np.array([-52.0, -4.0]), y=np.array([4.0, 0.0]), **track)
    assert float(both.tongue) == pytest.approx(134.85, abs=0.005)
    assert float(both.share) == pytest.approx(0.0586, abs=5e-5)
    assert (float(both.left), float(both.right)) == (pytest.approx(1225.4, abs=0.1), pytest.approx(939.7, abs=0.1))
    assert float(both.left + both.right + both.tongue) == pytest.approx(2300)


def test_a_tongue_downstream_carries_as_one_upstream():
    """The plant turned about: every place with the other sign."""
    weight, x, y = np.array([2000.0, 300.0]), np.array([-52.0, -4.0]), np.array([4.0, 0.0])
    one = on_wheels(weight, x=x, y=y, axle=np.array(-38.0), tongue=np.array(-170.0), track=np.array(56.0))
    two = on_wheels(weight, x=-x, y=-y, axle=np.array(38.0), tongue=np.array(170.0), track=np.array(56.0))
    assert float(two.tongue) == pytest.approx(float(one.tongue)) and float(two.left) == pytest.approx(float(one.right))

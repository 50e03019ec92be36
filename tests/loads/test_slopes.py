"""The plant on a slope: gravity turned by hand, level ground within the corners, mirror images left out."""

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.rig import varied
from rigcheck.loads.pieces import Lump, Strip
from rigcheck.loads.slopes import center
from rigcheck.loads.states import life
from tests.statics.random_rigs import FOLDING, PLAIN, rig_of

EVEN = PLAIN.replace('across = "1 in"', 'across = "0 in"')


def rows_of(solution, state: str) -> list[int]:
    return [i for i, row in enumerate(solution.rows) if row.state == state]


def test_gravity_is_that_of_a_plane_that_slopes_both_ways():
    """A pit floor that falls 3 deg to the tail and 1.5 deg to the left: its plumb line in the plant's own axes."""
    rig = varied(rig_of(PLAIN), {"plant.fore_aft_slope": np.radians(3.0), "plant.cross_slope": np.radians(1.5)})
    found = life(rig, only=frozenset({"packed"})).loads.gravity
    normal = np.array([np.tan(np.radians(3.0)), np.tan(np.radians(1.5)), 1.0])
    for sign_x in (1.0, -1.0):
        for sign_y in (1.0, -1.0):
            plumb = np.array([sign_x, sign_y, -1.0]) * normal / np.linalg.norm(normal)
            turned = found / np.linalg.norm(found, axis=-1, keepdims=True)
            assert np.isclose(turned, plumb).all(-1).sum() == 1


def test_the_center_of_a_wedge_and_a_lump_by_hand():
    """A wedge from nothing to 3 lb/in over 12 in, from 2 to 5 in up, and a lump of 6 lb that counts twice.

    Wedge: 18 lb at 10 + 8 in; 12 x (3 x (2 + 3 x) over x from 0 to 1) = 12 x 6 lb in up. Together 18 + 12 = 30 lb at
    (18 x 18 + 12 x 20)/30 = 18.8 in, (72 + 12 x 1)/30 = 2.8 in up. The wedge turned round: 9 lb at 4 in, 2 in up.
    """
    wedge = Strip(start=10.0, end=22.0, w_start=0.0, w_end=3.0, n_start=2.0, n_end=5.0)
    found = center([wedge], [Lump(weight=6.0, s=20.0, n=1.0, gain=2.0)])
    assert [float(part) for part in found] == pytest.approx([18.8, 2.8])
    back = Strip(start=0.0, end=12.0, w_start=1.5, w_end=0.0, n_start=3.0, n_end=0.0)
    # 1.5 (1 - x) 3 (1 - x) over x is 1.5 a inch, 12 in of it: 18 lb in up of 9 lb
    assert [float(part) for part in center([back], [])] == pytest.approx([4.0, 2.0])


@pytest.mark.parametrize("state", ["empty", "packed", "iced", "plugged"])
def test_the_steep_end_pulls_most_and_level_ground_never_more(state):
    rig = rig_of(PLAIN)
    level = solve(varied(rig, {"plant.fore_aft_slope": 0.0, "plant.cross_slope": 0.0}), only=frozenset({state}))
    sloped = solve(rig, only=frozenset({state}))
    assert sloped.held.total.max() > level.held.total.max()
    assert sloped.held.tension.max() >= level.held.tension.max()
    assert np.abs(sloped.held.hinge).max() >= np.abs(level.held.hinge).max()
    low = [row.variant["low_end"] for row in sloped.rows]
    moment = sloped.service.moment[:, 1]
    assert set(low) == {"tail", "head"} and low[int(moment.argmax())] != low[int(moment.argmin())]


def test_three_degrees_toward_the_worse_end_by_hand():
    """W (x cos a + z sin a) over the arm of the lines, a = 3 deg either way, over cos a."""
    slope = np.radians(3.0)
    rig = varied(rig_of(PLAIN), {"plant.fore_aft_slope": slope, "plant.cross_slope": 0.0})
    flat = solve(varied(rig_of(PLAIN), {"plant.fore_aft_slope": 0.0, "plant.cross_slope": 0.0}))
    found = solve(rig)
    i, j = rows_of(flat, "packed")[0], rows_of(found, "packed")
    s, _, n = flat.service.center[i]
    angle = -float(rig.number("box.pitch"))
    up = n - float(rig.number("hinge.height"))
    x, z = s * np.cos(angle) - up * np.sin(angle), s * np.sin(angle) + up * np.cos(angle)
    turn = [flat.service.weight[i] * (x * np.cos(a) + z * np.sin(a)) / np.cos(a) for a in (slope, -slope)]
    assert sorted(found.held.total[j]) == pytest.approx(sorted(np.array(turn) / flat.pose.arm[i]))


def test_of_a_rig_alike_on_both_sides_one_mirror_image_is_left_out_and_nothing_is_lost():
    even, hair = (solve(varied(rig_of(EVEN), {"fitting.0.across": y})) for y in (0.0, 1e-9))
    assert len(even.rows) < 0.6 * len(hair.rows)
    for state in {row.state for row in hair.rows}:
        one, both = rows_of(even, state), rows_of(hair, state)
        for name in ("tension", "hinge"):
            for sign in (1.0, -1.0):
                most = [
                    np.where(
                        found.allowed[rows][(..., *(None,) * (getattr(found.demand, name).ndim - 2))],
                        sign * getattr(found.demand, name)[rows], -np.inf,
                    ).max((0, 1, 2))
                    for found, rows in ((even, one), (hair, both))
                ]  # fmt: skip
                if name == "hinge":  # across, left and right are each other's mirror image
                    most = [np.array([part[0], part[2]]) for part in most]
                np.testing.assert_allclose(most[0], most[1], rtol=1e-6, atol=1e-6, err_msg=f"{state} {name}")


def test_every_angle_of_the_fold_leans_to_its_steep_end_and_some_to_the_other():
    found = solve(rig_of(FOLDING), only=frozenset({"empty", "folding"}))
    sweep = [i for i, row in enumerate(found.rows) if row.sweep]
    left = [i for i in rows_of(found, "folding") if found.rows[i].variant["low_side"] == "left"]
    other = [i for i in left if not found.rows[i].sweep]
    assert len(sweep) == 181 and len(other) > 15
    fold = found.life.loads.fold
    moment = np.abs(found.service.moment[:, 1])
    for i in other:
        if any(np.isclose(fold[i], fold[j]) and found.rows[j].variant["low_side"] == "left" for j in sweep):
            j = min(sweep, key=lambda k: abs(float(fold[k] - fold[i])))
            assert moment[j] >= moment[i]

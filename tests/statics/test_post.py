"""The post by hand, its signs, its brace, its energy."""

from dataclasses import replace

import numpy as np
import pytest

from rigcheck.crosscheck.braced_post import frame_post
from rigcheck.statics.post import (
    Post,
    brace_pull,
    euler_across,
    euler_fore,
    lug_give,
    post_forces,
    tip_movement,
)

E, G = 29.0e6, 11.2e6
FREE = Post(
    length=np.array(58.0),
    fore=np.array(E * 2.1),
    across=np.array(E * 1.1),
    axial=np.array(E * 1.9),
    twist=np.array(G * 2.5),
    offset=np.array(0.0),
    joint=np.array(58.0),
    lean=np.array(0.0),
    drop=np.array(0.0),
    brace=np.array(0.0),
)
REACH = np.hypot(21.0, 46.0)
BRACED = replace(
    FREE,
    joint=np.array(49.0),
    lean=np.array(-21.0 / REACH),
    drop=np.array(-46.0 / REACH),
    brace=np.array(E * 0.7 / REACH),
)


def test_free_post_by_hand():
    """400 lb downstream, 70 to the left, 300 down at the top of a 58 in post."""
    carried = post_forces(FREE, force=np.array([400.0, 70.0, -300.0]))
    assert carried.base_force == pytest.approx([400.0, 70.0, -300.0])
    assert carried.base_moment == pytest.approx([-58.0 * 70.0, 58.0 * 400.0, 0.0])
    assert (carried.upper_push, carried.lower_push) == pytest.approx((300.0, 300.0))
    assert (carried.brace_pull, carried.joint_fore, carried.top_across) == (0.0, 0.0, 0.0)
    moved = tip_movement(FREE, force=np.array([400.0, 70.0, -300.0]))
    cubed = 58.0**3 / 3.0
    assert moved == pytest.approx([400.0 * cubed / (E * 2.1), 70.0 * cubed / (E * 1.1), -300.0 * 58.0 / (E * 1.9)])


def test_signs_of_an_offset_lug():
    """A lug 3 in left of the post, pulled down and to the right: the two moments across work against each other."""
    post = replace(FREE, offset=np.array(3.0))
    carried = post_forces(post, force=np.array([100.0, -50.0, -200.0]))
    assert carried.base_moment == pytest.approx(np.cross([0.0, 3.0, 58.0], [100.0, -50.0, -200.0]))
    assert carried.base_moment[0] == pytest.approx(-600.0 + 2900.0)
    assert (carried.top_across, carried.torque) == pytest.approx((-600.0, -300.0))
    # down on the left lug alone leans the post to the left
    assert tip_movement(post, force=np.array([0.0, 0.0, -200.0]))[1] > 0.0


@pytest.mark.parametrize("force", [(400.0, -300.0), (400.0, 0.0), (0.0, -300.0), (-250.0, 120.0)])
def test_braced_post_agrees_with_a_frame_solver(force):
    frame = frame_post(BRACED, reach=REACH, force=force)
    load = np.array([force[0], 0.0, force[1]])
    carried = post_forces(BRACED, force=load)
    assert carried.brace_pull == pytest.approx(frame.brace_pull, rel=1e-6, abs=1e-6)
    mine = [carried.base_force[0], carried.base_force[2], carried.base_moment[1]]
    assert mine == pytest.approx(frame.base, rel=1e-6, abs=1e-5)
    moved = tip_movement(BRACED, force=load)
    assert (moved[0], moved[2]) == pytest.approx(frame.tip, rel=1e-6)


def test_brace_up_to_the_lug_agrees_with_a_frame_solver():
    post = replace(BRACED, joint=np.array(58.0))
    frame = frame_post(post, reach=REACH, force=(500.0, -100.0))
    carried = post_forces(post, force=np.array([500.0, 0.0, -100.0]))
    assert carried.brace_pull == pytest.approx(frame.brace_pull, rel=1e-6)


def test_brace_without_stiffness_leaves_the_free_post():
    limp = replace(BRACED, brace=np.array(0.0))
    load = np.array([400.0, 70.0, -300.0])
    free, found = post_forces(FREE, force=load), post_forces(limp, force=load)
    for name in ("base_force", "base_moment", "brace_pull", "lower_push", "lower_shear"):
        assert getattr(found, name) == pytest.approx(getattr(free, name)), name
    assert tip_movement(limp, force=load) == pytest.approx(tip_movement(FREE, force=load))
    assert euler_fore(FREE) == pytest.approx(np.pi**2 * E * 2.1 / (2.0 * 58.0) ** 2)
    frame = frame_post(replace(BRACED, brace=np.array(1.0e-3)), reach=REACH, force=(400.0, -300.0))
    assert frame.base == pytest.approx((400.0, -300.0, 58.0 * 400.0), rel=1e-5)


def test_whole_post_and_brace_are_in_balance():
    load = np.array([400.0, 70.0, -300.0])
    carried = post_forces(BRACED, force=load)
    assert carried.base_force + carried.foot_force == pytest.approx(load)
    foot = np.array([0.0, 0.0, 49.0]) + REACH * np.array([float(BRACED.lean), 0.0, float(BRACED.drop)])
    about_base = carried.base_moment + np.cross(foot, carried.foot_force)
    assert about_base == pytest.approx(np.cross([0.0, 0.0, 58.0], load))


def test_stiffer_brace_never_lets_the_lug_move_further():
    springs = np.geomspace(1.0, 1.0e7, 40)
    post = replace(BRACED, brace=springs)
    moved = tip_movement(post, force=np.array([1.0, 0.0, 0.0]))[..., 0]
    assert np.all(np.diff(moved) < 0.0)
    assert np.all(np.diff(euler_fore(post)) >= 0.0)
    # fixed below and pinned above, tan x = x: 4.4934^2 E I/h^2 (any text on stability)
    assert np.all(euler_fore(post) <= 4.4934**2 * E * 2.1 / 49.0**2)


def test_pull_on_the_brace_has_the_sign_of_the_lean():
    """A foot upstream holds a post pulled downstream by tension."""
    assert brace_pull(BRACED, force=np.array([100.0, 0.0, 0.0])) > 0.0
    assert brace_pull(BRACED, force=np.array([-100.0, 0.0, 0.0])) < 0.0


@pytest.mark.parametrize("post", [FREE, BRACED], ids=["free", "braced"])
def test_give_is_the_movement_of_the_lug_along_the_pull(post):
    pull = np.array([0.6, -0.1, -0.7])
    pull = pull / np.linalg.norm(pull)
    assert lug_give(post, pull=pull) == pytest.approx(float(tip_movement(post, force=pull) @ pull))


def test_give_of_an_offset_lug_counts_lean_and_twist():
    """Moment F_z e at the top turns it by M L/(E I) and lowers the lug by e times that; twist adds e^2 F_x L/(G J)."""
    post = replace(FREE, offset=np.array(4.0))
    down = 4.0**2 * 58.0 / (E * 1.1) + 58.0 / (E * 1.9)
    assert lug_give(post, pull=np.array([0.0, 0.0, -1.0])) == pytest.approx(down)
    fore = 58.0**3 / (3.0 * E * 2.1) + 4.0**2 * 58.0 / (G * 2.5)
    assert lug_give(post, pull=np.array([1.0, 0.0, 0.0])) == pytest.approx(fore)


def test_buckling_across_is_that_of_a_free_post():
    assert euler_across(BRACED) == pytest.approx(np.pi**2 * E * 1.1 / (2.0 * 58.0) ** 2)


def test_one_post_is_its_row_in_the_batch():
    lengths = np.array([40.0, 58.0, 75.0])
    many = replace(BRACED, length=lengths, joint=lengths - 9.0)
    load = np.array([400.0, 70.0, -300.0])
    found = post_forces(many, force=load)
    assert found.base_moment.shape == (3, 3)
    assert found.base_moment[1] == pytest.approx(post_forces(BRACED, force=load).base_moment)

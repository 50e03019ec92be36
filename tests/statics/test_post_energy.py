"""Posts by strain energy integrated along them, and their buckling loads by eigenvalues of a row of beam elements."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import eigh

from rigcheck.statics.post import Post, brace_pull, euler_fore, lug_give, tip_movement

E, G = 29.0e6, 11.2e6
SEEDS = st.integers(0, 2**31)
NODES, WEIGHTS = np.polynomial.legendre.leggauss(4)  # exact to the seventh power, the energy goes to the second


def drawn(seed: int) -> Post:
    """A braced post with a lug beside its axis both ways."""
    draw = np.random.default_rng(seed).uniform
    length, reach, drop = draw(20.0, 90.0), draw(-40.0, 40.0), draw(8.0, 60.0)
    size = np.hypot(reach, drop)
    numbers = {
        "length": length, "fore": E * draw(0.3, 6.0), "across": E * draw(0.3, 6.0), "axial": E * draw(0.5, 4.0),
        "twist": G * draw(0.3, 6.0), "offset": draw(-5.0, 5.0), "joint": length * draw(0.2, 1.0),
        "lean": reach / size, "drop": -drop / size, "brace": E * draw(0.1, 2.0) / size, "reach": draw(-4.0, 4.0),
    }  # fmt: skip
    return Post(**{key: np.asarray(value) for key, value in numbers.items()})


def energy(post: Post, *, force: np.ndarray, brace: float) -> float:
    """Strain energy of post and brace, the brace's pull given: M = r x F about each height, integrated to the base."""
    unit = np.array([float(post.lean), 0.0, float(post.drop)])
    lug = np.array([float(post.reach), float(post.offset), float(post.length)])
    total = 0.5 * brace**2 / float(post.brace) if brace else 0.0
    joint = float(post.joint)
    for low, high, held in ((0.0, joint, True), (joint, float(post.length), False)):
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            z = 0.5 * (low + high) + 0.5 * (high - low) * node
            here = force + (brace * unit if held else 0.0)
            moment = np.cross(lug - [0.0, 0.0, z], force)
            if held:
                moment = moment + np.cross([0.0, 0.0, joint - z], brace * unit)
            per_inch = moment[0] ** 2 / post.across + moment[1] ** 2 / post.fore + moment[2] ** 2 / post.twist
            total += 0.25 * (high - low) * weight * float(per_inch + here[2] ** 2 / post.axial)
    return total


def least_work(post: Post, *, force: np.ndarray) -> tuple[float, float]:
    """Pull of the brace for which the energy is least, and that energy; a parabola through three of its values."""
    scale = float(np.abs(force).sum())
    low, none, high = (energy(post, force=force, brace=pull) for pull in (-scale, 0.0, scale))
    curve, slope = 0.5 * (high + low) - none, 0.5 * (high - low)
    pull = -0.5 * slope / curve
    return pull * scale, none + slope * pull + curve * pull**2


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_the_brace_pulls_what_makes_the_strain_energy_least(seed):
    post = drawn(seed)
    force = np.random.default_rng(seed + 1).uniform(-900.0, 900.0, 3)
    pull, _ = least_work(post, force=force)
    assert float(brace_pull(post, force=force)) == pytest.approx(pull, rel=1e-6, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_give_is_twice_the_energy_of_a_pound(seed):
    post = drawn(seed)
    pull = np.random.default_rng(seed + 1).normal(size=3)
    pull = pull / np.linalg.norm(pull)
    assert float(lug_give(post, pull=pull)) == pytest.approx(2.0 * least_work(post, force=pull)[1], rel=1e-8)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_the_top_moves_by_the_slope_of_the_energy(seed):
    """Castigliano: a force at the top of the post itself, beside the one at the lug, and the energy's slope with it."""
    post = drawn(seed)
    force = np.random.default_rng(seed + 1).uniform(-900.0, 900.0, 3)
    bare = replace(post, reach=np.array(0.0), offset=np.array(0.0))
    moved = tip_movement(post, force=force)
    for axis in range(3):
        # the energy is quadratic in the forces, so work done through each other is half of a second difference
        unit = np.zeros(3)
        unit[axis] = 100.0
        mixed = mixed_energy(post, bare, force=force, unit=unit)
        assert float(moved[axis]) == pytest.approx(mixed / 100.0, rel=1e-6, abs=1e-9)


def mixed_energy(post: Post, bare: Post, *, force: np.ndarray, unit: np.ndarray) -> float:
    """Work of a force at the top over the movement that another at the lug makes there, by integration."""
    one, two = (float(brace_pull(each, force=load)) for each, load in ((post, force), (bare, unit)))
    direction = np.array([float(post.lean), 0.0, float(post.drop)])
    lug = np.array([float(post.reach), float(post.offset), float(post.length)])
    joint, total = float(post.joint), one * two / float(post.brace)
    for low, high, held in ((0.0, joint, 1.0), (joint, float(post.length), 0.0)):
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            z = 0.5 * (low + high) + 0.5 * (high - low) * node
            arm = np.cross([0.0, 0.0, joint - z], held * direction)
            first = np.cross(lug - [0.0, 0.0, z], force) + one * arm
            second = np.cross([0.0, 0.0, float(post.length) - z], unit) + two * arm
            along = (force[2] + held * one * direction[2]) * (unit[2] + held * two * direction[2]) / post.axial
            bent = first[0] * second[0] / post.across + first[1] * second[1] / post.fore
            total += 0.5 * (high - low) * weight * float(bent + along)
    return total


def buckling(*, length: float, joint: float, stiffness: float, spring: float, parts: int = 60) -> float:
    """Lowest push at the top of a post fixed at its base, with a sideways spring at the joint, by finite elements."""
    below = max(round(parts * joint / length), 4)
    above = max(parts - below, 4) if joint < length else 0
    z = np.concatenate([np.linspace(0.0, joint, below + 1), np.linspace(joint, length, above + 1)[1:]])
    size = 2 * len(z)
    bend, press = np.zeros((size, size)), np.zeros((size, size))
    for i, h in enumerate(np.diff(z)):
        here = slice(2 * i, 2 * i + 4)
        bend[here, here] += stiffness / h**3 * np.array(
            [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
             [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]
        )  # fmt: skip
        press[here, here] += 1.0 / (30.0 * h) * np.array(
            [[36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h],
             [-36, -3 * h, 36, -3 * h], [3 * h, -h * h, -3 * h, 4 * h * h]]
        )  # fmt: skip
    bend[2 * below, 2 * below] += spring
    free = slice(2, size)
    # press is semidefinite, so the largest of 1/P is looked for
    found = eigh(press[free, free], bend[free, free], eigvals_only=True)
    return 1.0 / float(found[-1])


@pytest.mark.parametrize("joint", [0.15, 0.3, 0.5, 0.7, 0.9, 1.0])
@pytest.mark.parametrize("firm", [0.0, 0.3, 1.0, 10.0, 1.0e6])
def test_buckling_of_a_braced_post_is_the_least_eigenvalue_of_a_row_of_beams(joint, firm):
    """A level brace is a sideways spring, here so many times as firm as the end of the free post."""
    length, stiffness = 60.0, E * 1.3
    spring = firm * 3.0 * stiffness / length**3
    post = upright(length=length, stiffness=stiffness, joint=joint * length, spring=spring)
    exact = buckling(length=length, joint=joint * length, stiffness=stiffness, spring=spring)
    assert float(euler_fore(post)) == pytest.approx(exact, rel=1e-5)


def upright(*, length: float, stiffness: float, joint: float, spring: float) -> Post:
    """A post with a level brace."""
    one = np.ones(())
    return Post(
        length=one * length, fore=one * stiffness, across=one * stiffness, axial=one * 1.0e15, twist=one * 1.0e9,
        offset=0.0 * one, joint=one * joint, lean=-one, drop=0.0 * one, brace=one * spring,
    )  # fmt: skip


def test_buckling_of_a_free_post_and_of_one_held_at_its_top():
    """Fixed and free, pi^2 E I/(2 L)^2; fixed and pinned, tan x = x, (4.49341 / L)^2 E I (any text on stability)."""
    numbers = {"length": 60.0, "stiffness": E * 1.3, "joint": 60.0}
    free, held = (float(euler_fore(upright(**numbers, spring=spring))) for spring in (0.0, 1.0e15))
    assert free == pytest.approx(np.pi**2 * E * 1.3 / 120.0**2, rel=1e-12)
    assert held == pytest.approx((4.493409458 / 60.0) ** 2 * E * 1.3, rel=1e-7)


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_a_leaning_brace_holds_like_the_spring_that_a_push_at_the_joint_feels(seed):
    """Stretch of the brace and squash of the post under it in a row: one over the sum of both gives."""
    post = drawn(seed)
    lean, drop = float(post.lean), float(post.drop)
    give = 1.0 / float(post.brace) + drop**2 * float(post.joint) / float(post.axial)
    spring = np.asarray(lean**2 / give)
    level = replace(post, lean=np.array(1.0), drop=np.array(0.0), brace=spring)
    assert float(euler_fore(post)) == pytest.approx(float(euler_fore(level)), rel=1e-9)
    load = np.array([1.0, 0.0, 0.0])
    sway = tip_movement(replace(post, reach=np.array(0.0)), force=load)[0]
    assert float(sway) == pytest.approx(
        float(tip_movement(replace(level, reach=np.array(0.0)), force=load)[0]), rel=1e-9
    )


def test_a_firm_prop_under_the_lug_by_hand():
    """Fixed at the base, propped at h: the end moves L^3/3 less (h^2 (3 L - h)/6)^2/(h^3/3), over E I."""
    post = replace(drawn(2), lean=np.array(-1.0), drop=np.array(0.0), brace=np.array(1.0e18), axial=np.array(1.0e15))
    length, h, stiffness = float(post.length), float(post.joint), float(post.fore)
    moved = (length**3 / 3.0 - (h**2 * (3.0 * length - h) / 6.0) ** 2 / (h**3 / 3.0)) / stiffness
    assert float(tip_movement(post, force=np.array([1.0, 0.0, 0.0]))[0]) == pytest.approx(moved, rel=1e-6)

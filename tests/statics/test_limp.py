"""The limp box by virtual work: its one turn without resistance, the limits of its split, the dead point."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from rigcheck.loads.pieces import BOUNDS, Lump, Row
from rigcheck.statics.balance import line_per_rail
from rigcheck.statics.geometry import SIDE, Layout, pose
from tests.statics.random_rigs import Bare, hang, layout_of, pairs_of, random_layout, random_rows, section_of

SEEDS = st.integers(0, 2**31)
COUNT = 20
LIMP = BOUNDS.index("limp")


def movement(layout: Layout, *, angle: np.ndarray, s, y, n) -> tuple[np.ndarray, np.ndarray]:
    """Movement in plant axes of a point when the rails turn about the hinge axis alike, and against one another.

    Both rails up by one radian; and the left one up and the right one down. Between the rails everything goes in
    proportion to y. The floor keeps its shape sideways, so a cross-section rolls about the floor, not about the hinge.
    """
    cos, sin = np.cos(angle), np.sin(angle)
    e_s, e_n = np.stack([cos, 0.0 * cos, sin], -1), np.stack([-sin, 0.0 * cos, cos], -1)
    half, n_h = 0.5 * layout.rail_spacing[..., None], layout.hinge_height[..., None]
    s, y, n = np.broadcast_arrays(s, y, n, cos)[:3]
    alike = s[..., None] * e_n - (n - n_h)[..., None] * e_s
    aside = np.zeros_like(alike)
    aside[..., 1] = -(s / half) * n
    return alike, alike * (y / half)[..., None] + aside


def hanger_movement(bare: Bare, *, side: int) -> tuple[np.ndarray, np.ndarray]:
    """The same of one hanger, as movement along its own line toward the perch."""
    lay = bare.layout
    moves = movement(
        lay,
        angle=bare.pose.angle,
        s=lay.hanger_s[..., None],
        y=0.5 * SIDE[side] * lay.hanger_spacing[..., None],
        n=lay.hanger_n[..., None],
    )
    line = np.stack([bare.pose.ux, SIDE[side] * bare.pose.uy, bare.pose.uz], -1)
    return tuple((move * line).sum(-1) for move in moves)


def work_of_loads(bare: Bare) -> np.ndarray:
    """Work of every load when the rails turn against one another, strips cut into 400 slices, shape (rig, state)."""
    lay, total = bare.layout, []
    for i, row in enumerate(bare.loads.rows):
        angle = bare.pose.angle[..., i]
        gravity = np.stack(np.broadcast_arrays(*(np.asarray(part, dtype=float) for part in row.gravity)), -1)
        work = np.zeros(angle.shape)

        def done(force, angle=angle, **at):
            place = {key: np.asarray(value, dtype=float)[..., None] for key, value in at.items()}
            return (movement(lay, angle=angle[..., None], **place)[1][..., 0, :] * force).sum(-1)

        for lump in row.lumps:
            weight = np.asarray(lump.weight)[..., None]
            work = work + done(weight * gravity, s=lump.s, y=lump.y, n=lump.n)
        for push in row.pushes:
            force = np.stack(np.broadcast_arrays(push.fx, push.fy, push.fz), -1)
            work = work + done(force, s=push.s, y=push.y, n=push.n)
        for strip in row.strips:
            share = (np.arange(400) + 0.5) / 400
            span = np.asarray(strip.end) - np.asarray(strip.start)
            w, s, n = (
                np.asarray(a)[..., None] + np.asarray(b - a)[..., None] * share
                for a, b in (
                    (strip.w_start, strip.w_end), (strip.start, strip.end), (strip.n_start, strip.n_end)
                )
            )  # fmt: skip
            slices = w * span[..., None] / 400
            # across the box a strip acts at its own mean height, as one body
            mean = (slices * n).sum(-1) / slices.sum(-1)
            along = np.stack([gravity[..., 0], 0.0 * gravity[..., 0], gravity[..., 2]], -1)
            side = np.stack([0.0 * gravity[..., 1], gravity[..., 1], 0.0 * gravity[..., 1]], -1)
            for j in range(400):
                one = slices[..., j, None]
                work = work + done(one * along, s=s[..., j], y=strip.y, n=n[..., j])
                work = work + done(one * side, s=s[..., j], y=strip.y, n=mean)
        total.append(work)
    return np.stack(total, -1)


@settings(max_examples=5, deadline=None)
@given(SEEDS)
def test_nothing_works_when_the_rails_of_a_limp_box_turn_against_one_another(seed):
    layout = random_layout(COUNT, seed=seed)
    bare = hang(layout, random_rows(layout, COUNT, seed=seed + 1), section=section_of(), batch=(COUNT,))
    left, right = (hanger_movement(bare, side=side)[1] for side in (0, 1))
    tension = bare.balance.tension[..., LIMP, :]
    lines = tension[..., 0] * left + tension[..., 1] * right
    loads = work_of_loads(bare)
    grip = left * layout.rail_spacing[:, None] / (layout.hanger_spacing[:, None] * bare.pose.arm)
    live = (
        ~bare.balance.dead & (grip > 0.06) & (tension > 0.0).all(-1)
    )  # a line cannot push: where it would, the hinge works
    assert live.mean() > 0.7  # 0.9 is the least of 800 draws
    size = np.abs(tension).sum(-1) * np.abs(left) + np.abs(loads)
    assert np.all(np.abs(lines + loads)[live] <= 2e-5 * size[live])


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_rigid_rails_of_a_limp_box_on_lines_that_give(seed):
    """Two turns, two lines: how far each tail drops follows from what each line gives, rails being rigid."""
    layout = random_layout(COUNT, seed=seed)
    rows = random_rows(layout, COUNT, seed=seed + 1)
    bare = hang(layout, rows, section=section_of(modulus=1e16), batch=(COUNT,))
    give = np.random.default_rng(seed).uniform(1e-5, 1e-4, bare.balance.total.shape)
    _, found = pairs_of(bare, bounds=("limp",), give=give)
    kinematics = np.stack([np.stack(hanger_movement(bare, side=side), -1) for side in (0, 1)], -2)
    stretch = give[..., None] * bare.balance.tension[..., LIMP, :]
    solvable = ~bare.balance.dead & (np.abs(np.linalg.det(kinematics)) > 1.0)
    grip = kinematics[..., 0, 1] * layout.rail_spacing[:, None] / (layout.hanger_spacing[:, None] * bare.pose.arm)
    live = solvable & (grip > 0.06) & (stretch > 0.0).all(-1)
    assert live.mean() > 0.7  # 0.9 is the least of 800 draws
    turns = np.linalg.solve(kinematics[live], -stretch[live][..., None])[..., 0]
    length = np.broadcast_to(layout.length[:, None], live.shape)[live]
    drops = found.tail_deflection[live]
    for side, turn in enumerate((turns[:, 0] + turns[:, 1], turns[:, 0] - turns[:, 1])):
        np.testing.assert_allclose(drops[:, side], -turn * length, rtol=1e-5, atol=1e-8)
    half = 0.5 * give * bare.balance.total
    np.testing.assert_allclose(found.stretch.mean(-1)[live], half[live])


def roll_free(layout: Layout) -> tuple[float, float]:
    """What the splay leaves of the lever rule, and the ratio that is used, of a level box."""
    at = pose(layout, fold=np.zeros(1))
    alone = hang(layout, [Row(state="empty", lumps=[Lump(weight=100.0, s=50.0)])], section=section_of())
    work = hanger_movement(alone, side=0)[1]
    left = float(work[0] * layout.rail_spacing / (layout.hanger_spacing * at.arm[0]))
    return left, float(line_per_rail(layout, pose=at)[0])


@pytest.mark.parametrize("wanted", [0.6, 0.1, 0.0501, 0.0499, 0.0, -0.8])
def test_the_split_of_widely_splayed_lines_is_held_to_a_twentieth_of_the_lever_rule(wanted):
    """Our own rule: what the roll of splayed lines leaves of the lever rule counts as a twentieth at least."""

    def layout(spacing: float) -> Layout:
        return layout_of(pitch=0.0, hanger_n=40.0, perch_spacing=spacing)

    spacing = brentq(lambda width: roll_free(layout(width))[0] - wanted, 29.0, 400.0, xtol=1e-12)
    left, ratio = roll_free(layout(spacing))
    assert left == pytest.approx(wanted, abs=1e-9)
    assert ratio * 29.0 / 26.0 == pytest.approx(1.0 / max(wanted, 0.05), rel=1e-7)


@pytest.mark.parametrize(("share", "dead"), [(0.0, True), (0.0499, True), (0.0501, False), (-0.0499, True)])
def test_lines_within_a_twentieth_of_the_hinge_axis_have_no_tension(share, dead):
    """Our own rule: a lever arm under 5 % of the distance from hinge axis to hanger counts as none."""
    layout = layout_of(perch_x=18.0)

    def lever(fold: float) -> float:
        at = pose(layout, fold=np.full(1, fold))
        return float(at.arm[0] / at.radius[0]) - share

    fold = brentq(lever, 0.3, 2.5, xtol=1e-14)
    held = hang(layout, [Row(state="folding", lumps=[Lump(weight=100.0, s=50.0)], fold=fold)], section=section_of())
    assert bool(held.balance.dead[0]) is dead
    assert bool(np.any(held.balance.tension[0] != 0.0)) is not dead

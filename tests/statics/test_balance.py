"""Line and hinge forces: equilibrium on random rigs, symmetry, scaling, closed forms and virtual work."""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.analysis.solve import layout as layout_of_rig
from rigcheck.loads.pieces import BOUNDS, Lump, Push, Row, Strip
from rigcheck.loads.states import life
from rigcheck.statics.balance import balance
from rigcheck.statics.geometry import SIDE, Layout, pose
from rigcheck.statics.resultant import resultant
from tests.statics.random_rigs import (
    STRUCTURES,
    Bare,
    hang,
    layout_of,
    random_layout,
    random_rows,
    section_of,
    varied_rig,
)

SEEDS = st.integers(0, 2**31)
COUNT = 30
SHARED_BOUNDS = ("limp", "stiff", "loose")


def random_bare(seed: int, **how) -> Bare:
    layout = random_layout(COUNT, seed=seed)
    return hang(layout, random_rows(layout, COUNT, seed=seed + 1, **how), section=section_of(), batch=(COUNT,))


def scaled(rows: list[Row], factor: float) -> list[Row]:
    """The same rows with every force so many times as large."""
    return [
        replace(
            row,
            strips=[replace(one, w_start=factor * one.w_start, w_end=factor * one.w_end) for one in row.strips],
            lumps=[replace(one, weight=factor * one.weight) for one in row.lumps],
            pushes=[replace(one, fx=factor * one.fx, fy=factor * one.fy, fz=factor * one.fz) for one in row.pushes],
        )
        for row in rows
    ]


def mirrored(rows: list[Row]) -> list[Row]:
    """The same rows seen in a mirror that swaps left and right."""
    return [
        replace(
            row,
            gravity=(row.gravity[0], -np.asarray(row.gravity[1]), row.gravity[2]),
            strips=[replace(one, y=-np.asarray(one.y)) for one in row.strips],
            lumps=[replace(one, y=-np.asarray(one.y)) for one in row.lumps],
            pushes=[replace(one, y=-np.asarray(one.y), fy=-np.asarray(one.fy)) for one in row.pushes],
        )
        for row in rows
    ]


def outside_forces(bare: Bare) -> tuple[np.ndarray, np.ndarray]:
    """Forces and their points in plant axes, (..., state, bound, point, 3): lines and hinge, put together anew."""
    lay, at = bare.layout, bare.pose
    tension = bare.balance.tension
    perch = [np.stack(np.broadcast_arrays(lay.perch_x, 0.5 * s * lay.perch_spacing, lay.perch_z), -1) for s in SIDE]
    angle = bare.loads.fold - lay.pitch[..., None]
    s, n = lay.hanger_s[..., None], (lay.hanger_n - lay.hinge_height)[..., None]
    x, z = s * np.cos(angle) - n * np.sin(angle), s * np.sin(angle) + n * np.cos(angle)
    forces, points = [], []
    for i, side in enumerate(SIDE):
        hanger = np.stack(np.broadcast_arrays(x, 0.5 * side * lay.hanger_spacing[..., None], z), -1)
        step = perch[i][..., None, :] - hanger
        unit = step / np.linalg.norm(step, axis=-1, keepdims=True)
        forces.append(tension[..., i, None] * unit[..., None, :])
        points.append(np.broadcast_to(hanger[..., None, :], forces[-1].shape))
        barrel = np.zeros_like(forces[-1])
        barrel[..., 1] = (0.5 * side * lay.hinge_spacing)[..., None, None]
        forces.append(bare.balance.hinge[..., i, :])
        points.append(barrel)
    assert at.arm.shape == angle.shape
    return np.stack(forces, -2), np.stack(points, -2)


@pytest.mark.parametrize(("name", "count"), [(name, 2000 if name == "plain" else 200) for name in STRUCTURES])
def test_equilibrium_of_random_rigs_in_every_state(name, count):
    rig = varied_rig(STRUCTURES[name], count, seed=len(name))
    loads = life(rig, batch=(count,)).loads
    points = layout_of_rig(rig)
    at = pose(points, fold=loads.fold)
    force = resultant(loads, layout=points, pose=at)
    held = balance(force, layout=points, pose=at)
    assert held.residual.shape == (count, len(loads.rows), len(BOUNDS))
    assert np.all(held.residual <= 1e-9 * force.weight[..., None])
    assert np.mean(held.dead) < 0.05, "a residual of nothing proves nothing"
    for field in fields(held):
        assert np.all(np.isfinite(getattr(held, field.name))), field.name


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_forces_and_moments_of_all_that_acts_on_the_box_sum_to_nothing(seed):
    bare = random_bare(seed)
    forces, points = outside_forces(bare)
    scale = np.abs(bare.resultant.force).sum(-1) + bare.balance.total
    live = ~bare.balance.dead
    total = forces.sum(-2) + bare.resultant.force[..., None, :]
    turn = np.cross(points, forces).sum(-2) + bare.resultant.moment[..., None, :]
    size = np.abs(scale)[live][..., None, None] + 1.0
    assert np.all(np.abs(total[live]) <= 1e-9 * size)
    assert np.all(np.abs(turn[live]) <= 1e-9 * size * bare.layout.length.max())


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_twice_the_load_is_twice_the_force(seed):
    layout = random_layout(COUNT, seed=seed)
    rows = random_rows(layout, COUNT, seed=seed + 1)
    once = hang(layout, rows, section=section_of(), batch=(COUNT,)).balance
    twice = hang(layout, scaled(rows, 2.0), section=section_of(), batch=(COUNT,)).balance
    for name in ("total", "tension", "hinge", "roll", "twist"):
        np.testing.assert_allclose(getattr(twice, name), 2.0 * getattr(once, name), rtol=1e-9, atol=1e-6)


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_a_mirrored_load_mirrors_the_sides(seed):
    layout = random_layout(COUNT, seed=seed)
    rows = random_rows(layout, COUNT, seed=seed + 1)
    one = hang(layout, rows, section=section_of(), batch=(COUNT,)).balance
    other = hang(layout, mirrored(rows), section=section_of(), batch=(COUNT,)).balance
    swap = [BOUNDS.index(name) for name in ("limp", "stiff", "loose", "right", "left")]
    np.testing.assert_allclose(other.tension, one.tension[..., swap, ::-1], rtol=1e-9, atol=1e-6)
    flipped = one.hinge[..., swap, ::-1, :] * np.array([1.0, -1.0, 1.0])
    np.testing.assert_allclose(other.hinge, flipped, rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(other.roll, -one.roll[..., swap], rtol=1e-9, atol=1e-3)
    np.testing.assert_allclose(other.twist, one.twist[..., swap], rtol=1e-9, atol=1e-3)


def test_one_case_is_its_row_in_the_batch():
    layout = random_layout(COUNT, seed=4)
    rows = random_rows(layout, COUNT, seed=5)
    batch = hang(layout, rows, section=section_of(), batch=(COUNT,)).balance

    def single(piece, i):
        names = [field.name for field in fields(piece) if field.name != "whole"]
        return replace(piece, **{name: np.broadcast_to(getattr(piece, name), COUNT)[i] for name in names})

    for i in (0, 11, COUNT - 1):
        alone = Layout(**{f.name: np.broadcast_to(getattr(layout, f.name), COUNT)[i] for f in fields(Layout)})
        own = [
            replace(
                row,
                gravity=tuple(np.broadcast_to(part, COUNT)[i] for part in row.gravity),
                strips=[single(one, i) for one in row.strips],
                lumps=[single(one, i) for one in row.lumps],
                pushes=[single(one, i) for one in row.pushes],
            )
            for row in rows
        ]
        found = hang(alone, own, section=section_of()).balance
        np.testing.assert_allclose(found.tension, batch.tension[i], rtol=1e-12, atol=1e-9)
        np.testing.assert_allclose(found.hinge, batch.hinge[i], rtol=1e-12, atol=1e-9)


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_all_ways_of_sharing_agree_when_the_load_is_symmetric_and_level(seed):
    held = random_bare(seed, leaning=False).balance
    three = held.tension[..., [BOUNDS.index(name) for name in SHARED_BOUNDS], :]
    np.testing.assert_allclose(three, 0.5 * held.total[..., None, None] + 0.0 * three, rtol=1e-9, atol=1e-6)
    assert np.all(held.twist[..., :3] <= 1e-6 * (1.0 + np.abs(held.total[..., None])))
    assert np.all(np.abs(held.roll[..., :3]) <= 1e-6 * (1.0 + np.abs(held.total[..., None])))


def test_one_line_alone_carries_all_of_it():
    held = random_bare(8).balance
    for name, side in (("left", 0), ("right", 1)):
        tension = held.tension[..., BOUNDS.index(name), :]
        np.testing.assert_allclose(tension[..., side], held.total, rtol=1e-12)
        np.testing.assert_allclose(tension[..., 1 - side], 0.0, atol=1e-9)


def taut(bare: Bare, bound: str) -> np.ndarray:
    """Rows in which both lines pull under a way of sharing."""
    return np.asarray((bare.balance.tension[..., BOUNDS.index(bound), :] > 0.0).all(-1))


def test_no_split_asks_a_line_to_push_and_the_hinge_takes_the_rest():
    """A person of 300 lb far out beside the hinge, 30 in to the left: the loose split would be twice the pull.

    Level box, lines plumb at y = 14 and x = 71 in, hinge groups 24 in apart. W at s = 10, y = 30: T_L + T_R =
    300 x 10 / 71 = 42.25. Roll alone asks T_L - T_R = 300 x 30 / 14 = 643, so T_R is nothing, T_L 42.25, and what
    is left of the roll, 300 x 30 - 42.25 x 14 = 8408, goes to the hinge: Z_L - Z_R = 2 x 8408 / 24 = 700.7.
    """
    layout = layout_of(pitch=0.0, hinge_height=7.0, hanger_n=7.0, perch_x=71.0, hanger_spacing=28.0, perch_spacing=28.0,
                       hinge_spacing=24.0)  # fmt: skip
    bare = hang(layout, [Row(state="empty", lumps=[Lump(weight=300.0, s=10.0, y=30.0, n=7.0)])], section=section_of())
    loose = BOUNDS.index("loose")
    assert bare.balance.tension[0, loose] == pytest.approx([300.0 * 10.0 / 71.0, 0.0])
    up = bare.balance.hinge[0, loose, :, 2]
    assert up[0] - up[1] == pytest.approx(2.0 * (300.0 * 30.0 - 300.0 * 10.0 / 71.0 * 14.0) / 24.0)
    assert float(bare.balance.residual.max()) < 1e-9 * 300.0


def test_a_box_that_is_lifted_off_its_lines_pulls_on_none_of_them():
    layout = layout_of(pitch=0.0)
    rows = [Row(state="wind_hung", lumps=[Lump(weight=100.0, s=50.0)], pushes=[Push(fz=150.0, s=50.0)])]
    bare = hang(layout, rows, section=section_of())
    held = balance(bare.resultant, layout=layout, pose=bare.pose, may_lift=np.array([True]))
    assert bare.balance.total[0] < 0.0 and held.lifted[0] and not held.tension.any()
    np.testing.assert_allclose(held.hinge[0, 1].sum(0), [0.0, 0.0, -50.0], atol=1e-9)


def test_a_worn_hinge_lifts_both_sides_alike():
    bare = random_bare(9)
    loose = bare.balance.hinge[..., BOUNDS.index("loose"), :, 2]
    usable = ~(bare.balance.dead | bare.balance.unsplit) & taut(bare, "loose")
    scale = 1.0 + np.abs(bare.resultant.force).sum(-1)[usable] + np.abs(bare.balance.tension).max((-1, -2))[usable]
    assert usable.mean() > 0.7
    assert np.all(np.abs(loose[..., 0] - loose[..., 1])[usable] <= 1e-9 * scale)


def test_a_limp_box_hands_each_rail_to_its_line_by_the_lever_rule():
    """Without side forces or splay each rail is a beam of its own: left moments over the left rail's arm and so on."""
    layout = layout_of(perch_spacing=29.0)
    heavy = Lump(weight=200.0, s=80.0, y=13.0, n=2.0)  # on the left rail, rails at +-13
    bare = hang(layout, [Row(state="empty", lumps=[heavy])], section=section_of())
    tension = bare.balance.tension[0, 0]
    ratio = float(layout.rail_spacing / layout.hanger_spacing)
    np.testing.assert_allclose(tension[0] - tension[1], ratio * bare.balance.total[0])
    np.testing.assert_allclose(tension.sum(), bare.balance.total[0])


def test_a_stiff_box_hands_the_whole_roll_couple_to_its_hinge():
    """200 lb stand 13 in to the left; lines alike and without splay have no moment about the length."""
    layout = layout_of(pitch=0.0, perch_spacing=29.0)
    bare = hang(layout, [Row(state="empty", lumps=[Lump(weight=200.0, s=80.0, y=13.0)])], section=section_of())
    stiff = BOUNDS.index("stiff")
    assert bare.balance.roll[0, stiff] == pytest.approx(200.0 * 13.0)
    up = bare.balance.hinge[0, stiff, :, 2]
    assert up[0] - up[1] == pytest.approx(200.0 * 13.0 / 12.0)  # hinge groups 24 in apart


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_limp_hinge_forces_are_those_of_the_rails(seed):
    """With nothing sideways, hinge groups at +-c/2 and rails at +-b/2 carry the same couples: (L - R) c = (l - r) b."""
    from rigcheck.statics.rail import rail_forces

    layout = random_layout(COUNT, seed=seed)
    layout = replace(layout, perch_spacing=layout.hanger_spacing)
    rows = [
        replace(row, gravity=(row.gravity[0], 0.0, row.gravity[2]), pushes=[replace(p, fy=0.0) for p in row.pushes])
        for row in random_rows(layout, COUNT, seed=seed + 1)
    ]
    bare = hang(layout, rows, section=section_of(), batch=(COUNT,))
    rails = rail_forces(bare.loads, layout=layout, pose=bare.pose, balance=bare.balance, axis=bare.section.axis)
    hinge = bare.balance.hinge[..., 0, :, :]
    along = hinge[..., 0] * bare.pose.along[..., 0, None] + hinge[..., 2] * bare.pose.along[..., 1, None]
    square = hinge[..., 0] * bare.pose.normal[..., 0, None] + hinge[..., 2] * bare.pose.normal[..., 1, None]
    live = ~bare.balance.dead & taut(bare, "limp")
    assert live.mean() > 0.5
    c, b = layout.hinge_spacing[:, None], layout.rail_spacing[:, None]
    for whole, rail in ((along, rails.hinge_s), (square, rails.hinge_n)):
        couple, own = (whole[..., 0] - whole[..., 1]) * c, (rail[..., 0] - rail[..., 1]) * b
        size = 100.0 * (1.0 + np.abs(bare.balance.total) + np.abs(bare.resultant.force).sum(-1))
        assert np.all(np.abs(couple - own)[live] <= 1e-9 * size[live])
        np.testing.assert_allclose(whole.sum(-1)[live], rail[..., :2].sum(-1)[live], rtol=1e-8, atol=1e-6)
        np.testing.assert_allclose(whole.sum(-1)[live], 2.0 * rail[..., 2][live], rtol=1e-8, atol=1e-6)


def torque(bare: Bare) -> np.ndarray:
    """Torque about the box's own length between hinge and hanger, from the hinge forces: excess over the limp box."""
    hinge = bare.balance.hinge
    square = hinge[..., 0] * bare.pose.normal[..., 0, None, None] + hinge[..., 2] * bare.pose.normal[..., 1, None, None]
    couple = 0.5 * bare.layout.hinge_spacing[..., None, None] * (square[..., 0] - square[..., 1])
    return np.abs(couple - couple[..., :1])


def test_twist_of_a_level_box_is_the_torque_at_the_hinge():
    layout = replace(random_layout(COUNT, seed=2), pitch=np.zeros(COUNT))
    bare = hang(layout, random_rows(layout, COUNT, seed=3), section=section_of(), batch=(COUNT,))
    live = ~bare.balance.dead
    np.testing.assert_allclose(bare.balance.twist[live], torque(bare)[live], rtol=1e-7, atol=1e-3)


@pytest.mark.parametrize("fold", [0.0, 0.9])
def test_twist_is_the_torque_about_the_length_of_the_box(fold):
    bare = random_bare(12, fold=fold)
    live = ~bare.balance.dead
    np.testing.assert_allclose(bare.balance.twist[live], torque(bare)[live], rtol=1e-7, atol=1e-3)


@pytest.mark.parametrize("push", [0.0, 25.0])
def test_side_force_bears_on_one_end_of_one_barrel(push):
    rows = [Row(state="empty", lumps=[Lump(weight=100.0, s=50.0)], pushes=[Push(fy=push, s=50.0)])]
    hinge = hang(layout_of(), rows, section=section_of()).balance.hinge[0, BOUNDS.index("stiff")]
    assert sorted(hinge[:, 1]) == pytest.approx([-push, 0.0])
    assert hinge[0, 1] == pytest.approx(-push)  # pushed to the left, the left barrel holds


# closed forms, each derived apart from the code


def level_weight(layout: Layout, *, weight: float = 640.0, s: float = 55.0, n: float = 3.0) -> tuple[Bare, float]:
    bare = hang(layout, [Row(state="empty", lumps=[Lump(weight=weight, s=s, n=n)])], section=section_of())
    angle = float(bare.pose.angle[0])
    x = s * np.cos(angle) - (n - float(layout.hinge_height)) * np.sin(angle)
    return bare, x


@pytest.mark.parametrize("pitch", [0.0, 0.11, 0.24])
@pytest.mark.parametrize("perch", [(-9.0, 50.0), (14.0, 37.0), (0.0, 71.0)])
def test_moment_about_the_perch(pitch, perch):
    """z_p R_x - x_p R_z = W (x_cg - x_p): the lines have no moment about their own perch."""
    bare, x = level_weight(layout_of(pitch=pitch, perch_x=perch[0], perch_z=perch[1]))
    r_x, _, r_z = bare.balance.hinge[0, 1].sum(0)
    assert perch[1] * r_x - perch[0] * r_z == pytest.approx(640.0 * (x - perch[0]), rel=1e-12)


@pytest.mark.parametrize("s", [30.0, 55.0, 90.0])
def test_level_box_with_hangers_at_hinge_level(s):
    layout = layout_of(pitch=0.0, hinge_height=7.0, hanger_n=7.0, perch_spacing=29.0)
    bare, x = level_weight(layout, s=s, n=4.0)
    r_x, _, r_z = bare.balance.hinge[0, 1].sum(0)
    x_h, x_p, z_p = 71.0, -7.0, 55.0
    assert r_z == pytest.approx(640.0 * (1.0 - x / x_h), rel=1e-12)
    assert r_x == pytest.approx(640.0 * (x / x_h) * (x_h - x_p) / z_p, rel=1e-12)


@pytest.mark.parametrize("pitch", [0.0, 0.14, 0.24])
@pytest.mark.parametrize("s", [40.0, 55.0, 95.0])
def test_hinge_line_and_weight_meet_in_one_point(pitch, s):
    """R_z = R_x z_i / x_cg with z_i where the line crosses the plumb line of the weight."""
    bare, x = level_weight(layout_of(pitch=pitch), s=s)
    r_x, _, r_z = bare.balance.hinge[0, 1].sum(0)
    x_h, z_h = float(bare.pose.hanger_x[0]), float(bare.pose.hanger_z[0])
    z_i = z_h + (55.0 - z_h) * (x - x_h) / (-7.0 - x_h)
    assert r_z == pytest.approx(r_x * z_i / x, rel=1e-11)


@pytest.mark.parametrize("fold", [0.0, 0.3, 0.7, 1.1])
def test_virtual_work(fold):
    """The work of the loads over a small fold is tension times the length that the lines give up."""
    layout = layout_of()
    weights = [(400.0, 52.0, 2.0), (60.0, 103.0, 5.0)]
    strip = Strip(start=10.0, end=90.0, w_start=2.0, w_end=5.0, n_start=1.0, n_end=4.0)
    step = 1e-4
    rows = [
        Row(state="folding", strips=[strip], lumps=[Lump(weight=w, s=s, n=n) for w, s, n in weights], fold=fold + turn)
        for turn in (-step, 0.0, step)
    ]
    bare = hang(layout, rows, section=section_of())
    s, _, n = np.moveaxis(bare.resultant.center, -1, 0)
    angle = bare.pose.angle
    height = bare.resultant.weight * (s * np.sin(angle) + (n - 0.5) * np.cos(angle))
    tension = -(height[2] - height[0]) / (bare.pose.line_length[2] - bare.pose.line_length[0])
    assert bare.balance.total[1] == pytest.approx(tension, rel=1e-6)


def test_dead_point_is_a_flag_and_never_a_number_without_meaning():
    """On one side of the dead point the lines would pull, on the other they would have to push."""
    layout = layout_of(pitch=0.0, hinge_height=0.0, hanger_n=0.0, perch_x=20.0)
    fold = np.arctan2(55.0, 20.0)
    rows = [
        Row(state="folding", lumps=[Lump(weight=100.0, s=50.0, n=2.0)], fold=fold + turn) for turn in (0.0, 0.2, -0.2)
    ]
    held = hang(layout, rows, section=section_of()).balance
    assert held.dead[0]
    assert np.all(held.tension[held.dead] == 0.0)
    assert np.all(held.hinge[held.dead] == 0.0)
    assert not held.dead[1] and not held.dead[2]
    assert held.total[1] < 0.0 < held.total[2]

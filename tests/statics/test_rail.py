"""Rail forces against summing up the loads left of a cut by brute force; peaks; deflection by a second integration."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.analysis.solve import solve
from rigcheck.loads.pieces import Lump, Push, Row, Strip
from rigcheck.statics.beam import evaluate
from rigcheck.statics.geometry import Layout
from rigcheck.statics.rail import RailForces, curves, rail_forces
from rigcheck.statics.rail_peaks import rail_peaks
from tests.statics.random_rigs import (
    CHANNELS,
    PLAIN,
    Bare,
    hang,
    layout_of,
    pairs_of,
    random_layout,
    random_rows,
    section_of,
    varied_rig,
)

SEEDS = st.integers(0, 2**31)
SIGN = np.array([1.0, -1.0, 0.0])  # how limp left, limp right and even lean
COUNT = 20


def rails_of(bare: Bare) -> RailForces:
    return rail_forces(
        bare.loads, layout=bare.layout, pose=bare.pose, balance=bare.balance, axis=np.asarray(bare.section.axis)
    )


def one_rig(seed: int, *, fold: float = 0.0) -> Bare:
    """One rig, with arrays of shape () so that a brute-force sum stays readable."""
    layout = random_layout(1, seed=seed)
    points = [name for name in Layout.__dataclass_fields__ if getattr(layout, name) is not None]
    layout = Layout(**{name: getattr(layout, name).reshape(-1)[0] for name in points})
    rows = random_rows(layout, 1, seed=seed + 1, fold=fold)

    def flat(piece):
        names = [name for name in piece.__dataclass_fields__ if name not in ("whole", "reach", "name")]
        return replace(piece, **{name: np.asarray(getattr(piece, name)).reshape(-1)[0] for name in names})

    rows = [
        replace(
            row,
            gravity=tuple(np.asarray(part).reshape(-1)[0] for part in row.gravity),
            strips=[flat(one) for one in row.strips],
            lumps=[flat(one) for one in row.lumps],
            pushes=[flat(one) for one in row.pushes],
        )
        for row in rows
    ]
    return hang(layout, rows, section=section_of())


def left_of(bare: Bare, x: float, *, state: int, share: int, rails: RailForces) -> tuple[float, float, float]:
    """N, V, M at a cut from everything left of it, loads cut into four thousand slices."""
    row, lay, lean = bare.loads.rows[state], bare.layout, SIGN[share]
    b, axis = float(lay.rail_spacing), float(bare.section.axis)
    angle = float(bare.loads.fold[state] - lay.pitch)
    e_s, e_n = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
    gravity = np.array([row.gravity[0], row.gravity[2]], dtype=float)
    g_s, g_n, g_y = gravity @ e_s, gravity @ e_n, float(row.gravity[1])
    forces = []  # s, n, along, square, all on this rail
    for strip in row.strips:
        edges = np.linspace(strip.start, min(x, strip.end), 4001) if x > strip.start else np.zeros(1)
        s, ds = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
        t = (s - strip.start) / (strip.end - strip.start)
        w = (strip.w_start + (strip.w_end - strip.w_start) * t) * ds
        n = strip.n_start + (strip.n_end - strip.n_start) * t
        # side load rolls the box by the strip's mean height, as one body
        full = (np.arange(4000) + 0.5) / 4000
        w_full = strip.w_start + (strip.w_end - strip.w_start) * full
        mean = np.average(strip.n_start + (strip.n_end - strip.n_start) * full, weights=w_full)
        forces.append(
            (s, n, w * g_s * (0.5 + lean * strip.y / b), w * (0.5 * g_n + lean * (strip.y * g_n - mean * g_y) / b))
        )
    points = [(p.s, p.n, p.y, p.weight * g_s, p.weight * g_y, p.weight * g_n) for p in row.lumps]
    points += [
        (p.s, p.n, p.y, *(np.array([p.fx, p.fz]) @ e_s,), p.fy, np.array([p.fx, p.fz]) @ e_n) for p in row.pushes
    ]
    for s, n, y, along, across, square in points:
        forces.append((s, n, along * (0.5 + lean * y / b), 0.5 * square + lean * (y * square - n * across) / b))
    # each rail of a limp box is in balance by itself about the hinge
    pull = 0.5 * bare.balance.total[state]
    pull = pull + 0.5 * lean * bare.resultant.rail_difference[state] / bare.pose.arm[state]
    forces.append((lay.hanger_s, lay.hanger_n, pull * bare.pose.u_s[state], pull * bare.pose.u_n[state]))
    forces.append((0.0, lay.hinge_height, rails.hinge_s[state, share], rails.hinge_n[state, share]))
    n_sum = v_sum = m_sum = 0.0
    for s, n, along, square in forces:
        left = np.asarray(s) < x
        n_sum -= np.sum(np.where(left, along, 0.0))
        v_sum += np.sum(np.where(left, square, 0.0))
        m_sum += np.sum(np.where(left, square * (x - np.asarray(s)) + along * (np.asarray(n) - axis), 0.0))
    return float(n_sum), float(v_sum), float(m_sum)


@settings(max_examples=12, deadline=None)
@given(SEEDS, st.floats(-0.3, 1.2))
def test_section_forces_are_the_sum_of_all_that_acts_left_of_the_cut(seed, fold):
    bare = one_rig(seed, fold=fold)
    rails = rails_of(bare)
    cuts = np.random.default_rng(seed + 2).uniform(0.5, float(bare.layout.length), 3)
    for state in range(2):
        if bare.balance.dead[state]:
            continue
        size = float(np.abs(bare.resultant.force[state]).sum() + np.abs(bare.balance.total[state]))
        for share in range(3):
            for x in cuts:
                at = np.broadcast_to(x, (*rails.pull.shape, 1))
                ours = (
                    -evaluate(rails.axial, x=at)[state, share, 0],
                    evaluate(rails.shear, x=at, integrals=-1)[state, share, 0],
                    evaluate(rails.moment, x=at)[state, share, 0],
                )
                brute = left_of(bare, float(x), state=state, share=share, rails=rails)
                np.testing.assert_allclose(ours[:2], brute[:2], atol=1e-6 * size + 1e-9)
                assert abs(ours[2] - brute[2]) <= 1e-6 * size * float(bare.layout.length)


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.floats(-0.3, 1.2))
def test_moment_vanishes_at_the_tail(seed, fold):
    layout = random_layout(COUNT, seed=seed)
    bare = hang(layout, random_rows(layout, COUNT, seed=seed + 1, fold=fold), section=section_of(), batch=(COUNT,))
    peaks = rail_peaks(curves(rails_of(bare)), section=bare.section)
    live = ~bare.balance.dead
    assert np.all(np.abs(peaks.end_moment)[live] <= 1e-9 * (1.0 + peaks.max_moment[live]))
    assert np.all(np.isfinite(peaks.stress))


@pytest.mark.parametrize("text", [PLAIN, CHANNELS])
def test_moment_vanishes_at_the_tail_in_every_state_of_whole_rigs(text):
    solution = solve(varied_rig(text, 25, seed=21))
    live = ~solution.held.dead[:, [row for row, _ in solution.bent.pairs]]
    assert live.mean() > 0.9
    size = 1e-9 * (1.0 + solution.peaks.max_moment)
    assert np.all((np.abs(solution.peaks.end_moment) <= size)[live])


@settings(max_examples=15, deadline=None)
@given(SEEDS)
def test_peaks_are_reached_and_never_passed(seed):
    """No value on a fine grid is above the peak, and the peak is not above what the grid nearly reaches."""
    layout = random_layout(COUNT, seed=seed)
    bare = hang(layout, random_rows(layout, COUNT, seed=seed + 1), section=section_of(), batch=(COUNT,))
    rails, section = rails_of(bare), bare.section
    peaks = rail_peaks(curves(rails), section=section)
    fine = np.linspace(0.0, 1.0, 1501) * layout.length[:, None, None, None]
    x = np.sort(np.concatenate([np.broadcast_to(fine, (*rails.pull.shape, 1501)), rails.stations], -1), -1)
    moment, axial = evaluate(rails.moment, x=x), -evaluate(rails.axial, x=x)
    before, pulled = evaluate(rails.moment, x=x, before=True), -evaluate(rails.axial, x=x, before=True)
    shear = np.maximum(
        np.abs(evaluate(rails.shear, x=x, integrals=-1)), np.abs(evaluate(rails.shear, x=x, integrals=-1, before=True))
    )

    def fiber(m, n, at):
        return n / section.area - m * (at - section.axis) / section.inertia

    found = [
        np.abs(fiber(m, n, at)) for m, n in ((moment, axial), (before, pulled)) for at in (section.top, section.bottom)
    ]
    for largest, grid in (
        (peaks.max_moment, np.maximum(np.abs(moment), np.abs(before))),
        (peaks.max_shear, shear),
        (peaks.max_axial, np.maximum(np.abs(axial), np.abs(pulled))),
        (peaks.stress, np.max(found, axis=0)),
    ):
        np.testing.assert_allclose(largest, grid.max(-1), rtol=2e-3, atol=1e-6)
        assert np.all(largest >= grid.max(-1) * (1.0 - 1e-9))


def stepped(bare: Bare, *, give: float, steps: int) -> tuple[np.ndarray, np.ndarray]:
    """Sag and tail drop of the even rail by the trapezoidal rule, twice, the hanger held by a line that gives."""
    rails, lay, section = rails_of(bare), bare.layout, bare.section
    stiffness = float(section.modulus * section.inertia)
    x = np.linspace(0.0, float(lay.length), steps + 1)
    states = range(len(bare.loads.rows))
    sag, drop = [], []
    for state in states:
        at = np.broadcast_to(x, (*rails.pull.shape, len(x)))
        after = [sign * evaluate(terms, x=at)[state, 2] for sign, terms in ((1.0, rails.moment), (-1.0, rails.axial))]
        before = [
            sign * evaluate(terms, x=at, before=True)[state, 2]
            for sign, terms in ((1.0, rails.moment), (-1.0, rails.axial))
        ]

        def along(start, stop):
            return np.concatenate([[0.0], np.cumsum(0.5 * (start[:-1] + stop[1:]) * np.diff(x))])

        slope = along(after[0], before[0]) / stiffness
        bend = along(slope, slope)
        reach = along(after[1], before[1]) / float(section.modulus * section.area)
        s_h = float(lay.hanger_s)
        slope_h, bend_h, reach_h = (np.interp(s_h, x, values) for values in (slope, bend, reach))
        above = float(lay.hanger_n - section.axis)
        u_s, u_n = float(bare.pose.u_s[state]), float(bare.pose.u_n[state])
        stretch = give * float(bare.balance.total[state]) / 2.0

        # the hanger goes from the perch by what the line gives: head turns the whole box, the rest bends it
        bent = u_s * (reach_h - above * slope_h) + u_n * bend_h + stretch
        turned = u_n * s_h - u_s * (float(section.axis - lay.hinge_height) + above)
        head = -bent / turned
        fall = -(head * x + bend)
        chord = np.interp(s_h, x, fall) / s_h
        sag.append(np.abs(fall - chord * x)[x <= s_h].max())
        drop.append(fall[-1])
    return np.array(sag), np.array(drop)


def test_deflection_is_what_finer_and_finer_steps_tend_to():
    """The error of the trapezoidal rule falls with the square of the step, toward our value."""
    layout = layout_of(length=96.0, hanger_s=72.0)
    strip = Strip(start=0.0, end=96.0, w_start=9.0, w_end=14.0, n_start=1.0, n_end=4.0)
    lumps = [Lump(weight=90.0, s=24.0, n=6.0), Lump(weight=250.0, s=84.0, n=0.0)]
    rows = [
        Row(state="running", strips=[strip], lumps=lumps, gravity=(0.1, 0.0, -1.0)),
        Row(state="empty", lumps=lumps[1:], pushes=[Push(fx=40.0, fz=-20.0, s=48.0, n=7.0)]),
    ]
    bare = hang(layout, rows, section=section_of())
    give = 2e-5
    _, found = pairs_of(bare, bounds=("stiff",), give=give)
    coarse, middle, fine = (stepped(bare, give=give, steps=steps) for steps in (64, 128, 512))
    ours = found.tail_deflection[:, 0]
    rate = np.log2(np.abs(coarse[1] - ours) / np.abs(middle[1] - ours))
    assert np.all((rate > 1.9) & (rate < 2.1)), rate
    np.testing.assert_allclose(ours, fine[1], rtol=1e-4)
    np.testing.assert_allclose(found.sag[:, 1], fine[0], rtol=2e-3)
    np.testing.assert_allclose(found.stretch[:, 1], give * bare.balance.total / 2.0)


def test_a_rigid_rail_on_a_line_that_gives_turns_as_one():
    """Nothing bends: the tail drops by give x tension x length over the lever arm."""
    layout = layout_of()
    bare = hang(layout, random_rows(layout, 1, seed=5)[1:], section=section_of(modulus=1e15), batch=(1,))
    give = np.full((1, 1), 3e-5)
    _, found = pairs_of(bare, bounds=("stiff",), give=give)
    turn = 3e-5 * 0.5 * bare.balance.total[0, 0] / bare.pose.arm[0]
    drop = found.tail_deflection[0, 0].mean()
    assert drop == pytest.approx(turn * 107.0, rel=1e-6)
    assert abs(found.tail_bend[0, 0].mean()) < 1e-6 * drop


def test_one_rig_is_its_row_in_a_batch():
    rig = varied_rig(PLAIN, 7, seed=5)
    whole = solve(rig)
    for i in (0, 6):
        alone = solve(replace(rig, varied={key: values[i] for key, values in rig.varied.items()}))
        np.testing.assert_allclose(alone.peaks.max_moment, whole.peaks.max_moment[i], rtol=1e-9, atol=1e-6)
        np.testing.assert_allclose(alone.sag.tail_deflection, whole.sag.tail_deflection[i], rtol=1e-9, atol=1e-12)
        np.testing.assert_allclose(alone.demand.tension, whole.demand.tension[i], rtol=1e-9, atol=1e-6)

"""Water: Manning both ways, the larger depth loads, and the pool against adding up ten thousand slices."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.loads.water import (
    channel_flow,
    critical_depth,
    level_pool,
    manning_flow,
    normal_depth,
    slurry,
    weir_head,
)

SEEDS = st.integers(0, 2**31)


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_normal_depth_passes_the_flow(seed):
    draw = np.random.default_rng(seed)
    flow, width = 10.0 ** draw.uniform(-2.0, 5.0, 80), draw.uniform(4.0, 80.0, 80)
    slope, rough = 10.0 ** draw.uniform(-5.0, -0.4, 80), draw.uniform(0.008, 0.08, 80)
    depth = normal_depth(flow, width=width, slope=slope, roughness=rough)
    back = manning_flow(depth, width=width, slope=slope, roughness=rough)
    np.testing.assert_allclose(back, flow, rtol=1e-9)


def test_no_normal_depth_on_a_level_floor_and_none_without_water():
    one = np.asarray(1.0)
    kept = {"width": 24.0 * one, "roughness": 0.03 * one}
    assert normal_depth(500.0 * one, slope=0.0 * one, **kept) == 0.0
    assert normal_depth(0.0 * one, slope=0.1 * one, **kept) == 0.0
    level = channel_flow(500.0 * one, slope=0.0 * one, **kept)
    assert level.by_critical and level.depth == level.critical > 0.0 and level.froude == pytest.approx(1.0)
    dry = channel_flow(0.0 * one, slope=0.1 * one, **kept)
    assert dry.depth == dry.froude == 0.0


@pytest.mark.parametrize(("slope", "fast"), [(0.15, True), (0.002, False)])
def test_the_larger_of_normal_and_critical_depth_loads(slope, fast):
    flow, width = np.asarray(900.0), np.asarray(26.0)
    found = channel_flow(flow, width=width, slope=np.asarray(slope), roughness=np.asarray(0.03))
    assert bool(found.by_critical) is fast
    assert float(found.depth) == max(float(found.normal), float(found.critical))
    velocity = 900.0 / 26.0 / float(found.normal)
    assert float(found.froude) == pytest.approx(velocity / np.sqrt(386.0886 * float(found.normal)))


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_pool_is_the_sum_of_its_slices(seed):
    draw = np.random.default_rng(seed)

    def some(low, high):
        return draw.uniform(low, high, 25)

    length, pitch, bed = some(60.0, 160.0), np.arctan(some(0.0, 3.0) / 12.0), some(0.0, 4.0)
    crest, head, running = bed + some(-2.0, 8.0), some(0.0, 2.0), some(0.0, 3.0)
    found = level_pool(length=length, pitch=pitch, crest=crest, head=head, bed=bed, running=running)
    s = (np.arange(10000) + 0.5) / 10000 * length[:, None]
    surface = (crest + head)[:, None] - (length[:, None] - s) * np.tan(pitch)[:, None]
    depth = np.maximum(surface - bed[:, None], running[:, None])
    area, moment = depth.mean(-1) * length, (depth * s).mean(-1) * length
    span = length - found.start
    a, b = found.depth_start, found.depth_tail
    ours = found.upstream * found.start + 0.5 * (a + b) * span
    own = 0.5 * found.upstream * found.start**2 + span * (0.5 * (a + b) * found.start + span * (a + 2.0 * b) / 6.0)
    np.testing.assert_allclose(ours, area, rtol=1e-5, atol=1e-6)
    np.testing.assert_allclose(own, moment, rtol=1e-5, atol=1e-4)
    assert np.all((found.start >= 0.0) & (found.start <= length))


def test_weir_head_is_the_least_energy_over_the_crest():
    flow, width = np.asarray(800.0), np.asarray(25.0)
    y = float(critical_depth(flow, width=width))
    energy = y + (800.0 / 25.0 / y) ** 2 / (2.0 * 386.0886)
    assert float(weir_head(flow, width=width, pitch=np.asarray(0.0))) == pytest.approx(energy)
    steep = float(weir_head(flow, width=width, pitch=np.asarray(0.2)))
    assert steep == pytest.approx(energy / np.cos(0.2))


def test_slurry_keeps_mass_and_volume():
    flow, feed, water = np.asarray(600.0), np.asarray(120.0), np.asarray(0.0361)
    density, total = slurry(flow, feed=feed, loose_density=np.asarray(0.058), gravity=np.asarray(2.65), water=water)
    grains = 120.0 * 0.058
    assert float(total) == pytest.approx(600.0 + grains / (2.65 * 0.0361))
    assert float(density * total) == pytest.approx(600.0 * 0.0361 + grains)
    plain, volume = slurry(
        0.0 * flow, feed=0.0 * feed, loose_density=np.asarray(0.058), gravity=np.asarray(2.65), water=water
    )
    assert (float(plain), float(volume)) == (pytest.approx(0.0361), 0.0)

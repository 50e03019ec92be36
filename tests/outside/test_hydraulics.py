"""Depths of water against published examples and an independent library; the pool behind a lip against hand work."""

import numpy as np
import pytest

from rigcheck.loads.water import channel_flow, critical_depth, level_pool, manning_flow, normal_depth
from rigcheck.tables.materials import material
from tests.outside.values import check, inputs

METRE = 1.0 / 0.0254
FOOT = 12.0


def test_manning_metric_example():
    given = inputs("manning_sdsu_rectangular")
    width, slope, n = (np.asarray(given[key]) for key in ("b_m", "slope", "n"))
    flow = manning_flow(np.asarray(given["y_m"] * METRE), width=width * METRE, slope=slope, roughness=n)
    check("manning-rectangular-q", flow / METRE**3)
    depth = normal_depth(np.asarray(9.548 * METRE**3), width=width * METRE, slope=slope, roughness=n)
    check("manning-rectangular-depth", depth / METRE)


def test_manning_us_example():
    given = inputs("manning_n_rectangular_us")
    width, slope = np.asarray(given["b_ft"] * FOOT), np.asarray(given["slope"])
    flow = given["q_cfs"] * FOOT**3
    smooth = manning_flow(np.asarray(given["y_ft"] * FOOT), width=width, slope=slope, roughness=np.asarray(1.0))
    check("manning-us-n", smooth / flow)
    depth = normal_depth(np.asarray(flow), width=width, slope=slope, roughness=np.asarray(0.01633))
    check("manning-us-depth", depth / FOOT)


def test_froude_number():
    given = inputs("hds4_example_4_8")
    width = np.asarray(given["q_cfs"] / (given["y1_ft"] * given["v1_ft_per_s"]) * FOOT)
    flow, depth, slope = np.asarray(given["q_cfs"] * FOOT**3), np.asarray(given["y1_ft"] * FOOT), np.asarray(0.4)
    # the roughness at which that depth is the normal one
    rough = manning_flow(depth, width=width, slope=slope, roughness=np.asarray(1.0)) / flow
    found = channel_flow(flow, width=width, slope=slope, roughness=rough)
    assert float(found.normal) == pytest.approx(float(depth), rel=1e-9)
    check("hds4-froude", found.froude)


def pool(inches_per_foot: float) -> tuple[float, float]:
    """Weight and centroid of the pool in a box 24 by 96 in behind a 7 in lip, nothing running."""
    pitch = np.arctan(np.asarray(inches_per_foot) / 12.0)
    zero = np.zeros(())
    found = level_pool(length=np.asarray(96.0), pitch=pitch, crest=np.asarray(7.0), head=zero, bed=zero, running=zero)
    start, a, b = float(found.start), float(found.depth_start), float(found.depth_tail)
    area = 0.5 * (a + b) * (96.0 - start)
    place = start + (96.0 - start) * (a + 2.0 * b) / (3.0 * (a + b))
    return 24.0 * area * material("water, fresh").unit_weight, place


def test_pool_behind_a_lip():
    for pitch, label in ((2.0, "2"), (1.0, "1"), (0.5, "half"), (0.0, "level")):
        weight, place = pool(pitch)
        check(f"pool-{label}-weight", weight)
        if label in ("1", "2"):
            check(f"pool-{label}-place", place)


@pytest.mark.parametrize("seed", [1, 2])
def test_normal_depth_against_fluids(seed):
    fluids = pytest.importorskip("fluids")
    draw = np.random.default_rng(seed)
    count = 200
    depth, width = draw.uniform(0.3, 14.0, count), draw.uniform(6.0, 60.0, count)
    slope, rough = np.sin(np.arctan(draw.uniform(0.02, 3.0, count) / 12.0)), draw.uniform(0.01, 0.05, count)
    flow = np.array(
        [
            fluids.V_Manning(Rh=b * y / (b + 2.0 * y), S=s, n=n) * b * y
            for y, b, s, n in zip(depth / METRE, width / METRE, slope, rough, strict=True)
        ]
    )
    found = normal_depth(flow * METRE**3, width=width, slope=slope, roughness=rough)
    # 1.486 stands for (3.28084)^(1/3) = 1.48592: five parts in a hundred thousand
    np.testing.assert_allclose(found, depth, rtol=1e-4)


def test_critical_depth_has_the_least_energy():
    """Against the definition: no other depth of the same flow has less specific energy, y + q^2 / 2 g y^2."""
    flow, width = 4.2e3, 26.0
    y = np.linspace(0.3, 12.0, 400001)
    energy = y + (flow / width / y) ** 2 / (2.0 * 32.17405 * 12.0)
    found = float(critical_depth(np.asarray(flow), width=np.asarray(width)))
    assert found == pytest.approx(y[energy.argmin()], abs=1e-4)

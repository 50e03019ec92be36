"""Depths of water against published examples and an independent library; the pool behind a lip against hand work."""

import tomllib
from pathlib import Path

import numpy as np
import pytest

from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.loads.contents import contents
from rigcheck.loads.water import channel_flow, critical_depth, level_pool, manning_flow, normal_depth
from rigcheck.tables.materials import material
from tests.outside.values import check, inputs

FLARED = Path(__file__).parent / "data" / "thistle-apron.toml"
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


GRAVITY = 9.81  # m/s2, as the text has it
NARROWED = {"a": (2.5, 2.102), "b": (2.2, 2.350)}
"""Width of the narrow place, and the depth that the text finds upstream of it where it chokes. [m]"""


def energy(depth: float, *, width: float, flow: float = 15.0) -> float:
    """Specific energy, depth and velocity head. [m]"""
    return depth + (flow / (width * depth)) ** 2 / (2.0 * GRAVITY)


def test_a_narrow_place_asks_for_the_energy_that_the_text_has():
    critical = {width: float(critical_depth(np.asarray(15.0 * METRE**3), width=np.asarray(width * METRE))) / METRE
                for width, _ in NARROWED.values()}  # fmt: skip
    check("contraction-critical", critical[2.5])
    check("contraction-energy", 1.5 * critical[2.5])
    check("contraction-energy-narrower", 1.5 * critical[2.2])
    for width, upstream in NARROWED.values():
        # both numbers of the text, solved again: the water before it has the least energy that the narrow place passes
        least = energy(critical[width], width=width)
        assert least == pytest.approx(1.5 * critical[width], rel=2e-3)
        assert energy(upstream, width=3.5) == pytest.approx(least, abs=1e-3)


@pytest.mark.parametrize("part", NARROWED)
def test_a_box_that_narrows_counts_the_water_before_it_no_shallower_than_the_text(part):
    """The example at a fifth of its size: lengths a fifth, flow that to the power of 2.5 (Froude)."""
    narrow, upstream = NARROWED[part]
    fifth = METRE / 5.0
    data = tomllib.loads(FLARED.read_text(encoding="utf-8"))
    data["box"] |= {"length": "60 in", "width": f"{3.5 * fifth} in", "side_height": "30 in", "pitch": "0.001 deg"}
    data["stretch"] = [{"length": "40 in", "width": f"{3.5 * fifth} in"},
                       {"length": "20 in", "width_tail": f"{narrow * fifth} in"}]  # fmt: skip
    data["hanger"] |= {"at": "50 in"}
    data["water"] = {"flow": "1000 gpm"}
    rig = Rig(
        check_case(
            {name: data[name] for name in ("title", "box", "stretch", "hinge", "hanger", "perch", "line", "water")}
        )
    )
    flow = {"water.flow": np.asarray(15.0 / 5.0**2.5 * METRE**3), "water.roughness": np.asarray(0.001)}
    found = contents(Rig(rig.case, flow)).along[0].flow
    for counted in found:
        assert upstream * fifth < float(counted) == pytest.approx(energy_asked(narrow) * fifth, rel=2e-3)


def energy_asked(width: float) -> float:
    """Least specific energy with which a place of that width passes the flow, 1.5 times its critical depth. [m]"""
    return 1.5 * ((15.0 / width) ** 2 / GRAVITY) ** (1.0 / 3.0)

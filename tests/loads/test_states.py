"""Weights in each state against weights worked out here from the case's own numbers."""

from dataclasses import replace

import numpy as np
import pytest

from rigcheck.case.rig import varied
from rigcheck.loads.contents import contents
from rigcheck.loads.pieces import stack, take
from rigcheck.loads.states import life
from rigcheck.loads.steel import take_off
from rigcheck.statics.resultant import spread
from rigcheck.tables import shapes
from rigcheck.tables.materials import material, steel_density
from tests.statics.random_rigs import CHANNELS, FOLDING, PLAIN, STRUCTURES, rig_of, varied_rig

LENGTH, WIDTH, SIDE, BED, GRAVEL = 105.0, 27.0, 7.0, 1.5, 128.0 / 1728.0


def weights(text: str, *, state: str, factored: bool = False) -> list[float]:
    """Total weight of every row of a state."""
    loads = life(rig_of(text)).loads
    loads = loads.demand() if factored else loads
    whole = spread(loads).weight.sum(-1) + loads.lump["weight"].sum(-1)
    return [float(whole[i]) for i, row in enumerate(loads.rows) if row.state == state]


def dry() -> float:
    return weights(PLAIN, state="empty")[0]


def test_empty_box_piece_by_piece():
    rig = rig_of(PLAIN)
    found = {piece.name: float(piece.weight) for piece in take_off(rig)}
    sheet, per_inch = float(rig.number("box.sheet")), steel_density()
    tube = shapes.find("HSS1-1/2x1-1/2x1/8").weight_per_length
    assert found["floor sheet"] == pytest.approx(WIDTH * LENGTH * sheet * per_inch)
    assert found["side walls"] == pytest.approx(2.0 * SIDE * LENGTH * sheet * per_inch)
    steel = sum(weight for name, weight in found.items() if name.startswith(("floor", "side", "rail", "cross")))
    assert sum(found.values()) == pytest.approx(
        steel * 1.08 + 2.0 / 144.0 * LENGTH * WIDTH * float(rig.number("mat.coverage")) + 19.0
    )
    stiffeners = next(weight for name, weight in found.items() if name.startswith("rail"))
    assert stiffeners == pytest.approx(2.0 * LENGTH * tube)
    assert sum(found.values()) == pytest.approx(dry())


def test_cross_members_are_one_more_than_the_bays_that_fit():
    """105 in at 15 in: seven bays and eight members; at 15.1 in six bays and seven."""
    tube = shapes.find("HSS1-1/2x1-1/2x1/8").weight_per_length
    for spacing, count in ((15.0, 8), (15.1, 7)):
        rig = varied(rig_of(PLAIN), {"cross_member.spacing": spacing})
        (across,) = (piece for piece in take_off(rig) if piece.name.startswith("cross-members"))
        outside = WIDTH + 2.0 * float(rig.number("box.sheet"))
        assert float(across.weight) == pytest.approx(count * outside * tube)


def test_steel_weighs_what_its_volume_does():
    rig = rig_of(PLAIN)
    assert steel_density() == pytest.approx(490.0 / 1728.0)
    names = [piece.name for piece in take_off(rig)]
    assert len(names) == len(set(names))


def test_packed_is_gravel_to_the_top_and_the_water_over_it():
    found = contents(rig_of(PLAIN))
    impact = float(found.impact)
    over = WIDTH * LENGTH * float(found.flow.depth) * float(found.density)
    packed = WIDTH * LENGTH * SIDE * GRAVEL
    assert weights(PLAIN, state="packed")[0] == pytest.approx(dry() + packed + over + impact)


def test_running_is_bed_and_water():
    found = contents(rig_of(PLAIN))
    bed = WIDTH * LENGTH * BED * GRAVEL
    water = WIDTH * LENGTH * float(found.running) * float(found.density)
    assert weights(PLAIN, state="running")[0] == pytest.approx(dry() + bed + water + float(found.impact))


def test_plugged_stands_over_the_lip():
    """The lip is lower than the sides; a level surface over it, cut into slices."""
    rig = rig_of(PLAIN)
    found = contents(rig)
    tangent = np.tan(float(rig.number("box.pitch")))
    s = (np.arange(20000) + 0.5) / 20000 * LENGTH
    surface = float(found.pool.surface) - (LENGTH - s) * tangent
    depth = np.maximum(surface - BED, float(found.running))
    water = WIDTH * LENGTH * depth.mean() * float(found.density)
    bed = WIDTH * LENGTH * BED * GRAVEL
    assert float(found.pool.surface) > 4.25
    assert weights(PLAIN, state="plugged")[0] == pytest.approx(dry() + bed + water + float(found.impact), rel=1e-5)


def test_lopsided_box_is_half_full_and_its_weight_a_sixth_of_the_width_off():
    loads = life(rig_of(PLAIN)).loads
    rows = [i for i, row in enumerate(loads.rows) if row.state == "lopsided"]
    bank = 0.5 * WIDTH * LENGTH * SIDE * GRAVEL
    whole = spread(loads).weight
    for i in rows:
        moment = float((whole[i] * loads.strip["y"][i]).sum())
        sign = 1.0 if loads.rows[i].variant["packed_side"] == "left" else -1.0
        assert moment == pytest.approx(sign * bank * WIDTH / 6.0)
    assert weights(PLAIN, state="lopsided")[0] == pytest.approx(dry() + bank)


def test_one_packed_channel_of_two():
    rig = rig_of(CHANNELS)
    clear = WIDTH - float(rig.number("box.sheet"))
    channel = 0.5 * clear * LENGTH * SIDE * GRAVEL
    assert weights(CHANNELS, state="lopsided")[0] == pytest.approx(weights(CHANNELS, state="empty")[0] + channel)


def test_cleanout_adds_a_person_and_searches_the_whole_box():
    loads = life(rig_of(PLAIN)).loads
    bed = WIDTH * LENGTH * BED * GRAVEL
    assert weights(PLAIN, state="cleanout") == pytest.approx(
        [dry() + bed + 250.0] * len(weights(PLAIN, state="cleanout"))
    )
    places = {row.variant["person_s"] for row in loads.rows if row.state == "cleanout"}
    assert min(places) == 0.0 and max(places) == pytest.approx(LENGTH) and len(places) >= 5


def test_ice_fills_the_box_over_the_bed():
    rig = rig_of(PLAIN)
    assert rig.value("ice.full")
    ice = 57.2 / 1728.0
    bed = WIDTH * LENGTH * BED * GRAVEL
    assert weights(PLAIN, state="iced")[0] == pytest.approx(dry() + bed + WIDTH * LENGTH * (SIDE - BED) * ice)


@pytest.mark.parametrize("state", ["empty", "running", "packed", "lopsided", "iced", "plugged"])
def test_hung_states_carry_the_hung_factor_once(state):
    bare, heavy = weights(PLAIN, state=state), weights(PLAIN, state=state, factored=True)
    np.testing.assert_allclose(np.array(heavy) / np.array(bare), float(rig_of(PLAIN).number("factors.hung")))


def test_surge_factor_is_on_the_added_water_only():
    rig = rig_of(PLAIN)
    found = contents(rig)
    added = WIDTH * LENGTH * float(found.surge - found.running) * float(found.density)
    assert added > 0.0
    bare, heavy = weights(PLAIN, state="surge")[0], weights(PLAIN, state="surge", factored=True)[0]
    hung, surge = float(rig.number("factors.hung")), float(rig.number("factors.surge"))
    assert heavy == pytest.approx(hung * (bare - added) + surge * added)


def test_whatever_hangs_weighs_what_it_weighs():
    """One g down in every row, folding and parted ones too; factors stand elsewhere. Towing alone bounces: 2 g.

    The ground leans 1.5 degrees across and, where nothing is said, 2 along, one way or the other: their tangents.
    """
    for row in life(rig_of(FOLDING)).loads.rows:
        if row.state != "towing":
            along, across = (np.abs(np.asarray(part)) for part in row.gravity[:2])
            assert along == pytest.approx(np.tan(np.radians(2.0))), row.state
            assert across == pytest.approx(np.tan(np.radians(1.5))), row.state
        assert np.all(np.asarray(row.gravity[2]) == (-2.0 if row.state == "towing" else -1.0)), row.state


def test_folding_leaves_water_out_and_sweeps_to_the_end():
    loads = life(rig_of(FOLDING)).loads
    fold = [float(loads.fold[i]) for i, row in enumerate(loads.rows) if row.state == "folding"]
    assert fold[0] == 0.0 and max(fold) == pytest.approx(np.radians(70.0))
    assert max(weights(FOLDING, state="folding")) < weights(FOLDING, state="running")[0]


@pytest.mark.parametrize("name", STRUCTURES)
def test_density_of_everything_scales_its_weight(name):
    """Twice as dense a bed adds its weight once more."""
    text = STRUCTURES[name]
    once, twice = (weights(t, state="iced")[0] for t in (text, text.replace("128 lb/ft3", "256 lb/ft3")))
    channels = 2.0 if name == "channels" else 1.0
    width = WIDTH - (channels - 1.0) * float(rig_of(text).number("box.sheet"))
    assert twice - once == pytest.approx(width * LENGTH * BED * GRAVEL)


def test_one_case_is_its_row_in_the_batch():
    rig = varied_rig(PLAIN, 6, seed=13)
    whole = life(rig, batch=(6,)).loads
    for i in (0, 5):
        alone = life(replace(rig, varied={key: values[i] for key, values in rig.varied.items()})).loads
        np.testing.assert_allclose(spread(alone).weight, spread(whole).weight[i], rtol=1e-12)
        np.testing.assert_allclose(alone.lump["weight"], whole.lump["weight"][i], rtol=1e-12)


def test_stack_pads_with_nothing_and_take_keeps_the_order():
    loads = life(rig_of(PLAIN)).loads
    some = take(loads, rows=[4, 1])
    assert [row.state for row in some.rows] == [loads.rows[4].state, loads.rows[1].state]
    again = stack([loads.rows[4], loads.rows[1]], batch=())
    np.testing.assert_allclose(spread(some).weight.sum(-1), spread(again).weight.sum(-1))
    np.testing.assert_allclose(spread(some).moment_n.sum(-1), spread(again).moment_n.sum(-1))
    assert material("water, fresh").unit_weight == pytest.approx(62.4 / 1728.0)

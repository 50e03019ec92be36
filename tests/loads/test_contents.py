"""What stands in the box: how deep, how heavy and where, each worked out by hand from the case's own numbers.

The box of these tests is 105 in long, 27 in wide and 7 in deep, with 1 1/2 in of gravel of 128 lb/ft3 in it.
"""

import numpy as np
import pytest

from rigcheck.case.rig import Rig, varied
from rigcheck.loads.contents import contents, feed_lump, ice_layer, lopsided_layer, packed_layer, people, pool_layer
from rigcheck.loads.pieces import Strip
from rigcheck.loads.states import life
from rigcheck.loads.steel import take_off
from rigcheck.statics.resultant import spread
from rigcheck.tables import shapes
from tests.statics.random_rigs import CHANNELS, PLAIN, rig_of

LENGTH, WIDTH, SIDE, BED, GRAVEL = 105.0, 27.0, 7.0, 1.5, 128.0 / 1728.0
PLAINLY = rig_of(PLAIN)


def deep(strip: Strip, *, density: float) -> float:
    """Depth of a layer across the whole box from its weight to the inch. [in]"""
    assert strip.w_start is strip.w_end or np.array_equal(strip.w_start, strip.w_end)
    return float(strip.w_start) / (WIDTH * density)


def middle(strip: Strip) -> float:
    """Height of a layer's middle over the floor. [in]"""
    assert float(strip.n_start) == float(strip.n_end)
    return float(strip.n_start)


@pytest.mark.parametrize(("flow", "held"), [(190.0, False), (30000.0, True)])
def test_water_over_a_packed_bed_is_as_deep_as_it_runs_and_no_deeper_than_the_sides(flow: float, held: bool) -> None:
    rig = varied(PLAINLY, {"water.flow": flow * 231.0 / 60.0})  # gpm to cubic inches a second
    found = contents(rig)
    gravel, water = packed_layer(rig, found)
    assert deep(gravel, density=GRAVEL) == pytest.approx(SIDE)
    assert middle(gravel) == pytest.approx(3.5)
    depth = deep(water, density=float(found.density))
    assert (float(found.flow.depth) > SIDE) == held
    assert depth == pytest.approx(SIDE if held else float(found.flow.depth))
    assert middle(water) == pytest.approx(SIDE + 0.5 * depth)


def test_a_heap_stands_on_top_of_the_packed_gravel() -> None:
    rig = varied(PLAINLY, {"bed.heap": 2.0})
    gravel, water = packed_layer(rig, contents(rig))
    assert deep(gravel, density=GRAVEL) == pytest.approx(SIDE + 2.0)
    assert middle(water) > SIDE + 2.0


def test_water_spills_where_it_is_deeper_than_what_the_bed_leaves_of_the_sides() -> None:
    depth = float(contents(PLAINLY).flow.depth)
    for share, spills in ((0.9, True), (1.1, False)):
        found = contents(varied(PLAINLY, {"bed.depth": SIDE - share * depth}))
        assert bool(found.overtops) is spills
        assert float(found.running) == pytest.approx(depth * min(share, 1.0))


def test_each_channel_runs_as_a_box_of_its_width_with_its_share_of_the_water() -> None:
    two = rig_of(CHANNELS)
    width = 0.5 * (WIDTH - float(two.number("box.sheet")))
    half = {key: 0.5 * float(two.number(key)) for key in ("water.flow", "water.feed")}
    alone = contents(varied(PLAINLY, {"box.width": width, **half}))
    assert float(contents(two).flow.depth) == pytest.approx(float(alone.flow.depth), rel=1e-9)


@pytest.mark.parametrize("side", [1, -1])
def test_a_bank_is_a_triangle(side: int) -> None:
    """Half of 27 x 7 in2 of gravel, its centroid 27 / 6 in off the middle and 7 / 3 in up."""
    (bank,) = lopsided_layer(PLAINLY, side=side)
    assert float(bank.w_start) == pytest.approx(0.5 * 27.0 * 7.0 * GRAVEL)
    assert float(bank.y) == pytest.approx(side * 4.5)
    assert middle(bank) == pytest.approx(7.0 / 3.0)


@pytest.mark.parametrize("side", [1, -1])
def test_the_packed_channel_is_the_outer_one_of_that_side(side: int) -> None:
    """Two channels of (27 in less a divider) / 2, their middles a quarter of width and divider off."""
    rig = rig_of(CHANNELS)
    divider = float(rig.number("box.sheet"))
    (strip,) = lopsided_layer(rig, side=side)
    assert float(strip.w_start) == pytest.approx(0.5 * (27.0 - divider) * 7.0 * GRAVEL)
    assert float(np.asarray(strip.y)) == pytest.approx(side * (27.0 + divider) / 4.0)
    assert middle(strip) == pytest.approx(3.5)


@pytest.mark.parametrize(("full", "stated", "depth"), [(True, 2.0, 5.5), (False, 2.0, 2.0), (False, 20.0, 5.5)])
def test_ice_lies_on_the_bed_and_goes_no_higher_than_the_sides(full: bool, stated: float, depth: float) -> None:
    """7 in less a bed of 1 1/2 in is 5 1/2 in; ice of 57.2 lb/ft3."""
    rig = rig_of(PLAIN + f'[ice]\nfull = {str(full).lower()}\ndepth = "{stated} in"\n')
    (ice,) = ice_layer(rig)
    assert deep(ice, density=57.2 / 1728.0) == pytest.approx(depth)
    assert middle(ice) == pytest.approx(BED + 0.5 * depth)


@pytest.mark.parametrize("side", [1, -1])
def test_people_stand_on_the_rail(side: int) -> None:
    """Three of 210 lb at one place, half of 27 in off the middle, and the middle is not where they do harm."""
    (crowd,) = people(rig_of(PLAIN + '[person]\nweight = "210 lb"\npeople = 3\n'), s=40.0, side=side)
    assert float(crowd.weight) == pytest.approx(630.0)
    assert float(crowd.s) == 40.0
    assert float(crowd.y) == pytest.approx(side * 13.5)


def weight_of(rig: Rig, state: str) -> list[float]:
    loads = life(rig).loads
    whole = spread(loads).weight.sum(-1) + loads.lump["weight"].sum(-1)
    return [float(whole[i]) for i, row in enumerate(loads.rows) if row.state == state]


def test_the_towed_box_has_the_left_over_bed_in_it() -> None:
    """15 % of 27 x 105 x 1.5 in3 of gravel at 128 lb/ft3 by default, 40 % where the case says so."""
    bed = 27.0 * 105.0 * 1.5 * GRAVEL
    empty = weight_of(PLAINLY, "empty")[0]
    told = rig_of(PLAIN + '[haul]\nleft_over = "40 %"\n')
    assert weight_of(PLAINLY, "towing") == pytest.approx([empty + 0.15 * bed] * 4)
    assert weight_of(told, "towing") == pytest.approx([empty + 0.40 * bed] * 4)


def test_the_allowance_is_on_all_steel_end_tubes_too() -> None:
    """8 % of everything cut and welded, not of mats and fittings."""
    tube = shapes.find("HSS2x2x1/8").weight_per_length
    rig = rig_of(PLAIN + '[end_tube]\nshape = "HSS2x2x1/8"\n')
    more = sum(float(one.weight) for one in take_off(rig)) - sum(float(one.weight) for one in take_off(PLAINLY))
    long = more / (1.08 * tube)
    assert 2.0 * WIDTH <= long <= 2.0 * (WIDTH + 8.0), "one tube at the head and one at the tail"
    ends = [one for one in take_off(rig) if "end tube" in one.name or "tube" in one.name.split()]
    assert sum(float(one.weight) for one in ends) * 1.08 == pytest.approx(more)


def test_every_piece_of_steel_hangs_where_it_is_drawn() -> None:
    """12 ga sheet 0.1046; sides 7 in; tubes 1-1/2 in under the floor and below the top edge, 2 x 1-1/2 across the ends.

    Middles: floor -0.0523, sides and divider 3.5, cross-members -0.1046 - 0.75, end tubes -0.1046 - 1, mats 1/2 up.
    """
    rig = rig_of(CHANNELS + '[end_tube]\nshape = "HSS2x1-1/2x1/8"\n')
    found = {one.name.split(",")[0]: (float(one.s), float(one.n)) for one in take_off(rig) if "lip" not in one.name}
    tubes = {name for name in found if "tube" in name}
    drawn = {
        "floor sheet": (52.5, -0.0523), "side walls": (52.5, 3.5), "dividers": (52.5, 3.5),
        "rail stiffeners": (52.5, 6.25), "cross-members": (52.5, -0.8546), "mats and riffles": (52.5, 0.5),
    }  # fmt: skip
    assert {name: found[name] for name in drawn} == {name: pytest.approx(at) for name, at in drawn.items()}
    assert sorted(found[name] for name in tubes) == [pytest.approx((0.0, -1.1046)), pytest.approx((105.0, -1.1046))]
    allowance = next(at for name, at in found.items() if name.startswith("allowance"))
    steel = [one for one in take_off(rig) if one.spread and one.name.split(",")[0] in drawn and "mats" not in one.name]
    middle_of_it = sum(float(one.weight * one.n) for one in steel) / sum(float(one.weight) for one in steel)
    assert allowance == pytest.approx((52.5, middle_of_it))


def test_feed_falls_within_a_foot_of_the_hinge() -> None:
    for length, place in ((105.0, 12.0), (20.0, 10.0)):
        rig = varied(PLAINLY, {"box.length": length, "hanger.at": 0.7 * length, "fitting.0.at": 0.9 * length})
        (lump,) = feed_lump(rig, contents(rig))
        assert float(lump.s) == pytest.approx(place)


def test_feed_that_falls_pushes_by_its_flow_of_momentum() -> None:
    """190 gpm, 4 cubic yards an hour, 11 in of fall: v = sqrt(2 x 386.09 x 11) = 92.16 in/s; W v/g with W in lb/s."""
    found = contents(PLAINLY)
    still = contents(varied(PLAINLY, {"water.fall": 0.0}))
    assert float(still.impact) == 0.0
    water = 190.0 * 231.0 / 60.0 * 62.4 / 1728.0
    feed = 4.0 * 46656.0 / 3600.0 * float(PLAINLY.number("water.solids_density"))
    assert float(found.impact) == pytest.approx((water + feed) * 92.163 / 386.09, rel=2e-3)


def test_the_pool_lies_on_the_bed_and_its_middle_is_half_its_depth_over_it() -> None:
    found = contents(PLAINLY)
    up, pool = pool_layer(PLAINLY, found)
    assert float(found.pool.depth_tail) > float(found.pool.depth_start) >= float(found.pool.upstream) > 0.0
    assert float(up.n_start) == float(up.n_end) == pytest.approx(BED + float(found.pool.upstream) / 2.0)
    assert float(pool.n_start) == pytest.approx(BED + float(found.pool.depth_start) / 2.0)
    assert float(pool.n_end) == pytest.approx(BED + float(found.pool.depth_tail) / 2.0)


@pytest.mark.parametrize(
    ("state", "names"),
    [
        ("running", {"bed", "running water", "falling feed"}),
        ("plugged", {"bed", "water behind the shut outlet", "falling feed"}),
        ("packed", {"packed gravel", "water over the gravel", "falling feed"}),
        ("digout", {"packed gravel", "person"}),
        ("iced", {"bed", "ice"}),
    ],
)
def test_every_load_carries_its_own_name_wherever_its_row_is_copied(state: str, names: set[str]) -> None:
    """What stands in the box in each state, common practice; with a line broken in it the same stands there."""
    own = {"empty box along its length", *(piece.name for piece in take_off(PLAINLY))}
    rows = life(PLAINLY, only=frozenset({state, "line_broken"})).loads.rows
    here = [row for row in rows if state in (row.state, row.variant.get("while"))]
    assert {row.state for row in here} == {state, "line_broken"}
    for row in here:
        assert {load.name for load in (*row.strips, *row.lumps)} - own == names, row.state

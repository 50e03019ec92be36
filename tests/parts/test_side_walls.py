"""Side walls pushed outward: a strip of wall and the stiffener along its top, by hand."""

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.rig import varied
from rigcheck.parts.rail.side_walls import side_wall_checks, wall_push
from tests.statics.random_rigs import PLAIN, rig_of

ON_TOP = PLAIN.replace('spacing = "15 in"', 'spacing = "15 in"\nat = "top"')


def test_a_free_wall_is_a_cantilever_under_gravel_and_water():
    """7 in high, 128 lb/ft3: 0.5 (128 - 62.4) + 62.4 = 95.2 lb/ft3 = 0.0551 lb/in3; x 1.33 x 7^3 / 6 = 4.189 lb."""
    per_inch = (0.5 * (128.0 - 62.4) + 62.4) / 1728.0
    push = wall_push(rig_of(PLAIN))
    assert not push.held and push.top == 0.0
    assert push.foot == pytest.approx(1.33 * per_inch * 7.0**3 / 6.0, rel=1e-3)
    (wall,) = side_wall_checks(solve(rig_of(PLAIN), only=frozenset({"packed"})))
    # 12 gauge, 0.1046 in; unknown steel has Fy 30 or 33 ksi at least and 1.25 Fy / 3 under the lifting basis
    assert wall.demand.max() == pytest.approx(6.0 * float(push.foot) / 0.1046**2, rel=1e-2)
    assert wall.demand.max() / wall.capacity.max() < 0.3


def test_a_wall_that_leans_on_a_held_stiffener_bends_two_fifths_as_much():
    """An inch of wall: w H^2/15 for w H^2/6, and w H/10 for each inch of the stiffener, 15 in from member to member."""
    free, held = wall_push(rig_of(PLAIN)), wall_push(rig_of(ON_TOP))
    assert held.held and held.foot == pytest.approx(0.4 * free.foot)
    assert held.top == pytest.approx(6.0 * free.foot / 7.0 / 10.0)
    _, rail = side_wall_checks(solve(rig_of(ON_TOP), only=frozenset({"packed"})))
    assert rail.demand.max() == pytest.approx(float(held.top) * 15.0**2 / 8.0)


def test_a_heap_pushes_alike_from_top_to_foot():
    """2 in of heap at 128 lb/ft3 less water's 62.4: 1.33 x 0.5 x 65.6/1728 x 2 = 0.050491 psi, on 7 in of wall.

    Built in at the foot alone p H^2/2 = 1.23703; held along its top p H^2/8 = 0.30926 and 3 p H/8 = 0.13254 lb/in.
    """
    for text, foot, top in ((PLAIN, 1.23703, 0.0), (ON_TOP, 0.30926, 0.13254)):
        plain, heaped = (wall_push(varied(rig_of(text), {"bed.heap": np.asarray(heap)})) for heap in (0.0, 2.0))
        assert float(heaped.foot - plain.foot) == pytest.approx(foot, rel=2e-3)
        assert float(heaped.top - plain.top) == pytest.approx(top, rel=2e-3)


def test_a_higher_wall_a_heap_and_a_thinner_sheet_are_worse():
    rig = rig_of(PLAIN)
    use = [
        float(np.max(one.demand / one.capacity))
        for changes in ({}, {"box.side_height": 14.0}, {"bed.heap": 2.0}, {"box.sheet": 0.0598})
        for one in side_wall_checks(solve(varied(rig, changes) if changes else rig, only=frozenset({"packed"})))
    ]
    assert use[1] == pytest.approx(8.0 * use[0]) and use[2] > use[0] and use[3] > 2.5 * use[0]
    assert side_wall_checks(solve(rig, only=frozenset({"running"}))) == []

"""Bare sheet under lugs, barrels and eyelets: strength by hand, who counts, and which way thicker goes."""

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.face.sheet import sheet_checks
from rigcheck.strength.connections.sheets import plastic_moment, push_between_edges, push_on_free_edge
from rigcheck.studies.vary.case import with_values
from tests.parts.test_eyelets import CASE, EYELET, pull, standing_on, use

LARKSPUR = read_case(CASE)


def test_twelve_gauge_between_floor_and_stiffener_by_hand():
    """0.1046 in of 36 ksi, half stressed: m = 9,000 x 0.010941 x 0.75 = 73.85 lb, N = 2 pi m = 464.0 lb."""
    moment = plastic_moment(0.1046, fy=36.0e3, stressed=0.5)
    assert float(moment) == pytest.approx(73.85, abs=0.005)
    assert float(push_between_edges(moment)) == pytest.approx(464.0, abs=0.05)


def test_a_point_never_takes_more_than_the_yield_lines_of_simple_plates():
    """Least collapse loads over m: square, simply supported, load in the middle 8; free edge of a cantilever slab 4.

    Yield line theory, textbook values, from memory; ours must lie under them.
    """
    assert float(push_between_edges(1.0)) < 8.0
    assert float(push_on_free_edge(1.0, foot=0.0, arm=7.0)) == pytest.approx(2.0) and 2.0 < 4.0
    assert float(push_on_free_edge(1.0, foot=4.5, arm=7.0)) == pytest.approx(18.5 / 7.0)  # 4.5 + 2 x 7 over 7


def test_sheet_that_yields_along_its_plane_bends_for_nothing():
    assert float(plastic_moment(0.125, fy=36.0e3, stressed=1.0)) == 0.0
    assert float(plastic_moment(0.125, fy=36.0e3, stressed=0.0)) == pytest.approx(140.625)  # 36,000 / 4 / 64


def test_an_eyelet_on_the_side_wall_by_hand():
    """12 ga of 50 ksi held along floor and stiffener, half stressed; divisor 3 (ASME BTH-1, from memory).

    m = 12,500 x 0.1046^2 x 0.75; N = 2 pi m/3; hole 1 in off, foot 2 1/2 in: M = 1.25 N.
    """
    answer = standing_on("side wall")
    most = 2.0 * np.pi * 12.5e3 * 0.1046**2 * 0.75 / 3.0
    expected = pull(answer) * np.hypot(1.0 / most, 1.0 / (1.25 * most))
    assert use(answer, "side wall under it bent") == pytest.approx(expected, rel=1e-9)
    assert expected > 1.0  # a rigger ties nothing to sheet a tenth of an inch thick


def test_an_eyelet_without_a_stiffener_over_it_has_less():
    held = use(standing_on("side wall"), "side wall under it bent")
    low = assess(Rig(with_values(standing_on("side wall").solution.rig.case, {"rail.at": "bottom"})))
    assert use(low, "side wall under it bent") > 1.5 * held


def bare(**changes) -> Rig:
    return Rig(with_values(LARKSPUR, {"rail.at": "bottom", **changes}))


def hanger(rig: Rig):
    return next(check for check in sheet_checks(solve(rig)) if check.part == "side wall under the hanger lug")


def test_a_hanger_lug_on_the_wall_is_over_and_never_gains_from_thinner_sheet():
    answer = assess(bare())
    assert any(w.check.part == "side wall under the hanger lug" and float(w.utilization) > 1.0 for w in answer.worst)
    rig = bare()
    sheets = np.array([0.06, 0.1046, 0.1345, 0.1875])
    uses = hanger(varied(rig, {"box.side_sheet": sheets})).demand.max((-3, -2, -1))
    assert np.all(np.diff(uses) < 0.0)


def test_a_lug_out_from_its_wall_bends_it_more():
    near, far = (hanger(varied(bare(), {"hanger.spacing": at})).demand.max() for at in (28.2, 31.0))
    assert far > near


def test_barrels_on_the_floor_sheet_bend_its_edge_by_hand():
    """10 ga, 0.1345 in of 50 ksi, half stressed, over 3: m = 56.53 lb; one barrel, 1 3/4 in, 1 1/2 in under it."""
    rig = Rig(with_values(LARKSPUR, {"end_tube.head": False, "cross_member": None}))
    solution = solve(rig)
    (row,) = (
        check
        for check in sheet_checks(solution)
        if check.part == "floor sheet under the hinge barrels" and not check.ultimate
    )
    moment = 0.25 * 50.0e3 * 0.1345**2 * 0.75 / 3.0
    assert moment == pytest.approx(56.53, abs=0.005)
    force = solution.demand.hinge
    tilt = -float(np.arctan(1.625 / 12.0))
    still = solution.states("packed")
    along = np.abs(force[still, ..., 0] * np.cos(tilt) + force[still, ..., 2] * np.sin(tilt))
    square = np.abs(-force[still, ..., 0] * np.sin(tilt) + force[still, ..., 2] * np.cos(tilt))
    by_hand = square / (np.pi * moment) + along * 1.5 / (moment * 1.75)
    np.testing.assert_allclose(row.demand[still], by_hand, rtol=1e-9)


def test_nothing_is_added_where_tubes_stand_under_them():
    solution = solve(Rig(LARKSPUR))
    assert sheet_checks(solution) == []
    assert not any("wall under it bent" in w.check.mode for w in assess(Rig(LARKSPUR)).worst if w.check.part == EYELET)

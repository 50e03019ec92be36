"""Digging out, wind on the hung box, the snagged box, a person who steps down: by hand."""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import ALONE, BOUNDS, SHARED
from rigcheck.loads.snagged import full_pull, line_arms
from rigcheck.loads.states import _stations, life
from rigcheck.parts.line.checks import forbidden
from rigcheck.parts.lug.checks import hoist_rating
from tests.statics.random_rigs import FOLDING, PLAIN, rig_of

CASES = Path(__file__).parents[2] / "cases"
HOIST = PLAIN.replace('[[line.link]]\nkind = "wire rope"', '[[line.link]]\nkind = "lever hoist"\nwll = "1500 lb"\n'
                      'rated_to_suspend = true\n[[line.link]]\nkind = "wire rope"')  # fmt: skip


def of_state(solution, state: str) -> list[int]:
    return [i for i, row in enumerate(solution.rows) if row.state == state]


def test_people_step_down_with_a_factor_of_their_own():
    """250 lb x 1.5, all else x 1.33; where what hangs has 2.0 the people have 2.0, not 3.0."""
    for hung, people in ((1.33, 1.5), (2.0, 2.0)):
        rig = varied(rig_of(PLAIN), {"factors.hung": hung})
        for state in ("cleanout", "digout"):
            heavy = solve(rig, only=frozenset({state}))
            gains = {float(lump.gain) for row in heavy.rows for lump in row.lumps[-1:]}
            assert gains == {people}
            assert {float(strip.gain) for row in heavy.rows for strip in row.strips} == {hung}


def test_digging_out_is_the_packed_gravel_without_water_over_it_and_a_person():
    """105 x 27 x 7 in of 128 lb/ft3 and 250 lb over the empty box, on two lines only."""
    dry, digout = (solve(rig_of(PLAIN), only=frozenset({state})) for state in ("empty", "digout"))
    gravel = 105.0 * 27.0 * 7.0 * 128.0 / 1728.0
    np.testing.assert_allclose(digout.service.weight, dry.service.weight[0] + gravel + 250.0)
    assert not digout.allowed[:, [BOUNDS.index("left"), BOUNDS.index("right")]].any()
    places = [row.variant["person_s"] for row in digout.rows]
    assert min(places) == 0.0 and max(places) == 105.0 and len(set(places)) == 9


@pytest.mark.parametrize("state", ["cleanout", "digout"])
def test_no_station_between_the_ends_and_no_lean_pulls_more_than_the_ends(state):
    """What is left out between the ends is bounded by them: lines and hinge at 9 stations, every lean."""
    found = solve(rig_of(PLAIN), only=frozenset({state}))
    ends = np.array([row.variant["person_s"] in (0.0, 105.0) for row in found.rows])
    for values in (found.demand.tension, np.hypot(found.demand.hinge[..., 0], found.demand.hinge[..., 2])):
        shared = values[:, :3]
        assert shared[ends].max() >= shared[~ends].max() * (1.0 - 1e-9)


def test_wind_presses_a_level_floor_up_and_down():
    """40 mph: 0.00256 x 1600 = 4.096 lb/ft2; x 1.2 x 105 in x (27 + 2 t) in: some 98 lb square to the floor."""
    found = solve(rig_of(PLAIN), only=frozenset({"empty", "wind_hung"}))
    width = 27.0 + 2.0 * float(rig_of(PLAIN).number("box.sheet"))
    floor = 4.096 / 144.0 * 1.2 * 105.0 * width
    assert 95.0 < floor < 102.0
    pitch = float(rig_of(PLAIN).number("box.pitch"))
    windy = [row for row in found.rows if row.state == "wind_hung"]
    for row in windy:
        (push,) = row.pushes
        square = push.fx * np.sin(pitch) + push.fz * np.cos(pitch)
        assert square == pytest.approx(floor if row.variant["gust"] == "up" else -floor)
        gain = 1.0 if row.variant["gust"] == "up" else 1.33
        assert {float(strip.gain) for strip in row.strips} == {gain}
    sides = [float(row.pushes[0].fy) for row in windy if row.variant["wind_to"] == "+y"]
    assert sides == pytest.approx([4.096 / 144.0 * 1.8 * 105.0 * 7.0] * len(sides))


def test_only_a_gust_that_eases_the_lines_goes_without_the_factor_of_folding():
    """On the way up a gust toward the head takes from the weight's turn: there the weight counts as it is."""
    rows = [row for row in solve(rig_of(FOLDING)).rows if row.variant.get("while") == "folding"]
    gains = {(str(row.variant["wind_to"]), float(strip.gain)) for row in rows if row.state == "wind_hung"
             for strip in row.strips}  # fmt: skip
    assert {gain for way, gain in gains if way != "-x"} == {1.1}
    assert {gain for way, gain in gains if way == "-x"} == {1.0}


def test_which_stations_are_at_an_end():
    """Three stations, people on either side at each: the first and last two rows, or the first and last."""
    both = [SimpleNamespace(variant={"person_side": side}, manned=True) for _ in range(3) for side in ("left", "right")]
    assert [end for _, end in _stations(both)] == [True, True, False, False, True, True]
    assert [end for _, end in _stations(both[::2])] == [True, False, True]
    nobody = [SimpleNamespace(variant={}, manned=False) for _ in range(3)]
    assert [end for _, end in _stations(nobody)] == [True, True, True]


def test_a_batch_tells_the_hardest_pull_of_its_towing():
    rig = varied(rig_of(PLAIN), {"towing.fore_aft": np.array([0.1, 0.3])})
    rows = [row for row in life(rig, batch=(2,), only=frozenset({"towing"})).loads.rows if row.state == "towing"]
    assert rows and all("0.3 fore-aft" in row.factor for row in rows)


def test_the_ground_under_a_hung_box_leans_with_the_wind():
    rows = [
        row for row in solve(rig_of(PLAIN), only=frozenset({"empty", "wind_hung"})).rows if row.state == "wind_hung"
    ]
    along = {
        way: {float(np.sign(row.gravity[0])) for row in rows if row.variant["wind_to"] == way} for way in ("+x", "-x")
    }
    assert along == {"+x": {1.0}, "-x": {-1.0}}


def test_every_way_of_sharing_is_of_both_lines_or_of_one():
    assert set(BOUNDS) == SHARED | ALONE and not SHARED & ALONE


def test_a_gale_lifts_a_light_box_off_its_lines_and_that_is_said_but_stops_nothing():
    found = assess(varied(rig_of(FOLDING), {"wind.hung": 120.0 * 17.6}))
    flags = {flag.code: flag for flag in found.flags}
    assert "wind_slack" in flags and not flags["wind_slack"].stops and "line_slack" not in flags
    lifted = found.solution.demand.lifted
    assert lifted.any() and not found.solution.demand.tension[lifted].any()
    calm = assess(varied(rig_of(FOLDING), {"wind.hung": 0.0}))
    assert "wind_slack" not in {flag.code for flag in calm.flags}
    assert "wind_hung" not in {row.state for row in calm.solution.rows}


def test_wind_on_a_box_that_stands_up_is_that_of_the_parked_one():
    """Upright 1.8 q B L, at half the length: at 70 deg less the pitch 1.8 sin of it, over 1.2."""
    found = solve(rig_of(FOLDING), only=frozenset({"empty", "wind_hung"}))
    last = [row for row in found.rows if row.variant.get("while") == "folding" and row.variant["wind_to"] == "+x"][-1]
    assert last.variant["fold_deg"] == pytest.approx(70.0)
    angle = np.radians(70.0) - float(rig_of(FOLDING).number("box.pitch"))
    width = 27.0 + 2.0 * float(rig_of(FOLDING).number("box.sheet"))
    floor = 4.096 / 144.0 * 1.8 * np.sin(angle) * 105.0 * width
    end = 4.096 / 144.0 * 1.8 * width * 7.0 * np.cos(angle)
    assert float(last.pushes[0].fx) == pytest.approx(floor * np.sin(angle) + end * np.cos(angle))


def test_a_snagged_box_pulls_its_lines_to_the_full_rating():
    rig = rig_of(HOIST)
    assert full_pull(rig) == hoist_rating(rig) == 1500.0
    found = solve(rig, only=frozenset({"empty", "snagged"}))
    assert float(line_arms(rig)[0]) == pytest.approx(float(found.pose.arm[0]))
    stiff, left = BOUNDS.index("stiff"), BOUNDS.index("left")
    snagged = of_state(found, "snagged")
    for i in snagged:
        row = found.rows[i]
        both = row.variant["pulled_by"] == "both lines"
        expected = [1500.0, 1500.0] if both else [1500.0, 0.0]
        np.testing.assert_allclose(found.demand.tension[i, stiff if both else left], expected, rtol=1e-9, atol=1e-6)
    up = found.demand.hinge[snagged, stiff, :, 2].sum(-1)
    held = [found.rows[i].variant["held"] for i in snagged]
    assert len(held) == 4 and np.all(found.demand.residual < 1e-6)
    for word, other in (("at the tail", "along the floor"),):
        assert min(up[i] for i, one in enumerate(held) if one == word) < min(
            up[i] for i, one in enumerate(held) if one == other
        )


def test_the_rail_of_a_snagged_box_is_a_beam_between_hinge_and_tail():
    """Both lines at 1500 lb up at the hangers, held at the tail: hogging T_n s_H (L - s_H) / L less its own weight."""
    found = solve(rig_of(HOIST), only=frozenset({"empty", "snagged"}))
    i = next(k for k, row in enumerate(found.rows)
             if row.variant.get("pulled_by") == "both lines" and row.variant["held"] == "at the tail")  # fmt: skip
    most = found.bent.on_bounds(np.abs(found.peaks.moment).max(-1))[i, BOUNDS.index("stiff"), 0]
    across = 1500.0 * float(found.pose.u_n[i]) * 71.0 * (105.0 - 71.0) / 105.0
    assert most == pytest.approx(across, rel=0.2)


def test_the_hoist_itself_is_not_held_to_its_own_full_pull_but_a_weaker_link_is():
    found = assess(rig_of(HOIST), only=frozenset({"empty", "snagged"}))
    (hoist,) = [one.check for one in found.worst if "lever hoist" in one.check.part and not one.check.ultimate]
    rows = np.broadcast_to(hoist.where, found.solution.shape)[of_state(found.solution, "snagged")]
    assert not rows.any()
    weak = assess(varied(rig_of(HOIST.replace("1500 lb", "6000 lb")), {}), only=frozenset({"empty", "snagged"}))
    assert max(float(one.utilization) for one in weak.worst if "shackle" in one.check.part) > 1.0


def test_a_person_on_a_box_that_a_hoist_holds_is_a_case_that_the_cautions_forbid():
    found = solve(rig_of(HOIST))
    where = forbidden(found).any((-2, -1)) | np.zeros(len(found.rows), dtype=bool)
    manned = np.array([row.state in ("cleanout", "digout") for row in found.rows])
    np.testing.assert_array_equal(where, manned)
    flags = {flag.code for flag in assess(rig_of(PLAIN)).flags}
    assert "person_on_hung_box" not in flags


@pytest.mark.parametrize("name", ["larkspur-bar", "sawpit-bend", "two-stone-pit"])
def test_a_state_added_never_lowers_a_utilization(name):
    """Each state by itself is never over what all of them together come to."""
    rig = Rig(read_case(CASES / f"{name}.toml"))
    whole = {}
    for one in assess(rig).worst:
        key = (one.check.part, one.check.mode, one.check.snag, one.check.on_accidents)
        whole[key] = max(whole.get(key, -1.0), float(one.utilization))
    few = (
        {"packed"},
        {"empty", "running"},
        {"digout"},
        {"empty", "wind_hung"},
        {"empty", "snagged"},
        {"towing", "iced"},
    )
    for states in few:
        for one in assess(rig, only=frozenset(states)).worst:
            key = (one.check.part, one.check.mode, one.check.snag, one.check.on_accidents)
            assert float(one.utilization) <= whole[key] * (1.0 + 1e-9), (states, key)

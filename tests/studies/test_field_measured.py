"""What was weighed is what every check counts with: the weight, the moment about the hinge, or both."""

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.errors import CaseError
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.measured import first_moment, level_arm, measured_words, total
from rigcheck.loads.steel import estimate, take_off
from tests.statics.random_rigs import PLAIN, STRUCTURES, rig_of, varied_rig

COUNT = 40
EMPTY = frozenset({"empty"})


def weighed(text: str, **measured: str) -> Rig:
    return rig_of(text + "[measured]\n" + "".join(f'{key} = "{value}"\n' for key, value in measured.items()))


def dry(rig: Rig) -> tuple[np.ndarray, np.ndarray]:
    """Weight and moment about the hinge that the statics see where the plant stands level, as it did for the scale."""
    level = varied(rig, {"plant.cross_slope": np.zeros(()), "plant.fore_aft_slope": np.zeros(())})
    found = solve(level, only=EMPTY).service
    return found.weight[..., 0], found.moment[..., 0, 1]


@pytest.mark.parametrize("text", STRUCTURES.values(), ids=STRUCTURES)
@pytest.mark.parametrize("ratio", [0.75, 1.0, 1.3])
def test_weight_moment_or_both_hold_on_random_rigs(text, ratio):
    rig = varied_rig(text, COUNT, seed=5)
    guess = estimate(rig)
    known = total([one for one in guess if one.weighed])
    weight = known + ratio * (total(guess) - known)
    moment = first_moment(rig, pieces=guess) * (1.0 + 0.1 * (ratio - 1.0))
    place = 0.93 * rig.number("box.length")
    heavy = varied(rig, {"measured.empty_weight": weight})
    np.testing.assert_allclose(dry(heavy)[0], weight, rtol=1e-12)
    lifted = varied(rig, {"measured.tail_lift": moment / place, "measured.tail_lift_at": place})
    np.testing.assert_allclose(dry(lifted)[1], moment, rtol=1e-10)
    np.testing.assert_allclose(dry(lifted)[0], total(guess), rtol=1e-12)
    moment = 1.06 * first_moment(heavy, pieces=take_off(heavy))
    both = varied(heavy, {"measured.tail_lift": moment / place, "measured.tail_lift_at": place})
    np.testing.assert_allclose(dry(both)[0], weight, rtol=1e-12)
    np.testing.assert_allclose(dry(both)[1], moment, rtol=1e-10)


@pytest.mark.parametrize("held", [{}, {"cross_slope": 0.0}], ids=["both slopes", "along only"])
def test_the_slopes_of_the_case_are_added_to_what_was_weighed(held):
    """Read on level ground; the plant may lean 2 degrees later: W (x + z tan 2 deg) to its steep end, or less.

    z is the height of the center above the hinge axis, by the pieces; tan 2 deg = 0.034921.
    """
    rig = varied_rig(PLAIN, COUNT, seed=7)
    moment = 1.03 * first_moment(rig, pieces=estimate(rig))
    lifted = varied(rig, {"measured.tail_lift": moment / 100.0, "measured.tail_lift_at": np.full(COUNT, 100.0)})
    slopes = {"plant.fore_aft_slope": np.radians(2.0), **{f"plant.{key}": at for key, at in held.items()}}
    lifted = varied(lifted, slopes)
    pitch, hinge = rig.number("box.pitch"), rig.number("hinge.height")
    up = sum(one.weight * ((one.n - hinge) * np.cos(pitch) - one.s * np.sin(pitch)) for one in take_off(lifted))
    found = solve(lifted, only=EMPTY).service.moment[..., 1]
    np.testing.assert_allclose(found.max(-1), moment + 0.034920769 * np.abs(up), rtol=1e-8)
    np.testing.assert_allclose(found.min(-1), moment - 0.034920769 * np.abs(up), rtol=1e-8)


def test_the_estimate_measured_changes_nothing():
    rig = varied_rig(PLAIN, COUNT, seed=6)
    guess = estimate(rig)
    same = varied(rig, {
        "measured.empty_weight": total(guess),
        "measured.tail_lift": first_moment(rig, pieces=guess) / 90.0,
        "measured.tail_lift_at": 90.0 + 0.0 * total(guess),
    })  # fmt: skip
    before, after = solve(rig, only=EMPTY), solve(same, only=EMPTY)
    np.testing.assert_allclose(after.demand.tension, before.demand.tension, rtol=1e-9)
    np.testing.assert_allclose(after.peaks.max_moment, before.peaks.max_moment, rtol=1e-9)


def test_the_moved_strip_bends_the_rail_and_stays_in_balance():
    rig = rig_of(PLAIN)
    moment = 1.15 * float(first_moment(rig, pieces=estimate(rig)))
    found = solve(varied(rig, {"measured.tail_lift": moment / 100.0, "measured.tail_lift_at": 100.0}), only=EMPTY)
    strip = found.life.loads.strip
    assert (strip["w_end"] > 1.2 * strip["w_start"]).any() and (strip["w_start"] >= 0.0).all()
    assert np.abs(found.peaks.end_moment).max() < 1e-6 * found.peaks.max_moment.max()
    assert found.held.residual.max() < 1e-9 * float(found.service.weight.max())


def test_the_take_off_says_what_was_measured():
    rig = weighed(PLAIN, empty_weight="240 lb", tail_lift="120 lb", tail_lift_at="100 in")
    for piece in take_off(rig):
        assert ("measured" in piece.source) is not piece.weighed
    plain = [piece.source for piece in take_off(rig_of(PLAIN))]
    assert not any("measured" in source for source in plain)
    weight, lift = measured_words(rig, estimated=estimate(rig))
    assert "240 lb" in weight and "times the estimate" in weight
    assert "120 lb at 100 in" in lift
    assert measured_words(rig_of(PLAIN), estimated=estimate(rig_of(PLAIN))) == []


def test_the_level_arm_of_a_point_is_that_of_its_pose():
    rig = varied_rig(PLAIN, COUNT, seed=9)
    found = solve(rig, only=EMPTY)
    s, n = found.layout.hanger_s, found.layout.hanger_n
    np.testing.assert_allclose(level_arm(rig, s=s, n=n), found.pose.hanger_x[..., 0], rtol=1e-12)


@pytest.mark.parametrize(
    ("measured", "why"),
    [
        ({"empty_weight": "30 lb"}, r"measured\.empty_weight: 30 lb leaves nothing for the steel.*alone weigh"),
        ({"tail_lift": "700 lb", "tail_lift_at": "100 in"}, r"measured\.tail_lift: 700 lb at 100 in .* weigh the"),
        ({"tail_lift": "20 lb", "tail_lift_at": "100 in"}, r"no even spread of the steel does that"),
        ({"empty_weight": "240 lb", "tail_lift": "700 lb", "tail_lift_at": "100 in"}, r"list what hangs near the tail"),
    ],
)
def test_what_no_box_could_weigh_is_refused(measured, why):
    with pytest.raises(CaseError, match=why):
        take_off(weighed(PLAIN, **measured))


def test_the_steel_may_lean_by_a_sixth_of_the_length_and_no_further():
    """A load that grows from nothing to twice its mean has its center at 2/3 of the length, a sixth off the middle."""
    pieces, pitch = take_off(rig_of(PLAIN)), float(rig_of(PLAIN).number("box.pitch"))
    most = 105.0 / 6.0 * float(total([one for one in pieces if one.spread])) * np.cos(pitch)
    moment = float(first_moment(rig_of(PLAIN), pieces=pieces))
    for share, fits in ((0.995, True), (1.005, False)):
        told = {"tail_lift": f"{(moment + share * most) / 100.0:.6f} lb", "tail_lift_at": "100 in"}
        if fits:
            take_off(weighed(PLAIN, **told))
        else:
            with pytest.raises(CaseError, match="no even spread"):
                take_off(weighed(PLAIN, **told))


def test_designs_of_a_batch_that_contradict_the_scale_stay_loads_that_press_down():
    rig = varied(weighed(PLAIN, empty_weight="200 lb"), {"fitting.0.weight": np.array([10.0, 500.0])})
    strip = solve(rig, only=EMPTY).life.loads.strip
    assert np.isfinite(strip["w_start"]).all() and (strip["w_start"] >= 0.0).all()
    np.testing.assert_allclose(dry(rig)[0][0], 200.0)

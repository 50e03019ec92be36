"""Further supports of the hung box: compatibility, balance, limits, batches."""

import numpy as np
import pytest

from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.statics.geometry import pose
from rigcheck.studies.props.propped import propped, second_pair, share_of, states_of, tail_leg
from rigcheck.studies.vary.case import with_values
from tests.statics.random_rigs import PLAIN, rig_of, varied_rig

STATES = ("empty", "running", "surge", "plugged", "packed", "lopsided", "cleanout", "digout", "iced", "towing")
COUNT = 12
LIMP, STIFF, LOOSE = (BOUNDS.index(name) for name in ("limp", "stiff", "loose"))
EVEN = 2  # the share that bends both rails alike


@pytest.fixture(scope="module")
def many():
    return states_of(varied_rig(PLAIN, COUNT, seed=12))


def first(solution, state: str) -> int:
    return next(i for i, row in enumerate(solution.rows) if row.state == state)


def leg_of(solution, **given):
    length = solution.layout.length
    return tail_leg(solution.rig, at=np.maximum(length - 4.0, solution.layout.hanger_s), **given)


def test_a_support_out_of_reach_changes_nothing(many):
    found = propped(many, extra=leg_of(many, gap=50.0))
    assert (found.take() == 0.0).all() and not found.share.slack.any()
    for with_it in (found.limp, found.even):
        np.testing.assert_allclose(with_it.demand.tension, many.demand.tension, rtol=1e-12, atol=1e-9)
        np.testing.assert_allclose(with_it.peaks.max_moment, many.peaks.max_moment, rtol=1e-9, atol=1e-6)


@pytest.mark.parametrize("heavy", [False, True])
def test_the_whole_box_is_in_balance_with_a_leg(many, heavy):
    leg = leg_of(many)
    found = propped(many, extra=leg)
    beta = many.layout.pitch
    arm = (leg.s * np.cos(beta) - many.layout.hinge_height * np.sin(beta))[..., None]
    for share, solution in (((0, 1), found.limp), ((EVEN, EVEN), found.even)):
        force = (found.share.heavy if heavy else found.share.still)[..., share]
        now, before = (one.demand if heavy else one.held for one in (solution, many))
        came_off = (before.total - now.total) * many.pose.arm
        np.testing.assert_allclose(force.sum(-1) * arm, came_off, rtol=1e-8, atol=1e-6)
        assert (solution.held.residual <= 1e-9 * np.maximum(many.service.weight, 1.0)[..., None]).all()
        for bound in (LIMP, STIFF, LOOSE):
            lift = now.hinge[..., bound, :, 2].sum(-1) + force.sum(-1) + now.total * many.pose.uz
            want = before.hinge[..., bound, :, 2].sum(-1) + before.total * many.pose.uz
            np.testing.assert_allclose(lift, want, rtol=1e-8, atol=1e-6)


def test_the_leg_stands_still_and_the_rail_comes_down_on_it():
    """The deflection of the rail, worked out from the supports, is what the leg gives: level box, leg at the axis."""
    level = {"box.pitch": 0.0, "plant.cross_slope": 0.0, "plant.fore_aft_slope": 0.0, "water": None,
             "hinge.height": 3.0}  # fmt: skip
    solution = states_of(Rig(with_values(rig_of(PLAIN).case, level)))
    sagged = list(dict.fromkeys(row for row, _ in solution.sagged.pairs))
    alike = [solution.sagged.place(row, STIFF) for row in sagged]
    for give, gap in ((0.0, 0.0), (1e-4, 0.0), (5e-5, 0.01)):
        leg = tail_leg(solution.rig, at=solution.layout.length, give=give, gap=gap)
        found = propped(solution, extra=leg)
        drop = found.even.sag.tail_deflection[alike].mean(-1)
        push = found.share.still[sagged, EVEN]
        drop = drop - drop[sagged.index(first(solution, "empty"))]
        touched = push > 0.0
        assert touched[sagged.index(first(solution, "packed"))]
        np.testing.assert_allclose(drop[touched], gap + give * push[touched], rtol=1e-6, atol=1e-9)
        assert (drop[~touched] <= gap + 1e-9).all()


def test_a_stiffer_support_and_softer_lines_take_more(many):
    soft, firm = (share_of(many, extra=leg_of(many, give=give)) for give in (1e-3, 1e-5))
    free = ~firm.slack
    assert (firm.heavy[free] >= soft.heavy[free]).all() and (firm.heavy > soft.heavy).any()
    lazy = share_of(many, extra=leg_of(many, give=1e-4), line=2.0)
    tense = share_of(many, extra=leg_of(many, give=1e-4), line=0.5)
    free = ~lazy.slack
    assert (lazy.heavy[free] >= tense.heavy[free] - 1e-9).all() and (lazy.heavy > tense.heavy).any()


def test_no_leg_is_dragged_and_a_second_pair_is(many):
    points = many.layout
    pair = second_pair(many, hanger=(points.hanger_s + 5.0, points.hanger_n), perch=(points.perch_x, points.perch_z),
                       give=many.give[..., 0])  # fmt: skip
    towed = [row.state == "towing" for row in many.rows]
    assert (share_of(many, extra=leg_of(many)).heavy[:, towed] == 0.0).all()
    assert (share_of(many, extra=pair).heavy[:, towed, EVEN] > 0.0).all()


def test_lines_never_push():
    rig = varied(rig_of(PLAIN), {"line.link.1.length": 4000.0})  # lines so soft that a leg takes everything
    solution = states_of(rig)
    preset = tail_leg(rig, at=solution.layout.length - 4.0, gap=-3.0)  # the leg is jacked up under the box
    found = propped(solution, extra=preset)
    slack = found.share.slack[..., EVEN]
    assert slack.any()
    both = found.even.demand.total
    np.testing.assert_allclose(both[slack], 0.0, atol=1e-9)
    assert (both >= -1e-9).all() and (found.share.heavy[slack] > 0.0).all()


def test_a_second_pair_like_the_first_beside_it_takes_half_of_what_is_added(many):
    """Added to the empty box on a plant that leans the same way; in a row that does not lean, to the mean of all."""
    points = many.layout
    pair = second_pair(many, hanger=(points.hanger_s, points.hanger_n), perch=(points.perch_x, points.perch_z),
                       give=many.give[..., 0])  # fmt: skip
    found = share_of(many, extra=pair).still[..., EVEN]
    pulls = many.life.loads.gravity.round(9)
    dry = [i for i, row in enumerate(many.rows) if row.state == "empty"]
    assert len({tuple(pulls[0, i]) for i in dry}) == 4  # low at either side, with either end
    added = np.zeros_like(found)
    for design in range(COUNT):
        for i in range(len(many.rows)):
            bare = [j for j in dry if tuple(pulls[design, j]) == tuple(pulls[design, i])] or dry
            added[design, i] = 0.5 * (many.held.total[design, i] - many.held.total[design, bare].mean())
    loaded = (added > 1e-9) & np.array([row.state != "towing" for row in many.rows])
    np.testing.assert_allclose(found[loaded], 0.5 * added[loaded], rtol=1e-6)


def test_one_rig_is_its_row_in_the_batch(many):
    whole = propped(many, extra=leg_of(many, give=1e-4))
    for i in (0, COUNT - 1):
        one = states_of(varied(many.rig, {key: values[i] for key, values in many.rig.varied.items()}))
        alone = propped(one, extra=leg_of(one, give=1e-4))
        np.testing.assert_allclose(alone.take(), whole.take()[i], rtol=1e-7, atol=1e-7)
        for name in ("limp", "even"):
            mine, row = getattr(alone, name), getattr(whole, name)
            np.testing.assert_allclose(mine.demand.tension, row.demand.tension[i], rtol=1e-7, atol=1e-6)
            np.testing.assert_allclose(mine.peaks.max_moment, row.peaks.max_moment[i], rtol=1e-7, atol=1e-5)


def test_each_rail_of_a_limp_box_leans_on_its_own_leg(many):
    """Gravel on the left: the left leg takes more; mirrored, the right one; both alike in a box that does not twist."""
    share = share_of(many, extra=leg_of(many)).heavy
    sides = [row.variant.get("packed_side") for row in many.rows]
    left, right = sides.index("left"), sides.index("right")
    assert (share[:, left, 0] >= share[:, left, 1]).all() and (share[:, right, 0] <= share[:, right, 1]).all()
    assert (share[:, left, 0] > share[:, left, EVEN]).any()


def test_rows_are_those_of_the_states(many):
    assert tuple(dict.fromkeys(row.state for row in many.rows)) == STATES
    at = pose(many.layout, fold=np.zeros((COUNT, 1)))
    np.testing.assert_allclose(many.pose.arm[:, :1], at.arm)

"""Further supports of the hung box: compatibility, balance, limits, batches."""

import numpy as np
import pytest

from rigcheck.case.rig import Rig, varied
from rigcheck.check.solve import solve
from rigcheck.loads.pieces import take
from rigcheck.statics.geometry import pose
from rigcheck.studies.propped import STATES, compare, second_pair, states_of, supported, tail_leg
from rigcheck.studies.vary_case import with_values
from tests.statics.random_rigs import PLAIN, rig_of, varied_rig

COUNT = 25
SHAPE = (COUNT, len(STATES))


@pytest.fixture(scope="module")
def many():
    return states_of(varied_rig(PLAIN, COUNT, seed=12))


def rows(solution) -> list[int]:
    names = [row.state for row in solution.life.loads.rows]
    return [names.index(state) for state in STATES]


def leg_of(solution, **given):
    length = solution.layout.length
    return tail_leg(solution.rig, at=np.maximum(length - 4.0, solution.layout.hanger_s), **given)


def test_hung_is_what_the_check_counts_with(many):
    hung = compare(many, extras={})["hung"]
    np.testing.assert_allclose(hung.tension, 0.5 * many.held.total[..., rows(many)], rtol=1e-9, atol=1e-9)
    assert (hung.extra == 0.0).all() and not hung.slack.any()
    bent = [many.bent.rows.index(row) for row in rows(many)]
    gain = many.rig.number("factors.hung")  # the check bends the rails under the factored loads
    np.testing.assert_allclose(hung.moment * gain, many.peaks.max_moment[..., bent, 2], rtol=1e-9)


def test_the_whole_box_is_in_balance_with_a_leg(many):
    leg = leg_of(many)
    found = supported(many, extra=leg)
    at = pose(many.layout, fold=np.zeros((*many.layout.length.shape, 1)))
    up = 2.0 * (found.hinge_z + found.tension * at.uz + found.extra)
    level = 2.0 * (found.hinge_x + found.tension * at.ux)
    weight = many.service.weight[..., rows(many)]
    np.testing.assert_allclose(up, weight, rtol=1e-9)
    np.testing.assert_allclose(level, np.zeros(SHAPE), atol=1e-6 * float(weight.max()))
    beta = many.layout.pitch
    arm = (leg.s * np.cos(beta) - many.layout.hinge_height * np.sin(beta))[..., None]
    moment = 2.0 * (found.tension * at.arm + found.extra * arm)
    np.testing.assert_allclose(moment, many.service.moment[..., rows(many), 1], rtol=1e-9)


def test_the_leg_stands_still_and_the_rail_comes_down_on_it():
    """The deflection of the rail, worked out from the supports, is what the leg gives: level box, leg at the axis."""
    level = {"box.pitch": 0.0, "plant.cross_slope": 0.0, "water": None, "hinge.height": 3.0}
    solution = states_of(Rig(with_values(rig_of(PLAIN).case, level)))
    for give, gap in ((0.0, 0.0), (1e-4, 0.0), (5e-5, 0.01)):
        leg = tail_leg(solution.rig, at=solution.layout.length, give=give, gap=gap)
        found = supported(solution, extra=leg)
        drop = found.tail_drop - found.tail_drop[0]
        touched = found.extra > 0.0
        assert touched[STATES.index("packed")]
        np.testing.assert_allclose(drop[touched], gap + give * found.extra[touched], rtol=1e-6, atol=1e-9)
        assert (drop[~touched] <= gap + 1e-9).all()


def test_a_support_out_of_reach_takes_nothing_and_a_stiffer_one_takes_more(many):
    far = supported(many, extra=leg_of(many, gap=50.0))
    assert (far.extra == 0.0).all()
    soft, firm = (supported(many, extra=leg_of(many, give=give)) for give in (1e-3, 1e-5))
    free = ~firm.slack
    assert (firm.extra[free] >= soft.extra[free]).all() and (firm.extra > soft.extra).any()
    assert (firm.tension <= far.tension + 1e-9).all()
    np.testing.assert_array_equal(firm.lost, far.tension)


def test_lines_never_push():
    rig = varied(rig_of(PLAIN), {"line.link.1.length": 4000.0})  # lines so soft that a leg takes everything
    solution = states_of(rig)
    preset = tail_leg(rig, at=solution.layout.length - 4.0, gap=-3.0)  # the leg is jacked up under the box
    found = supported(solution, extra=preset)
    assert found.slack.any()
    np.testing.assert_allclose(found.tension[found.slack], 0.0, atol=1e-9)
    assert (found.tension >= -1e-9).all() and (found.extra > 0.0).all()


def test_a_second_pair_like_the_first_beside_it_takes_half_of_what_is_added(many):
    points = many.layout
    pair = second_pair(many, hanger=(points.hanger_s, points.hanger_n), perch=(points.perch_x, points.perch_z),
                       give=many.give[..., 0])  # fmt: skip
    found = supported(many, extra=pair)
    added = found.lost - found.lost[..., :1]
    lined = added > 1e-9
    np.testing.assert_allclose(found.extra[lined], 0.5 * added[lined], rtol=1e-6)


def test_one_rig_is_its_row_in_the_batch(many):
    whole = supported(many, extra=leg_of(many, give=1e-4))
    for i in (0, COUNT - 1):
        one = states_of(varied(many.rig, {key: values[i] for key, values in many.rig.varied.items()}))
        alone = supported(one, extra=leg_of(one, give=1e-4))
        for name in ("extra", "tension", "hinge_x", "hinge_z", "moment", "tail_drop", "lost"):
            mine, row = getattr(alone, name), getattr(whole, name)[i]
            np.testing.assert_allclose(mine, row, rtol=1e-7, atol=1e-7, err_msg=name)


def test_everything_is_a_number(many):
    found = compare(many, extras={"leg": leg_of(many), "loose": leg_of(many, gap=0.2)})
    for one in found.values():
        for name in ("extra", "tension", "hinge_x", "hinge_z", "moment", "tail_drop"):
            assert np.isfinite(getattr(one, name)).all() and getattr(one, name).shape == SHAPE


def test_rows_are_those_of_the_states(many):
    some = take(many.life.loads, rows=rows(many))
    assert tuple(row.state for row in some.rows) == STATES
    assert solve(rig_of(PLAIN), only=frozenset({"dry"})).held.total[0] > 0.0

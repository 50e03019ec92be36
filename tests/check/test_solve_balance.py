"""Forces that the checks read: factored demand, the jump when a line parts, and rails spread over the bounds."""

import numpy as np
import pytest

from rigcheck.check.assess import assess
from rigcheck.check.solve import Borne, solve
from rigcheck.loads.pieces import BOUNDS
from tests.statics.random_rigs import PLAIN, rig_of, varied_rig

LEFT, RIGHT, STIFF = (BOUNDS.index(name) for name in ("left", "right", "stiff"))


def row(solution, state, **variant) -> int:
    return next(
        i for i, one in enumerate(solution.rows)
        if one.state == state and all(one.variant.get(key) == value for key, value in variant.items())
    )  # fmt: skip


def test_demand_is_the_held_force_times_the_hung_factor():
    solution = solve(rig_of(PLAIN))
    for state in ("dry", "running", "packed", "lopsided"):
        i = row(solution, state)
        factor = float(solution.rig.number("factors.hung"))
        np.testing.assert_allclose(solution.demand.tension[i], factor * solution.held.tension[i], rtol=1e-9)
        np.testing.assert_allclose(solution.demand.hinge[i], factor * solution.held.hinge[i], rtol=1e-9, atol=1e-9)


def test_survivor_of_a_parted_line_sees_three_times_its_share():
    """It had T, settles at 2 T, and overshoots by as much as it gained: 3 T."""
    solution = solve(rig_of(PLAIN))
    before = solution.held.total[row(solution, "running", low_side="left")] / 2.0
    i = row(solution, "line_lost", **{"while": "running", "low_side": "left"})
    assert float(solution.rig.number("factors.line_lost")) == 2.0
    assert solution.demand.tension[i, LEFT] == pytest.approx([3.0 * before, 0.0])
    assert solution.demand.tension[i, RIGHT] == pytest.approx([0.0, 3.0 * before])
    jump = solution.held.hinge[i, LEFT] - solution.held.hinge[i, STIFF]
    np.testing.assert_allclose(solution.demand.hinge[i, LEFT], solution.held.hinge[i, LEFT] + jump, rtol=1e-9)


def test_residual_of_every_held_row_is_nothing():
    solution = solve(varied_rig(PLAIN, 40, seed=77))
    assert np.all(solution.held.residual <= 1e-9 * np.maximum(solution.service.weight, 1.0)[..., None])


def test_every_allowed_way_of_sharing_has_its_own_rails():
    solution = solve(rig_of(PLAIN), only=frozenset({"dry", "packed"}))
    values = np.arange(2.0 * len(solution.bent.pairs)).reshape(-1, 2) + 1.0
    spread = solution.bent.on_bounds(values)
    assert spread.shape == (len(solution.rows), len(BOUNDS), 2)
    assert np.array_equal(spread.min(-1) > 0.0, solution.allowed)
    for pair, (row, bound) in enumerate(solution.bent.pairs):
        assert spread[row, bound].tolist() == values[pair].tolist()
    whole = solve(rig_of(PLAIN))
    moving = [i for i in range(len(whole.rows)) if i not in whole.sagged.rows]
    assert moving
    assert not whole.sagged.on_bounds(whole.sag.sag)[moving].any()


def test_some_rows_by_themselves_are_those_rows_of_the_whole():
    rig = varied_rig(PLAIN, 5, seed=3)
    whole = solve(rig)
    places = [row(whole, "dry"), row(whole, "running"), row(whole, "cleanup"), row(whole, "line_lost")]
    some = solve(rig, places=places)
    assert [one.state for one in some.rows] == ["dry", "running", "cleanup", "line_lost"]
    np.testing.assert_allclose(some.demand.tension, whole.demand.tension[:, places], rtol=1e-12)
    np.testing.assert_allclose(some.demand.hinge, whole.demand.hinge[:, places], rtol=1e-9, atol=1e-9)
    found, every = assess(rig, places=places), assess(rig)
    top = {(one.check.part, one.check.mode): one.utilisation for one in every.worst}
    for one in found.worst:
        assert (one.utilisation <= top[one.check.part, one.check.mode] * (1.0 + 1e-12)).all()


def test_forces_that_something_else_bears_come_off_the_lines():
    rig = rig_of(PLAIN)
    plain = solve(rig, only=frozenset({"packed"}))
    states, at = len(plain.rows), float(rig.number("box.length"))
    up = {name: np.zeros((states, 1)) for name in ("fx", "fy", "n")}
    up |= {"fz": np.full((states, 1), 40.0), "s": np.full((states, 1), at), "y": np.zeros((states, 1))}
    twice = {**up, "fz": 2.0 * up["fz"]}
    borne = solve(rig, only=frozenset({"packed"}), borne=Borne(still=up, heavy=twice))
    lever = at * np.cos(plain.layout.pitch) - plain.layout.hinge_height * np.sin(plain.layout.pitch)
    for now, before, force in ((borne.held, plain.held, 40.0), (borne.demand, plain.demand, 80.0)):
        np.testing.assert_allclose(before.total - now.total, force * lever / plain.pose.arm, rtol=1e-9)
    assert (borne.held.residual <= 1e-9 * borne.service.weight[:, None]).all()

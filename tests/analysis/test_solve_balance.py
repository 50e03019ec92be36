"""Forces that the checks read: factored demand, the jump when a line parts, and rails spread over the bounds."""

import numpy as np
import pytest

from rigcheck.analysis.solve import Borne, solve
from rigcheck.assessment.assess import assess
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
    for state in ("empty", "running", "packed", "lopsided"):
        i = row(solution, state)
        factor = float(solution.rig.number("factors.hung"))
        np.testing.assert_allclose(solution.demand.tension[i], factor * solution.held.tension[i], rtol=1e-9)
        np.testing.assert_allclose(solution.demand.hinge[i], factor * solution.held.hinge[i], rtol=1e-9, atol=1e-9)


def test_survivor_of_a_parted_line_jumps_from_the_least_that_it_can_have_had():
    """It settles at all of the pull, S, and overshoots by what it gained: 2 S less the least share before."""
    solution = solve(rig_of(PLAIN))
    i = row(solution, "line_broken", **{"while": "running", "low_side": "left"})
    assert float(solution.rig.number("factors.line_broken")) == 2.0
    whole = solution.held.total[i]
    for side, bound in ((0, LEFT), (1, RIGHT)):
        shared = solution.held.tension[i, : STIFF + 2, side]
        assert shared.min() < 0.5 * whole  # an even share is not the least
        expected = [0.0, 0.0]
        expected[side] = 2.0 * whole - shared.min()
        assert solution.demand.tension[i, bound] == pytest.approx(expected)
        before = int(shared.argmin())
        jump = solution.held.hinge[i, bound] - solution.held.hinge[i, before]
        np.testing.assert_allclose(solution.demand.hinge[i, bound], solution.held.hinge[i, bound] + jump, rtol=1e-9)
        thrown = solution.bent.thrown[solution.bent.place(i, bound)]
        assert thrown == pytest.approx(2.0 - shared.min() / whole)


def test_a_line_parts_in_every_state_that_holds_a_load():
    solution = solve(rig_of(PLAIN))
    lost = {one.variant["while"] for one in solution.rows if one.state == "line_broken"}
    assert lost == {"running", "surge", "plugged", "packed", "lopsided", "cleanout", "digout", "iced"}


def test_residual_of_every_held_row_is_nothing():
    solution = solve(varied_rig(PLAIN, 40, seed=77))
    assert np.all(solution.held.residual <= 1e-9 * np.maximum(solution.service.weight, 1.0)[..., None])


def test_every_allowed_way_of_sharing_has_its_own_rails():
    solution = solve(rig_of(PLAIN), only=frozenset({"empty", "packed"}))
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
    places = [row(whole, "empty"), row(whole, "running"), row(whole, "cleanout"), row(whole, "line_broken")]
    some = solve(rig, places=places)
    assert [one.state for one in some.rows] == ["empty", "running", "cleanout", "line_broken"]
    np.testing.assert_allclose(some.demand.tension, whole.demand.tension[:, places], rtol=1e-12)
    np.testing.assert_allclose(some.demand.hinge, whole.demand.hinge[:, places], rtol=1e-9, atol=1e-9)
    found, every = assess(rig, places=places), assess(rig)
    top = {(one.check.part, one.check.mode): one.utilization for one in every.worst}
    for one in found.worst:
        assert (one.utilization <= top[one.check.part, one.check.mode] * (1.0 + 1e-12)).all()


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

"""Rails that widen and narrow: their integrals by hand and by quadrature, what they hand to each other by statics."""

from math import sqrt

import numpy as np
import pytest

from rigcheck.statics.along import arm_of_force
from rigcheck.statics.beam import Terms, evaluate, join
from rigcheck.statics.kinked import joined_stretches, rolled_hinge
from tests.statics.flared_rails import AXIS, LENGTH, integral, rails, rolled, spacing, stiffness, stretch

PLACES = (0.0, 11.0, 27.0, 50.0, 75.0, 90.0, LENGTH)


def test_a_rail_askew_is_longer_and_softer_by_the_cosine_of_its_angle():
    """12 in wider in 27: each rail goes 6 in out, sqrt(27^2 + 6^2) = 27.6586 in long; 1/(29e6 x 2.5 x 0.97619^3)."""
    first = rails().pieces[0]
    assert sqrt(27.0**2 + 6.0**2) == pytest.approx(27.6586, abs=1e-4)
    assert float(first.cos) == pytest.approx(27.0 / sqrt(765.0), rel=1e-12)
    assert float(first.soft) == pytest.approx((sqrt(765.0) / 27.0) ** 3 / 72.5e6, rel=1e-12)
    assert float(rails().pieces[1].cos) == 1.0


def test_integrals_along_the_rails_are_those_of_quadrature():
    along, s = rails(), np.array(PLACES)
    expected = {
        "turned": lambda x: spacing(x) ** 2 / stiffness(x),
        "turned_by_rolled": lambda x: spacing(x) ** 2 * rolled(x) / stiffness(x),
        "turned_by_axis": lambda x: spacing(x) * AXIS[stretch(x)] / stiffness(x),
        "rolled": lambda x: spacing(x) ** -2,
    }
    for name, of in expected.items():
        by_quadrature = [integral(of, place) if place else 0.0 for place in PLACES]
        assert getattr(along, name)(s) == pytest.approx(by_quadrature, rel=1e-9, abs=1e-30), name


def test_a_taper_by_hand():
    """21 to 33 in over 27: int b^2 = 27 (21^2 + 21 x 33 + 33^2)/3 = 20,007 in3; int ds/b^2 = 27/(21 x 33) in^-1."""
    along, end = rails(), np.array([27.0])
    assert along.turned(end) / along.pieces[0].soft == pytest.approx(20_007.0, rel=1e-12)
    assert along.rolled(end) == pytest.approx(27.0 / 693.0, rel=1e-12)
    # int b n ds = 3.2 x 27 x (21 + 33)/2
    assert along.turned_by_axis(end) / along.pieces[0].soft == pytest.approx(3.2 * 729.0, rel=1e-12)


def unlike_force(at: float, pounds: float) -> Terms:
    """A force up on the left rail and down on the right one, shape (state, side, term)."""
    coefficient = np.zeros((1, 2, 1, 4))
    coefficient[0, :, 0, 1] = pounds, -pounds
    return Terms(np.full((1, 2, 1), at), coefficient)


@pytest.mark.parametrize("at", [11.0, 50.0, 90.0])
def test_the_hinge_holds_unlike_forces_by_the_spacings_of_the_rails(at):
    """The couple F b_F is held by r b_0: nothing else keeps the box from rolling."""
    along = rails()
    found = rolled_hinge(
        unlike_force(at, 100.0), along=along, hinge_n=np.array([[[-100.0], [-100.0]]]), beyond=np.full((1, 2, 1), 120.0)
    )
    by_couple = 100.0 * spacing(at) / 21.0
    # beside it each rail keeps the 100 lb that both ask for alike
    assert found[0, :, 0] == pytest.approx([-100.0 - by_couple, -100.0 + by_couple], rel=1e-12)


@pytest.mark.parametrize("at", [11.0, 50.0, 90.0])
def test_unlike_forces_leave_the_moment_of_the_lever_rule_of_each_place(at):
    """M_L - M_R = -2 F b_F b min(c, c_F), c = int ds/b^2 by quadrature, each rail half of it."""
    along = rails()
    force = unlike_force(at, 100.0)
    held = join(force, unlike_force(0.0, -100.0 * spacing(at) / 21.0))
    nothing = Terms(held.at, np.zeros_like(held.coefficient))
    moment, shear, axial = joined_stretches([held, held, nothing], along=along, unlike=True)
    places = np.array(PLACES[:-1])
    found = evaluate(moment, x=np.broadcast_to(places, (1, 2, len(places))))[0]
    expected = [-100.0 * spacing(at) * spacing(s) * min(rolled(s), rolled(at)) for s in places]
    assert found[0] == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert found[1] == pytest.approx([-one for one in expected], rel=1e-9, abs=1e-9)
    both = [evaluate(some, x=np.full((1, 2, 1), 60.0), integrals=-1) for some in (moment, shear)]
    assert both[0] == pytest.approx(both[1], rel=1e-12)
    assert not evaluate(axial, x=np.full((1, 2, 1), 60.0)).any()


def test_a_force_on_parallel_rails_turns_them_by_its_own_station():
    s = np.array(PLACES)
    parallel = rails((24.0,) * 4)
    assert arm_of_force(parallel, s=s) == pytest.approx(s, rel=1e-12, abs=1e-12)
    flared = [21.0 * spacing(x) * rolled(x) for x in PLACES]
    assert arm_of_force(rails(), s=s) == pytest.approx(flared, rel=1e-9, abs=1e-12)

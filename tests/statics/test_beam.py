"""Macaulay terms: values, derivatives and integrals agree with one another and with polynomials written out."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.statics.beam import Terms, evaluate, interior_zeros, join, quadratic_zeros

SEEDS = st.integers(0, 2**31)


def random_terms(seed: int, *, batch: tuple[int, ...] = (), couples: bool = True) -> Terms:
    draw = np.random.default_rng(seed)
    coefficient = draw.normal(size=(*batch, 5, 4)) * np.array([50.0, 10.0, 1.0, 0.05])
    if not couples:
        coefficient[..., 0] = 0.0
    return Terms(at=np.sort(draw.uniform(0.0, 80.0, (*batch, 5)), axis=-1), coefficient=coefficient)


def test_each_order_written_out():
    at, x = 3.0, np.array([1.0, 3.0, 7.0])
    for p, expected in enumerate(([0.0, 2.0, 2.0], [0.0, 0.0, 8.0], [0.0, 0.0, 16.0], [0.0, 0.0, 2.0 * 64.0 / 6.0])):
        coefficient = np.zeros((1, 4))
        coefficient[0, p] = 2.0
        np.testing.assert_allclose(evaluate(Terms(np.array([at]), coefficient), x=x), expected, atol=1e-14)
    couple = Terms(np.array([at]), np.array([[2.0, 0.0, 0.0, 0.0]]))
    assert evaluate(couple, x=np.array([at]), before=True) == pytest.approx([0.0])
    assert evaluate(couple, x=np.array([7.0]), integrals=1) == pytest.approx([8.0])
    assert evaluate(couple, x=np.array([7.0]), integrals=2) == pytest.approx([16.0])
    assert evaluate(couple, x=np.array([7.0]), integrals=-1) == pytest.approx([0.0])


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_derivative_and_integrals_fit_together(seed):
    """The difference quotient of each level is the level below it, away from the places where terms begin."""
    terms = random_terms(seed)
    x = np.random.default_rng(seed + 1).uniform(0.0, 100.0, 40)
    x = x[np.abs(x[:, None] - terms.at).min(-1) > 0.01]
    step = 1e-3
    for integrals in (0, 1, 2):
        rise = evaluate(terms, x=x + step, integrals=integrals) - evaluate(terms, x=x - step, integrals=integrals)
        below = evaluate(terms, x=x, integrals=integrals - 1)
        scale = 1.0 + np.abs(evaluate(terms, x=x, integrals=integrals)) / 50.0
        assert np.all(np.abs(rise / (2.0 * step) - below) <= 1e-5 * (scale + np.abs(below)))


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_value_before_and_after_differ_by_what_begins_there(seed):
    terms = random_terms(seed)
    jump = evaluate(terms, x=terms.at) - evaluate(terms, x=terms.at, before=True)
    np.testing.assert_allclose(jump, terms.coefficient[:, 0], rtol=1e-9, atol=1e-8)
    kink = evaluate(terms, x=terms.at, integrals=-1) - evaluate(terms, x=terms.at, integrals=-1, before=True)
    np.testing.assert_allclose(kink, terms.coefficient[:, 1], rtol=1e-9, atol=1e-8)


def test_joined_terms_add_up_and_batches_hold_their_rows():
    one, two = random_terms(1, batch=(6,)), random_terms(2)
    x = np.linspace(0.0, 90.0, 19)
    both = evaluate(join(one, two), x=x)
    np.testing.assert_allclose(both, evaluate(one, x=x) + evaluate(two, x=x), rtol=1e-12)
    for i in range(6):
        row = evaluate(Terms(one.at[i], one.coefficient[i]), x=x, integrals=2)
        np.testing.assert_allclose(evaluate(one, x=x, integrals=2)[i], row, rtol=1e-12)


@settings(max_examples=50, deadline=None)
@given(st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.floats(-40.0, 40.0))
def test_zeros_of_a_quadratic_are_found(a, b, size):
    if abs(size) < 1e-3:
        return

    def value(t):
        return np.asarray([size * (t - a) * (t - b)])

    where, inside = quadratic_zeros(value(0.0), middle=value(0.5), last=value(1.0))
    if abs(a - b) < 1e-4:
        return  # two roots in one place are as good as one, or none
    assert np.all(inside)
    np.testing.assert_allclose(np.sort(where[0]), sorted((a, b)), rtol=1e-6, atol=1e-7)


@pytest.mark.parametrize(
    ("ends", "roots"),
    [
        ((1.0, 1.0, 1.0), []),
        ((0.0, 0.0, 0.0), []),
        ((-1.0, 1.0, 3.0), [0.25]),
        ((2.0, 0.5, 2.0), []),
        ((1.0, 2.0, 3.0), []),
    ],
)
def test_constant_linear_and_rootless_segments(ends, roots):
    where, inside = quadratic_zeros(*[np.asarray([ends[0]])], middle=np.asarray([ends[1]]), last=np.asarray([ends[2]]))
    assert sorted(where[inside]) == pytest.approx(roots)
    assert np.all(where[~inside] == 0.5)


def test_stations_of_zeros_lie_in_their_segments():
    stations = np.array([0.0, 10.0, 30.0])
    zeros = interior_zeros((np.array([-1.0, 3.0]), np.array([1.0, 3.0]), np.array([3.0, 3.0])), stations=stations)
    assert sorted(zeros) == pytest.approx([2.5, 5.0, 20.0, 20.0])

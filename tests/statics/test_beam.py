"""Macaulay terms: values, derivatives and integrals agree with one another and with polynomials written out."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.statics.beam import Segments, Terms, at, crossings, evaluate, in_order, join, quadratic_zeros, segments

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


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_segments_are_the_same_function(seed):
    """Value and every derivative, from each station to the next, the end included as the value just before it."""
    terms = random_terms(seed, batch=(3,))
    ends = Terms(np.broadcast_to([0.0, 95.0], (3, 2)), np.zeros((3, 2, 4)))
    mixed = in_order(join(terms, ends), order=np.array([6, 2, 0, 4, 5, 1, 3]))
    ordered = in_order(mixed, order=np.argsort(mixed.at, axis=-1))
    stations = ordered.at
    pieces = segments(ordered)
    share = np.array([0.0, 0.3, 0.8, 1.0])
    t = pieces.span[..., None] * share
    x = pieces.start[..., None] + t
    x[..., -1] = stations[:, 1:]  # start + span is not the end to the last bit
    x = x.reshape(3, -1)
    inside = np.tile(share, stations.shape[-1] - 1) < 1.0
    for order in range(3):
        after = evaluate(terms, x=x, integrals=-order)
        before = evaluate(terms, x=x, integrals=-order, before=True)
        expected = np.where(inside, after, before)
        found = at(pieces, t=t, order=order).reshape(3, -1)
        np.testing.assert_allclose(found, expected, rtol=1e-9, atol=1e-7 * np.abs(after).max())
    turned = segments(ordered, integrals=2)
    for order in range(4):
        expected = evaluate(terms, x=x, integrals=2 - order)
        found = at(turned, t=t, order=order).reshape(3, -1)
        if order >= 2:
            found, expected = found[:, inside], expected[:, inside]
        np.testing.assert_allclose(found, expected, rtol=1e-9, atol=1e-9 * np.abs(expected).max())


@settings(max_examples=50, deadline=None)
@given(st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.floats(0.01, 40.0), st.booleans())
def test_zeros_of_a_quadratic_are_found(a, b, size, negative):
    if abs(a - b) < 1e-4:
        return  # two roots in one place are as good as one, or none
    size, span = -size if negative else size, 20.0
    roots = np.array([a, b]) * span
    found = quadratic_zeros(
        np.asarray([size * roots.prod()]),
        c1=np.asarray([-size * roots.sum()]),
        c2=np.asarray([size]),
        span=np.asarray([span]),
    )
    np.testing.assert_allclose(np.sort(found[0]), np.sort(roots), rtol=1e-6)


@pytest.mark.parametrize(
    ("quadratic", "roots"),
    [
        ((1.0, 0.0, 0.0), []),
        ((0.0, 0.0, 0.0), []),
        ((-1.0, 0.4, 0.0), [2.5]),
        ((2.0, -0.1, 0.2), []),
        ((1.0, 1.0, 0.0), []),
    ],
)
def test_constant_linear_and_rootless_segments(quadratic, roots):
    c0, c1, c2 = (np.asarray([value]) for value in quadratic)
    found = quadratic_zeros(c0, c1=c1, c2=c2, span=np.asarray([10.0]))[0]
    assert sorted(found[found > 0.0]) == pytest.approx(roots)


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_crossings_are_zeros(seed):
    """Between its turning points a cubic crosses zero once or not at all."""
    draw = np.random.default_rng(seed)
    derivative = draw.normal(size=(12, 4)) * np.array([1.0, 1.0, 0.3, 0.1])
    pieces = Segments(start=np.zeros(12), span=np.full(12, 10.0), derivative=derivative)
    turns = quadratic_zeros(derivative[:, 1], c1=derivative[:, 2], c2=0.5 * derivative[:, 3], span=pieces.span)
    ends = np.stack([np.zeros(12), np.full(12, 10.0)], axis=-1)
    t = np.sort(np.concatenate([ends, turns], axis=-1), axis=-1)
    found = crossings(pieces, t=t)
    values = at(pieces, t=t)
    crossed = (values[:, :-1] < 0.0) != (values[:, 1:] < 0.0)
    assert np.all(np.abs(at(pieces, t=found)[crossed]) <= 1e-7 * (1.0 + np.abs(values).max()))
    fine = at(pieces, t=np.broadcast_to(np.linspace(0.0, 10.0, 20001), (12, 20001)))
    changes = ((fine[:, :-1] < 0.0) != (fine[:, 1:] < 0.0)).sum(-1)
    assert np.array_equal(crossed.sum(-1), changes)

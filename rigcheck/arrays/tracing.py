"""Arithmetic of numbers that remember: what numpy does to an array, written down for one of them."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from rigcheck.arrays.traced import FUNCTIONS, UFUNCS, Trace, Traced, TracingError, traced
from rigcheck.quantities.measures import NUMBER, Measure

_NO_LIMIT = 1.0e12  # as `guarded.UNLIMITED`: stands for no limit, and is not written down
_ZERO = 1.0e-300


def quotient(upper: Any, *, lower: Any, where_zero: float) -> Traced:
    """A quotient whose lower number may be zero."""
    above, below = traced(upper), traced(lower)
    return traced(where_zero) if abs(below.value) < _ZERO else _over(above, below)


def rounded_up(value: Traced, *, up: Callable[[float], float]) -> Traced:
    """A number rounded up to a whole one."""
    from sympy import ceiling

    if value.measure != NUMBER:
        raise TracingError(f"{value!r} rounded up")
    found = ceiling(value.expression, evaluate=False) if value.trace else traced(up(value.value)).expression
    return Traced(up(value.value), found, NUMBER, value.trace)


def _trace(*parts: Traced) -> Trace | None:
    return next((one.trace for one in parts if one.trace is not None), None)


def _alike(a: Traced, b: Traced) -> Measure:
    """What two numbers measure that are added or compared; a bare zero goes with anything, as does no limit."""
    if a.measure == b.measure:
        return a.measure
    for one, other in ((a, b), (b, a)):
        if one.bare and (one.value == 0.0 or abs(one.value) >= _NO_LIMIT or other.measure.angle):
            return other.measure
    raise TracingError(f"{a!r} and {b!r} do not measure the same")


def _plus(a: Traced, b: Traced) -> Traced:
    measure = _alike(a, b)
    if b.bare and b.value == 0.0:
        return a
    if a.bare and a.value == 0.0:
        return b
    return Traced(a.value + b.value, a.expression + b.expression, measure, _trace(a, b))


def _minus(a: Traced, b: Traced) -> Traced:
    measure = _alike(a, b)
    if b.bare and b.value == 0.0:
        return a
    return Traced(a.value - b.value, a.expression - b.expression, measure, _trace(a, b))


def _times(a: Traced, b: Traced) -> Traced:
    for one in (a, b):
        if one.bare and one.value == 0.0:
            return one
    measure = _product(a.measure, b.measure, 1)
    return Traced(a.value * b.value, a.expression * b.expression, measure, _trace(a, b))


def _over(a: Traced, b: Traced) -> Traced:
    if a.bare and a.value == 0.0:
        return a
    return Traced(a.value / b.value, a.expression / b.expression, _product(a.measure, b.measure, -1), _trace(a, b))


def _product(a: Measure, b: Measure, sign: int) -> Measure:
    force, length = (_whole(x + sign * y) for x, y in ((a.force, b.force), (a.length, b.length)))
    return Measure(force, length, angle=a.angle != b.angle)


def _whole(power: float) -> float:
    return int(power) if power == int(power) else power


def _power(a: Traced, b: Traced) -> Traced:
    if b.measure != NUMBER or (not b.bare and a.measure != NUMBER):
        raise TracingError(f"{a!r} to the power {b!r}")
    force, length = _whole(a.measure.force * b.value), _whole(a.measure.length * b.value)
    measure = Measure(force, length) if b.bare else NUMBER
    return Traced(a.value**b.value, a.expression**b.expression, measure, _trace(a, b))


def _root(a: Traced) -> Traced:
    half = traced(0.5)
    return Traced(math.sqrt(a.value), a.expression**half.expression, _power(a, half).measure, a.trace)


def _size(a: Traced) -> Traced:
    from sympy import Abs

    return a if a.value >= 0.0 else Traced(-a.value, Abs(a.expression), a.measure, a.trace)


def _least(a: Traced, b: Traced) -> Traced:
    return _chosen(a, b, smaller=True)


def _most(a: Traced, b: Traced) -> Traced:
    return _chosen(a, b, smaller=False)


def _chosen(a: Traced, b: Traced, *, smaller: bool) -> Traced:
    """The lesser or the greater of two: both are written down, but a bare number only where it is the one."""
    from sympy import Max, Min

    measure = _alike(a, b)
    first = (a.value <= b.value) if smaller else (a.value >= b.value)
    one, other = (a, b) if first else (b, a)
    if a.bare or b.bare or abs(other.value) >= _NO_LIMIT or a.expression == b.expression:
        return one
    kind = Min if smaller else Max
    terms = [term for part in (a, b) for term in (part.expression.args if part.expression.func is kind
                                                  else (part.expression,))]  # fmt: skip
    return Traced(one.value, kind(*dict.fromkeys(terms), evaluate=False), measure, _trace(a, b))


def _hypotenuse(a: Traced, b: Traced) -> Traced:
    two = traced(2.0)
    if a.value == 0.0 or b.value == 0.0:
        return _size(b if a.value == 0.0 else a)
    found = _root(_plus(_power(a, two), _power(b, two)))
    return Traced(math.hypot(a.value, b.value), found.expression, found.measure, found.trace)


def _called(name: str) -> Callable[[Traced], Traced]:
    def call(a: Traced) -> Traced:
        import sympy

        if not (a.measure.angle or a.measure == NUMBER):
            raise TracingError(f"{name} of {a!r}")
        return Traced(getattr(math, name)(a.value), getattr(sympy, name)(a.expression), NUMBER, a.trace)

    return call


def _compared(function: Callable[[float, float], bool]) -> Callable[[Traced, Traced], np.bool_]:
    def compare(a: Traced, b: Traced) -> np.bool_:
        return np.bool_(function(a.value, b.value))

    return compare


def _where(condition: Any, yes: Any, no: Any) -> Any:
    """The branch that is taken."""
    return yes if bool(np.asarray(condition).reshape(-1)[0]) else no


def _clipped(value: Any, low: Any, high: Any) -> Traced:
    return _least(_most(traced(value), traced(low)), traced(high))


UFUNCS.update(
    {
        np.add: _plus,
        np.subtract: _minus,
        np.multiply: _times,
        np.true_divide: _over,
        np.power: _power,
        np.negative: lambda a: _times(traced(-1.0), a),
        np.absolute: _size,
        np.sqrt: _root,
        np.hypot: _hypotenuse,
        np.minimum: _least,
        np.maximum: _most,
        np.sin: _called("sin"),
        np.cos: _called("cos"),
        np.less: _compared(lambda x, y: x < y),
        np.less_equal: _compared(lambda x, y: x <= y),
        np.greater: _compared(lambda x, y: x > y),
        np.greater_equal: _compared(lambda x, y: x >= y),
        np.equal: _compared(lambda x, y: x == y),
        np.not_equal: _compared(lambda x, y: x != y),
    }
)
FUNCTIONS.update(
    {
        np.where: _where,
        np.clip: _clipped,
        np.shape: lambda _: (),
        np.ones_like: lambda _: np.ones(()),
        np.zeros_like: lambda _: np.zeros(()),
        np.broadcast_to: lambda value, _: value,
        np.broadcast_arrays: lambda *values: values,
    }
)

"""Numbers that remember how they came about: a strength function given them in place of arrays tells its own steps.

A batch never meets one: `step` and `beside` then give back what they were given. The formula is therefore written
once, in the function that the check runs, and the worked calculation prints that run.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar, cast

import numpy as np

from rigcheck.quantities.measures import NUMBER, Measure

Kept = TypeVar("Kept")
_NO_LIMIT = 1.0e12  # as `guarded.UNLIMITED`: stands for no limit, and is not written down
_ZERO = 1.0e-300
_PLAIN = 12  # largest denominator that a number of a formula is written with


@dataclass(frozen=True, slots=True)
class Quantity:
    """A constant with a unit, for formulas that tell their steps.

    Attributes:
        value: In inside units.
        symbol: Its symbol.
        measure: What it measures.
        meaning: What it is.
    """

    value: float
    symbol: str
    measure: Measure
    meaning: str


class TracingError(TypeError):
    """A formula did to a traced number what cannot be written down."""


@dataclass(frozen=True, slots=True)
class Input:
    """A symbol that is given."""

    value: float
    measure: Measure
    meaning: str


@dataclass(frozen=True, slots=True)
class Named:
    """A step of a run: a symbol for an expression of others."""

    heading: str
    inner: Traced
    clause: str


@dataclass(slots=True)
class Trace:
    """What a run has met, by symbol."""

    inputs: dict[str, Input] = field(default_factory=dict)
    steps: dict[str, Named] = field(default_factory=dict)
    tail: str = ""
    taken: Callable[[str], bool] = lambda _: False  # whether a name stands for something else already

    def given(self, name: str, value: float, measure: Measure, meaning: str) -> Traced:
        """An input of the run; one of the same name has the same value.

        Raises:
            TracingError: The name stands for another value already.
        """
        own = Input(float(value), measure, meaning)
        before = self.inputs.setdefault(name, own)
        if before.value != own.value or name in self.steps:
            raise TracingError(f"{name} stands for {before.value!r} and for {own.value!r}")
        return Traced(own.value, _letter(name), measure, self)

    def named(self, inner: Traced, name: str, *, heading: str, clause: str) -> Traced:
        """A step of the run; what is one already, or a number, keeps its name."""
        if inner.bare or inner.expression.is_Symbol:
            return inner
        known = inner.expression.free_symbols
        for symbol, before in self.steps.items():
            if before.inner.expression == inner.expression:
                return Traced(inner.value, _letter(symbol), inner.measure, self)
        free = self._free(name)
        if any(symbol.name == free for symbol in known):
            raise TracingError(f"{free} would stand for itself")
        self.steps[free] = Named(heading, inner, clause)
        return Traced(inner.value, _letter(free), inner.measure, self)

    def _free(self, name: str) -> str:
        """The name, with the run's tail and if need be a number below it."""
        letter, _, below = name.partition("_")
        below = f"{below}{self.tail}"
        tried, count = f"{letter}_{below}" if below else letter, 1
        while tried in self.steps or tried in self.inputs or self.taken(tried):
            count += 1
            tried = f"{letter}_{below}{count}"
        return tried


class Traced(np.lib.mixins.NDArrayOperatorsMixin):
    """A number, the expression it came from and what it measures.

    Attributes:
        value: In inside units.
        expression: Of symbols, as sympy has it.
        measure: What it measures.
        trace: The run it belongs to; none for a bare number.
    """

    __slots__ = ("expression", "measure", "trace", "value")
    shape: tuple[int, ...] = ()
    ndim = 0
    size = 1

    def __init__(self, value: Any, expression: Any, measure: Measure, trace: Trace | None) -> None:
        self.value, self.expression, self.measure, self.trace = float(value), expression, measure, trace

    def __repr__(self) -> str:
        """As a programmer reads it."""
        return f"Traced({self.expression} = {self.value!r})"

    @property
    def bare(self) -> bool:
        """Whether it is a number of the formula itself."""
        return self.trace is None

    def __getitem__(self, _: Any) -> Traced:
        """New axes and ellipses change nothing."""
        return self

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **_: Any) -> Any:
        """Arithmetic of numpy, written down."""
        if method != "__call__" or ufunc not in _UFUNCS:
            raise TracingError(f"{ufunc.__name__} of a traced number")
        return _UFUNCS[ufunc](*(traced(one) for one in inputs))

    def __array_function__(self, function: Any, _: Any, args: Any, kwargs: Any) -> Any:
        """Functions of numpy, written down."""
        if function not in _FUNCTIONS:
            raise TracingError(f"{function.__name__} of a traced number")
        return _FUNCTIONS[function](*args, **kwargs)


def step(value: Kept, symbol: str, heading: str, *, clause: str = "") -> Kept:
    """Give a number of a formula a name; of an array, nothing happens.

    Args:
        value: What it is, shape (...).
        symbol: Letter, and after a line what stands below it.
        heading: What it is, in words.
        clause: Where it is from.

    Returns:
        The same.
    """
    if not isinstance(value, Traced) or value.trace is None:
        return value
    return cast(Kept, value.trace.named(value, symbol, heading=heading, clause=clause))


def beside(constant: Quantity, *others: Any) -> float:
    """A constant as it goes with numbers of a formula: with its symbol where they are traced."""
    for one in others:
        if isinstance(one, Traced) and one.trace is not None:
            own = one.trace.given(constant.symbol, constant.value, constant.measure, constant.meaning)
            return cast(float, own)
    return constant.value


def traced(value: Any) -> Traced:
    """Anything of one value as a traced number."""
    if isinstance(value, Traced):
        return value
    number = float(np.asarray(value, dtype=np.float64).reshape(-1)[0])
    return Traced(number, _number(number), NUMBER, None)


def quotient(upper: Any, *, lower: Any, where_zero: float) -> Traced:
    """A quotient whose lower number may be zero."""
    above, below = traced(upper), traced(lower)
    return traced(where_zero) if abs(below.value) < _ZERO else _over(above, below)


def _letter(name: str) -> Any:
    from sympy import Symbol

    return Symbol(name, real=True)


def _number(value: float) -> Any:
    """A number of a formula as it is written: whole, a plain fraction, a multiple of pi, or its digits."""
    from fractions import Fraction

    from sympy import Float, Rational, pi

    for over, symbol in ((1.0, 1), (math.pi, pi), (math.pi**2, pi**2)):
        share = value / over
        plain = Fraction(share).limit_denominator(_PLAIN)
        ended = plain.denominator in (2, 4, 5, 8, 10)  # 1.25 reads better than 5/4, 1/8 better than 0.125
        even = plain.denominator not in (5, 7, 10, 11) and (abs(plain.numerator) == 1 or not ended)
        if even and abs(share - float(plain)) <= 4e-16 * abs(share):
            return Rational(plain.numerator, plain.denominator) * symbol
    return Float(value)


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


_UFUNCS: dict[Any, Callable[..., Any]] = {
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
_FUNCTIONS: dict[Any, Callable[..., Any]] = {
    np.where: _where,
    np.clip: _clipped,
    np.shape: lambda _: (),
    np.ones_like: lambda _: np.ones(()),
    np.zeros_like: lambda _: np.zeros(()),
    np.broadcast_to: lambda value, _: value,
    np.broadcast_arrays: lambda *values: values,
}

"""Numbers that remember how they came about: a strength function given them in place of arrays tells its own steps.

A batch never meets one: `step` and `beside` then give back what they were given. The formula is therefore written
once, in the function that the check runs, and the worked calculation prints that run.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, TypeVar, cast

import numpy as np

from rigcheck.quantities.measures import NUMBER, Measure

Kept = TypeVar("Kept")
UFUNCS: dict[Any, Callable[..., Any]] = {}
"""Arithmetic of numpy that can be written down; rigcheck.arrays.tracing fills it."""
FUNCTIONS: dict[Any, Callable[..., Any]] = {}
"""The same of its functions."""
_PLAIN = 12  # largest denominator that a number of a formula is written with
_NUMBERS = 1024  # bare numbers whose way of writing is kept


@dataclass(frozen=True, slots=True)
class Quantity:
    """A constant with a unit, for formulas that tell their steps.

    Attributes:
        value: In inside units; an array where it comes from a table by what each design has.
        symbol: Its symbol.
        measure: What it measures.
        meaning: What it is.
    """

    value: Any
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
        if method != "__call__" or ufunc not in UFUNCS:
            raise TracingError(f"{ufunc.__name__} of a traced number")
        return UFUNCS[ufunc](*(traced(one) for one in inputs))

    def __array_function__(self, function: Any, _: Any, args: Any, kwargs: Any) -> Any:
        """Functions of numpy, written down."""
        if function not in FUNCTIONS:
            raise TracingError(f"{function.__name__} of a traced number")
        return FUNCTIONS[function](*args, **kwargs)


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
            value = float(np.asarray(constant.value).reshape(-1)[0])
            return cast(float, one.trace.given(constant.symbol, value, constant.measure, constant.meaning))
    return cast(float, constant.value)


def traced(value: Any) -> Traced:
    """Anything of one value as a traced number."""
    if isinstance(value, Traced):
        return value
    number = float(np.asarray(value, dtype=np.float64).reshape(-1)[0])
    return Traced(number, _number(number), NUMBER, None)


def _letter(name: str) -> Any:
    from sympy import Symbol

    return Symbol(name, real=True)


@lru_cache(maxsize=_NUMBERS)
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

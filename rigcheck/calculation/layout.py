"""An expression as it stands on paper: sums with their signs, fractions, powers, roots; and what it comes to."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from rigcheck.arrays.guarded import round_up

_KEPT = 4096  # expressions kept in their finished form
_CALLED: dict[str, Callable[..., float]] = {
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "asin": math.asin,
    "acos": math.acos,
    "atan": math.atan,
    "ceil": lambda value: float(round_up(value)),
    "min": min,
    "max": max,
}


@dataclass(frozen=True, slots=True)
class Digits:
    """A number of the formula itself."""

    text: str
    value: float


@dataclass(frozen=True, slots=True)
class Letter:
    """A symbol."""

    name: str


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms, each with True where it is taken away."""

    terms: tuple[tuple[bool, Node], ...]


@dataclass(frozen=True, slots=True)
class Product:
    """Factors over and under a bar, and whether the whole is negative."""

    negative: bool
    over: tuple[Node, ...]
    under: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Power:
    """Base and exponent."""

    base: Node
    exponent: Node


@dataclass(frozen=True, slots=True)
class Root:
    """A square root."""

    inner: Node


@dataclass(frozen=True, slots=True)
class Call:
    """A function by name."""

    name: str
    inner: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Size:
    """An absolute value."""

    inner: Node


Node = Digits | Letter | Sum | Product | Power | Root | Call | Size
ONE = Digits("1", 1.0)


@lru_cache(maxsize=_KEPT)
def laid_out(expression: Any) -> Node:
    """An expression of sympy as it is written down.

    Raises:
        TypeError: There is something in it that no worked calculation has.
    """
    if expression.is_Symbol:
        return Letter(expression.name)
    if expression.is_Number:
        return _product((expression,))
    if expression.is_NumberSymbol:
        return Digits(str(expression), float(expression))
    if expression.is_Add:
        return _sum(expression)
    if expression.is_Mul:
        return _product(expression.as_ordered_factors())
    if expression.is_Pow:
        return _power(expression.base, expression.exp)
    if expression.is_Function or type(expression).__name__ in ("Min", "Max"):
        name = type(expression).__name__.lower().replace("ceiling", "ceil")
        inner = tuple(laid_out(one) for one in expression.args)
        if name == "abs":
            return Size(inner[0])
        if name in _CALLED:
            return Call(name, inner)
    raise TypeError(f"no way to write {expression!r}")


def comes_to(node: Node, *, values: Mapping[str, float]) -> float:
    """What a formula comes to, in double precision.

    Args:
        node: The formula.
        values: Value of each symbol by its name.
    """
    if isinstance(node, Letter):
        return values[node.name]
    if isinstance(node, Digits):
        return node.value
    if isinstance(node, Product):
        found = 1.0
        for one in node.over:
            found *= comes_to(one, values=values)
        below = 1.0
        for one in node.under:
            below *= comes_to(one, values=values)
        return (-found if node.negative else found) / below
    if isinstance(node, Sum):
        return math.fsum(-comes_to(one, values=values) if minus else comes_to(one, values=values)
                         for minus, one in node.terms)  # fmt: skip
    if isinstance(node, Power):
        return float(comes_to(node.base, values=values) ** comes_to(node.exponent, values=values))
    if isinstance(node, Root):
        return math.sqrt(comes_to(node.inner, values=values))
    if isinstance(node, Size):
        return abs(comes_to(node.inner, values=values))
    return _CALLED[node.name](*(comes_to(one, values=values) for one in node.inner))


def _sum(expression: Any) -> Sum:
    """Terms in their order, but what is added before what is taken away, so that a line need not begin with a minus."""
    terms = []
    for one in expression.as_ordered_terms():
        node = laid_out(one)
        if isinstance(node, Product) and node.negative:
            terms.append((True, _bare(Product(False, node.over, node.under))))
        else:
            terms.append((False, node))
    return Sum(tuple(sorted(terms, key=lambda term: term[0])))


def _product(factors: Any) -> Node:
    negative, over, under = False, list[Node](), list[Node]()
    for one in factors:
        if one.is_Number:
            sign, top, bottom = _number(one)
            negative ^= sign
            over += [] if top == ONE else [top]
            under += [] if bottom == ONE else [bottom]
            continue
        node = laid_out(one)
        if isinstance(node, Product):
            negative ^= node.negative
            over += [part for part in node.over if part != ONE]
            under += node.under
        else:
            over.append(node)
    return _bare(Product(negative, tuple(over) or (ONE,), tuple(under)))


def _bare(product: Product) -> Node:
    """A product of one factor as that factor."""
    if product.negative or product.under or len(product.over) > 1:
        return product
    return product.over[0]


def _number(value: Any) -> tuple[bool, Digits, Digits]:
    """Whether a number is negative, and what stands over and under its bar."""
    size = abs(value)
    if value.is_Rational:
        return bool(value < 0), _whole(size.p), _whole(size.q)
    return bool(value < 0), Digits(f"{float(size):.12g}", float(size)), ONE


def _whole(value: int) -> Digits:
    return Digits(str(int(value)), float(value))


def _power(base: Any, exponent: Any) -> Node:
    if exponent.is_Number and exponent < 0:
        return Product(False, (ONE,), (_power(base, -exponent),))
    if exponent == 1:
        return laid_out(base)
    if exponent.is_Rational and (exponent.p, exponent.q) == (1, 2):
        return Root(laid_out(base))
    return Power(laid_out(base), laid_out(exponent))

"""Algebra to text and to MathML, with symbols or with the numbers that stand for them."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache, lru_cache
from typing import Any

from rigcheck.views.working.pages import Formula

_OPEN = '<math xmlns="http://www.w3.org/1998/Math/MathML" display="block">'
_TWICE = re.compile(r"\b(cos|sin|asin|sqrt)\(\((-[^()]*)\)\)")  # a negative number as the only argument
_LONG = re.compile(r"\d*\.\d{6,}")
_KEPT = 2048  # expressions kept in their finished form
_ENTITIES = {"&pi;": "&#960;", "&InvisibleTimes;": "&#8290;", "&ApplyFunction;": "&#8289;", "&minus;": "&#8722;"}


@cache
def _text_printer() -> type[Any]:
    """Printer of linear text; sympy is loaded here because it takes half a second."""
    from sympy.printing.str import StrPrinter

    class Text(StrPrinter):  # type: ignore[misc]  # sympy brings no types
        def __init__(self, numbers: Mapping[Any, str]) -> None:
            super().__init__({"full_prec": False})
            self.numbers = numbers

        def _as_ordered_terms(self, expr: Any, order: Any = None) -> Any:
            return _positive_first(super()._as_ordered_terms(expr, order=order))

        def _print_Symbol(self, expr: Any) -> str:  # noqa: N802 (sympy's name)
            number = self.numbers.get(expr)
            return expr.name if number is None else _held(number)

        def _print_Min(self, expr: Any) -> str:  # noqa: N802
            return f"min({self.stringify(expr.args, ', ')})"

        def _print_Max(self, expr: Any) -> str:  # noqa: N802
            return f"max({self.stringify(expr.args, ', ')})"

        def _print_Abs(self, expr: Any) -> str:  # noqa: N802
            return f"|{self._print(expr.args[0])}|"

    return Text


@cache
def _markup_printer() -> type[Any]:
    """Printer of presentation MathML."""
    from sympy.printing.mathml import MathMLPresentationPrinter

    class Markup(MathMLPresentationPrinter):  # type: ignore[misc]  # sympy brings no types
        def __init__(self, numbers: Mapping[Any, str]) -> None:
            super().__init__({"mul_symbol": "dot"})
            self.numbers = numbers

        def _as_ordered_terms(self, expr: Any, order: Any = None) -> Any:
            return _positive_first(super()._as_ordered_terms(expr, order=order))

        def _print_Symbol(self, sym: Any, style: str = "plain") -> Any:  # noqa: N802
            number = self.numbers.get(sym)
            if number is None:
                return super()._print_Symbol(sym, style)
            return self._bare(_held(number).replace(" deg", "\N{DEGREE SIGN}"))

        def _print_Float(self, expr: Any) -> Any:  # noqa: N802
            return self._bare(_short(float(expr)))

        def _bare(self, text: str) -> Any:
            held = self.dom.createElement("mn")
            held.appendChild(self.dom.createTextNode(text))
            return held

    return Markup


def _positive_first(terms: Any) -> list[Any]:
    """What is added before what is taken away, so that no line begins with a minus that could stand later."""
    return sorted(terms, key=lambda term: bool(term.could_extract_minus_sign()))


def _held(number: str) -> str:
    return f"({number})" if number.startswith("-") else number


def _short(number: float) -> str:
    return f"{number:.12g}"


def text(expression: Any, *, numbers: Mapping[Any, str] | None = None) -> str:
    """An expression on one line, powers with ^."""
    written = str(_text_printer()(numbers or {}).doprint(expression)).replace("**", "^")
    written = _TWICE.sub(r"\1(\2)", written)
    return _LONG.sub(lambda found: _short(float(found[0])), written)


def markup(expression: Any, *, numbers: Mapping[Any, str] | None = None) -> str:
    """An expression as presentation MathML without the `math` element."""
    written = str(_markup_printer()(numbers or {}).doprint(expression))
    for name, code in _ENTITIES.items():
        written = written.replace(name, code)
    return written


def formula(left: Any, right: Any, *, numbers: Mapping[Any, str] | None = None) -> Formula:
    """An equation; with numbers, only its right side is written out with them."""
    return _symbolic(left, right) if numbers is None else _equation(left, right, numbers=numbers)


@lru_cache(maxsize=_KEPT)
def _symbolic(left: Any, right: Any) -> Formula:
    return _equation(left, right)


def _equation(left: Any, right: Any, *, numbers: Mapping[Any, str] | None = None) -> Formula:
    told = text(right, numbers=numbers)
    mathml = f"{_OPEN}<mrow>{markup(left)}<mo>=</mo>{markup(right, numbers=numbers)}</mrow></math>"
    return Formula(f"{text(left)} = {told}", mathml)


def symbol_of(name: Any) -> Formula:
    """A symbol by itself."""
    return Formula(text(name), f"{_OPEN.replace('block', 'inline')}{markup(name)}</math>")


@lru_cache(maxsize=_KEPT)
def evaluator(expression: Any, *, symbols: tuple[Any, ...]) -> Callable[..., float]:
    """An expression as a function of its symbols, in double precision; sections meet the same ones again."""
    from sympy import lambdify

    made: Callable[..., float] = lambdify(symbols, expression, modules=["math"])
    return made

"""Formulas to text and to MathML, with symbols or with the numbers that stand for them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from html import escape
from typing import Any

from rigcheck.calculation.layout import Call, Digits, Letter, Node, Power, Product, Root, Size, Sum, laid_out
from rigcheck.calculation.pages import Formula

_OPEN = '<math xmlns="http://www.w3.org/1998/Math/MathML" display="block">'
_KEPT = 4096  # formulas kept in their finished form
_GREEK = {
    "alpha": 945, "beta": 946, "gamma": 947, "delta": 948, "epsilon": 949, "zeta": 950, "eta": 951, "theta": 952,
    "kappa": 954, "lambda": 955, "mu": 956, "nu": 957, "xi": 958, "pi": 960, "rho": 961, "sigma": 963, "tau": 964,
    "phi": 966, "chi": 967, "psi": 968, "omega": 969, "Delta": 916, "Omega": 937, "Phi": 934, "Psi": 936,
}  # fmt: skip

Numbers = Mapping[str, str]
NONE: Numbers = {}


def text(expression: Any, *, numbers: Mapping[Any, str] | None = None) -> str:
    """An expression on one line, powers with ^."""
    return _text(laid_out(expression), _by_name(numbers))


def markup(expression: Any, *, numbers: Mapping[Any, str] | None = None) -> str:
    """An expression as presentation MathML without the `math` element."""
    return _markup(laid_out(expression), _by_name(numbers))


def formula(left: Any, right: Any, *, numbers: Mapping[Any, str] | None = None) -> Formula:
    """An equation; with numbers, only its right side is written out with them."""
    return _symbolic(left, right) if numbers is None else _equation(left, right, _by_name(numbers))


@lru_cache(maxsize=_KEPT)
def _symbolic(left: Any, right: Any) -> Formula:
    return _equation(left, right, NONE)


def _equation(left: Any, right: Any, numbers: Numbers) -> Formula:
    name, told = laid_out(left), laid_out(right)
    mathml = f"{_OPEN}<mrow>{_markup(name, NONE)}<mo>=</mo>{_markup(told, numbers)}</mrow></math>"
    return Formula(f"{_text(name, NONE)} = {_text(told, numbers)}", mathml)


@lru_cache(maxsize=_KEPT)
def symbol_of(name: Any) -> Formula:
    """A symbol by itself."""
    return Formula(text(name), f"{_OPEN.replace('block', 'inline')}{markup(name)}</math>")


def _by_name(numbers: Mapping[Any, str] | None) -> Numbers:
    return NONE if not numbers else {str(symbol): number for symbol, number in numbers.items()}


def _held(number: str) -> str:
    return f"({number})" if number.startswith("-") else number


# Text.


def _text(node: Node, numbers: Numbers) -> str:
    if isinstance(node, Digits):
        return node.text
    if isinstance(node, Letter):
        return _held(numbers[node.name]) if node.name in numbers else node.name
    if isinstance(node, Sum):
        told = "".join(f" {'-' if minus else '+'} {_factor(one, numbers, Sum)}" for minus, one in node.terms)
        return told[3:] if told.startswith(" + ") else f"-{told[3:]}"
    if isinstance(node, Product):
        over = "*".join(_factor(one, numbers, Sum, Product) for one in node.over)
        under = "*".join(_factor(one, numbers, Sum, Product) for one in node.under)
        below = f"/({under})" if len(node.under) > 1 else f"/{under}" if under else ""
        return f"{'-' if node.negative else ''}{over}{below}"
    if isinstance(node, Power):
        return f"{_factor(node.base, numbers, Sum, Product, Power)}^{_factor(node.exponent, numbers, Sum, Product)}"
    if isinstance(node, Root):
        return f"sqrt({_argument(node.inner, numbers)})"
    if isinstance(node, Size):
        return f"|{_text(node.inner, numbers)}|"
    return f"{node.name}({', '.join(_argument(one, numbers) for one in node.inner)})"


def _factor(node: Node, numbers: Numbers, *bracketed: type[Any]) -> str:
    told = _text(node, numbers)
    return f"({told})" if isinstance(node, bracketed) else told


def _argument(node: Node, numbers: Numbers) -> str:
    """What already stands in brackets needs none for its sign."""
    return numbers[node.name] if isinstance(node, Letter) and node.name in numbers else _text(node, numbers)


# MathML.


def _markup(node: Node, numbers: Numbers) -> str:
    if isinstance(node, Digits):
        return f"<mn>{'&#960;' if node.text == 'pi' else node.text}</mn>"
    if isinstance(node, Letter):
        number = numbers.get(node.name)
        return _letter(node.name) if number is None else f"<mn>{_held(number).replace(' deg', '&#176;')}</mn>"
    if isinstance(node, Sum):
        told = "".join(f"{_sign(minus)}{_inner(one, numbers, Sum)}" for minus, one in node.terms)
        return f"<mrow>{told.removeprefix(_sign(False))}</mrow>"
    if isinstance(node, Product):
        return _fraction(node, numbers)
    if isinstance(node, Power):
        base = _inner(node.base, numbers, Sum, Product, Power)
        return f"<msup>{base}{_markup(node.exponent, numbers)}</msup>"
    if isinstance(node, Root):
        return f"<msqrt>{_markup(node.inner, numbers)}</msqrt>"
    if isinstance(node, Size):
        return f"<mrow><mo>|</mo>{_markup(node.inner, numbers)}<mo>|</mo></mrow>"
    return _called(node, numbers)


def _sign(minus: bool) -> str:
    return "<mo>&#8722;</mo>" if minus else "<mo>+</mo>"


def _inner(node: Node, numbers: Numbers, *bracketed: type[Any]) -> str:
    told = _markup(node, numbers)
    return f"<mrow><mo>(</mo>{told}<mo>)</mo></mrow>" if isinstance(node, bracketed) else told


def _fraction(node: Product, numbers: Numbers) -> str:
    sign = _sign(True) if node.negative else ""
    alone = bool(node.under)  # a bar holds together what it covers
    over, under = (_row(part, numbers, alone=alone) for part in (node.over, node.under))
    return f"<mrow>{sign}<mfrac>{over}{under}</mfrac></mrow>" if node.under else f"<mrow>{sign}{over}</mrow>"


def _row(factors: tuple[Node, ...], numbers: Numbers, *, alone: bool) -> str:
    if len(factors) == 1 and alone:
        return _markup(factors[0], numbers)
    told = "<mo>&#183;</mo>".join(_inner(one, numbers, Sum) for one in factors)
    return f"<mrow>{told}</mrow>" if alone else told


def _called(node: Call, numbers: Numbers) -> str:
    told = "<mo>,</mo>".join(
        f"<mn>{numbers[one.name].replace(' deg', '&#176;')}</mn>"
        if isinstance(one, Letter) and one.name in numbers
        else _markup(one, numbers)
        for one in node.inner
    )
    return f"<mrow><mi>{node.name}</mi><mrow><mo>(</mo>{told}<mo>)</mo></mrow></mrow>"


@lru_cache(maxsize=_KEPT)
def _letter(name: str) -> str:
    """A symbol with what stands below it."""
    letter, _, below = name.partition("_")
    code = _GREEK.get(letter)
    told = f"<mi>{f'&#{code};' if code else escape(letter)}</mi>"
    return f"<msub>{told}<mi>{escape(below)}</mi></msub>" if below else told

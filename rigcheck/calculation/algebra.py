"""Short cuts through the computer algebra system, where it would look for more than there is to find."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def least(*terms: Any) -> Any:
    """The smallest of some terms, as written: nothing is compared while they are symbols."""
    from sympy import Min

    return terms[0] if len(terms) == 1 else Min(*terms, evaluate=False)


def most(*terms: Any) -> Any:
    """The largest of some terms, as written."""
    from sympy import Max

    return terms[0] if len(terms) == 1 else Max(*terms, evaluate=False)


def put(expression: Any, values: Mapping[Any, Any]) -> Any:
    """An expression with others in the place of its symbols, all at once."""
    from sympy import sympify

    return expression.xreplace({symbol: sympify(value) for symbol, value in values.items()})


def integral(expression: Any, *, over: Any, start: Any, end: Any) -> Any:
    """A definite integral of a polynomial in one symbol; its other symbols are constants."""
    from sympy import Poly, sympify

    whole = Poly(sympify(expression), over).integrate(over)
    return whole.eval(end) - whole.eval(start)

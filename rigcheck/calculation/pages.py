"""The plain data of a worked calculation: sections of steps with symbols, equation, numbers, result and clause."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any


@dataclass(frozen=True, slots=True)
class Formula:
    """One line of algebra, written twice.

    Attributes:
        text: Linear, plain ASCII.
        mathml: A whole `math` element of presentation MathML.
    """

    text: str
    mathml: str


@dataclass(frozen=True, slots=True)
class Term:
    """A symbol that a step brings in.

    Attributes:
        symbol: The symbol.
        meaning: What it is.
        value: Number with unit, as text.
    """

    symbol: Formula
    meaning: str
    value: str


@dataclass(frozen=True, slots=True)
class Table:
    """Numbers that belong together.

    Attributes:
        caption: What it shows.
        heads: Headings; the first column is words, the others numbers.
        rows: Cells as text.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a calculation.

    Attributes:
        heading: What it does.
        note: Why, where the heading does not say it.
        table: Numbers it starts from.
        terms: Symbols that it brings in.
        derivation: Equations that it starts from, without numbers.
        equation: What it works out, symbol = expression.
        numbers: The same with the numbers put in.
        result: Its value in the unit of the output; None for a step without one.
        unit: Label of that unit.
        answer: The value as text, with its unit.
        clause: Source.
        engine: The value that the check itself has, in the same unit; None where the check keeps none.
    """

    heading: str
    note: str = ""
    table: Table | None = None
    terms: tuple[Term, ...] = ()
    derivation: tuple[Formula, ...] = ()
    equation: Formula | None = None
    numbers: Formula | None = None
    result: float | None = None
    unit: str = ""
    answer: str = ""
    clause: str = ""
    engine: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The calculation of one part.

    Attributes:
        part: Word for it: line, hinge, rail, pin, lug, weld, post.
        title: The part and the mode that is worked out.
        intro: Sentence on the state, the sharing and the loads.
        steps: The steps in order; none where the case does not describe the part.
        utilization: What it comes to; None where nothing could be worked out.
        verdict: within, tight, over or not_assessed.
        demand: Of the check, as in its own row; None where nothing is held against anything.
        capacity: What the check allows.
        unit: Label of the unit of both.
    """

    part: str
    title: str
    intro: str
    steps: tuple[Step, ...] = ()
    utilization: float | None = None
    verdict: str = "not_assessed"
    demand: float | None = None
    capacity: float | None = None
    unit: str = ""

    def plain(self) -> dict[str, Any]:
        """The section as dicts and lists."""
        return {name: _plain(getattr(self, name)) for name in _NAMES[Section]}


_NAMES = {kind: tuple(one.name for one in fields(kind)) for kind in (Formula, Term, Table, Step, Section)}


def _plain(value: Any) -> Any:
    """A record as a dict, whatever is in it too; thousands of them, so that nothing is looked up twice."""
    if isinstance(value, tuple):
        return tuple(map(_plain, value))
    names = _NAMES.get(type(value))
    return value if names is None else {name: _plain(getattr(value, name)) for name in names}

"""A sheet of calculation: symbols get values, expressions become steps, results are held to the engine's own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, TypedDict, Unpack

from rigcheck.arrays.traced import Trace
from rigcheck.calculation import writing
from rigcheck.calculation.layout import comes_to, laid_out
from rigcheck.calculation.measures import Units
from rigcheck.calculation.pages import Formula, Step, Table, Term
from rigcheck.quantities import Rounding
from rigcheck.quantities.measures import Measure
from rigcheck.wording.marks import marked

AGREE = 1e-9  # algebra and engine are the same numbers in another order of adding up

Symbol = Any
Expression = Any


class DisagreementError(Exception):
    """The algebra that would be printed does not give the number that the check has."""


@dataclass(frozen=True, slots=True)
class Known:
    """A symbol with its value, and which way it is rounded wherever it stands."""

    value: float
    measure: Measure
    meaning: str
    rounding: Rounding = "nearest"


class Told(TypedDict, total=False):
    """What else is told of a step.

    Attributes:
        clause: Source.
        rounding: "up" for a demand, "down" for a capacity.
        engine: What the check has for it. [inside units]
        against: Size below which a difference means nothing, for what is nearly zero. [inside units]
        note: Why.
        derivation: Equations it follows from.
        table: Numbers it starts from.
    """

    clause: str
    rounding: Rounding
    engine: Any
    against: float
    note: str
    derivation: Sequence[Formula]
    table: Table | None


@dataclass(slots=True)
class Sheet:
    """Steps as they are written down.

    Attributes:
        units: Units of the output.
        steps: What is written so far.
        trace: What the strength functions run on it have met.
        quiet: True while values are worked out that another section has shown already.
    """

    units: Units
    steps: list[Step] = field(default_factory=list)
    quiet: bool = False
    trace: Trace = field(default_factory=Trace)
    _known: dict[str, Known] = field(default_factory=dict)
    _pending: list[Symbol] = field(default_factory=list)
    _note: str = ""

    def __post_init__(self) -> None:
        """What stands on the sheet is no name for a step of a run."""
        self.trace.taken = self.knows

    def given(self, name: str, value: Any, measure: Measure, meaning: str, *, listed: bool = True) -> Symbol:
        """A symbol whose value is an input.

        Args:
            name: The symbol.
            value: In inside units.
            measure: What it is.
            meaning: What it stands for.
            listed: Whether the next step lists it; False for what a table shows.
        """
        from sympy import Symbol as Named

        symbol = Named(name, real=True)
        self._known[name] = Known(float(value), measure, meaning)
        if listed and not self.quiet:
            self.recall(symbol)
        return symbol

    def once(self, name: str, value: Any, measure: Measure, meaning: str) -> Symbol:
        """A symbol whose value is an input, listed only where this sheet has none of that name yet."""
        from sympy import Symbol as Named

        if self.knows(name):
            return Named(name, real=True)
        return self.given(name, value, measure, meaning)

    def recall(self, *symbols: Symbol) -> None:
        """List symbols with the next step, though they have their value already."""
        self._pending += [symbol for symbol in symbols if symbol not in self._pending]

    def knows(self, name: str) -> bool:
        """Whether a symbol of this name has a value."""
        return name in self._known

    def known(self, name: str) -> Known:
        """What a symbol stands for."""
        return self._known[name]

    def everything(self) -> dict[str, Known]:
        """What each name stands for as of now."""
        return dict(self._known)

    def learn(self, known: Mapping[str, Known]) -> None:
        """Take over what names stand for from a sheet that worked it out, without writing anything down."""
        self._known.update(known)

    def note(self, text: str) -> None:
        """Tell something with the next step."""
        self._note = " ".join(one for one in (self._note, text) if one)

    def value(self, expression: Expression) -> float:
        """Value of an expression of known symbols. [inside units]"""
        from sympy import sympify

        return self._value(sympify(expression))

    def _value(self, whole: Expression) -> float:
        values = {symbol.name: self._known[symbol.name].value for symbol in whole.free_symbols}
        return comes_to(laid_out(whole), values=values)

    def find(self, heading: str, name: str, expression: Expression, measure: Measure, **told: Unpack[Told]) -> Symbol:
        """Work out an expression, give it a name, and write the step down.

        Args:
            heading: What the step does; the meaning of the new symbol.
            name: The new symbol.
            expression: Of known symbols.
            measure: What it is.
            **told: What else is told of the step, see `Told`.

        Raises:
            DisagreementError: The engine has another number.
        """
        from sympy import Symbol as Named
        from sympy import sympify

        whole = sympify(expression)
        symbol = Named(name, real=True)
        value = self._value(whole)
        engine = told.get("engine")
        held = None if engine is None else float(engine)
        if held is not None and abs(value - held) > AGREE * max(abs(value), abs(held), abs(told.get("against", 0.0))):
            raise DisagreementError(f"{heading}: {value:.10g} by the algebra, {held:.10g} in the check")
        rounding = told.get("rounding", "nearest")
        self._known[name] = Known(value, measure, heading, rounding)
        if self.quiet:
            return symbol
        numbers = self._numbers(whole)
        self.steps.append(
            Step(
                heading=heading,
                note=self._noted(told.get("note", "")),
                table=told.get("table"),
                terms=self._terms(),
                derivation=tuple(told.get("derivation", ())),
                equation=writing.formula(symbol, whole),
                numbers=writing.formula(symbol, whole, numbers=numbers) if numbers and whole not in numbers else None,
                result=self.units.value(value, measure=measure),
                unit=self.units.label(measure),
                answer=self.units.text(value, measure=measure, rounding=rounding),
                clause=marked(told.get("clause", "")),
                engine=None if held is None else self.units.value(held, measure=measure),
            )
        )
        return symbol

    def equations(
        self,
        heading: str,
        derivation: Sequence[Formula],
        *,
        note: str = "",
        clause: str = "",
        table: Table | None = None,
    ) -> None:
        """A step that only says from which equations the next ones follow."""
        if not self.quiet:
            self.steps.append(
                Step(
                    heading=heading,
                    note=self._noted(note),
                    table=table,
                    terms=self._terms(),
                    derivation=tuple(derivation),
                    clause=marked(clause),
                )
            )

    @contextmanager
    def silence(self, wanted: bool = True) -> Iterator[None]:
        """Work out without writing down."""
        before = self.quiet
        self.quiet = before or wanted
        try:
            yield
        finally:
            self.quiet = before

    def scratch(self) -> Sheet:
        """Another sheet with what is known here, on which nothing is written down."""
        return Sheet(self.units, quiet=True, _known=dict(self._known))

    def _noted(self, note: str) -> str:
        before, self._note = self._note, ""
        return marked(" ".join(text for text in (before, note) if text))

    def _numbers(self, expression: Expression) -> dict[Symbol, str]:
        return {
            symbol: self.units.bare(known.value, measure=known.measure, rounding=known.rounding)
            for symbol, known in ((symbol, self._known[symbol.name]) for symbol in expression.free_symbols)
        }

    def _terms(self) -> tuple[Term, ...]:
        found = []
        for symbol in self._pending:
            known = self._known[symbol.name]
            value = self.units.text(known.value, measure=known.measure, rounding=known.rounding)
            found.append(Term(writing.symbol_of(symbol), marked(known.meaning), value))
        self._pending.clear()
        return tuple(found)

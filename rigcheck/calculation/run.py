"""A strength function run on numbers that remember: its steps, written on a sheet as the check went through them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

from rigcheck.arrays.guarded import UNLIMITED
from rigcheck.arrays.traced import Trace, Traced, TracingError
from rigcheck.calculation.sheet import DisagreementError, Sheet, Symbol
from rigcheck.quantities import Rounding
from rigcheck.quantities.measures import NUMBER, Measure
from rigcheck.strength.bases import Basis

_DIVISORS = {
    "yielding": ("Omega_y", "divisor for yielding and buckling"),
    "shear": ("Omega_v", "divisor for shear"),
    "connection_shear": ("Omega_s", "divisor for shear yield of what is joined"),
    "rupture": ("Omega_r", "divisor for rupture"),
    "weld": ("Omega_w", "divisor for welds"),
    "face": ("Omega_f", "divisor of the face"),
    "bearing": ("Omega_b", "divisor for bearing"),
    "second_order": ("alpha", "factor on the compression on this basis"),
    "compact_limit": ("c_m", "most moment over the yield moment on this basis, compact"),
    "other_limit": ("c_n", "most moment over the yield moment on this basis, not compact"),
    "solid_limit": ("c_s", "most moment over the yield moment on this basis, solid"),
}


@dataclass(slots=True)
class Run:
    """Runs of strength functions on one sheet.

    Attributes:
        sheet: Where the steps are written.
    """

    sheet: Sheet

    @property
    def trace(self) -> Trace:
        """What the runs of this sheet have met."""
        return self.sheet.trace

    def given(self, name: str, value: Any, measure: Measure, meaning: str) -> Any:
        """An input; it is listed where a step first needs it."""
        return self.trace.given(name, float(np.asarray(value).reshape(-1)[0]), measure, meaning)

    def symbol(self, symbol: Symbol) -> Any:
        """A symbol that the sheet has already."""
        known = self.sheet.known(symbol.name)
        if symbol.name in self.trace.steps:  # a run gave it that name itself
            return Traced(known.value, symbol, known.measure, self.trace)
        return self.trace.given(symbol.name, known.value, known.measure, known.meaning)

    def basis(self, basis: Basis) -> Basis:
        """A basis whose divisors and limits tell their symbols."""
        found: dict[str, Any] = {}
        for key, (symbol, meaning) in _DIVISORS.items():
            value = float(getattr(basis, key))
            found[key] = value if value >= UNLIMITED else self.given(symbol, value, NUMBER, meaning)
        return replace(basis, **found)

    def record(self, kind: type[Any], values: Any, *, symbols: Mapping[str, tuple[str, Measure, str]]) -> Any:
        """A record of numbers, those with a symbol traced, the others as they are."""
        told = {
            name: self.given(symbols[name][0], getattr(values, name), *symbols[name][1:])
            if name in symbols
            else getattr(values, name)
            for name in (one.name for one in fields(kind))
        }
        return kind(**told)

    def tell(
        self,
        function: Callable[[], Any],
        name: str,
        heading: str,
        measure: Measure,
        *,
        tail: str = "",
        rounding: Rounding = "down",
        engine: Any = None,
    ) -> Symbol:
        """Run a strength function and write its steps down, the last one under a name of its own.

        Args:
            function: Runs it on traced numbers.
            name: Symbol of what it gives.
            heading: What that is.
            measure: What it measures.
            tail: Stands below the symbols of its steps.
            rounding: "up" for a demand, "down" for a capacity.
            engine: What the check has for it. [inside units]

        Raises:
            DisagreementError: It gives something else than its own last step, or than the check has.
        """
        self.trace.tail, before = tail, self.trace.tail
        try:
            whole = function()
        finally:
            self.trace.tail = before
        if not isinstance(whole, Traced) or whole.bare:
            return self.sheet.given(name, float(whole.value if isinstance(whole, Traced) else whole), measure, heading)
        if whole.measure != measure:
            raise TracingError(f"{heading}: {whole!r} does not measure that")
        last = str(whole.expression)
        if last not in self.trace.steps and last not in self.trace.inputs:
            by_steps = _other(self.trace, whole)
            raise DisagreementError(f"{heading}: {by_steps:.10g} by its steps, {whole.value:.10g} in the check")
        inner, clause = whole, ""
        if last in self.trace.steps:
            inner, clause = self.trace.steps[last].inner, self.trace.steps[last].clause
        self._write(inner, measure=measure, rounding=rounding)
        return self.sheet.find(
            heading, name, inner.expression, measure, rounding=rounding, clause=clause,
            engine=whole.value if engine is None else engine,
        )  # fmt: skip

    def _write(self, inner: Traced, *, measure: Measure, rounding: Rounding) -> None:
        """What an expression needs, each once, in the order in which it stands; like measures are rounded alike."""
        for symbol in sorted(inner.expression.free_symbols, key=lambda one: one.name):
            name = symbol.name
            own = self.trace.inputs.get(name)
            if self.sheet.knows(name):
                if own is not None and self.sheet.known(name).value != own.value:
                    raise TracingError(f"{name} stands for {self.sheet.known(name)} on this sheet, and for {own}")
                continue
            if own is not None:
                self.sheet.given(name, own.value, own.measure, own.meaning)
                continue
            step = self.trace.steps[name]
            self._write(step.inner, measure=measure, rounding=rounding)
            self.sheet.find(
                step.heading, name, step.inner.expression, step.inner.measure, clause=step.clause,
                engine=step.inner.value, rounding=rounding if step.inner.measure == measure else "nearest",
            )  # fmt: skip


def _other(trace: Trace, whole: Traced) -> float:
    """The last step that an expression was made of, where it is no step itself."""
    among = [trace.steps[one.name].inner for one in whole.expression.free_symbols if one.name in trace.steps]
    return next((one.value for one in among if one.measure == whole.measure), whole.value)

"""Units of a worked calculation: sets in which the numbers put in work out without factors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees

from rigcheck.quantities import Rounding, System, convert, plain_text
from rigcheck.quantities.measures import Measure
from rigcheck.quantities.writing import grouped

DIGITS = 6  # of every number, put in or found, so that it reads the same wherever it stands


@dataclass(frozen=True, slots=True)
class Units:
    """One coherent set of units: inch and pound-force, or millimetre and newton."""

    system: System = "us"

    def factor(self, measure: Measure) -> float:
        """What an inside value is multiplied by."""
        if measure.angle:
            return degrees(1.0)
        force = convert(1.0, dimension="force", system=self.system)[0]
        length = convert(1.0, dimension="length", system=self.system)[0]
        return float(force**measure.force * length**measure.length)

    def label(self, measure: Measure) -> str:
        """Label of the unit, empty for a bare number."""
        if measure.angle:
            return "deg"
        us = self.system == "us"
        if (measure.force, measure.length) == (1, -2):
            return "psi" if us else "MPa"
        names = [("lbf" if us else "N", measure.force), ("in" if us else "mm", measure.length)]
        over = "*".join(_power(name, power) for name, power in names if power > 0)
        under = "*".join(_power(name, -power) for name, power in names if power < 0)
        return f"{over or '1'}/{under}" if under else over

    def value(self, value: float, *, measure: Measure) -> float:
        """A value in the unit of the output."""
        return float(value) * self.factor(measure)

    def bare(self, value: float, *, measure: Measure, rounding: Rounding = "nearest") -> str:
        """A number as it is put into an equation; an angle keeps its unit."""
        text = plain_text(self.value(value, measure=measure), digits=DIGITS, rounding=rounding)
        return f"{text} deg" if measure.angle else text

    def text(self, value: float, *, measure: Measure, rounding: Rounding = "nearest") -> str:
        """A number with its unit."""
        number = plain_text(self.value(value, measure=measure), digits=DIGITS, rounding=rounding)
        return f"{grouped(number)} {self.label(measure).replace('lbf', 'lb')}".rstrip()

    def row(self, values: Sequence[float], *, measures: Sequence[Measure]) -> tuple[str, ...]:
        """Cells of a table, the units being in its headings."""
        return tuple(
            grouped(plain_text(self.value(value, measure=measure), digits=DIGITS))
            for value, measure in zip(values, measures, strict=True)
        )

    def head(self, name: str, *, measure: Measure) -> str:
        """A heading with its unit."""
        label = self.label(measure).replace("lbf", "lb")
        return f"{name} [{label}]" if label else name


def _power(name: str, power: float) -> str:
    return name if power == 1 else f"{name}{power}"

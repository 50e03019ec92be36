"""Numbers of the engine to plain floats in the units of the output."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.quantities import Dimension, System, convert

UNLIMITED = 1e9  # a utilization from here up has no meaning as a number

UNITS: dict[str, Dimension] = {
    "force": "force",
    "length": "length",
    "moment": "moment",
    "stress": "stress",
    "angle": "angle",
    "pitch": "pitch",
    "density": "density",
    "flow": "flow",
    "force_per_length": "stiffness",
}
_NOT_LINEAR = frozenset({"pitch"})
_LENGTHS = ("_s", "_y", "_n", "_x", "_z")  # endings of a variant's keys that are positions


@dataclass(frozen=True, slots=True)
class Scale:
    """One system of units for a whole result."""

    system: System = "us"

    def units(self) -> dict[str, str]:
        """Unit label of each quantity."""
        return {name: convert(0.0, dimension=dimension, system=self.system)[1] for name, dimension in UNITS.items()}

    def label(self, dimension: Dimension) -> str:
        """Unit label of one quantity; empty for a bare number."""
        return convert(0.0, dimension=dimension, system=self.system)[1]

    def one(self, value: Array | float, *, dimension: Dimension) -> float | None:
        """One number; None where it is not finite."""
        number = convert(float(value), dimension=dimension, system=self.system)[0]
        return number + 0.0 if np.isfinite(number) else None

    def many(self, values: Array, *, dimension: Dimension) -> Any:
        """Nested lists of numbers, in the shape of the array; None where one is not finite.

        Args:
            values: Any shape, in inside units.
            dimension: What they are; one whose conversion is a factor.

        Returns:
            Lists of floats, or one float for shape ().
        """
        if dimension in _NOT_LINEAR:
            raise ValueError(f"{dimension} is converted one by one")
        factor = convert(1.0, dimension=dimension, system=self.system)[0]
        scaled = np.asarray(values, dtype=np.float64) * factor + 0.0
        if np.isfinite(scaled).all():
            return scaled.tolist()
        return _finite(scaled.tolist())

    def variant(self, variant: Any) -> dict[str, str | float | None] | None:
        """What tells a row from others of its state, positions converted; None where nothing does."""
        found: dict[str, str | float | None] = {}
        for key, value in variant.items():
            if isinstance(value, str):
                found[key] = value
            elif key.endswith(_LENGTHS):
                found[key] = self.one(value, dimension="length")
            else:
                found[key] = self.one(value, dimension="number")
        return found or None


def _finite(values: Any) -> Any:
    if isinstance(values, list):
        return [_finite(one) for one in values]
    return values if np.isfinite(values) else None


def ratio(utilization: Array | float) -> float | None:
    """A utilization; None where it means nothing: unlimited, negative or not finite."""
    value = float(utilization)
    return value if 0.0 <= value < UNLIMITED else None

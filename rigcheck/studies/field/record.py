"""What follows from readings: a quantity with its uncertainty beside that of the case, and remarks on it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import hypot

from rigcheck.arrays.types import Array
from rigcheck.quantities import Dimension
from rigcheck.studies.field.lines import carried_error

USELESS = 0.5  # an uncertainty over this share of the value tells nothing


class What(StrEnum):
    """What a result of readings is, and what people read it as."""

    WATER = "water"
    MOMENT = "moment"
    TENSION = "tension"
    LEFT = "left tension"
    RIGHT = "right tension"
    EACH = "each tension"
    WEIGHT = "weight"
    SCALE = "scale"


TENSION_OF = {"left": What.LEFT, "right": What.RIGHT, "each": What.EACH}
"""Tension of the line on a side that was read; of each where both are alike."""
TENSIONS = (What.TENSION, What.LEFT, What.RIGHT, What.EACH)


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One quantity that follows from the readings.

    Attributes:
        what: What it is.
        how: The readings and the rule, in words.
        value: Measured. [lbf*in], [lbf] or [1]
        error: Its uncertainty, from scale and tape. [as value]
        expected: What the case alone gives. [as value]
        dimension: Quantity of the numbers.
        usable: False where the uncertainty leaves nothing.
    """

    what: What
    how: str
    value: float
    error: float
    expected: float
    dimension: Dimension
    usable: bool = True

    @property
    def ratio(self) -> float:
        """Measured over expected."""
        return self.value / self.expected if self.expected else 0.0

    @property
    def agrees(self) -> bool:
        """Whether the case lies within the uncertainty."""
        return abs(self.value - self.expected) <= self.error


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something that must be said of the readings: a code, a sentence, and whether it spoils them."""

    code: str
    text: str
    spoils: bool = False


def best(results: Sequence[Result]) -> Result | None:
    """The result with the least uncertainty beside its value; None of none."""
    return min(results, key=lambda one: one.error / abs(one.value) if one.value else 1e9, default=None)


def number(value: Array) -> float:
    """The one number of an array of shape ()."""
    return float(value)


def result_of(
    rule: Callable[..., Array], readings: Sequence[tuple[float, float]], *, like: Result, error_more: float = 0.0
) -> Result:
    """A result from a rule and (reading, uncertainty) pairs; what else is uncertain is added to it."""
    values, errors = [one for one, _ in readings], [error for _, error in readings]
    value = number(rule(*values))
    error = hypot(number(carried_error(rule, readings=values, errors=errors)), error_more)
    return replace(like, value=value, error=error, usable=error <= USELESS * abs(value))

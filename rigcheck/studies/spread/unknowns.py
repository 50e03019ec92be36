"""What is not known well: ranges and distributions of keys, as given or as is usual."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.errors import CaseError, Problem, printable
from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig
from rigcheck.parts.plant.checks import not_described
from rigcheck.studies.spread.sampling import CUT, even, normal
from rigcheck.studies.vary.case import broken, legal_end, with_values
from rigcheck.studies.vary.variable import OPTION, Variable, check_limits, value_of, variable

FORMS = ("KEY=+-2 in", "KEY=+-8 %", "KEY=1 in..3 in", "KEY=normal 1 in")
USUAL: tuple[tuple[str, str, str], ...] = (
    ("bed.density", "+-8 %", "assumption: stones, clay and water of a bed vary"),
    ("bed.depth", "+-1 in", "assumption: a bed does not settle evenly"),
    ("box.sheet", "+-8 %", "assumption: sheet is rolled thick or thin by about as much"),
    ("hanger.at", "+-2 in", "assumption: welded where it fits"),
    ("perch.height", "+-2 in", "assumption: the hinge is not where the drawing has it"),
    ("perch.downstream", "+-2 in", "assumption: the hinge is not where the drawing has it"),
    ("plant.weight", "+-8 %", "assumption: added up from its parts, not weighed"),
    ("plant.cg_downstream", "+-4 in", "assumption: reckoned from its parts, not weighed"),
    ("water.flow", "+-20 %", "assumption: pumps are not metered"),
)
_ABSOLUTE = ("fraction", "pitch")  # per cent of these are values of their own and not a share of the value


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """A key with what it may be.

    Attributes:
        variable: The key.
        low: Least value. [inside units]
        high: Largest value.
        deviation: Standard deviation of a normal spread about the value of the case; 0 for an even one.
        source: Where the spread comes from.
        clipped: True where the limits of the key or the rules of a case cut it short.
    """

    variable: Variable
    low: float
    high: float
    deviation: float
    source: str
    clipped: bool = False

    def values(self, share: Array) -> Array:
        """Values for shares in (0, 1), shape (sample,)."""
        if self.deviation > 0.0:
            found = normal(share, middle=self.variable.value, deviation=self.deviation)
            return np.clip(found, self.low, self.high)
        return even(share, low=self.low, high=self.high)


def given(case: Case, texts: Iterable[str]) -> list[Unknown]:
    """Unknowns as a person states them.

    Args:
        case: The case.
        texts: Each `KEY=+-X`, `KEY=LOW..HIGH` or `KEY=normal X`.

    Raises:
        CaseError: With the first that cannot be understood, or that leaves what a case allows.
    """
    found = [_given(case, text) for text in texts]
    seen: set[str] = set()
    for one in found:
        if one.variable.key in seen:
            raise CaseError([Problem(OPTION, one.variable.name, "is given twice")])
        seen.add(one.variable.key)
    return found


def _given(case: Case, text: str) -> Unknown:
    path, equals, spread = text.partition("=")
    spread = spread.strip()
    if not equals or not spread:
        raise CaseError([Problem(OPTION, printable(text), "is not a key with its spread", FORMS)])
    one = variable(case, path.strip())
    about = re.fullmatch(r"(?:\+-|\u00b1|\+/-)\s*(.+)", spread)
    bell = re.fullmatch(r"normal\s+(.+)", spread)
    low_text, dots, high_text = spread.partition("..")
    source = "as given"
    if about is not None:
        reach = _reach(one, about[1])
        low, high, deviation = one.value - reach, one.value + reach, 0.0
    elif bell is not None:
        deviation = _reach(one, bell[1])
        low, high = one.value - CUT * deviation, one.value + CUT * deviation
    elif dots:
        low, high = (value_of(one, part.strip(), option=OPTION) for part in (low_text, high_text))
        deviation = 0.0
    else:
        raise CaseError([Problem(OPTION, one.name, f'"{printable(spread)}" is no spread', FORMS)])
    if low > high:
        raise CaseError([Problem(OPTION, one.name, f'"{printable(spread)}" runs downward', FORMS)])
    for end in (low, high):
        check_limits(one, end, option=OPTION, text=spread)
        problems = broken(with_values(case, {one.key: end}), name=OPTION)
        if problems:
            raise CaseError(problems)
    return Unknown(variable=one, low=low, high=high, deviation=deviation, source=source)


def _reach(one: Variable, text: str) -> float:
    """Half of a spread: a share of the value, or a quantity of its own."""
    share = re.fullmatch(r"([0-9]*\.?[0-9]+)\s*%", text.strip())
    if share is not None and one.dimension not in _ABSOLUTE:
        return abs(one.value) * float(share[1]) / 100.0
    free = Variable(key=one.key, name=one.name, meaning=one.meaning, dimension=one.dimension, least=0.0, most=None,
                    value=one.value)  # fmt: skip
    return value_of(free, text.strip(), option=OPTION)


def usual(case: Case, *, leave: Iterable[str] = ()) -> list[Unknown]:
    """What is usually not known well, for the parts that the case describes.

    Args:
        case: The case.
        leave: Keys that are stated already.

    Returns:
        Even spreads about the values of the case, cut where the limits of a key or the rules of a case end.
    """
    found = []
    left = set(leave)
    sheets = [(f"stretch[{i + 1}].sheet", one.sheet) for i, one in enumerate(case.stretch)]
    own = [(path, "+-8 %", "assumption: sheet is rolled thick or thin by about as much") for path, has in sheets if has]
    for path, text, source in (*USUAL, *own):
        section = path.partition(".")[0]
        if path in left or getattr(case, section) is None or (section == "plant" and not_described(Rig(case))):
            continue
        one = variable(case, path)
        reach = _reach(one, text.removeprefix("+-"))
        ends = []
        for end, limit in ((one.value - reach, one.least), (one.value + reach, one.most)):
            inside = end if limit is None else max(end, limit) if end < one.value else min(end, limit)
            ends.append(legal_end(lambda value, key=one.key: with_values(case, {key: value}), one.value, end=inside))  # type: ignore[misc]
        clipped = ends != [one.value - reach, one.value + reach]
        found.append(Unknown(variable=one, low=ends[0], high=ends[1], deviation=0.0, source=source, clipped=clipped))
    return found

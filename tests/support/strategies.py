"""Hypothesis strategies shared by the tests: texts with units, and whole cases as they stand in a file."""

import tomllib
from copy import deepcopy
from random import Random
from typing import Any

from hypothesis import strategies as st

from rigcheck.quantities import DIMENSIONS, Dimension
from tests.support.extreme_rigs import extreme_case
from tests.support.whole_rig import starter_text

FINITE = st.floats(allow_nan=False, allow_infinity=False)
WITH_UNIT: tuple[Dimension, ...] = tuple(one for one in DIMENSIONS if one != "number")


@st.composite
def feet_and_inches(draw: st.DrawFn) -> tuple[str, float]:
    """A length as a tape is read, with its value in inches."""
    feet = draw(st.integers(0, 40))
    inches = draw(st.integers(0, 11))
    top, bottom = draw(st.sampled_from([(0, 1), (1, 2), (3, 8), (5, 16), (31, 32)]))
    sign = draw(st.sampled_from(["", "-"]))
    foot, inch = draw(
        st.sampled_from([(" ft ", " in"), ("ft ", "in"), ("' ", '"'), ("'-", '"'), ("\u2032 ", "\u2033")])
    )
    part = f" {top}/{bottom}" if top else ""
    value = 12.0 * feet + inches + top / bottom
    return f"{sign}{feet}{foot}{inches}{part}{inch}", -value if sign else value


def lengths(least: int, most: int) -> st.SearchStrategy[str]:
    """A length in whole quarter inches between two whole numbers of inches."""
    return st.integers(4 * least, 4 * most).map(lambda quarters: f"{quarters / 4.0:.2f} in")


@st.composite
def starter_cases(draw: st.DrawFn) -> dict[str, Any]:
    """The starter of a random box, as parsed from a file; always readable."""
    text = starter_text(
        title=draw(st.sampled_from(["Sallow Bend", "Cutbank Two", "Gannet Pup, short box"])),
        length=draw(lengths(50, 220)),
        width=draw(lengths(14, 70)),
        side_height=draw(lengths(3, 16)),
        pitch=draw(st.sampled_from(["0 deg", "3/4 in/ft", "1 1/2 in/ft", "9 deg", "150 mm/m", "14 %"])),
        sheet=draw(st.sampled_from(["16 ga", "12 ga", "3/16 in", "2.5 mm"])),
        flow=draw(st.sampled_from(["0 gpm", "95 gpm", "14 L/s", "0.9 cfs"])),
    )
    return tomllib.loads(text)


def extreme_cases() -> st.SearchStrategy[dict[str, Any]]:
    """A legal case from anywhere in the space of cases, plain ones and ones at every limit."""
    return st.integers(0, 2**32 - 1).map(lambda seed: extreme_case(Random(seed)))


STARTER = tomllib.loads(starter_text())
JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=80),
    st.lists(st.text(max_size=5), max_size=4),
    st.dictionaries(st.text(max_size=5), st.integers(), max_size=3),
)


def places(data: Any, above: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every place in nested tables and lists."""
    found = [above] if above else []
    steps = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, inner in steps:
        found += places(inner, (*above, step))
    return found


@st.composite
def mangled_cases(draw: st.DrawFn) -> dict[str, Any]:
    """A starter with some values replaced by junk, some keys dropped, some misspelt."""
    data: dict[str, Any] = deepcopy(STARTER)
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.sampled_from(places(data)))
        holder: Any = data
        for step in place[:-1]:
            holder = holder[step]
        last = place[-1]
        how = draw(st.sampled_from(["junk", "drop", "misspell"]))
        if how == "junk":
            holder[last] = draw(JUNK)
        elif how == "drop":
            del holder[last]
        elif isinstance(holder, dict):
            holder[draw(st.text(max_size=12))] = holder.pop(last)
    return data

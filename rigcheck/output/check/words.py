"""A row of a result in words: its demand and what is allowed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.wording.words import number, ratio_words


def demand_allowable(row: Mapping[str, Any]) -> str:
    """Demand / allowable of a row, the unit once; an interaction by its ratio alone."""
    if row["unit"] == "" and row["capacity"] == 1.0:
        return f"ratio {ratio_words(row['demand'])}"
    demand = number(row["demand"], unit=row["unit"], rounding="up")
    capacity = number(row["capacity"], unit=row["unit"], rounding="down")
    value, _, unit = demand.partition(" ")
    return f"{value if unit == capacity.partition(' ')[2] else demand} / {capacity}"

"""A row of a result in words: its demand and what is allowed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.wording.words import number, ratio_words


def is_ratio(row: Mapping[str, Any]) -> bool:
    """Whether a row is an interaction, whose demand is its ratio and whose allowable is one."""
    return bool(row["unit"] == "" and row["capacity"] == 1.0)


def demand_allowable(row: Mapping[str, Any]) -> str:
    """Demand / allowable of a row, the unit once; an interaction by its ratio alone."""
    if is_ratio(row):
        return f"ratio {ratio_words(row['demand'])}"
    demand = number(row["demand"], unit=row["unit"], rounding="up")
    capacity = number(row["capacity"], unit=row["unit"], rounding="down")
    value, _, unit = demand.partition(" ")
    return f"{value if unit == capacity.partition(' ')[2] else demand} / {capacity}"

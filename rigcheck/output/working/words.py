"""What a worked section comes to, in the very words of the row of its check."""

from __future__ import annotations

from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent


def outcome(section: PlainView) -> str:
    """Demand, allowable, utilization and verdict of a section, rounded as in the tables of checks."""
    whole = f"{percent(section['utilization'])}: {section['verdict']}."
    if not section["unit"]:
        return f"It comes to {whole}"
    demand = number(section["demand"], unit=section["unit"], rounding="up")
    allowed = number(section["capacity"], unit=section["unit"], rounding="down")
    return f"Demand {demand}, allowable {allowed}, as in the tables of checks. It comes to {whole}"

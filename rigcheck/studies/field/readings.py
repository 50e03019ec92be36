"""What was read on the rig: scale, tape and load cell, the state it was read in, and how far each may be off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rigcheck.tables.load_cases import EMPTY

Side = Literal["left", "right", "each"]

SCALE_ERROR = 0.02  # share of the reading; assumption: a hanging scale in fair order, pin friction left out
TAPE_ERROR = 0.125  # in; assumption: a tape read to the eighth


@dataclass(frozen=True, slots=True, kw_only=True)
class SidePull:
    """One sideways pull at the middle of a line.

    Attributes:
        force: Pull on the scale. [lbf]
        offset: How far the middle moved off the straight line. [in]
        span: Pin to pin. [in]
        side: Which line.
    """

    force: float
    offset: float
    span: float
    side: Side = "each"


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadCell:
    """A load cell in a line: its reading [lbf] and which line it is in."""

    force: float
    side: Side = "each"


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """Everything read in one state; None and empty for what was not.

    Attributes:
        state: A load case that is measurable.
        tail_lift: Upward pull near the tail; after a water fill two may be given, before and after. [lbf]
        at: Level distance from the hinge axis to that pull. [in]
        lines_carry: True where the lines still carried while the scale was read.
        side_pull: Sideways pulls.
        load_cell: Load cells.
        sag: Middle of a line off a string from pin to pin, square to the string. [in]
        line_weight: Of the line per length, where its rope does not tell. [lbf/in]
        water_fill: Depth of water at the blocked tail, square to the floor. [in]
        weight: The whole box on a scale. [lbf]
        arm: Lever arm of a line taped square from the hinge in side view. [in]
        rests: True where the box rested on something while a line was pulled aside.
        scale_error: Uncertainty of a force as a share of it.
        tape_error: Uncertainty of a length. [in]
    """

    state: str = EMPTY
    tail_lift: tuple[float, ...] = ()
    at: float | None = None
    lines_carry: bool = False
    side_pull: tuple[SidePull, ...] = ()
    load_cell: tuple[LoadCell, ...] = ()
    sag: float | None = None
    line_weight: float | None = None
    water_fill: float | None = None
    weight: float | None = None
    arm: float | None = None
    rests: bool = False
    scale_error: float = SCALE_ERROR
    tape_error: float = TAPE_ERROR

    def problems(self) -> list[tuple[str, str]]:
        """Readings that do not go together: option and what is wrong with it."""
        found = []
        if self.tail_lift and self.at is None:
            found.append(("--at", "is missing: how far from the hinge, measured level, was the tail lifted?"))
        if not (self.tail_lift or self.side_pull or self.load_cell or self.weight is not None or self.sag is not None):
            found.append(("", "no measurement given; `rigcheck field --help` lists them"))
        if self.state != EMPTY:
            empty_only = (("--weight", self.weight), ("--water-fill", self.water_fill))
            found += [(name, "is of the empty box: --state empty") for name, value in empty_only if value is not None]
        if self.water_fill is not None and not (self.tail_lift or self.side_pull or self.load_cell):
            found.append(("--water-fill", "needs a --tail-lift, --load-cell or --side-pull read after filling"))
        if len(self.tail_lift) > (1 if self.water_fill is None else 2):
            found.append(("--tail-lift", "is given too often: once, or before and after a --water-fill"))
        found += [
            ("--offset", "is a quarter of the span or more: pull less far")
            for one in self.side_pull
            if one.offset >= 0.25 * one.span
        ]
        return found

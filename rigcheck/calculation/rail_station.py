"""Where a rail is stressed most, and its section by parallel axes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.rail_section import rail_pieces
from rigcheck.arrays.types import Array
from rigcheck.calculation.pages import Table
from rigcheck.calculation.sharing import named, total
from rigcheck.calculation.sheet import Sheet
from rigcheck.calculation.spot import Spot
from rigcheck.quantities.measures import AREA, INERTIA, LENGTH

_ROUNDING = 1e-12  # share of a station within which a point is on it


@dataclass(frozen=True, slots=True)
class Station:
    """Where the fiber stress is largest.

    Attributes:
        pair: Place among the rows and ways of sharing whose bending is worked out.
        side: 0 left, 1 right.
        limp: Whether each line holds its own rail.
        at_head: Whether all that members would carry is put on the head of the rail, where none is known.
        x: From the hinge along the floor. [in]
        before: True just uphill of what acts at that very station.
        amid: True between loads that act at one and the same station, where nothing can be cut.
        moment: M there. [lbf*in]
        axial: N there. [lbf]
        shear: V there. [lbf]
        stress: The larger fiber stress. [psi]
    """

    pair: int
    side: int
    limp: bool
    at_head: bool
    x: float
    before: bool
    amid: bool
    moment: float
    axial: float
    shear: float
    stress: float

    @property
    def beam(self) -> tuple[str, int, int]:
        """What tells the balance of this rail from that of another."""
        return "beam", self.pair, self.side


def station_of(spot: Spot, *, ranked: Callable[[Array], Array] | None = None, place: int | None = None) -> Station:
    """The worst station among those the engine looked at.

    Args:
        spot: The check.
        ranked: What the stations are ranked by, of their fiber stresses, the lower fiber first, shape (2, station);
            the larger size of the two where not said.
        place: The station itself, as the engine counts them.
    """
    solution = spot.solution
    pair, side = solution.bent.place(spot.index, spot.bound), spot.side
    peaks, section, at = solution.peaks, solution.section, (pair, side)
    top, bottom = section.top - section.axis, section.axis - section.bottom
    mean, bend = peaks.axial[at] / section.area, peaks.moment[at] / section.inertia
    fibers = np.stack([mean + bend * bottom, mean - bend * top])
    worst = np.abs(fibers).max(0)
    if place is None:
        place = int((worst if ranked is None else ranked(fibers)).argmax())
    run = solution.bent.forces.curves
    at_head = place >= peaks.at_head
    first, last = (peaks.at_head, None) if at_head else (0, peaks.at_head)
    looked, pushed = peaks.x[at][first:last], peaks.axial[at][first:last]
    spot_in = place - first
    x, before = _on_piece(spot_in, start=run.start[at], looked=looked, axial=pushed)
    amid = spot_in < 2 * run.span.shape[-1] and float(run.span[at][spot_in % run.span.shape[-1]]) == 0.0
    return Station(
        pair=pair,
        side=side,
        limp=spot.bound_key == "limp",
        at_head=at_head,
        x=x,
        before=before,
        amid=amid,
        moment=float(peaks.moment[at][place]),
        axial=float(peaks.axial[at][place]),
        shear=float(peaks.shear[at][place]),
        stress=float(worst[place]),
    )


def _on_piece(place: int, *, start: Array, looked: Array, axial: Array) -> tuple[float, bool]:
    """A point among those that the engine looked at: first of all pieces their start, then their end, then inside.

    Args:
        place: Which one.
        start: Where each piece begins. [in]
        looked: Every point. [in]
        axial: N there, which tells both sides of a discontinuity apart where rounding has a point inside on it. [lbf]

    Returns:
        Its station, and whether it is just uphill of a discontinuity.
    """
    count = start.size
    if count <= place < 2 * count:
        piece = place - count
        return float(start[piece + 1] if piece + 1 < count else looked[place]), True
    on = np.flatnonzero(np.abs(start - looked[place]) <= _ROUNDING * np.abs(start))
    if place >= 2 * count and on.size and on[0] > 0:
        uphill, downhill = axial[count + on[0] - 1], axial[on[-1]]
        return float(start[on[0]]), bool(abs(axial[place] - uphill) < abs(axial[place] - downhill))
    return float(looked[place]), False


def section_of_rail(sheet: Sheet, spot: Spot) -> None:
    """Area, neutral axis and second moment by parallel axes."""
    solution, units = spot.solution, sheet.units
    pieces = rail_pieces(solution.rig)
    names = ("side wall", "floor strip", "stiffener")
    rows, areas, first, second = [], [], [], []
    axis = named("n_0")
    for k in range(pieces.area.shape[-1]):
        values = tuple(
            float(np.broadcast_to(v, pieces.area.shape)[k]) for v in (pieces.area, pieces.centroid, pieces.inertia)
        )
        rows.append((f"{k + 1} {names[k]}", *units.row(values, measures=(AREA, LENGTH, INERTIA))))
        if values[0] == 0.0:
            continue
        area, height, own = (
            sheet.given(f"{letter}_{k + 1}", value, measure, names[k], listed=False)
            for letter, value, measure in zip("Ace", values, (AREA, LENGTH, INERTIA), strict=True)
        )
        areas.append(area)
        first.append(area * height)
        second += [own, area * (height - axis) ** 2]
    heads = (
        "Piece",
        units.head("A", measure=AREA),
        units.head("c above the floor", measure=LENGTH),
        units.head("e, own second moment", measure=INERTIA),
    )
    clause = "parallel axes, docs/method.md#composite-section"
    area = sheet.find(
        "Area of one rail",
        "A",
        total(areas),
        AREA,
        engine=solution.section.area,
        clause=clause,
        table=Table("Pieces of one rail", heads, tuple(rows)),
    )
    sheet.find(
        "Neutral axis above the floor", "n_0", total(first) / area, LENGTH, engine=solution.section.axis, clause=clause
    )
    sheet.find("Second moment about it", "I", total(second), INERTIA, engine=solution.section.inertia, clause=clause)

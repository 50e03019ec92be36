"""Where a rail is stressed most, and its section by parallel axes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.strength.rail_section import rail_pieces
from rigcheck.views.working.measures import AREA, INERTIA, LENGTH
from rigcheck.views.working.pages import Table
from rigcheck.views.working.sharing import named, total
from rigcheck.views.working.sheet import Sheet
from rigcheck.views.working.spot import Spot

Array = NDArray[np.float64]

_ROUNDING = 1e-12  # share of a station within which a point is on it


@dataclass(frozen=True, slots=True)
class Station:
    """Where the fibre stress is largest.

    Attributes:
        row: Place among the rows whose bending is worked out.
        share: 0 limp left, 1 limp right, 2 even.
        x: From the hinge along the floor. [in]
        before: True just uphill of what acts at that very station.
        amid: True between loads that act at one and the same station, where nothing can be cut.
        moment: M there. [lbf*in]
        axial: N there. [lbf]
        shear: V there. [lbf]
        stress: The larger fibre stress. [psi]
    """

    row: int
    share: int
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
        return "beam", self.row, self.share


def station_of(spot: Spot, *, ranked: Callable[[Array], Array] | None = None, place: int | None = None) -> Station:
    """The worst station among those the engine looked at.

    Args:
        spot: The check.
        ranked: What the stations are ranked by, of their fibre stresses, the lower fibre first, shape (2, station);
            the larger size of the two where not said.
        place: The station itself, as the engine counts them.
    """
    solution = spot.solution
    row = solution.bent.rows.index(spot.index)
    share = spot.side if spot.bound_key == "limp" else 2
    peaks, section, at = solution.peaks, solution.section, (row, share)
    top, bottom = section.top - section.axis, section.axis - section.bottom
    mean, bend = peaks.axial[at] / section.area, peaks.moment[at] / section.inertia
    fibres = np.stack([mean + bend * bottom, mean - bend * top])
    worst = np.abs(fibres).max(0)
    if place is None:
        place = int((worst if ranked is None else ranked(fibres)).argmax())
    x, before, amid = _on_segment(peaks.x[at], place=place, ends=solution.bent.forces.stations[at])
    return Station(
        row=row,
        share=share,
        x=x,
        before=before,
        amid=amid,
        moment=float(peaks.moment[at][place]),
        axial=float(peaks.axial[at][place]),
        shear=float(peaks.shear[at][place]),
        stress=float(worst[place]),
    )


def _on_segment(looked: Array, *, place: int, ends: Array) -> tuple[float, bool, bool]:
    """A point among those that the engine looked at, as many on each piece between two discontinuities.

    Args:
        looked: Every point, piece by piece. [in]
        place: Which one.
        ends: The discontinuities, sorted. [in]

    Returns:
        Its station, on the discontinuity where it is at an end of its piece, whether it is just uphill of one, and
        whether its piece has no length. [in]
    """
    piece = place // (looked.size // (ends.size - 1))
    x, start, end = float(looked[place]), float(ends[piece]), float(ends[piece + 1])
    near = _ROUNDING * (abs(start) + abs(end))
    if end - start <= near:
        return start, False, True
    if end - x <= near:
        return end, True, False
    return (start, False, False) if x - start <= near else (x, False, False)


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

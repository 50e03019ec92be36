"""Where a rail is stressed most, and its section by parallel axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.strength.rail_section import rail_pieces
from rigcheck.views.working.measures import AREA, INERTIA, LENGTH
from rigcheck.views.working.pages import Table
from rigcheck.views.working.sharing import named, total
from rigcheck.views.working.sheet import Sheet
from rigcheck.views.working.spot import Spot


@dataclass(frozen=True, slots=True)
class Station:
    """Where the fibre stress is largest.

    Attributes:
        row: Place among the rows whose bending is worked out.
        share: 0 limp left, 1 limp right, 2 even.
        x: From the hinge along the floor. [in]
        before: True just uphill of what acts at that very station.
        moment: M there. [lbf*in]
        axial: N there. [lbf]
        shear: V there. [lbf]
        stress: The larger fibre stress. [psi]
    """

    row: int
    share: int
    x: float
    before: bool
    moment: float
    axial: float
    shear: float
    stress: float


def station_of(spot: Spot) -> Station:
    """The worst station among those the engine looked at."""
    solution = spot.solution
    row = solution.bent.rows.index(spot.index)
    share = spot.side if spot.bound_key == "limp" else 2
    peaks, section, at = solution.peaks, solution.section, (row, share)
    top, bottom = section.top - section.axis, section.axis - section.bottom
    mean, bend = peaks.axial[at] / section.area, peaks.moment[at] / section.inertia
    worst = np.maximum(np.abs(mean - bend * top), np.abs(mean + bend * bottom))
    place = int(worst.argmax())
    uphill = solution.bent.forces.stations[at].shape[-1]  # the last so many are looked at just uphill
    return Station(
        row=row,
        share=share,
        x=float(peaks.x[at][place]),
        before=place >= worst.shape[-1] - uphill,
        moment=float(peaks.moment[at][place]),
        axial=float(peaks.axial[at][place]),
        shear=float(peaks.shear[at][place]),
        stress=float(worst[place]),
    )


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

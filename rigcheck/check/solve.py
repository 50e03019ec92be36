"""Run the statics of every state once: loads, pose, balance, rails, deflection, under service and factored loads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.loads.states import Life, life
from rigcheck.loads.steel import side_sheet
from rigcheck.statics.balance import Balance, balance
from rigcheck.statics.deflection import Deflection, deflection
from rigcheck.statics.geometry import Layout, Pose, pose
from rigcheck.statics.rail import RailForces, RailPeaks, Section, rail_forces, rail_peaks
from rigcheck.statics.resultant import Resultant, resultant
from rigcheck.strength.links import LinkStrength, links
from rigcheck.strength.rail_section import rail_section

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Solution:
    """Everything the checks read.

    Attributes:
        rig: The rig.
        life: Loads of every state.
        layout: Points of the rig.
        pose: The box in each row.
        service: Resultant of the loads as they are.
        held: Line and hinge forces under them.
        factored: Resultant of the loads times their dynamic factors.
        demand: Line and hinge forces under those.
        section: The rail.
        rails: Rail forces as they are.
        peaks: Rail peaks under the factored loads.
        sag: Deflection under the loads as they are.
        links: Links of one line.
        keeper: Links of its keeper.
        give: What one line gives, (...). [in/lbf]
    """

    rig: Rig
    life: Life
    layout: Layout
    pose: Pose
    service: Resultant
    held: Balance
    factored: Resultant
    demand: Balance
    section: Section
    rails: RailForces
    peaks: RailPeaks
    sag: Deflection
    links: list[LinkStrength]
    keeper: list[LinkStrength]
    give: Array

    @property
    def shape(self) -> tuple[int, ...]:
        """(..., state, bound, side)."""
        return self.demand.tension.shape


def layout(rig: Rig) -> Layout:
    """Points of a rig, shapes (...)."""
    width = rig.number("box.width")
    return Layout(
        pitch=rig.number("box.pitch"),
        length=rig.number("box.length"),
        hinge_height=rig.number("hinge.height"),
        hinge_spacing=rig.number_or("hinge.spacing", width),
        hanger_s=rig.number("hanger.at"),
        hanger_n=rig.number("hanger.height"),
        hanger_spacing=rig.number("hanger.spacing"),
        perch_x=rig.number("perch.forward"),
        perch_z=rig.number("perch.height"),
        perch_spacing=rig.number("perch.spacing"),
        rail_spacing=rig.number_or("rail.spacing", width + side_sheet(rig)),
    )


def solve(rig: Rig) -> Solution:
    """Statics of every state of a rig, one or a batch.

    Args:
        rig: The rig; its varied keys share one batch shape.

    Returns:
        The solution.

    Source: docs/method.md.
    """
    batch = np.broadcast_shapes(*(value.shape for value in rig.varied.values())) if rig.varied else ()
    found = life(rig, batch=batch)
    points = layout(rig)
    at = pose(points, fold=found.loads.fold)
    section = rail_section(rig)
    line = links(rig)
    give = np.sum(np.broadcast_arrays(*(np.zeros(()) if li.give is None else li.give for li in line)), axis=0)
    service = resultant(found.loads, layout=points, pose=at)
    held = balance(service, layout=points, pose=at)
    heavy = found.loads.demand()
    factored = resultant(heavy, layout=points, pose=at)
    demand = balance(factored, layout=points, pose=at)
    rails = rail_forces(found.loads, layout=points, pose=at, balance=held, axis=section.axis)
    pressed = rail_forces(heavy, layout=points, pose=at, balance=demand, axis=section.axis)
    return Solution(
        rig=rig,
        life=found,
        layout=points,
        pose=at,
        service=service,
        held=held,
        factored=factored,
        demand=demand,
        section=section,
        rails=rails,
        peaks=rail_peaks(pressed, section=section),
        sag=deflection(
            rails, section=section, layout=points, pose=at, balance=held, give=np.asarray(give)[..., None] + 0.0 * held.total
        ),
        links=line,
        keeper=links(rig, table="line.keeper"),
        give=np.asarray(give),
    )

"""Run the statics of every state once: loads, pose, balance, rails, deflection, under service and factored loads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.check.folded import Folded, folded
from rigcheck.check.join import behind
from rigcheck.check.post_model import post_give
from rigcheck.loads.pieces import BOUNDS, Loads, Row, take
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

MOVING = ("folding", "dragging")  # states without a deflection at rest


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Borne:
    """Forces that something besides hinge and lines puts on the box, fields of `Push`, shapes (..., state, push).

    Attributes:
        still: Under the loads as they are.
        heavy: Under the loads times their dynamic factors.
    """

    still: Mapping[str, Array]
    heavy: Mapping[str, Array]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bending:
    """The rails of the rows whose bending is worked out.

    Attributes:
        rows: Their places on the state axis.
        forces: Rail forces, state axis of these rows only.
    """

    rows: tuple[int, ...]
    forces: RailForces


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Solution:
    """Everything the checks read.

    Attributes:
        rig: The rig.
        life: Loads of every state in which the lines hold the box.
        rows: Every row of the state axis.
        allowed: Bounds that apply to each row, shape (state, bound).
        layout: Points of the rig.
        pose: The box in each row.
        service: Resultant of the loads as they are.
        held: Line and hinge forces under them.
        demand: Line and hinge forces under the loads times their dynamic factors; the peak where one line parts.
        section: The rail.
        bent: Rails under the factored loads.
        peaks: Their peaks.
        sagged: Rails of the deployed box under the loads as they are.
        sag: Their deflection.
        links: Links of one line.
        keeper: Links of its keeper.
        give: What one line gives, with the top of its post, shape (..., state). [in/lbf]
        road: The folded box, parked and on the road; None where the case does not fold.
    """

    rig: Rig
    life: Life
    rows: tuple[Row, ...]
    allowed: NDArray[np.bool_]
    layout: Layout
    pose: Pose
    service: Resultant
    held: Balance
    demand: Balance
    section: Section
    bent: Bending
    peaks: RailPeaks
    sagged: Bending
    sag: Deflection
    links: list[LinkStrength]
    keeper: list[LinkStrength]
    give: Array
    road: Folded | None

    @property
    def shape(self) -> tuple[int, ...]:
        """(..., state, bound, side)."""
        return self.demand.tension.shape

    @property
    def fold(self) -> Array:
        """Fold angle of every row, shape (..., state). [rad]"""
        return np.asarray(self.pose.angle + self.layout.pitch[..., None])

    def states(self, *names: str) -> NDArray[np.bool_]:
        """Which rows are of these states, shape (state,)."""
        return np.array([row.state in names for row in self.rows], dtype=np.bool_)

    @property
    def hung(self) -> NDArray[np.bool_]:
        """Rows in which the deployed box hangs on its lines, shape (state,)."""
        folded = np.array([row.variant.get("while") == "folding" for row in self.rows], dtype=np.bool_)
        return ~self.states("folding", "parked", "hauling") & ~folded

    def over_rows(self, values: Array, *, of: Bending) -> Array:
        """Values of some rows, shape (..., row, share), on the whole state axis, zero elsewhere."""
        full = np.zeros((*values.shape[:-2], len(self.rows), values.shape[-1]))
        full[..., list(of.rows), :] = values
        return full


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


def solve(
    rig: Rig, *, only: frozenset[str] | None = None, places: Sequence[int] | None = None, borne: Borne | None = None
) -> Solution:
    """Statics of every state of a rig, one or a batch.

    Args:
        rig: The rig; its varied keys share one batch shape.
        only: The states wanted; all of them where not said.
        places: Which of their rows are wanted, counted from 0 and none of the folded box; all where not said.
        borne: What a further support takes in each row.

    Returns:
        The solution.

    Source: docs/method.md.
    """
    batch = np.broadcast_shapes(*(value.shape for value in rig.varied.values())) if rig.varied else ()
    found = life(rig, batch=batch, only=only, places=places)
    heavy = found.loads.demand()
    if borne is not None:
        found = replace(found, loads=replace(found.loads, push=borne.still))
        heavy = replace(heavy, push=borne.heavy)
    points = layout(rig)
    at = pose(points, fold=found.loads.fold)
    section = rail_section(rig)
    line = links(rig)
    give = np.sum(np.broadcast_arrays(*(np.zeros(()) if one.give is None else one.give for one in line)), axis=0)
    service = resultant(found.loads, layout=points, pose=at)
    held = balance(service, layout=points, pose=at)
    demand = balance(resultant(heavy, layout=points, pose=at), layout=points, pose=at)
    demand = after_loss(demand, rows=found.loads.rows, jump=rig.number("factors.line_lost"))
    bending = [i for i, row in enumerate(found.loads.rows) if row.bend]
    bent = _bend(heavy, rows=bending, layout=points, axis=section.axis)
    sagged = [i for i, row in enumerate(found.loads.rows) if row.bend and not row.ultimate and row.state not in MOVING]
    still = _bend(found.loads, rows=sagged, layout=points, axis=section.axis)
    stretch = np.asarray(give)[..., None]
    held_down = bool(rig.value("haul.tie_down") or rig.value("haul.stop"))
    wanted = only is None and places is None and held_down
    road = folded(rig, layout=points, pieces=found.pieces, section=section, batch=batch) if wanted else None
    rows, allowed = found.loads.rows, found.loads.allowed
    if road is not None:
        rows, allowed = (*rows, *road.rows), np.concatenate([allowed, road.allowed])
        at, service = behind(at, second=road.pose), behind(service, second=road.service)
        held, demand = behind(held, second=road.balance), behind(demand, second=road.balance)
    return Solution(
        rig=rig,
        life=found,
        rows=rows,
        allowed=allowed,
        layout=points,
        pose=at,
        service=service,
        held=held,
        demand=demand,
        road=road,
        section=section,
        bent=bent[0],
        peaks=rail_peaks(bent[0].forces, section=section),
        sagged=still[0],
        sag=deflection(
            still[0].forces,
            section=section,
            layout=points,
            pose=still[1],
            balance=still[2],
            give=stretch + post_give(rig, still[1]),
        ),
        links=line,
        keeper=links(rig, table="line.keeper"),
        give=stretch + post_give(rig, at),
    )


def _bend(loads: Loads, *, rows: list[int], layout: Layout, axis: Array) -> tuple[Bending, Pose, Balance]:
    some = take(loads, rows=rows)
    at = pose(layout, fold=some.fold)
    held = balance(resultant(some, layout=layout, pose=at), layout=layout, pose=at)
    return Bending(tuple(rows), rail_forces(some, layout=layout, pose=at, balance=held, axis=axis)), at, held


def after_loss(balance: Balance, *, rows: Sequence[Row], jump: Array) -> Balance:
    """In rows where one line parts, the first peak: after + (jump - 1)(after - before), before being an even share.

    Args:
        balance: Forces with all on one line or the other, shapes (..., state, bound, ...).
        rows: The rows.
        jump: Dynamic factor of the step, shape (...). [1]

    Returns:
        The same with those rows raised.

    Source: undamped step, docs/method.md#line-lost.
    """
    lost = np.array([row.ultimate for row in rows])
    even = BOUNDS.index("stiff")
    extra = (np.asarray(jump) - 1.0)[..., None]

    def peak(values: Array, axis: int) -> Array:
        before = np.take(values, [even], axis=axis)
        shape = [1] * (-axis)
        gain = (extra * lost).reshape(*extra.shape[:-1], len(rows), *shape[:-axis])
        return np.asarray(values + gain * (values - before))

    return replace(
        balance,
        tension=np.where(balance.tension == 0.0, 0.0, peak(balance.tension, -2)),  # the parted line stays slack
        hinge=peak(balance.hinge, -3),
        roll=peak(balance.roll, -1),
        twist=peak(balance.twist, -1),
    )

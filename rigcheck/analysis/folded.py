"""The folded box, parked and on the road: statics of its own rows on the state axis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.folded_members import members
from rigcheck.analysis.rail_section import rail_section
from rigcheck.analysis.road import Envelope, envelope
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.folded import folded_rows
from rigcheck.loads.pieces import BOUNDS, Loads, Row, stack
from rigcheck.loads.shape import reaches
from rigcheck.loads.steel import dead_loads
from rigcheck.loads.take_off import Piece
from rigcheck.statics.balance import Balance
from rigcheck.statics.geometry import Layout, Pose, pose
from rigcheck.statics.grillage_along import on_own_axis
from rigcheck.statics.pair_along import felt
from rigcheck.statics.rail import LEAN, SHARES, Section, curves, rail_forces
from rigcheck.statics.rail_peaks import rail_peaks
from rigcheck.statics.restraint import Members, Restraint, restrain
from rigcheck.statics.resultant import Resultant, resultant


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Folded:
    """Rows of the folded box, ready to stand behind the hung ones on the state axis.

    Attributes:
        rig: The rig.
        rows: Parked and hauling.
        loads: The same, stacked.
        pose: The box in each row.
        service: Resultant of the loads.
        balance: Line and hinge forces, all bounds alike; only the stiff one is allowed.
        held_by: Straps, stops and lines.
        restraint: What each of them carries.
        strap: Pull of one strap of each kind, shape (..., state, strap). [lbf]
        stop: Push of each stop, shape (..., state, stop). [lbf]
        stress: Largest fiber stress of a rail, shape (..., state). [psi]
        envelope: Size on the road.
    """

    rig: Rig
    rows: tuple[Row, ...]
    loads: Loads
    pose: Pose
    service: Resultant
    balance: Balance
    held_by: Members
    restraint: Restraint
    strap: Array
    stop: Array
    stress: Array
    envelope: Envelope

    @property
    def allowed(self) -> Mask:
        """Bounds that apply to each row, shape (state, bound)."""
        return self.loads.allowed

    def rows_where(self, state: str, **variant: str) -> Mask:
        """Rows of a state whose variant has these words, shape (state,)."""
        return np.array(
            [row.state == state and all(row.variant.get(k) == v for k, v in variant.items()) for row in self.rows]
        )


def twins(rows: Sequence[Row]) -> dict[int, int]:
    """Parked rows held by the lines, each to that of the same wind and lean held by the tie-downs, where there is one.

    Args:
        rows: Rows of the folded box, whichever of them and in whatever order.

    Returns:
        Place to place.
    """

    def name(row: Row) -> frozenset[tuple[str, str | float]]:
        return frozenset((key, value) for key, value in row.variant.items() if key != "held_by")

    strapped = {name(row): i for i, row in enumerate(rows) if row.variant.get("held_by") == "tie-downs"}
    lined = {i: strapped.get(name(row)) for i, row in enumerate(rows) if row.variant.get("held_by") == "lines"}
    return {i: twin for i, twin in lined.items() if twin is not None}


def folded(
    rig: Rig, *, layout: Layout, pieces: list[Piece], section: Section, batch: tuple[int, ...] = (),
    places: Sequence[int] | None = None, bend: bool = True,
) -> Folded | None:  # fmt: skip
    """Statics of the folded box in every parked and hauling row; None where the case does not fold.

    Args:
        rig: The rig, one or a batch.
        layout: Its points.
        pieces: Take-off of the empty box.
        section: The rail, where it is alike all along.
        batch: Shape of the batch of designs.
        places: Which rows are wanted, counted from 0; all of them where not said.
        bend: Whether the rails are bent; their stress is nothing where not.

    Returns:
        The rows with all their forces.

    Source: docs/method.md#folded.
    """
    dead, lumps = dead_loads(rig, pieces=pieces)
    rows = folded_rows(rig, dead=dead, lumps=lumps)
    if not rows:
        return None
    if places is not None:
        rows = [rows[i] for i in places]
    loads = stack(rows, batch=batch)
    at = pose(layout, fold=loads.fold)
    service = resultant(loads, layout=layout, pose=at)
    on = [str(row.variant.get("held_by", "tie-downs")) for row in rows]
    held_by = members(
        rig,
        layout=layout,
        pose=at,
        lines=np.array([word == "lines" for word in on]),
        straps=np.array([word == "tie-downs" for word in on]),
    )
    found = restrain(service, layout=layout, held_by=held_by)
    sections = [section] if layout.along is None else [rail_section(one.rig) for one in reaches(rig)]
    ties, stops = len(rig.value("haul.tie_down")), len(rig.value("haul.stop"))
    return Folded(
        rig=rig,
        rows=tuple(rows),
        loads=loads,
        pose=at,
        service=service,
        balance=_balance(found, layout=layout),
        held_by=held_by,
        restraint=found,
        strap=found.force[..., :ties] / rig.column("haul.tie_down", "count")[..., None, :],
        stop=found.force[..., ties : ties + stops],
        stress=(
            _rail_stress(loads, layout=layout, at=at, held=(held_by, found), sections=sections)
            if bend
            else np.zeros_like(found.turn)
        ),
        envelope=envelope(rig, layout=layout, pose=at),
    )


def _balance(found: Restraint, *, layout: Layout) -> Balance:
    """The restraint in the form of every other row, the same under every bound."""
    bound = (*found.turn.shape, len(BOUNDS))
    tension = np.broadcast_to(found.force[..., None, -2:], (*bound, 2))
    hinge = np.broadcast_to(found.hinge[..., None, :, :], (*bound, 2, 3))
    lift = hinge[..., 2]
    never = np.zeros(found.turn.shape, dtype=np.bool_)
    return Balance(
        total=found.force[..., -2:].sum(-1),
        tension=tension,
        hinge=hinge,
        roll=0.5 * layout.hinge_spacing[..., None, None] * (lift[..., 0] - lift[..., 1]),
        rail_split=np.zeros(found.turn.shape),
        twist=np.zeros(bound),
        dead=never,
        unsplit=never,
        lifted=never,
        residual=np.broadcast_to(found.residual[..., None], bound),
    )


def _rail_stress(
    loads: Loads, *, layout: Layout, at: Pose, held: tuple[Members, Restraint], sections: Sequence[Section]
) -> Array:
    """Largest stress of a rail held by hinge, straps and stops in its own plane; zero where nothing holds it."""
    held_by, found = held
    pull = found.force[..., None] * held_by.way
    x, z = held_by.point[..., 0], held_by.point[..., 2]
    along, normal = at.along[..., None, :], at.normal[..., None, :]
    more = {
        "fx": pull[..., 0],
        "fy": pull[..., 1],
        "fz": pull[..., 2],
        "s": x * along[..., 0] + z * along[..., 1],
        "y": held_by.point[..., 1],
        "n": x * normal[..., 0] + z * normal[..., 1] + layout.hinge_height[..., None, None],
    }
    push = {name: np.concatenate([loads.push[name], more[name]], axis=-1) for name in more}
    idle = _balance(replace(found, force=0.0 * found.force), layout=layout)
    even = LEAN[[SHARES.index("even")]]
    axis = sections[0].axis if layout.along is None else np.zeros(())
    forces = rail_forces(replace(loads, push=push), layout=layout, pose=at, balance=idle, axis=axis, lean=even)
    run = curves(forces)
    if layout.along is None:
        stress = rail_peaks(run, section=sections[0]).stress[..., 0]
    else:
        run = on_own_axis(run, along=layout.along)
        each = [rail_peaks(felt(run, layout=layout, stretch=i), section=one).stress for i, one in enumerate(sections)]
        stress = np.max(np.stack(np.broadcast_arrays(*each)), axis=0)[..., 0]
    return np.where(found.unrestrained, 0.0, stress)

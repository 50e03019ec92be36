"""What cross-members and end tubes carry: the floor, hangers and hinge beside the rails, and the torsion of the box."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.across import member_stations, tubes
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import pivots
from rigcheck.loads.steel import cross_member_count
from rigcheck.parts.floor.checks import FloorLoad, floor_load
from rigcheck.statics.geometry import SIDE
from rigcheck.tables import shapes
from rigcheck.tables.shapes import Shape

SHARE = (0.5, 1.25, 1.143)
"""Load of one cross-member over pressure times spacing: one, two, and three or more spans of sheet.

Source: reactions of continuous beams, 1/2 w L at an end, 1.25 w L amid two spans, 1.143 amid four, the most beyond two
(memory).
"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Carried:
    """What one cross-member carries, shapes broadcast to (..., state, bound, side).

    Attributes:
        upright: Moment about its level axis. [lbf*in]
        flat: Moment about its upright axis. [lbf*in]
        end: Moment about its level axis at the end alone. [lbf*in]
        pull: Tension along it, negative pushes. [lbf]
        shear: Upright shear at its end. [lbf]
        aside: Shear along the box at its end. [lbf]
        torque: Torsion along it. [lbf*in]
    """

    upright: Array
    flat: Array
    end: Array
    pull: Array
    shear: Array
    aside: Array = field(default_factory=lambda: np.zeros(()))
    torque: Array = field(default_factory=lambda: np.zeros(()))


def wide(value: Array) -> Array:
    """A value of each design over states, bounds and sides."""
    return np.asarray(value)[..., None, None, None]


def lies_under(rig: Rig) -> bool:
    """Whether the cross-members lie under the floor."""
    return rig.has("cross_member.shape") and str(rig.value("cross_member.at")) == "under"


def _member_axis(rig: Rig, shape: Shape, *, under: bool) -> Array:
    """Middle of a cross-member above the floor, shape (...). [in]"""
    if under:
        return np.asarray(-rig.number("box.sheet") - 0.5 * shape.depth)
    return np.asarray(rig.number("box.side_height") + 0.5 * shape.depth)


def floor_part(
    solution: Solution, *, load: FloorLoad | None = None, still: bool = False, share: float | None = None,
    station: Array | None = None,
) -> tuple[Array, Array]:  # fmt: skip
    """Load per inch of one cross-member and people at its middle, shapes (..., state, 1, 1).

    Where the member's station is said, people count by how near to it they stand, otherwise they stand on it.
    """
    rig = solution.rig
    load = floor_load(solution) if load is None else load
    spans = cross_member_count(rig) - 1.0
    by_spans = np.where(spans < 1.5, SHARE[0], np.where(spans < 2.5, SHARE[1], SHARE[2]))
    part = by_spans if share is None else np.asarray(share)
    spacing = rig.number("cross_member.spacing")[..., None]
    reach = spacing * part[..., None]
    pressure, people = (load.still, load.people_still) if still else (load.pressure, load.people)
    if station is not None:
        people = people * np.maximum(1.0 - np.abs(load.people_at - station[..., None]) / spacing, 0.0)
    return (pressure * reach)[..., None, None], people[..., None, None]


def floor_member(
    solution: Solution, *, load: FloorLoad | None = None, share: float | None = None, station: Array | None = None
) -> Carried:
    """A cross-member as a simple beam between the rails, everybody at its middle; for shear, at its end.

    Args:
        solution: The statics.
        load: What lies on the floor, where it is known already.
        share: Load over pressure times spacing, that of the worst member where not said.
        station: Where the member lies, shape (...); under the people where not said. [in]

    Returns:
        What it carries.

    Source: w L^2/8 + P L/4; docs/method.md#cross-member.
    """
    across = wide(solution.layout.rail_spacing)
    per_inch, people = floor_part(solution, load=load, share=share, station=station)
    none = np.zeros(())
    return Carried(
        upright=per_inch * across**2 / 8.0 + people * across / 4.0,
        flat=none,
        end=none,
        pull=none,
        shear=per_inch * across / 2.0 + people,
    )


def hanger_member(solution: Solution, *, load: FloorLoad | None = None) -> Carried:
    """The cross-member nearest the hangers: their offset from the rails and the splay of the lines, floor load added.

    A line pulls at y = h/2 and n_H, the rail holds at b/2, the member lies at n_c: its end gets the moment
    T [u_n (h - b)/2 - u_y (n_H - n_c)], the sideways pull T u_y, and T u_s (h - b)/2 about its upright axis.

    Source: statics; docs/method.md#hanger-cross-member.
    """
    rig, at = solution.rig, solution.pose
    shape = shapes.find(rig.value("cross_member.shape"))
    tension = solution.demand.tension
    out = 0.5 * (solution.layout.hanger_spacing - solution.layout.rail_spacing)[..., None]
    over = (solution.layout.hanger_n - _member_axis(rig, shape, under=lies_under(rig)))[..., None]
    end = np.abs(tension * (at.u_n * out - at.uy * over)[..., None, None])
    flat = np.abs(tension * (at.u_s * out)[..., None, None])
    pull = tension * at.uy[..., None, None]
    across = wide(solution.layout.rail_spacing)
    shear, aside = end / across, flat / across  # where the other end brings no couple against it
    spacing = rig.number("cross_member.spacing")
    near = np.clip(np.round(solution.layout.hanger_s / spacing), 0.0, cross_member_count(rig) - 1.0)
    torque = np.abs(_torque_of(solution, member=near.astype(np.intp)))
    if not lies_under(rig):
        return Carried(upright=end, flat=flat, end=end, pull=pull, shear=shear, aside=aside, torque=torque)
    floor = floor_member(solution, load=load, station=near * spacing)
    return Carried(
        upright=end + floor.upright, flat=flat, end=end, pull=pull, shear=shear + floor.shear, aside=aside,
        torque=torque,
    )  # fmt: skip


def head_member(solution: Solution, *, shape: Shape, load: FloorLoad | None = None) -> Carried:
    """The member at the hinge: hinge groups beside the rails, half a bay of floor added.

    The hinge's own shears go through it to the rail: the one square to the floor upright, the one along the floor
    aside, and with its height over the member as torsion.

    Source: statics; docs/method.md#head-cross-member.
    """
    rig = solution.rig
    hinge = solution.demand.hinge
    if pivots(rig):
        return _pivot_member(solution, shape=shape, load=load)
    along, normal = in_box(solution, hinge)
    out = wide(0.5 * (solution.layout.hinge_spacing - solution.layout.rail_spacing))
    over = wide(solution.layout.hinge_height - _member_axis(rig, shape, under=True))
    sideways = hinge[..., 1] * SIDE  # outward
    end = np.abs(normal * out - sideways * over)
    floor = floor_member(solution, load=load, share=SHARE[0], station=np.zeros(())) if lies_under(rig) else None
    tube = "head" in tubes(rig)
    twist = _torque_of(solution, member=np.asarray(_first_tube(rig) if tube else 0)) * SIDE
    return Carried(
        upright=end if floor is None else end + floor.upright,
        flat=np.abs(along * out),
        end=end,
        pull=sideways,
        shear=np.abs(normal) + (0.0 if floor is None else floor.shear),
        aside=np.abs(along),
        torque=np.maximum(np.abs(twist), np.abs(twist + along * over)),
    )


def _pivot_member(solution: Solution, *, shape: Shape, load: FloorLoad | None) -> Carried:
    """The member across the head on a center pivot: a beam whose ends bring the rails to two ears near its middle.

    The end at a rail has R = (F_L + F_R)/2 +- (F_L - F_R) c/(2 b), F the forces of the ears. Its ends count once as
    free to turn, for the moment R e at the ears, e = (b - c)/2, and once as held by the rails, for R e (1 - e/b) there.
    The thrust goes into either half, and with its height over the member bends it.

    Source: own derivation, docs/method.md#center-pivot.
    """
    rig = solution.rig
    apart, ears = wide(solution.layout.rail_spacing), wide(solution.layout.hinge_spacing)
    hinge = solution.demand.hinge
    over = wide(solution.layout.hinge_height - _member_axis(rig, shape, under=True))
    at_ear = in_box(solution, hinge)
    at_rail = [
        0.5 * part.sum(-1, keepdims=True) + 0.5 * SIDE * (part[..., :1] - part[..., 1:]) * ears / apart
        for part in at_ear
    ]
    along, normal = (np.abs(part) for part in at_rail)
    between = [np.abs(ear - rail) for ear, rail in zip(at_ear, at_rail, strict=True)]
    reach = 0.5 * np.maximum(apart - ears, 0.0)
    thrust = np.abs(hinge[..., 1]).max(-1, keepdims=True)
    level = normal * reach + thrust * np.abs(over)
    floor = floor_member(solution, load=load, share=SHARE[0], station=np.zeros(())) if lies_under(rig) else None
    twist = _torque_of(solution, member=np.asarray(_first_tube(rig) if "head" in tubes(rig) else 0)) * SIDE
    return Carried(
        upright=level if floor is None else level + floor.upright,
        flat=along * reach,
        end=normal * reach * (1.0 - reach / apart) + thrust * np.abs(over),
        pull=-thrust + 0.0 * normal,
        shear=np.maximum(normal, between[1]) + (0.0 if floor is None else floor.shear),
        aside=np.maximum(along, between[0]),
        torque=np.abs(twist) + along * np.abs(over),
    )


def tail_member(solution: Solution, *, load: FloorLoad | None = None) -> Carried:
    """The tube across the tail: half a bay of floor, and its torsion.

    Source: statics; docs/method.md#grillage.
    """
    rig = solution.rig
    none = np.zeros(())
    torque = np.abs(_torque_of(solution, member=np.asarray(_first_tube(rig) + len(tubes(rig)) - 1)))
    if not lies_under(rig):
        return Carried(upright=none, flat=none, end=none, pull=none, shear=none, torque=torque)
    floor = floor_member(solution, load=load, share=SHARE[0], station=solution.layout.length)
    return Carried(upright=floor.upright, flat=none, end=none, pull=none, shear=floor.shear, torque=torque)


def twisted_member(solution: Solution, *, load: FloorLoad | None = None) -> Carried:
    """The cross-member that is twisted most, with the floor load of the worst one where they lie under the floor."""
    rig, none = solution.rig, np.zeros(())
    torque = solution.bent.of_pairs(np.abs(_torques(solution)[..., : _first_tube(rig)]).max(-1))
    if not lies_under(rig):
        return Carried(upright=none, flat=none, end=none, pull=none, shear=none, torque=torque)
    floor = floor_member(solution, load=load)
    return Carried(upright=floor.upright, flat=none, end=none, pull=none, shear=floor.shear, torque=torque)


def _first_tube(rig: Rig) -> int:
    """Where the end tubes begin among what joins the rails: behind the cross-members."""
    return member_stations(rig).shape[-1] if rig.has("cross_member.shape") else 0


def _torques(solution: Solution) -> Array:
    """Torsion of everything across, at the first peak where a line has parted, shape (..., pair, member)."""
    return solution.bent.forces.ties.torque * solution.bent.thrown[..., None]


def _torque_of(solution: Solution, *, member: NDArray[np.intp]) -> Array:
    """Couple of one member on the left rail, another one in each design maybe, (..., state, bound, side)."""
    every = _torques(solution)
    place = np.broadcast_to(np.asarray(member)[..., None, None], (*every.shape[:-1], 1))
    return solution.bent.of_pairs(np.take_along_axis(every, place, axis=-1)[..., 0])


def in_box(solution: Solution, force: Array) -> tuple[Array, Array]:
    """Parts of forces (..., state, bound, side, 3) along and square to the floor."""
    e_s, e_n = (part[..., None, None, :] for part in (solution.pose.along, solution.pose.normal))
    along = force[..., 0] * e_s[..., 0] + force[..., 2] * e_s[..., 1]
    return along, np.asarray(force[..., 0] * e_n[..., 0] + force[..., 2] * e_n[..., 1])


def head_shape(rig: Rig) -> Shape | None:
    """Shape of the member at the hinge: the head tube, or the first cross-member under the floor; None unknown."""
    if rig.has("end_tube.shape") and rig.value("end_tube.head"):
        return shapes.find(rig.value("end_tube.shape"))
    return shapes.find(rig.value("cross_member.shape")) if lies_under(rig) else None

"""How far the rail sags and the tail drops: bending integrated from the supports, with the give of line and perch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.loads.memory import side_by_side
from rigcheck.statics.balance import Balance, line_per_rail
from rigcheck.statics.beam import Segments, at, crossings, evaluate, quadratic_zeros, segments
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.statics.rail import LEAN, RailForces, Section

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Deflection:
    """Shape of the loaded rail, share axis in the order of `rigcheck.statics.rail.SHARES`, shapes (..., state, share).

    Attributes:
        sag: Largest distance of the rail from the straight line hinge to hanger, between them. [in]
        tail_drop: Movement of the tail square to the floor from its unloaded place, line stretch included. [in]
        tail_bend: Departure of the tail from the straight line hinge to hanger produced. [in]
        stretch: Length that the line gives. [in]
        rise: Largest slope that the load takes off the pitch anywhere. [rad]
        x: Stations at which slope and deflection were taken, shape (..., state, share, station). [in]
        drop: Fall of the rail there. [in]
    """

    sag: Array
    tail_drop: Array
    tail_bend: Array
    stretch: Array
    rise: Array
    x: Array
    drop: Array


def deflection(
    forces: RailForces, *, section: Section, layout: Layout, pose: Pose, balance: Balance, give: Array,
    lean: Array = LEAN,
) -> Deflection:  # fmt: skip
    """Integrate M/EI from the supports and let hanger and hinge move as their eccentric points do.

    The slope at the hinge follows from the line: u . (movement of the hanger) = -(give x tension).

    Args:
        forces: Terms of the rails under service loads.
        section: Rail section, shapes (...).
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.
        balance: Line tensions under the same loads.
        give: Length that one line gives per pound of its tension, shape (..., state). [in/lbf]
        lean: The shares of `forces`, as given to `rail_forces`.

    Returns:
        Deflections.

    Source: own derivation, docs/method.md#deflection.
    """
    stiff = (section.modulus * section.inertia)[..., None, None, None]
    axial_stiff = (section.modulus * section.area)[..., None, None]
    at_hanger, tail, hinge = (
        np.broadcast_to(place[..., None, None, None], (*forces.pull.shape, 1))
        for place in (layout.hanger_s, layout.length, np.zeros_like(layout.length))
    )
    # what hangs behind the hinge bends the rail there too: turn and sink count from the hinge on
    first = evaluate(forces.moment, x=hinge, integrals=1) / stiff
    base = evaluate(forces.moment, x=hinge, integrals=2) / stiff
    turn = (evaluate(forces.moment, x=at_hanger, integrals=1) / stiff - first)[..., 0]
    sink = (evaluate(forces.moment, x=at_hanger, integrals=2) / stiff - base - first * at_hanger)[..., 0]
    pressed = evaluate(forces.axial, x=at_hanger, integrals=1) - evaluate(forces.axial, x=hinge, integrals=1)
    squeeze = -pressed[..., 0] / axial_stiff
    limp = balance.tension[..., 0, :]
    ratio = line_per_rail(layout, pose=pose)[..., None]
    pull = 0.5 * balance.total[..., None] + 0.5 * (limp[..., 0] - limp[..., 1])[..., None] * ratio * lean
    stretch = pull * give[..., None]
    u_s, u_n = pose.u_s[..., None], pose.u_n[..., None]
    above = (layout.hanger_n - section.axis)[..., None, None]
    arm = np.where(balance.dead, 1.0, pose.arm)[..., None]
    head = -(stretch + u_n * sink + u_s * (squeeze - above * turn)) / arm
    head = np.where(balance.dead[..., None], 0.0, head)

    chord = (head + sink / layout.hanger_s[..., None, None])[..., None]  # slope of the line hinge to hanger
    shape = _shape(forces, head=head[..., None] - first, base=base, stiff=stiff)
    t = _nodes(shape, chord=chord)
    flat = (*t.shape[:-2], t.shape[-2] * t.shape[-1])
    x = (shape.start[..., None] + t).reshape(flat)
    fall, slope = -at(shape, t=t).reshape(flat), at(shape, t=t, order=1).reshape(flat)
    between = (x >= 0.0) & (x <= at_hanger)
    bent = evaluate(forces.moment, x=tail, integrals=2) / stiff - base - first * tail
    tail_drop = -(head[..., None] * tail + bent)
    return Deflection(
        sag=np.where(between, np.abs(fall + chord * x), 0.0).max(-1),
        tail_drop=tail_drop[..., 0],
        tail_bend=(tail_drop + chord * tail)[..., 0],
        stretch=stretch,
        rise=np.where(x >= 0.0, slope, -np.inf).max(-1),
        x=x,
        drop=fall,
    )


def _shape(forces: RailForces, *, head: Array, base: Array, stiff: Array) -> Segments:
    """The bent rail as quintics: deflection, slope and what M/EI adds.

    Args:
        forces: Terms of the rails.
        head: Slope at the hinge less what M/EI adds up to uphill of it, shape (..., state, share, 1). [rad]
        base: What it adds up to twice integrated, shape (..., state, share, 1). [in]
        stiff: E I.

    Returns:
        The shape, zero at the hinge.
    """
    bent = segments(forces.moment, integrals=2)
    derivative = bent.derivative / stiff[..., None]
    derivative[..., 0] += head * bent.start - base
    derivative[..., 1] += head
    return Segments(bent.start, bent.span, derivative)


def _nodes(shape: Segments, *, chord: Array) -> Array:
    """Ends of segments, zeros of dM/dx, of M and of the slope against the chord, sorted, (..., segment, point)."""
    bend = Segments(shape.start, shape.span, shape.derivative[..., 2:])
    d = bend.derivative
    turning = quadratic_zeros(d[..., 1], c1=d[..., 2], c2=0.5 * d[..., 3], span=bend.span)
    ends = side_by_side(np.zeros_like(bend.span), bend.span)
    t = np.sort(np.concatenate([ends, turning], axis=-1), axis=-1)
    t = np.sort(np.concatenate([t, crossings(bend, t=t)], axis=-1), axis=-1)
    lean = shape.derivative[..., 1:] - np.concatenate([chord[..., None], np.zeros((*chord.shape, 4))], axis=-1)
    return np.sort(np.concatenate([t, crossings(Segments(shape.start, shape.span, lean), t=t)], axis=-1), axis=-1)

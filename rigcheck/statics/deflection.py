"""How far the rail sags and the tail drops: bending integrated from the supports, with the give of line and perch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.statics.balance import Balance, line_per_rail
from rigcheck.statics.beam import evaluate, interior_zeros
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.statics.rail import _LEAN, RailForces, Section

Array = NDArray[np.float64]

_BISECTIONS = 44


@dataclass(frozen=True, slots=True)
class Deflection:
    """Shape of the loaded rail, share axis in the order of `rigcheck.statics.rail.SHARES`, shapes (..., state, share).

    Attributes:
        sag: Largest distance of the rail from the straight line hinge to hanger, between them. [in]
        tail_drop: Fall of the tail from its unloaded place, line stretch included. [in]
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


def _cubic_zero(y0: Array, *, y1: Array, d0: Array, d1: Array) -> Array:
    """Fraction at which a monotone Hermite cubic crosses zero; 0 where it does not. Derivatives are per whole segment."""
    a, b = 2.0 * (y0 - y1) + d0 + d1, 3.0 * (y1 - y0) - 2.0 * d0 - d1
    crosses = (y0 < 0.0) != (y1 < 0.0)
    low, high = np.zeros_like(y0), np.ones_like(y0)
    for _ in range(_BISECTIONS):
        t = 0.5 * (low + high)
        same = ((((a * t + b) * t + d0) * t + y0) < 0.0) == (y0 < 0.0)
        low, high = np.where(same, t, low), np.where(same, high, t)
    return np.where(crosses, 0.5 * (low + high), 0.0)


def _slope_zero(theta: Array, *, moment: tuple[Array, Array], change: tuple[Array, Array]) -> Array:
    """Fraction at which a slope, whose derivative is a Hermite cubic, crosses zero; 0 where it does not."""
    (y0, y1), (d0, d1) = moment, change
    a, b = 2.0 * (y0 - y1) + d0 + d1, 3.0 * (y1 - y0) - 2.0 * d0 - d1

    def value(t: Array) -> Array:
        return theta + t * (y0 + t * (d0 / 2.0 + t * (b / 3.0 + t * a / 4.0)))

    crosses = (theta < 0.0) != (value(np.ones_like(theta)) < 0.0)
    low, high = np.zeros_like(theta), np.ones_like(theta)
    for _ in range(_BISECTIONS):
        t = 0.5 * (low + high)
        same = (value(t) < 0.0) == (theta < 0.0)
        low, high = np.where(same, t, low), np.where(same, high, t)
    return np.where(crosses, 0.5 * (low + high), 0.0)


def _with_zeros(nodes: Array, fraction: Array) -> Array:
    inner = nodes[..., :-1] + np.diff(nodes, axis=-1) * fraction
    return np.sort(np.concatenate([nodes, inner], axis=-1), axis=-1)


def _moment_nodes(forces: RailForces) -> Array:
    """Stations between which M keeps its sign, shape (..., state, share, station)."""
    start, stop = forces.stations[..., :-1], forces.stations[..., 1:]
    change = (
        evaluate(forces.moment, x=start, integrals=-1),
        evaluate(forces.moment, x=0.5 * (start + stop), integrals=-1),
        evaluate(forces.moment, x=stop, integrals=-1, before=True),
    )
    turning = interior_zeros(change, stations=forces.stations)
    nodes = np.sort(np.concatenate([forces.stations, turning], axis=-1), axis=-1)
    moment, slope, span = _segments(forces, nodes)
    return _with_zeros(nodes, _cubic_zero(moment[0], y1=moment[1], d0=slope[0] * span, d1=slope[1] * span))


def _segments(forces: RailForces, nodes: Array) -> tuple[tuple[Array, Array], tuple[Array, Array], Array]:
    start, stop = nodes[..., :-1], nodes[..., 1:]
    moment = evaluate(forces.moment, x=start), evaluate(forces.moment, x=stop, before=True)
    slope = (
        evaluate(forces.moment, x=start, integrals=-1),
        evaluate(forces.moment, x=stop, integrals=-1, before=True),
    )
    return moment, slope, stop - start


def deflection(
    forces: RailForces, *, section: Section, layout: Layout, pose: Pose, balance: Balance, give: Array
) -> Deflection:
    """Integrate M/EI from the supports and let hanger and hinge move as their eccentric points do.

    The slope at the hinge follows from the line: u . (movement of the hanger) = -(give x tension).

    Args:
        forces: Terms of the rails under service loads.
        section: Rail section, shapes (...).
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.
        balance: Line tensions under the same loads.
        give: Length that one line gives per pound of its tension, shape (..., state). [in/lbf]

    Returns:
        Deflections.

    Source: own derivation, docs/method.md#deflection.
    """
    stiff = (section.modulus * section.inertia)[..., None, None, None]
    axial_stiff = (section.modulus * section.area)[..., None, None]
    at_hanger = np.broadcast_to(layout.hanger_s[..., None, None, None], (*forces.pull.shape, 1))
    turn = evaluate(forces.moment, x=at_hanger, integrals=1)[..., 0] / stiff[..., 0]
    sink = evaluate(forces.moment, x=at_hanger, integrals=2)[..., 0] / stiff[..., 0]
    squeeze = -evaluate(forces.axial, x=at_hanger, integrals=1)[..., 0] / axial_stiff
    limp = balance.tension[..., 0, :]
    ratio = line_per_rail(layout, pose=pose)[..., None]
    pull = 0.5 * balance.total[..., None] + 0.5 * (limp[..., 0] - limp[..., 1])[..., None] * ratio * _LEAN
    stretch = pull * give[..., None]
    u_s, u_n = pose.u_s[..., None], pose.u_n[..., None]
    above = (layout.hanger_n - section.axis)[..., None, None]
    arm = np.where(balance.dead, 1.0, pose.arm)[..., None]
    head = -(stretch + u_n * sink + u_s * (squeeze - above * turn)) / arm
    head = np.where(balance.dead[..., None], 0.0, head)

    def drop(x: Array) -> Array:
        return np.asarray(-(head[..., None] * x + evaluate(forces.moment, x=x, integrals=2) / stiff))

    def slope(x: Array) -> Array:
        return np.asarray(head[..., None] + evaluate(forces.moment, x=x, integrals=1) / stiff)

    nodes = _moment_nodes(forces)
    chord = -drop(at_hanger) / at_hanger
    moment, change, span = _segments(forces, nodes)
    lean = (slope(nodes) - chord)[..., :-1] * stiff / np.where(span > 0.0, span, 1.0)
    fraction = _slope_zero(lean, moment=moment, change=(change[0] * span, change[1] * span))
    nodes = _with_zeros(nodes, fraction)
    fall = drop(nodes)
    between = (nodes >= 0.0) & (nodes <= at_hanger)
    tail = np.broadcast_to(layout.length[..., None, None, None], at_hanger.shape)
    tail_drop = drop(tail)
    return Deflection(
        sag=np.where(between, np.abs(fall + chord * nodes), 0.0).max(-1),
        tail_drop=tail_drop[..., 0],
        tail_bend=(tail_drop + chord * tail)[..., 0],
        stretch=stretch,
        rise=np.where(nodes >= 0.0, slope(nodes), -np.inf).max(-1),
        x=nodes,
        drop=fall,
    )

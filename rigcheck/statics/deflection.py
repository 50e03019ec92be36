"""How far the rails sag and the tail drops: bending integrated from the supports, with the give of line and perch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.statics.balance import Balance, grip, line_per_rail
from rigcheck.statics.beam import Segments, at, crossings, quadratic_zeros
from rigcheck.statics.bent_apart import Bent, bent_apart, nodes_at
from rigcheck.statics.geometry import SIDE
from rigcheck.statics.pair import PairForces
from rigcheck.statics.rail import Section
from rigcheck.statics.rail_peaks import inside, put_inside

_NEAR = 1e-9  # share of the box's length within which a node stands at a point
_WITHIN = np.linspace(0.0, 1.0, 5)  # places in a piece at which the box's roll is looked at


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Deflection:
    """Shape of both rails in some rows and ways of sharing, shapes (..., pair, side).

    Attributes:
        sag: Largest distance of the rail from the straight line hinge to hanger, between them. [in]
        tail_deflection: Movement of the tail square to the floor from its unloaded place, line stretch included. [in]
        tail_bend: Departure of the tail from the straight line hinge to hanger produced. [in]
        stretch: Length that the line gives, as the rail sees it. [in]
        rise: Largest slope that the load takes off the pitch anywhere. [rad]
        x: Stations at which slope and deflection were taken, shape (..., pair, side, station). [in]
        drop: Fall of the rail there. [in]
        roll: Largest fall of one rail below the other over their spacing, shape (..., pair). [rad]
        shape: Deflection and its derivatives, upward, shape (..., pair, side, piece[, 6]).
    """

    sag: Array
    tail_deflection: Array
    tail_bend: Array
    stretch: Array
    rise: Array
    x: Array
    drop: Array
    roll: Array
    shape: Segments

    def drop_at(self, x: Array, *, rail: tuple[int, ...]) -> Array:
        """Fall of one rail at sorted stations, shape (station,). [in]"""
        one = Segments(*(getattr(self.shape, name)[rail] for name in ("start", "span", "derivative")))
        piece = np.clip(np.searchsorted(one.start, x, side="right") - 1, 0, None)
        here = Segments(*(getattr(one, name)[piece] for name in ("start", "span", "derivative")))
        return -at(here, t=(x - here.start)[:, None])[:, 0]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Hung:
    """How the lines hold the rails of each row and way of sharing.

    Attributes:
        tension: Line tensions, shape (..., pair, side). [lbf]
        give: Length that one line gives per pound of its tension, shape (..., pair). [in/lbf]
        per_rail: Difference of the lines over the difference of pull at the rails, shape (..., pair).
        per_line: How far a hanger goes along its line as the rails fall apart, over what they do: one over `per_rail`,
            but not held to a least grip, shape (..., pair).
        arm: Lever arm of the lines about the hinge axis, 1 at a dead point, shape (..., pair). [in]
        dead: True at a dead point, shape (..., pair).
        own: True where each line holds its own rail, as in a limp box, shape (pair,).
        on: +1 or -1 where the left or the right line carries all, else 0, shape (pair,).
    """

    tension: Array
    give: Array
    per_rail: Array
    per_line: Array
    arm: Array
    dead: NDArray[np.bool_]
    own: NDArray[np.bool_]
    on: Array


def _added(derivative: Array, *, span: Array) -> Array:
    """Integral of each piece."""
    d = derivative
    return np.asarray(span * (d[..., 0] + span / 2.0 * (d[..., 1] + span / 3.0 * (d[..., 2] + span / 4.0 * d[..., 3]))))


def _summed(parts: Array) -> Array:
    return np.concatenate([np.zeros((*parts.shape[:-1], 1)), np.cumsum(parts, axis=-1)], axis=-1)


def _bent(found: PairForces, *, section: Section) -> Bent:
    """Integrate M/EI and N/EA; the push is that of the neutral axis, of a box in stretches that of the floor."""
    run = found.curves
    span = np.broadcast_to(run.span, run.moment.shape[:-1])
    along = found.unheld.layout.along
    if along is None:
        curved = run.moment / (section.modulus * section.inertia)[..., None, None, None, None]
        push = -_summed(_added(run.axial, span=span)) / (section.modulus * section.area)[..., None, None, None]
    else:
        curved = run.moment * along.value("soft", s=run.start, axes=3)[..., None]
        modulus, steel, cos = (along.value(name, s=run.start, axes=3) for name in ("modulus", "area", "cos"))
        # of the floor, over which the neutral axis of every stretch stands: M about n_0 turns it about that height
        lifted = along.value("axis", s=run.start, axes=3) * _added(curved, span=span)
        push = _summed(lifted - _added(run.axial, span=span) / (modulus * steel * cos**3))
    k = [curved[..., order] for order in range(4)]
    slope = _summed(_added(curved, span=span))
    bow = span**2 * (k[0] / 2.0 + span * (k[1] / 6.0 + span * (k[2] / 24.0 + span * k[3] / 120.0)))
    sink = _summed(span * slope[..., :-1] + bow)
    x = np.concatenate([run.start, run.start[..., -1:] + run.span[..., -1:]], axis=-1)
    x = np.broadcast_to(x, slope.shape)
    none = np.zeros_like(section.axis)
    near = _NEAR * found.unheld.layout.length
    first, base, pressed = (nodes_at(values, x=x, place=none, near=near) for values in (slope, sink, push))
    return Bent(x, slope - first, sink - base - first * x, push - pressed, curved)


def deflection(found: PairForces, *, section: Section, hung: Hung) -> Deflection:
    """Integrate M/EI from the supports and let hanger and hinge move as their eccentric points do.

    The slope at the hinge follows from the lines: u . (movement of the hanger) = -(give x tension). Of a limp box each
    line holds its own rail; of any other the slopes differ by what the members let them, and the mean follows from the
    mean stretch, or from that of the one line that holds.

    Args:
        found: Both rails under service loads.
        section: Rail section, shapes (...).
        hung: How the lines hold them.

    Returns:
        Deflections.

    Source: own derivation, docs/method.md#deflection.
    """
    points = found.unheld.layout
    bent = _bent(found, section=section)
    near = _NEAR * points.length
    apart_bent = None if points.along is None or not points.along.flared else bent_apart(found, bent=bent)
    if apart_bent is not None:
        bent = apart_bent.bent
    turn, sink, squeeze = (
        nodes_at(values, x=bent.x, place=points.hanger_s, near=near)[..., 0]
        for values in (bent.slope, bent.sink, bent.push)
    )
    u_s, u_n = (part[..., found.of, None] for part in (found.unheld.pose.u_s, found.unheld.pose.u_n))
    if points.along is None:
        above = (points.hanger_n - section.axis)[..., None, None] * turn
    else:
        above = points.hanger_n[..., None, None] * turn
    moved = u_n * sink + u_s * (squeeze - above)
    # a hanger stands over the floor, and goes aside as the box rolls between its rails
    h, b, rise = (part[..., None] for part in (points.hanger_spacing, points.rail_spacing, points.hanger_n))
    aside = 2.0 * rise / h * found.unheld.pose.uy[..., found.of] * (sink[..., 0] - sink[..., 1])
    apart = (moved[..., 0] - moved[..., 1] - aside) * h / b
    head = _heads(moved.mean(-1), apart=apart, tied=found.ties.head, hung=hung)
    if apart_bent is None:
        chord = head + sink / points.hanger_s[..., None, None]
        slope, fall = head[..., None] + bent.slope, -(head[..., None] * bent.x + bent.sink)
        derivative = np.concatenate([-fall[..., :-1, None], slope[..., :-1, None], bent.curved], axis=-1)
    else:
        slope, fall, derivative = apart_bent.with_heads(head)
        chord = -nodes_at(fall, x=bent.x, place=points.hanger_s, near=near)[..., 0] / points.hanger_s[..., None, None]
    shape = Segments(bent.x[..., :-1], np.diff(bent.x, axis=-1), derivative)
    drop_at_tail = nodes_at(fall, x=bent.x, place=points.length, near=near)[..., 0]
    x, falls, slopes = _everywhere(shape, chord=chord, nodes=(bent.x, fall, slope))
    between = (x >= 0.0) & (x <= (points.hanger_s + near)[..., None, None, None])
    arm = hung.arm[..., None]
    return Deflection(
        sag=np.where(between, np.abs(falls + chord[..., None] * x), 0.0).max(-1),
        tail_deflection=drop_at_tail,
        tail_bend=drop_at_tail + chord * points.length[..., None, None],
        stretch=-(arm * head + moved),
        rise=np.where(x >= 0.0, slopes, -np.inf).max(-1),
        x=x,
        drop=falls,
        roll=_roll(shape) / points.rail_spacing[..., None] if apart_bent is None else apart_bent.roll(fall),
        shape=shape,
    )


def _heads(mean: Array, *, apart: Array, tied: Array, hung: Hung) -> Array:
    """Slope of each rail at the hinge, shape (..., pair, side).

    A line's hanger moves with the mean of the rails and with `apart`, what they do unlike, times `per_line`. [rad]
    """
    unlike = hung.tension[..., 0] - hung.tension[..., 1]
    unlike_own = -hung.per_rail * (hung.give * unlike + apart) / hung.arm
    unlike_head = np.where(hung.own, unlike_own, tied)
    pull = np.where(hung.on == 0.0, 0.5, 1.0) * hung.tension.sum(-1)
    by_one = 0.5 * hung.on * (hung.arm * unlike_head * hung.per_line + apart)
    middle = -(hung.give * pull + mean + by_one) / hung.arm
    head = middle[..., None] + 0.5 * SIDE * unlike_head[..., None]
    return np.where(hung.dead[..., None], 0.0, head)


def hung_by(
    balance: Balance, *, found: PairForces, give: Array, limp: NDArray[np.bool_], bounds: NDArray[np.intp]
) -> Hung:
    """How the lines of a balance hold the pairs.

    Args:
        balance: Line tensions of the same rows, shapes (..., row, bound, side).
        found: The pairs.
        give: Of one line, shape (..., row). [in/lbf]
        limp: Pairs in which each line holds its own rail, shape (pair,).
        bounds: Bound of each pair.
    """
    of = found.of
    dead = balance.dead[..., of]
    tension = balance.tension[..., of, bounds, :]
    per_rail = line_per_rail(found.unheld.layout, pose=found.unheld.pose)[..., of]
    points, arm = found.unheld.layout, np.where(dead, 1.0, found.unheld.pose.arm[..., of])
    return Hung(
        tension=tension,
        give=give[..., of],
        per_rail=per_rail,
        per_line=grip(points, pose=found.unheld.pose)[..., of]
        * (points.hanger_spacing / points.rail_spacing)[..., None],
        arm=arm,
        dead=dead,
        own=limp,
        on=(tension[..., 1] == 0.0) * 1.0 - (tension[..., 0] == 0.0),
    )


def _roll(shape: Segments) -> Array:
    """Largest difference of fall between the rails at either end and inside of every piece, shape (..., pair)."""
    unlike = shape.derivative[..., 0, :, :] - shape.derivative[..., 1, :, :]
    start, span = shape.start[..., 0, :], shape.span[..., 0, :]
    t = span[..., None] * _WITHIN
    apart = np.abs(at(Segments(start, span, unlike), t=t))
    return np.asarray(np.where((start >= 0.0)[..., None], apart, 0.0).max((-2, -1)))


def _everywhere(shape: Segments, *, chord: Array, nodes: tuple[Array, Array, Array]) -> tuple[Array, Array, Array]:
    """Station, fall and slope at all nodes and wherever slope or chord turn within a piece, (..., station)."""
    x, fall, slope = nodes
    bend = shape.derivative[..., 2:]
    span, d = shape.span, bend
    last = d[..., 0] + span * (d[..., 1] + span / 2.0 * (d[..., 2] + span / 3.0 * d[..., 3]))
    steep = d[..., 1] + span * (d[..., 2] + 0.5 * span * d[..., 3])
    curl = d[..., 2] + span * d[..., 3]
    lean = slope - chord[..., None]
    turns = (d[..., 0] * last < 0.0) | (d[..., 1] * steep < 0.0) | (lean[..., :-1] * lean[..., 1:] < 0.0)
    turns = (turns | (d[..., 2] * curl < 0.0)) & (span > 0.0)
    place = inside(turns)
    few = Segments(shape.start[turns][:, None], span[turns][:, None], shape.derivative[turns][:, None, :])
    t = _nodes(few, chord=np.broadcast_to(chord[..., None], turns.shape)[turns][:, None])

    def more(whole: Array, values: Array) -> Array:
        return np.concatenate([whole, put_inside(whole[..., 0], at=place, values=values[:, 0, :])], axis=-1)

    return (
        more(x, few.start[..., None] + t),
        more(fall, -at(few, t=t)),
        more(slope, at(few, t=t, order=1)),
    )


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

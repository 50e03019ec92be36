"""How rails that are not parallel bend apart: the box rolls between them, and its roll runs by its own law."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.statics.along import Along, arm_of_force
from rigcheck.statics.geometry import SIDE
from rigcheck.statics.pair import PairForces

NEAR = 1e-9  # share of the box's length within which a node stands at a point
_GAUSS = ((0.5 - np.sqrt(0.15), 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.5 + np.sqrt(0.15), 5.0 / 18.0))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bent:
    """What bending and push add up to from the hinge on, at the nodes, shape (..., pair, side, node)."""

    x: Array
    slope: Array
    sink: Array
    push: Array
    curved: Array


def nodes_at(values: Array, *, x: Array, place: Array, near: Array) -> Array:
    """Values at the first node that stands at a place, shape (..., pair, side, 1)."""
    node = np.argmax(x >= (place - near)[..., None, None, None], axis=-1)[..., None]
    return np.take_along_axis(values, node, axis=-1)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class BentApart:
    """Rails that bend alike and apart.

    Attributes:
        bent: Both together, the rails held level and parallel at the hinge.
        along: The rails.
        span: Length of each piece, shape (..., pair, piece). [in]
        apart: How far the left rail rises over the mean at both ends of each piece, and its slope there, shapes
            (..., pair, piece). [in, rad]
    """

    bent: Bent
    along: Along
    span: Array
    apart: tuple[Array, Array, Array, Array]

    def with_heads(self, head: Array) -> tuple[Array, Array, Array]:
        """Slope and fall at the nodes and the derivatives of each piece, with the slopes of the rails at the hinge.

        Args:
            head: Slope of each rail there, shape (..., pair, side). [rad]
        """
        bent, along = self.bent, self.along
        mean = head.mean(-1, keepdims=True)
        half = 0.5 * (head[..., :1] - head[..., 1:])
        x = bent.x[..., 0, :]
        first = along.first[..., None, None]
        arm = arm_of_force(along, s=x, axes=2)
        b, more = along.spacing(x, axes=2), along.slope(x, axes=2)
        tilt = first * (more * along.rolled(x, axes=2) + 1.0 / b)
        v0, v1, t0, t1 = self.apart
        h = np.where(self.span > 0.0, self.span, 1.0)
        rise = v1 - v0
        live = self.span > 0.0
        curl = np.where(live, 6.0 * rise / h**2 - (4.0 * t0 + 2.0 * t1) / h, 0.0)
        twist = np.where(live, 6.0 * (t0 + t1) / h**2 - 12.0 * rise / h**3, 0.0)
        even = bent.curved.mean(-3, keepdims=True) + 0.0 * bent.curved
        even[..., 0] += SIDE[:, None] * curl[..., None, :]
        even[..., 1] += SIDE[:, None] * twist[..., None, :]
        up = mean[..., None] * bent.x + bent.sink + SIDE[:, None] * (half * arm)[..., None, :]
        slope = mean[..., None] + bent.slope.mean(-2, keepdims=True) + 0.0 * bent.sink
        ends = np.concatenate([t0, t1[..., -1:]], axis=-1)
        slope = slope + SIDE[:, None] * (ends + half * tilt)[..., None, :]
        derivative = np.concatenate([up[..., :-1, None], slope[..., :-1, None], even], axis=-1)
        return slope, -up, derivative

    def roll(self, fall: Array) -> Array:
        """Largest fall of one rail below the other over their spacing there, at the nodes, shape (..., pair). [rad]"""
        x = self.bent.x[..., 0, :]
        apart = np.abs(fall[..., 0, :] - fall[..., 1, :]) / self.along.spacing(x, axes=2)
        return np.asarray(np.where(x >= 0.0, apart, 0.0).max(-1))


def bent_apart(found: PairForces, *, bent: Bent) -> BentApart:
    """The rails with what they do apart by the law of rails that are not parallel.

    With v_a the rise of the left rail over the mean and chi = v_a/b, (b^2 chi')' = b M_a/e, e = E I cos^3 and M_a half
    of M_L - M_R; the rail turns by b chi' about the axis across. b M_a/e is integrated exactly, chi' = G/b^2 by three
    points of Gauss in each piece.

    Args:
        found: Forces on both rails.
        bent: What bending adds up to as if the rails were parallel.

    Source: own derivation, docs/method.md#stretches.
    """
    run, along = found.curves, found.unheld.layout.along
    assert along is not None
    whole = run.moment.shape[:-1]
    start, span = (np.broadcast_to(part, whole)[..., 0, :] for part in (run.start, run.span))
    half = 0.5 * (run.moment[..., 0, :, :] - run.moment[..., 1, :, :])
    b, more, soft = along.spacing(start, axes=2), along.slope(start, axes=2), along.value("soft", s=start, axes=2)

    def added(t: Array) -> Array:
        total: Array | float = 0.0
        power = t
        for order in range(half.shape[-1]):
            total = total + half[..., order] * power * (b / (order + 1) + more * t / (order + 2))
            power = power * t / (order + 1)
        return np.asarray(total * soft)

    x = bent.x
    zero, near = np.zeros_like(along.length), NEAR * along.length

    def from_head(parts: Array) -> Array:
        nodes = np.concatenate([np.zeros((*parts.shape[:-1], 1)), np.cumsum(parts, axis=-1)], axis=-1)
        both = np.broadcast_to(nodes[..., None, :], x.shape)
        return np.asarray(nodes - nodes_at(both, x=x, place=zero, near=near)[..., 0, :])

    turned = from_head(added(span))
    steps = sum(
        weight * span * (turned[..., :-1] + added(share * span)) / (b + more * share * span) ** 2
        for share, weight in _GAUSS
    )
    rolled = from_head(np.asarray(steps))
    last = b + more * span
    v0, v1 = b * rolled[..., :-1], last * rolled[..., 1:]
    t0, t1 = more * rolled[..., :-1] + turned[..., :-1] / b, more * rolled[..., 1:] + turned[..., 1:] / last
    nodes = np.concatenate([v0, v1[..., -1:]], axis=-1)
    turn = np.concatenate([turned[..., :-1] / b, turned[..., -1:] / last[..., -1:]], axis=-1)
    sink = bent.sink.mean(-2, keepdims=True) + SIDE[:, None] * nodes[..., None, :]
    slope = bent.slope.mean(-2, keepdims=True) + SIDE[:, None] * turn[..., None, :]
    return BentApart(Bent(x, slope, sink, bent.push, bent.curved), along, span, (v0, v1, t0, t1))

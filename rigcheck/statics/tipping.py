"""A plant on its feet: over which edge it tips, what each foot carries; what wheels and tongue carry on the road."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array, Mask

Places = NDArray[np.intp]

WAYS = ("downstream", "upstream", "left", "right")
"""The way a plant tips over an edge: that which its outward normal points to most."""
_ON_LINE = 1.0e-9  # of the largest square of the base: feet this near to a line stand on it
_ROUNDING = 1.0e-12  # of all moments about an edge: what is left of forces that cancel
_NOTHING = 1.0e-9  # of the weight on the feet: a foot that carries less has lifted


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Edges:
    """Lines between two feet that have all other feet on one side.

    Attributes:
        first: Foot at one end, shape (edge,).
        second: Foot at the other; the base lies to the left of the way there, seen from above, shape (edge,).
        live: Whether it is an edge of the base in this design, shape (..., edge).
        way: Index into `WAYS`, shape (..., edge).
    """

    first: Places
    second: Places
    live: Mask
    way: Places


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Moments:
    """Moments about each edge, shapes (..., state, edge): what holds the plant down and what turns it over. [lbf*in]"""

    stabilizing: Array
    overturning: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Footing:
    """What the feet carry.

    Attributes:
        least: Least push of each foot over all ways to stand on three of them, shape (..., state, foot). [lbf]
        most: The most of it, shape (..., state, foot). [lbf]
        stands: Whether there is a way to stand at all, shape (..., state).
    """

    least: Array
    most: Array
    stands: Mask


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class OnWheels:
    """A trailer at rest on level ground, all shapes (...).

    Attributes:
        gross: Weight of all of it. [lbf]
        tongue: What the tongue presses down with; negative where it lifts. [lbf]
        axle: What the axles carry together. [lbf]
        left: What the left wheels carry. [lbf]
        right: What the right wheels carry. [lbf]
        share: Tongue over gross. [1]
    """

    gross: Array
    tongue: Array
    axle: Array
    left: Array
    right: Array
    share: Array


def edges(feet: Array) -> Edges:
    """Edges of the base, seen from above.

    Every ordered pair of feet is tried: it is an edge where no other foot lies to the right of the way from one to the
    other. Of feet that stand in one line both ways are edges, and nothing holds such a plant.

    Args:
        feet: Where each foot meets the ground in plant axes, shape (..., foot, 3). [in]

    Returns:
        The edges; pairs that are one in no design are left out.

    Source: own derivation, docs/method.md#tipping.
    """
    pairs = np.array(list(permutations(range(feet.shape[-2]), 2)), dtype=np.intp)
    first, second = pairs[:, 0], pairs[:, 1]
    x, y = feet[..., 0], feet[..., 1]
    dx, dy = x[..., second] - x[..., first], y[..., second] - y[..., first]
    to_x = x[..., None, :] - x[..., first, None]
    to_y = y[..., None, :] - y[..., first, None]
    left_of = dx[..., None] * to_y - dy[..., None] * to_x
    size = np.max(dx**2 + dy**2, axis=-1, keepdims=True)
    live = (left_of >= -_ON_LINE * size[..., None]).all(-1) & (dx**2 + dy**2 > _ON_LINE * size)
    # outward is to the right of the way: (dy, -dx)
    along = np.where(dy > 0.0, WAYS.index("downstream"), WAYS.index("upstream"))
    across = np.where(dx < 0.0, WAYS.index("left"), WAYS.index("right"))
    way = np.where(np.abs(dy) >= np.abs(dx), along, across)
    some = live.reshape(-1, len(pairs)).any(0)
    return Edges(first=first[some], second=second[some], live=live[..., some], way=way[..., some])


def about_edges(force: Array, *, moment: Array, feet: Array, base: Edges) -> Array:
    """Moment of loads about each edge, positive where it holds the plant down.

    With p a foot on the edge and e along it, a force F with moment M about the origin turns about the edge by
    e (M - p x F); seen along e the base is on the left, so that holding down is minus that.

    Args:
        force: Plant axes, shape (..., load, 3). [lbf]
        moment: About the origin of the plant axes, shape (..., load, 3). [lbf*in]
        feet: Shape (..., foot, 3). [in]
        base: The edges.

    Returns:
        Shape (..., edge, load). [lbf*in]

    Source: own derivation, docs/method.md#tipping.
    """
    start = feet[..., base.first, :]
    run = feet[..., base.second, :] - start
    length = np.sqrt(np.sum(run**2, axis=-1, keepdims=True))
    along = divide(run, length)
    about = moment[..., None, :, :] - np.cross(start[..., :, None, :], force[..., None, :, :])
    return np.asarray(-np.sum(along[..., :, None, :] * about, axis=-1))


def moments(force: Array, *, moment: Array, feet: Array, base: Edges) -> Moments:
    """Stabilizing and overturning moment about each edge, every load by itself on the side it turns to.

    Args:
        force: Loads on plant and box together, plant axes, shape (..., state, load, 3). [lbf]
        moment: About the origin, shape (..., state, load, 3). [lbf*in]
        feet: Shape (..., foot, 3). [in]
        base: The edges.

    Returns:
        Moments; nothing about what is no edge in a design.

    Source: own derivation, docs/method.md#tipping.
    """
    turn = about_edges(force, moment=moment, feet=feet[..., None, :, :], base=base)
    turn = np.where(np.abs(turn) > _ROUNDING * np.abs(turn).sum(-1, keepdims=True), turn, 0.0)
    live = base.live[..., None, :]
    return Moments(
        stabilizing=np.where(live, np.maximum(turn, 0.0).sum(-1), 0.0),
        overturning=np.where(live, np.maximum(-turn, 0.0).sum(-1), 0.0),
    )


def footing(force: Array, *, moment: Array, feet: Array) -> Footing:
    """What each foot carries, pushes only, friction in the same proportion at every foot.

    Three feet are statically determinate. More of them rock: whichever three the ground meets first carry all, so
    that each foot lies between its least and its most over every three that can stand without pulling.

    Args:
        force: Sum of the loads on plant and box, plant axes, shape (..., state, 3). [lbf]
        moment: Its moment about the origin, shape (..., state, 3). [lbf*in]
        feet: Shape (..., foot, 3). [in]

    Returns:
        Range of each foot; nothing where the plant does not stand.

    Source: own derivation, docs/method.md#feet.
    """
    count = feet.shape[-2]
    threes = np.array(list(combinations(range(count), 3)), dtype=np.intp)
    down = -force[..., 2]
    pressed = down > 0.0
    weight = np.where(pressed, down, UNLIMITED)
    # every push is parallel to the sum of the loads: feet are carried along it onto the level of the origin
    lean_x, lean_y = (force[..., i, None] / weight[..., None] for i in (0, 1))
    x = feet[..., None, :, 0] + feet[..., None, :, 2] * lean_x
    y = feet[..., None, :, 1] + feet[..., None, :, 2] * lean_y
    at_x, at_y = moment[..., 1] / weight, -moment[..., 0] / weight
    x0, y0 = x[..., threes[:, 0]], y[..., threes[:, 0]]
    ax, ay = x[..., threes[:, 1]] - x0, y[..., threes[:, 1]] - y0
    bx, by = x[..., threes[:, 2]] - x0, y[..., threes[:, 2]] - y0
    px, py = at_x[..., None] - x0, at_y[..., None] - y0
    area = ax * by - ay * bx
    broad = np.abs(area) > _ON_LINE * np.maximum(ax**2 + ay**2, bx**2 + by**2)
    safe = np.where(broad, area, UNLIMITED)
    second, third = (px * by - py * bx) / safe, (ax * py - ay * px) / safe
    shares = side_by_side(1.0 - second - third, second, third)
    able = broad & (shares >= -_NOTHING).all(-1) & pressed[..., None]
    on = np.zeros((len(threes), 3, count))
    np.put_along_axis(on, threes[..., None], 1.0, axis=-1)
    push = np.maximum(np.einsum("...tk,tkf->...tf", shares * weight[..., None, None], on), 0.0)
    some = able[..., None]
    stands = np.asarray(able.any(-1))
    least = np.where(some, push, np.inf).min(-2)
    return Footing(
        least=np.where(stands[..., None], least, 0.0),
        most=np.where(some, push, 0.0).max(-2),
        stands=stands,
    )


def on_wheels(weight: Array, *, x: Array, y: Array, axle: Array, tongue: Array, track: Array) -> OnWheels:
    """What axles and tongue carry at rest on level ground; the coupling takes no roll.

    Args:
        weight: Each weight, shape (..., part). [lbf]
        x: Its place along the plant, shape (..., part). [in]
        y: Its place across, shape (..., part). [in]
        axle: Middle of the axles along the plant, shape (...). [in]
        tongue: Coupling along the plant, not that of the axles, shape (...). [in]
        track: Between the middles of left and right wheels, shape (...). [in]

    Returns:
        Loads.

    Source: own derivation, docs/method.md#tongue.
    """
    gross = weight.sum(-1)
    pressed = divide((weight * (axle[..., None] - x)).sum(-1), axle - tongue)
    on_axle = gross - pressed
    roll = divide((weight * y).sum(-1), track)
    return OnWheels(
        gross=gross,
        tongue=pressed,
        axle=on_axle,
        left=0.5 * on_axle + roll,
        right=0.5 * on_axle - roll,
        share=divide(pressed, gross),
    )

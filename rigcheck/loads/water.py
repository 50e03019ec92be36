"""Depths of water in the box: Manning normal depth, critical depth, and the level pool behind a shut outlet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array

MANNING_US = 1.486  # ft^(1/3)/s, Manning's equation in US units; university teaching pages (seen)
GRAVITY = 386.0886  # in/s2, standard gravity 9.80665 m/s2
INCHES_PER_FOOT = 12.0
_BISECTIONS = 60
_LEVEL = 1e-9  # a slope below this has no normal depth


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Flow:
    """Steady flow in one channel, all shapes (...).

    Attributes:
        normal: Manning normal depth, zero where the floor is level and none exists. [in]
        critical: Critical depth. [in]
        depth: The larger of the two, which is what loads the box. [in]
        froude: Froude number at the depth the flow really takes (normal where there is one). [1]
        by_critical: True where critical depth is the larger and sets the load.
    """

    normal: Array
    critical: Array
    depth: Array
    froude: Array
    by_critical: NDArray[np.bool_]


def manning_flow(depth: Array, *, width: Array, slope: Array, roughness: Array) -> Array:
    """Discharge of a rectangular channel, Q = (1.486/n) A R^(2/3) S^(1/2) in feet.

    Args:
        depth: Depth square to the floor, shape (...). [in]
        width: Clear width, shape (...). [in]
        slope: Energy slope, sine of the floor angle, shape (...). [1]
        roughness: Manning's n, shape (...). [s/m^(1/3)]

    Returns:
        Discharge, shape (...). [in3/s]

    Source: Manning equation, university teaching pages (seen); docs/method.md#running-water.
    """
    y, b = depth / INCHES_PER_FOOT, width / INCHES_PER_FOOT
    radius = b * y / (b + 2.0 * y)
    velocity = MANNING_US / roughness * radius ** (2.0 / 3.0) * np.sqrt(slope)
    return np.asarray(velocity * b * y * INCHES_PER_FOOT**3)


def normal_depth(flow: Array, *, width: Array, slope: Array, roughness: Array) -> Array:
    """Depth at which Manning's equation passes the flow, by bisection with a fixed count.

    Args:
        flow: Discharge in this channel, shape (...). [in3/s]
        width: Clear width, shape (...). [in]
        slope: Sine of the floor angle, shape (...). [1]
        roughness: Manning's n, shape (...). [s/m^(1/3)]

    Returns:
        Normal depth, shape (...); zero where the floor is level (none exists) or the flow is nil. [in]

    Source: Manning equation; docs/method.md#running-water.
    """
    level = slope <= _LEVEL
    sloped = np.where(level, 1.0, slope)
    flow, width, sloped, roughness = np.broadcast_arrays(flow, width, sloped, roughness)
    # R < y, so the depth of a very wide channel is a lower bound
    unit = np.maximum(flow, 0.0) / width / INCHES_PER_FOOT**2
    low = INCHES_PER_FOOT * (unit * roughness / (MANNING_US * np.sqrt(sloped))) ** 0.6
    # R is at least y/2 while y < b/2 and at least b/4 beyond, so the sum of both depths so found is an upper bound
    narrow = np.minimum(width, 1e9) / INCHES_PER_FOOT / 4.0
    fast = MANNING_US / roughness * np.sqrt(sloped) * narrow ** (2.0 / 3.0)
    high = 2.0 * low + INCHES_PER_FOOT * unit / fast + 1e-9
    low = np.asarray(low)
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        short = manning_flow(middle, width=width, slope=sloped, roughness=roughness) < flow
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.where(level | (flow <= 0.0), 0.0, 0.5 * (low + high))


def critical_depth(flow: Array, *, width: Array) -> Array:
    """Critical depth of a rectangular channel, (q^2/g)^(1/3).

    Args:
        flow: Discharge in this channel, shape (...). [in3/s]
        width: Clear width, shape (...). [in]

    Returns:
        Critical depth, shape (...). [in]

    Source: university summary sheet (seen); docs/method.md#running-water.
    """
    return np.asarray(np.cbrt((flow / width) ** 2 / GRAVITY))


def channel_flow(flow: Array, *, width: Array, slope: Array, roughness: Array) -> Flow:
    """Depth that loads one channel: the larger of normal and critical depth.

    Args:
        flow: Discharge in this channel, shape (...). [in3/s]
        width: Clear width, shape (...). [in]
        slope: Sine of the floor angle, shape (...). [1]
        roughness: Manning's n, shape (...). [s/m^(1/3)]

    Returns:
        The depths and the Froude number, shapes (...).

    Source: docs/method.md#running-water.
    """
    normal = normal_depth(flow, width=width, slope=slope, roughness=roughness)
    critical = np.broadcast_to(critical_depth(flow, width=width), normal.shape)
    running = np.where(normal > 0.0, normal, critical)
    moving = running > 0.0
    ratio = np.where(moving, critical, 0.0) / np.where(moving, running, 1.0)
    return Flow(
        normal=normal,
        critical=np.asarray(critical),
        depth=np.maximum(normal, critical),
        froude=np.asarray(ratio**1.5),  # V/sqrt(g y) = (y_c/y)^(3/2) in a rectangle
        by_critical=critical > normal,
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Pool:
    """The level pool behind a shut outlet, all shapes (...).

    Attributes:
        surface: Height of the water above the floor at the tail, square to the floor. [in]
        start: Station s where the pool meets the running water, 0 where it reaches the head. [in]
        upstream: Depth of water over the bed from the head to `start`. [in]
        depth_start: Depth of water over the bed just below `start`. [in]
        depth_tail: Depth of water over the bed at the tail. [in]
    """

    surface: Array
    start: Array
    upstream: Array
    depth_start: Array
    depth_tail: Array


def level_pool(*, length: Array, pitch: Array, crest: Array, head: Array, bed: Array, running: Array) -> Pool:
    """Where a level surface over the crest stands in a pitched box.

    n(s) = crest + head - (L - s) tan(pitch), never below the bed nor below the running water upstream.

    Args:
        length: Box length, shape (...). [in]
        pitch: Floor angle, falling to the tail, shape (...). [rad]
        crest: Height above the floor, at the tail, of the crest that spills, shape (...). [in]
        head: Head of water over that crest, shape (...). [in]
        bed: Depth of settled bed, shape (...). [in]
        running: Depth of running water over the bed, shape (...). [in]

    Returns:
        The pool, shapes (...). The bed is not part of it.

    Source: own derivation, docs/method.md#level-pool.
    """
    surface = crest + head
    fall = np.tan(pitch)
    level = fall <= _LEVEL
    above = np.maximum(surface - bed - running, 0.0)  # how far the pool stands over the running water at the tail
    reach = np.where(level, np.where(above > 0.0, length, 0.0), above / np.where(level, 1.0, fall))
    start = np.maximum(length - np.minimum(reach, length), 0.0)
    tail = np.maximum(running, surface - bed)
    head_depth = np.maximum(running, surface - bed - (length - start) * fall)
    return Pool(surface=surface, start=start, upstream=running, depth_start=head_depth, depth_tail=tail)


def weir_head(flow: Array, *, width: Array, pitch: Array) -> Array:
    """Head over a crest that spills, 1.5 y_c / cos(pitch).

    Args:
        flow: Whole discharge, shape (...). [in3/s]
        width: Width of the crest, shape (...). [in]
        pitch: Floor angle, shape (...). [rad]

    Returns:
        Head square to the floor, shape (...). [in]

    Source: minimum specific energy 1.5 y_c over a broad crest (seen in HDS-4 errata); docs/method.md#level-pool.
    """
    return np.asarray(1.5 * critical_depth(flow, width=width) / np.cos(pitch))


def slurry(flow: Array, *, feed: Array, loose_density: Array, gravity: Array, water: Array) -> tuple[Array, Array]:
    """Density and volume rate of water carrying its solids, rho_m = rho_w (1 + C_v (SG - 1)).

    Args:
        flow: Water, shape (...). [in3/s]
        feed: Loose solids fed, shape (...). [in3/s]
        loose_density: Weight of loose feed, shape (...). [lbf/in3]
        gravity: Specific gravity of the grains, shape (...). [1]
        water: Weight of water, shape (...). [lbf/in3]

    Returns:
        Density of the mixture [lbf/in3] and its volume rate [in3/s], shapes (...).

    Source: mass balance, any mineral processing text (memory); docs/method.md#running-water.
    """
    grains = feed * loose_density / (gravity * water)
    total = flow + grains
    share = np.where(total > 0.0, grains, 0.0) / np.where(total > 0.0, total, 1.0)
    return np.asarray(water * (1.0 + share * (gravity - 1.0))), np.asarray(total)

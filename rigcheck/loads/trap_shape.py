"""Cross-sections of traps: how much stands in them at a depth, and what they are made of. No case, arrays alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Area:
    """An area square to the trap, all shapes (...): its size [in2], and its centroid above the floor [in]."""

    size: Array
    n: Array


def segment(radius: Array, *, depth: Array) -> Area:
    """What stands in a half pipe whose edges are flush with the floor: the segment of its circle below a chord.

    A(h) = r^2 acos((r - h)/r) - (r - h) sqrt(2 r h - h^2), its centroid (2/3) (2 r h - h^2)^(3/2)/A below the middle.

    Args:
        radius: Inside, shape (...). [in]
        depth: Of what stands in it at its lowest place, up to the radius, shape (...). [in]

    Returns:
        The segment; of no depth it lies at the bottom.

    Source: circular segment (geometry); docs/method.md#traps-and-gates.
    """
    deep = np.clip(depth, 0.0, radius)
    up = radius - deep
    half = np.sqrt(np.maximum(radius**2 - up**2, 0.0))
    size = radius**2 * np.arccos(np.clip(up / radius, -1.0, 1.0)) - up * half
    # a film has the area of a parabola, whose terms above all cancel
    wet = size > 1e-9 * radius**2
    below = np.where(wet, 2.0 / 3.0 * half**3 / np.where(wet, size, 1.0), radius)
    return Area(np.asarray(size), np.asarray(-below))


def vee(leg: Array, *, depth: Array) -> Area:
    """What stands between the legs of an angle that hangs below the floor, each sloping 45 degrees: h^2 at depth h.

    Args:
        leg: Inside length of each leg, shape (...). [in]
        depth: Of what stands in it, up to leg/sqrt 2, shape (...). [in]

    Source: geometry; docs/method.md#traps-and-gates.
    """
    whole = leg / np.sqrt(2.0)
    deep = np.clip(depth, 0.0, whole)
    return Area(np.asarray(deep**2), np.asarray(2.0 / 3.0 * deep - whole))


def half_ring(inside: Array, *, wall: Array) -> Area:
    """Metal of a half pipe below the floor.

    Args:
        inside: Inside radius, shape (...). [in]
        wall: Shape (...). [in]

    Source: half an annulus (geometry); docs/method.md#traps-and-gates.
    """
    outside = inside + wall
    size = 0.5 * np.pi * (outside**2 - inside**2)
    thin = np.where(wall > 0.0, outside**2 - inside**2, 1.0)
    n = np.where(wall > 0.0, 4.0 * (outside**3 - inside**3) / (3.0 * np.pi * thin), 2.0 * inside / np.pi)
    return Area(np.asarray(size), np.asarray(-n))


def two_legs(leg: Array, *, wall: Array) -> Area:
    """Metal of an angle below the floor, its legs sloping 45 degrees.

    Args:
        leg: Outside length of each leg, shape (...). [in]
        wall: Shape (...). [in]

    Source: geometry; docs/method.md#traps-and-gates.
    """
    size = (2.0 * leg - wall) * wall
    # centroid of an L from the outside of either leg, (a^2 + a t - t^2)/(2 (2 a - t)), along the line between the legs
    out = (leg**2 + leg * wall - wall**2) / (2.0 * (2.0 * leg - wall))
    return Area(np.asarray(size), np.asarray(np.sqrt(2.0) * out - leg / np.sqrt(2.0)))

"""Whether the swinging box strikes the perch posts, their braces or the perch lugs."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.post_model import post_axis
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import reaches
from rigcheck.loads.steel import side_sheet
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.tables import shapes

_STILL = 1e-12  # in: a segment that moves less than this across a slab is taken as parallel to it


def envelope(rig: Rig) -> tuple[Array, Array, Array]:
    """Outline of the box in its own coordinates, fittings left out.

    Args:
        rig: The rig, one or a batch.

    Returns:
        Lowest and highest n and half the outside width, shapes (...). [in]

    Source: own geometry, docs/method.md#fold-clearance.
    """
    every = reaches(rig)
    if every[0].part:
        lows, highs, halves = zip(*(envelope(one.rig) for one in every), strict=True)
        low, high, half = (np.stack(np.broadcast_arrays(*some)) for some in (lows, highs, halves))
        return low.min(0), high.max(0), half.max(0)
    sheet, wall = rig.number("box.sheet"), side_sheet(rig)
    low, high = -sheet, rig.number("box.side_height")
    half = 0.5 * rig.number("box.width") + wall
    if rig.has("cross_member.shape"):
        depth = shapes.find(rig.value("cross_member.shape")).depth
        under = str(rig.value("cross_member.at")) == "under"
        low, high = (low - depth, high) if under else (low, high + depth)
    if rig.has("end_tube.shape"):
        low = np.minimum(low, -sheet - shapes.find(rig.value("end_tube.shape")).depth)
    if rig.has("rail.stiffener"):
        shape = shapes.find(rig.value("rail.stiffener"))
        place = str(rig.value("rail.at"))
        if place == "under":
            low = np.minimum(low, -shape.depth)
        elif place == "cap":
            high = np.maximum(high, rig.number("box.side_height") + shape.depth)
            half = np.maximum(half, half + 0.5 * (shape.width - wall))
        else:
            half = half + shape.width
    return np.asarray(low), np.asarray(high), np.asarray(half)


def _within_slab(first: Array, *, last: Array, low: Array, high: Array) -> tuple[Array, Array]:
    """Fractions of a segment between which a coordinate lies in a slab; entry after exit where it never does."""
    step = last - first
    moves = np.abs(step) > _STILL
    over = np.where(moves, step, 1.0)
    one, two = (low - first) / over, (high - first) / over
    inside = (first >= low) & (first <= high)
    enter = np.where(moves, np.minimum(one, two), np.where(inside, 0.0, 2.0))
    leave = np.where(moves, np.maximum(one, two), np.where(inside, 1.0, -1.0))
    return enter, leave


def _in_box(x: Array, *, z: Array, layout: Layout, at: Pose) -> tuple[Array, Array]:
    """A point of the plant in box coordinates s and n, shapes (..., state)."""
    s = x[..., None] * at.along[..., 0] + z[..., None] * at.along[..., 1]
    n = x[..., None] * at.normal[..., 0] + z[..., None] * at.normal[..., 1]
    return s, n + layout.hinge_height[..., None]


def _struck(rig: Rig, *, layout: Layout, at: Pose, ends: tuple[Array, Array, Array, Array], reach: float) -> Mask:
    """Side view: the box, grown by the half depth of a member, meets the member's axis, shape (..., state)."""
    low, high, _ = envelope(rig)
    s0, n0 = _in_box(ends[0], z=ends[1], layout=layout, at=at)
    s1, n1 = _in_box(ends[2], z=ends[3], layout=layout, at=at)
    first, last = _within_slab(s0, last=s1, low=np.asarray(-reach), high=layout.length[..., None] + reach)
    enter, leave = _within_slab(n0, last=n1, low=low[..., None] - reach, high=high[..., None] + reach)
    start = np.maximum(np.maximum(first, enter), 0.0)
    return np.asarray(start <= np.minimum(np.minimum(last, leave), 1.0))


def side_clearance(rig: Rig, *, layout: Layout) -> Array:
    """Gap between the side of the box and the inner face of a post, negative where the post stands in its path.

    Args:
        rig: The rig.
        layout: Its points, shapes (...).

    Returns:
        The gap; to the perch lug itself where no post is described, shape (...). [in]

    Source: own geometry, docs/method.md#fold-clearance.
    """
    _, _, half = envelope(rig)
    inner = 0.5 * layout.perch_spacing
    if rig.has("perch.post.shape"):
        shape = shapes.find(rig.value("perch.post.shape"))
        inner = inner - rig.number("perch.post.lug_offset") - 0.5 * max(shape.depth, shape.width)
    return np.asarray(inner - half)


def fouls(rig: Rig, *, layout: Layout, at: Pose) -> list[tuple[str, Mask]]:
    """What of the plant stands in the way of the box.

    The box passes between posts that stand wider than itself; where they do not, its side view must not meet theirs.
    A post that is not described counts as its perch lug alone.

    Args:
        rig: The rig.
        layout: Its points.
        at: The box in each row.

    Returns:
        Part and where it is struck, shapes (..., state).

    Source: own geometry, docs/method.md#fold-clearance.
    """
    x, z = layout.perch_x, layout.perch_z
    gap = side_clearance(rig, layout=layout)
    if not rig.has("perch.post.shape"):
        lug = _struck(rig, layout=layout, at=at, ends=(x, z, x, z), reach=0.0)
        return [("perch lugs", lug & (gap < 0.0)[..., None])]
    shape = shapes.find(rig.value("perch.post.shape"))
    reach = 0.5 * max(shape.depth, shape.width)
    foot = z - rig.number("perch.post.free_length")
    axis = post_axis(rig)
    post = _struck(rig, layout=layout, at=at, ends=(axis, z, axis, foot), reach=reach)
    post = post | _struck(rig, layout=layout, at=at, ends=(axis, z, x, z), reach=0.0)  # and the lug that stands out
    found = [("perch posts", post & (gap < 0.0)[..., None])]
    offset = 0.5 * layout.perch_spacing - rig.number("perch.post.lug_offset")
    beside = np.abs(0.5 * layout.hanger_spacing - offset) < reach
    level = (at.hanger_z <= z[..., None]) & (at.hanger_z >= foot[..., None])
    near = np.abs(at.hanger_x - axis[..., None]) < reach
    found.append(("perch posts, by the hangers", beside[..., None] & level & near))
    if rig.has("perch.post.brace.shape"):
        brace = shapes.find(rig.value("perch.post.brace.shape"))
        key = "perch.post.brace"
        ends = (axis, z - rig.number(f"{key}.top_below"), axis + rig.number(f"{key}.foot_downstream"),
                z - rig.number(f"{key}.foot_below"))  # fmt: skip
        thick = 0.5 * max(brace.depth, brace.width)
        struck = _struck(rig, layout=layout, at=at, ends=ends, reach=thick)
        inner = offset - thick < envelope(rig)[2]
        found.append(("braces of the perch posts", struck & inner[..., None]))
    return found

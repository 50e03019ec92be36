"""What stands in a stretch of the box as strips: layers between its sides, of a depth that may change along it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import Strip
from rigcheck.loads.shape import Reach
from rigcheck.loads.sizes import channel_offsets, channel_width, divider_sheet

PARTS = 4  # parts into which a stretch with sides that run apart is cut: strips are linear, what fills it is not

Ends = tuple[Array, Array]
"""A value at the head and at the tail of a stretch."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Layer:
    """What lies in a stretch between two stations, all shapes (...).

    Attributes:
        name: What it is.
        bottom: Its underside above the floor. [in]
        depth: Its thickness square to the floor at both ends. [in]
        density: Its weight. [lbf/in3]
        channel: Which channel it lies in, from the left; all of them where None.
    """

    name: str
    bottom: Array | float
    depth: Ends
    density: Array
    channel: int | None = None


def clear_width(one: Reach, width: Array, *, channel: int | None = None) -> Array:
    """Clear width of all channels, or of one, where the box is so wide inside, shape (...). [in]"""
    channels = int(one.rig.value("box.channels"))
    whole = width - (channels - 1) * divider_sheet(one.rig)
    return np.asarray(whole if channel is None else whole / channels)


def off_middle(one: Reach, width: Array, *, channel: int | None) -> Array:
    """Middle of a channel left of the middle of the box, where the box is so wide inside, shape (...). [in]"""
    if channel is None:
        return np.zeros(())
    channels = int(one.rig.value("box.channels"))
    step = clear_width(one, width, channel=channel) + divider_sheet(one.rig)
    return np.asarray(step * (0.5 * (channels - 1) - channel % channels))


def filled(one: Reach, layer: Layer, *, start: Array | None = None, end: Array | None = None) -> list[Strip]:
    """A layer in a stretch, or in part of it, as strips of its weight and center of gravity along the floor.

    Width b and depth d are linear between two stations; their product differs from the line between its ends by
    db dd (t^2 - t), whose integral is -db dd/6 with its center in the middle: so both ends are moved by -db dd/6.

    Args:
        one: The stretch.
        layer: What lies in it; its depths are those at `start` and `end`.
        start: Where it begins, the head of the stretch where None. [in]
        end: Where it ends, the tail of the stretch where None. [in]

    Returns:
        The strips: one where the sides are parallel, else `PARTS` of them.

    Source: own derivation, docs/method.md#stretches.
    """
    first = one.start if start is None else start
    last = one.end if end is None else end
    parts = 1 if one.straight else PARTS
    found = []
    for i in range(parts):
        a, b = ((1.0 - t) * first + t * last for t in (i / parts, (i + 1) / parts))
        d0, d1 = ((1.0 - t) * layer.depth[0] + t * layer.depth[1] for t in (i / parts, (i + 1) / parts))
        w0, w1 = (clear_width(one, one.width(s), channel=layer.channel) for s in (a, b))
        bow = (w1 - w0) * (d1 - d0) / 6.0
        wide = np.maximum(one.width(a), one.width(b))
        found.append(
            Strip(
                start=a,
                end=b,
                w_start=(w0 * d0 - bow) * layer.density,
                w_end=(w1 * d1 - bow) * layer.density,
                n_start=layer.bottom + 0.5 * d0,
                n_end=layer.bottom + 0.5 * d1,
                y=off_middle(one, wide, channel=layer.channel),
                reach=one.number,
                name=layer.name,
            )
        )
    return found


def even(one: Reach, layer: Layer) -> list[Strip]:
    """A layer as deep at its head as at its tail, over the whole of a stretch, or over a box that is one stretch."""
    if one.part:
        return filled(one, layer)
    rig = one.rig
    channels = int(rig.value("box.channels"))
    w = channel_width(rig) * (channels if layer.channel is None else 1) * layer.depth[0] * layer.density
    n = np.asarray(layer.bottom) + 0.5 * np.asarray(layer.depth[0])
    y = 0.0 if layer.channel is None else channel_offsets(rig)[layer.channel]
    length = rig.number("box.length")
    return [Strip(start=0.0, end=length, w_start=w, w_end=w, n_start=n, n_end=n, y=y, whole=True,
                  name=layer.name)]  # fmt: skip

"""What can be in the box: bed, running water, pool, packed gravel, ice, a person; each as strips and lumps."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import Lump, Strip
from rigcheck.loads.steel import channel_offsets, channel_width
from rigcheck.loads.water import GRAVITY, Flow, Pool, channel_flow, level_pool, slurry, weir_head
from rigcheck.tables.materials import material

FEED_STATION = 12.0  # falling feed is taken to land within a foot of the hinge; assumption, no source
PACKED = "packed gravel"
_POOL = "water behind the shut outlet"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Contents:
    """What the water and the bed come to, shapes (...).

    Attributes:
        flow: Steady flow per channel.
        density: Water with its solids. [lbf/in3]
        running: Depth of running water that loads the box, held to the sides. [in]
        overtops: True where the running water would stand above the sides.
        surge: Depth of a surge over the bed. [in]
        pool: The pool behind a shut outlet.
        impact: Force of falling feed. [lbf]
    """

    flow: Flow
    density: Array
    running: Array
    overtops: NDArray[np.bool_]
    surge: Array
    pool: Pool
    impact: Array


def contents(rig: Rig) -> Contents:
    """Depths and densities of everything that runs or stands in the box.

    Args:
        rig: The rig, one or a batch.

    Returns:
        Depths, shapes (...). A case without water has none running and plain water behind a shut outlet.

    Source: docs/method.md#running-water, #surge, #level-pool.
    """
    gamma = np.asarray(material("water, fresh").unit_weight)
    length, side, pitch = (rig.number(f"box.{key}") for key in ("length", "side_height", "pitch"))
    bed = rig.number("bed.depth")
    if rig.has("water.flow"):
        density, total = slurry(
            rig.number("water.flow"),
            feed=rig.number("water.feed"),
            loose_density=rig.number("water.solids_density"),
            gravity=rig.number("water.solids_sg"),
            water=gamma,
        )
        impact = density / GRAVITY * total * np.sqrt(2.0 * GRAVITY * rig.number("water.fall"))
        roughness = rig.number("water.roughness")
    else:
        density, total, impact, roughness = gamma, np.zeros(()), np.zeros(()), np.asarray(0.035)
    channels = int(rig.value("box.channels"))
    width = channel_width(rig)
    flow = channel_flow(total / channels, width=width, slope=np.sin(pitch), roughness=roughness)
    room = np.maximum(side - bed, 0.0)
    running = np.minimum(flow.depth, room)
    crest = np.minimum(rig.number_or("water.lip", side), side)
    pool = level_pool(
        length=length,
        pitch=pitch,
        crest=crest,
        head=weir_head(total, width=width * channels, pitch=pitch),
        bed=bed,
        running=running,
    )
    return Contents(
        flow=flow,
        density=density,
        running=running,
        overtops=flow.depth > room,
        surge=np.maximum(running, np.minimum(room, rig.number("factors.surge_depth") * running)),
        pool=pool,
        impact=np.asarray(impact),
    )


def layer(
    rig: Rig, name: str, *, bottom: Array | float, depth: Array | float, density: Array, channel: int | None = None
) -> list[Strip]:
    """A level-bottomed layer over the whole length of all channels, or of one.

    Args:
        rig: The rig.
        name: What it is, for people.
        bottom: Underside of the layer above the floor, shape (...). [in]
        depth: Its thickness square to the floor, shape (...). [in]
        density: Its weight, shape (...). [lbf/in3]
        channel: Which channel, from the left; all of them where not said.

    Returns:
        One strip; equal layers in all channels act in the middle of the box.
    """
    channels = int(rig.value("box.channels"))
    width = channel_width(rig) * (channels if channel is None else 1)
    w = width * depth * density
    n = np.asarray(bottom) + 0.5 * np.asarray(depth)
    y = 0.0 if channel is None else channel_offsets(rig)[channel]
    return [
        Strip(
            start=0.0, end=rig.number("box.length"), w_start=w, w_end=w, n_start=n, n_end=n, y=y, whole=True, name=name
        )
    ]


def bed_layer(rig: Rig) -> list[Strip]:
    """The settled bed at its running depth."""
    return layer(rig, "bed", bottom=0.0, depth=rig.number("bed.depth"), density=rig.number("bed.density"))


def left_over(rig: Rig) -> list[Strip]:
    """The share of the running bed that nobody shovelled out."""
    depth = rig.number("haul.left_over") * rig.number("bed.depth")
    return layer(rig, "bed left over", bottom=0.0, depth=depth, density=rig.number("bed.density"))


def running_layer(rig: Rig, found: Contents) -> list[Strip]:
    """Running water over the bed."""
    return layer(rig, "running water", bottom=rig.number("bed.depth"), depth=found.running, density=found.density)


def packed_depth(rig: Rig) -> Array:
    """Gravel to the top of the sides and the heap over them, shape (...). [in]"""
    return np.asarray(rig.number("box.side_height") + rig.number("bed.heap"))


def packed_layer(rig: Rig, found: Contents) -> list[Strip]:
    """Saturated gravel to the top of the sides, with the running depth of water over it."""
    depth = packed_depth(rig)
    gravel = layer(rig, PACKED, bottom=0.0, depth=depth, density=rig.number("bed.density"))
    over = np.minimum(found.flow.depth, rig.number("box.side_height"))
    return gravel + layer(rig, "water over the gravel", bottom=depth, depth=over, density=found.density)


def lopsided_layer(rig: Rig, *, side: int) -> list[Strip]:
    """One outer channel packed and the others dry; in an undivided box, gravel banked against one side.

    Args:
        rig: The rig.
        side: +1 for the left, -1 for the right.

    Returns:
        The strips. A bank is a triangle from the packed depth at one side to nothing at the other, which puts its
        centroid a sixth of the width off the middle and a third of its depth up.
    """
    depth, density = packed_depth(rig), rig.number("bed.density")
    if int(rig.value("box.channels")) > 1:
        return layer(rig, PACKED, bottom=0.0, depth=depth, density=density, channel=0 if side > 0 else -1)
    width = rig.number("box.width")
    w, n = 0.5 * width * depth * density, depth / 3.0
    length = rig.number("box.length")
    y = side * width / 6.0
    return [Strip(start=0.0, end=length, w_start=w, w_end=w, n_start=n, n_end=n, y=y, whole=True, name=PACKED)]


def pool_layer(rig: Rig, found: Contents) -> list[Strip]:
    """Running water down to the pool, then the pool to the tail; the bed is not in it."""
    pool, bed = found.pool, rig.number("bed.depth")
    per_depth = channel_width(rig) * int(rig.value("box.channels")) * found.density
    above, n = per_depth * pool.upstream, bed + 0.5 * pool.upstream
    return [
        Strip(start=0.0, end=pool.start, w_start=above, w_end=above, n_start=n, n_end=n, name=_POOL),
        Strip(
            start=pool.start,
            end=rig.number("box.length"),
            w_start=per_depth * pool.depth_start,
            w_end=per_depth * pool.depth_tail,
            n_start=bed + 0.5 * pool.depth_start,
            n_end=bed + 0.5 * pool.depth_tail,
            name=_POOL,
        ),
    ]


def ice_layer(rig: Rig) -> list[Strip]:
    """Ice over the frozen bed, to the top of the sides unless the case says less."""
    bed = rig.number("bed.depth")
    room = np.maximum(rig.number("box.side_height") - bed, 0.0)
    depth = room if rig.value("ice.full") else np.minimum(rig.number("ice.depth"), room)
    return layer(rig, "ice", bottom=bed, depth=depth, density=rig.number("ice.density"))


def feed_lump(rig: Rig, found: Contents) -> list[Lump]:
    """Force of the feed falling onto the head, rho Q v, as a weight within a foot of the hinge."""
    place = np.minimum(FEED_STATION, 0.5 * rig.number("box.length"))
    return [Lump(weight=found.impact, s=place, n=0.0, name="falling feed")]


def people(rig: Rig, *, s: Array | float, side: int) -> list[Lump]:
    """Everybody at one station on one side of the box, standing on the rail."""
    weight = rig.number("person.weight") * float(rig.value("person.people"))
    return [Lump(weight=weight, s=s, y=side * 0.5 * rig.number("box.width"), n=0.0, name="person")]

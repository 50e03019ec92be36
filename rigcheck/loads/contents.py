"""What can be in the box: bed, running water, pool, packed gravel, ice, a person; each as strips and lumps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.depths import Contents, both, contents
from rigcheck.loads.filling import Layer, even, filled
from rigcheck.loads.gate import held_gravel, held_water
from rigcheck.loads.pieces import Lump, Strip
from rigcheck.loads.shape import Reach, reaches, width_at
from rigcheck.loads.sizes import channel_width
from rigcheck.loads.traps import stands_left

__all__ = ["Contents", "contents"]
FEED_STATION = 12.0  # falling feed is taken to land within a foot of the hinge; assumption, no source
PACKED = "packed gravel"
_POOL = "water behind the shut outlet"


def _layers(
    rig: Rig, name: str, *, depth: Callable[[Reach], Array], density: Array, channel: int | None = None
) -> list[Strip]:
    """A layer on the floor of every stretch, all along as deep."""
    found: list[Strip] = []
    for one in reaches(rig):
        deep = depth(one)
        found += even(one, Layer(name=name, bottom=0.0, depth=(deep, deep), density=density, channel=channel))
    return found


def bed_layer(rig: Rig) -> list[Strip]:
    """The settled bed at its running depth, and what a gate holds back over it."""
    depth = rig.number("bed.depth")
    bed = _layers(rig, "bed", depth=lambda _: depth, density=rig.number("bed.density"))
    return [*bed, *held_gravel(rig)]


def left_over(rig: Rig) -> list[Strip]:
    """The share of the running bed that nobody shovelled out."""
    depth = rig.number("haul.left_over") * rig.number("bed.depth")
    bed = _layers(rig, "bed left over", depth=lambda _: depth, density=rig.number("bed.density"))
    share = rig.number("haul.left_over")
    behind = [replace(one, w_start=one.w_start * share, w_end=one.w_end * share) for one in held_gravel(rig)]
    return [*bed, *behind]


def taken_along(rig: Rig) -> list[Strip]:
    """What goes along when the box is folded or towed: the bed that is left over, and what is left in the traps."""
    return [*left_over(rig), *stands_left(rig)]


def running_layer(rig: Rig, found: Contents) -> list[Strip]:
    """Running water over the bed."""
    strips: list[Strip] = []
    for one in found.along:
        layer = Layer(name="running water", bottom=one.bed, depth=one.running, density=found.density)
        strips += even(one.reach, layer)
    return [*strips, *gate_water(rig, found)]


def gate_water(rig: Rig, found: Contents) -> list[Strip]:
    """Water over the gravel behind a gate, beyond what runs there anyway."""
    running = [np.minimum(*one.running) for one in found.along]
    return held_water(rig, head=found.over_gate, density=found.density, running=running)


def surge_layer(found: Contents) -> list[Strip]:
    """What a surge adds over the running water."""
    strips: list[Strip] = []
    for one in found.along:
        (run, run_tail), (surge, surge_tail) = one.running, one.surge
        bottom = one.bed + (run if not one.reach.part else np.maximum(run, run_tail))
        layer = Layer(name="water of the surge", bottom=bottom, depth=(surge - run, surge_tail - run_tail),
                      density=found.density)  # fmt: skip
        strips += even(one.reach, layer)
    return strips


def packed_depth(rig: Rig) -> Array:
    """Gravel to the top of the sides, the highest ones of a box in stretches, and the heap over them, (...). [in]"""
    return np.asarray(rig.number("box.side_height") + rig.number("bed.heap"))


def packed_gravel(rig: Rig) -> list[Strip]:
    """Saturated gravel to the top of the sides."""
    return _layers(rig, PACKED, depth=lambda one: packed_depth(one.rig), density=rig.number("bed.density"))


def packed_layer(rig: Rig, found: Contents) -> list[Strip]:
    """Saturated gravel to the top of the sides, with the running depth of water over it."""
    strips = packed_gravel(rig)
    for one in found.along:
        over = both(one.flow, np.minimum, one.reach.rig.number("box.side_height"))
        bottom = packed_depth(one.reach.rig)
        strips += even(one.reach, Layer(name="water over the gravel", bottom=bottom, depth=over, density=found.density))
    return strips


def lopsided_layer(rig: Rig, *, side: int) -> list[Strip]:
    """One outer channel packed and the others dry; in an undivided box, gravel banked against one side.

    Args:
        rig: The rig.
        side: +1 for the left, -1 for the right.

    Returns:
        The strips. A bank is a triangle from the packed depth at one side to nothing at the other, which puts its
        centroid a sixth of the width off the middle and a third of its depth up.
    """
    density = rig.number("bed.density")
    if int(rig.value("box.channels")) > 1:
        channel = 0 if side > 0 else int(rig.value("box.channels")) - 1
        return _layers(rig, PACKED, depth=lambda one: packed_depth(one.rig), density=density, channel=channel)
    if reaches(rig)[0].part:
        found = _layers(rig, PACKED, depth=lambda one: 0.5 * packed_depth(one.rig), density=density)
        every = reaches(rig)
        return [_banked(every[strip.reach or 0], strip, side=side) for strip in found]
    width, depth = rig.number("box.width"), packed_depth(rig)
    w, n = 0.5 * width * depth * density, depth / 3.0
    length = rig.number("box.length")
    y = side * width / 6.0
    return [Strip(start=0.0, end=length, w_start=w, w_end=w, n_start=n, n_end=n, y=y, whole=True, name=PACKED)]


def _banked(one: Reach, strip: Strip, *, side: int) -> Strip:
    """Half of a packed part, lying against one side."""
    n = packed_depth(one.rig) / 3.0
    wide = np.maximum(one.width(strip.start), one.width(strip.end))
    return replace(strip, n_start=n, n_end=n, y=side * wide / 6.0)


def pool_layer(rig: Rig, found: Contents) -> list[Strip]:
    """Running water down to the pool, then the pool to the tail; the bed is not in it."""
    if not reaches(rig)[0].part:
        return _whole_pool(rig, found)
    strips: list[Strip] = []
    for one in found.along:
        reach, meet = one.reach, one.pool_depth
        above = Layer(name=_POOL, bottom=one.bed, depth=(one.pool[0], meet), density=found.density)
        below = Layer(name=_POOL, bottom=one.bed, depth=(meet, one.pool[1]),
                      density=found.density)  # fmt: skip
        strips += filled(reach, above, end=one.pool_start)
        strips += filled(reach, below, start=one.pool_start)
    return strips


def _whole_pool(rig: Rig, found: Contents) -> list[Strip]:
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
    bed, strips = rig.number("bed.depth"), []
    for one in reaches(rig):
        room = np.maximum(one.rig.number("box.side_height") - bed, 0.0)
        depth = room if rig.value("ice.full") else np.minimum(rig.number("ice.depth"), room)
        layer = Layer(name="ice", bottom=bed, depth=(depth, depth), density=rig.number("ice.density"))
        strips += even(one, layer)
    return strips


def feed_lump(rig: Rig, found: Contents) -> list[Lump]:
    """Force of the feed falling onto the head, rho Q v, as a weight within a foot of the hinge."""
    place = np.minimum(FEED_STATION, 0.5 * rig.number("box.length"))
    return [Lump(weight=found.impact, s=place, n=0.0, name="falling feed")]


def people(rig: Rig, *, s: Array | float, side: int) -> list[Lump]:
    """Everybody at one station on one side of the box, standing on the rail."""
    weight = rig.number("person.weight") * float(rig.value("person.people"))
    return [Lump(weight=weight, s=s, y=side * 0.5 * width_at(rig, s), n=0.0, name="person")]

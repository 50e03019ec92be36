"""How deep the water runs, surges and stands in every stretch of the box, and what it weighs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.filling import Ends, clear_width
from rigcheck.loads.gate import head_over, surge_from
from rigcheck.loads.shape import Reach, reaches
from rigcheck.loads.sizes import channel_width
from rigcheck.loads.water import GRAVITY, Flow, Pool, channel_flow, critical_depth, level_pool, slurry, weir_head
from rigcheck.tables.materials import material

_SAME = 1e-9  # in; widths that differ by rounding are one


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Depths:
    """How deep the water runs in one stretch, at its head and at its tail, shapes (...).

    Attributes:
        reach: The stretch.
        bed: Settled bed. [in]
        flow: Depth of the flow, whatever the sides. [in]
        running: Running over the bed, held to the sides. [in]
        surge: During a surge. [in]
        pool: Of the pool behind a shut outlet over the bed, never less than what runs. [in]
        pool_start: Where the pool meets the running water, within the stretch. [in]
        pool_depth: Depth over the bed there. [in]
    """

    reach: Reach
    bed: Array
    flow: Ends
    running: Ends
    surge: Ends
    pool: Ends
    pool_start: Array
    pool_depth: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Contents:
    """What the water and the bed come to, shapes (...).

    Attributes:
        flow: Depth in one channel, where the box is narrowest.
        density: Water with its solids. [lbf/in3]
        running: Running depth over the bed there, held to the side height. [in]
        overtops: True where the flow asks for more than the sides have over the bed.
        surge: Depth during a surge. [in]
        pool: The pool behind a shut outlet, at the tail.
        impact: Force of falling feed. [lbf]
        over_gate: Depth of the water over a gate; nothing without one. [in]
        along: The same stretch by stretch.
    """

    flow: Flow
    density: Array
    running: Array
    overtops: NDArray[np.bool_]
    surge: Array
    pool: Pool
    impact: Array
    over_gate: Array
    along: tuple[Depths, ...]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Stream:
    """What runs, shapes (...): weight [lbf/in3], volume [in3/s], force of its fall [lbf], Manning's n."""

    density: Array
    total: Array
    impact: Array
    roughness: Array


def _stream(rig: Rig) -> _Stream:
    gamma = np.asarray(material("water, fresh").unit_weight)
    if not rig.has("water.flow"):
        return _Stream(gamma, np.zeros(()), np.zeros(()), np.asarray(0.035))
    density, total = slurry(
        rig.number("water.flow"),
        feed=rig.number("water.feed"),
        loose_density=rig.number("water.solids_density"),
        gravity=rig.number("water.solids_sg"),
        water=gamma,
    )
    impact = density / GRAVITY * total * np.sqrt(2.0 * GRAVITY * rig.number("water.fall"))
    return _Stream(density, total, np.asarray(impact), rig.number("water.roughness"))


def contents(rig: Rig) -> Contents:
    """Depths and densities of everything that runs or stands in the box.

    Args:
        rig: The rig, one or a batch.

    Returns:
        Depths, shapes (...). A case without water has none running and plain water behind a shut outlet.

    Source: docs/method.md#running-water, #surge, #level-pool, #stretches.
    """
    length, pitch = rig.number("box.length"), rig.number("box.pitch")
    bed, stream, every = rig.number("bed.depth"), _stream(rig), reaches(rig)
    channels = int(rig.value("box.channels"))
    flows = [_flows(one, stream=stream, channels=channels, pitch=pitch) for one in every]
    depths = _with_chokes(every, flows=flows, stream=stream, pitch=pitch)
    deepest = flows[0][0] if len(every) == 1 else _deepest([one for both in flows for one in both])
    last = every[-1]
    rooms = [np.maximum(one.rig.number("box.side_height") - bed, 0.0) for one in every]
    runs = [both(depth, np.minimum, room) for depth, room in zip(depths, rooms, strict=True)]
    factor, over_gate = rig.number("factors.surge_depth"), head_over(rig, total=stream.total)
    wave = surge_from(rig, head=over_gate)
    surges = [
        both(ends, lambda y, most: np.maximum(y, np.minimum(most, np.maximum(factor * y, y + wave))), room)
        for ends, room in zip(runs, rooms, strict=True)
    ]
    pool = level_pool(
        length=length,
        pitch=pitch,
        crest=_crest(rig, every=every, length=length, pitch=pitch),
        head=weir_head(stream.total, width=_weir_width(last, channels), pitch=pitch),
        bed=bed,
        running=runs[-1][1],
    )
    along = tuple(
        depths_in(
            one, bed=bed, flow=flow, run=run, surge=surge, level=Level(surface=pool.surface, length=length, pitch=pitch)
        )
        for one, flow, run, surge in zip(every, depths, runs, surges, strict=True)
    )
    over = [np.maximum(a, b) > room for (a, b), room in zip(depths, rooms, strict=True)]
    return Contents(
        flow=deepest,
        density=stream.density,
        running=runs[0][0] if len(every) == 1 else _most([value for both in runs for value in both]),
        overtops=np.asarray(np.any(np.stack(np.broadcast_arrays(*over)), axis=0)) if len(every) > 1 else over[0],
        surge=surges[0][0] if len(every) == 1 else _most([value for both in surges for value in both]),
        pool=pool,
        impact=stream.impact,
        over_gate=over_gate,
        along=along,
    )


def both(ends: Ends, hold: Callable[[Array, Array], Array], limit: Array) -> Ends:
    """Both ends held to a limit."""
    return hold(ends[0], limit), hold(ends[1], limit)


def _most(values: Sequence[Array]) -> Array:
    return np.asarray(np.max(np.stack(np.broadcast_arrays(*values)), axis=0))


def _weir_width(last: Reach, channels: int) -> Array:
    """Width of the crest at the tail."""
    return channel_width(last.rig) * channels if not last.part else clear_width(last, last.tail)


def _flows(one: Reach, *, stream: _Stream, channels: int, pitch: Array) -> tuple[Flow, Flow]:
    """Flow at the head and at the tail of a stretch, as if it ran on as wide as there."""
    if not one.part:
        flow = channel_flow(stream.total / channels, width=channel_width(one.rig), slope=np.sin(pitch),
                            roughness=stream.roughness)  # fmt: skip
        return flow, flow
    found = [
        channel_flow(stream.total / channels, width=clear_width(one, width, channel=0), slope=np.sin(pitch),
                     roughness=stream.roughness)
        for width in ((one.head,) if one.straight else (one.head, one.tail))
    ]  # fmt: skip
    return found[0], found[-1]


def _deepest(flows: Sequence[Flow]) -> Flow:
    """Of some flows the one that is deepest, design by design."""
    place = np.argmax(np.stack(np.broadcast_arrays(*(flow.depth for flow in flows))), axis=0)

    def of(name: str) -> Array:
        table = np.stack(np.broadcast_arrays(*(getattr(flow, name) for flow in flows)))
        return np.asarray(np.take_along_axis(table, place[None], axis=0)[0])

    return Flow(**{name: of(name) for name in ("normal", "critical", "depth", "froude")},
                by_critical=of("by_critical").astype(np.bool_))  # fmt: skip


def _with_chokes(
    every: Sequence[Reach], *, flows: Sequence[tuple[Flow, Flow]], stream: _Stream, pitch: Array
) -> list[Ends]:
    """Depth of the flow at both ends of every stretch; upstream of a narrower place no less than that place asks for.

    Water that is to pass a narrow place needs the specific energy 1.5 y_c there; upstream it is never deeper than that
    energy, whether the place chokes it or not: so that much is taken all the way up.

    Source: least specific energy (seen in HDS-4 errata); own derivation, docs/method.md#stretches.
    """
    found: list[Ends] = []
    narrowest: Array | None = None
    for one, (head, tail) in zip(reversed(every), reversed(flows), strict=True):
        ends = head.depth, tail.depth
        if one.part:
            below = one.tail if narrowest is None else np.minimum(narrowest, one.tail)
            channels = int(one.rig.value("box.channels"))
            asked = 1.5 * critical_depth(stream.total / channels, width=clear_width(one, below, channel=0))
            asked = np.where(below < np.maximum(one.head, one.tail) - _SAME, asked / np.cos(pitch), 0.0)
            closing = np.where(one.tail < one.head - _SAME, asked, 0.0)
            later = np.where(below < one.tail - _SAME, asked, 0.0)
            ends = (
                np.maximum(ends[0], np.where(below < one.head - _SAME, asked, 0.0)),
                np.maximum(ends[1], np.maximum(closing, later)),
            )
            narrowest = np.minimum(below, one.head)
        found.append(ends)
    return found[::-1]


def _crest(rig: Rig, *, every: Sequence[Reach], length: Array, pitch: Array) -> Array:
    """Height over the floor at the tail at which water spills: over the lip, or over the side of any stretch."""
    last = every[-1].rig.number("box.side_height")
    crest = np.minimum(rig.number_or("water.lip", last), last)
    for one in every[:-1]:
        crest = np.minimum(crest, one.rig.number("box.side_height") + (length - one.end) * np.tan(pitch))
    return crest


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Level:
    """A pool's surface, shapes (...).

    Attributes:
        surface: Height over the floor at the tail of the box. [in]
        length: Of the box. [in]
        pitch: Angle of its floor. [rad]
    """

    surface: Array
    length: Array
    pitch: Array


def depths_in(one: Reach, *, bed: Array, flow: Ends, run: Ends, surge: Ends, level: Level) -> Depths:
    """Depths in one stretch, its part of the pool among them.

    Args:
        one: The stretch.
        bed: Settled bed, shape (...). [in]
        flow: Depth of the flow at its ends. [in]
        run: The same, held to the sides. [in]
        surge: During a surge. [in]
        level: Of the pool.

    Source: docs/method.md#level-pool, #stretches.
    """
    fall = np.tan(level.pitch)
    head, tail = (level.surface - bed - (level.length - s) * fall for s in (one.start, one.end))
    over_head, over_tail = head - run[0], tail - run[1]
    # both are linear: they meet where the pool begins
    apart = over_tail - over_head
    safe = np.where(apart != 0.0, apart, 1.0)
    share = np.where(over_head >= 0.0, 0.0, np.where(over_tail <= 0.0, 1.0, -over_head / safe))
    share = np.clip(share, 0.0, 1.0)
    start = one.start + share * one.length
    there = np.maximum(run[0] + share * (run[1] - run[0]), head + share * (tail - head))
    return Depths(
        reach=one,
        bed=bed,
        flow=flow,
        running=run,
        surge=surge,
        pool=(np.maximum(run[0], head), np.maximum(run[1], tail)),
        pool_start=start,
        pool_depth=there,
    )

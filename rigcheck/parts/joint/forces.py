"""What runs through the rails at a joint of two stretches, and what a weld or a row of bolts there takes of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import reaches
from rigcheck.loads.sizes import stiffener_height
from rigcheck.tables import shapes

_TOUCH = 1e-6  # in


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Cut:
    """What runs through each rail just before and just behind a joint, shapes (2, ..., pair, side).

    Attributes:
        pull: Along the rail, tension positive. [lbf]
        moment: About the floor, sagging positive. [lbf*in]
        shear: Square to the floor. [lbf]
    """

    pull: Array
    moment: Array
    shear: Array


def cut_at(solution: Solution, *, at: Array) -> Cut:
    """Forces in both rails on either side of a station, along the box; those of rails askew in plan by 1/cos.

    Args:
        solution: The statics.
        at: The station, one of those at which stretches meet, shape (...). [in]

    Source: docs/method.md#stretches.
    """
    run, along = solution.bent.forces.curves, solution.layout.along
    assert along is not None
    whole = run.moment.shape[:-1]
    start, span = (np.broadcast_to(part, whole) for part in (run.start, run.span))
    # of pieces of no length at the station itself, between loads that act at one place, neither side is one
    station = at[..., None, None, None]
    behind, before = ((start < station + near).sum(-1)[..., None] - 1 for near in (_TOUCH, -_TOUCH))
    nothing, behind = before < 0, np.maximum(behind, 0)
    before = np.where(nothing, behind, before)  # no rail lies before the hinge
    length = np.where(nothing, 0.0, np.take_along_axis(span, before, axis=-1))
    axis, cos = (along.value(name, s=start, axes=3) for name in ("axis", "cos"))

    def value(derivative: Array, place: NDArray[np.intp], t: Array) -> Array:
        total = np.zeros(t.shape)
        for order in range(derivative.shape[-1] - 1, -1, -1):
            total = total * t / (order + 1) + np.take_along_axis(derivative[..., order], place, axis=-1)
        return total

    found: list[tuple[Array, Array, Array]] = []
    for place, reach in ((before, length), (behind, np.zeros(behind.shape))):
        pushed = value(run.axial, place, reach)
        n_0, skew = (np.take_along_axis(np.broadcast_to(part, whole), place, axis=-1) for part in (axis, cos))
        moment = value(run.moment, place, reach) + pushed * n_0
        found.append((-pushed / skew, moment / skew, value(run.shear, place, reach)))
    pull, moment, shear = (np.stack([one[k][..., 0] for one in found]) for k in range(3))
    return Cut(pull, moment, shear)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Group:
    """Weld of one rail's joint as lines, shapes (...).

    Attributes:
        length: Of all lines. [in]
        center: Above the floor. [in]
        inertia: About the center. [in3]
        far: Farthest line from the center. [in]
        upright: Length that takes the shear. [in]
    """

    length: Array
    center: Array
    inertia: Array
    far: Array
    upright: Array


def weld_group(rig: Rig, number: int) -> Group:
    """The weld up a side wall, round the stiffener and along the strip of floor that counts with the rail.

    Args:
        rig: The rig.
        number: Stretch that joins the one before.

    Source: welds as lines (memory); docs/method.md#stretches.
    """
    every, key = reaches(rig), f"stretch.{number}.joint"
    both = every[number - 1].rig, every[number].rig
    low = np.minimum(*(one.number("box.side_height") for one in both))
    upright = rig.number_or(f"{key}.weld_length", low)
    lines = [(upright, 0.5 * upright, upright**3 / 12.0, upright, 0.0 * upright)]
    if rig.value(f"{key}.stiffener") and all(one.has("rail.stiffener") for one in both):
        bars = [shapes.find(one.value("rail.stiffener")) for one in both]
        bar = min(bars, key=lambda one: one.depth + one.width)
        height = np.minimum(*(stiffener_height(one)[0] for one in both))
        round_it = np.asarray(2.0 * (bar.depth + bar.width))
        lines.append((round_it, height, 0.0 * height, height + 0.5 * bar.depth, height - 0.5 * bar.depth))
    strip = rig.number("rail.effective_floor_width")
    if rig.value(f"{key}.floor"):
        lines.append((strip, 0.0 * strip, 0.0 * strip, 0.0 * strip, 0.0 * strip))
    length = np.sum(np.broadcast_arrays(*(line[0] for line in lines)), axis=0)
    center = np.sum(np.broadcast_arrays(*(line[0] * line[1] for line in lines)), axis=0) / length
    inertia = np.sum(np.broadcast_arrays(*(own + n * (c - center) ** 2 for n, c, own, _, _ in lines)), axis=0)
    ends = [np.abs(end - center) for line in lines for end in line[3:]]
    far = np.max(np.stack(np.broadcast_arrays(*ends)), axis=0)
    return Group(np.asarray(length), np.asarray(center), np.asarray(inertia), far, np.asarray(upright))


def weld_force(cut: Cut, group: Group) -> Array:
    """Largest force per inch of weld on either side of the joint, shape (..., pair, side). [lbf/in]"""
    length, center, inertia, far, upright = (
        part[..., None, None] for part in (group.length, group.center, group.inertia, group.far, group.upright)
    )
    moment = cut.moment + cut.pull * center
    out = np.abs(cut.pull) / length + np.abs(moment) * far / inertia
    return np.asarray(np.hypot(out, cut.shear / upright).max(0))


def bolt_forces(rig: Rig, number: int, *, cut: Cut) -> tuple[Array, Array]:
    """Largest pull of a bolt and shear of each, on either side of the joint, shapes (2, ..., pair, side). [lbf]

    N/n + M y/sum y^2 about the middle of the row, and V/n: nothing is counted on the flanges pressing on each other.

    Args:
        rig: The rig.
        number: Stretch that joins the one before.
        cut: What runs through the rails.

    Source: elastic bolt group (memory); docs/method.md#stretches.
    """
    key = f"stretch.{number}.joint"
    count, pitch = int(rig.value(f"{key}.count")), rig.number(f"{key}.pitch")
    half = 0.5 * (count - 1)
    square = sum((i - half) ** 2 for i in range(count)) * pitch**2
    center = (rig.number(f"{key}.first") + half * pitch)[..., None, None]
    moment = cut.moment + cut.pull * center
    pull = np.maximum(cut.pull, 0.0) / count + np.abs(moment) * (half * pitch / square)[..., None, None]
    return np.asarray(pull), np.abs(cut.shear) / count

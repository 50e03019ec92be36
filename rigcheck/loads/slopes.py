"""The plant on sloping ground: which ways it leans in a row, and which of two mirror images is left out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import Lump, Row, Strip

WAYS = {"left": 1.0, "right": -1.0}
STEEP, EASY = 1.0, -1.0
"""The end that makes the box turn harder about its hinge is low, or the other one."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Ground:
    """How the plant may lean.

    Attributes:
        across: Tangent of the slope across the plant, shape (...). [1]
        along: Tangent of the slope along it, shape (...). [1]
        leans_across: Whether any of them leans that way.
        leans_along: Whether any of them leans that way.
        even: True where the rig is alike on both sides, so that of two mirror images one is enough.
        rig: The rig.
    """

    across: Array
    along: Array
    leans_across: bool
    leans_along: bool
    even: bool
    rig: Rig

    @property
    def sides(self) -> tuple[str, ...]:
        """The sides that a load which stands on one of them is put on."""
        return ("left",) if self.even else tuple(WAYS)

    def words(self, low: str, tail: Array) -> dict[str, str]:
        """What is low, for the variant of a row: nothing where the ground is level that way."""
        found = {"low_side": low} if self.leans_across else {}
        if self.leans_along and not self.rig.varied:
            found["low_end"] = "tail" if tail > 0.0 else "head"
        return found


def ground(rig: Rig, *, lumps: Iterable[Lump]) -> Ground:
    """The slopes of a rig, and whether its empty box and the plant under it are alike on both sides.

    Args:
        rig: The rig, one or a batch.
        lumps: Lumps of the empty box.

    Returns:
        The ground.

    Source: docs/method.md#slopes.
    """
    even = all(bool(np.all((np.asarray(one.y) == 0.0) | (np.asarray(one.weight) == 0.0))) for one in lumps)
    even = even and even_plant(rig)
    across, along = (np.tan(rig.number(f"plant.{key}")) for key in ("cross_slope", "fore_aft_slope"))
    return Ground(
        across=across,
        along=along,
        leans_across=bool(np.any(across > 0.0)),
        leans_along=bool(np.any(along > 0.0)),
        even=even,
        rig=rig,
    )


def even_plant(rig: Rig) -> bool:
    """Whether the plant is alike on both sides as far as it is described: its weight on the middle, feet in pairs."""
    feet = rig.value("plant.foot")
    if not feet or not rig.has("plant.weight"):
        return True

    count = len(feet)
    height = -rig.number_or("hinge.above_ground", 0.0)
    soles = [[rig.number(f"plant.foot.{i}.{key}") for key in ("downstream", "across")] for i in range(count)]
    soles = [[*soles[i], rig.number_or(f"plant.foot.{i}.height", height)] for i in range(count)]

    def mirrored(sole: list[Array]) -> bool:
        x, y, z = sole
        return any(all(bool(np.all(a == b)) for a, b in zip((x, -y, z), other, strict=True)) for other in soles)

    return bool(np.all(rig.number("plant.cg_across") == 0.0)) and all(mirrored(sole) for sole in soles)


def center(strips: Iterable[Strip], lumps: Iterable[Lump]) -> tuple[Array, Array]:
    """Center of weights with their factors, along the floor and above it, shapes (...). [in]"""
    weight, first_s, first_n = np.zeros(()), np.zeros(()), np.zeros(())
    for strip in strips:
        own, s, n = _of_strip(strip)
        weight, first_s, first_n = weight + own, first_s + s, first_n + n
    for lump in lumps:
        heavy = lump.weight * np.asarray(lump.gain)
        weight, first_s, first_n = weight + heavy, first_s + heavy * lump.s, first_n + heavy * lump.n
    safe = np.where(weight > 0.0, weight, 1.0)
    return np.asarray(first_s / safe), np.asarray(first_n / safe)


def _of_strip(strip: Strip) -> tuple[Array, Array, Array]:
    """Weight and first moments along and square to the floor of a linear strip, its factor in them."""
    span, w0, w1 = np.asarray(strip.end) - strip.start, np.asarray(strip.w_start), np.asarray(strip.w_end)
    n0, n1 = strip.n_start, strip.n_end
    weight = 0.5 * (w0 + w1) * span
    s = weight * strip.start + (w0 + 2.0 * w1) * span**2 / 6.0
    n = span * (2.0 * w0 * n0 + w0 * n1 + w1 * n0 + 2.0 * w1 * n1) / 6.0
    return weight * strip.gain, s * strip.gain, n * strip.gain


def low_tail(s: Array, *, n: Array, fold: Array | float, rig: Rig) -> Array:
    """+1 where a low tail makes the box turn harder about its hinge, -1 where a low head does, shape (...).

    With g = (g_x, g_y, -1) the weight turns the box by W (x + z g_x): harder where z g_x has the sign of x.

    Args:
        s: Center of the weights along the floor, shape (...). [in]
        n: The same above the floor, shape (...). [in]
        fold: Fold angle, shape (...). [rad]
        rig: The rig.

    Source: own derivation, docs/method.md#slopes.
    """
    x, z = from_hinge(s, n=n, fold=fold, rig=rig)
    return np.where(x * z >= 0.0, 1.0, -1.0)


def from_hinge(s: Array, *, n: Array, fold: Array | float, rig: Rig) -> tuple[Array, Array]:
    """A point of the box from the hinge axis in plant axes x and z, shapes (...). [in]"""
    angle, up = np.asarray(fold) - rig.number("box.pitch"), n - rig.number("hinge.height")
    cos, sin = np.cos(angle), np.sin(angle)
    return s * cos - up * sin, s * sin + up * cos


def leaning(row: Row, *, on: Ground, low: str, end: float, tail: Array) -> Row:
    """A row with the plant leaning.

    Args:
        row: The row on level ground; what its gravity has besides the weight stays.
        on: The ground.
        low: The side that is low.
        end: `STEEP` or `EASY`.
        tail: From `low_tail`.

    Returns:
        The row; its variant names what is low where the ground is not level that way.

    Source: docs/method.md#slopes.
    """
    end_tail = end * tail
    g_x, g_y, g_z = row.gravity
    gravity = (g_x + end_tail * on.along, g_y + WAYS[low] * on.across, g_z)
    return replace(row, gravity=gravity, variant={**row.variant, **on.words(low, end_tail)})


def every_way(row: Row, *, on: Ground, lows: Iterable[str], ends: Iterable[float] = (STEEP, EASY)) -> list[Row]:
    """A row with the plant leaning to each of some sides and ends; level ground is not looked at twice.

    Args:
        row: The row on level ground.
        on: The ground.
        lows: The sides that are low, in turn.
        ends: `STEEP`, `EASY` or both.

    Returns:
        The rows.
    """
    sides = list(lows) if on.leans_across else list(lows)[:1]
    tips = list(ends) if on.leans_along else list(ends)[:1]
    s, n = center(row.strips, row.lumps)
    tail = low_tail(s, n=n, fold=row.fold, rig=on.rig)
    return [leaning(row, on=on, low=low, end=end, tail=tail) for low in sides for end in tips]


def sided(row: Row) -> str | None:
    """The side on which the load of a row stands, people or packed gravel; None where it stands in the middle."""
    side = row.variant.get("person_side", row.variant.get("packed_side"))
    return None if side is None else str(side)

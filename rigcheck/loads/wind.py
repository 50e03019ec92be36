"""Wind on the folded box: pressure on its face and on its side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import Push
from rigcheck.loads.shape import reaches
from rigcheck.loads.sizes import side_sheet

VELOCITY_PRESSURE = 0.00256
"""Pressure of 1 mph of wind, psf. Source: ASCE 7, q = 0.00256 K_z K_zt K_d V^2 (seen), the three K taken as 1.0."""
PARKED_SHAPE = 1.8
"""Force coefficient of a flat face, gust factor 1.0. Source: ASCE 7, solid signs (1.8 on a square one, seen)."""
ROAD_SHAPE = 1.3
"""Force coefficient on the road. Source: assumption, a bluff body in the wake of what tows it."""
LEVEL_SHAPE = 1.2
"""Force coefficient square to a floor that lies nearly level, up or down.

Source: ASCE 7, net pressure on the windward half of a free roof up to 7.5 degrees, 1.2 (memory), taken on all of it.
"""
_MPH = 17.6  # inches a second in a mile an hour, 63360/3600
_SQUARE_FOOT = 144.0
TOWARD = ("+x", "-x", "+y", "-y")  # where the wind blows to, plant axes


def pressure(speed: Array) -> Array:
    """Velocity pressure, 0.00256 V^2 in psf and mph.

    Args:
        speed: Wind speed, shape (...). [in/s]

    Returns:
        Pressure, shape (...). [psi]

    Source: ASCE 7 (seen), K_z, K_zt and K_d taken as 1.0.
    """
    return np.asarray(VELOCITY_PRESSURE * (speed / _MPH) ** 2 / _SQUARE_FOOT)


def speed_of(pressure_: Array) -> Array:
    """Wind speed that makes a velocity pressure, the inverse of `pressure`.

    Args:
        pressure_: Pressure, not negative, shape (...). [psi]

    Returns:
        Speed, shape (...). [in/s]
    """
    return np.asarray(_MPH * np.sqrt(pressure_ * _SQUARE_FOOT / VELOCITY_PRESSURE))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Outline:
    """What the wind meets of a box, shapes (...).

    Attributes:
        width: Over its sides, the mean along the box. [in]
        height: Of its sides, the mean along the box. [in]
        at: Where it presses, along the floor and above it: at the center of the floor or of the sides, whichever is
            farther from the hinge. [in]
    """

    width: Array
    height: Array
    at: tuple[Array, Array]


def outline(rig: Rig, *, width: Array) -> Outline:
    """The outline of a box; where it is in stretches, the areas of its stretches over its length.

    Args:
        rig: The rig.
        width: Box over its sides where it is widest, shape (...). [in]

    Source: geometry; docs/method.md#stretches.
    """
    length, side = rig.number("box.length"), rig.number("box.side_height")
    every = reaches(rig)
    if not every[0].part:
        return Outline(width, side, (0.5 * length, 0.5 * side))
    zero = np.zeros(())
    floor, floor_s, wall, wall_s, wall_n = zero, zero, zero, zero, zero
    for one in every:
        head, tail = (inside + 2.0 * side_sheet(one.rig) for inside in (one.head, one.tail))
        high, middle = one.rig.number("box.side_height"), one.start + 0.5 * one.length
        area = 0.5 * (head + tail) * one.length
        floor = floor + area
        floor_s = floor_s + area * one.start + (head + 2.0 * tail) * one.length**2 / 6.0
        wall, wall_s = wall + high * one.length, wall_s + high * one.length * middle
        wall_n = wall_n + 0.5 * high**2 * one.length
    at = np.maximum(floor_s / floor, wall_s / wall), np.asarray(wall_n / wall)
    return Outline(np.asarray(floor / length), np.asarray(wall / length), at)


def face_push(
    stress: Array, *, length: Array, width: Array, height: Array, angle: Array, at: tuple[Array, Array] | None = None
) -> dict[str, Push]:
    """Push on the box from four directions.

    Along the plant the wind meets the floor's face, length x width as the wind sees it, and presses square to that
    face; across the plant it meets one side, length x height. The open ends and the lee side are not counted.

    Args:
        stress: Velocity pressure times force coefficient, shape (...). [psi]
        length: Box, shape (...). [in]
        width: Box over its sides, shape (...). [in]
        height: Sides, shape (...). [in]
        angle: Floor above level, shape (...). [rad]
        at: Where it presses, along the floor and above it; at the middle of the box where None. [in]

    Returns:
        One push for each word of `TOWARD`.

    Source: own derivation, docs/method.md#wind.
    """
    face = stress * length * width * np.sin(angle)
    # e_n = (-sin, cos): square to the floor, turned so that its x goes with the wind
    along, up = face * np.sin(angle), -face * np.cos(angle)
    aside = stress * length * height
    s, n = (0.5 * length, 0.5 * height) if at is None else at
    return {
        "+x": Push(fx=along, fz=up, s=s, n=n),
        "-x": Push(fx=-along, fz=-up, s=s, n=n),
        "+y": Push(fy=aside, s=s, n=n),
        "-y": Push(fy=-aside, s=s, n=n),
    }


def wind_push(rig: Rig, *, speed: Array, factor: float, angle: Array, width: Array) -> dict[str, Push]:
    """The same for a rig at one fold.

    Args:
        rig: The rig.
        speed: Wind speed, shape (...). [in/s]
        factor: Force coefficient. [1]
        angle: Floor above level, shape (...). [rad]
        width: Box over its sides, shape (...). [in]

    Returns:
        One push for each word of `TOWARD`.
    """
    seen = outline(rig, width=width)
    return face_push(
        pressure(speed) * factor,
        length=rig.number("box.length"),
        width=seen.width,
        height=seen.height,
        angle=angle,
        at=seen.at,
    )


def hung_pushes(rig: Rig, *, angle: Array, width: Array) -> dict[str, dict[str, Push]]:
    """Gust on a box that hangs or is being folded: square to the floor either way, on its ends and on its side.

    Square to the floor it presses q B L times the larger of 1.2 and 1.8 |sin angle|. Near level a gust lifts or
    presses from whatever side it comes; the ends are taken as shut over the height of the sides.

    Args:
        rig: The rig.
        angle: Floor above level, shape (...). [rad]
        width: Box over its sides, shape (...). [in]

    Returns:
        For each word of `TOWARD`, the push with the gust pressing the box down and out, and up and inward.

    Source: own derivation, docs/method.md#wind-hung.
    """
    stress = pressure(rig.number("wind.hung"))
    length, seen = rig.number("box.length"), outline(rig, width=width)
    floor = stress * length * seen.width * np.maximum(LEVEL_SHAPE, PARKED_SHAPE * np.abs(np.sin(angle)))
    end = stress * PARKED_SHAPE * width * rig.number("box.side_height")
    side = stress * PARKED_SHAPE * length * seen.height
    s, n = seen.at
    cos, sin = np.cos(angle), np.sin(angle)
    ways = {"+x": (1.0, 0.0), "-x": (-1.0, 0.0), "+y": (0.0, 1.0), "-y": (0.0, -1.0)}
    return {
        toward: {
            # e_s = (cos, sin) along the floor, e_n = (-sin, cos) square to it; the end takes the wind's part along it
            word: Push(
                fx=-sign * floor * sin + along * end * cos**2,
                fy=across * side,
                fz=sign * floor * cos + along * end * cos * sin,
                s=s,
                n=n,
            )
            for word, sign in (("down", -1.0), ("up", 1.0))
        }
        for toward, (along, across) in ways.items()
    }

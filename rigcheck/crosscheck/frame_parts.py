"""The stretches of a box for its space frame, from the case file alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig


@dataclass(frozen=True, slots=True)
class Part:
    """One stretch of both rails. [in] unless said.

    Attributes:
        start: Station of its head.
        end: Station of its tail.
        head: Between the rails there.
        tail: Between them at its tail.
        area: Of a rail. [in2]
        axis: Neutral axis of a rail above the floor.
        inertia: Of a rail about the axis that the floor constrains. [in4]
        twist: Torsion constant of the box by itself. [in4]
    """

    start: float
    end: float
    head: float
    tail: float
    area: float
    axis: float
    inertia: float
    twist: float

    @property
    def longer(self) -> float:
        """Length of a rail over that of the floor."""
        return hypot(self.end - self.start, 0.5 * (self.tail - self.head)) / (self.end - self.start)


@dataclass(frozen=True, slots=True)
class Sizes:
    """What a stretch is made of. [in]"""

    length: float
    head: float
    tail: float
    side: float
    sheet: float
    wall: float
    stiffener: str | None


def sizes_of(rig: Rig, *, design: tuple[int, ...]) -> list[Sizes]:
    """The stretches as the case writes them, what they leave out as in [box] and [rail]; [box] alone is one."""

    def own(key: str, otherwise: float) -> float:
        if not rig.has(key):
            return otherwise
        value = np.asarray(rig.number(key))
        return float(value[design]) if value.ndim else float(value)

    sheet, width = own("box.sheet", 0.0), own("box.width", 0.0)
    bar = str(rig.value("rail.stiffener")) if rig.has("rail.stiffener") else None
    whole = Sizes(own("box.length", 0.0), width, width, own("box.side_height", 0.0), sheet,
                  own("box.side_sheet", sheet), bar)  # fmt: skip
    found: list[Sizes] = []
    for number, one in enumerate(rig.value("stretch") or ()):
        key = f"stretch.{number}"
        head = own(f"{key}.width", found[-1].tail if found else width)
        floor = own(f"{key}.sheet", whole.sheet)
        wall = own(f"{key}.side_sheet", own("box.side_sheet", floor))
        found.append(
            Sizes(own(f"{key}.length", 0.0), head, own(f"{key}.width_tail", head),
                  own(f"{key}.side_height", whole.side), floor, wall, one.stiffener or bar)
        )  # fmt: skip
    return found or [whole]


def meeting(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The same with rails that meet: halfway where walls of unlike sheet put them apart."""
    found = list(parts)
    for k in range(len(found) - 1):
        middle = 0.5 * (found[k].tail + found[k + 1].head)
        found[k], found[k + 1] = replace(found[k], tail=middle), replace(found[k + 1], head=middle)
    return tuple(found)


def number_at(parts: Sequence[Part], s: float) -> int:
    """Stretch in which a station lies."""
    return sum(1 for part in parts[1:] if s >= part.start)


def apart(parts: Sequence[Part], s: Array) -> Array:
    """Between the rails at stations; beyond both ends as there. [in]"""
    ends = [parts[0].start, *(part.end for part in parts)]
    return np.asarray(np.interp(s, ends, [parts[0].head, *(part.tail for part in parts)]))

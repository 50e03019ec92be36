"""The box along its length: the stretches that it is made of, each with the rig as if all of it were like that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.case.schema.sections import changed
from rigcheck.loads.sizes import side_sheet

_OWN = ("side_height", "sheet", "side_sheet")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Reach:
    """One stretch of a box, all shapes (...).

    Attributes:
        number: Which, counted from 0.
        start: Station of its head. [in]
        end: Station of its tail. [in]
        head: Inside width there. [in]
        tail: Inside width at its tail. [in]
        rig: The rig as if the whole box were like this stretch, as wide as it is at its widest.
        part: Whether it is one of a box in stretches, and not the box itself.
    """

    number: int
    start: Array
    end: Array
    head: Array
    tail: Array
    rig: Rig
    part: bool

    @property
    def length(self) -> Array:
        """Along the floor. [in]"""
        return np.asarray(self.end - self.start)

    @property
    def slant(self) -> Array:
        """Length of a side wall over that of the floor, 1 / cos of the angle between both in plan. [1]"""
        return np.asarray(np.sqrt(1.0 + (0.5 * (self.tail - self.head) / self.length) ** 2))

    @property
    def straight(self) -> bool:
        """Whether it is as wide at its tail as at its head in every design."""
        return bool(np.all(self.head == self.tail))

    def width(self, s: Array | float) -> Array:
        """Inside width at a station within it. [in]"""
        share = np.clip((s - self.start) / self.length, 0.0, 1.0)
        return np.asarray(self.head + share * (self.tail - self.head))


def divided(rig: Rig) -> bool:
    """Whether the case describes the box in stretches."""
    return bool(rig.value("stretch"))


def reaches(rig: Rig) -> tuple[Reach, ...]:
    """The stretches of the box from head to tail; [box] alone is one.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The stretches.

    Source: docs/method.md#stretches.
    """
    return rig.once("reaches", _reaches)


def _reaches(rig: Rig) -> tuple[Reach, ...]:
    width, zero = rig.number("box.width"), 0.0 * rig.number("box.length")
    if not divided(rig):
        return (Reach(0, zero, rig.number("box.length"), width, width, rig, False),)
    found: list[Reach] = []
    start = zero
    for number in range(len(rig.value("stretch"))):
        key = f"stretch.{number}"
        end = np.asarray(start + rig.number(f"{key}.length"))
        if number == len(rig.value("stretch")) - 1:
            end = rig.number("box.length")
        head = rig.number_or(f"{key}.width", found[-1].tail if found else width)
        tail = rig.number_or(f"{key}.width_tail", head)
        found.append(Reach(number, start, end, head, tail, _alike(rig, number, np.maximum(head, tail)), True))
        start = end
    return tuple(found)


def _alike(rig: Rig, number: int, width: Array) -> Rig:
    """The rig as if its whole box were like one stretch."""
    key = f"stretch.{number}"
    case, box, numbers = rig.case, {"width": float(np.max(width))}, {}
    if rig.varied:
        numbers["box.width"] = width
    for name in _OWN:
        own = f"{key}.{name}"
        if rig.value(own) is not None:
            box[name] = rig.value(own)
        if own in rig.varied:
            numbers[f"box.{name}"] = rig.varied[own]
    dropped = {f"box.{name}" for name in box}
    changes: dict[str, object] = {"box": changed(case.box, box), "stretch": ()}
    stiffener = rig.value(f"{key}.stiffener")
    if stiffener is not None:
        changes["rail"] = changed(case.rail, {"stiffener": stiffener})
    kept = {name: values for name, values in rig.varied.items() if name not in dropped and not _of_stretch(name)}
    return _with(rig, changes, {**kept, **numbers})


def _of_stretch(name: str) -> bool:
    return name.partition(".")[0] == "stretch"


def _with(rig: Rig, changes: Mapping[str, object], numbers: Mapping[str, Array]) -> Rig:
    return Rig(changed(rig.case, changes), numbers)


def at_station(rig: Rig, s: Array) -> Reach:
    """The stretch in which a station lies; of a batch, that in which it lies in most of its designs.

    Args:
        rig: The rig.
        s: The station, shape (...). [in]
    """
    every = reaches(rig)
    inside = [float(np.mean((s >= one.start) & (s < one.end))) for one in every]
    return every[int(np.argmax(inside))] if max(inside) > 0.0 else every[-1 if np.all(s > 0.0) else 0]


def side_at_tail(rig: Rig) -> Array:
    """Height of the sides at the tail, shape (...). [in]"""
    return reaches(rig)[-1].rig.number("box.side_height")


def width_at(rig: Rig, s: Array | float) -> Array:
    """Inside width of the box at a station, shape (...). [in]"""
    every = reaches(rig)
    found = every[0].width(s)
    for one in every[1:]:
        found = np.where(np.asarray(s) >= one.start, one.width(s), found)
    return np.asarray(found)


def thinnest_side(rig: Rig) -> Array:
    """Thickness of the side walls where they are thinnest, shape (...). [in]"""
    every = [side_sheet(one.rig) for one in reaches(rig)]
    return every[0] if len(every) == 1 else np.asarray(np.min(np.stack(np.broadcast_arrays(*every)), axis=0))

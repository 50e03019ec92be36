"""A gate across the box: what it weighs, and the gravel and water that it holds back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.filling import Layer, clear_width, filled
from rigcheck.loads.pieces import Strip
from rigcheck.loads.shape import Reach, at_station, reaches, width_at
from rigcheck.loads.take_off import Cut, Piece
from rigcheck.loads.water import weir_head
from rigcheck.tables.materials import steel_density

WAVE = 4.0 / 9.0
"""Depth of the wave over that behind a gate that goes, at the gate and less beyond. Source: Ritter's dam break on a dry
level floor without friction (memory)."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Gate:
    """A gate, all shapes (...): where it stands, its top above the floor and the floor's clear width there. [in]"""

    at: Array
    height: Array
    clear: Array


def gate(rig: Rig) -> Gate | None:
    """The gate of a rig; None where it has none."""
    if not rig.value("gate"):
        return None
    at = rig.number("gate.0.at")
    place = at_station(rig, at - 1e-6)
    return Gate(at=at, height=rig.number("gate.0.height"), clear=clear_width(place, place.width(at)))


def gate_pieces(rig: Rig) -> list[Piece]:
    """The plate of a gate, over its slot."""
    found = gate(rig)
    if found is None:
        return []
    slot, sheet = rig.number("gate.0.opening"), rig.number("gate.0.sheet")
    high, wide = found.height - slot, width_at(rig, found.at)
    cut = Cut(name="gate", key="gate", sheet=sheet, count=1, length=wide, across=high,
              steel=str(rig.value("gate.0.steel")))  # fmt: skip
    text = "geometry at 490 lb/ft3 (AISC Manual, memory)"
    return [
        Piece("gate", "gate", high * wide * sheet * steel_density(), found.at, 0.0 * found.at,
              np.asarray(slot + 0.5 * high), False, text, cut=cut)
    ]  # fmt: skip


def head_over(rig: Rig, *, total: Array) -> Array:
    """Depth of the water that runs over a gate, its slot plugged, shape (...); nothing without a gate. [in]

    Args:
        rig: The rig.
        total: Water and solids through the whole box, shape (...). [in3/s]

    Source: docs/method.md#traps-and-gates.
    """
    found = gate(rig)
    return np.zeros(()) if found is None else weir_head(total, width=found.clear, pitch=rig.number("box.pitch"))


def surge_from(rig: Rig, *, head: Array) -> Array:
    """Depth of the wave where the gate goes with all that stands behind it, shape (...). [in]

    Args:
        rig: The rig.
        head: Of the water over the gate, shape (...). [in]

    Source: Ritter's dam break (memory); docs/method.md#traps-and-gates.
    """
    found = gate(rig)
    return np.zeros(()) if found is None else np.asarray(WAVE * (found.height + head))


def held_gravel(rig: Rig) -> list[Strip]:
    """Gravel over the bed up to the top of the gate, all the way from the hinge to it."""
    found = gate(rig)
    if found is None:
        return []
    bed = rig.number("bed.depth")
    deep = np.maximum(found.height - bed, 0.0)
    layer = Layer(name="gravel behind the gate", bottom=bed, depth=(deep, deep), density=rig.number("bed.density"))
    return [strip for one in reaches(rig) for strip in _up_to(found, one, layer=layer)]


def held_water(rig: Rig, *, head: Array, density: Array, running: list[Array]) -> list[Strip]:
    """Water over the gravel behind a gate, as far as it is deeper than what runs there anyway.

    Args:
        rig: The rig.
        head: Of the water over the gate, shape (...). [in]
        density: Of the water, shape (...). [lbf/in3]
        running: Depth that runs in each stretch at its shallower end, shapes (...). [in]
    """
    found = gate(rig)
    if found is None:
        return []
    top, strips = np.maximum(found.height, rig.number("bed.depth")), []
    for one, runs in zip(reaches(rig), running, strict=True):
        room = np.maximum(one.rig.number("box.side_height") - top, 0.0)
        deep = np.maximum(np.minimum(head, room) - runs, 0.0)
        layer = Layer(name="water over the gate", bottom=top, depth=(deep, deep), density=density)
        strips += _up_to(found, one, layer=layer)
    return strips


def _up_to(found: Gate, one: Reach, *, layer: Layer) -> list[Strip]:
    """A layer in the part of a stretch that lies before the gate."""
    end = np.minimum(found.at, one.end)
    if not np.any(end > one.start):
        return []
    return filled(one, layer, end=np.maximum(end, one.start))

"""Sizes of the box that many loads and parts need: sheets, channels, stiffener, how many cross-members."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.tables import shapes


def stiffener_height(rig: Rig) -> tuple[Array, float, float]:
    """Centroid of the rail's stiffener above the floor, and its depth and width. [in]"""
    shape = shapes.find(rig.value("rail.stiffener"))
    side = rig.number("box.side_height")
    rise = shape.depth - shape.y_bar
    centroid = {
        "top": side - rise,
        "cap": side + shape.y_bar,
        "bottom": 0.0 * side + shape.y_bar,
        "under": 0.0 * side - rise,
    }[str(rig.value("rail.at"))]
    return np.asarray(centroid), shape.depth, shape.width


def stiffener_on_top(rig: Rig) -> bool:
    """Whether a stiffener runs along the top of the rail, or caps it."""
    return rig.has("rail.stiffener") and str(rig.value("rail.at")) in ("top", "cap")


def cross_member_count(rig: Rig) -> Array:
    """Cross-members at 0, one spacing, two spacings and so on to the tail, shape (...)."""
    return np.asarray(np.floor(rig.number("box.length") / rig.number("cross_member.spacing") + 1e-9) + 1.0)


def side_sheet(rig: Rig) -> Array:
    """Thickness of the side walls, the floor's where none is given, shape (...). [in]"""
    return rig.number_or("box.side_sheet", rig.number("box.sheet"))


def divider_sheet(rig: Rig) -> Array:
    """Thickness of the dividers, the floor's where none is given, shape (...). [in]"""
    return rig.number_or("box.divider_sheet", rig.number("box.sheet"))


def channel_width(rig: Rig) -> Array:
    """Clear width of one channel, shape (...). [in]"""
    channels = int(rig.value("box.channels"))
    return np.asarray((rig.number("box.width") - (channels - 1) * divider_sheet(rig)) / channels)


def channel_offsets(rig: Rig) -> list[Array]:
    """Middle of each channel across, from the left one to the right one, shapes (...). [in]"""
    channels = int(rig.value("box.channels"))
    step = channel_width(rig) + divider_sheet(rig)
    return [np.asarray(step * (0.5 * (channels - 1) - i)) for i in range(channels)]

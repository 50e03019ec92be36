"""Ways in which the floor sheet is held against something."""

from enum import Enum

FOOT = 4.0  # in: width of a boot across the span; our own assumption


class FloorWay(Enum):
    """Which way it is, and its words."""

    LOAD = "bending under its load"
    BOOT = f"bending under one boot print, {FOOT:g} in wide, weight at rest"
    SAG = "sag between supports"

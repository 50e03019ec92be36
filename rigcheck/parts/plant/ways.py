"""Ways in which a plant can tip."""

from enum import Enum


class TipWay(Enum):
    """Which way it is, and its words; one side stands for both where plant and box are alike on both sides."""

    DOWNSTREAM = "toward the tail"
    UPSTREAM = "upstream"
    LEFT = "to the left"
    RIGHT = "to the right"
    SIDEWAYS = "sideways"

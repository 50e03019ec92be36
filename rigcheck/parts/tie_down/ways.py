"""Ways in which the folded box on the road is held against something."""

from enum import Enum


class RoadWay(Enum):
    """Which way it is, and its words."""

    STRAP = "pull along a strap"
    STOP = "compression"
    NUMBER = "number"
    SUM = "aggregate working load limit"
    HOLD_DOWN = "hold-down"
    WIDTH = "overall width"
    HEIGHT = "overall height"

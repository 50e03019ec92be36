"""Ways in which bare sheet is held against what is welded to it."""

from enum import Enum


class SheetWay(Enum):
    """Which way it is, and its words."""

    UNDER_LUG = "the wall under a lug bends"
    UNDER_BARRELS = "the floor under barrels bends"

"""Ways in which bare sheet is held against what is welded to it."""

from enum import Enum


class SheetWay(Enum):
    """Which way it is, and the part that bends."""

    UNDER_LUG = "side wall under the hanger lug"
    UNDER_BARRELS = "floor sheet under the hinge barrels"

"""What a check is of: every part by an id of its own, whose value is what it is called."""

from __future__ import annotations

from enum import StrEnum


class Item(StrEnum):
    """A part that is held against something. Code asks for the member, people read its value."""

    HINGE_PIN = "hinge pin"
    BARREL = "hinge barrel"
    BARREL_WELD = "hinge barrel weld"
    BARREL_FACE = "hinge barrel face"
    PLANT_BARREL = "plant hinge barrel"
    PLANT_BARREL_WELD = "plant hinge barrel weld"
    EAR_PIN = "hinge ear pin"
    EAR_FACE = "hinge ear face"
    BOX_EAR = "hinge ear"
    BOX_EAR_WELD = "hinge ear weld"
    PLANT_EAR = "plant hinge ear"
    PLANT_EAR_WELD = "plant hinge ear weld"
    PIVOT_BAR = "pivot bar"
    PIVOT_EAR = "pivot ear"
    PIVOT_EAR_WELD = "pivot ear weld"
    PIVOT_EAR_FACE = "pivot ear face"
    PIVOT_LUG = "pivot lug"
    PIVOT_LUG_WELD = "pivot lug weld"
    HANGER_LUG = "hanger lug"
    HANGER_LUG_WELD = "hanger lug weld"
    HANGER_LUG_FACE = "hanger lug face"
    PERCH_LUG = "perch lug"
    PERCH_LUG_WELD = "perch lug weld"
    PERCH_LUG_FACE = "perch lug face"
    POST = "perch post"
    POST_WELD = "perch post base weld"
    BRACE = "knee brace"
    BRACE_FACE = "knee brace face"
    RAIL = "rail"
    STIFFENER = "rail stiffener"
    WALL_SEAM = "seam of stiffener and side wall"
    FLOOR_SEAM = "seam of side wall and floor"
    SIDE_WALL = "side wall"
    SIDE_WALL_UNDER_LUG = "side wall under the hanger lug"
    CROSS_MEMBER = "cross-member"
    CROSS_MEMBER_WELD = "cross-member end weld"
    HANGER_MEMBER = "hanger cross-member"
    HANGER_MEMBER_WELD = "hanger cross-member end weld"
    HEAD_MEMBER = "head cross-member"
    HEAD_MEMBER_WELD = "head cross-member end weld"
    TAIL_TUBE = "tail end tube"
    TAIL_TUBE_WELD = "tail end tube end weld"
    FLOOR = "floor sheet"
    FLOOR_UNDER_BARRELS = "floor sheet under the hinge barrels"
    SNUB = "snub line"
    TIE_DOWNS = "tie-downs"
    LEGAL_SIZE = "legal height and width"
    PLANT = "plant on its feet"


AT_MID_WIDTH = frozenset({Item.PIVOT_BAR, Item.PIVOT_LUG, Item.PIVOT_LUG_WELD})
"""Parts of which a rig has one, on neither side."""
LUGS = {"hanger": Item.HANGER_LUG, "perch": Item.PERCH_LUG}
"""The lug at either end of a line."""
LUG_WELDS = {"hanger": Item.HANGER_LUG_WELD, "perch": Item.PERCH_LUG_WELD}
LUG_FACES = {"hanger": Item.HANGER_LUG_FACE, "perch": Item.PERCH_LUG_FACE}
MEMBER_WELDS = {
    Item.CROSS_MEMBER: Item.CROSS_MEMBER_WELD,
    Item.HANGER_MEMBER: Item.HANGER_MEMBER_WELD,
    Item.HEAD_MEMBER: Item.HEAD_MEMBER_WELD,
    Item.TAIL_TUBE: Item.TAIL_TUBE_WELD,
}
"""The weld at the ends of each member across the box."""
EAR_WELDS = {
    Item.BOX_EAR: Item.BOX_EAR_WELD,
    Item.PLANT_EAR: Item.PLANT_EAR_WELD,
    Item.PIVOT_EAR: Item.PIVOT_EAR_WELD,
    Item.PIVOT_LUG: Item.PIVOT_LUG_WELD,
}
"""The weld of each ear of a hinge or pivot."""

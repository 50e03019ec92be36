"""Ways in which a perch post, its base weld and its brace are held against something."""

from enum import Enum


class PostWay(Enum):
    """Which way it is, and its words."""

    FORE = "bending fore and aft"
    ACROSS = "bending across"
    AXIAL = "axial"
    SHEAR = "shear"
    TORSION = "torsion from the lug's offset"
    TOGETHER = "bending, axial, shear and torsion together"
    WELD = "force per inch"
    BRACE = "axial, pinned ends"

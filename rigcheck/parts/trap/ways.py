"""Ways in which a trap is held against something."""

from enum import Enum


class TrapWay(Enum):
    """Which way it is, and its words."""

    MEMBER = "bending, shear and torsion together"
    WELD = "force per inch"
    SEAM = "shear flow of its cell"

"""Ways in which a rail is held against something, beside its deflection."""

from enum import Enum


class RailWay(Enum):
    """Which way it is, and its words."""

    STRESS = "stress, bending with axial"
    TOGETHER = "bending both ways, shear and torsion together"
    COLUMN = "compression with bending, hinge to hanger"
    EDGE = "top edge buckling sideways"
    WALL = "side wall under the hanger, screening"
    SHEAR = "shear in the side wall"
    TORSION = "torsion at the hanger"
    SIDEWAYS = "sideways bending at the hanger"

"""Ways in which the barrels of a hinge and its pin are held against something."""

from enum import Enum


class HingeWay(Enum):
    """Which way it is, and its words."""

    PIN_BENDING = "bending across the gaps"
    PIN_SHEAR = "shear"
    BEARING = "bearing on the pin"
    WALL = "net section and tear-out of the barrel wall"
    THRUST = "end thrust on one face"
    WELD = "force per inch, worst direction"
    BAR_BENDING = "bending between ears and lug"
    ROOT_TWISTED = "bending both ways, tension and torsion at the weld root"

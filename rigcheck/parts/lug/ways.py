"""Ways in which a lug and its weld are held against something."""

from enum import Enum


class LugWay(Enum):
    """Which way it is, and its words."""

    TENSION = "tension beside the hole"
    SPLITTING = "single-plane fracture beyond the hole"
    SHEAR = "double-plane shear beyond the hole"
    BEARING = "bearing on the pin"
    ROOT = "bending both ways with tension at the weld root"
    WELD = "force per inch"

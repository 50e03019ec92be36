"""Ways in which a joint of stretches, or the member where the sides turn, is held against something."""

from enum import Enum


class JointWay(Enum):
    """Which way it is, and its words."""

    WELD = "force per inch of its weld"
    BOLTS = "bolts, tension and shear together"
    FLANGE = "flange bent by a bolt"
    TURN = "bent by the rails and by the floor"

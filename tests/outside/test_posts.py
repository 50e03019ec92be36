"""A perch post worked by hand by others: line direction, base moment, base weld."""

import numpy as np

from rigcheck.analysis.post_model import lug_force
from rigcheck.statics.geometry import Layout, pose
from rigcheck.statics.post import Post, PostForces, post_forces
from rigcheck.strength.bases import FRAME
from rigcheck.strength.connections.weld_lines import WeldLoad, peak_force, rectangle
from rigcheck.strength.connections.welds import Joint, fillet_allowable
from rigcheck.tables import shapes
from tests.outside.values import check

SHAPE = shapes.find("HSS3x3x3/16")


def _carried() -> PostForces:
    box = {"pitch": np.arctan(1.5 / 12.0), "length": 84.0, "hinge_height": 0.0, "hinge_spacing": 24.0}
    hanger = {"hanger_s": 56.0, "hanger_n": 6.0, "hanger_spacing": 26.0, "rail_spacing": 24.1046}
    perch = {"perch_x": -4.0, "perch_z": 42.0, "perch_spacing": 26.0}
    layout = Layout(**{name: np.array(value) for name, value in {**box, **hanger, **perch}.items()})
    pull = np.full((1, 1, 2), 1.33 * 711.0)
    force = lug_force(pose(layout, fold=np.zeros(1)), pull=pull)[0, 0, 0]
    stiff = np.array(29.0e6)
    none = np.array(0.0)
    post = Post(
        length=np.array(40.0), fore=stiff, across=stiff, axial=stiff, twist=stiff, offset=none,
        joint=np.array(40.0), lean=none, drop=none, brace=none,
    )  # fmt: skip
    return post_forces(post, force=force)


def test_base_of_the_post():
    carried = _carried()
    check("post_base_moment", abs(carried.base_moment[1]) / 1000.0)
    force, moment = carried.base_force, carried.base_moment
    load = WeldLoad(fx=force[1], fy=-force[0], fz=force[2], mx=moment[1], my=-moment[0], mz=moment[2])
    peak = peak_force(rectangle(SHAPE.width, depth=SHAPE.depth), load=load)
    for name, leg in (("post_weld_eighth", 0.125), ("post_weld_three_sixteenths", 0.1875)):
        joint = Joint(leg=leg, length=SHAPE.width, electrode=70.0e3, thickness=SHAPE.t_design, fy=46.0e3, fu=58.0e3)
        check(name, peak / fillet_allowable(joint, basis=FRAME))

"""A lug stands out from the side of its post: what its reach does to post, brace and give."""

from dataclasses import replace

import numpy as np
import pytest
from anastruct.fem.system import SystemElements

from rigcheck.analysis.post_model import post_of
from rigcheck.analysis.solve import solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.post.checks import post_loads
from rigcheck.statics.post import lug_give, post_forces, tip_movement
from tests.parts.test_posts import BOX
from tests.statics.test_post import BRACED, FREE, REACH

OUT = 3.25
PULL = np.array([0.72, 0.05, -0.69])
LUG = """
[perch.lug]
plate = "1/2 in"
hole = "11/16 in"
edge = "1 1/4 in"
width = "3 in"
stand_off = "1 1/2 in"
[perch.post]
shape = "HSS4x4x1/4"
free_length = "20 in"
steel = "A500B"
"""


def test_moment_is_that_of_the_hole_about_the_base():
    post = replace(FREE, offset=np.array(2.0), reach=np.array(OUT))
    carried = post_forces(post, force=1000.0 * PULL)
    assert carried.base_moment == pytest.approx(np.cross([OUT, 2.0, 58.0], 1000.0 * PULL))
    assert float(carried.top_fore) == pytest.approx(OUT * 690.0)
    assert float(carried.torque) == pytest.approx(OUT * 50.0 - 2.0 * 720.0)


@pytest.mark.parametrize("post", [replace(FREE, joint=np.array(49.0)), BRACED])
def test_a_plane_frame_with_a_rigid_arm_gives_the_same(post):
    post = replace(post, reach=np.array(OUT))
    force = np.array([720.0, 0.0, -690.0])
    length, joint = float(post.length), float(post.joint)
    frame = SystemElements(EA=float(post.axial), EI=float(post.fore))
    frame.add_element([[0.0, 0.0], [0.0, joint]])
    frame.add_element([[0.0, joint], [0.0, length]])
    frame.add_element([[0.0, length], [OUT, length]], EA=1e12, EI=1e14)
    if float(post.brace) > 0.0:
        foot = [REACH * float(post.lean), joint + REACH * float(post.drop)]
        frame.add_truss_element([[0.0, joint], foot], EA=float(post.brace) * REACH)
        frame.add_support_hinged(node_id=frame.find_node_id(foot))
    frame.add_support_fixed(node_id=frame.find_node_id([0.0, 0.0]))
    frame.point_load(node_id=frame.find_node_id([OUT, length]), Fx=720.0, Fy=-690.0)
    frame.solve()
    base = frame.get_node_results_system(node_id=frame.find_node_id([0.0, 0.0]))
    hole = frame.get_node_displacements(node_id=frame.find_node_id([OUT, length]))
    top = frame.get_node_displacements(node_id=frame.find_node_id([0.0, length]))
    carried = post_forces(post, force=force)
    assert carried.base_moment[1] == pytest.approx(-base["Tz"], rel=1e-6)
    assert carried.base_force[[0, 2]] == pytest.approx([base["Fx"], base["Fy"]], rel=1e-6)
    assert tip_movement(post, force=force)[0] == pytest.approx(top["ux"], rel=1e-6)
    unit = force / np.hypot(720.0, 690.0)
    moved = hole["ux"] * unit[0] + hole["uy"] * unit[2]
    assert float(lug_give(post, pull=unit)) * np.hypot(720.0, 690.0) == pytest.approx(moved, rel=1e-6)


def test_a_short_post_hands_the_reach_of_its_lug_to_the_plant():
    """Half of 4 in and 1 1/2 in of stand-off: 3 1/2 in beside the axis of a 20 in post."""
    rig = Rig(read_case_text(BOX.replace("[line]\n", LUG + "[line]\n")))
    assert float(post_of(rig).reach) == 3.5
    solution = solve(rig)
    loads = post_loads(solution)
    i = next(k for k, one in enumerate(solution.rows) if one.state == "packed")
    at = (i, BOUNDS.index("stiff"), 0)
    force = loads.force[at]
    assert force[0] > 0.0 and force[2] < 0.0
    assert loads.moment[at][1] == pytest.approx(20.0 * force[0] - 3.5 * force[2])
    assert loads.moment[at][1] > 1.1 * 20.0 * force[0]

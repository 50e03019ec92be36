"""Second opinion on a knee-braced post: the same post and brace as a plane frame of a general frame solver."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rigcheck.statics.post import Post


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class FramePost:
    """What the frame solver says of one post, side view.

    Attributes:
        brace_pull: Tension of the brace. [lbf]
        base: Post on plant at the base: x and z [lbf], moment about y [lbf*in].
        tip: Movement of the lug, x and z. [in]
    """

    brace_pull: float
    base: tuple[float, float, float]
    tip: tuple[float, float]


def frame_post(post: Post, *, reach: float, force: tuple[float, float]) -> FramePost:
    """Solve one braced post as a frame.

    Args:
        post: One post with a brace, shapes ().
        reach: Length of the brace. [in]
        force: At the lug, x and z. [lbf]

    Returns:
        Brace tension, what the base hands to the plant, and the movement of the lug.

    Source: plane frame, stiffness method.
    """
    from anastruct.fem.system import SystemElements

    length, joint = float(post.length), float(post.joint)
    post_ea, post_ei = float(post.axial), float(post.fore)
    foot = [reach * float(post.lean), joint + reach * float(post.drop)]
    frame: Any = SystemElements(EA=post_ea, EI=post_ei)
    frame.add_element([[0.0, 0.0], [0.0, joint]])
    if length > joint:
        frame.add_element([[0.0, joint], [0.0, length]])
    frame.add_truss_element([[0.0, joint], foot], EA=float(post.brace) * reach)
    base, tip = frame.find_node_id([0.0, 0.0]), frame.find_node_id([0.0, length])
    frame.add_support_fixed(node_id=base)
    frame.add_support_hinged(node_id=frame.find_node_id(foot))
    frame.point_load(node_id=tip, Fx=force[0], Fy=force[1])
    frame.solve()
    brace = frame.get_element_results(element_id=frame.id_last_element)
    held = frame.get_node_results_system(node_id=base)
    moved = frame.get_node_displacements(node_id=tip)
    pull = 0.5 * (float(brace["Nmin"]) + float(brace["Nmax"]))
    return FramePost(
        brace_pull=pull,
        base=(float(held["Fx"]), float(held["Fy"]), -float(held["Tz"])),
        tip=(float(moved["ux"]), float(moved["uy"])),
    )

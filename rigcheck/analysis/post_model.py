"""The perch post as a beam, the pull of the lines on it, and how far it gives."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.links.capacity import perch_share
from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.statics.geometry import SIDE, Pose
from rigcheck.statics.post import Post, lug_give
from rigcheck.tables import shapes, steel


def post_of(rig: Rig) -> Post:
    """The post as a beam, shapes (...); a post without a brace has one of no stiffness.

    The first size of a shape stands along the plant, the second across it. The lug is welded to the side of the post
    and stands out downstream, so that its hole is half the post and its own stand-off away from the axis.

    Source: docs/method.md#post.
    """
    shape = shapes.find(rig.value("perch.post.shape"))
    e, g = steel.elastic_modulus(), steel.shear_modulus()
    length = rig.number("perch.post.free_length")
    joint, lean, drop, spring = length, np.zeros(()), np.zeros(()), np.zeros(())
    if rig.value("perch.post.brace") is not None:
        downstream, below, top = (
            rig.number(f"perch.post.brace.{key}") for key in ("foot_downstream", "foot_below", "top_below")
        )
        reach = np.hypot(downstream, below - top)
        joint, lean, drop = length - top, downstream / reach, (top - below) / reach
        spring = e * shapes.find(rig.value("perch.post.brace.shape")).area / reach
    return Post(
        length=length,
        fore=np.asarray(e * shape.ix),
        across=np.asarray(e * shape.iy),
        axial=np.asarray(e * shape.area),
        twist=np.asarray(g * shape.j),
        offset=rig.number("perch.post.lug_offset"),
        joint=np.asarray(joint),
        lean=np.asarray(lean),
        drop=np.asarray(drop),
        brace=np.asarray(spring),
        reach=lug_reach(rig),
    )


def lug_arm(rig: Rig, *, end: str) -> Array:
    """Weld of a lug to its hole: stated, or the edge distance where nothing is stated, shape (...). [in]"""
    stated = rig.number(f"{end}.lug.stand_off")
    return np.where(stated > 0.0, stated, rig.number(f"{end}.lug.edge"))


def lug_foot(rig: Rig, *, key: str) -> Array:
    """Length of a lug's plate where it is welded, shape (...). [in]

    Args:
        rig: The rig.
        key: Path of the lug, such as `hanger.lug`.
    """
    return rig.number_or(f"{key}.foot", rig.number(f"{key}.width"))


def lug_run(rig: Rig, *, key: str) -> Array:
    """Length of the weld on one face of a lug, at most its foot; the foot where none is stated, shape (...). [in]

    Args:
        rig: The rig.
        key: Path of the lug, such as `hanger.lug`.
    """
    foot = lug_foot(rig, key=key)
    return np.minimum(foot, rig.number_or(f"{key}.weld_length", foot))


def lug_reach(rig: Rig) -> Array:
    """Hole of the perch lug downstream of the post axis; nothing where no lug is described, shape (...). [in]"""
    if rig.value("perch.lug") is None:
        return np.zeros(())
    return np.asarray(0.5 * shapes.find(rig.value("perch.post.shape")).depth + lug_arm(rig, end="perch"))


def post_axis(rig: Rig) -> Array:
    """Axis of the perch post from the hinge axis, level: the hole of its lug less half the post and the stand-off. [in]

    What is drawn, what the folding box may strike and the arm with which the lug bends its post all stand here.
    """
    return np.asarray(rig.number("perch.downstream") - lug_reach(rig))


def sided(post: Post) -> Post:
    """The same with axes for state, bound and side; what is outward becomes left on the left, right on the right."""
    values = {name: np.asarray(getattr(post, name))[..., None, None, None] for name in Post.__dataclass_fields__}
    return Post(**{**values, "offset": values["offset"] * SIDE})


def lug_force(pose: Pose, *, pull: Array) -> Array:
    """Force of the lines on the perch lugs: each pulls its lug toward its hanger.

    Args:
        pose: The box in each row.
        pull: Pull on each lug, broadcasts to (..., state, bound, side). [lbf]

    Returns:
        x, y, z, shape (..., state, bound, side, 3). [lbf]

    Source: statics; docs/method.md#post.
    """
    u_x, u_y, u_z = (part[..., None, None] for part in (pose.ux, pose.uy, pose.uz))
    return side_by_side(-u_x * pull, -u_y * SIDE * pull, -u_z * pull)


def post_give(rig: Rig, pose: Pose) -> Array:
    """How far the perch lug moves along the line per pound of line tension; nothing where no post is described.

    Args:
        rig: The rig, one or a batch.
        pose: The box in each row.

    Returns:
        Give, shape (..., state). [in/lbf]

    Source: docs/method.md#post-give.
    """
    if not rig.has("perch.post.shape"):
        return np.zeros_like(pose.ux)
    post = post_of(rig)
    column = Post(**{name: np.asarray(getattr(post, name))[..., None] for name in Post.__dataclass_fields__})
    toward = side_by_side(-pose.ux, -pose.uy, -pose.uz)
    return perch_share(rig) ** 2 * lug_give(column, pull=toward)

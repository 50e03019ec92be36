"""How long, wide and high the folded box stands on the road."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.clearance import envelope as outline
from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.folded import FORWARD
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.statics.restraint import plant_point
from rigcheck.tables import shapes


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Envelope:
    """Size of the folded box along, across and above the road, all shapes (...).

    Attributes:
        length: Extent of the box along the vehicle. [in]
        width: Overall width of box, hangers and perches. [in]
        height: Highest point of box and perches above the road, above the hinge where that is not known. [in]
        above_hinge: The same above the hinge axis. [in]
    """

    length: Array
    width: Array
    height: Array
    above_hinge: Array


def _plate(rig: Rig, *, end: str) -> Array:
    return rig.number_or(f"{end}.lug.plate", 0.0) if rig.value(f"{end}.lug") is not None else np.zeros(())


def _over_perches(rig: Rig, layout: Layout) -> Array:
    """Over both perch lugs or the posts beside them, whichever is wider, shape (...). [in]"""
    lugs = layout.perch_spacing + _plate(rig, end="perch")
    if not rig.has("perch.post.shape"):
        return np.asarray(lugs)
    shape = shapes.find(rig.value("perch.post.shape"))
    posts = layout.perch_spacing - 2.0 * rig.number("perch.post.lug_offset") + shape.width
    return np.maximum(lugs, posts)


def envelope(rig: Rig, *, layout: Layout, pose: Pose) -> Envelope:
    """Extents of the folded box by its four corners in side view, and of the perches that stay up.

    The box counts with stiffeners, cross-members and end tubes, perches with their posts, hangers with their plates.
    Fittings are left out.

    Args:
        rig: The rig.
        layout: Its points.
        pose: The box; the first row is the folded position.

    Returns:
        Extents, shapes (...).

    Source: geometry, docs/method.md#folded.
    """
    low, high, half = outline(rig)
    zero = 0.0 * pose.angle
    corners = [
        plant_point(zero + s[..., None], y=zero, n=zero + n[..., None], pose=pose, layout=layout)[..., 0, :]
        for s in (np.zeros(()), layout.length)
        for n in (low, high)
    ]
    box = side_by_side(*corners, axis=-2)
    x, z = box[..., 0], box[..., 2]
    wide = 2.0 * half
    above = np.maximum(z.max(-1), layout.perch_z)
    across = np.maximum(np.maximum(wide, layout.hanger_spacing + _plate(rig, end="hanger")), _over_perches(rig, layout))
    deepest = np.maximum(x.max(-1), layout.perch_x) - np.minimum(x.min(-1), layout.perch_x)
    lengthwise = FORWARD[str(rig.value("haul.leading_end"))][0] != 0.0
    return Envelope(
        length=np.asarray(x.max(-1) - x.min(-1) if lengthwise else wide + 0.0 * above),
        width=np.asarray(across + 0.0 * above if lengthwise else deepest),
        height=np.asarray(above + rig.number_or("haul.hinge_above_road", 0.0)),
        above_hinge=np.asarray(above),
    )

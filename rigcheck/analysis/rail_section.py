"""The rail as one section: side wall, stiffener and the strip of floor counted with it."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.steel import side_sheet, stiffener_height
from rigcheck.statics.rail import Section
from rigcheck.strength.members.sections import Pieces, composite, join, rectangles
from rigcheck.tables import shapes

YOUNG = 29.0e6
"""Young's modulus of steel. Source: AISC 360-22, Design Examples V16.0 E.9 (seen). [psi]"""


def _one(values: Array) -> Array:
    return np.asarray(values)[..., None]


def rail_pieces(rig: Rig) -> Pieces:
    """Pieces of one rail about the floor, piece axis last: wall, floor strip, stiffener.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The pieces, shape (..., piece).

    Source: parallel-axis theorem; docs/method.md#rail-section.
    """
    floor = rig.number("box.sheet")
    groups = [
        rectangles(bottom=0.0, depth=_one(rig.number("box.side_height")), width=_one(side_sheet(rig))),
        rectangles(bottom=_one(-floor), depth=_one(floor), width=_one(rig.number("rail.effective_floor_width"))),
    ]
    if rig.has("rail.stiffener"):
        shape = shapes.find(rig.value("rail.stiffener"))
        centroid, _, _ = stiffener_height(rig)
        low = centroid - shape.y_bar
        groups.append(
            Pieces(
                area=np.full((1,), shape.area),
                centroid=_one(centroid),
                inertia=np.full((1,), shape.ix),
                bottom=_one(low),
                top=_one(low + shape.depth),
            )
        )
    return join(tuple(groups))


def rail_section(rig: Rig) -> Section:
    """One rail as a beam section about the axis that the floor constrains.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The section, shapes (...).

    Source: docs/method.md#rail-section.
    """
    whole = composite(rail_pieces(rig))
    return Section(
        area=whole.area,
        inertia=whole.inertia,
        axis=whole.centroid,
        top=whole.top,
        bottom=whole.bottom,
        modulus=np.asarray(YOUNG),
    )

"""The rails of a box in stretches: their section and their spacing, from what the case describes."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rail_section import rail_section
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import divided, reaches
from rigcheck.loads.sizes import side_sheet
from rigcheck.statics.along import Along, Piece


def rails_along(rig: Rig) -> Along | None:
    """What changes along the rails; None where the box is one stretch.

    The rails stand in the middle of the side walls, or as far apart as the case says; where two stretches meet whose
    sides are not alike thick, halfway between both.

    Args:
        rig: The rig, one or a batch.

    Source: docs/method.md#stretches.
    """
    if not divided(rig):
        return None
    every = reaches(rig)
    heads = [_apart(rig, one.head + side_sheet(one.rig)) for one in every]
    tails = [_apart(rig, one.tail + side_sheet(one.rig)) for one in every]
    joints = [0.5 * (tail + head) for tail, head in zip(tails, heads[1:], strict=False)]
    heads, tails = [heads[0], *joints], [*joints, tails[-1]]
    pieces = []
    for one, head, tail in zip(every, heads, tails, strict=True):
        section = rail_section(one.rig)
        head, tail, start, end = np.broadcast_arrays(head, tail, one.start, one.end)
        pieces.append(
            Piece(start=start, end=end, head=head, tail=tail, area=section.area, inertia=section.inertia,
                  axis=section.axis, modulus=section.modulus)
        )  # fmt: skip
    flared = any(bool(np.any(piece.head != piece.tail)) for piece in pieces)
    return Along(tuple(pieces), flared)


def _apart(rig: Rig, otherwise: Array) -> Array:
    return rig.number_or("rail.spacing", otherwise)

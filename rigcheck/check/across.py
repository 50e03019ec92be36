"""What joins the two rails across the box: cross-members and end tubes, with their stations and torsion constants."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.loads.steel import cross_member_count
from rigcheck.statics.grillage import Across
from rigcheck.tables import shapes
from rigcheck.tables.shapes import Shape

Array = NDArray[np.float64]

CLOSED = ("hss", "tube", "pipe", "round tube")
"""Kinds of shapes that are closed tubes; all others twist by St Venant alone, their warping neglected."""


def member_stations(rig: Rig) -> Array:
    """Stations of the cross-members, none of which stands out over an end, shape (..., member). [in]

    Those that a design has fewer than others of its batch are put at its tail; see `members_there`.
    """
    spacing, length = rig.number("cross_member.spacing")[..., None], rig.number("box.length")[..., None]
    half = 0.5 * shapes.find(rig.value("cross_member.shape")).width
    places = np.arange(int(np.max(cross_member_count(rig))))
    return np.asarray(np.clip(places * spacing, half, length - half))


def members_there(rig: Rig) -> NDArray[np.bool_]:
    """Which of `member_stations` a design has, shape (..., member)."""
    count = cross_member_count(rig)
    return np.asarray(np.arange(int(np.max(count))) < count[..., None])


def tubes(rig: Rig) -> dict[str, tuple[Shape, Array]]:
    """End tubes by their end, with shape and station. [in]"""
    if not rig.has("end_tube.shape"):
        return {}
    shape = shapes.find(rig.value("end_tube.shape"))
    half = 0.5 * shape.width
    length = rig.number("box.length")
    places = {"head": half + 0.0 * length, "tail": length - half}
    return {end: (shape, np.asarray(place)) for end, place in places.items() if rig.value(f"end_tube.{end}")}


def members_across(rig: Rig) -> Across:
    """Everything described that joins the rails: cross-members first, then the tubes at head and tail.

    Args:
        rig: The rig, one or a batch.

    Returns:
        Stations and torsion constants, shape (..., member).

    Source: docs/method.md#grillage.
    """
    at: list[Array] = []
    torsion: list[Array] = []
    if rig.has("cross_member.shape"):
        at.append(member_stations(rig))
        torsion.append(np.where(members_there(rig), shapes.find(rig.value("cross_member.shape")).j, 0.0))
    for shape, place in tubes(rig).values():
        at.append(place[..., None])
        torsion.append(np.full((1,), shape.j))
    if not at:
        return Across(at=np.zeros((*rig.number("box.length").shape, 1)), torsion=np.zeros(1))
    batch = np.broadcast_shapes(*(part.shape[:-1] for part in (*at, *torsion)))

    def laid(parts: list[Array]) -> Array:
        return np.concatenate([np.broadcast_to(part, (*batch, part.shape[-1])) for part in parts], axis=-1)

    return Across(at=laid(at), torsion=laid(torsion))

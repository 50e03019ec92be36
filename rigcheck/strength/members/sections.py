"""Composite cross-section: many pieces joined by the parallel-axis rule.

The bending axis is the constrained one, parallel to the floor, because the floor ties the section sideways.
"""

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.guarded import Values, as_array, divide, root
from rigcheck.arrays.types import Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Pieces:
    """The pieces of one cross-section, the piece axis last.

    A piece that a design does not have is one of area zero.

    Attributes:
        area: Area of each piece, shape (..., piece). [in2]
        centroid: Height of its centroid over the reference line, shape (..., piece). [in]
        inertia: Second moment about its own axis parallel to the reference line, shape (..., piece). [in4]
        bottom: Height of its lowest fiber, shape (..., piece). [in]
        top: Height of its highest fiber, shape (..., piece). [in]
    """

    area: Array
    centroid: Array
    inertia: Array
    bottom: Array
    top: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Composite:
    """One section made of its pieces.

    Attributes:
        area: Sum of areas, shape (...). [in2]
        centroid: Height of the neutral axis over the reference line, shape (...). [in]
        inertia: Second moment about the neutral axis, shape (...). [in4]
        radius: Radius of gyration, shape (...). [in]
        bottom: Height of the lowest fiber, shape (...). [in]
        top: Height of the highest fiber, shape (...). [in]
        modulus_bottom: Section modulus of the lowest fiber, shape (...). [in3]
        modulus_top: Section modulus of the highest fiber, shape (...). [in3]
    """

    area: Array
    centroid: Array
    inertia: Array
    radius: Array
    bottom: Array
    top: Array
    modulus_bottom: Array
    modulus_top: Array


def rectangles(*, bottom: Values, depth: Values, width: Values) -> Pieces:
    """Describe upright rectangles as pieces.

    Args:
        bottom: Height of the lower edge, shape (..., piece). [in]
        depth: Size square to the bending axis, shape (..., piece). [in]
        width: Size along the bending axis, shape (..., piece). [in]

    Returns:
        The pieces, shape (..., piece).

    Source: geometry.
    """
    low, deep, wide = np.broadcast_arrays(as_array(bottom), as_array(depth), as_array(width))
    area = deep * wide
    return Pieces(area=area, centroid=low + deep / 2.0, inertia=area * deep**2 / 12.0, bottom=low, top=low + deep)


def join(groups: tuple[Pieces, ...]) -> Pieces:
    """Lay groups of pieces side by side along the piece axis.

    Args:
        groups: Pieces whose batch shapes broadcast, each (..., piece).

    Returns:
        All the pieces, shape (..., piece).
    """
    batch = np.broadcast_shapes(*(np.shape(group.area)[:-1] for group in groups))

    def together(name: str) -> Array:
        parts = [as_array(getattr(group, name)) for group in groups]
        return np.concatenate([np.broadcast_to(part, (*batch, part.shape[-1])) for part in parts], axis=-1)

    return Pieces(
        area=together("area"),
        centroid=together("centroid"),
        inertia=together("inertia"),
        bottom=together("bottom"),
        top=together("top"),
    )


def composite(pieces: Pieces) -> Composite:
    """Join pieces into one section that bends as a whole.

    n = sum(A c) / sum(A), I = sum(I0 + A (c - n)^2).

    Args:
        pieces: The pieces, shape (..., piece). [in, in2, in4]

    Returns:
        The section, shape (...). A section without area has all zeros.

    Source: parallel-axis theorem; docs/method.md#composite-section.
    """
    area = np.sum(pieces.area, axis=-1)
    centroid = divide(np.sum(pieces.area * pieces.centroid, axis=-1), area)
    arm = pieces.centroid - centroid[..., np.newaxis]
    present = pieces.area > 0.0
    inertia = np.sum(np.where(present, pieces.inertia + pieces.area * arm**2, 0.0), axis=-1)
    empty = ~np.any(present, axis=-1)
    bottom = np.where(empty, 0.0, np.min(np.where(present, pieces.bottom, 1.0e300), axis=-1))
    top = np.where(empty, 0.0, np.max(np.where(present, pieces.top, -1.0e300), axis=-1))
    return Composite(
        area=area,
        centroid=centroid,
        inertia=inertia,
        radius=root(divide(inertia, area)),
        bottom=bottom,
        top=top,
        modulus_bottom=divide(inertia, np.maximum(centroid - bottom, 0.0)),
        modulus_top=divide(inertia, np.maximum(top - centroid, 0.0)),
    )


def first_moment(pieces: Pieces, *, section: Composite, level: Values) -> Array:
    """First moment about the neutral axis of everything above a level.

    Exact at every joint between pieces and inside a rectangle; a tube cut through its own depth is taken as a
    rectangle of the same area.

    Args:
        pieces: The pieces, shape (..., piece). [in, in2]
        section: Their composite, shape (...).
        level: Height of the cut over the reference line, shape (...). [in]

    Returns:
        First moment, shape (...). [in3]

    Source: beam theory, shear flow = V Q / I; docs/method.md#composite-section.
    """
    cut = as_array(level)[..., np.newaxis]
    depth = pieces.top - pieces.bottom
    share = np.maximum(divide(pieces.top - cut, depth), 0.0)
    whole = cut <= pieces.bottom
    share = np.where(whole, 1.0, share)
    centroid = np.where(whole, pieces.centroid, (np.maximum(cut, pieces.bottom) + pieces.top) / 2.0)
    return np.asarray(np.sum(share * pieces.area * (centroid - section.centroid[..., np.newaxis]), axis=-1))


def shear_flow(shear: Values, *, first_moment: Values, inertia: Values) -> Array:
    """Force per inch along a joint of a beam made of pieces.

    Args:
        shear: Shear force, shape (...). [lbf]
        first_moment: First moment of what lies beyond the joint, shape (...). [in3]
        inertia: Second moment of the whole section, shape (...). [in4]

    Returns:
        Shear flow, shape (...). [lbf/in]

    Source: beam theory, q = V Q / I.
    """
    return divide(np.abs(as_array(shear)) * np.abs(as_array(first_moment)), inertia)

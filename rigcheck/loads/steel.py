"""What the empty box weighs, piece by piece, from its geometry."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.measured import corrected
from rigcheck.loads.pieces import Lump, Strip
from rigcheck.loads.take_off import Cut, Piece
from rigcheck.tables import shapes
from rigcheck.tables.materials import steel_density


def stiffener_height(rig: Rig) -> tuple[Array, float, float]:
    """Centroid of the rail's stiffener above the floor, and its depth and width. [in]"""
    shape = shapes.find(rig.value("rail.stiffener"))
    side = rig.number("box.side_height")
    rise = shape.depth - shape.y_bar
    centroid = {
        "top": side - rise,
        "cap": side + shape.y_bar,
        "bottom": 0.0 * side + shape.y_bar,
        "under": 0.0 * side - rise,
    }[str(rig.value("rail.at"))]
    return np.asarray(centroid), shape.depth, shape.width


def cross_member_count(rig: Rig) -> Array:
    """Cross-members at 0, one spacing, two spacings and so on to the tail, shape (...)."""
    return np.asarray(np.floor(rig.number("box.length") / rig.number("cross_member.spacing") + 1e-9) + 1.0)


def side_sheet(rig: Rig) -> Array:
    """Thickness of the side walls, the floor's where none is given, shape (...). [in]"""
    return rig.number_or("box.side_sheet", rig.number("box.sheet"))


def divider_sheet(rig: Rig) -> Array:
    """Thickness of the dividers, the floor's where none is given, shape (...). [in]"""
    return rig.number_or("box.divider_sheet", rig.number("box.sheet"))


def channel_width(rig: Rig) -> Array:
    """Clear width of one channel, shape (...). [in]"""
    channels = int(rig.value("box.channels"))
    return np.asarray((rig.number("box.width") - (channels - 1) * divider_sheet(rig)) / channels)


def channel_offsets(rig: Rig) -> list[Array]:
    """Middle of each channel across, from the left one to the right one, shapes (...). [in]"""
    channels = int(rig.value("box.channels"))
    step = channel_width(rig) + divider_sheet(rig)
    return [np.asarray(step * (0.5 * (channels - 1) - i)) for i in range(channels)]


def _sheet_pieces(rig: Rig) -> list[Piece]:
    length, width, side = (rig.number(f"box.{key}") for key in ("length", "width", "side_height"))
    density = steel_density()
    middle, zero = 0.5 * length, 0.0 * length
    text = "geometry at 490 lb/ft3 (AISC Manual, memory)"
    floor, wall, metal = rig.number("box.sheet"), side_sheet(rig), str(rig.value("box.steel"))

    def cut(key: str, name: str, *, count: int, sheet: Array, across: Array) -> Cut:
        return Cut(name=name, key=key, sheet=sheet, count=count, length=length, across=across, steel=metal)

    flat = cut("box.sheet", "floor sheet", count=1, sheet=floor, across=width)
    sides = cut("box.side_sheet", "side walls", count=2, sheet=wall, across=side)
    pieces = [
        Piece(
            "floor", "floor sheet", width * length * floor * density, middle, zero, -0.5 * floor, True, text, cut=flat
        ),
        Piece(
            "side_walls",
            "side walls",
            2.0 * side * length * wall * density,
            middle,
            zero,
            0.5 * side,
            True,
            text,
            cut=sides,
        ),
    ]
    dividers = int(rig.value("box.channels")) - 1
    if dividers:
        height, sheet = rig.number_or("box.divider_height", side), divider_sheet(rig)
        weight = dividers * height * length * sheet * density
        between = cut("box.divider_sheet", "dividers", count=dividers, sheet=sheet, across=height)
        pieces.append(Piece("dividers", "dividers", weight, middle, zero, 0.5 * height, True, text, cut=between))
    return pieces


def _shape_pieces(rig: Rig) -> list[Piece]:
    length, width = rig.number("box.length"), rig.number("box.width")
    middle, zero = 0.5 * length, 0.0 * length
    pieces: list[Piece] = []
    if rig.has("rail.stiffener"):
        shape = shapes.find(rig.value("rail.stiffener"))
        height, _, _ = stiffener_height(rig)
        weight = 2.0 * length * shape.weight_per_length
        cut = Cut(
            name="rail stiffeners",
            key="rail.stiffener",
            stock=shape.name,
            count=2,
            length=length,
            steel=str(rig.value("rail.steel")),
        )
        pieces.append(
            Piece(
                "rail_stiffeners",
                f"rail stiffeners, {shape.name}",
                weight,
                middle,
                zero,
                height,
                True,
                shape.source,
                cut=cut,
            )
        )
    outside = width + 2.0 * side_sheet(rig)
    if rig.has("cross_member.shape"):
        shape = shapes.find(rig.value("cross_member.shape"))
        count = cross_member_count(rig)
        weight = count * outside * shape.weight_per_length
        under = str(rig.value("cross_member.at")) == "under"
        low = -rig.number("box.sheet") - shape.depth if under else rig.number("box.side_height")
        height = low + 0.5 * shape.depth
        cut = Cut(name="cross-members", key="cross_member.shape", stock=shape.name, count=count, length=outside,
                  steel=str(rig.value("cross_member.steel")))  # fmt: skip
        pieces.append(
            Piece(
                "cross_members",
                f"cross-members, {shape.name}",
                weight,
                middle,
                zero,
                height,
                True,
                shape.source,
                cut=cut,
            )
        )
    if rig.has("end_tube.shape"):
        shape = shapes.find(rig.value("end_tube.shape"))
        weight, height = outside * shape.weight_per_length, -rig.number("box.sheet") - 0.5 * shape.depth
        for end, place in (("head", zero), ("tail", length)):
            if rig.value(f"end_tube.{end}"):
                cut = Cut(
                    name=f"end tube, {end}", key="end_tube.shape", stock=shape.name, count=1, length=outside, steel=""
                )
                pieces.append(
                    Piece(
                        f"end_tube.{end}",
                        f"end tube at the {end}",
                        weight,
                        place,
                        zero,
                        height,
                        False,
                        shape.source,
                        cut=cut,
                    )
                )
    return pieces


def take_off(rig: Rig) -> list[Piece]:
    """Weight of the empty box, piece by piece, held to what was weighed.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The pieces. A weighed total scales those that were not weighed by themselves; a tail lift moves them along.

    Raises:
        CaseError: Where no such box could weigh what `measured` says.

    Source: geometry; docs/method.md#take-off; docs/method.md#measured.
    """
    return corrected(rig, pieces=estimate(rig))


def estimate(rig: Rig) -> list[Piece]:
    """Weight of the empty box from its geometry alone, piece by piece, whatever was weighed.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The pieces.

    Source: geometry; docs/method.md#take-off.
    """
    length = rig.number("box.length")
    steel = [*_sheet_pieces(rig), *_shape_pieces(rig)]
    share = rig.number("box.allowance")
    extra = [piece for piece in steel if piece.spread]
    total = np.sum(np.broadcast_arrays(*(piece.weight for piece in steel)), axis=0)
    height = np.sum(np.broadcast_arrays(*(p.weight * p.n for p in extra)), axis=0)
    running = np.sum(np.broadcast_arrays(*(p.weight for p in extra)), axis=0)
    pieces = list(steel)
    pieces.append(
        Piece("allowance", "allowance for welds, paint, miscellaneous", share * total, 0.5 * length, 0.0 * length,
              np.asarray(height / running), True, "share of the steel above")
    )  # fmt: skip
    if rig.has("mat.weight"):
        weight = rig.number("mat.weight") * rig.number("mat.coverage") * length * rig.number("box.width")
        pieces.append(
            Piece("mats", "mats and riffles, wet", weight, 0.5 * length, 0.0 * length, 0.5 + 0.0 * length, True,
                  "case file", weighed=True)
        )  # fmt: skip
    for i, fitting in enumerate(rig.value("fitting") or ()):
        pieces.append(
            Piece(
                f"fitting.{i}",
                fitting.name,
                rig.number(f"fitting.{i}.weight"),
                rig.number(f"fitting.{i}.at"),
                rig.number(f"fitting.{i}.across"),
                rig.number(f"fitting.{i}.height"),
                False,
                "case file",
                weighed=True,
            )
        )
    return pieces


def dead_loads(rig: Rig, *, pieces: list[Piece]) -> tuple[Strip, list[Lump]]:
    """The empty box as one strip and its lumps.

    A strip whose center a tail lift has moved by e off the middle is heavier toward that end: w (1 -+ 6 e / L).

    Args:
        rig: The rig.
        pieces: Its take-off.

    Returns:
        The strip of everything that runs the whole length, and the lumps.

    Source: own derivation, docs/method.md#measured.
    """
    running = [piece for piece in pieces if piece.spread]
    length = rig.number("box.length")
    weight = np.sum(np.broadcast_arrays(*(piece.weight for piece in running)), axis=0)
    height = np.sum(np.broadcast_arrays(*(piece.weight * piece.n for piece in running)), axis=0) / weight
    offsets = (piece.weight * (piece.s - 0.5 * length) for piece in running)
    w, lean = weight / length, 6.0 * np.sum(np.broadcast_arrays(*offsets), axis=0) / (weight * length)
    strip = Strip(start=0.0, end=length, w_start=w * (1.0 - lean), w_end=w * (1.0 + lean), n_start=height, n_end=height,
                  whole=True, name="empty box along its length")  # fmt: skip
    lumps = [Lump(weight=p.weight, s=p.s, y=p.y, n=p.n, name=p.name) for p in pieces if not p.spread]
    return strip, lumps

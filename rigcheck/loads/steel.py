"""What the empty box weighs, piece by piece, from its geometry."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.gate import gate_pieces
from rigcheck.loads.measured import corrected
from rigcheck.loads.pieces import Lump, Strip
from rigcheck.loads.shape import divided
from rigcheck.loads.sizes import (
    channel_offsets,
    channel_width,
    cross_member_count,
    divider_sheet,
    side_sheet,
    stiffener_height,
)
from rigcheck.loads.steel_stretches import stretch_pieces, stretch_strips
from rigcheck.loads.take_off import ALLOWANCE_SOURCE, Cut, Piece
from rigcheck.loads.traps import trap_pieces
from rigcheck.tables import shapes
from rigcheck.tables.materials import steel_density

__all__ = [
    "channel_offsets",
    "channel_width",
    "cross_member_count",
    "dead_loads",
    "divider_sheet",
    "estimate",
    "side_sheet",
    "stiffener_height",
    "take_off",
]


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
    pieces = stretch_pieces(rig) if divided(rig) else _whole_pieces(rig)
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


def _whole_pieces(rig: Rig) -> list[Piece]:
    """Steel, its allowance and mats of a box that is one stretch."""
    length = rig.number("box.length")
    steel = [*_sheet_pieces(rig), *_shape_pieces(rig), *trap_pieces(rig), *gate_pieces(rig)]
    share = rig.number("box.allowance")
    extra = [piece for piece in steel if piece.spread]
    total = np.sum(np.broadcast_arrays(*(piece.weight for piece in steel)), axis=0)
    height = np.sum(np.broadcast_arrays(*(p.weight * p.n for p in extra)), axis=0)
    running = np.sum(np.broadcast_arrays(*(p.weight for p in extra)), axis=0)
    pieces = list(steel)
    pieces.append(
        Piece("allowance", "allowance for welds, paint, miscellaneous", share * total, 0.5 * length, 0.0 * length,
              np.asarray(height / running), True, ALLOWANCE_SOURCE)
    )  # fmt: skip
    if rig.has("mat.weight"):
        weight = rig.number("mat.weight") * rig.number("mat.coverage") * length * rig.number("box.width")
        pieces.append(
            Piece("mats", "mats and riffles, wet", weight, 0.5 * length, 0.0 * length, 0.5 + 0.0 * length, True,
                  "case file", weighed=True)
        )  # fmt: skip
    return pieces


def dead_loads(rig: Rig, *, pieces: list[Piece]) -> tuple[list[Strip], list[Lump]]:
    """The empty box as strips and its lumps: one strip, or one for each stretch of it.

    A strip whose center a tail lift has moved by e off the middle is heavier toward that end: w (1 -+ 6 e / L).

    Args:
        rig: The rig.
        pieces: Its take-off.

    Returns:
        The strips of everything that runs along the box, and the lumps.

    Source: own derivation, docs/method.md#measured, #stretches.
    """
    lumps = [Lump(weight=p.weight, s=p.s, y=p.y, n=p.n, name=p.name) for p in pieces if not p.spread]
    return stretch_strips(rig, pieces=pieces) if divided(rig) else [_whole_strip(rig, pieces=pieces)], lumps


def _whole_strip(rig: Rig, *, pieces: list[Piece]) -> Strip:
    running = [piece for piece in pieces if piece.spread]
    length = rig.number("box.length")
    weight = np.sum(np.broadcast_arrays(*(piece.weight for piece in running)), axis=0)
    height = np.sum(np.broadcast_arrays(*(piece.weight * piece.n for piece in running)), axis=0) / weight
    offsets = (piece.weight * (piece.s - 0.5 * length) for piece in running)
    w, lean = weight / length, 6.0 * np.sum(np.broadcast_arrays(*offsets), axis=0) / (weight * length)
    return Strip(start=0.0, end=length, w_start=w * (1.0 - lean), w_end=w * (1.0 + lean), n_start=height, n_end=height,
                 whole=True, name="empty box along its length")  # fmt: skip

"""What the empty box weighs where it is built in stretches: every plate and shape, stretch by stretch."""

from __future__ import annotations

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.filling import PARTS
from rigcheck.loads.gate import gate_pieces
from rigcheck.loads.pieces import Strip
from rigcheck.loads.shape import Reach, reaches
from rigcheck.loads.sizes import cross_member_count, divider_sheet, side_sheet, stiffener_height
from rigcheck.loads.take_off import ALLOWANCE_SOURCE, Cut, Piece
from rigcheck.loads.traps import trap_pieces
from rigcheck.tables import shapes
from rigcheck.tables.materials import steel_density

_GEOMETRY = "geometry at 490 lb/ft3 (AISC Manual, memory)"


def _middle(one: Reach, head: Array, tail: Array) -> Array:
    """Center along the floor of what is `head` heavy for each inch at the head of a stretch and `tail` at its tail."""
    return np.asarray(one.start + one.length * (head + 2.0 * tail) / (3.0 * (head + tail)))


def _named(one: Reach, what: str) -> str:
    return f"{what}, stretch {one.number + 1}"


def _sheets(one: Reach) -> list[Piece]:
    rig, zero = one.rig, 0.0 * one.start
    side, floor, wall = rig.number("box.side_height"), rig.number("box.sheet"), side_sheet(rig)
    density, metal, slant = steel_density(), str(rig.value("box.steel")), one.slant
    widest = np.maximum(one.head, one.tail)
    half = one.start + 0.5 * one.length

    def piece(key: str, name: str, weight: Array, *, s: Array, n: Array, cut: Cut) -> Piece:
        return Piece(key, _named(one, name), np.asarray(weight), s, zero, n, True, _GEOMETRY, cut=cut, reach=one.number)

    def cut(key: str, name: str, *, count: int, sheet: Array, length: Array, across: Array) -> Cut:
        return Cut(name=_named(one, name), key=key, sheet=sheet, count=count, length=length, across=across, steel=metal)

    found = [
        piece("floor", "floor sheet", 0.5 * (one.head + one.tail) * one.length * floor * density,
              s=_middle(one, one.head, one.tail), n=-0.5 * floor,
              cut=cut("box.sheet", "floor sheet", count=1, sheet=floor, length=one.length, across=widest)),
        piece("side_walls", "side walls", 2.0 * side * one.length * slant * wall * density, s=half, n=0.5 * side,
              cut=cut("box.side_sheet", "side walls", count=2, sheet=wall, length=one.length * slant, across=side)),
    ]  # fmt: skip
    dividers = int(rig.value("box.channels")) - 1
    if dividers:
        height, sheet = rig.number_or("box.divider_height", side), divider_sheet(rig)
        found.append(
            piece("dividers", "dividers", dividers * height * one.length * slant * sheet * density, s=half,
                  n=0.5 * height,
                  cut=cut("box.divider_sheet", "dividers", count=dividers, sheet=sheet, length=one.length * slant,
                          across=height))
        )  # fmt: skip
    return found


def _upto(rig: Rig, s: Array) -> Array:
    """Cross-members before a station."""
    return np.ceil(s / rig.number("cross_member.spacing") - 1e-9)


def _shapes(one: Reach, *, last: bool) -> list[Piece]:
    rig, zero = one.rig, 0.0 * one.start
    half, length = one.start + 0.5 * one.length, rig.number("box.length")
    found: list[Piece] = []
    if rig.has("rail.stiffener"):
        bar = shapes.find(rig.value("rail.stiffener"))
        height, _, _ = stiffener_height(rig)
        cut = Cut(name=_named(one, "rail stiffeners"), key="rail.stiffener", stock=bar.name, count=2,
                  length=one.length * one.slant, steel=str(rig.value("rail.steel")))  # fmt: skip
        found.append(
            Piece("rail_stiffeners", _named(one, f"rail stiffeners, {bar.name}"),
                  2.0 * one.length * one.slant * bar.weight_per_length, half, zero, height, True, bar.source, cut=cut,
                  reach=one.number)
        )  # fmt: skip
    if rig.has("cross_member.shape"):
        bar = shapes.find(rig.value("cross_member.shape"))
        head, tail = (width + 2.0 * side_sheet(rig) for width in (one.head, one.tail))
        count = cross_member_count(rig)
        weight = count * (one.length / length) * (0.5 * (head + tail)) * bar.weight_per_length
        under = str(rig.value("cross_member.at")) == "under"
        low = -rig.number("box.sheet") - bar.depth if under else rig.number("box.side_height")
        there = (count if last else np.minimum(_upto(rig, one.end), count)) - _upto(rig, one.start)
        metal = str(rig.value("cross_member.steel"))
        cut = Cut(name=_named(one, "cross-members"), key="cross_member.shape", stock=bar.name,
                  count=np.asarray(there), length=np.maximum(head, tail), steel=metal)  # fmt: skip
        found.append(
            Piece("cross_members", _named(one, f"cross-members, {bar.name}"), weight, _middle(one, head, tail), zero,
                  np.asarray(low + 0.5 * bar.depth), True, bar.source, cut=cut, reach=one.number)
        )  # fmt: skip
    return found


def _tubes(rig: Rig) -> list[Piece]:
    if not rig.has("end_tube.shape"):
        return []
    bar, every = shapes.find(rig.value("end_tube.shape")), reaches(rig)
    found = []
    for end, one, width, place in (
        ("head", every[0], every[0].head, 0.0 * rig.number("box.length")),
        ("tail", every[-1], every[-1].tail, rig.number("box.length")),
    ):
        if rig.value(f"end_tube.{end}"):
            outside = width + 2.0 * side_sheet(one.rig)
            cut = Cut(name=f"end tube, {end}", key="end_tube.shape", stock=bar.name, count=1, length=outside, steel="")
            height = -one.rig.number("box.sheet") - 0.5 * bar.depth
            found.append(
                Piece(f"end_tube.{end}", f"end tube at the {end}", outside * bar.weight_per_length, place, 0.0 * place,
                      np.asarray(height), False, bar.source, cut=cut)
            )  # fmt: skip
    return found


def stretch_pieces(rig: Rig) -> list[Piece]:
    """Steel of a box in stretches with its allowance, and its mats.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The pieces; the allowance on the end tubes, traps and a gate is spread over the whole length.

    Source: geometry; docs/method.md#stretches.
    """
    every, tubes = reaches(rig), [*_tubes(rig), *trap_pieces(rig), *gate_pieces(rig)]
    ends = np.sum(np.broadcast_arrays(*(piece.weight for piece in tubes)), axis=0) if tubes else np.zeros(())
    share, found = rig.number("box.allowance"), []
    for one in every:
        own = [*_sheets(one), *_shapes(one, last=one is every[-1])]
        weight, first, height = (
            np.sum(np.broadcast_arrays(*parts), axis=0)
            for parts in ([p.weight for p in own], [p.weight * p.s for p in own], [p.weight * p.n for p in own])
        )
        of_ends = ends * one.length / rig.number("box.length")
        middle = one.start + 0.5 * one.length
        more = share * (weight + of_ends)
        found += own
        found.append(
            Piece("allowance", _named(one, "allowance for welds, paint, miscellaneous"), more,
                  np.asarray((first + of_ends * middle) / (weight + of_ends)), 0.0 * one.start,
                  np.asarray(height / weight), True, ALLOWANCE_SOURCE, reach=one.number)
        )  # fmt: skip
    if rig.has("mat.weight"):
        for one in every:
            weight = rig.number("mat.weight") * rig.number("mat.coverage") * one.length * 0.5 * (one.head + one.tail)
            found.append(
                Piece("mats", _named(one, "mats and riffles, wet"), np.asarray(weight),
                      _middle(one, one.head, one.tail), 0.0 * one.start, 0.5 + 0.0 * one.length, True, "case file",
                      weighed=True, reach=one.number)
            )  # fmt: skip
    return [*found, *tubes]


def stretch_strips(rig: Rig, *, pieces: list[Piece]) -> list[Strip]:
    """The empty box as a linear strip a stretch, of the weight and the center of its pieces; a few where it widens.

    Args:
        rig: The rig.
        pieces: Its take-off.

    Source: own derivation, docs/method.md#stretches.
    """
    found = []
    for one in reaches(rig):
        own = [piece for piece in pieces if piece.spread and piece.reach == one.number]
        weight = np.sum(np.broadcast_arrays(*(piece.weight for piece in own)), axis=0)
        height = np.sum(np.broadcast_arrays(*(piece.weight * piece.n for piece in own)), axis=0) / weight
        middle = one.start + 0.5 * one.length
        lean = np.sum(np.broadcast_arrays(*(piece.weight * (piece.s - middle) for piece in own)), axis=0)
        w, lean = weight / one.length, 6.0 * lean / (weight * one.length)
        parts = 1 if one.straight else PARTS
        for i in range(parts):
            a, b = i / parts, (i + 1) / parts
            w0, w1 = (w * (1.0 + lean * (2.0 * t - 1.0)) for t in (a, b))
            found.append(
                Strip(start=one.start + a * one.length, end=one.start + b * one.length, w_start=w0, w_end=w1,
                      n_start=height, n_end=height, reach=one.number,
                      name=_named(one, "empty box along its length"))
            )  # fmt: skip
    return found

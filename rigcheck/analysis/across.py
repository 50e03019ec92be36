"""What joins the two rails across the box: cross-members and end tubes, with their stations and torsion constants."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rail_section import YOUNG
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import reaches
from rigcheck.loads.steel import cross_member_count, side_sheet
from rigcheck.loads.traps import HALF_PIPE, Trap, traps
from rigcheck.statics.along import Along
from rigcheck.statics.grillage import SHEAR_MODULUS, Across
from rigcheck.strength.members.trough import Trough, half_pipe, vee
from rigcheck.tables import shapes
from rigcheck.tables.shapes import Shape

POISSON = 0.3  # of steel; AISC 360-22 E5 (memory)
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


def trough_of(rig: Rig, one: Trap) -> Trough:
    """A trap below the floor as a member, closed where the case says that a plate runs over it."""
    cover = rig.number(f"{one.key}.cover") if rig.has(f"{one.key}.cover") else None
    return (half_pipe if one.kind == HALF_PIPE else vee)(one.size, wall=one.wall, cover=cover)


def trap_places(rig: Rig) -> dict[int, int]:
    """Where the traps that are welded at their ends stand among what joins the rails, by their number."""
    welded = [one for one in traps(rig) if one.below and rig.has(f"{one.key}.weld") and
              rig.has(f"{one.key}.weld_length")]  # fmt: skip
    members = member_stations(rig).shape[-1] if rig.has("cross_member.shape") else 0
    return {one.number: members + len(tubes(rig)) + place for place, one in enumerate(welded)}


def members_across(rig: Rig) -> Across:
    """Everything described that joins the rails: cross-members first, the tubes at head and tail, then welded traps.

    A tube stands in the place of the cross-member that it would overlap: no two of them twist at one place.

    Args:
        rig: The rig, one or a batch.

    Returns:
        Stations and torsion constants, shape (..., member).

    Source: docs/method.md#grillage.
    """
    at: list[Array] = []
    torsion: list[Array] = []
    if rig.has("cross_member.shape"):
        shape = shapes.find(rig.value("cross_member.shape"))
        places = member_stations(rig)
        there = members_there(rig)
        for tube, place in tubes(rig).values() if rig.value("cross_member.at") == "under" else ():
            there = there & (np.abs(places - place[..., None]) >= 0.5 * (tube.width + shape.width))
        at.append(places)
        torsion.append(np.where(there, shape.j, 0.0))
    for shape, place in tubes(rig).values():
        at.append(place[..., None])
        torsion.append(np.full((1,), shape.j))
    for number in trap_places(rig):
        one = traps(rig)[number]
        at.append(one.at[..., None])
        torsion.append(trough_of(rig, one).constant[..., None])
    if not at:
        return Across(at=np.zeros((*rig.number("box.length").shape, 1)), torsion=np.zeros(1))
    batch = np.broadcast_shapes(*(part.shape[:-1] for part in (*at, *torsion)))

    def laid(parts: list[Array]) -> Array:
        return np.concatenate([np.broadcast_to(part, (*batch, part.shape[-1])) for part in parts], axis=-1)

    return Across(at=laid(at), torsion=laid(torsion))


def own_torsion_along(rig: Rig, *, along: Along) -> Across:
    """The same of a box in stretches: each place takes what its part of the box has of every stretch.

    Args:
        rig: The rig, one or a batch.
        along: Its rails.

    Returns:
        Stations and torsion constants, shape (..., place).

    Source: own derivation, docs/method.md#stretches.
    """
    length = rig.number("box.length")[..., None]
    places = length * (np.arange(OWN_STATIONS) + 0.5) / OWN_STATIONS
    half = 0.5 * length / OWN_STATIONS
    constant: Array | float = 0.0
    for one in reaches(rig):
        low = np.maximum(places - half, one.start[..., None])
        high = np.minimum(places + half, one.end[..., None])
        constant = constant + own_constant(one.rig)[..., None] * np.maximum(high - low, 0.0)
    return Across(at=places, torsion=np.asarray(constant / along.spacing(places)))


def least_own_constant(rig: Rig) -> Array:
    """Torsion constant of the box by itself in the stretch that has the least, shape (...). [in4]"""
    every = [own_constant(one.rig) for one in reaches(rig)]
    return np.asarray(np.min(np.stack(np.broadcast_arrays(*every)), axis=0)) if len(every) > 1 else every[0]


OWN_STATIONS = 4  # places along the box at which its own torsion is put, each for a quarter of its length


def own_torsion(rig: Rig, *, spacing: Array) -> Across:
    """The box's own resistance to twist, as members that would do the same: sheets, and tubes along the sides.

    A box that twists by phi' for each inch along it takes G J phi', and phi' is the difference of the rails' slopes
    over their spacing b: as a member of J/b for each inch. J is b t^3/3 of every sheet, and of both stiffeners the
    share that their walls turn with them. A wall of height h below the stiffener brings the couple D/h for each radian
    and inch, so that G J_s psi'' = (D/h) (psi - phi), and with free ends the share is 1 - tanh(l)/l, l = (L/2)
    sqrt(D/(h G J_s)).

    Args:
        rig: The rig, one or a batch.
        spacing: Between the rails, shape (...). [in]

    Returns:
        Stations and torsion constants, shape (..., place).

    Source: own derivation, docs/method.md#the-boxs-own-torsion.
    """
    length = rig.number("box.length")
    constant = own_constant(rig)
    places = (np.arange(OWN_STATIONS) + 0.5) / OWN_STATIONS
    each = constant * length / (spacing * OWN_STATIONS)
    return Across(at=length[..., None] * places, torsion=each[..., None] * np.ones(OWN_STATIONS))


def own_constant(rig: Rig) -> Array:
    """Torsion constant of the box by itself, shape (...). [in4]"""
    length, width, side = (rig.number(f"box.{key}") for key in ("length", "width", "side_height"))
    wall = side_sheet(rig)
    constant = (width * rig.number("box.sheet") ** 3 + 2.0 * side * wall**3) / 3.0
    if rig.has("rail.stiffener"):
        turns = _turns(rig)
        constant = constant + 2.0 * shapes.find(rig.value("rail.stiffener")).j * (1.0 - np.tanh(turns) / turns)
    return np.asarray(constant + 0.0 * length)


def _turns(rig: Rig) -> Array:
    """Half the box's length over that in which the wall makes its stiffener turn with it, shape (...). [1]"""
    wall, shape = side_sheet(rig), shapes.find(rig.value("rail.stiffener"))
    free = rig.number("box.side_height") - (shape.depth if str(rig.value("rail.at")) == "top" else 0.0)
    plate = YOUNG * wall**3 / (12.0 * (1.0 - POISSON**2)) / np.maximum(free, wall)
    return np.asarray(0.5 * rig.number("box.length") * np.sqrt(plate / (SHEAR_MODULUS * shape.j)))


def rail_twist(rig: Rig, *, own: Array, spacing: Array, whole: Rig | None = None) -> Array:
    """Largest torque in one rail's stiffener, or in its bare wall, by the twist of the box, shape (..., pair). [lbf*in]

    The box twists by phi' = t/(G J_k) where its own resistance, J_k = J L/(n b) at each of n places, takes a couple t;
    the wall takes G phi' H w^3/3 and the stiffener G phi' J_s (1 - 1/cosh l) at its middle, where it lags least.

    Args:
        rig: The rig, one or a batch.
        own: Couples of the box's own resistance, shape (..., pair, place). [lbf*in]
        spacing: Between the rails, shape (...). [in]
        whole: The rig that this one is a stretch of: the box twists most where it resists least.

    Source: own derivation, docs/method.md#the-boxs-own-torsion.
    """
    constant = own_constant(rig) if whole is None else least_own_constant(whole)
    share = rail_constant(rig) * spacing * OWN_STATIONS / (constant * rig.number("box.length"))
    return np.asarray(np.abs(own).max(-1, initial=0.0) * np.asarray(share)[..., None])


def rail_constant(rig: Rig) -> Array:
    """Torsion constant of one rail's stiffener where it lags least behind the box, or of its bare wall, (...). [in4]"""
    if not rig.has("rail.stiffener"):
        return np.asarray(rig.number("box.side_height") * side_sheet(rig) ** 3 / 3.0)
    return np.asarray(shapes.find(rig.value("rail.stiffener")).j * (1.0 - 1.0 / np.cosh(np.minimum(_turns(rig), 50.0))))


def beside(first: Across, other: Across) -> Across:
    """Members and others behind them."""
    parts = [first.at, first.torsion, other.at, other.torsion]
    batch = np.broadcast_shapes(*(part.shape[:-1] for part in parts))
    one, two, three, four = (np.broadcast_to(part, (*batch, part.shape[-1])) for part in parts)
    return Across(at=np.concatenate([one, three], axis=-1), torsion=np.concatenate([two, four], axis=-1))

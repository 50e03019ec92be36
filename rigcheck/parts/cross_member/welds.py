"""The joint at the end of a member across the box, as drawn: two runs where it meets floor or rail, or all round."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.items import MEMBER_WELDS, Item
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.steel import side_sheet
from rigcheck.parts.cross_member.forces import Carried
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.weld_lines import WeldLine, WeldLoad, peak_force, rectangle, ring, two_verticals
from rigcheck.strength.connections.welds import Joint
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape

ROUND = ("pipe", "round tube", "round bar")
_SOLID = ("bar", "round bar")
_CORNER = slice(1, 2)  # of two uprights and of a rectangle: the second, at -x and +y


def _stiffener_at(rig: Rig, *places: str) -> Shape | None:
    if rig.has("rail.stiffener") and str(rig.value("rail.at")) in places:
        return shapes.find(rig.value("rail.stiffener"))
    return None


def butts(rig: Rig, *, shape: Shape, under: bool) -> bool:
    """Whether the member's end stands against a stiffener below the floor, so that it can be welded all round."""
    return under and shape.kind != "angle" and _stiffener_at(rig, "under") is not None


def run_length(rig: Rig, *, shape: Shape, under: bool) -> Array | None:
    """Length of the two runs along a member that lies on the rail or under the floor; None where it is not known.

    A member under the floor passes below the sides: it meets the floor, and runs along it as far as is said. One
    across the top lies on the stiffener, over its width. A round one meets either along a line, which no run holds.

    Args:
        rig: The rig.
        shape: The member.
        under: Whether it lies under the floor.
    """
    if shape.kind in ROUND:
        return None
    if rig.has("cross_member.weld_length"):
        return rig.number("cross_member.weld_length")
    beneath = None if under else _stiffener_at(rig, "top", "cap")
    return None if beneath is None else np.asarray(beneath.width)


def end_weld_known(rig: Rig, *, shape: Shape, under: bool) -> bool:
    """Whether leg and length of a member's end weld are described."""
    if not rig.has("cross_member.weld"):
        return False
    return butts(rig, shape=shape, under=under) or run_length(rig, shape=shape, under=under) is not None


def met_by(rig: Rig, *, under: bool, butt: bool) -> tuple[Array, str, str]:
    """Thickness and steel of what a member is welded to, and what that is."""
    place = _stiffener_at(rig, "under") if butt else None if under else _stiffener_at(rig, "top", "cap")
    if place is not None:
        return np.asarray(place.t_design), str(rig.value("rail.steel")), "wall of the stiffener"
    if under:
        return rig.number("box.sheet"), str(rig.value("box.steel")), "floor sheet"
    return side_sheet(rig), str(rig.value("box.steel")), "side wall"


def weld_group(rig: Rig, carried: Carried, *, shape: Shape, under: bool) -> tuple[WeldLine, WeldLoad, Array, str]:
    """The weld as a line, what it carries, the length of one run, and which group it is.

    Two runs along the member: across is along the floor, along is along the member, out is square to the floor; what
    pulls along its middle bends them by half its depth. All round: across is along the floor, along is square to it,
    out is along the member. All parts add at one corner.
    """
    push, cut, aside = (np.abs(part) for part in (carried.pull, carried.shear, carried.aside))
    if butts(rig, shape=shape, under=under):
        load = WeldLoad(fx=aside, fy=cut, fz=push, mx=carried.end, my=carried.flat, mz=-carried.torque)
        if shape.kind in ROUND:
            return ring(shape.depth), load, np.asarray(np.pi * shape.depth), "ring"
        met = _stiffener_at(rig, "under")
        depth = shape.depth if met is None else min(shape.depth, met.depth)
        return rectangle(shape.width, depth=depth), load, np.asarray(min(shape.width, depth)), "rectangle"
    run = run_length(rig, shape=shape, under=under)
    if run is None:
        raise LookupError(f"{shape.name}: no run of weld is described")
    bent = carried.end + 0.5 * shape.depth * push
    load = WeldLoad(fx=aside, fy=push, fz=cut, mx=bent, my=carried.torque, mz=-carried.flat)
    wide = np.asarray(run)[..., None, None, None]
    return two_verticals(shape.width, depth=wide), load, wide, "two uprights"


def weld_joints(rig: Rig, *, shape: Shape, under: bool, length: Array) -> list[tuple[str, Joint]]:
    """What an end weld joins, by name: the member's own wall, and what it meets."""
    thick, metal, name = met_by(rig, under=under, butt=butts(rig, shape=shape, under=under))
    own = (np.asarray(shape.t_design), str(rig.value("cross_member.steel")), 2.0 if shape.kind in _SOLID else 1.0)
    leg = per_row(rig.number("cross_member.weld"))
    return [
        (word, joint_on(rig, steel.grade(grade), leg=leg, length=length, thickness=per_row(wall), faces=faces))
        for word, wall, grade, faces in (("wall of the member", *own), (name, thick, metal, 1.0))
    ]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class EndWeld:
    """An end weld under what it carries, whatever it is held to.

    Attributes:
        force: Largest force per inch. [lbf/in]
        joints: What it joins.
    """

    force: Array
    joints: tuple[Joint, ...]


def end_weld(rig: Rig, carried: Carried, *, shape: Shape, under: bool) -> EndWeld:
    """The end weld under bending, shear, axial force and torsion; the tubes are taken as welded like the others."""
    group, load, length, kind = weld_group(rig, carried, shape=shape, under=under)
    if kind != "ring":  # the corner at which all parts add
        group = replace(group, x=group.x[..., _CORNER], y=group.y[..., _CORNER])
    joints = tuple(joint for _, joint in weld_joints(rig, shape=shape, under=under, length=length))
    return EndWeld(peak_force(group, load=load), joints)


def weld_row(rig: Rig, weld: EndWeld, *, part: Item, basis: Basis) -> tuple[str, str, str, Array, Array, str]:
    """An end weld against its strength."""
    allowed = least_allowed(rig, weld.joints, basis=basis)
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum of what the joint carries"
    return (MEMBER_WELDS[part], "force per inch", "line", weld.force, allowed, clause)

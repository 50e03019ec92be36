"""The rail as a beam-column: compression with bending, top edge, shear, and what the hanger does from the side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.across import rail_twist
from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import divide
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sizes import stiffener_on_top
from rigcheck.loads.steel import cross_member_count, side_sheet, stiffener_height
from rigcheck.parts.rail.checks import of_rail, rail_described, thrown_back
from rigcheck.parts.rail.ways import RailWay
from rigcheck.statics.geometry import most_apart
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.members import shapes as members
from rigcheck.strength.members import shear
from rigcheck.strength.members.chord import Chord, UFrame, chord_allowable, side_stiffness
from rigcheck.strength.members.compression import ELASTIC_MODULUS, allowable_stress, euler_stress, moment_amplifier
from rigcheck.strength.members.interaction import member
from rigcheck.strength.members.plates import Web, effective_width, web_crippling
from rigcheck.tables import shapes, steel

WEB_FACTOR = 5.34  # shear buckling factor of a wall held along both edges; AISC 360-22 G2.1 (memory)
CHORD_SHARE = 1.0 / 3.0  # of the pressed part of the wall, counted with the chord; AISC 360-22 F4.2, r_t (memory)
STRIP_SHARE = 0.125  # of the floor's width that works with a twisting rail; docs/method.md#rail-section, shell models
SPREAD = 2.0  # a load through a stiffener reaches the wall over its own length and this many depths; 45 degrees
_NEVER = 1.0e9
_IN_THE_SUM = (RailWay.SHEAR, RailWay.TORSION, RailWay.SIDEWAYS)
"""Modes that the sum of all holds; on strength they have no rows of their own."""


def rail_metal(rig: Rig) -> float:
    """Yield stress of the rail: the lower of stiffener and sheet. [psi]"""
    return min(steel.grade(str(rig.value("rail.steel"))).fy, steel.grade(str(rig.value("box.steel"))).fy)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Edge:
    """The top edge of the rail as a chord, or whatever stiffener the line hangs on, shapes (...).

    Attributes:
        chord: The chord.
        frame: The U-frames that hold it sideways.
        height: Its middle above the floor. [in]
        held: True where cross-members over the top hold it directly.
    """

    chord: Chord
    frame: UFrame
    height: Array
    held: bool


def rail_edge(solution: Solution, *, stiffener: bool) -> Edge | None:
    """The stiffener with a third of the pressed wall, or of the wall alone; None without cross-members."""
    rig = solution.rig
    if not rig.has("cross_member.shape"):
        return None
    section = solution.section
    wall = side_sheet(rig)
    pressed = np.maximum(rig.number("box.side_height") - section.axis, 0.0) * CHORD_SHARE
    area, inertia = pressed * wall, pressed * wall**3 / 12.0
    height = rig.number("box.side_height") - 0.5 * pressed
    if stiffener:
        shape = shapes.find(rig.value("rail.stiffener"))
        height = stiffener_height(rig)[0]
        area, inertia = shape.area + area, shape.iy + inertia
    across = shapes.find(rig.value("cross_member.shape"))
    under = str(rig.value("cross_member.at")) == "under"
    low = -rig.number("box.sheet") - 0.5 * across.depth
    spacing = rig.number("cross_member.spacing")
    return Edge(
        chord=Chord(area=area, inertia=inertia, length=rig.number("box.length"), ends_held=0.0, fy=rail_metal(rig)),
        frame=UFrame(
            height=np.maximum(np.abs(height - low), 0.1),
            wall=wall,
            stiffener=0.0,
            width=rig.number("box.width"),
            cross_member=across.ix,
            spacing=spacing,
        ),
        height=np.asarray(height),
        held=not under,
    )


def rail_not_assessed(solution: Solution) -> list[Missing]:
    """What of the rail cannot be held against anything as the case stands."""
    rig = solution.rig
    if not rail_described(rig):
        text = "rail and side walls (no [rail] table; one without a stiffener says that the wall is the whole rail)"
        return [Missing(text, id="rail", group="rail")]
    missing = []
    if not rig.has("cross_member.shape"):
        text = "rail top edge, sideways (no cross-members described)"
        missing.append(Missing(text, id="rail.top_edge", group="rail"))
    if not rig.has("hanger.lug.weld_length"):
        text = "side wall at the hanger (length of the lug's weld not known)"
        missing.append(Missing(text, id="rail.wall_at_hanger", group="rail"))
    return missing


@of_rail
def rail_strength_flags(solution: Solution) -> list[Flag]:
    """A hanger on bare sheet, and a strip of floor wider than works in compression."""
    rig = solution.rig
    flags = []
    if not rig.has("rail.stiffener"):
        text = "the hanger is on bare sheet: weld a doubler under it, point loads tear and cripple thin walls"
        flags.append(Flag(code="hanger_on_bare_sheet", text=text, where=np.asarray(True)))
    strip = rig.number("rail.effective_floor_width")
    stress = rail_metal(rig) / BASES[str(rig.value("basis"))].yielding
    width = rig.number("box.width")
    presses = 0.5 * effective_width(width, thickness=rig.number("box.sheet"), stress=stress)
    works = np.minimum(presses, STRIP_SHARE * width)
    text = (
        "the strip of floor counted with the rail is wider than works with it: at most an eighth of the floor's width"
        " where the box twists, and half of what works in compression at the allowable stress"
        " (AISI S100 effective width, memory)"
    )
    where = (strip > works + 1e-9)[..., None, None, None]
    flags.append(Flag(code="floor_strip_wide", text=text, where=where, stops=True))
    return [flag for flag in flags if np.any(flag.where)]


@of_rail
def rail_strength_checks(solution: Solution) -> list[Check]:
    """The rail beyond fiber stress, on the chosen basis and on strength.

    Args:
        solution: The statics.

    Returns:
        Checks.

    Source: docs/method.md#rail-as-a-beam-column; clauses beside each row.
    """
    checks = [row for one in solution.bases() for row in _rows(solution, basis=one)]
    return [row for row in checks if not row.ultimate or row.way not in _IN_THE_SUM]


def _rows(solution: Solution, *, basis: Basis) -> list[Check]:
    rig = solution.rig
    fy = rail_metal(rig)
    bent = beam_column(solution, basis=basis, pairs=_pairs_of(solution, basis=basis))
    sheared, shear_strength = wall_shear(solution, basis=basis)
    twist, torque = hanger_twist(solution), _torsion_strength(solution, basis=basis)
    aside, across = hanger_aside(solution), _sideways_strength(solution, basis=basis)
    together = member(
        0.0, major=bent, minor=aside / across, shear=sheared / shear_strength, torsion=twist / torque, basis=basis
    )
    one = np.ones(())
    rows: list[tuple[RailWay, str, Array, Array, str]] = [
        (
            RailWay.COLUMN,
            "number",
            bent,
            one,
            "AISC 360-22 H2-1 (seen), E3, Appendix 8 (memory)",
        ),
        (RailWay.SHEAR, "force", sheared, shear_strength, "AISC 360-22 G2 (memory)"),
        (RailWay.TORSION, "moment", twist, torque, "AISC 360-22 H3 (memory)"),
        (
            RailWay.SIDEWAYS,
            "moment",
            aside,
            across,
            "bar on an elastic foundation (memory); AISC 360-22 F7",
        ),
        (
            RailWay.TOGETHER,
            "number",
            together,
            one,
            "AISC 360-22 H2-1, H3-6 (seen); ASME BTH-1 3-2.4, 3-2.5 (memory)",
        ),
    ]
    edge = rail_edge(solution, stiffener=stiffener_on_top(rig))
    if edge is not None:
        pressed = solution.bent.on_bounds(solution.peaks.compression * thrown_back(solution))
        allowed = per_row(_edge_stress(edge, basis=basis))
        rows.append((RailWay.EDGE, "stress", pressed, allowed,
                     "AISC 360-22 E3 with the U-frames' elastic load (memory)"))  # fmt: skip
    if rig.has("hanger.lug.weld_length"):
        force, allowed = wall_load(solution, basis=basis)
        rows.append((RailWay.WALL, "force", force, allowed, "AISI S100 G5 (memory)"))
    ultimate = basis is ULTIMATE
    text = f"{basis.title}; Fy {fy / 1000.0:g} ksi, dynamic factor in the load"
    return [
        Check(part=Item.RAIL, group="rail", mode=way.value + (" (strength)" if ultimate else ""), unit=unit,
              demand=demand, capacity=capacity, basis=text, clause=clause, ultimate=ultimate, way=way)
        for way, unit, demand, capacity, clause in rows
    ]  # fmt: skip


def _pairs_of(solution: Solution, *, basis: Basis) -> NDArray[np.intp]:
    """Pairs of the rows held to a basis: to strength those in which a line parts, to the chosen one the others."""
    assert solution.bent.alike is not None
    return np.flatnonzero(solution.bent.alike.parted == (basis is ULTIMATE))


def beam_column(solution: Solution, *, basis: Basis, pairs: NDArray[np.intp] | None = None) -> Array:
    """Stress ratios of both edges at every station, bending grown by the push, at their worst.

    |f_a/F_a + B f_b/F_b|, f_a and f_b with their signs, F_a that of a column from hinge to hanger where the rail is
    pushed; it bends only square to the floor, which ties it. A push that relieves an edge counts with yield alone.

    Args:
        solution: The statics.
        basis: Basis of allowable strength.
        pairs: The pairs wanted; all of them where not said.

    Returns:
        Utilization, shape (..., state, bound, side), zero in rows whose bending is not worked out or not wanted.

    Source: AISC 360-22 Eq. (H2-1) (seen), E3, Appendix 8 (memory); docs/method.md#rail-as-a-beam-column.
    """
    section, peaks, fy = solution.section, solution.peaks, rail_metal(solution.rig)
    span = solution.layout.hanger_s
    radius, bending = column_of(solution)
    column = allowable_stress(euler_stress(span / radius), fy=fy, basis=basis)
    wanted = np.arange(len(solution.bent.pairs)) if pairs is None else pairs
    every = len(wanted) == len(solution.bent.pairs)
    x, axial, moment = (part if every else part[..., wanted, :, :] for part in (peaks.x, peaks.axial, peaks.moment))
    more = thrown_back(solution)[..., wanted, :]
    push = np.where(x <= per_row(span), np.maximum(-axial, 0.0), 0.0).max(-1) * more
    euler = np.pi**2 * bending / span**2
    grow = moment_amplifier(push, euler=euler[..., None, None], second_order=basis.second_order)
    allowed = fy / basis.yielding
    # stress ratios of either edge at every station: the push alone by yield and as a column, and the bending
    plain = axial * (more / (section.area * allowed)[..., None, None])[..., None]
    column_ratio = axial * (more / (section.area * column)[..., None, None])[..., None]
    column_ratio = np.where(axial < 0.0, column_ratio, plain)
    bend = moment * (grow * more / (section.inertia * allowed)[..., None, None])[..., None]
    edges = -bend * per_row(section.top - section.axis), bend * per_row(section.axis - section.bottom)
    pulled = np.maximum(plain, column_ratio) + np.maximum(*edges)
    pressed = np.minimum(plain, column_ratio) + np.minimum(*edges)
    worst = np.zeros((*pulled.shape[:-3], len(solution.bent.pairs), pulled.shape[-2]))
    worst[..., wanted, :] = np.maximum(pulled.max(-1), -pressed.min(-1))
    return solution.bent.on_bounds(worst)


def column_of(solution: Solution) -> tuple[Array, Array]:
    """Radius of gyration and E I of the rail as a column: of a box in stretches the least of any stretch."""
    along, section = solution.layout.along, solution.section
    if along is None:
        return np.sqrt(section.inertia / section.area), section.modulus * section.inertia
    radii = [np.sqrt(piece.inertia / piece.area) for piece in along.pieces]
    bending = [1.0 / piece.soft for piece in along.pieces]
    return tuple(np.min(np.stack(np.broadcast_arrays(*some)), axis=0) for some in (radii, bending))


def wall_shear(solution: Solution, *, basis: Basis) -> tuple[Array, Array]:
    """Largest shear of each rail, and what its side wall alone carries."""
    rig, fy = solution.rig, rail_metal(solution.rig)
    wall, height = side_sheet(rig), rig.number("box.side_height")
    force = solution.bent.on_bounds(solution.peaks.max_shear * thrown_back(solution))
    return force, per_row(shear.sheet_shear(wall, height=height, fy=fy, plate_factor=WEB_FACTOR, basis=basis))


def _hanger_arms(solution: Solution) -> tuple[Array, Array]:
    """Hanger outside the rail, and over the middle of what it is welded to, shapes (..., 1). [in]"""
    rig = solution.rig
    level = stiffener_height(rig)[0] if rig.has("rail.stiffener") else solution.section.axis
    out = 0.5 * (solution.layout.hanger_spacing - solution.layout.rail_spacing)
    return out[..., None], np.asarray(solution.layout.hanger_n - level)[..., None]


def twist_share(rig: Rig, *, hanger: Array) -> Array:
    """Part of the hanger's torque that runs along the rail to the cross-members on either side, shape (...).

    (p - a)/p with the nearest member a away and members p apart; a/p where the hanger lands on the member itself; all
    of it where no cross-member is described.

    Source: torsion of a bar held at both ends; docs/method.md#twist-at-the-hanger.
    """
    if not rig.has("cross_member.shape"):
        return np.ones_like(hanger)
    spacing = rig.number("cross_member.spacing")
    half = 0.5 * shapes.find(rig.value("cross_member.shape")).width
    index = np.clip(np.round(hanger / spacing), 0.0, cross_member_count(rig) - 1.0)
    away = np.abs(hanger - index * spacing)
    short = np.clip(1.0 - away / spacing, 0.0, 1.0)
    return np.where(away <= half, np.minimum(away / spacing, 1.0), np.where(away >= spacing, 1.0, short))


def hanger_twist(solution: Solution) -> Array:
    """Torque in the rail beside the hanger: offset, splay, twist of the box, shape (..., state, bound, side). [lbf*in]

    T |u_n e - u_y (n_H - n_r)| times the share that runs along the rail, and what the rail takes of the box's twist
    wherever it is the most.
    """
    at = solution.pose
    out, over = _hanger_arms(solution)
    share = twist_share(solution.rig, hanger=solution.layout.hanger_s)[..., None]
    per_pound = np.abs(at.u_n * out - at.uy * over) * share
    own = solution.bent.forces.ties.own * solution.bent.thrown[..., None]
    twisted = rail_twist(solution.rig, own=own, spacing=most_apart(solution.layout), whole=solution.here.whole)
    turned = solution.bent.of_pairs(twisted)
    return np.asarray(np.abs(solution.demand.tension) * per_pound[..., None, None] + turned)


def _torsion_strength(solution: Solution, *, basis: Basis) -> Array:
    rig = solution.rig
    if rig.has("rail.stiffener"):
        section = members.section_of([shapes.find(rig.value("rail.stiffener"))])
        length = per_row(rig.number_or("cross_member.spacing", rig.number("box.length")))
        return members.torsion_strength(section, fy=rail_metal(rig), basis=basis, length=length)
    modulus = rig.number("box.side_height") * side_sheet(rig) ** 2 / 3.0
    return per_row(shear.open_torsion(modulus, fy=rail_metal(rig)) / basis.shear)


def hanger_aside(solution: Solution) -> Array:
    """Sideways bending of the stiffener at the hanger, shape (..., state, bound, side). [lbf*in]

    T |u_y|/(4 beta) with beta = (k/(4 E I))^(1/4) on the U-frames, or T |u_y| p/4 between cross-members over the top
    that hold it directly, and half of the couple T u_s e. Nothing where no cross-member is described: that is
    reported as not assessed.

    Source: infinite bar on an elastic foundation under one force and one couple (memory: Hetenyi).
    """
    at = solution.pose
    edge = rail_edge(solution, stiffener=solution.rig.has("rail.stiffener"))
    if edge is None:
        return np.zeros_like(solution.demand.tension)
    stiff = ELASTIC_MODULUS * np.asarray(edge.chord.inertia)
    spacing = np.asarray(edge.frame.spacing)
    arm = 0.25 * spacing
    if not edge.held:
        arm = 0.25 * divide(4.0 * stiff, side_stiffness(edge.frame), where_zero=_NEVER) ** 0.25
    out, _ = _hanger_arms(solution)
    per_pound = np.abs(at.uy) * np.asarray(arm)[..., None] + 0.5 * np.abs(at.u_s * out)
    return np.asarray(solution.demand.tension * per_pound[..., None, None])


def _sideways_strength(solution: Solution, *, basis: Basis) -> Array:
    rig, fy = solution.rig, rail_metal(solution.rig)
    if rig.has("rail.stiffener"):
        section = members.section_of([shapes.find(rig.value("rail.stiffener"))])
        length = per_row(rig.number_or("cross_member.spacing", rig.number("box.length")))
        return members.moment_strength(section, about="y", fy=fy, basis=basis, length=length)
    pressed = np.maximum(rig.number("box.side_height") - solution.section.axis, 0.0) * CHORD_SHARE
    return per_row(fy * pressed * side_sheet(rig) ** 2 / 6.0 / basis.yielding)


def _edge_stress(edge: Edge, *, basis: Basis) -> Array:
    if edge.held:
        radius = np.sqrt(divide(edge.chord.inertia, edge.chord.area))
        elastic = euler_stress(divide(edge.frame.spacing, radius, where_zero=_NEVER))
        return allowable_stress(elastic, fy=edge.chord.fy, basis=basis)
    return chord_allowable(edge.chord, frame=edge.frame, basis=basis)


def wall_load(solution: Solution, *, basis: Basis) -> tuple[Array, Array]:
    """Pull of the line in the plane of the side wall, and what the bare wall takes over the length of the lug's weld.

    A stiffener between lug and wall spreads the load at 45 degrees. The bend at the foot of the wall is taken with an
    inside radius of one thickness.

    Source: AISI S100 G5 (memory), written for a push; docs/method.md#side-wall-at-the-hanger.
    """
    force = np.abs(solution.demand.tension * solution.pose.u_n[..., None, None])
    return force, per_row(web_crippling(loaded_wall(solution), basis=basis))


def loaded_wall(solution: Solution) -> Web:
    """The side wall under the hanger as a sheet that a load presses in its plane, shapes (...)."""
    rig = solution.rig
    wall = side_sheet(rig)
    length = rig.number("hanger.lug.weld_length")
    if rig.has("rail.stiffener"):
        length = length + SPREAD * shapes.find(rig.value("rail.stiffener")).depth
    height = rig.number("box.side_height")
    near = np.minimum(solution.layout.hanger_s, solution.layout.length - solution.layout.hanger_s) < 1.5 * height
    return Web(
        thickness=wall,
        height=height,
        bearing=length,
        bend_radius=wall,
        fy=steel.grade(str(rig.value("box.steel"))).fy,
        at_end=np.asarray(near, dtype=np.float64),
    )

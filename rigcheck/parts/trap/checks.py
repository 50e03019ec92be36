"""Traps below the floor: each spans from rail to rail with what stands in it and the floor beside it; its end welds."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.across import trap_places, trough_of, tubes
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import at_station
from rigcheck.loads.sizes import cross_member_count
from rigcheck.loads.traps import Trap, traps
from rigcheck.parts.cross_member.forces import SHARE, lies_under, wide
from rigcheck.parts.floor.checks import floor_load
from rigcheck.parts.stretches import rail_views
from rigcheck.parts.trap.ways import TrapWay
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.connections.weld_lines import WeldLine, WeldLoad, peak_force, two_verticals
from rigcheck.strength.connections.welds import Joint
from rigcheck.strength.members.interaction import member
from rigcheck.strength.members.trough import allowed
from rigcheck.tables import steel
from rigcheck.tables.materials import steel_density

_CLAUSES = {
    TrapWay.MEMBER: "AISC 360-22 F8, F10, G, H3 (memory), elastic; ASME BTH-1 3-2.4 (memory); open: St Venant alone",
    TrapWay.WELD: "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum of what the joint carries",
    TrapWay.SEAM: "AISC 360-22 J2.4, J4.2 (seen, memory); shear flow of a closed cell, T/(2 A) (memory)",
}


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Carried:
    """What one trap carries, shapes broadcast to (..., state, bound, side): moment, torque [lbf*in], shear [lbf]."""

    moment: Array
    shear: Array
    torque: Array


def _spanning(rig: Rig) -> list[Trap]:
    return [one for one in traps(rig) if one.below]


def _welded(rig: Rig, one: Trap) -> bool:
    return rig.has(f"{one.key}.weld") and rig.has(f"{one.key}.weld_length")


def traps_not_assessed(solution: Solution) -> list[Missing]:
    """Traps whose end welds are not described, or beside which the floor's spans are not known."""
    rig = solution.rig
    missing = []
    for one in _spanning(rig):
        if not _welded(rig, one):
            text = f"welds of {one.part} at its ends (leg or length not known)"
            missing.append(Missing(text, id=f"{one.key}.weld", group="floor"))
        if not rig.has("cross_member.shape"):
            missing.append(Missing(f"{one.part} (span of the floor beside it unknown)", id=one.key, group="floor"))
    return missing


def drained(rig: Rig) -> list[Trap]:
    """Traps that the case says are drained, or nearly so, before the box hangs empty, folds or goes on the road."""
    return [one for one in traps(rig) if rig.has(f"{one.key}.drained_to") and bool(np.any(one.left < one.deep))]


def trap_flags(solution: Solution) -> list[Flag]:
    """Traps that count as drained: what is not drained is heavier than it was looked at."""
    told = drained(solution.rig)
    if not told:
        return []
    rows = solution.cases(lambda case: case.moving or case.folded)
    text = f"{' and '.join(one.part for one in told)} counted as drained while the box folds, is towed and is hauled:"
    text += " drain before each of them, and see that nothing is frozen in"
    return [Flag(code="trap_drained", text=text, where=rows[:, None, None])]


def trap_checks(solution: Solution) -> list[Check]:
    """Each trap below the floor as a member, its end welds, and the seams of one that is closed.

    Args:
        solution: The statics.

    Returns:
        Checks on the chosen basis and on strength; none where the floor's spans are not known.

    Source: docs/method.md#traps-and-gates; clauses beside each row.
    """
    rig = solution.rig
    if not rig.has("cross_member.shape"):
        return []
    checks: list[Check] = []
    for one in _spanning(rig):
        carried, seen = carries(solution, one), seen_from(solution, one)
        for basis in solution.bases():
            rows = _rows(rig, one, carried=carried, basis=basis)
            checks += [replace(row, key=one.key, seen=None if seen is solution else seen) for row in rows]
    return checks


def seen_from(solution: Solution, one: Trap) -> Solution:
    """The solution as the stretch of the box sees it in which a trap lies; the solution itself of an undivided box."""
    if solution.layout.along is None:
        return solution
    return rail_views(solution)[at_station(solution.rig, one.at).number]


def carries(solution: Solution, one: Trap) -> Carried:
    """What a trap carries as a simple beam between the rails, everybody in its middle; for shear, at its end.

    Its own weight and what stands in it lie along the floor's width, W b/8 at most.

    Source: w L^2/8 + P L/4; docs/method.md#traps-and-gates.
    """
    between = between_rails(solution, one)
    across, own, load = wide(between), _own(solution, one), floor_load(seen_from(solution, one))
    pressed = load.pressure[..., None, None] * wide(floor_beside(solution, one)) * across
    people = load.people[..., None, None]
    torque: Array = np.zeros(())
    place = trap_places(solution.rig).get(one.number)
    if place is not None:
        found = solution.bent
        torque = np.abs(found.of_pairs(found.forces.ties.torque[..., place] * found.thrown))
    return Carried(
        moment=(own + pressed) * across / 8.0 + people * across / 4.0,
        shear=(own + pressed) / 2.0 + people,
        torque=torque,
    )


def floor_beside(solution: Solution, one: Trap) -> Array:
    """Length of the floor that presses on a trap. [in]

    The slot parts the sheet: of what lies between the members on both sides half, and all that lies over the slot,
    (p + o)/2; on a floor that runs on over it 1.25 p/2. Behind the last member, where no tube holds the tail, two
    spacings. Where the members lie across the top, the floor as far on both sides as it is wide, b/2.
    """
    rig = solution.rig
    if not lies_under(rig):
        return np.asarray(between_rails(solution, one) + one.opening)
    spacing = rig.number("cross_member.spacing")
    found = np.maximum(0.5 * (spacing + one.opening), 0.5 * SHARE[1] * spacing)
    last = (cross_member_count(rig) - 1.0) * spacing
    return np.asarray(np.where((one.at > last) & ("tail" not in tubes(rig)), 2.0 * spacing, found))


def between_rails(solution: Solution, one: Trap) -> Array:
    """Distance of the rails at a trap, shape (...). [in]"""
    along = solution.layout.along
    return solution.layout.rail_spacing if along is None else along.spacing(one.at, axes=0)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Own:
    """Weight of a trap, shapes (..., state): what is in it, its metal [lbf], and the factor on each. [1]"""

    standing: Array
    standing_gain: Array
    metal: Array
    metal_gain: Array


def own_weight(solution: Solution, one: Trap) -> Own:
    """What a trap weighs in each row in which the lines hold the box."""
    strip = solution.life.loads.strip
    middle = 0.5 * (strip["start"] + strip["end"])
    here = (strip["on_floor"] == 0.0) & (np.abs(middle - one.at[..., None, None]) < 1e-6)
    w = 0.5 * (strip["w_start"] + strip["w_end"]) * (strip["end"] - strip["start"]) * here
    metal = (one.metal.size * one.width + one.end_plates.size * one.wall) * steel_density()
    if solution.rig.has(f"{one.key}.cover"):
        cover = solution.rig.number(f"{one.key}.cover")
        metal = metal + (one.opening + 2.0 * one.wall) * one.width * cover * steel_density()
    most = strip["gain"].max(-1)
    return Own(w.sum(-1), np.where(here, strip["gain"], 0.0).max(-1), np.asarray(metal)[..., None] + 0.0 * most, most)


def _own(solution: Solution, one: Trap) -> Array:
    """Weight of a trap and of what is in it, square to the floor, with each row's factors, (..., state, 1, 1). [lbf]"""
    loads, own = solution.life.loads, own_weight(solution, one)
    normal = solution.pose.normal[..., : len(loads.rows), :]
    down = np.abs(loads.gravity[..., 0] * normal[..., 0] + loads.gravity[..., 2] * normal[..., 1])
    weight = (own.standing * own.standing_gain + own.metal * own.metal_gain) * down
    more = np.zeros((*weight.shape[:-1], len(solution.rows) - weight.shape[-1]))
    return np.concatenate([weight, more], axis=-1)[..., None, None]


def _rows(rig: Rig, one: Trap, *, carried: Carried, basis: Basis) -> list[Check]:
    trough, metal = trough_of(rig, one), steel.grade(str(rig.value(f"{one.key}.steel")))
    may = allowed(trough, fy=metal.fy, basis=basis)
    use = member(
        np.zeros(()),
        major=carried.moment / per_row(may.moment),
        minor=np.zeros(()),
        shear=carried.shear / per_row(may.shear),
        torsion=carried.torque / per_row(may.torsion),
        basis=basis,
    )
    rows = [_row(one.part, TrapWay.MEMBER, "number", use, np.ones(()), basis=basis)]
    if not _welded(rig, one):
        return [replace(row, key=one.key) for row in rows]
    holds = per_row(weld_allowed(rig, one, basis=basis))
    force = peak_force(end_runs(rig, one), load=WeldLoad(fz=carried.shear, my=carried.torque))
    rows.append(_row(f"{one.part} end weld", TrapWay.WELD, "line", force, holds, basis=basis))
    if trough.closed:
        flow = carried.torque / per_row(2.0 * trough.cell)
        rows.append(_row(f"{one.part} cover weld", TrapWay.SEAM, "line", flow, holds, basis=basis))
    return [replace(row, key=one.key) for row in rows]


def end_runs(rig: Rig, one: Trap) -> WeldLine:
    """The two runs at one end, as far apart as the middles of its walls."""
    return two_verticals(per_row(one.opening + one.wall), depth=per_row(rig.number(f"{one.key}.weld_length")))


def weld_joints(rig: Rig, one: Trap) -> list[tuple[str, Joint]]:
    """What a fillet along an edge joins: the trap's own wall, the floor sheet, a cover."""
    place, own = at_station(rig, one.at).rig, str(rig.value(f"{one.key}.steel"))
    metals = [("wall of the trap", one.wall, own), ("floor sheet", place.number("box.sheet"),
                                                    str(rig.value("box.steel")))]  # fmt: skip
    if rig.has(f"{one.key}.cover"):
        metals.append(("cover", rig.number(f"{one.key}.cover"), own))
    leg, length = rig.number(f"{one.key}.weld"), rig.number(f"{one.key}.weld_length")
    return [
        (name, joint_on(rig, steel.grade(grade), leg=leg, length=length, thickness=thick))
        for name, thick, grade in metals
    ]


def weld_allowed(rig: Rig, one: Trap, *, basis: Basis) -> Array:
    """Least of what weld and metals stand, shape (...). [lbf/in]"""
    return least_allowed(rig, (joint for _, joint in weld_joints(rig, one)), basis=basis)


def _row(part: str, way: TrapWay, unit: str, demand: Array, capacity: Array, *, basis: Basis) -> Check:
    ultimate = basis is ULTIMATE
    return Check(part=part, group="floor", mode=way.value + (" (strength)" if ultimate else ""), unit=unit,
                 demand=demand, capacity=capacity, basis=f"{basis.title}; dynamic factor in the load",
                 clause=_CLAUSES[way], ultimate=ultimate, way=way)  # fmt: skip

"""Traps below the floor: each spans from rail to rail with what stands in it and the floor beside it; its end welds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.across import trap_places, trough_of, tubes
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check
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
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.connections.weld_lines import WeldLoad, peak_force, two_verticals
from rigcheck.strength.connections.welds import CONFIDENCE, Joint, fillet_allowable
from rigcheck.strength.members.interaction import member
from rigcheck.strength.members.trough import allowed
from rigcheck.tables import steel
from rigcheck.tables.materials import steel_density

MODE = "bending, shear and torsion together"
MEMBER_CLAUSE = "AISC 360-22 F8, F10, G, H3 (memory), elastic; ASME BTH-1 3-2.4 (memory); open: St Venant alone"
WELD_CLAUSE = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum of what the joint carries"
SEAM_CLAUSE = "AISC 360-22 J2.4, J4.2 (seen, memory); shear flow of a closed cell, T/(2 A) (memory)"


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
        carried = carries(solution, one)
        for basis in solution.bases():
            checks += _rows(rig, one, carried=carried, basis=basis)
    return checks


def carries(solution: Solution, one: Trap) -> Carried:
    """What a trap carries as a simple beam between the rails, everybody in its middle; for shear, at its end.

    Its own weight and what stands in it lie along the floor's width, W b/8 at most.

    Source: w L^2/8 + P L/4; docs/method.md#traps-and-gates.
    """
    rig = solution.rig
    across = wide(_between_rails(solution, one))
    own = _own(solution, one)
    view = solution
    if solution.layout.along is not None:
        view = rail_views(solution)[at_station(rig, one.at).number]
    load = floor_load(view)
    pressed = load.pressure[..., None, None] * wide(_reach(solution, one)) * across
    people = load.people[..., None, None]
    torque: Array = np.zeros(())
    place = trap_places(rig).get(one.number)
    if place is not None:
        found = solution.bent
        torque = np.abs(found.of_pairs(found.forces.ties.torque[..., place] * found.thrown))
    return Carried(
        moment=(own + pressed) * across / 8.0 + people * across / 4.0,
        shear=(own + pressed) / 2.0 + people,
        torque=torque,
    )


def _reach(solution: Solution, one: Trap) -> Array:
    """Length of the floor that presses on a trap. [in]

    The slot parts the sheet: of what lies between the members on both sides half, and all that lies over the slot,
    (p + o)/2; on a floor that runs on over it 1.25 p/2. Behind the last member, where no tube holds the tail, two
    spacings. Where the members lie across the top, the floor as far on both sides as it is wide, b/2.
    """
    rig = solution.rig
    if not lies_under(rig):
        return np.asarray(_between_rails(solution, one) + one.opening)
    spacing = rig.number("cross_member.spacing")
    found = np.maximum(0.5 * (spacing + one.opening), 0.5 * SHARE[1] * spacing)
    last = (cross_member_count(rig) - 1.0) * spacing
    return np.asarray(np.where((one.at > last) & ("tail" not in tubes(rig)), 2.0 * spacing, found))


def _between_rails(solution: Solution, one: Trap) -> Array:
    along = solution.layout.along
    return solution.layout.rail_spacing if along is None else along.spacing(one.at, axes=0)


def _own(solution: Solution, one: Trap) -> Array:
    """Weight of a trap and of what is in it, square to the floor, with each row's factors, (..., state, 1, 1). [lbf]"""
    loads, strip = solution.life.loads, solution.life.loads.strip
    middle = 0.5 * (strip["start"] + strip["end"])
    here = (strip["on_floor"] == 0.0) & (np.abs(middle - one.at[..., None, None]) < 1e-6)
    w = 0.5 * (strip["w_start"] + strip["w_end"]) * (strip["end"] - strip["start"])
    metal = (one.metal.size * one.width + one.end_plates.size * one.wall) * steel_density()
    if solution.rig.has(f"{one.key}.cover"):
        cover = solution.rig.number(f"{one.key}.cover")
        metal = metal + (one.opening + 2.0 * one.wall) * one.width * cover * steel_density()
    weight = (w * strip["gain"] * here).sum(-1) + np.asarray(metal)[..., None] * strip["gain"].max(-1)
    normal = solution.pose.normal[..., : len(loads.rows), :]
    down = np.abs(loads.gravity[..., 0] * normal[..., 0] + loads.gravity[..., 2] * normal[..., 1])
    weight = weight * down
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
    rows = [_row(one.part, MODE, "number", use, np.ones(()), basis=basis, clause=MEMBER_CLAUSE)]
    if not _welded(rig, one):
        return rows
    run = rig.number(f"{one.key}.weld_length")
    holds = _weld_allowed(rig, one, run=run, basis=basis)
    group = two_verticals(per_row(one.opening + one.wall), depth=per_row(run))
    force = peak_force(group, load=WeldLoad(fz=carried.shear, my=carried.torque))
    rows.append(_row(f"{one.part} end weld", "force per inch", "line", force, holds, basis=basis, clause=WELD_CLAUSE))
    if trough.closed:
        flow = carried.torque / per_row(2.0 * trough.cell)
        rows.append(_row(f"{one.part} cover weld", "shear flow of its cell", "line", flow, holds, basis=basis,
                         clause=SEAM_CLAUSE))  # fmt: skip
    return rows


def _weld_allowed(rig: Rig, one: Trap, *, run: Array, basis: Basis) -> Array:
    """Least of what a fillet along its edge, its own wall, the floor sheet and a cover stand."""
    place, own = at_station(rig, one.at).rig, str(rig.value(f"{one.key}.steel"))
    metals = [(one.wall, own), (place.number("box.sheet"), str(rig.value("box.steel")))]
    if rig.has(f"{one.key}.cover"):
        metals.append((rig.number(f"{one.key}.cover"), own))
    found = [
        fillet_allowable(
            Joint(leg=rig.number(f"{one.key}.weld"), length=run,
                  electrode=steel.electrode(str(rig.value("weld.electrode"))).fexx, thickness=thick,
                  fy=steel.grade(grade).fy, fu=steel.grade(grade).fu),
            basis=basis, confidence=CONFIDENCE[str(rig.value("weld.hand"))],
        )
        for thick, grade in metals
    ]  # fmt: skip
    return per_row(np.min(np.stack(np.broadcast_arrays(*found)), axis=0))


def _row(part: str, mode: str, unit: str, demand: Array, capacity: Array, *, basis: Basis, clause: str) -> Check:
    ultimate = basis is ULTIMATE
    return Check(part=part, group="floor", mode=mode + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
                 capacity=capacity, basis=f"{basis.title}; dynamic factor in the load", clause=clause,
                 ultimate=ultimate)  # fmt: skip

"""Joints between stretches under what runs through the rails there, and the members where the sides turn."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.across import member_stations, tubes
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import reaches
from rigcheck.loads.sizes import side_sheet
from rigcheck.parts.cross_member.forces import floor_member, lies_under
from rigcheck.parts.joint.forces import Cut, bolt_forces, cut_at, weld_force, weld_group
from rigcheck.parts.joint.ways import JointWay
from rigcheck.parts.rail.checks import rail_described, thrown_back
from rigcheck.parts.stretches import NEAR, member_views, rail_views
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.statics.along import kinks
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.connections.bolts import LOWEST, bolt_strength, pulled_flange
from rigcheck.strength.connections.welds import Joint
from rigcheck.strength.members import shapes as members
from rigcheck.tables import shapes, steel

_TURNS = 1e-9  # a change of the spacing's slope under this is none
WELD_CLAUSE = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic group of weld lines"
BOLT_CLAUSE = "AISC 360-16 J3.6, Table J3.2 (memory); elastic group, tension and shear summed"
FLANGE_CLAUSE = "AISC 360-16 F11 (memory); a cantilever from its wall, so that nothing pries"


def _joints(solution: Solution) -> list[int]:
    """Stretches that join one before them."""
    return [one.number for one in reaches(solution.rig)[1:]] if solution.layout.along is not None else []


def _name(number: int) -> str:
    return f"joint of stretches {number} and {number + 1}"


def joints_not_assessed(solution: Solution) -> list[Missing]:
    """Joints that the case does not describe far enough, and turns of the sides without a member across."""
    rig = solution.rig
    missing = []
    for number in _joints(solution):
        joint, key, name = rig.value(f"stretch.{number}.joint"), f"stretch.{number}.joint", _name(number)
        if joint is None:
            missing.append(Missing(name, id=key, group="rail"))
            continue
        if joint.leg is None:
            missing.append(Missing(f"{name}: weld of its flanges to the side walls", id=f"{key}.leg", group="rail"))
        if joint.made == "bolted" and (joint.flange is None or joint.gauge is None):
            missing.append(Missing(f"{name}: its flanges (thickness or gauge not known)", id=f"{key}.flange",
                                   group="rail"))  # fmt: skip
    for number, at in turns_of(solution):
        if member_at(rig, at) is None:
            text = f"member across where the sides turn, at the head of stretch {number + 1}"
            missing.append(Missing(text, id=f"stretch.{number}.turn", group="rail"))
    return missing if rail_described(rig) else []


def joint_flags(solution: Solution) -> list[Flag]:
    """A joint beside the hangers, where the rail is bent most."""
    flags = []
    for number in _joints(solution):
        assert solution.layout.along is not None
        at = solution.layout.along.pieces[number].start
        near = np.abs(at - solution.layout.hanger_s) < NEAR
        text = f"the {_name(number)} is within {NEAR:g} in of the hangers, where the rails are bent most"
        flags.append(Flag(code="joint_at_hanger", text=text, where=near[..., None, None, None], about=_name(number)))
    return [flag for flag in flags if np.any(flag.where)]


def weld_joints(rig: Rig, number: int) -> list[tuple[str, Joint]]:
    """What the weld of a joint is laid on, on either side of it, each with its name."""
    every, key = reaches(rig), f"stretch.{number}.joint"
    joints = []
    for one in every[number - 1 : number + 1]:
        of = f"stretch {one.number + 1}"
        metals = [(f"side wall, {of}", side_sheet(one.rig), str(rig.value("box.steel")))]
        if rig.value(f"{key}.floor"):
            metals.append((f"floor, {of}", one.rig.number("box.sheet"), str(rig.value("box.steel"))))
        if rig.value(f"{key}.stiffener") and one.rig.has("rail.stiffener"):
            bar = shapes.find(one.rig.value("rail.stiffener"))
            metals.append((f"stiffener, {of}", np.asarray(bar.t_design), str(rig.value("rail.steel"))))
        joints += metals
    leg, length = rig.number(f"{key}.leg"), weld_group(rig, number).upright
    return [
        (name, joint_on(rig, steel.grade(metal), leg=leg, length=length, thickness=thick))
        for name, thick, metal in joints
    ]


def _weld_allowed(rig: Rig, number: int, *, basis: Basis) -> Array:
    return least_allowed(rig, (joint for _, joint in weld_joints(rig, number)), basis=basis)


def joint_checks(solution: Solution) -> list[Check]:
    """Every described joint, and every member where the sides turn.

    Args:
        solution: The statics.

    Returns:
        Checks on the chosen basis and, for the rows in which a line parts, on strength.

    Source: docs/method.md#stretches; clauses beside each row.
    """
    rig = solution.rig
    if not rail_described(rig) or solution.layout.along is None:
        return []
    checks: list[Check] = []
    for number in _joints(solution):
        joint = rig.value(f"stretch.{number}.joint")
        if joint is not None:
            cut = cut_at(solution, at=solution.layout.along.pieces[number].start)
            for basis in solution.bases():
                checks += _joint_rows(solution, number, cut=cut, basis=basis)
    for number, at in turns_of(solution):
        for basis in solution.bases():
            checks += _turn_rows(solution, number, at=at, basis=basis)
    return checks


_UNITS = {JointWay.WELD: "line", JointWay.BOLTS: "number", JointWay.FLANGE: "force", JointWay.TURN: "moment"}
_CLAUSES = {
    JointWay.WELD: WELD_CLAUSE, JointWay.BOLTS: BOLT_CLAUSE, JointWay.FLANGE: FLANGE_CLAUSE,
    JointWay.TURN: "statics; AISC 360-22 F7, F8, F11 (seen, memory)",
}  # fmt: skip


def _row(part: str, way: JointWay, demand: Array, capacity: Array, *, basis: Basis, seen: Solution) -> Check:
    ultimate = basis is ULTIMATE
    return Check(part=part, group="rail", mode=way.value + (" (strength)" if ultimate else ""), unit=_UNITS[way],
                 demand=demand, capacity=capacity, basis=f"{basis.title}; dynamic factor in the load",
                 clause=_CLAUSES[way], ultimate=ultimate, way=way, seen=seen)  # fmt: skip


def _joint_rows(solution: Solution, number: int, *, cut: Cut, basis: Basis) -> list[Check]:
    rig, key, part = solution.rig, f"stretch.{number}.joint", _name(number)
    joint, more, seen = rig.value(key), thrown_back(solution), rail_views(solution)[number]
    rows = []
    if joint.leg is not None:
        force = solution.bent.on_bounds(weld_force(cut, weld_group(rig, number)) * more)
        allowed = per_row(_weld_allowed(rig, number, basis=basis))
        rows.append(_row(part, JointWay.WELD, force, allowed, basis=basis, seen=seen))
    if joint.made == "bolted":
        pull, shear = bolt_forces(rig, number, cut=cut)
        bolt = bolt_strength(rig.number(f"{key}.size"), grade=joint.grade or LOWEST, basis=basis)
        tension, across = (part_[..., None, None] for part_ in (bolt.tension, bolt.shear))
        used = (pull / tension + shear / across).max(0)
        used = solution.bent.on_bounds(used * more)
        rows.append(_row(part, JointWay.BOLTS, used, np.ones(()), basis=basis, seen=seen))
        if joint.flange is not None and joint.gauge is not None:
            held = pulled_flange(rig.number(f"{key}.flange"), strip=rig.number(f"{key}.pitch"),
                                 gauge=rig.number(f"{key}.gauge"), basis=basis,
                                 fy=steel.grade(str(joint.flange_steel)).fy)  # fmt: skip
            most = solution.bent.on_bounds(pull.max(0) * more)
            rows.append(_row(part, JointWay.FLANGE, most, per_row(held), basis=basis, seen=seen))
    return rows


def turns_of(solution: Solution) -> list[tuple[int, Array]]:
    """Heads of stretches at which the sides turn in plan, the hinge among them, with their stations."""
    along = solution.layout.along
    if along is None:
        return []
    every = kinks(along)[:-1]
    return [(number, at) for number, (at, more) in enumerate(every) if np.any(np.abs(more) > _TURNS)]


def member_at(rig: Rig, at: Array) -> shapes.Shape | None:
    """Shape of a member across within reach of a turn of the sides; None where there is none in any design."""
    found = []
    if rig.has("cross_member.shape"):
        near = np.abs(member_stations(rig) - at[..., None]).min(-1) <= NEAR
        found.append((near, shapes.find(rig.value("cross_member.shape"))))
    found += [(np.abs(place - at) <= NEAR, bar) for bar, place in tubes(rig).values()]
    fit = [bar for near, bar in found if np.all(near)]
    return min(fit, key=lambda bar: bar.ix) if fit else None


def turn_name(number: int) -> str:
    """What the member is called where the sides turn at the head of a stretch."""
    return f"member where the sides turn, head of stretch {number + 1}"


def _turn_rows(solution: Solution, number: int, *, at: Array, basis: Basis) -> list[Check]:
    """The member that takes what a rail cannot carry round a turn: M times the change of half the spacing's slope."""
    along, bar = solution.layout.along, member_at(solution.rig, at)
    if bar is None or along is None:
        return []
    more = np.abs(kinks(along)[number][1])
    run, cut = solution.bent, cut_at(solution, at=at)
    axes = (along.pieces[max(number - 1, 0)].axis, along.pieces[number].axis)
    both = [np.abs(cut.moment[i] + cut.pull[i] * axis[..., None, None]) for i, axis in enumerate(axes)]
    moment = np.maximum(*both) * (0.5 * more)[..., None, None]
    view = member_views(solution)[number]
    floor = floor_member(view).upright if lies_under(solution.rig) else np.zeros(())
    demand = run.on_bounds(moment * thrown_back(solution)) + floor
    rig = solution.rig
    metal = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    span = per_row(np.asarray(along.spacing(at, axes=0)))
    section = members.section_of([bar])
    allowed = members.moment_strength(section, about="x", fy=metal.fy, basis=basis, length=span)
    return [_row(turn_name(number), JointWay.TURN, demand, allowed, basis=basis, seen=view)]

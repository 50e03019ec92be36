"""The perch post, its base weld and its knee brace, and what they hand to the plant."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.links.capacity import perch_share
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_force, post_of, sided
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.parts.lug.checks import hoist_rating
from rigcheck.parts.post.ways import PostWay
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.statics.post import Post, PostForces, euler_across, euler_fore, post_forces, tip_movement
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.connections.weld_lines import WeldLine, WeldLoad, peak_force, rectangle, ring
from rigcheck.strength.connections.welds import smallest_leg
from rigcheck.strength.members import shapes as members
from rigcheck.strength.members.compression import SLENDER_LIMIT, moment_amplifier
from rigcheck.strength.members.interaction import member
from rigcheck.tables import shapes, steel
from rigcheck.wording.marks import OWN_YARDSTICK

TIP_LIMIT = 60.0  # free length over this is the most movement of the top; a yardstick of our own
FREE_END = 2.0  # effective length factor of a post free at its top; AISC 360-22 Table C-A-7.1 (theory)
_TOGETHER_CLAUSE = "AISC 360-22 H1.1, H3.2 (seen); ASME BTH-1 3-2.4, 3-2.5 (memory)"
_ROUND = ("pipe", "round tube", "round bar")
_SOLID = ("bar", "round bar")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PlantLoads:
    """What each post hands to the plant under the factored loads; the lug itself where no post is described.

    Attributes:
        at: `post base` or `perch lug`.
        force: On the plant, x, y, z, shape (..., state, bound, side, 3). [lbf]
        moment: On the plant, about x, y, z, right-handed, shape (..., state, bound, side, 3). [lbf*in]
        foot: Brace on plant at its foot, x, y, z, same shape; None without a brace. [lbf]
    """

    at: str
    force: Array
    moment: Array
    foot: Array | None


def post_loads(solution: Solution) -> PlantLoads:
    """Force and moment that each perch hands to the plant in every state, under the factored loads.

    The post's own weight is left out.

    Args:
        solution: The statics.

    Returns:
        Loads at the post bases, or at the lugs where no post is described.

    Source: docs/method.md#post.
    """
    force = lug_force(solution.pose, pull=solution.demand.tension * perch_share(solution.rig))
    if not solution.rig.has("perch.post.shape"):
        return PlantLoads("perch lug", force, np.zeros_like(force), None)
    carried = post_forces(sided(post_of(solution.rig)), force=force)
    braced = solution.rig.value("perch.post.brace") is not None
    return PlantLoads("post base", carried.base_force, carried.base_moment, carried.foot_force if braced else None)


def post_not_assessed(solution: Solution) -> list[Missing]:
    """Load-path parts of the perch that the case does not describe."""
    rig = solution.rig
    weld = Missing("perch post base weld", id="perch.post.weld", group="perch")
    if not rig.has("perch.post.shape"):
        return [Missing("perch post", id="perch.post", group="perch"), weld]
    missing = []
    if not rig.has("perch.post.weld") or _weld_group(rig) is None:
        missing.append(weld)
    if rig.value("perch.post.brace") is not None:
        missing.append(Missing("ends of the knee brace", id="perch.post.brace.ends", group="perch"))
    return missing


def post_flags(solution: Solution) -> list[Flag]:
    """Post too slender, weld under the least size."""
    rig = solution.rig
    if not rig.has("perch.post.shape"):
        return []
    shape = shapes.find(rig.value("perch.post.shape"))
    slender = FREE_END * rig.number("perch.post.free_length") / shape.r_min > SLENDER_LIMIT
    flags = [
        Flag(code="post_slender", where=np.asarray(slender)[..., None, None, None],
             text=f"perch post: twice its length over its radius of gyration is over {SLENDER_LIMIT:g}")
    ]  # fmt: skip
    if rig.has("perch.post.weld"):
        small = rig.number("perch.post.weld") < smallest_leg(shape.t_nominal) - 1e-9
        text = "perch post base weld: leg under the least for this wall (AISC 360-22 Table J2.4)"
        where = np.asarray(small)[..., None, None, None]
        flags.append(Flag(code="weld_too_small", text=text, where=where, about=Item.POST_WELD))
    return [flag for flag in flags if np.any(flag.where)]


def post_checks(solution: Solution) -> list[Check]:
    """Post, base weld and brace under the lines, on strength where one has parted, and under the hoist's full rating.

    Args:
        solution: The statics.

    Returns:
        Checks; none where no post is described.

    Source: docs/method.md#post; clauses beside each row.
    """
    rig = solution.rig
    if not rig.has("perch.post.shape"):
        return []
    basis = BASES[str(rig.value("basis"))]
    share = perch_share(rig)
    post = sided(post_of(rig))
    carried = _carried(solution, solution.demand.tension * share, post=post)
    checks = [
        *(
            row
            for one in solution.bases()
            for row in _rows(rig, carried, post=post, basis=one)
            if one is not ULTIMATE or _sums_up(row)
        ),
        _tip_row(solution, solution.held.tension * share),
    ]
    rating = hoist_rating(rig)
    if rating is not None:
        for row in _rows(rig, _carried(solution, per_row(rating * share), post=post), post=post, basis=basis):
            if _sums_up(row):
                checks.append(
                    Check(part=row.part, group=row.group, mode=f"{row.mode}, hoist at its full rating", unit=row.unit,
                          demand=row.demand, capacity=row.capacity, basis=f"{row.basis}; a snagged box, no factor",
                          clause=f"{row.clause}; anchor as strong as the hoist, ASME HST-3 (seen)", snag=True,
                          way=row.way)
                )  # fmt: skip
    return checks


def _sums_up(row: Check) -> bool:
    """Whether a row stands for its whole part: everything together, the weld, the brace."""
    return row.way in (PostWay.TOGETHER, PostWay.WELD, PostWay.BRACE)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Carried:
    """What runs through post, base weld and brace under some pull, whatever it is held to.

    Attributes:
        post: Forces on the post.
        euler: Buckling loads fore and aft and across. [lbf]
        weld: Largest force per inch of the base weld; None where it is not described. [lbf/in]
    """

    post: PostForces
    euler: tuple[Array, Array]
    weld: Array | None


def _carried(solution: Solution, pull: Array, *, post: Post) -> _Carried:
    forces = post_forces(post, force=lug_force(solution.pose, pull=pull))
    return _Carried(forces, (euler_fore(post), euler_across(post)), _weld_force(solution.rig, forces))


def _rows(rig: Rig, carried: _Carried, *, post: Post, basis: Basis) -> list[Check]:
    metal = steel.grade(str(rig.value("perch.post.steel")))
    ultimate = basis is ULTIMATE
    rows = _post_rows(rig, carried, post=post, basis=basis)
    if carried.weld is not None:
        rows.append(_weld_row(rig, carried.weld, basis=basis))
    if rig.value("perch.post.brace") is not None:
        rows.append(_brace_row(rig, carried.post, basis=basis))
    text = f"{basis.title}; steel {metal.key}, dynamic factor in the load"
    return [
        Check(part=part, group="perch", mode=way.value + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
              capacity=capacity, basis=text, clause=clause, ultimate=ultimate, way=way)
        for part, way, unit, demand, capacity, clause in rows
    ]  # fmt: skip


_Row = tuple[str, PostWay, str, Array, Array, str]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Strength:
    """Allowable values of the post, shapes (..., 1, 1, 1)."""

    fore: Array
    across: Array
    push: Array
    pull: Array
    shear_fore: Array
    shear_across: Array
    torque: Array


def _post_strength(rig: Rig, *, basis: Basis) -> _Strength:
    section = members.section_of([shapes.find(rig.value("perch.post.shape"))])
    metal = steel.grade(str(rig.value("perch.post.steel")))
    length = per_row(rig.number("perch.post.free_length"))
    fy = metal.fy
    return _Strength(
        fore=members.moment_strength(section, about="x", fy=fy, basis=basis, length=length),
        across=members.moment_strength(section, about="y", fy=fy, basis=basis, length=length),
        push=members.compression_strength(section, length=FREE_END * length, fy=fy, basis=basis),
        pull=members.tension(section, fy=fy, fu=metal.fu, basis=basis),
        shear_fore=members.shear_strength(section, along="y", fy=fy, basis=basis, length=length),
        shear_across=members.shear_strength(section, along="x", fy=fy, basis=basis, length=length),
        torque=members.torsion_strength(section, fy=fy, basis=basis, length=length),
    )


def _post_rows(rig: Rig, found: _Carried, *, post: Post, basis: Basis) -> list[_Row]:
    """Moments grow with the push at base, joint and lug; the worst of the three counts."""
    strong, carried, euler = _post_strength(rig, basis=basis), found.post, found.euler
    push = np.maximum(carried.upper_push, carried.lower_push)
    grow_fore = moment_amplifier(push, euler=euler[0], second_order=basis.second_order)
    grow_across = moment_amplifier(push, euler=euler[1], second_order=basis.second_order)
    axial = np.maximum(push, 0.0) / strong.push
    axial = np.maximum(axial, np.maximum(-np.minimum(carried.upper_push, carried.lower_push), 0.0) / strong.pull)
    torque = np.abs(carried.torque) / strong.torque
    cut = np.maximum(np.abs(carried.upper_shear), np.abs(carried.lower_shear))
    sections = [
        (carried.base_moment[..., 1], carried.base_moment[..., 0], carried.lower_shear),
        (carried.joint_fore, carried.joint_across, cut),
        (carried.top_fore, carried.top_across, carried.upper_shear),
    ]
    fore = np.stack([np.abs(one[0]) for one in sections]).max(0) * grow_fore
    across = np.stack([np.abs(one[1]) for one in sections]).max(0) * grow_across
    shear = [np.hypot(one[2] / strong.shear_fore, carried.shear_across / strong.shear_across) for one in sections]
    together = [
        member(axial, major=one[0] * grow_fore / strong.fore, minor=one[1] * grow_across / strong.across,
               shear=sheared, torsion=torque, basis=basis)
        for one, sheared in zip(sections, shear, strict=True)
    ]  # fmt: skip
    one = np.ones(())
    bent = "AISC 360-22 F7, F8, F11 and Appendix 8 (memory); ASME BTH-1 3-2.3 (memory)"
    rows: list[_Row] = [
        (Item.POST, PostWay.FORE, "moment", fore, strong.fore, bent),
        (Item.POST, PostWay.ACROSS, "moment", across, strong.across, bent),
        (Item.POST, PostWay.AXIAL, "number", axial, one,
         "AISC 360-22 D2, E3, K 2.0; ASME BTH-1 3-2.1, 3-2.2 (memory)"),
        (Item.POST, PostWay.SHEAR, "number", np.stack(shear).max(0), one,
         "AISC 360-22 G; ASME BTH-1 3-2.3.6 (memory)"),
    ]  # fmt: skip
    if np.any(post.offset != 0.0) or np.any(post.reach != 0.0):
        turned = np.abs(carried.torque)
        clause = "AISC 360-22 H3.1 (memory)"
        rows.append((Item.POST, PostWay.TORSION, "moment", turned, strong.torque, clause))
    rows.append((Item.POST, PostWay.TOGETHER, "number", np.stack(together).max(0), one, _TOGETHER_CLAUSE))
    return rows


def _weld_group(rig: Rig) -> WeldLine | None:
    """The base weld, all round: a rectangle or a ring; None for an angle, whose outline is neither."""
    shape = shapes.find(rig.value("perch.post.shape"))
    if shape.kind == "angle":
        return None
    return ring(shape.depth) if shape.kind in _ROUND else rectangle(shape.width, depth=shape.depth)


def _weld_force(rig: Rig, carried: PostForces) -> Array | None:
    """Largest force per inch of the base weld; None where it is not described. [lbf/in]"""
    group = _weld_group(rig)
    if group is None or not rig.has("perch.post.weld"):
        return None
    force, moment = carried.base_force, carried.base_moment
    # weld axes: x to the left, y rearward, z up, so that (y, -x, z) of the plant is right-handed
    load = WeldLoad(
        fx=force[..., 1], fy=-force[..., 0], fz=force[..., 2], mx=moment[..., 1], my=-moment[..., 0], mz=moment[..., 2]
    )
    return peak_force(group, load=load)


def _weld_row(rig: Rig, force: Array, *, basis: Basis) -> _Row:
    shape = shapes.find(rig.value("perch.post.shape"))
    metal = steel.grade(str(rig.value("perch.post.steel")))
    joint = joint_on(
        rig, metal,
        leg=per_row(rig.number("perch.post.weld")),
        length=np.pi * shape.depth if shape.kind in _ROUND else min(shape.width, shape.depth),
        thickness=shape.t_design,
        faces=2.0 if shape.kind in _SOLID else 1.0,
    )  # fmt: skip
    allowed = least_allowed(rig, [joint], basis=basis)
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum all round"
    return (Item.POST_WELD, PostWay.WELD, "line", force, allowed, clause)


def _brace_row(rig: Rig, carried: PostForces, *, basis: Basis) -> _Row:
    section = members.section_of([shapes.find(rig.value("perch.post.brace.shape"))])
    metal = steel.grade(str(rig.value("perch.post.brace.steel")))
    downstream, below, top = (
        rig.number(f"perch.post.brace.{key}") for key in ("foot_downstream", "foot_below", "top_below")
    )
    reach = per_row(np.hypot(downstream, below - top))
    push = members.compression_strength(section, length=reach, fy=metal.fy, basis=basis)
    pull = members.tension(section, fy=metal.fy, fu=metal.fu, basis=basis)
    capacity = np.where(carried.brace_pull < 0.0, push, pull)
    clause = "AISC 360-22 D2, E3; ASME BTH-1 3-2.1, 3-2.2 (memory)"
    return (Item.BRACE, PostWay.BRACE, "force", np.abs(carried.brace_pull), capacity, clause)


def _tip_row(solution: Solution, pull: Array) -> Check:
    rig = solution.rig
    moved = tip_movement(sided(post_of(rig)), force=lug_force(solution.pose, pull=pull))
    return Check(
        part=Item.POST, group="perch", mode="deflection of its top", unit="length",
        demand=np.hypot(moved[..., 0], moved[..., 1]),
        capacity=per_row(rig.number("perch.post.free_length") / TIP_LIMIT),
        basis=f"free length / {TIP_LIMIT:g}, static load", clause=OWN_YARDSTICK,
        at_rest=True,
    )  # fmt: skip

"""Hanger and perch lugs: plate at the hole, bending at the root, weld, fit of the shackle, the snagged box."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.items import LUG_WELDS, LUGS
from rigcheck.analysis.links.capacity import perch_share
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_arm, lug_run
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sizes import stiffener_on_top
from rigcheck.loads.steel import side_sheet
from rigcheck.parts.lug.ways import LugWay
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.statics.geometry import Pose, pose
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.connections.lugs import (
    LugStrength,
    flat_plate_moment,
    lug_strength,
    plate_clause,
    root_tension,
    upright_plate_moment,
)
from rigcheck.strength.connections.weld_lines import WeldLoad, peak_force, two_verticals
from rigcheck.strength.connections.welds import Joint, smallest_leg
from rigcheck.tables import hardware, shapes, steel
from rigcheck.tables.link_kinds import HOISTS

SWING = np.radians(30.0)  # a pull further than this off the deployed one meets the side of the plate; our own rule
_ENDS = (("hanger", 0), ("perch", -1))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Pull:
    """A pound of line tension on one lug, in the lug's own axes, shapes (..., state).

    Attributes:
        along: Along the weld. [1]
        out: Square to the surface it is welded to. [1]
        aside: Across the plate. [1]
        swung: True where the pull has swung away from the deployed one, over states and fold.
    """

    along: Array
    out: Array
    aside: Array
    swung: NDArray[np.bool_]


def lug_pull(solution: Solution, *, end: str) -> Pull:
    """Direction of the line's pull in the axes of a lug.

    A hanger lug stands on the rail: its weld runs along s and the plate stands out along n. A perch lug stands on the
    side of its post: its weld runs up the post and the plate stands out along x. Either may be turned.

    Args:
        solution: The statics.
        end: `hanger` or `perch`.

    Returns:
        The pull, shapes (..., state).

    Source: own derivation, docs/method.md#lug-pull.
    """
    turned = solution.rig.number(f"{end}.lug.turned")[..., None]
    along, out, aside = _turned(solution.pose, end=end, turned=turned)
    flat = pose(solution.layout, fold=np.zeros((*solution.shape[:-3], 1)))
    first_along, first_out, _ = _turned(flat, end=end, turned=turned)
    swing = np.abs(np.arctan2(out, along) - np.arctan2(first_out, first_along))
    return Pull(along=along, out=out, aside=np.abs(aside), swung=np.minimum(swing, 2.0 * np.pi - swing) > SWING)


def _turned(at: Pose, *, end: str, turned: Array) -> tuple[Array, Array, Array]:
    """A pound of line tension along the weld, out of the surface and across the plate of a turned lug."""
    cos, sin = np.cos(turned), np.sin(turned)
    if end == "hanger":
        return at.u_s * cos - at.uy * sin, at.u_n, at.uy * cos + at.u_s * sin
    return at.uz, at.ux * cos - at.uy * sin, at.uy * cos + at.ux * sin


def lug_pin(rig: Rig, *, end: str) -> Array | None:
    """Diameter of what goes through the hole: stated, or the pin of a listed shackle next to it. [in]"""
    if rig.has(f"{end}.lug.pin"):
        return rig.number(f"{end}.lug.pin")
    link = rig.value("line.link")[dict(_ENDS)[end]]
    if link.kind == "shackle" and link.size is not None:
        return np.asarray(hardware.shackle(link.size, grade=link.grade or "carbon").pin_diameter)
    return None


def lugs_not_assessed(solution: Solution) -> list[Missing]:
    """Lugs and lug welds that the case does not describe far enough."""
    missing: list[Missing] = []
    for end, _ in _ENDS:
        weld = Missing(f"{end} lug weld", id=f"{end}.lug.weld", group=end)
        if solution.rig.value(f"{end}.lug") is None:
            missing += [Missing(f"{end} lug", id=f"{end}.lug", group=end), weld]
            continue
        if lug_pin(solution.rig, end=end) is None:
            missing.append(Missing(f"{end} lug (pin not known)", id=f"{end}.lug.pin", group=end))
        if not (solution.rig.has(f"{end}.lug.weld") and solution.rig.has(f"{end}.lug.weld_length")):
            missing.append(weld)
    return missing


def lug_plates(rig: Rig, *, end: str) -> tuple[PinPlate, PinPlate] | None:
    """The plate as it is pulled toward its stated edge, and toward the nearer of edge and side; None without a pin."""
    pin = lug_pin(rig, end=end)
    if pin is None:
        return None
    metal = steel.grade(str(rig.value(f"{end}.lug.steel")))
    edge, width, hole = (rig.number(f"{end}.lug.{key}") for key in ("edge", "width", "hole"))

    def plate(reach: Array, across: Array) -> PinPlate:
        return PinPlate(
            thickness=rig.number(f"{end}.lug.plate"),
            width=across,
            edge=reach,
            hole=hole,
            pin=np.minimum(pin, hole),
            edge_radius=0.0,
            fy=metal.fy,
            fu=metal.fu,
        )

    return plate(edge, width), plate(np.minimum(edge, 0.5 * width), np.minimum(width, 2.0 * edge))


def _plates(rig: Rig, *, end: str, basis: Basis) -> tuple[LugStrength, LugStrength] | None:
    """What the plate allows toward its stated edge, and toward the nearer of edge and side."""
    plates = lug_plates(rig, end=end)
    if plates is None:
        return None
    return lug_strength(plates[0], basis=basis), lug_strength(plates[1], basis=basis)


def hoist_rating(rig: Rig) -> Array | None:
    """Line tension that the strongest hoist can pull at its full rating, None without one, shape (...). [lbf]"""
    parts = int(rig.value("line.parts"))
    efficiency = float(rig.value("line.sheave_efficiency"))
    gain = {"line": 1.0, "part": float(parts), "lead": parts * efficiency}
    pulls = [
        rig.number(f"line.link.{i}.wll") * gain[link.carries]
        for i, link in enumerate(rig.value("line.link"))
        if link.kind in HOISTS and link.wll is not None
    ]  # fmt: skip
    return np.max(np.stack(np.broadcast_arrays(*pulls)), axis=0) if pulls else None


def lug_checks(solution: Solution) -> list[Check]:
    """Both lugs in every mode, under the line and under the hoist's full rating.

    Args:
        solution: The statics.

    Returns:
        Checks; none for a lug that is not described.

    Source: docs/method.md#lug; clauses beside each row.
    """
    rig = solution.rig
    basis = BASES[str(rig.value("basis"))]
    snag = hoist_rating(rig)
    checks: list[Check] = []
    for end, _ in _ENDS:
        if rig.value(f"{end}.lug") is None:
            continue
        share = perch_share(rig) if end == "perch" else 1.0
        pull = lug_pull(solution, end=end)
        tension = solution.demand.tension * share
        for one in solution.bases():
            checks += _lug_rows(solution, tension, end=end, pull=pull, basis=one)
        if snag is not None:
            full = np.asarray(snag * share)[..., None, None, None]
            for row in _lug_rows(solution, full, end=end, pull=pull, basis=basis):
                checks.append(
                    Check(part=row.part, group=row.group, mode=f"{row.mode}, hoist at its full rating", unit=row.unit,
                          demand=row.demand, capacity=row.capacity, basis=f"{row.basis}; a snagged box, no factor",
                          clause=f"{row.clause}; anchor as strong as the hoist, ASME HST-3 (seen)", snag=True,
                          way=row.way)
                )  # fmt: skip
    return checks


def _lug_rows(solution: Solution, tension: Array, *, end: str, pull: Pull, basis: Basis) -> list[Check]:
    rig = solution.rig
    part = LUGS[end]
    metal = steel.grade(str(rig.value(f"{end}.lug.steel")))
    text = f"{basis.title}; steel {metal.key}"
    clause_of_plate = plate_clause(basis)
    rows: list[tuple[str, LugWay, str, Array, Array, str]] = []
    plates = _plates(rig, end=end, basis=basis)
    if plates is not None:
        swung = pull.swung[..., None, None]
        for way, name in (
            (LugWay.TENSION, "tension"),
            (LugWay.SPLITTING, "splitting"),
            (LugWay.SHEAR, "shear"),
            (LugWay.BEARING, "bearing"),
        ):
            straight, across = (np.asarray(getattr(plate, name))[..., None, None, None] for plate in plates)
            capacity = np.where(swung, np.minimum(straight, across), straight)
            rows.append((part, way, "force", tension, capacity, clause_of_plate))
    rows += _bending_rows(rig, tension, end=end, pull=pull, basis=basis)
    if rig.has(f"{end}.lug.weld") and rig.has(f"{end}.lug.weld_length"):
        rows.append(_weld_row(rig, tension, end=end, pull=pull, basis=basis))
    ultimate = basis is ULTIMATE
    return [
        Check(part=name, group=end, mode=way.value + (" (strength)" if ultimate else ""), unit=unit, demand=demand,
              capacity=capacity, basis=text, clause=clause, ultimate=ultimate, way=way)
        for name, way, unit, demand, capacity, clause in rows
    ]  # fmt: skip


_Row = tuple[str, LugWay, str, Array, Array, str]


def _bending_rows(rig: Rig, tension: Array, *, end: str, pull: Pull, basis: Basis) -> list[_Row]:
    metal = steel.grade(str(rig.value(f"{end}.lug.steel")))
    arm = lug_arm(rig, end=end)
    thick, root = rig.number(f"{end}.lug.plate"), lug_run(rig, key=f"{end}.lug")
    flat = flat_plate_moment(thick, width=root, fy=metal.fy, basis=basis)
    upright = upright_plate_moment(thick, depth=root, fy=metal.fy, basis=basis, length=arm)
    tip = arm[..., None]
    use = (pull.aside * tip)[..., None, None] / flat[..., None, None, None]
    use = use + (np.abs(pull.along) * tip)[..., None, None] / upright[..., None, None, None]
    stretched = root_tension(thick, width=root, fy=metal.fy, basis=basis)
    use = use + np.abs(pull.out)[..., None, None] / stretched[..., None, None, None]
    clause = "AISC 360-22 D2, F11, H2 (memory); ASME BTH-1 3-2.1, 3-2.3 (memory)"
    return [(LUGS[end], LugWay.ROOT, "number", tension * use, np.ones(()), clause)]


def _weld_row(rig: Rig, tension: Array, *, end: str, pull: Pull, basis: Basis) -> _Row:
    thick, length = rig.number(f"{end}.lug.plate"), lug_run(rig, key=f"{end}.lug")
    arm = lug_arm(rig, end=end)[..., None]
    group = two_verticals(thick[..., None], depth=length[..., None])
    load = WeldLoad(fx=pull.aside, fy=pull.along, fz=pull.out, mx=-arm * pull.along, my=arm * pull.aside)
    per_pound = peak_force(group, load=load)[..., None, None]
    allowed = _weld_allowable(rig, end=end, basis=basis)[..., None, None, None]
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum"
    return (LUG_WELDS[end], LugWay.WELD, "line", tension * per_pound, allowed, clause)


def _backing(rig: Rig, *, end: str) -> tuple[str, Array, str]:
    """Name, thickness and steel of what the lug is welded to: the rail's stiffener or wall, the post's wall."""
    if end == "perch":
        if rig.has("perch.post.shape"):
            wall = shapes.find(rig.value("perch.post.shape")).t_design
            return "wall of the post", np.asarray(wall), str(rig.value("perch.post.steel"))
        own = "metal behind it, taken as the lug's own"
        return own, rig.number("perch.lug.plate"), str(rig.value("perch.lug.steel"))
    if stiffener_on_top(rig):
        wall = shapes.find(rig.value("rail.stiffener")).t_design
        return "wall of the stiffener", np.asarray(wall), str(rig.value("rail.steel"))
    return "side wall", side_sheet(rig), str(rig.value("box.steel"))


def lug_joints(rig: Rig, *, end: str) -> list[tuple[str, Joint]]:
    """The plate of a lug and what it is welded to, each as its weld sees it, by name.

    Args:
        rig: The rig.
        end: `hanger` or `perch`.
    """
    leg, length = rig.number(f"{end}.lug.weld"), lug_run(rig, key=f"{end}.lug")
    words, wall, wall_steel = _backing(rig, end=end)
    own = rig.number(f"{end}.lug.plate"), str(rig.value(f"{end}.lug.steel"))
    return [
        (name, joint_on(rig, steel.grade(grade), leg=leg, length=length, thickness=thick, faces=faces))
        for name, thick, grade, faces in (("plate of the lug", *own, 2.0), (words, wall, wall_steel, 1.0))
    ]


def _weld_allowable(rig: Rig, *, end: str, basis: Basis) -> Array:
    return least_allowed(rig, (joint for _, joint in lug_joints(rig, end=end)), basis=basis)


def lug_flags(solution: Solution) -> list[Flag]:
    """Fit of the shackle, size of the weld."""
    rig = solution.rig
    flags: list[Flag] = []

    def flag(code: str, text: str, where: NDArray[np.bool_], *, about: str, stops: bool = False) -> None:
        wide = np.asarray(where)[..., None, None, None]
        flags.append(Flag(code=code, text=f"{about}: {text}", where=wide, stops=stops, about=about))

    for end, index in _ENDS:
        if rig.value(f"{end}.lug") is None:
            continue
        hole, thick = rig.number(f"{end}.lug.hole"), rig.number(f"{end}.lug.plate")
        pin = lug_pin(rig, end=end)
        if pin is not None:
            flag("pin_does_not_fit", "the pin is thicker than the hole", pin > hole, about=LUGS[end], stops=True)
        link = rig.value("line.link")[index]
        if link.kind == "shackle" and link.size is not None:
            room = hardware.shackle(link.size, grade=link.grade or "carbon").inside_width
            flag("shackle_too_narrow", "the plate is thicker than the shackle is wide inside", thick >= room,
                 about=LUGS[end], stops=True)  # fmt: skip
        plates = _plates(rig, end=end, basis=BASES[str(rig.value("basis"))])
        if plates is not None:
            flag("lug_outside_clause", "play or proportions outside AISC 360-22 D5.2; its strength is taken with the"
                 " lifting clearance factor instead", plates[0].within_limits <= 0.0, about=LUGS[end])  # fmt: skip
        if rig.has(f"{end}.lug.weld"):
            leg = rig.number(f"{end}.lug.weld")
            _, wall, _ = _backing(rig, end=end)
            flag("weld_too_small", "leg under the least for this plate (AISC 360-22 Table J2.4)",
                 leg < smallest_leg(np.minimum(thick, wall)) - 1e-9, about=LUG_WELDS[end])  # fmt: skip
    return [one for one in flags if np.any(one.where)]

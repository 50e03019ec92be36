"""Seams of the rail: stiffener to side wall, side wall to floor; what flows along them and what the hanger pulls."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rail_section import rail_pieces
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.steel import side_sheet
from rigcheck.parts.floor.checks import floor_load
from rigcheck.parts.rail.checks import of_rail, thrown_back
from rigcheck.parts.rail.side_walls import wall_push
from rigcheck.parts.rail.strength import SPREAD
from rigcheck.parts.welded import joint_on, least_allowed
from rigcheck.strength.bases import ULTIMATE, Basis
from rigcheck.strength.connections.welds import Joint
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.strength.members.sections import composite, first_moment, shear_flow
from rigcheck.tables import shapes, steel

WALL, FLOOR = "rail.wall_seam", "rail.floor_seam"
NAMES = {WALL: Item.WALL_SEAM, FLOOR: Item.FLOOR_SEAM}
LEAST_STITCH = 1.5  # in; AISC 360-22 J2.2b, intermittent fillets (memory)
STITCH_LEGS = 4.0  # legs in the shortest stitch; AISC 360-22 J2.2b (memory)
WIDEST_GAP = 12.0  # in; AISC 360-22 E6.2, J3.5, D4 (memory)
GAP_WALLS = 24.0  # walls in the widest gap; AISC 360-22 J3.5 (memory)
GAP_PRESSED = 0.75  # of sqrt(E/Fy), walls in the widest gap where it is pressed; AISC 360-22 E6.2 (memory)
THROAT = 0.707  # of a leg; AISC 360-22 J2.2a (seen)
CLAUSE = "beam theory, q = V Q / I; AISC 360-22 J2.4, J4.2 (seen, memory)"


def _seams(rig: Rig) -> list[str]:
    """Seams that the rail has, described or not."""
    return [WALL, FLOOR] if rig.has("rail.stiffener") else [FLOOR]


def seams_not_assessed(solution: Solution) -> list[Missing]:
    """Seams that the case does not describe."""
    rig = solution.rig
    return [Missing(NAMES[key], id=key, group="rail") for key in _seams(rig) if rig.value(key) is None]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Flow:
    """What a seam carries for each inch of rail, shapes (..., state, bound, side).

    Attributes:
        along: Along it. [lbf/in]
        across: Square to it, pulled open. [lbf/in]
    """

    along: Array
    across: Array


def seam_flow(solution: Solution, *, key: str) -> Flow:
    """Force per inch along a seam: shear flow of the rail, and at the hanger what its lug pulls.

    The floor takes part in bending whether the case counts it with the rail or not: for its seam at least half of the
    floor counts. The lug's pull enters over the length of its weld and two depths of the stiffener: all of its part
    square to the floor, and of its part along the rail the share that the stiffener passes on to the wall.

    Args:
        solution: The statics.
        key: `WALL` or `FLOOR`.

    Returns:
        What it carries.

    Source: q = V Q / I; docs/method.md#seams.
    """
    rig = solution.rig
    shear = solution.bent.on_bounds(solution.peaks.max_shear * thrown_back(solution))
    moment, inertia = seam_section(rig, key=key)
    along = shear_flow(shear, first_moment=per_row(moment), inertia=per_row(inertia))
    if key == FLOOR:
        across = np.zeros(())
        if floor_hangs(rig):
            across = (floor_load(solution).pressure * 0.5 * rig.number("box.width")[..., None])[..., None, None]
        full = solution.cases(lambda case: case.gravel_to_top)[:, None, None]
        across = across + np.where(full, per_row(_pushed_open(rig)), 0.0)
        return Flow(along, across)
    if not lug_on_stiffener(rig):
        return Flow(along, np.zeros(()))  # the lug stands on the wall
    pieces = rail_pieces(rig)
    reach = hanger_reach(rig)
    passed = (1.0 - pieces.area[..., -1] / composite(pieces).area) / reach
    pull = solution.demand.tension
    along = along + pull * (np.abs(solution.pose.u_s) * np.asarray(passed)[..., None])[..., None, None]
    return Flow(along, pull * (np.abs(solution.pose.u_n) / np.asarray(reach)[..., None])[..., None, None])


def seam_section(rig: Rig, *, key: str) -> tuple[Array, Array]:
    """First moment of what lies beyond a seam, and second moment of the rail that it belongs to, shapes (...)."""
    if key == FLOOR:
        strip = np.maximum(rig.number("rail.effective_floor_width"), 0.5 * rig.number("box.width"))
        pieces = rail_pieces(varied(rig, {"rail.effective_floor_width": strip}))
        whole = composite(pieces)
        return first_moment(pieces, section=whole, level=0.0), whole.inertia
    pieces = rail_pieces(rig)
    whole = composite(pieces)
    return pieces.area[..., -1] * (pieces.centroid[..., -1] - whole.centroid), whole.inertia


def floor_hangs(rig: Rig) -> bool:
    """Whether the floor hangs on its seams, no cross-member being under it."""
    return str(rig.value("cross_member.at") if rig.has("cross_member.shape") else "top") == "top"


def lug_on_stiffener(rig: Rig) -> bool:
    """Whether the hanger lug pulls on the stiffener, and by it on the seam."""
    return str(rig.value("rail.at")) in ("top", "cap")


def hanger_reach(rig: Rig) -> Array:
    """Length of the seam over which the lug's pull enters, shape (...). [in]"""
    run = lug_run(rig, key="hanger.lug") if rig.value("hanger.lug") is not None else np.zeros(())
    return np.asarray(run + SPREAD * shapes.find(rig.value("rail.stiffener")).depth)


def _pushed_open(rig: Rig) -> Array:
    """What packed gravel does to the seam at the foot of a wall. [lbf/in]"""
    push = wall_push(rig)
    leg, sides = rig.number(f"{FLOOR}.leg"), int(rig.value(FLOOR).sides)
    return np.asarray(pushed_open(push.thrust, foot=push.foot, wall=side_sheet(rig), leg=leg, sides=sides))


def pushed_open(thrust: Array, *, foot: Array, wall: Array, leg: Array, sides: int) -> Array:
    """What packed gravel does to the seam at the foot of a wall, for each inch of it and all its runs.

    The thrust of the wall, and its moment: a couple between two runs, a leg's third outside the wall each; in the
    throat of a single run, whose root opens, 6 M over the throat.

    Args:
        thrust: Of the wall, shape (...). [lbf/in]
        foot: Moment at its foot, shape (...). [lbf]
        wall: Its thickness, shape (...). [in]
        leg: Of the fillet, shape (...). [in]
        sides: Runs, 1 or 2.

    Returns:
        Force per inch, shape (...). [lbf/in]

    Source: elastic section of a weld (memory); docs/method.md#seams.
    """
    open_ = thrust + 2.0 * foot / (wall + 2.0 * leg / 3.0) if sides == 2 else thrust + 6.0 * foot / (THROAT * leg)
    return step(open_, "f_o", "What packed gravel does to the seam", clause="docs/method.md#seams")


def _metals(rig: Rig, *, key: str) -> list[tuple[Array, steel.Grade]]:
    """Thickness and steel on both sides of a seam."""
    wall = (side_sheet(rig), steel.grade(str(rig.value("box.steel"))))
    if key == FLOOR:
        return [wall, (rig.number("box.sheet"), wall[1])]
    shape = shapes.find(rig.value("rail.stiffener"))
    return [wall, (np.asarray(shape.t_design), steel.grade(str(rig.value("rail.steel"))))]


@of_rail
def seam_checks(solution: Solution) -> list[Check]:
    """Each described seam on the chosen basis, and on strength where a line has parted.

    A floor and side bent from one sheet have no seam. A stitch carries what comes on its pitch.

    Args:
        solution: The statics.

    Returns:
        Checks.

    Source: docs/method.md#seams.
    """
    rig = solution.rig
    checks: list[Check] = []
    for key in _seams(rig):
        seam = rig.value(key)
        if seam is None or seam.made == "bent":
            continue
        how = "stitches" if seam.made == "stitch" else "continuous weld"
        flow = seam_flow(solution, key=key)
        demand = np.hypot(flow.along, flow.across) * per_row(stitch_share(rig, key=key) / seam.sides)
        for basis in solution.bases():
            ultimate = basis is ULTIMATE
            mode = "shear flow" + (" and the hanger's pull" if key == WALL else "")
            checks.append(
                Check(part=NAMES[key], group="rail", mode=mode + (" (strength)" if ultimate else ""), unit="line",
                      demand=demand, capacity=_allowed(rig, key=key, basis=basis),
                      basis=f"{basis.title}; {how}, per inch of weld", clause=CLAUSE, ultimate=ultimate)
            )  # fmt: skip
    return checks


def stitch_share(rig: Rig, *, key: str) -> Array:
    """Inches of seam that an inch of its weld stands for, shape (...)."""
    if rig.value(key).made != "stitch":
        return np.ones(())
    return np.maximum(rig.number(f"{key}.pitch") / rig.number(f"{key}.length"), 1.0)


def seam_joints(rig: Rig, *, key: str) -> list[Joint]:
    """A run of the weld of a seam on the metal on either side."""
    seam = rig.value(key)
    length = rig.number(f"{key}.length") if seam.made == "stitch" else rig.number("box.length")
    leg, faces = rig.number(f"{key}.leg"), float(seam.sides)
    return [
        joint_on(rig, metal, leg=leg, length=length, thickness=thick, faces=faces)
        for thick, metal in _metals(rig, key=key)
    ]


def _allowed(rig: Rig, *, key: str, basis: Basis) -> Array:
    """Force that an inch of weld of a seam may carry."""
    return per_row(least_allowed(rig, seam_joints(rig, key=key), basis=basis))


@of_rail
def seam_flags(solution: Solution) -> list[Flag]:
    """Stitches shorter, and gaps between them wider, than the standard asks for."""
    rig = solution.rig
    flags: list[Flag] = []
    for key in _seams(rig):
        seam = rig.value(key)
        if seam is None or seam.made != "stitch":
            continue
        length, pitch, leg = (rig.number(f"{key}.{name}") for name in ("length", "pitch", "leg"))
        walls = [
            thick * min(GAP_WALLS, GAP_PRESSED * (ELASTIC_MODULUS / metal.fy) ** 0.5)
            for thick, metal in _metals(rig, key=key)
        ]
        widest = np.minimum(WIDEST_GAP, np.minimum(*np.broadcast_arrays(*walls)))
        found = (
            ("stitch_short", length < np.maximum(LEAST_STITCH, STITCH_LEGS * leg) - 1e-9,
             "stitches shorter than 1 1/2 in or four legs (AISC 360-22 J2.2b)"),
            ("stitch_gap_wide", pitch - length > widest + 1e-9,
             "gaps between stitches wider than AISC 360-22 E6.2 and J3.5 allow: thin sheet buckles between them"),
        )  # fmt: skip
        for code, where, text in found:
            flags.append(Flag(code=code, text=f"{NAMES[key]}: {text}", where=np.asarray(where)[..., None, None, None]))
    return [flag for flag in flags if np.any(flag.where)]

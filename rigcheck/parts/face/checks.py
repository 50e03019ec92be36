"""Faces of tubes under what is welded to them: a lug on its post or rail, a knee brace on its post, a hinge barrel."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.items import LUG_FACES, Item
from rigcheck.analysis.links.capacity import perch_share
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.post_model import lug_arm, lug_force, lug_run, post_of, sided
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.sizes import stiffener_on_top
from rigcheck.parts.cross_member.forces import head_shape
from rigcheck.parts.lug.checks import hoist_rating, lug_pull
from rigcheck.parts.rail.checks import thrown_back
from rigcheck.statics.post import PostForces, post_forces
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.connections.faces import Face, FaceStrength, Foot, face_strength
from rigcheck.tables import shapes, steel
from rigcheck.tables.shapes import Shape
from rigcheck.tables.steel import Grade

CLAUSE = "AISC 360 chapter K, plate along a tube (memory); EN 1993-1-8 7.5 (memory)"
SQUARE = 15.0  # deg: a lug turned less than this off the tube, or off square to it, counts as that; our own rule
FLAT = ("hss", "tube")
ROUND = ("pipe", "round tube")
TUBES = (*FLAT, *ROUND)
_ENDS = ("hanger", "perch")


def lug_stands_on(rig: Rig, *, end: str) -> Shape | None:
    """Shape that a lug is welded to: its post, or the stiffener along the top of the rail; None for bare sheet."""
    if end == "perch":
        return shapes.find(rig.value("perch.post.shape")) if rig.has("perch.post.shape") else None
    return shapes.find(rig.value("rail.stiffener")) if stiffener_on_top(rig) else None


def _turned_square(rig: Rig, *, end: str, shape: Shape) -> bool:
    """Whether the lug stands along the tube or square to it, as near as counts."""
    if end == "perch" and shape.kind in ROUND:
        return True
    off = float(np.degrees(np.asarray(rig.value(f"{end}.lug.turned")))) % 90.0
    return min(off, 90.0 - off) <= SQUARE


def _on_its_face(rig: Rig, *, shape: Shape) -> bool:
    """Whether the perch lug stands on the face of its post at all."""
    reach = abs(float(rig.value("perch.post.lug_offset"))) + 0.5 * float(rig.value("perch.lug.plate"))
    return reach <= 0.5 * shape.width + 1e-6


def faces_not_assessed(solution: Solution) -> list[Missing]:
    """Faces under lugs and barrels that no clause speaks about, or that are not described."""
    rig = solution.rig
    missing: list[Missing] = []

    def say(what: str, *, key: str, group: str) -> None:
        missing.append(Missing(what, id=f"{key}.face", group=group))

    for end in _ENDS:
        if rig.value(f"{end}.lug") is None:
            continue
        shape, what = lug_stands_on(rig, end=end), "perch post" if end == "perch" else "rail stiffener"
        if shape is None:
            if end == "perch":
                say("face of the perch post under its lug (no post described)", key="perch.lug", group=end)
            continue
        if shape.kind == "angle":
            say(f"face of the {what} under its lug (an angle's leg, no tube)", key=f"{end}.lug", group=end)
        elif not _turned_square(rig, end=end, shape=shape):
            say(f"face of the {what} under its lug (the lug stands askew)", key=f"{end}.lug", group=end)
        elif end == "perch" and not _on_its_face(rig, shape=shape):
            say("face of the perch post under its lug (the lug is off the post)", key="perch.lug", group=end)
    head = head_shape(rig)
    if rig.has("hinge.barrel_length") and head is not None and head.kind == "angle":
        say("what the hinge barrels stand on (an angle's leg, no tube)", key="hinge.barrel", group="hinge")
    if rig.value("perch.post.brace") is not None:
        post = shapes.find(rig.value("perch.post.shape"))
        brace = shapes.find(rig.value("perch.post.brace.shape"))
        if post.kind == "angle" or (post.kind in TUBES and brace.kind == "angle"):
            what = "face of the perch post under its knee brace (an angle, no tube)"
            say(what, key="perch.post.brace", group="perch")
    return missing


def face_flags(solution: Solution) -> list[Flag]:
    """What stands on bare sheet, and tubes too thin for the clause."""
    rig = solution.rig
    flags: list[Flag] = []

    def say(code: str, text: str) -> None:
        flags.append(Flag(code=code, text=text, where=np.asarray(True)))

    on_wall = rig.has("rail.stiffener") and lug_stands_on(rig, end="hanger") is None
    if rig.value("hanger.lug") is not None and on_wall:
        say(
            "lug_on_bare_sheet",
            "the hanger lug stands on the side wall, which bends under it, and not on the stiffener",
        )
    if rig.has("hinge.barrel_length") and head_shape(rig) is None:
        say("barrel_on_bare_sheet", "the hinge barrels stand on the floor sheet, which bends under them")
    straps = [strap for strap in rig.value("haul.tie_down") if strap.eyelet is not None]
    if any(strap.eyelet_on == "side wall" for strap in straps):
        say("eyelet_on_bare_sheet", "an eyelet stands, or is taken to stand, on the side wall, which bends under it")
    if rig.has("hinge.plant_barrel_length") and rig.has("hinge.weld_length"):
        ear, run = rig.number("hinge.plant_barrel_length"), rig.number("hinge.weld_length")
        if np.any(run > 2.0 * ear + 1e-6):
            say(
                "weld_longer_than_ear", "hinge.weld_length is more than both sides of a plant ear: it has no more there"
            )
    for what, face in _all_faces(solution):
        if np.any(face.inside <= 0.0):
            text = f"{what}: wall or steel of the tube past the limits of AISC 360 chapter K"
            say("face_outside_clause", f"{text}; its face counts in proportion less, a lower bound of our own")
    return flags


def _all_faces(solution: Solution) -> list[tuple[str, FaceStrength]]:
    """Strength of every face, unstressed, for what its limits say."""
    rig = solution.rig
    found: list[tuple[str, FaceStrength]] = []
    for end in _ENDS:
        if _has_face(rig, end=end):
            face = lug_face(rig, end=end, stressed=np.zeros(()), basis=ULTIMATE)
            found.append((f"{end} lug", face))
    if barrel_has_face(rig):
        found.append(("hinge barrels", barrel_face(rig, stressed=np.zeros(()), basis=ULTIMATE)))
    return found


def _has_face(rig: Rig, *, end: str) -> bool:
    if rig.value(f"{end}.lug") is None:
        return False
    shape = lug_stands_on(rig, end=end)
    if shape is None or shape.kind not in TUBES or not _turned_square(rig, end=end, shape=shape):
        return False
    return end == "hanger" or _on_its_face(rig, shape=shape)


def _run_on(past: Array, *, width: float, breadth: Array) -> Array:
    """Ends of a foot past which the tube runs on: one, and the other as far as it does, in full at B sqrt(1 - b/B)."""
    fan = width * np.sqrt(np.maximum(1.0 - breadth / width, 0.0))
    return 1.0 + np.clip(divide(past, fan, where_zero=1.0), 0.0, 1.0)


def tube_face(shape: Shape, *, grade: Grade, stressed: Array, sizes: tuple[Array | float, Array | float]) -> Face:
    """The face of a tube that something stands on.

    Args:
        shape: The tube.
        grade: Its steel.
        stressed: Its own stress over what the basis allows.
        sizes: Width of that face, and depth of the tube behind it. [in]
    """
    width, depth = sizes
    return Face(
        width=width, depth=depth, wall=shape.t_design, fy=grade.fy, fu=grade.fu, stressed=stressed,
        round=shape.kind in ROUND,
    )  # fmt: skip


def lug_face(rig: Rig, *, end: str, stressed: Array, basis: Basis) -> FaceStrength:
    """Strength of the tube's face under a lug, shapes (..., state, bound, side) or (..., 1, 1, 1)."""
    face, foot = lug_on_face(rig, end=end, stressed=stressed)
    return face_strength(face, foot=foot, basis=basis)


def lug_on_face(rig: Rig, *, end: str, stressed: Array) -> tuple[Face, Foot]:
    """The tube's face under a lug and the lug's foot, shapes (..., state, bound, side) or (..., 1, 1, 1)."""
    shape = lug_stands_on(rig, end=end)
    assert shape is not None
    run, plate = lug_run(rig, key=f"{end}.lug"), rig.number(f"{end}.lug.plate")
    turned = rig.number(f"{end}.lug.turned")
    askew = np.abs(np.sin(turned)) > np.abs(np.cos(turned))
    on_top = end == "hanger"
    # turned about the tube's own axis, a perch lug stays along its post, on the next face; about the normal, it crosses
    width = shape.width if on_top else np.where(askew, shape.depth, shape.width)
    depth = shape.depth if on_top else np.where(askew, shape.width, shape.depth)
    length, breadth = (np.where(askew, plate, run), np.where(askew, run, plate)) if on_top else (run, plate)
    grade = steel.grade(str(rig.value("rail.steel" if on_top else "perch.post.steel")))
    ends: Array = np.asarray(2.0)
    if not on_top and not rig.value("perch.post.cap"):
        ends = _run_on(rig.number("perch.post.past_lug"), width=shape.width, breadth=np.asarray(breadth))
    foot = Foot(
        length=per_row(length),
        breadth=per_row(breadth),
        ends=per_row(ends),
        faces=2.0 if rig.value(f"{end}.lug.through") else 1.0,
    )
    return tube_face(shape, grade=grade, stressed=stressed, sizes=(per_row(width), per_row(depth))), foot


def face_checks(solution: Solution) -> list[Check]:
    """The tubes' faces under lugs and knee brace, under the line and under the hoist's full rating.

    The face of the member under a hinge barrel stands with the hinge.

    Args:
        solution: The statics.

    Returns:
        Checks; none where there is no tube, or no clause for what stands on it.

    Source: docs/method.md#tube-face.
    """
    rig = solution.rig
    chosen, rating = BASES[str(rig.value("basis"))], hoist_rating(rig)
    braced = rig.value("perch.post.brace") is not None
    checks: list[Check] = []
    for end in _ENDS:
        has = _has_face(rig, end=end)
        if not (has or (end == "perch" and braced)):
            continue
        share = perch_share(rig) if end == "perch" else 1.0
        pulls = [(solution.demand.tension * share, one, False) for one in solution.bases()]
        if rating is not None:
            pulls.append((per_row(rating * share), chosen, True))
        parts = lug_parts(solution, end=end) if has else None
        for pull, basis, snag in pulls:
            checks += _rows(solution, pull, end=end, basis=basis, snag=snag, parts=parts)
    return checks


def _rows(
    solution: Solution, pull: Array, *, end: str, basis: Basis, snag: bool, parts: tuple[Array, Array, Array] | None
) -> list[Check]:
    rig = solution.rig
    carried = None
    if end == "perch" and rig.has("perch.post.shape"):
        carried = post_forces(sided(post_of(rig)), force=lug_force(solution.pose, pull=pull))
    rows: list[tuple[str, str, Array, str]] = []
    if parts is not None:
        stressed = _stressed(solution, carried, end=end, basis=basis)
        face = lug_face(rig, end=end, stressed=stressed, basis=basis)
        through = " by a plate through both faces" if rig.value(f"{end}.lug.through") else ""
        shares = zip(parts, (face.pull, face.along, face.across), strict=True)
        use = np.asarray(pull * sum(divide(part, most, where_zero=UNLIMITED) for part, most in shares))
        rows.append((LUG_FACES[end], f"wall of the {'post' if carried else 'stiffener'} bent{through}", use, end))
    if carried is not None and rig.value("perch.post.brace") is not None:
        pressed = _brace_use(rig, carried, basis=basis)
        if pressed is not None:
            rows.append((Item.BRACE_FACE, "wall of the post bent", pressed, "perch"))
    ultimate = basis is ULTIMATE
    text = f"{basis.title}, sum of shares; Qf from the tube's own stress" + ("; a snagged box, no factor" * snag)
    more = " (strength)" if ultimate else ", hoist at its full rating" if snag else ""
    clause = CLAUSE + ("; anchor as strong as the hoist, ASME HST-3 (seen)" * snag)
    return [
        Check(part=part, group=group, mode=mode + more, unit="number", demand=use, capacity=np.ones(()), basis=text,
              clause=clause, ultimate=ultimate, snag=snag)
        for part, mode, use, group in rows
    ]  # fmt: skip


def stressed_at(solution: Solution, pull: Array, *, end: str, basis: Basis) -> Array:
    """Stress of the tube under a lug over what the basis allows, shape (..., state, bound, side).

    Args:
        solution: The statics.
        pull: On the lug, shape (..., state, bound, side). [lbf]
        end: `hanger` or `perch`.
        basis: Basis of allowable strength.
    """
    carried = None
    if end == "perch":
        carried = post_forces(sided(post_of(solution.rig)), force=lug_force(solution.pose, pull=pull))
    return _stressed(solution, carried, end=end, basis=basis)


def _stressed(solution: Solution, carried: PostForces | None, *, end: str, basis: Basis) -> Array:
    """Stress of the tube over what the basis allows: of the post under its lug, of the rail at its worst."""
    rig, shape = solution.rig, lug_stands_on(solution.rig, end=end)
    assert shape is not None
    if carried is None:
        fy = min(steel.grade(str(rig.value("rail.steel"))).fy, steel.grade(str(rig.value("box.steel"))).fy)
        return solution.bent.everywhere(solution.peaks.stress * thrown_back(solution)) * basis.yielding / fy
    fy = steel.grade(str(rig.value("perch.post.steel"))).fy
    return (
        _post_stress(shape, carried.upper_push, fore=carried.top_fore, across=carried.top_across) * basis.yielding / fy
    )


def _post_stress(shape: Shape, push: Array, *, fore: Array, across: Array) -> Array:
    return np.abs(push) / shape.area + np.abs(fore) / shape.sx + np.abs(across) / shape.sy


def lug_parts(solution: Solution, *, end: str) -> tuple[Array, Array, Array]:
    """Of a pound of pull on a lug: square to the face, and its moments along and about the tube, (..., state, 1, 1)."""
    at, arm = lug_pull(solution, end=end), lug_arm(solution.rig, end=end)[..., None]
    along, aside = np.abs(at.along) * arm, at.aside * arm
    if end == "hanger":
        turned = solution.rig.number("hanger.lug.turned")
        askew = (np.abs(np.sin(turned)) > np.abs(np.cos(turned)))[..., None]
        along, aside = np.where(askew, aside, along), np.where(askew, along, aside)
    square, along, aside = (part[..., None, None] for part in (np.abs(at.out), along, aside))
    return square, along, aside


def _brace_use(rig: Rig, carried: PostForces, *, basis: Basis) -> Array | None:
    """Part of the brace's force square to the post over what the post's face allows; None without a face."""
    post, brace = (shapes.find(rig.value(f"perch.post.{key}shape")) for key in ("", "brace."))
    if post.kind not in TUBES or brace.kind == "angle":
        return None
    downstream, below, top = (
        rig.number(f"perch.post.brace.{key}") for key in ("foot_downstream", "foot_below", "top_below")
    )
    lean = np.abs(downstream) / np.hypot(downstream, below - top)
    grade = steel.grade(str(rig.value("perch.post.steel")))
    push = np.maximum(np.abs(carried.upper_push), np.abs(carried.lower_push))
    stress = _post_stress(post, push, fore=carried.joint_fore, across=carried.joint_across)
    breadth = np.asarray(brace.width)
    face = face_strength(
        tube_face(post, grade=grade, stressed=stress * basis.yielding / grade.fy, sizes=(post.width, post.depth)),
        foot=Foot(
            length=per_row(brace.depth / lean),
            breadth=per_row(breadth),
            ends=per_row(2.0 if rig.value("perch.post.cap") else _run_on(top, width=post.width, breadth=breadth)),
        ),
        basis=basis,
    )
    return divide(np.abs(carried.brace_pull) * per_row(lean), face.pull, where_zero=UNLIMITED)


def barrel_has_face(rig: Rig) -> bool:
    """Whether the hinge barrels stand on a tube."""
    shape = head_shape(rig)
    described = all(rig.has(f"hinge.{key}") for key in ("barrels", "barrel_length", "pin"))
    return described and shape is not None and shape.kind in TUBES


def barrel_face(rig: Rig, *, stressed: Array, basis: Basis) -> FaceStrength:
    """Strength of the face of the member at the hinge under one barrel."""
    face, foot = barrel_on_face(rig, stressed=stressed)
    return face_strength(face, foot=foot, basis=basis)


def barrel_on_face(rig: Rig, *, stressed: Array) -> tuple[Face, Foot]:
    """The face of the member at the hinge and a barrel's foot on it, on the wider of its faces where none is said.

    The barrel lies along the tube and touches it on a line: its foot is as long as the barrel, as broad as its welds.
    """
    shape = head_shape(rig)
    assert shape is not None
    sizes = {"nose": (shape.depth, shape.width), "top": (shape.width, shape.depth), "under": (shape.width, shape.depth)}
    both = (max(shape.width, shape.depth), min(shape.width, shape.depth))
    width, depth = sizes.get(str(rig.value("hinge.barrel_on")), both)
    grade = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    foot = Foot(
        length=per_row(rig.number("hinge.barrel_length")),
        breadth=per_row(2.0 * rig.number_or("hinge.weld", 1.0 / 16.0)),
    )
    return tube_face(shape, grade=grade, stressed=stressed, sizes=(width, depth)), foot

"""The face of a tube under a lug: its yield line, its own stress, pull and moments of the stand-off added."""

from __future__ import annotations

from typing import Any

from rigcheck.analysis.links.capacity import perch_share
from rigcheck.analysis.post_model import lug_run
from rigcheck.calculation.allowed import Clause, or_told
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import arm_of, in_lug_axes, pull_on
from rigcheck.calculation.measures import FORCE, LENGTH, MOMENT, NUMBER, STRESS
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.face.checks import CLAUSE, lug_face, lug_stands_on, stressed_at
from rigcheck.parts.lug.checks import hoist_rating
from rigcheck.strength.connections.faces import FaceStrength
from rigcheck.tables import steel
from rigcheck.tables.shapes import Shape

LUGS = ("hanger lug face", "perch lug face")


def face_section(book: Book) -> Section:
    """The face with the highest use."""
    from sympy import Abs

    spot = book.spot(lambda check: check.part in LUGS)
    if spot is None:
        return book.missing("face", "no lug stands on the face of a tube")
    end = spot.check.part.partition(" ")[0]
    sheet = book.sheet()
    axes = in_lug_axes(sheet, spot, end=end, pull=pull_on(book, sheet, spot, end=end))
    arm = arm_of(sheet, spot, end=end)
    pull, along, across = _allowed(sheet, spot, end=end)
    shares = Abs(axes.out) / pull + Abs(axes.along) * arm / along + axes.aside * arm / across
    sheet.find(
        "Use, pull and both moments added",
        "U",
        axes.pull * shares,
        NUMBER,
        rounding="up",
        engine=spot.utilization,
        clause=spot.check.clause,
    )
    return book.section("face", spot, sheet)


def _strength(spot: Spot, *, end: str) -> tuple[float, FaceStrength]:
    """How far the tube is stressed by itself there, and what its face allows."""
    solution, rig = spot.solution, spot.solution.rig
    share = perch_share(rig) if end == "perch" else 1.0
    pull = solution.demand.tension * share
    rating = hoist_rating(rig) if spot.check.snag else None
    if rating is not None:
        pull = pull * 0.0 + rating * share
    stressed = stressed_at(solution, pull, end=end, basis=spot.basis)
    return spot.of(stressed), lug_face(rig, end=end, stressed=stressed, basis=spot.basis)


def _allowed(sheet: Sheet, spot: Spot, *, end: str) -> tuple[Symbol, Symbol, Symbol]:
    """Allowed pull, moment along the tube and moment about it, swapped for a lug that crosses its tube."""
    from sympy import sin, sqrt

    rig = spot.solution.rig
    shape = lug_stands_on(rig, end=end)
    if shape is None:
        raise LookupError("a face without a tube")
    used, face = _strength(spot, end=end)
    turned = float(rig.number(f"{end}.lug.turned"))
    crossed = end == "hanger" and abs(float(sin(turned))) > 0.7071
    base, ratio, slender = _given(sheet, spot, end=end, shape=shape)
    u = sheet.given(
        "U_t", min(abs(used), 1.0), NUMBER, "stress of the tube itself there over what is allowed, 1 at most"
    )
    ends = sheet.given("m_e", _ends(rig, end=end, face=face, shape=shape), NUMBER, "ends past which the tube runs on")
    if end == "perch" and shape.kind in ("pipe", "round tube"):
        kept = sheet.find(
            "Left of the wall", "Q_f", 1 - 0.3 * u * (1 + u), NUMBER, clause="AISC 360 Eq. (K1-5) (memory)"
        )
        plain = 5.5 * base * (ends / 2 + slender / 4) * kept
    else:
        kept = sheet.find("Left of the face", "Q_f", sqrt(1 - u**2), NUMBER, clause="AISC 360 Eq. (K1-17) (memory)")
        plain = base * (2 * slender + 2 * ends * sqrt(1 - ratio) * kept) / (1 - ratio)
    round_one = end == "perch" and shape.kind in ("pipe", "round tube")
    lever = (0.8 if round_one else 0.5) * named("l_f")
    told = {name: spot.of(getattr(face, name)) for name in ("pull", "along", "across")}
    pull = or_told(
        sheet, "Allowed pull square to the face", "N_a", plain, by=Clause(CLAUSE, told["pull"]), measure=FORCE
    )
    words = "Allowed moment along the tube"
    along = or_told(sheet, words, "M_al", lever * pull, by=Clause(CLAUSE, told["along"]), measure=MOMENT)
    across = sheet.given("M_ac", told["across"], MOMENT, f"allowed moment about the tube: {CLAUSE}")
    return (pull, across, along) if crossed else (pull, along, across)


def _ends(rig: Any, *, end: str, face: FaceStrength, shape: Shape) -> float:
    """Ends of the lug past which the tube runs on, as the check counts them."""
    if end == "hanger" or rig.value("perch.post.cap"):
        return 2.0
    breadth = float(rig.number("perch.lug.plate"))
    fan = shape.width * max(1.0 - breadth / shape.width, 0.0) ** 0.5
    return 1.0 + min(max(float(rig.number("perch.post.past_lug")) / fan, 0.0), 1.0) if fan > 0.0 else 2.0


def _given(sheet: Sheet, spot: Spot, *, end: str, shape: Shape) -> tuple[Any, Any, Any]:
    """Fy t^2 over its divisor, plate over face, weld over face."""
    rig, basis = spot.solution.rig, spot.basis
    round_one = end == "perch" and shape.kind in ("pipe", "round tube")
    grade = steel.grade(str(rig.value("perch.post.steel" if end == "perch" else "rail.steel")))
    fy = sheet.given("F_y", min(grade.fy, 52.0e3, 0.8 * grade.fu), STRESS, f"yield stress that counts, {grade.key}")
    wall = sheet.given("t_f", shape.t_design, LENGTH, f"wall of the {shape.name}")
    width = sheet.given("B_f", shape.width, LENGTH, "face across the tube" if not round_one else "diameter of the tube")
    length = sheet.given("l_f", float(lug_run(rig, key=f"{end}.lug")), LENGTH, "plate along its weld")
    plate = sheet.given("t_l", rig.number(f"{end}.lug.plate"), LENGTH, "thickness of the plate")
    divisor = sheet.given("Omega_f", basis.yielding if round_one else basis.face, NUMBER, "divisor of the face")
    faces: Any = 1
    if rig.value(f"{end}.lug.through"):
        faces = sheet.given("m_f", 2.0, NUMBER, "faces that a plate through the tube holds to")
    base = faces * fy * wall**2 / divisor
    return base, plate / width, length / width

"""The face of a tube under a lug or a barrel: its yield line, its own stress, pull and moments of the arm added."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.analysis.items import LUG_FACES, Item
from rigcheck.analysis.links.capacity import perch_share
from rigcheck.calculation.bare_sheet import bare_sheet_section
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import arm_of, in_lug_axes, pull_on
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import group_thrust, on_one_barrel
from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.face.checks import barrel_on_face, lug_on_face, stressed_at
from rigcheck.parts.face.ways import SheetWay
from rigcheck.parts.hinge.checks import head_stress
from rigcheck.parts.lug.checks import hoist_rating
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER, STRESS
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.faces import Face, Foot, face_strength
from rigcheck.tables import steel

LUGS: dict[Item | None, str] = {item: end for end, item in LUG_FACES.items()}
"""End of the line that each face is under the lug of."""
ITEMS = (*LUGS, Item.BARREL_FACE, Item.SIDE_WALL_UNDER_LUG, Item.FLOOR_UNDER_BARRELS)
_FACE = {
    "width": ("B_f", LENGTH, "face across the tube, or diameter of a round one"),
    "depth": ("D_f", LENGTH, "tube square to the face"),
    "wall": ("t_f", LENGTH, "wall of the tube"),
    "fy": ("F_y", STRESS, "yield stress of the tube"),
    "fu": ("F_u", STRESS, "tensile strength of the tube"),
    "stressed": ("U_t", NUMBER, "stress of the tube itself there over what is allowed"),
}
_FOOT = {
    "length": ("l_f", LENGTH, "foot along the tube"),
    "breadth": ("b_f", LENGTH, "foot across the tube"),
    "ends": ("m_e", NUMBER, "ends past which the tube runs on"),
    "faces": ("m_f", NUMBER, "faces that it is welded to"),
}


def face_section(book: Book) -> Section:
    """The face with the highest use."""
    from sympy import Abs

    spot = book.spot(lambda check: check.item in ITEMS)
    if spot is None:
        return book.missing("face", "nothing stands on the face of a tube")
    if isinstance(spot.check.way, SheetWay):
        return bare_sheet_section(book, spot)
    if spot.item is Item.BARREL_FACE:
        return _barrel(book, spot)
    end = LUGS[spot.item]
    sheet = book.sheet()
    axes = in_lug_axes(sheet, spot, end=end, pull=pull_on(book, sheet, spot, end=end))
    arm = arm_of(sheet, spot, end=end)
    pull, along, across = _allowed(sheet, spot, end=end)
    shares = Abs(axes.out) / pull + Abs(axes.along) * arm / along + axes.aside * arm / across
    sheet.find(
        "Utilization, pull and both moments added",
        "U",
        axes.pull * shares,
        NUMBER,
        rounding="up",
        engine=spot.utilization,
        clause=spot.check.clause,
    )
    return book.section("face", spot, sheet)


def _stress(spot: Spot, *, end: str) -> float:
    """How far the tube is stressed by itself there."""
    solution, rig = spot.solution, spot.solution.rig
    share = perch_share(rig) if end == "perch" else 1.0
    pull = solution.demand.tension * share
    rating = hoist_rating(rig) if spot.check.snag else None
    if rating is not None:
        pull = pull * 0.0 + rating * share
    return spot.of(stressed_at(solution, pull, end=end, basis=spot.basis))


def _allowed(sheet: Sheet, spot: Spot, *, end: str) -> tuple[Symbol, Symbol, Symbol]:
    """Allowed pull, moment along the tube and moment about it, swapped for a lug that crosses its tube."""
    rig = spot.solution.rig
    face, foot = lug_on_face(rig, end=end, stressed=np.asarray(_stress(spot, end=end)))
    pull, along, across = face_allows(sheet, face, foot, basis=spot.basis)
    crossed = end == "hanger" and abs(float(np.sin(rig.number("hanger.lug.turned")))) > np.sqrt(0.5)
    return (pull, across, along) if crossed else (pull, along, across)


def face_allows(sheet: Sheet, face: Face, foot: Foot, *, basis: Basis) -> tuple[Symbol, Symbol, Symbol]:
    """Allowed pull square to a tube's face, and moments along and about the tube."""
    run = Run(sheet)
    told = run.record(Face, face, symbols=_FACE), run.record(Foot, foot, symbols=_FOOT), run.basis(basis)

    def strength(name: str) -> Any:
        return getattr(face_strength(told[0], foot=told[1], basis=told[2]), name)

    return (
        run.tell(lambda: strength("pull"), "N_a", "Allowed pull square to the face", FORCE),
        run.tell(lambda: strength("along"), "M_al", "Allowed moment along the tube", MOMENT),
        run.tell(lambda: strength("across"), "M_ac", "Allowed moment about the tube", MOMENT),
    )


def _barrel(book: Book, spot: Spot) -> Section:
    """The member at the hinge under one barrel: its share of the hinge force, and the thrust on its end."""
    from sympy import Abs, sqrt

    solution, rig, sheet = spot.solution, spot.solution.rig, book.sheet()
    floor, square = on_one_barrel(book, sheet, spot)
    thrust = group_thrust(sheet, spot)
    metal = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    stressed = np.asarray(spot.of(head_stress(solution)) * spot.basis.yielding / metal.fy)
    face, foot = barrel_on_face(rig, stressed=stressed)
    pull, along, across = face_allows(sheet, face, foot, basis=spot.basis)
    wall = float(rig.number_or("hinge.barrel_wall", 0.0))
    radius = sheet.given("r_b", 0.5 * float(rig.number("hinge.pin")) + wall, LENGTH, "half the outside of the barrel")
    on = rig.value("hinge.barrel_on")
    if on is None:
        sheet.note("Which face the barrel stands on is not said: the worst there is, whichever way the force points.")
        bent = sqrt(floor**2 + square**2) * sqrt(1 / pull**2 + (radius / across) ** 2)
    else:
        out, aside = (floor, square) if on == "nose" else (square, floor)
        bent = Abs(out) / pull + Abs(aside) * radius / across
    sheet.find(
        "Utilization, force and thrust added", "U", bent + thrust * radius / along, NUMBER, rounding="up",
        engine=spot.utilization, clause=spot.check.clause,
    )  # fmt: skip
    return book.section("face", spot, sheet)

"""The whole worked calculation: the sections asked for, in the order of the load path."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from typing import Any

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import Check
from rigcheck.assessment.assess import Assessment
from rigcheck.calculation.book import Book
from rigcheck.calculation.brace import brace_section
from rigcheck.calculation.ear import PARTS as EARS
from rigcheck.calculation.ear import ear_section
from rigcheck.calculation.face import ITEMS as FACES
from rigcheck.calculation.face import face_section
from rigcheck.calculation.floor import floor_section
from rigcheck.calculation.hinge import BARRELS, hinge_section
from rigcheck.calculation.joint import WAYS as JOINT_WAYS
from rigcheck.calculation.joint import joint_section
from rigcheck.calculation.line import line_section
from rigcheck.calculation.lug import ENDS as LUGS
from rigcheck.calculation.lug import lug_section
from rigcheck.calculation.member import ITEMS as MEMBERS
from rigcheck.calculation.member import member_section
from rigcheck.calculation.pages import Section
from rigcheck.calculation.pin import pin_section
from rigcheck.calculation.pivot import PARTS as PIVOTS
from rigcheck.calculation.pivot import pivot_section
from rigcheck.calculation.plant import plant_section
from rigcheck.calculation.post import post_section
from rigcheck.calculation.rail import rail_section
from rigcheck.calculation.rail_strength import WAYS as RAIL_WAYS
from rigcheck.calculation.rail_strength import rail_strength_section
from rigcheck.calculation.road import road_section
from rigcheck.calculation.seam import PARTS as SEAMS
from rigcheck.calculation.seam import seam_section
from rigcheck.calculation.sheet import DisagreementError
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.trap import WAYS as TRAP_WAYS
from rigcheck.calculation.trap import trap_section
from rigcheck.calculation.weld import ITEMS as WELDS
from rigcheck.calculation.weld import weld_section
from rigcheck.case.rig import Rig
from rigcheck.case.source import Source
from rigcheck.loads.shape import divided
from rigcheck.loads.sharing import pivots
from rigcheck.parts.rail.ways import RailWay
from rigcheck.parts.tie_down.ways import RoadWay
from rigcheck.quantities import System
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER, PER_LENGTH, STRESS
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.scale import ratio

SCHEMA = "rigcheck.working/2"
_MEASURES = {
    "force": FORCE,
    "moment": MOMENT,
    "stress": STRESS,
    "length": LENGTH,
    "line": PER_LENGTH,
    "number": NUMBER,
}
_SECTIONS: dict[str, Callable[[Book], Section]] = {
    "line": line_section,
    "hinge": hinge_section,
    "rail": rail_section,
    "rail-strength": rail_strength_section,
    "pin": pin_section,
    "ear": ear_section,
    "pivot": pivot_section,
    "lug": lug_section,
    "face": face_section,
    "weld": weld_section,
    "seam": seam_section,
    "joint": joint_section,
    "post": post_section,
    "brace": brace_section,
    "cross-member": member_section,
    "trap": trap_section,
    "floor": floor_section,
    "road": road_section,
    "plant": plant_section,
}
PARTS = tuple(_SECTIONS)
"""Words of the parts, in the order of the load path."""
JOINT, TRAP, PIVOT = "joint", "trap", "pivot"
_OF_PAIRS = ("hinge", "pin", "ear")
"""Parts of a hinge of two groups."""
GOVERNING = "governing"
"""Word of the section for the check that governs, where none of the others is of that very check."""
HALF = 0.5
"""Utilization over which every check is worked."""
HOW = (
    "Forces follow from free bodies by a computer algebra system; what a part may carry is the check's own formula as"
    " it ran, each step worked again from its symbols. Each result that the check keeps too agrees with it to nine"
    " digits, or nothing is printed. The whole calculation works the check at the highest utilization of each part,"
    " the one that governs and all over 50 %; what is taken from the check without being worked says so. A number has"
    " six digits wherever it stands, demands rounded up and capacities down; the tables of checks have four. Of a"
    " source marked not checked the text was not at hand."
)


ON_A_PIVOT = (
    "Not worked by hand for a box in stretches on a center pivot. Demand, capacity and clause of each check stand in"
    " the table of checks, the mechanics in docs/method.md#center-pivot and docs/method.md#stretches."
)


class UnknownStateError(ValueError):
    """A state that this case does not have.

    Attributes:
        given: The state.
        known: Those that it has.
    """

    def __init__(self, given: str, *, known: tuple[str, ...]) -> None:
        super().__init__(f"{given} is no state of this case; it has {', '.join(known)}")
        self.given, self.known = given, known


def working(
    assessment: Assessment,
    parts: Collection[str] | None = None,
    *,
    states: Collection[str] | None = None,
    system: System = "us",
) -> list[Section]:
    """The hand calculation of the governing parts.

    Args:
        assessment: The answer for one rig, no batch.
        parts: Words of `PARTS`; all of them where not said.
        states: States looked at for what governs; all of them where not said.
        system: Units: inch and pound-force, or millimetre and newton.

    Returns:
        Sections in the order of the load path; one without steps for a part that the case does not describe.

    Raises:
        UnknownStateError: The case has no such state.
        DisagreementError: The algebra does not give what the check has.
    """
    if assessment.solution.shape[:-3] != ():
        raise ValueError("a calculation is of one rig, not of a batch")
    known = tuple(dict.fromkeys(row.state for row in assessment.solution.rows))
    for state in states or ():
        if state not in known:
            raise UnknownStateError(state, known=known)
    rig = assessment.solution.rig
    wanted = parts_of(rig) if parts is None else tuple(part for part in PARTS if part in parts)
    if pivots(rig) and divided(rig):
        return [Section(part=part, title=part, intro=ON_A_PIVOT) for part in wanted]
    book = Book(assessment, system, frozenset(states) if states else None)
    sections = []
    for part in wanted:
        sections.append(section_by(book, part))
    if parts is None:
        sections += _further(book)
    return sections


def parts_of(rig: Rig) -> tuple[str, ...]:
    """Words of the parts that a rig is worked in: nothing joins a box that is one stretch, a pivot has no barrels."""
    pivot = pivots(rig)
    there = {JOINT: divided(rig), TRAP: bool(rig.value("trap")), PIVOT: pivot, **dict.fromkeys(_OF_PAIRS, not pivot)}
    return tuple(part for part in PARTS if there.get(part, True))


def section_by(book: Book, part: str) -> Section:
    """One section.

    Args:
        book: The calculation.
        part: Word of `PARTS`.
    """
    book.begin(part)
    try:
        return _SECTIONS[part](book)
    except DisagreementError as error:
        raise DisagreementError(f"{book.at or part}: {error}") from None


def worked_by(check: Check) -> str | None:
    """Word of the section that can work out a check; None for one that is not worked by hand."""
    for ways, found in _BY_WAY:
        if check.way in ways:
            return found
    if check.item in _BY_ITEM:
        return _BY_ITEM[check.item]
    if check.group in ("line", "plant"):
        return check.group
    if check.item is Item.POST:
        return None if check.way is None else "post"
    return "road" if isinstance(check.way, RoadWay) else None


_BY_WAY: tuple[tuple[tuple[object, ...], str], ...] = (
    ((RailWay.STRESS,), "rail"),
    (JOINT_WAYS, JOINT),
    (TRAP_WAYS, TRAP),
    (tuple(RAIL_WAYS), "rail-strength"),
)
_BY_ITEM: dict[Item | None, str] = {
    item: section
    for section, items in (
        ("hinge", BARRELS),
        ("pin", (Item.HINGE_PIN,)),
        ("ear", EARS),
        (PIVOT, PIVOTS),
        ("lug", LUGS),
        ("face", FACES),
        ("weld", WELDS),
        ("seam", SEAMS),
        ("brace", (Item.BRACE,)),
        ("cross-member", MEMBERS),
        ("floor", (Item.FLOOR,)),
    )
    for item in items
}
"""Section that works what a check is of."""


def _further(book: Book) -> list[Section]:
    """The check that governs the rig and all over half their capacity, as far as no section is of them."""
    governs = book.spot(lambda _: True)
    found = []
    for one in sorted(book.assessment.worst, key=lambda one: -float(one.utilization)):
        if any(one.check is check for check in book.worked):
            continue
        with book.only(one.check):
            spot = book.spot(lambda _: True)
            first = governs is not None and one.check is governs.check
            if spot is not None and (first or spot.utilization > HALF):
                found.append(_of_one(book, spot, part=GOVERNING if first else ""))
    return found


def _of_one(book: Book, spot: Spot, *, part: str) -> Section:
    """The section of one check; where none works it, only what the check has."""
    word = worked_by(spot.check)
    if word is not None:
        found = section_by(book, word)
        if found.steps and found.utilization == ratio(spot.utilization):
            return replace(found, part=part or word)
    told = "Not worked by hand here: its demand and its capacity are those of the check."
    sheet = book.sheet()
    measure = _MEASURES[spot.check.unit]
    demand = sheet.given("S", spot.of(spot.check.demand), measure, "demand, as the check has it")
    capacity = sheet.given(
        "R", spot.of(spot.check.capacity), measure, f"capacity, as the check has it: {spot.check.clause}"
    )
    book.use(sheet, spot, demand=demand, capacity=capacity)
    return book.section(part or spot.check.group, spot, sheet, more=[told])


def working_result(
    sections: Sequence[Section], *, title: str, source: Source | None = None, system: System = "us"
) -> dict[str, Any]:
    """The calculation as one plain dict, ready for JSON.

    Args:
        sections: Its sections.
        title: Title of the rig.
        source: The file the case came from.
        system: Units of its numbers.

    Returns:
        Schema, title, input, how it was worked, sections and cautions.
    """
    return {
        "schema": SCHEMA,
        "title": title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        "system": system,
        "how": HOW,
        "sections": [section.plain() for section in sections],
        "cautions": list(CAUTIONS),
    }

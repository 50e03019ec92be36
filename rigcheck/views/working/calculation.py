"""The whole worked calculation: the sections asked for, in the order of the load path."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import Any

from rigcheck.check.assess import Assessment
from rigcheck.quantities import System
from rigcheck.views.cautions import CAUTIONS
from rigcheck.views.result import Source
from rigcheck.views.working.book import Book
from rigcheck.views.working.hinge import hinge_section
from rigcheck.views.working.line import line_section
from rigcheck.views.working.lug import lug_section
from rigcheck.views.working.pages import Section
from rigcheck.views.working.pin import pin_section
from rigcheck.views.working.post import post_section
from rigcheck.views.working.rail import rail_section
from rigcheck.views.working.weld import weld_section

SCHEMA = "rigcheck.working/1"
_SECTIONS: dict[str, Callable[[Book], Section]] = {
    "line": line_section,
    "hinge": hinge_section,
    "rail": rail_section,
    "pin": pin_section,
    "lug": lug_section,
    "weld": weld_section,
    "post": post_section,
}
PARTS = tuple(_SECTIONS)
"""Words of the parts, in the order of the load path."""
HOW = (
    "Every equation was derived from the free body and worked out by a computer algebra system; each result agrees with"
    " that of the check to nine digits. Numbers are put in with six digits; demands are rounded up, capacities down."
    " Sources marked memory were not at hand."
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
    wanted = PARTS if parts is None else tuple(part for part in PARTS if part in parts)
    book = Book(assessment, system, frozenset(states) if states else None)
    sections = []
    for part in wanted:
        book.begin(part)
        sections.append(_SECTIONS[part](book))
    return sections


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

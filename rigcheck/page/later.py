"""What takes longer than an answer: bed mark, cures, ladders, strip, fold; each under the hash of its numbers."""

from __future__ import annotations

from typing import Any

from rigcheck.page.answer import Answer
from rigcheck.quantities import System
from rigcheck.studies.bed_mark import bed_mark
from rigcheck.studies.remedies import FEW, remedies
from rigcheck.views.bed_words import bed_paragraph, bed_plain
from rigcheck.views.html_page import items
from rigcheck.views.remedies_view import remedies_data, remedy_lines
from rigcheck.views.scale import Scale

Plain = dict[str, Any]


def bed_text(answer: Answer, *, system: System) -> str:
    """The bed mark in words."""
    assert answer.found is not None
    return bed_paragraph(bed_plain(bed_mark(answer.found.solution.rig, found=answer.found), scale=Scale(system)))


def cures_html(answer: Answer) -> str:
    """What would cure a rig that is over; nothing for one that is not."""
    if answer.found is None or answer.word != "over":
        return ""
    lines = remedy_lines(remedies_data(remedies(answer.found.solution.rig, found=answer.found, most=FEW)))
    return f"<h3>What would change it</h3>{items(lines)}"


def facts_at_once(answer: Answer, told: Plain, *, system: System) -> None:
    """Put bed mark and cures into an answer."""
    from rigcheck.page.telling import answer_html

    told["answer"] = answer_html(answer, bed=bed_text(answer, system=system))
    told["why"] = told["why"].replace('<div id="cures"></div>', f'<div id="cures">{cures_html(answer)}</div>')

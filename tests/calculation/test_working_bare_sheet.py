"""A side wall under a hanger lug that its own stress leaves nothing to bend with: the page says so."""

import pytest

from rigcheck.arrays.guarded import UNLIMITED
from rigcheck.assessment.assess import Assessment
from rigcheck.calculation import bare_sheet
from rigcheck.calculation.book import Book
from rigcheck.calculation.calculation import section_by
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sheet import DisagreementError
from rigcheck.parts.face.ways import SheetWay
from tests.calculation.working_rigs import changed

SAID = "Nothing is allowed on it: over under any pull"
LOW = "low walls without a stiffener"


def pages(checked: Assessment) -> list[tuple[float, Section]]:
    """Utilization and page of every check of the wall under the lug."""
    return [
        (float(one.utilization), section_by(Book(checked, among=lambda check, own=one.check: check is own), "face"))
        for one in checked.worst
        if one.check.way is SheetWay.UNDER_LUG
    ]


def test_a_wall_past_its_yield_stress_has_no_utilization_and_the_page_says_why():
    found = pages(changed(LOW))
    assert len(found) == 3  # at work, as a line parts, and by the hoist's whole rating
    for use, page in found:
        assert use > UNLIMITED and page.utilization is None and page.verdict == "over"
        last = page.steps[-1]
        assert last.heading == SAID and last.result is None and "nothing of it is left to bend" in last.note
        told = {term.symbol.text: term.value for term in last.terms}
        assert float(told["U_s"]) >= 1.0 and told["m_a"] == "0 lb"


def test_a_wall_with_something_left_is_worked_to_its_number():
    for use, page in pages(changed("stiffener below")):
        assert page.steps[-1].result == pytest.approx(use, rel=1e-9) and page.utilization == pytest.approx(use)
        assert SAID not in {step.heading for step in page.steps}


def test_another_utilization_in_the_check_is_refused_there_too(monkeypatch):
    own = bare_sheet.wall_under_lug
    monkeypatch.setattr(bare_sheet, "wall_under_lug", lambda *args, **more: 0.9 * own(*args, **more))
    with pytest.raises(DisagreementError, match=r" by its steps, .* in the check"):
        pages(changed(LOW))

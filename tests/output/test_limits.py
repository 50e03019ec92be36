"""The limits of a report are those of the page, row for row."""

import re
from pathlib import Path

from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import result
from rigcheck.output.limits import limits_plain
from rigcheck.output.report.data import report_data
from rigcheck.output.report.page import report_html
from tests.output.old_words import old_words

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "limits.md").read_text(encoding="utf-8")


def squeezed(text):
    return re.sub(r"\s+", " ", text)


def test_every_row_of_the_page_stands_in_the_report():
    case = ROOT / "cases" / "sawpit-bend.toml"
    found = assess(Rig(read_case(case)))
    told = report_html(report_data(found, result=result(found), text=case.read_text(encoding="utf-8")))
    seen = squeezed(re.sub(r"<[^>]*>", " ", told[told.index('id="limits"') :]))
    from html import unescape

    seen = squeezed(unescape(seen))
    rows = [line for line in PAGE.splitlines() if line.startswith("| ") and not line.startswith("|---")]
    assert len(rows) > 25
    for row in rows:
        for cell in row.strip().strip("|").split("|"):
            assert squeezed(cell.replace("`", "").strip()) in seen


def test_parts_of_the_page_are_told_apart():
    parts = limits_plain()
    assert [bool(part["rows"]) for part in parts] == [False, True, True, False]
    assert all(len(row) == len(part["columns"]) for part in parts for row in part["rows"])


def test_what_a_packet_cites_has_no_old_word():
    for page in ("method.md", "limits.md"):
        assert old_words((ROOT / "docs" / page).read_text(encoding="utf-8")) == [], page

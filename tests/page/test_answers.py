"""The page says what `check` says of the same numbers: word, sentence, rows, findings, what is not assessed."""

import random
import time
import tomllib

import pytest

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import read_case_text
from rigcheck.case.errors import CaseError
from rigcheck.case.rig import Rig
from rigcheck.output.bed_words import bed_paragraph, bed_plain
from rigcheck.output.check.extras import extras
from rigcheck.output.check.result import result
from rigcheck.output.html_page import words
from rigcheck.output.remedies.view import remedies_data, remedy_lines
from rigcheck.page.answer import ROWS, answered
from rigcheck.page.book import Book
from rigcheck.page.changes import Changes, changes_of, laid_over
from rigcheck.page.desk import Desk
from rigcheck.page.later import bed_text, cures_html
from rigcheck.page.saving import NotSavedError, new_bytes
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.remedies.study import FEW, remedies
from rigcheck.wording.scale import Scale
from tests.page.draws import drawn_change
from tests.page.running import ROOT

CASES = sorted((ROOT / "cases").glob("*.toml"))


def agrees(raw: bytes, changes: Changes, *, system: str = "us", later: bool = False) -> str:
    """Hold the page's answer to the result of the file as it is saved, if told to bed mark and cures too; the word."""
    from rigcheck.page.book import copy_of

    copy = copy_of(raw)
    data = laid_over(copy.data, changes)
    page = answered(data, hash="x", name="x.toml", system=system)
    try:
        saved = new_bytes(copy, changes, name="x.toml").decode("utf-8-sig")
    except NotSavedError:
        assert page.word == "no answer" and page.problems
        return page.word
    try:
        found = assess(Rig(read_case_text(saved, name="x.toml")))
        whole = result(found, system=system)
    except CaseError as error:
        assert [str(one) for one in page.problems] == [str(one) for one in error.problems]
        return page.word
    told = page.told
    for key in ("verdict", "tight", "complete", "not_assessed", "stopped", "highest_utilization", "governing",
                "findings",
                "headline", "why", "title"):  # fmt: skip
        assert told[key] == whole[key], key
    assert told["checks"] == whole["checks"][:ROWS]
    if later:
        mark = bed_plain(bed_mark(found.solution.rig, found=found), scale=Scale(system))
        assert bed_text(page, system=system) == bed_paragraph(mark)
        html = cures_html(page, data=data)
        lines = cure_lines(found) if page.word == "over" else []
        assert bool(html) == (page.word == "over") and all(words(line) in html for line in lines)
    return "stopped" if later and told["stopped"] else page.word


def cure_lines(found: Assessment) -> list[str]:
    """What `check` tells to change, by the same search anew on the file as it was saved."""
    return remedy_lines(remedies_data(remedies(found.solution.rig, found=found, most=FEW)), most=None)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_shipped_case_is_answered_as_check_answers_it(path):
    raw = path.read_bytes()
    agrees(raw, Changes(), system="si" if len(path.stem) % 2 else "us")


def test_drawn_changes_are_answered_as_check_answers_the_saved_file():
    draw = random.Random(7)
    words_seen = set()
    for number in range(14):
        path = CASES[number % len(CASES)]
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        words_seen.add(agrees(path.read_bytes(), changes_of({"typed": drawn_change(draw, data)})))
    assert {"over", "no answer"} <= words_seen


def test_all_five_words_are_there():
    raw = (ROOT / "cases" / "larkspur-bar.toml").read_bytes()
    assert agrees(raw, Changes()) == "within"
    assert agrees(raw, changes_of({"typed": {"perch.post": None}})) == "incomplete"
    assert agrees(raw, changes_of({"typed": {"bed.depth": "9 in"}})) in ("over", "no answer")
    assert agrees(raw, changes_of({"typed": {"box.length": "9"}})) == "no answer"
    assert agrees((ROOT / "cases" / "sawpit-bend.toml").read_bytes(), Changes()) == "tight"


def test_a_legal_height_that_is_kept_governs_nowhere():
    # the folded larkspur-bar stands 134 in over a hinge 28 in above the road; 20 in more leave 8 of the 162 in: 154/162
    raw = (ROOT / "cases" / "larkspur-bar.toml").read_bytes()
    high = {"typed": {"haul.hinge_above_road": "48 in"}}
    assert agrees(raw, changes_of(high)) == "within"
    data = laid_over(tomllib.loads(raw.decode()), changes_of(high))
    told = answered(data, hash="x", name="x", system="us").told
    assert told["checks"][0]["mode"] == "overall height" and told["checks"][0]["utilization"] > 0.94
    assert told["governing"]["part"] == "line link 2: lever hoist"


@pytest.mark.parametrize("name", ["larkspur-bar", "two-stone-pit"])
def test_bed_mark_and_cures_are_those_of_check(name):
    data = tomllib.loads((ROOT / "cases" / f"{name}.toml").read_text(encoding="utf-8"))
    page = answered(data, hash="x", name="x", system="us")
    bed = extras(page.found, whole=False).bed_mark
    assert bed_text(page, system="us") == bed_paragraph(bed)
    if page.word == "over":
        lines = cure_lines(page.found)
        assert lines and all(words(line) in cures_html(page, data=data) for line in lines)
    else:
        assert cures_html(page, data=data) == ""


def test_a_live_answer_takes_little_more_than_its_check():
    """Asked are 1.20 of the check; a busy machine is given some more, at the best of a few tries."""
    desk = Desk(Book(ROOT / "cases" / "sawpit-bend.toml"))
    base = desk.book.read().sha256
    rig = Rig(read_case_text(desk.book.newest.raw.decode(), name="x"))
    spent = [9.0, 9.0]
    for number in range(8):
        begun = time.process_time()
        desk.live({"changes": Changes(base, {"title": f"x{number}"}).plain})
        middle = time.process_time()
        assess(rig)
        spent = [min(spent[0], middle - begun), min(spent[1], time.process_time() - middle)]
        if number > 1 and spent[0] <= 1.25 * spent[1]:
            break
    assert spent[0] <= 1.3 * spent[1]


def test_what_was_weighed_against_all_reason_is_told_at_its_key():
    book = Book(ROOT / "cases" / "sawpit-bend.toml")
    desk = Desk(book)
    base = book.read().sha256
    answer = desk.live({"changes": {"base": base, "typed": {"measured.empty_weight": "40 lb"}}})
    assert answer["code"] == "unreadable" and any(key.startswith("measured.") for key in answer["problems"])


def test_a_typed_length_is_told_back_in_one_unit():
    desk = Desk(Book(ROOT / "cases" / "sawpit-bend.toml"))
    base = desk.book.read().sha256
    answer = desk.live({"changes": {"base": base, "typed": {"box.length": "7 ft 9 in", "box.width": "23 in"}}})
    assert answer["echo"] == {"box.length": "= 93 in"} and answer["unsaved"] == 1

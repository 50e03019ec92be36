"""Not to know a value is an answer wherever the reader takes it, and what follows from it stands beside it."""

import re
import tomllib
from dataclasses import replace

import pytest

from rigcheck.case.docs.page import all_fields
from rigcheck.case.errors import CaseError
from rigcheck.case.reading.read import check_case
from rigcheck.page.book import Book, copy_of
from rigcheck.page.changes import Changes, changes_of, laid_over
from rigcheck.page.desk import Desk
from rigcheck.page.form import Shown, form_html
from rigcheck.page.rowing import carried_out
from rigcheck.page.saving import new_bytes
from rigcheck.page.typed import BadRequestError, value_of
from rigcheck.page.unknowns import consequence, may_be_unknown
from tests.page.running import CASE, ROOT

RAW = (ROOT / "cases" / CASE).read_bytes()
DATA = tomllib.loads(RAW.decode())
PLAIN = [(path, field) for path, field in all_fields() if field.kind is not None and path.split(".")[0] in DATA]
TABLES = {path for path, field in all_fields() if field.repeated}


def of_the_case(path):
    """A key in the first row of each repeated table that the case has; empty where it has none."""
    here, found = DATA, ""
    for step in path.split(".")[:-1]:
        here = here.get(step, {})
        here = here[0] if isinstance(here, list) else here
        found += f"{step}[1]." if found + step in TABLES or f"{step}" in ("link", "tie_down", "fitting") else f"{step}."
        if not here:
            return ""
    return found + path.rpartition(".")[2]


def problems(data):
    try:
        check_case(data)
    except CaseError as error:
        return [str(one) for one in error.problems]
    return []


@pytest.mark.parametrize("allowed", [True, False])
def test_a_value_may_be_unknown_exactly_where_the_reader_takes_it(allowed):
    count = 0
    for path, field in PLAIN:
        here = of_the_case(path)
        if not here or field.kind.words() in ("text", "shape name") or may_be_unknown(field) is not allowed:
            continue
        count += 1
        said, left_out = (problems(laid_over(DATA, Changes(typed={here: text}))) for text in ("unknown", None))
        # a rule may need it, such as the leg of a stitch: then it is told as where it is left out
        assert said in ([], left_out) if allowed else said, here
    assert count > 20


def test_the_button_beside_a_value_writes_that_it_is_not_known():
    desk = Desk(Book(ROOT / "cases" / CASE))
    base = desk.book.read().sha256
    told = desk.live({"changes": Changes(base).plain, "do": "unknown hanger.lug.weld"})
    assert told["changes"]["typed"] == {"hanger.lug.weld": "unknown"} and told["unsaved"] == 1
    assert told["word"] == "incomplete" and re.search(r"id=k-hanger\.lug\.weld [^>]*value=\"unknown\"", told["form"])
    row = told["form"].partition("id=k-hanger.lug.weld ")[2].partition("</div>")[0]
    assert "<b>not known</b>" in row and "not assessed" in row
    assert tomllib.loads(new_bytes(desk.book.newest, changes_of(told["changes"]), name="x").decode())["hanger"]["lug"][
        "weld"
    ] == "unknown"  # fmt: skip


@pytest.mark.parametrize("do", ["unknown box.length", "unknown hanger.lug", "unknown line.link[1].kind", "unknown x"])
def test_what_must_be_known_has_no_such_button(do):
    with pytest.raises(BadRequestError):
        carried_out(Changes(), do=do, data=DATA)
    assert f'value="{do}"' not in form_html(Shown(data=DATA))


def test_the_consequence_stands_beside_the_value():
    fields = dict(all_fields())
    assert consequence(fields["box.steel"]) == "the lowest grade is taken"
    assert consequence(fields["weld.electrode"]) == "E60, the lowest, is taken"
    assert consequence(fields["hanger.lug.weld"]) == "not assessed" and consequence(fields["box.length"]) == ""
    assert consequence(fields["wind.parked"]) == ""  # the empty field shows the default that is taken
    html = form_html(Shown(data=DATA))
    assert html.count("I don't know") == html.count('value="unknown ') > 200
    assert "I don't know" not in form_html(replace(Shown(data=DATA), frozen=True))


def test_a_part_that_is_said_to_be_unknown_reads_as_not_described_and_may_be_described():
    text = RAW.decode()
    head, _, tail = text.partition("[perch.post]")
    text = head.replace("[perch]\n", '[perch]\npost = "unknown"\n') + "\n".join(
        tail[tail.index("\n[") + 1 :].splitlines()) + "\n"  # fmt: skip
    copy = copy_of(text.encode())
    assert "Describe it" in form_html(Shown(data=copy.data)).partition('id="p-perch.post"')[2][:400]
    typed = {f"perch.post.{key}": value for key, value in DATA["perch"]["post"].items() if isinstance(value, str)}
    changes = Changes(copy.sha256, typed)
    new = new_bytes(copy, changes, name="x").decode()
    assert tomllib.loads(new) == laid_over(copy.data, changes) and 'post = "unknown"' not in new


def test_unknown_is_no_list_and_no_number():
    for path in ("haul.stop.at", "factors.hung", "ice.full", "box.steel"):
        assert value_of(" Unknown ", dict(all_fields())[path].kind) == "Unknown"

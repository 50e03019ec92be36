"""What comes later is for the numbers it names, says what a question would be answered, and gives up when told."""

import http.client
import json
import time
from contextlib import closing, contextmanager
from itertools import islice

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.page import along
from rigcheck.page.book import Book
from rigcheck.page.changes import Changes
from rigcheck.page.desk import Desk
from rigcheck.page.later import Memory, facts, ladder, reach, strip, views, with_text
from rigcheck.page.typed import BadRequestError
from rigcheck.quantities.shop import tape_text
from tests.page.running import CASE, ROOT


def desk() -> tuple[Desk, str]:
    made = Desk(Book(ROOT / "cases" / CASE))
    return made, made.book.read().sha256


def asked(made: Desk, base: str, key: str, typed=None) -> dict:
    changes = Changes(base, typed or {}).plain
    told = made.live({"changes": changes})
    grip = next(one for one in told["grips"] if one["key"] == key)
    return {"changes": changes, "frame": told["frame"], "grip": grip}


@pytest.mark.parametrize(("key", "typed"), [("hanger.at", {}), ("bed.depth", {"bed.depth": "35 mm"})])
def test_a_row_of_a_ladder_is_the_answer_to_its_numbers_alone(key, typed):
    made, base = desk()
    what = asked(made, base, key, typed)
    job = made.job(what)
    for row in islice(ladder(job, made.answer(job.data), memory=Memory()), 4):
        again = {"changes": Changes(base, {**typed, key: row["text"]}).plain, "frame": what["frame"]}
        single = made.live(again)
        assert row["kind"] == "row" and {name: row["told"][name] for name in single if name in row["told"]} == {
            name: value for name, value in single.items() if name not in ("disk", "unsaved", "echo", "title")
        }  # fmt: skip


def test_places_of_a_ladder_and_of_the_strip_are_worked_out_a_few_at_once(monkeypatch):
    batches = []

    def counted(rig):
        batches.append(len(rig.varied["hanger.at"]))
        return assess(rig)

    def alone(*_, **__):
        raise AssertionError("a place by itself")

    monkeypatch.setattr(along, "assess", counted)
    monkeypatch.setattr(along, "answered", alone)
    made, base = desk()
    job = made.job(asked(made, base, "hanger.at"))
    answer, memory = made.answer(job.data), Memory()
    rows = list(islice(ladder(job, answer, memory=memory), 10))
    list(islice(strip(job, answer, memory=memory), 1))
    assert batches == [5, 5, 5] and [abs(row["step"]) for row in rows] == [0, 1, 1, 2, 2, 3, 3, 4, 4, 5]


def test_a_ladder_ends_where_there_is_no_case():
    made, base = desk()
    what = asked(made, base, "hanger.at", {"hanger.at": "7 ft 3 in"})
    job = made.job(what)
    rows = list(islice(ladder(job, made.answer(job.data), memory=Memory()), 7))
    read = [row["step"] for row in rows if row["told"]["code"] == "ok"]
    assert min(read) < 0 and max(read) == 1 and any(row["told"]["code"] == "unreadable" for row in rows)


@pytest.mark.parametrize(("key", "text"), [("hanger.at", "5 ft 4 in"), ("bed.depth", "35 mm")])
def test_a_grip_goes_as_far_as_limits_and_rules_let_it(key, text):
    made, base = desk()
    what = asked(made, base, key, {key: text})
    job = made.job(what)
    found = reach(made.answer(job.data), grip=job.grip)
    assert found["key"] == key
    for end, way in ((found["least"], -1.0), (found["most"], 1.0)):
        inside, outside = (tape_text(end + by, tape=job.grip["tape"]) for by in (0.0, way))
        assert made.answer(with_text(job.data, key=key, text=inside)).word != "no answer"
        assert made.answer(with_text(job.data, key=key, text=outside)).word == "no answer"


def test_the_bed_mark_comes_first_and_every_fact_names_its_numbers():
    made, base = desk()
    job = made.job({"changes": Changes(base).plain})
    first = list(islice(facts(job, memory=Memory()), 2))
    assert [one["kind"] for one in first] == ["bed", "fold"] and {one["hash"] for one in first} == {job.hash}
    assert first[0]["text"].startswith("Bed mark, all states: stop feeding at 2 1/2 in")


def test_the_other_drawings_are_those_that_a_question_would_be_answered_with():
    made, base = desk()
    job = made.job({"changes": Changes(base).plain})
    found = {one["told"]["view"]: one["told"] for one in views(job, made.answer(job.data))}
    assert set(found) == {"plan", "folded", "section"}
    single = made.live({"changes": Changes(base).plain, "view": "folded"})
    assert found["folded"] == {name: single[name] for name in found["folded"]} and single["view"] == "folded"


@pytest.mark.parametrize("grip", [1, {}, {"key": "box.width"}, {"key": "hanger.at", "tape": "yd"},
                                  {"key": "hanger.at", "tape": "in", "value": "x", "coarse": 1},
                                  {"key": "hanger.at", "tape": "in", "value": 1e9, "coarse": 1}])  # fmt: skip
def test_a_grip_that_there_is_not_is_refused(grip):
    made, base = desk()
    with pytest.raises(BadRequestError):
        made.job({"changes": Changes(base).plain, "grip": grip})


def test_facts_come_a_line_each_and_a_newer_question_ends_an_older_one(page):
    with asking(page) as first:
        fact = json.loads(first.readline())
        assert fact["kind"] == "bed" and fact["hash"]
        begun = time.monotonic()
        with asking(page) as second:
            rest = first.read()  # ends at once, the strip being far from whole
            assert b'"whole": true' not in rest and time.monotonic() - begun < 20.0
            assert json.loads(second.readline())["kind"] == "bed"


@contextmanager
def asking(page):
    body = json.dumps({"token": page.desk.token, "changes": {"base": page.base}})
    with closing(http.client.HTTPConnection("127.0.0.1", page.port, timeout=60)) as line:
        line.request("POST", "/later", body, page.headers(Host=None))
        with line.getresponse() as answer:
            yield answer

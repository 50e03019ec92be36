"""Nothing typed is lost: drafts outlive a kill, two tabs do not overwrite each other, undo goes over a save."""

import os
import re
import signal
import stat
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.page.book import Book, copy_of
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.desk import Desk
from rigcheck.page.merging import changes_to, differences, merged
from rigcheck.page.saving import new_bytes
from tests.page.running import CASE, ROOT, case_in, page_of
from tests.page.test_command import ENV, run

PLAIN = tomllib.loads((ROOT / "cases" / CASE).read_text(encoding="utf-8"))


@pytest.fixture(autouse=True)
def own_state(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


def test_a_draft_is_kept_for_its_owner_alone_offered_and_taken_up(tmp_path):
    path = case_in(tmp_path)
    with page_of(path) as page:
        changes = Changes(page.base, {"hanger.at": "5 ft 2 in", "box.width": "24 in"}).plain
        assert page.ask("/draft", changes=changes)["kept"]
        (kept,) = (tmp_path / "state" / "rigcheck").iterdir()
        assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    with page_of(path) as page:
        assert re.search(r"2 changes of \d\d:\d\d on .* were not saved", page.get()[1])
        told = page.ask("/draft", changes={"base": page.base}, do="draft take")
        assert told["changes"]["typed"]["hanger.at"] == "5 ft 2 in" and told["unsaved"] == 2
        assert page.ask("/save", changes=told["changes"])["code"] == "saved"
        assert not kept.exists() and "not saved" not in page.get()[1].replace("0 not saved", "")
    assert "5 ft 2 in" in path.read_text(encoding="utf-8")


def test_a_draft_on_an_older_file_is_laid_on_the_new_one(tmp_path):
    path = case_in(tmp_path)
    with page_of(path) as page:
        page.ask("/draft", changes=Changes(page.base, {"hanger.at": "5 ft 2 in"}).plain)
    path.write_text(path.read_text(encoding="utf-8").replace('width = "23 in"', 'width = "24 in"'), encoding="utf-8")
    with page_of(path) as page:
        told = page.ask("/draft", changes={"base": page.base}, do="draft take")
        assert told["changes"]["typed"] == {"hanger.at": "5 ft 2 in"} and told["unsaved"] == 1


def test_a_draft_is_dropped_when_told_or_when_nothing_is_left_of_it(tmp_path):
    with page_of(case_in(tmp_path)) as page:
        changes = Changes(page.base, {"hanger.at": "5 ft 2 in"}).plain
        place = page.desk.draft_place
        for last in ({"changes": changes, "do": "draft drop"}, {"changes": {"base": page.base}}):
            page.ask("/draft", changes=changes)
            assert place.exists()
            page.ask("/draft", **last)
            assert not place.exists()


def test_a_spoiled_draft_is_passed_over(tmp_path):
    with page_of(case_in(tmp_path)) as page:
        place = page.desk.draft_place
        place.parent.mkdir(parents=True)
        for text in ("", "{", "[]", '{"raw": "!", "at": "x"}', "[" * 100_000):
            place.write_text(text, encoding="utf-8")
            status, html = page.get()
            assert status == 200 and "were not saved" not in html


def test_a_killed_server_loses_nothing_that_was_kept(tmp_path, monkeypatch):
    path = case_in(tmp_path)
    monkeypatch.setitem(ENV, "XDG_STATE_HOME", str(tmp_path / "state"))
    with run(str(path), "--no-open") as running:
        address = running.stdout.readline().strip()
        with page_of(path) as page:  # the plainest of clients, turned to the other server
            page.port = int(address.split(":")[2].split("/")[0])
            page.host = f"127.0.0.1:{page.port}"
            html = page.get("/" + address.rsplit("/", 1)[1])[1]
            page.desk.token = re.search(r'name="token" value="([^"]+)"', html)[1]
            assert page.ask("/draft", changes=Changes(page.base, {"box.width": "24 in"}).plain)["kept"]
        os.kill(running.pid, signal.SIGKILL)
        running.wait()
    with page_of(path) as page:
        assert "1 change of" in page.get()[1]


def test_two_tabs_and_an_edit_outside_are_told_apart_and_brought_together(tmp_path):
    path = case_in(tmp_path)
    with page_of(path) as page:
        base = page.base
        one = Changes(base, {"hanger.at": "5 ft 2 in", "box.width": "24 in"}).plain
        two = Changes(base, {"hanger.at": "5 ft 5 in", "bed.depth": "2 in"}).plain
        assert page.ask("/save", changes=one)["code"] == "saved"
        before = path.read_bytes()
        assert page.ask("/save", changes=two)["code"] == "conflict" and path.read_bytes() == before
        assert page.ask("/live", changes=two)["disk"] == page.base != base
        offer = page.ask("/draft", changes=two, do="look")["offer"]
        assert "box.width: was 23 in, in the file 24 in" in offer and 'name="take:hanger.at"' in offer
        assert "bed.depth" not in offer
        mine = page.ask("/draft", changes=two, do="merge", take={"hanger.at": "mine"})
        assert mine["changes"]["typed"] == {"hanger.at": "5 ft 5 in", "bed.depth": "2 in"}
        theirs = page.ask("/draft", changes=two, do="merge", take={"hanger.at": "theirs"})
        assert theirs["changes"] == Changes(page.base, {"bed.depth": "2 in"}).plain
        assert page.ask("/save", changes=theirs["changes"])["code"] == "saved"
    saved = tomllib.loads(path.read_text(encoding="utf-8"))
    assert (saved["hanger"]["at"], saved["box"]["width"], saved["bed"]["depth"]) == ("5 ft 2 in", "24 in", "2 in")


def test_a_file_that_is_no_case_any_more_is_told(tmp_path):
    path = case_in(tmp_path)
    with page_of(path) as page:
        changes = {"base": page.base}
        path.write_text("title = 3", encoding="utf-8")
        assert "cannot be read as a case" in page.ask("/draft", changes=changes, do="look")["offer"]
        status, html = page.get()
        assert status == 200 and "as it was read last" in html and "7 ft 5 in" in html
        path.unlink()
        assert page.ask("/live", changes=changes)["disk"] == "gone"
        assert page.ask("/save", changes=changes)["code"] == "refused" and not path.exists()


def test_undo_goes_back_over_a_save(tmp_path):
    desk = Desk(Book(case_in(tmp_path)))
    base = desk.book.read().sha256
    before = Changes(base, {"box.width": "24 in"})
    after = desk.book.keep(copy_of(new_bytes(desk.copy(before), Changes(base, {"box.width": "25 in"}), name="x")))
    told = desk.live({"changes": before.plain, "onto": after.sha256, "form": True})
    assert told["changes"] == Changes(after.sha256, {"box.width": "24 in"}).plain and told["unsaved"] == 1


TEXTS = st.sampled_from(["1 in", "2 in", None])
KEYS = ["bed.depth", "box.width", "hanger.lug.pin", "line.link[1].length", "ice.depth", "mat.weight", "perch.lug"]
EDITS = st.dictionaries(st.sampled_from(KEYS), TEXTS)
ORDERS = st.sampled_from([(1, 2, 3), (1, 3), (3, 2, 1), (1, 2, 3, 0), ()])


@settings(max_examples=60, derandomize=True)
@given(EDITS, EDITS, ORDERS, ORDERS)
def test_changes_brought_onto_another_file_give_the_numbers_that_are_wanted(one, other, mine_rows, their_rows):
    def with_rows(typed, rows):
        kept = {key: text for key, text in typed.items() if rows[:1] or not key.startswith("line.")}
        if "perch.lug" in kept:
            kept["perch.lug"] = None  # the whole part
        return Changes(typed=kept, rows={"line.link": rows} if rows else {"fitting": (2, 1)})

    mine = laid_over(PLAIN, with_rows(one, mine_rows))
    theirs = laid_over(PLAIN, with_rows(other, their_rows))
    for keep in (frozenset(), frozenset(each.key for each in differences(PLAIN, mine=mine, theirs=theirs))):
        wanted = merged(PLAIN, mine=mine, theirs=theirs, keep_theirs=keep)
        raw = (ROOT / "cases" / CASE).read_bytes()
        assert laid_over(PLAIN, changes_to(copy_of(raw), wanted)) == wanted
    assert merged(PLAIN, mine=PLAIN, theirs=theirs, keep_theirs=frozenset()) == theirs
    assert merged(PLAIN, mine=mine, theirs=PLAIN, keep_theirs=frozenset()) == mine

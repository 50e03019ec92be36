"""Fixes that are taken, the fold played back, card, a blank rig: each from what `check` and its fellows know."""

import json
import re
import subprocess
import tomllib
from importlib.resources import files
from pathlib import Path
from urllib.parse import urlencode

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig
from rigcheck.output.fold.view import fold_result
from rigcheck.page import papers
from rigcheck.page.answer import answered
from rigcheck.page.asked_first import FIRST
from rigcheck.page.book import Book
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.desk import Desk
from rigcheck.page.folding_play import fold_block
from rigcheck.page.later import cures_html
from rigcheck.page.sheet import SCRIPTS
from rigcheck.page.sketch import KEYS, sketch_svg
from rigcheck.page.taking import typed_by
from rigcheck.page.typed import field_of
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.remedies.study import remedies
from tests.page.running import ROOT, case_in, page_of

FORM = "application/x-www-form-urlencoded"


@pytest.fixture(autouse=True)
def own_state(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


@pytest.mark.parametrize("name", ["two-stone-pit"])
def test_a_fix_that_is_taken_gives_what_it_says(name):
    desk = Desk(Book(ROOT / "cases" / f"{name}.toml"))
    base = desk.book.read().sha256
    data = desk.book.newest.data
    answer = answered(data, hash="x", name="x", system="us")
    found = remedies(answer.found.solution.rig, found=answer.found, most=3)
    assert found
    for one in found:
        if one.counted != "check":
            continue
        then = desk.answer(laid_over(data, Changes(base, typed_by(one, data=data))))
        assert then.told["highest_utilization"] == pytest.approx(one.utilization, rel=1e-6)
        assert (then.word != "over") == one.cures
    html = cures_html(answer, data=data)
    assert html.count("<li>") == len(found) and ("cures" in html) and "%" in html


def test_the_fold_is_played_from_the_study():
    found = assess(Rig(case()))
    block = fold_block(found, system="us")
    study = fold_result(fold_of(found), whole=True)
    assert [row[0] for row in block["rows"]] == [row["fold"] for row in study["rows"]]
    assert block["rows"][0][0] == 0.0 and "each line" in block["rows"][0][2]
    assert "weakest link allows" in block["svg"] and "<script" not in block["svg"] and "style=" not in block["svg"]


def case():
    from rigcheck.case import read_case

    return read_case(ROOT / "cases" / "sawpit-bend.toml")


def posted(page, **fields: str) -> tuple[int, str]:
    state = json.dumps({"base": page.base})
    body = urlencode({"token": page.desk.token, "state": state, **fields}).encode()
    return page.post("/live", {}, plain=body, Content_Type=FORM)


def test_the_card_is_printed_of_the_numbers_on_the_page(tmp_path):
    with page_of(case_in(tmp_path)) as page:
        status, html = posted(page, do="card", **{"bed.depth": "1 in"})
        assert status == 200 and "Shop card" in html and "sawpit-bend.toml" in html
        assert '<link rel="stylesheet" href="/card.css">' in html and "<style" not in html
        assert page.get("/card.css")[0] == 200
        status, html = posted(page, do="card", **{"box.length": "8"})
        assert status == 200 and "Not printed" in html
        assert "1 1/4 in" in page.path.read_text(encoding="utf-8")


def test_the_packet_is_made_of_the_numbers_on_the_page_and_handed_over_as_a_file(tmp_path, monkeypatch):
    asked = []

    def report(command, **_):
        """In place of the command, which takes its time; its own tests are those of `report`."""
        case, out = Path(command[4]), Path(command[6])
        asked.append(
            (command[3], command[5], case.name, tomllib.loads(case.read_text(encoding="utf-8"))["bed"]["depth"])
        )
        out.write_text("<p>the packet</p>", encoding="utf-8")
        return subprocess.CompletedProcess(command, 3, "", "")

    with page_of(case_in(tmp_path)) as page:
        assert page.get()[1].count('name="do" value="packet"') == 1
        monkeypatch.setattr(papers.subprocess, "run", report)
        state = json.dumps({"base": page.base})
        body = urlencode({"token": page.desk.token, "state": state, "do": "packet", "bed.depth": "1 in"}).encode()
        head = "".join(f"{name}: {value}\r\n" for name, value in page.headers(
            Content_Type=FORM, Content_Length=str(len(body)), Connection="close").items())  # fmt: skip
        answer = page.raw(f"POST /live HTTP/1.1\r\n{head}\r\n".encode() + body)
        assert b'attachment; filename="sawpit-bend-packet.html"' in answer and answer.endswith(b"<p>the packet</p>")
        assert asked == [("report", "-o", "sawpit-bend.toml", "1 in")]
        assert "1 1/4 in" in page.path.read_text(encoding="utf-8")  # the file is as it was
        status, html = posted(page, do="packet", **{"box.length": "8"})
        assert status == 200 and "Not printed" in html and len(asked) == 1


def test_the_packet_is_the_report_of_the_numbers_on_the_page(tmp_path):
    """The command itself, once."""
    with page_of(case_in(tmp_path)) as page:
        name, raw = papers.packet(page.desk, Changes(page.base, {"bed.depth": "7/8 in"}))
    html = raw.decode()
    assert name == "sawpit-bend-packet.html" and html.startswith("<!DOCTYPE html>") and html.endswith("</html>\n")
    assert 'depth = "7/8 in"' in html.replace("&quot;", '"') and str(tmp_path) not in html


def test_a_packet_that_cannot_be_made_says_why(tmp_path, monkeypatch):
    with page_of(case_in(tmp_path)) as page:
        done = subprocess.CompletedProcess([], 70, "", "the frame does not confirm the statics")
        monkeypatch.setattr(papers.subprocess, "run", lambda *_, **__: done)
        status, html = posted(page, do="packet")
        assert status == 200 and "Not printed: the packet could not be made: the frame does not confirm" in html


def test_a_blank_rig_asks_first_what_every_answer_needs(tmp_path):
    with page_of(None, folder=tmp_path) as page:
        html = page.get()[1]
        assert "NO ANSWER" in html and 'class="sketch"' in html and "Nothing is filled in" in html
        assert all(len(re.findall(rf" name={re.escape(key)}[ >]", html)) == 1 for key in FIRST)
        typed = {
            "title": "My rig", "box.length": "9 ft 2 in", "box.width": "26 in", "box.side_height": "7 in",
            "box.pitch": "1 1/4 in/ft", "box.sheet": "12 ga", "perch.height": "80 in", "perch.downstream": "-8 in",
            "perch.spacing": "34 in", "hanger.at": "6 ft", "hanger.height": "7 in", "hanger.spacing": "28 in",
            "line.link[1].kind": "rated part", "line.link[1].wll": "3000 lb",
        }  # fmt: skip
        changes = Changes("", typed, {"line.link": (0,)}).plain
        told = page.ask("/live", changes=changes)
        assert told["word"] == "incomplete" and "the most decisive first" in told["why"]
        assert re.search(r'href="#[pk]-hanger\.lug"', told["why"])
        done = page.ask("/save", changes=changes, name="my rig")
        assert done["code"] == "saved" and done["own"]
    text = (tmp_path / "my rig.toml").read_text(encoding="utf-8")
    assert text.startswith('title = "My rig"\n\n[box]\nlength = "9 ft 2 in"') and "steel" not in text


def test_the_first_questions_are_keys_and_the_sketch_shows_where_they_are_measured():
    assert len(FIRST) < 20 and all(field_of(key.replace("[1]", "")).section is None for key in FIRST)
    assert set(KEYS) < set(FIRST) and all(f'data-key="{key}"' in sketch_svg() for key in KEYS)


def test_page_script_and_style_are_small(tmp_path):
    folder = files("rigcheck.page") / "static"
    scripts = [(folder / name).read_text(encoding="utf-8") for name in SCRIPTS]
    assert sum(text.count("\n") for text in scripts) < 600
    rest = sum(len(text.encode()) for text in scripts) + len((folder / "page.css").read_bytes())
    for name in ("sawpit-bend", "magpie-landing", "teasel-cut"):
        with page_of(ROOT / "cases" / f"{name}.toml") as page:
            html = page.get()[1]
        assert len(html.encode()) + rest < 200 * 1024, name
        assert not re.search(r"\sstyle=|\son[a-z]+=|javascript:", html) and html.count("<script") == 2

"""Nothing worked out for other numbers stands on the page as theirs; touch, and no finding of axe under any word."""

import random

import pytest

from rigcheck.page.book import copy_of
from rigcheck.page.changes import Changes
from rigcheck.page.saving import new_bytes
from tests.page.browsing import NARROW, WIDE, browser, tab, until
from tests.page.running import case_in, page_of

WORD = "document.getElementById('word').textContent"
AXE = {"resultTypes": ["violations"]}
# the page's own word for the numbers of each part that it shows, written down by the page as it shows them
WATCH = """() => {
  window.wrong = [];
  const bed = () => document.getElementById('bed')?.textContent || '';
  window.facts = {};
  setInterval(() => {
    const waits = document.getElementById('answer').classList.contains('waits');
    const said = bed();
    if (waits && said && !said.includes('worked out')) window.wrong.push('bed: ' + said);
    if (waits && document.querySelector('#strip svg')) window.wrong.push('strip');
    if (waits && document.querySelector('#cures li')) window.wrong.push('cures');
    if (waits && document.querySelector('#fold svg')) window.wrong.push('fold');
  }, 5);
}"""


@pytest.fixture(scope="module")
def running():
    with browser() as found:
        yield found


@pytest.fixture(autouse=True)
def own_state(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


def test_no_fact_of_other_numbers_is_shown_while_numbers_change(running, tmp_path, changes=12):
    draw = random.Random(11)
    with page_of(case_in(tmp_path)) as page, tab(running, page.address) as shown:
        until(shown, "document.getElementById('bed').textContent.includes('stop feeding')")
        shown.evaluate(WATCH)
        for _ in range(changes):
            shown.fill('[name="hanger.at"]', f"5 ft {draw.randint(0, 11)} in")
            shown.wait_for_timeout(draw.choice((20, 120, 400, 900)))
        until(shown, "!document.getElementById('answer').classList.contains('waits')")
        text = shown.input_value('[name="hanger.at"]')
        assert shown.evaluate("window.wrong") == []
        until(shown, "!document.getElementById('bed').textContent.includes('worked out')", wait=60.0)
        typed = {"hanger.at": text}
        told = page.ask("/live", changes={"base": page.base, "typed": typed})
        assert told["word"].upper() == shown.evaluate(WORD)


def test_a_grip_goes_by_touch_and_the_page_scrolls_beside_it(running, tmp_path):
    with (
        page_of(case_in(tmp_path)) as page,
        tab(running, page.address, size=NARROW, has_touch=True, is_mobile=True) as shown,
    ):
        until(shown, "document.querySelector('.grip')")
        sizes = shown.evaluate(
            "[...document.querySelectorAll('.grip .reach')].map(one => one.getBoundingClientRect().width)"
        )
        assert len(sizes) == 5 and min(sizes) >= 44.0
        assert shown.evaluate("getComputedStyle(document.querySelector('.grip')).touchAction") == "none"
        assert shown.evaluate("getComputedStyle(document.querySelector('#svg')).touchAction") == "auto"
        shown.locator("#picture").scroll_into_view_if_needed()
        box = shown.locator('[data-grip="perch.height"] .arrows').bounding_box()
        x, y = box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"]
        send = shown.context.new_cdp_session(shown)
        for kind, at in (("touchStart", y), ("touchMove", y + 6), ("touchMove", y + 20)):
            send.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": at}]})
            shown.wait_for_timeout(60)
        send.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        until(shown, "document.getElementById('saved').textContent === '1 not saved'")
        assert shown.input_value('[name="perch.height"]') != "45 in"


def test_small_targets_are_none(running, tmp_path):
    with page_of(case_in(tmp_path)) as page, tab(running, page.address, size=NARROW) as shown:
        until(shown, f"{WORD} === 'TIGHT'")
        shown.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
        script = """[...document.querySelectorAll('button, input, select, summary')].filter(one => one.offsetParent)
            .filter(one => one.getBoundingClientRect().height < 43.5 || one.getBoundingClientRect().width < 43.5)
            .map(one => one.outerHTML.slice(0, 80))"""
        assert shown.evaluate(script) == []


@pytest.mark.parametrize(
    ("case", "key", "text", "word"),
    [("larkspur-bar.toml", "title", "x", "WITHIN"), ("sawpit-bend.toml", "title", "x", "TIGHT"),
     ("larkspur-bar.toml", "title", "y", "INCOMPLETE"), ("larkspur-bar.toml", "box.length", "9", "NO ANSWER"),
     ("sawpit-bend.toml", "hanger.at", "5 ft", "OVER"), ("windlass-flat.toml", "title", "stopped", "OVER")],
)  # fmt: skip
def test_no_finding_of_axe_under_any_word(running, tmp_path, case, key, text, word):
    """Everything folded open, on a wide screen and on a phone."""
    from axe_core_python.sync_playwright import Axe

    path = case_in(tmp_path, case)
    if word == "INCOMPLETE":
        path.write_bytes(new_bytes(copy_of(path.read_bytes()), Changes(typed={"perch.lug": None}), name="x"))
    with page_of(path) as page, tab(running, page.address) as shown:
        shown.fill(f'[name="{key}"]', text)
        until(shown, f"{WORD} === '{word}' && !document.getElementById('answer').classList.contains('waits')")
        assert text != "stopped" or "Stops the rig" in shown.text_content("#why")
        for size in (WIDE, NARROW):
            shown.set_viewport_size({"width": size[0], "height": size[1]})
            shown.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
            assert shown.evaluate("document.documentElement.scrollWidth") <= size[0]
            found = Axe().run(shown, options=AXE)["violations"]
            assert [(one["id"], one["nodes"][0]["html"][:200]) for one in found] == []

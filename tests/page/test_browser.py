"""The page in a browser: typed, answered, saved, undone; without a script too; quiet, and on this machine alone."""

import tomllib

import pytest

from tests.page.browsing import NARROW, browser, tab, until
from tests.page.running import case_in, page_of

WORD = "document.getElementById('word').textContent"
SETTLED = "document.getElementById('saved').textContent"


@pytest.fixture(scope="module")
def running():
    with browser() as found:
        yield found


@pytest.fixture
def page(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    with page_of(case_in(tmp_path)) as found:
        yield found


OPENED = (
    "field => { for (let one = field; one; one = one.parentElement) if (one.tagName === 'DETAILS') one.open = true; }"
)


def type_in(shown, key: str, text: str) -> None:
    field = shown.locator(f'[name="{key}"]')
    field.evaluate(OPENED)
    field.fill(text)


def test_a_number_is_typed_answered_undone_and_saved(running, page):
    with tab(running, page.address) as shown:
        until(shown, f"{WORD} === 'TIGHT'")
        type_in(shown, "hanger.at", "5 ft 2 in")
        until(shown, f"{WORD} === 'OVER' && {SETTLED} === '1 not saved'")
        type_in(shown, "box.length", "8")
        until(
            shown, f"{WORD} === 'NO ANSWER' && document.querySelector('#form .bad em').textContent.includes('no unit')"
        )
        assert shown.evaluate("document.querySelector('#drawn.old') !== null")
        shown.locator("#undo").click()
        until(shown, f"{WORD} === 'OVER' && document.getElementById('k-box.length').value === '7 ft 5 in'")
        shown.locator("#undo").click()
        until(shown, f"{WORD} === 'TIGHT' && {SETTLED} === 'as saved'")
        shown.locator("#redo").click()
        until(shown, f"{WORD} === 'OVER'")
        before = page.path.read_text(encoding="utf-8")
        shown.locator("#save").click()
        until(shown, f"{SETTLED} === 'as saved' && document.getElementById('note').textContent.startsWith('Saved')")
        assert page.path.read_text(encoding="utf-8") == before.replace('at = "5 ft 4 in"', 'at = "5 ft 2 in"')


def test_without_a_script_the_form_works_it_out_and_saves(running, page):
    with tab(running, page.address, java_script_enabled=False) as shown:
        assert shown.locator("#word").text_content() == "TIGHT"
        shown.locator('[name="hanger.at"]').fill("5 ft 2 in")
        shown.locator("#work").click()
        assert shown.locator("#word").text_content() == "OVER"
        assert "1 not saved" in shown.locator("#saved").text_content()
        assert "No bed mark" in shown.locator("#bed").text_content()
        shown.locator("#save").click()
        assert "Saved" in shown.locator("#note").text_content()
    assert tomllib.loads(page.path.read_text(encoding="utf-8"))["hanger"]["at"] == "5 ft 2 in"


def test_a_script_that_fails_leaves_the_form_working(running, page):
    context = running.new_context()
    shown = context.new_page()
    shown.route(
        "**/picture.js", lambda route: route.fulfill(body="throw new Error('x')", content_type="text/javascript")
    )
    shown.goto(page.address)
    shown.locator('[name="hanger.at"]').fill("5 ft 2 in")
    shown.locator("#work").click()
    until(shown, f"{WORD} === 'OVER'")
    assert shown.url.endswith("/live")
    context.close()


def test_a_phone_is_not_scrolled_sideways_and_sees_the_answer(running, page):
    with tab(running, page.address, size=NARROW) as shown:
        until(shown, f"{WORD} === 'TIGHT'")
        shown.evaluate("document.querySelectorAll('#form details').forEach(one => { one.open = true; })")
        assert shown.evaluate("document.documentElement.scrollWidth") <= 390
        shown.evaluate("scrollTo(0, 3000)")
        assert 0.0 <= shown.evaluate("document.getElementById('word').getBoundingClientRect().top") < 200.0


def test_a_grip_is_dragged_and_moved_by_keys_and_the_answer_follows(running, page):
    with tab(running, page.address) as shown:
        until(shown, f"{WORD} === 'TIGHT' && document.querySelector('.grip')")
        grip = shown.locator('[data-grip="hanger.at"] .arrows').bounding_box()
        x, y = grip["x"] + 0.5 * grip["width"], grip["y"] + 0.5 * grip["height"]
        shown.mouse.move(x, y)
        shown.mouse.down()
        shown.mouse.move(x - 4.0, y)
        shown.mouse.move(x - 30.0, y - 4.0)
        until(shown, "document.querySelector('.ghost text')")
        shown.mouse.up()
        until(shown, f"{WORD} === 'OVER' && {SETTLED} === '1 not saved' && !document.querySelector('.ghost')")
        moved = shown.input_value('[name="hanger.at"]')
        assert moved.endswith(" in") and moved != "5 ft 4 in"
        shown.locator("#undo").click()
        until(shown, f"{WORD} === 'TIGHT'")
        shown.locator('[data-grip="bed.depth"]').focus()
        shown.keyboard.press("ArrowUp")
        shown.keyboard.press("ArrowUp")
        until(shown, "document.getElementById('k-bed.depth').value === '1 1/2 in' && " + f"{SETTLED} === '1 not saved'")
        said = "document.activeElement.getAttribute('aria-valuetext')"
        until(shown, f"document.activeElement.dataset.grip === 'bed.depth' && {said} === '1 1/2 in'")
        until(shown, "document.getElementById('bed').textContent.includes('stop feeding')")


def test_lengths_are_written_alike_by_page_and_server(running, page):
    from rigcheck.quantities.shop import tape_text

    with tab(running, page.address) as shown:
        for tape in ("ft in", "in", "mm", "cm", "m"):
            values = [n / 8.0 for n in range(-120, 2000, 37)] + [n * 5.0 / 25.4 for n in range(-20, 700, 61)]
            script = f"import('/picture.js').then(one => {values}.map(each => one.tapeText(each, '{tape}')))"
            assert shown.evaluate(script) == [tape_text(value, tape=tape) for value in values]


def test_a_tab_that_lags_behind_is_told_and_a_killed_one_finds_its_changes_again(running, page):
    with tab(running, page.address) as one, tab(running, page.address) as two:
        for shown in (one, two):
            until(shown, f"{WORD} === 'TIGHT'")
        type_in(one, "bed.depth", "1 in")
        one.locator("#save").click()
        until(one, f"{SETTLED} === 'as saved' && document.getElementById('note').textContent.startsWith('Saved')")
        type_in(two, "mat.weight", "2 lb/ft2")
        until(two, "document.querySelector('#offers').textContent.includes('bed.depth')")
        two.get_by_role("button", name="Take up the file").click()
        until(two, f"{SETTLED} === '1 not saved' && document.getElementById('k-bed.depth').value === '1 in'")
        two.wait_for_timeout(1000)
        with tab(running, page.address) as three:
            until(three, "document.querySelector('#offers').textContent.includes('1 change of')")
            three.get_by_role("button", name="Take them up").click()
            until(three, f"document.getElementById('k-mat.weight').value === '2 lb/ft2' && {SETTLED} === '1 not saved'")


def test_a_part_is_described_and_rows_are_moved_and_the_focus_stays(running, page):
    with tab(running, page.address) as shown:
        until(shown, f"{WORD} === 'TIGHT'")
        shown.get_by_role("button", name="Describe tail leg").click()
        until(shown, "document.activeElement.id === 'k-tail_leg.at' || document.activeElement.tagName === 'SUMMARY'")
        type_in(shown, "tail_leg.at", "7 ft")
        until(shown, f"{SETTLED} === '1 not saved' && {WORD} !== 'NO ANSWER'")
        shown.locator("button[value='down fitting 1']").evaluate(OPENED)
        shown.locator("button[value='down fitting 1']").click()
        until(shown, "document.getElementById('k-fitting[2].name').value === 'tail lip'")
        shown.locator("#undo").click()
        until(shown, "document.getElementById('k-fitting[1].name').value === 'tail lip'")


def test_what_is_typed_while_a_row_is_on_its_way_is_not_lost(running, page):
    with tab(running, page.address) as shown:
        until(shown, "document.querySelector('.grip')")  # the first answer is there, so the next question goes at once
        shown.wait_for_timeout(300)
        shown.evaluate("""() => {
            document.querySelector("button[value='add fitting']").click();
            const field = document.querySelector('[name="hanger.at"]');
            field.value = '5 ft 2 in';
            field.dispatchEvent(new Event('input', {bubbles: true}));
        }""")
        until(shown, "document.getElementById('k-fitting[3].name')")
        assert shown.input_value('[name="hanger.at"]') == "5 ft 2 in"
        type_in(shown, "fitting[3].name", "spray bar")
        type_in(shown, "fitting[3].weight", "20 lb")
        type_in(shown, "fitting[3].at", "1 ft")
        until(shown, f"{WORD} === 'OVER'")
        shown.locator("#save").click()
        until(shown, "document.getElementById('note').textContent.startsWith('Saved')")
    saved = tomllib.loads(page.path.read_text(encoding="utf-8"))
    assert saved["hanger"]["at"] == "5 ft 2 in" and saved["fitting"][2]["name"] == "spray bar"


def test_what_is_typed_while_a_save_is_on_its_way_stays(running, page):
    with tab(running, page.address) as shown:
        until(shown, "document.querySelector('.grip')")
        type_in(shown, "bed.depth", "1 in")
        until(shown, f"{SETTLED} === '1 not saved'")
        shown.evaluate("""() => {
            document.getElementById('save').click();
            const field = document.querySelector('[name="hanger.at"]');
            field.value = '5 ft 2 in';
            field.dispatchEvent(new Event('input', {bubbles: true}));
        }""")
        until(shown, f"document.getElementById('note').textContent.startsWith('Saved') && {SETTLED} === '1 not saved'")
        until(shown, f"{WORD} === 'OVER'")
        assert shown.input_value('[name="hanger.at"]') == "5 ft 2 in"
    saved = tomllib.loads(page.path.read_text(encoding="utf-8"))
    assert saved["bed"]["depth"] == "1 in" and saved["hanger"]["at"] == "5 ft 4 in"


AS_SHOWN = "told => { const one = document.createElement('div'); one.innerHTML = told; return one.innerHTML; }"
ROWS = "import('/later.js').then(one => one.ladderOf('hanger.at')?.join())"


def test_a_drag_over_places_worked_out_ahead_shows_what_the_server_answers_and_asks_nothing(running, page):
    """Place by place: word, sentence, rows and picture are those of a question of its own; letting go asks once."""
    with tab(running, page.address) as shown:
        until(shown, f"{WORD} === 'TIGHT' && document.querySelector('.grip')")
        until(shown, f"{ROWS}.then(ends => ends === '4 ft 4 in,6 ft 4 in')", wait=90.0)
        lines = shown.evaluate("document.querySelector('#svg svg').viewBox.baseVal.width / "
                               "document.querySelector('#svg svg').getBoundingClientRect().width")  # fmt: skip
        grip = next(one for one in page.ask("/live", changes={"base": page.base})["grips"] if one["key"] == "hanger.at")
        box = shown.locator('[data-grip="hanger.at"] .arrows').bounding_box()
        x, y = box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"]
        asked = len(shown.asked)
        shown.mouse.move(x, y)
        shown.mouse.down()
        for inches in (-3, -8, 2, 5):
            shown.mouse.move(*(at + inches * way / lines for at, way in zip((x, y), grip["way"], strict=True)))
            feet, rest = divmod(64 + inches, 12)
            text = f"{feet} ft {rest} in" if rest else f"{feet} ft"
            until(shown, f"document.getElementById('k-hanger.at').value === '{text}'")
            frame = shown.evaluate("import('/page.js').then(one => one.state.frame)")
            told = page.ask("/live", changes={"base": page.base, "typed": {"hanger.at": text}}, frame=frame)
            script = (
                "told => { const one = document.createElement('div'); one.innerHTML = told; return one.innerHTML; }"
            )
            for part in ("answer", "why", "svg"):
                until(shown, f"document.getElementById('{part}').innerHTML === {shown.evaluate(script, told[part])!r}")
        assert shown.asked[asked:] == [
            url for url in shown.asked[asked:] if url.endswith(("/draft", "/later.js", "/page.js"))
        ]
        shown.mouse.up()
        until(shown, f"{SETTLED} === '1 not saved' && !document.querySelector('.ghost')")
        assert any(url.endswith("/live") for url in shown.asked[asked:])


def test_both_ends_of_straps_are_dragged_and_left_and_right_go_together(running, page):
    """sawpit-bend has two straps that mirror each other: one grip for each end of both; two of three lengths move."""
    with tab(running, page.address) as shown:
        until(shown, f"{WORD} === 'TIGHT'")
        shown.click("button[value='view folded']")
        name = '[data-grip="haul.tie_down[1].from"]'
        until(shown, f"document.querySelector('{name}')")
        grips = shown.evaluate("[...document.querySelectorAll('.grip')].map(one => one.dataset.grip)")
        assert [one for one in grips if one.startswith("haul")] == ["haul.tie_down[1].from", "haul.tie_down[1].to"]
        shown.focus(name)
        shown.keyboard.press("ArrowRight")
        shown.keyboard.press("Shift+ArrowUp")
        points = [f"document.getElementById('k-haul.tie_down[{row}].from').value" for row in (1, 2)]
        until(shown, f"{points[0]} === '82 1/4 in, 11 in, 7 in' && {points[1]} === '82 1/4 in, -11 in, 7 in'")
        until(shown, f"{SETTLED} === '2 not saved' && document.querySelector('{name}') === document.activeElement")
        shown.keyboard.press("Escape")
        until(shown, f"{points[0]} === '82 in, 11 in, 6 in' && {SETTLED} === 'as saved'")
        box = shown.locator('[data-grip="haul.tie_down[1].to"] .arrows').first.bounding_box()
        x, y = box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"]
        shown.mouse.move(x, y)
        shown.mouse.down()
        shown.mouse.move(x + 4.0, y)
        shown.mouse.move(x + 20.0, y - 20.0)
        until(shown, f"{SETTLED} === '2 not saved'")
        shown.mouse.up()
        until(shown, "!document.querySelector('.ghost')")
        ends = [shown.input_value(f'[name="haul.tie_down[{row}].to"]').split(", ") for row in (1, 2)]
        assert ends[0][0] == ends[1][0] != "50 in" and ends[0][2] == ends[1][2] != "5 in"
        assert (ends[0][1], ends[1][1]) == ("13 in", "-13 in")
        shown.click("#undo")
        until(shown, f"{SETTLED} === 'as saved'")


def test_a_row_that_is_typed_into_takes_its_mirror_image_along_unless_told_otherwise(running, page):
    with tab(running, page.address) as shown:
        until(shown, f"{WORD} === 'TIGHT'")
        other = "document.getElementById('k-haul.tie_down[2].from').value"
        type_in(shown, "haul.tie_down[1].from", "80 in, 1 ft, 6 in")
        until(shown, f"{other} === '80 in, -1 ft, 6 in' && {SETTLED} === '2 not saved'")
        assert shown.evaluate("document.activeElement.id") == "k-haul.tie_down[1].from"
        shown.locator("#undo").click()
        until(shown, f"{other} !== '80 in, -1 ft, 6 in' && {SETTLED} === 'as saved'")
        shown.locator("#p-haul\\.tie_down\\[1\\] .with").select_option("stays as it is")
        type_in(shown, "haul.tie_down[1].from", "80 in, 1 ft, 6 in")
        until(shown, f"{SETTLED} === '1 not saved'")
        assert shown.evaluate(other) != "80 in, -1 ft, 6 in"


def test_another_view_is_there_without_a_question_once_the_numbers_rest(running, page):
    with tab(running, page.address) as shown:
        until(shown, "(document.documentElement.dataset.facts || '').split(' view').length === 4")
        asked = []
        shown.on("request", lambda request: asked.append(request.url))
        shown.locator('button[value="view folded"]').click()
        pressed = """document.querySelector('button[value="view folded"]').getAttribute('aria-pressed') === 'true'"""
        assert shown.evaluate(pressed) and not [url for url in asked if url.endswith("/live")]

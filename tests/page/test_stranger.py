"""A stranger with nothing but the page: from a blank rig to INCOMPLETE with its list, and by the list to WITHIN."""

import tomllib

from rigcheck.page.asked_first import FIRST
from tests.page.browsing import browser, tab, until
from tests.page.keyed import everything_typed
from tests.page.running import ROOT, page_of

WORD = "document.getElementById('word').textContent"
TYPED, ROWS = everything_typed(tomllib.loads((ROOT / "cases" / "larkspur-bar.toml").read_text(encoding="utf-8")))
LEADS = "[...document.querySelectorAll('#missing + ol a')].map(one => one.getAttribute('href').slice(1))"
FILL = """typed => { for (const [key, text] of Object.entries(typed)) {
  const field = document.getElementsByName(key)[0];
  if (!field || field.value === text) continue;
  field.value = text;
  field.dispatchEvent(new Event('input', {bubbles: true}));
} }"""


def fill(shown, texts):
    """Type into the fields that there are, and wait for the answer."""
    shown.evaluate(FILL, texts)
    settled(shown)


def settled(shown):
    until(shown, "!document.getElementById('answer').classList.contains('waits')", wait=60.0)


def press(shown, *buttons):
    """Buttons of the form, one right after the other, and the answer to the last."""
    shown.evaluate(f"{list(buttons)}.forEach(one => document.querySelector(`button[value='${{one}}']`).click())")
    settled(shown)


def of_part(part):
    return {key: text for key, text in TYPED.items() if key.startswith(f"{part}.") and "[" not in key[len(part) :]}


def described(shown, anchor):
    """What a stranger does behind a link of the list: each key of the part that it leads to is said."""
    shown.evaluate(f"document.querySelector(`#missing + ol a[href='#{anchor}']`).click()")
    settled(shown)
    part = anchor[2:] if anchor[0] == "p" else anchor[2:].rpartition(".")[0]
    if part not in ROWS:
        return fill(shown, of_part(part))
    press(shown, *(f"add {part}" for _ in ROWS[part]))
    press(shown, *(f"describe {part}[{number}].eyelet" for number, _ in enumerate(ROWS[part], 1)))
    return fill(shown, {key: text for key, text in TYPED.items() if key.startswith(f"{part}[")})


def test_from_nothing_to_a_rig_that_is_within(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    link = {key: text for key, text in TYPED.items() if key.startswith("line.link[1].") and not key.endswith(".length")}
    with page_of(None, folder=tmp_path) as page, browser() as running, tab(running, page.address) as shown:
        until(shown, "document.querySelector('#answer .needed a')")
        assert "13 of 13 things that every answer needs" in shown.inner_text("#answer")
        assert not shown.evaluate("document.querySelector('#form .bad')")  # nothing is wrong before anything was said
        fill(shown, {key: TYPED[key] for key in FIRST if key in TYPED})
        fill(shown, link)
        until(shown, f"{WORD} === 'INCOMPLETE'")
        seen, counts = [], [len(shown.evaluate(LEADS))]
        while leads := [one for one in shown.evaluate(LEADS) if one not in seen]:
            seen.append(leads[0])
            described(shown, leads[0])
            counts.append(shown.evaluate("document.querySelectorAll('#missing + ol li').length"))
        assert counts[0] > 12 and counts[-1] == 0  # the list leads all the way and gets shorter
        # what is over then says why: the steel is unknown, so the lowest grade is taken
        assert "steel unknown" in shown.inner_text("#why")
        fill(shown, of_part("box"))
        until(shown, f"{WORD} === 'WITHIN'")
        shown.fill("#copy-name", "mine")
        shown.click("#save-copy")
        shown.locator("#save").wait_for(timeout=60_000.0)  # loaded anew, over a file now
    saved = tomllib.loads((tmp_path / "mine.toml").read_text(encoding="utf-8"))
    assert saved["title"] == TYPED["title"] and len(saved["haul"]["tie_down"]) == len(ROWS["haul.tie_down"])

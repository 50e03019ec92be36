"""The card on paper and on a phone, measured in a real browser: every shipped case, the longest names, drawn rigs.

A few drawn rigs stand here; `python -m tests.bench.papers` draws fifty.
"""

import tomllib
from functools import cache
from pathlib import Path
from random import Random

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case
from rigcheck.case.rig import Rig
from rigcheck.output.card.data import card_data
from rigcheck.output.card.page import card_html
from rigcheck.output.check.result import Source, result
from rigcheck.output.fold.view import fold_result
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.fold.study import fold_of
from tests.output.paper_reader import measured, on_a_phone, on_paper, paper_tab, sheets
from tests.support.extreme_rigs import extreme_case
from tests.support.whole_rig import starter_text

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
DRAWN = 3
ARM = 14.0  # pt, read at the length of an arm
LISTS, SIZES = 14.0, 9.0  # pt
MARGINS = (20.0, 20.0)  # mm of the card: 10 on every side
LONG = ("a name that goes on and on, Wäschbrücke am oberen Ende, number 12, with all that is on it, " * 2)[:170]


def longest_names():
    """Six tie-downs, two hoists, and every name as long as somebody may write it."""
    data = tomllib.loads(starter_text(title=f"Larkspur Bar {LONG}", sheet="3/16 in"))
    data |= {"revision": f"A {LONG}", "by": LONG}
    links = data["line"]["link"]
    hoist = next(one for one in links if one["kind"] == "lever hoist")
    links.insert(links.index(hoist), {**hoist})
    for i, link in enumerate(links):
        link["name"] = f"{i} {LONG}"
    straps = data["haul"]["tie_down"]
    data["haul"]["tie_down"] = [{**straps[i % len(straps)], "name": f"strap {i} {LONG}"} for i in range(6)]
    return check_case(data)


def card_page(case, *, system="us"):
    rig = Rig(case)
    found = assess(rig)
    source = Source(file=f"{case.title[:90]}.toml", sha256="4d" * 32)
    told = result(found, source=source, system=system)
    fold = None if case.fold.to is None else fold_result(fold_of(found), system=system, whole=False)
    return card_html(card_data(found, result=told, bed=bed_mark(rig, found=found), fold=fold, system=system))


def drawn_case(seed):
    return check_case(extreme_case(Random(f"card {seed}")))


@cache
def pages():
    found = {f"{path.stem} us": card_page(read_case(path)) for path in CASES}
    found |= {f"{path.stem} si": card_page(read_case(path), system="si") for path in CASES[::5]}
    found |= {f"long {system}": card_page(longest_names(), system=system) for system in ("us", "si")}
    return found | {f"drawn {seed}": card_page(drawn_case(seed)) for seed in range(DRAWN)}


def wrong_on_paper(tab, html):
    """What is not as it must be when a card is printed; empty where all is."""
    found = []
    parts = {".wall": ARM, ".lists": LISTS, ".sizes": SIZES}
    here = [part for part in parts if f'class="{part[1:]}"' in html]
    for paper in ("letter", "A4"):
        _, height = on_paper(tab, html, paper=paper, margins=MARGINS)
        for part in here:
            seen = measured(tab, part)
            if seen["type"] < parts[part] - 1e-3:
                found.append((paper, part, "type", seen["type"], seen["small"]))
            if seen["height"] > height:
                found.append((paper, part, "height", seen["height"], height))
            found += [(paper, part, "sticks out", text) for text in seen["out"]]
        count = sheets(tab, html, paper=paper)
        if count != len(here):
            found.append((paper, "sheets", count, len(here)))
    return found


def wrong_on_a_phone(tab, html):
    on_a_phone(tab, html)
    wide = tab.evaluate("document.documentElement.scrollWidth")
    small = min(measured(tab, part)["type"] for part in (".wall", ".sizes"))
    return [] if wide <= 390 and small >= SIZES else [(wide, small)]


@pytest.fixture(scope="module")
def tab():
    with paper_tab() as page:
        yield page


def test_a_card_is_one_sheet_of_large_type_with_its_lists_behind(tab):
    found = {name: wrong for name, html in pages().items() if (wrong := wrong_on_paper(tab, html))}
    assert found == {}


def test_a_card_fits_a_phone(tab):
    found = {name: wrong for name, html in pages().items() if (wrong := wrong_on_a_phone(tab, html))}
    assert found == {}


def test_the_measure_sees_small_type_and_what_sticks_out(tab):
    html = card_page(drawn_case(0))
    small = html.replace("</h1>", '</h1><p style="font-size:13.9pt">small</p>', 1)
    wide = html.replace("</h1>", '</h1><p style="white-space:nowrap">' + "wide " * 60 + "</p>", 1)
    tall = html.replace("</h1>", '</h1><div style="height:20in"></div>', 1)
    assert {one[2] for one in wrong_on_paper(tab, small)} == {"type"}
    assert "sticks out" in {one[2] for one in wrong_on_paper(tab, wide)}
    assert {"height"} <= {one[2] for one in wrong_on_paper(tab, tall)}


@pytest.mark.parametrize("width", [390, 1280])
def test_no_finding_of_axe_on_a_card(tab, width):
    from axe_core_python.sync_playwright import Axe

    tab.emulate_media(media="screen")
    tab.set_viewport_size({"width": width, "height": 900})
    for name in ("larkspur-bar us", "kestrel-bench us", "long us"):
        tab.set_content(pages()[name])
        assert [(one["id"], one["nodes"][0]["html"]) for one in Axe().run(tab)["violations"]] == []

"""The packet on paper and on a phone: page 1 on one sheet, the body on 15, for every shipped case and drawn rigs.

What fixes a rig is a search of seconds and is tested by itself; its place on page 1 is taken here by the longest
sentences that it may have.
"""

import re
from functools import cache
from pathlib import Path
from random import Random

import pytest

from rigcheck.case import read_case_text
from rigcheck.output.check.result import Source
from rigcheck.output.report import packet as packets
from rigcheck.output.report.page import report_html
from tests.output.paper_reader import on_a_phone, paper_tab, sheets
from tests.output.test_labels import collisions
from tests.parts.test_ears import EARS
from tests.support.whole_rig import starter_text

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
DRAWN = 3
BODY = 15  # pages
FIX = {
    "changes": ["make the lug at the perch end 5/8 in plate with a foot of 4 1/2 in", "weld it 3/8 in on both faces"],
    "cures": True, "counted": "check", "effort": 1.0, "utilization": 0.99, "highest_utilization": 0.99, "stops": [],
    "part": "head cross-member end weld", "mode": "force per inch, worst direction", "state": "line_broken",
}  # fmt: skip


def drawn_text(seed):
    draw = Random(f"packet {seed}")
    return starter_text(
        title=f"Drawn by lot, number {seed}, with a name of some length as a shop may give it to a rig",
        length=f"{draw.randint(72, 170)} in",
        width=f"{draw.randint(18, 44)} in",
        side_height=f"{draw.randint(5, 12)} in",
        pitch=f"{draw.randint(8, 24) / 8} in/ft",
        sheet=draw.choice(("14 ga", "12 ga", "10 ga", "3/16 in")),
    )


def texts():
    found = {path.stem: path.read_text(encoding="utf-8") for path in CASES}
    return found | {"ears": EARS} | {f"drawn {seed}": drawn_text(seed) for seed in range(DRAWN)}


@cache
def page_of(name):
    text = texts()[name]
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(packets, "remedies", lambda *_, **__: [])
        source = Source(file=f"{name}.toml", sha256="3e" * 32)
        found = packets.packet(read_case_text(text), source=source, text=text, curves=False, working=False)
    if found["fixes"] is not None:
        found["fixes"] = [FIX, FIX, FIX]
    return report_html(found)


def up_to(page, end):
    """The packet up to some part of it."""
    return page[: page.index(end)] + page[page.index("</main>") :]


@pytest.fixture(scope="module")
def tab():
    with paper_tab() as page:
        yield page


@pytest.mark.parametrize("name", texts())
def test_page_1_is_one_sheet_and_the_body_15_at_most_and_no_chart_has_words_on_words(tab, name):
    html = page_of(name)
    charts = [svg for svg in re.findall(r"<svg.*?</svg>", html, re.S) if 'class="chart"' in svg]
    assert len(charts) >= 2 and [hits for svg in charts if (hits := collisions(svg))] == []
    for paper in ("letter", "A4"):
        assert sheets(tab, up_to(html, "<nav aria-label"), paper=paper) == 1
        assert sheets(tab, up_to(html, '<section id="checks"'), paper=paper) <= 1 + BODY


@pytest.mark.parametrize("name", ["larkspur-bar", "tollgate-riffle", "ears"])
def test_a_phone_shows_all_of_it_without_a_sideways_scroll(tab, name):
    on_a_phone(tab, page_of(name))
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize("width", [390, 1280])
def test_no_finding_of_axe_on_a_packet(tab, width):
    from axe_core_python.sync_playwright import Axe

    tab.emulate_media(media="screen")
    tab.set_viewport_size({"width": width, "height": 900})
    tab.set_content(page_of("tollgate-riffle"))
    assert [(one["id"], one["nodes"][0]["html"][:200]) for one in Axe().run(tab)["violations"]] == []

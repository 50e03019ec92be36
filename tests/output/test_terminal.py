"""The screen of a check: verdict first, cautions last, every part and finding in between, in plain letters."""

import json
import re
import tomllib

import pytest

from rigcheck.output.check.screen import check_screen
from rigcheck.output.screen import Look
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.words import percent
from tests.output.conftest import TITLE, assessed
from tests.support.whole_rig import starter_text

FOLDED = tomllib.loads(starter_text())["fold"]["to"]  # at which nothing of the starter is over

HEADINGS = (
    "Every part and mode at its worst", "If one line breaks (against strength)",
    "Static loads, the worst of each state",
    "Rail, the worst of each state", "Water", "Weight of the empty box", "Findings", "Assumptions", "Cautions",
)  # fmt: skip


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("which", ["us", "si", "dead", "pull_only"])
def test_fits_its_width(which, width, request):
    screen = check_screen(request.getfixturevalue(which), look=Look(width=width))
    assert max(map(len, screen.splitlines())) <= width


def test_verdict_first_cautions_last(us):
    screen = flat(check_screen(us))
    places = [screen.index(us["verdict"].upper() + ":"), *(screen.index(heading) for heading in HEADINGS)]
    assert places == sorted(places)
    assert screen.endswith(flat(" - ".join(["", *CAUTIONS])).strip())
    assert screen.startswith(TITLE)


def test_every_part_mode_and_verdict_is_told(us):
    screen = flat(check_screen(us, look=Look(width=400), whole=True))
    for row in us["checks"]:
        part = f"{row['part']}: {row['mode']}".replace(" (strength)", "")
        assert part in screen.replace(" (strength)", "")
        assert percent(row["utilization"]) in screen


def test_every_part_is_told_without_asking_for_all(us):
    screen = flat(check_screen(us, look=Look(width=400)))
    for row in us["checks"]:
        assert row["part"] in screen
    assert "--all prints them" in screen


def test_verdict_words_do_without_color(us):
    lines = check_screen(us, look=Look(width=200)).splitlines()
    for row in us["checks"]:
        if row["utilization"] > 0.5 and row["capacity_basis"] == "working":
            word = "OVER" if row["verdict"] == "over" else row["verdict"]
            start = re.compile(rf"^ *{re.escape(percent(row['utilization']))}  {word} +{re.escape(row['part'])}: ")
            assert any(start.match(line) for line in lines)


def test_only_the_title_is_not_ascii(us):
    assert check_screen(us).replace(TITLE, "").isascii()


def test_markup_in_a_title_is_only_text(us):
    assert "[red]Bar[/red]" in check_screen(us, look=Look(color=True))


def test_reads_nothing_but_the_result(us):
    assert check_screen(json.loads(json.dumps(us))) == check_screen(us)


def test_color_changes_nothing_but_color(us):
    plain, colored = check_screen(us), check_screen(us, look=Look(color=True))
    assert "\x1b[" not in plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", colored) == plain


def test_stops_are_marked_and_come_first(dead):
    screen = check_screen(dead)
    assert (
        screen.index("OVER: a line passes through the hinge pin") < screen.index("STOPS:") < screen.index("Every part")
    )
    assert "STOPS:" not in screen[screen.index("\nFindings\n") :]


def test_not_assessed_is_told_beside_the_verdict():
    from rigcheck.output.check.result import result

    found = result(assessed(hinge={"pin_retained": False}, fold={"to": FOLDED}))
    assert not found["complete"]
    screen = flat(check_screen(found))
    assert f"{len(found['not_assessed'])} parts of the load path not assessed" in screen
    assert found["headline"].startswith("INCOMPLETE: ")
    assert all(f"- {part}" in screen for part in found["not_assessed"])


@pytest.mark.parametrize("which", ["us", "si", "dead", "pull_only"])
def test_nothing_is_ever_called_safe(which, request):
    found = request.getfixturevalue(which)
    text = (check_screen(found) + json.dumps(found)).casefold()
    assert not re.search(r"\bsafe\b|\bunsafe\b|\bapproved\b|\bcertified\b", text)


def test_every_default_taken_is_told_with_its_source(us):
    screen = flat(check_screen(us, look=Look(width=300)))
    for one in us["assumptions"]:
        key = re.sub(r"\[\d+\]", r"[", one["key"])
        assert key.partition("[")[0] in screen
        assert one["source"] in screen
    assert "line.link[1,2,3,4].count = 1" in screen

"""The shop card says the limits in shop words, rounded to the careful side, and an over rig never looks usable."""

import json
import re
import tomllib
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.output.bed_words import bed_plain
from rigcheck.output.card.data import card_data
from rigcheck.output.card.page import card_html
from rigcheck.output.card.screen import card_screen
from rigcheck.output.card.words import RECHECKS
from rigcheck.output.check.extras import extras
from rigcheck.output.check.result import Source, result
from rigcheck.output.fold.view import fold_result
from rigcheck.output.hardware.view import hardware_result, hardware_screen
from rigcheck.output.haul.view import haul_result
from rigcheck.output.hoist_words import hoist_sentence
from rigcheck.output.report.packet import packet
from rigcheck.output.report.page import report_html
from rigcheck.output.screen import Look
from rigcheck.studies.bed_mark.study import BedMark, bed_mark
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.hardware.road import strap_needs
from rigcheck.studies.hardware.study import hardware
from rigcheck.studies.haul.study import haul
from rigcheck.studies.hoist_window.study import hoist_windows
from rigcheck.tables.rope import clip_count
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.scale import Scale
from tests.output.old_words import old_words
from tests.output.report_reader import CHROMIUM, NASTY, browse, read
from tests.support.whole_rig import starter_text

CASES = Path(__file__).parents[2] / "cases"
HOLDS, OVER = CASES / "larkspur-bar.toml", CASES / "kestrel-bench.toml"


def mark_of(depth):
    beyond = ("", "") if depth == 7.0 else ("rail, stress", "cleanout")
    return BedMark(depth=depth, side_height=7.0, limit=beyond[0], state=beyond[1], running=4.25)


MARK = mark_of(3.375)


def card_of(rig, *, system="us", mark=None):
    found = assess(rig)
    told = result(found, source=Source("rig.toml", "ab" * 32), system=system)
    fold = None if rig.case.fold.to is None else fold_result(fold_of(found), system=system, whole=False)
    return card_data(found, result=told, bed=mark or bed_mark(rig), fold=fold, system=system)


@pytest.fixture(scope="module")
def card():
    return card_of(Rig(check_case(tomllib.loads(starter_text()))))


@pytest.fixture(scope="module")
def sound():
    """A rig described in full with nothing over: its floor is thicker than that of the whole rig."""
    return Rig(check_case(tomllib.loads(starter_text(sheet="3/16 in"))))


@pytest.fixture(scope="module")
def sound_card(sound):
    return card_of(sound, mark=MARK)


def squeezed(text):
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("mark", "system", "said"),
    [
        (MARK, "us", "stop feeding at 3 3/8 in of bed."),
        (MARK, "si", "stop feeding at 85.7 mm of bed."),
        (mark_of(0.125), "us", "at 1/8 in of bed"),
        (mark_of(4.0), "us", "at 4 in of bed"),
        (mark_of(0.0), "us", "at 0 in of bed"),
        (mark_of(7.0), "us", "7 in of bed: the top"),
        (mark_of(None), "us", "No bed mark: something is over without any bed (rail, stress, clean-out)"),
    ],
)
def test_bed_mark_in_shop_words_is_never_deeper_than_it_is(mark, system, said):
    assert said in bed_plain(mark, scale=Scale(system))["text"]


def test_card_is_json_and_both_views_read_only_it(card):
    again = json.loads(json.dumps(card, allow_nan=False))
    assert card_html(again) == card_html(card) and card_screen(again) == card_screen(card)


def test_no_old_word_stands_on_the_card(card):
    over = card_of(Rig(read_case(OVER)), mark=mark_of(None))
    assert [one for data in (card, over) for one in old_words(read(card_html(data)).visible)] == []


def test_rig_that_holds_shows_its_limits(card):
    told = squeezed(card_screen(card, look=Look(width=100)))
    assert card["bed"]["text"] in told and "Running alone, no mark for the shop: " in told
    assert "Keep out: 13 ft all round" in told  # 9 ft 4 in and three feet: 12.33 ft
    assert "9 ft 4 in, as built" in told and "8 ft 1/4 in above the hinge axis, 2 ft 9 1/2 in upstream of it" in told
    assert re.search(r"left strap: marked [\d,.]+ lb or more\.", told) and "Ratchet up 84 deg" in told
    assert "hole center to edge 1 1/2 in" in told and "base weld leg 5/16 in" in told
    assert told.endswith(CAUTIONS[-1])


def test_rig_that_is_over_does_not_look_usable():
    card = card_of(Rig(read_case(OVER)))
    assert card["verdict"] == "over" and card["bed"] is None
    assert card["hang"].startswith("What is over stands below")
    assert any(line.startswith("perch post base weld: ") for line in card["over"])
    for told in (card_screen(card), read(card_html(card)).visible):
        text = squeezed(told).lower()
        assert "do not hang this box as it is described" in text and card["over"][0].lower() in text
        assert not [word for word in ("stop feeding", "least ratings", "no less than", "ratchet", "tie-downs:")
                    if word in text]  # fmt: skip
    assert '<div class="big stop"><p>DO NOT HANG</p>' in card_html(card)
    assert [name for name, *_ in card["points"]] == ["Keep out", "Nobody"]


def test_incomplete_rig_says_so_first_and_what_is_missing():
    data = tomllib.loads(starter_text())
    data["perch"].pop("post")
    found = card_of(Rig(check_case(data)), mark=MARK)
    assert found["verdict"] == "incomplete" and found["first"] == "DO NOT HANG" and "INCOMPLETE" in found["below"]
    assert found["hang"].startswith("What is not assessed stands below")
    for told in (card_screen(found), read(card_html(found)).visible):
        text = squeezed(told)
        assert "perch post base weld" in text[text.index("NOT assessed") : text.index("The box as built")]
        assert "DO NOT HANG this box before it is described: INCOMPLETE, " in text


def test_a_box_that_hangs_is_worked_beside_but_never_under(sound_card):
    """Away from it while it moves on its lines, never under it; to stand beside a running box is not forbidden."""
    far = sound_card["keep_out"]
    assert far["reach"] == pytest.approx(112.0 + 36.0) and far["words"] == "13 ft"
    assert "folded or let down" in far["while"] and "running" not in far["while"] and "feed" not in far["while"]
    assert "at any time it hangs" in far["under"]
    assert len(sound_card["never"]) == 6 and all(one.startswith("Never ") for one in sound_card["never"])
    assert card_of(Rig(read_case(OVER)), system="si")["keep_out"]["words"] == "3.5 m"  # 8 ft 5 in: 101 + 36 = 137 in


def test_a_snub_line_is_told_what_it_must_hold():
    """Where the lines of Larkspur Bar are slack: what its check holds against the mark, rounded up to ten pounds."""
    rig = Rig(read_case(HOLDS))
    row = next(one for one in result(assess(rig))["checks"] if one["part"] == "snub line")
    told = {name: figure for name, figure, _ in card_of(rig, mark=MARK)["points"]}["Snub line"]
    shown = float(re.search(r"([\d,]+) lb or more", told)[1].replace(",", ""))
    assert row["demand"] <= shown < row["demand"] + 10.0


def test_pulls_of_the_fold_are_told_and_rounded_up(sound, sound_card):
    """One line alone carries what both do together."""
    largest = float(fold_of(assess(sound)).largest)
    line = next(line for line in sound_card["folding"] if line.startswith("Pull on each line"))
    shown = [float(one.replace(",", "")) for one in re.findall(r"up to ([\d,.]+) lb", line)]
    for told, pull in zip(shown, (largest, 2.0 * largest), strict=True):
        assert pull <= told < pull * (1.0 + 1e-2) and told > pull * (1.0 + 1e-6)  # not by luck a whole number


def test_tags_are_what_the_checks_ask_for_and_no_less(sound, sound_card):
    rows = json.loads(json.dumps(sound_card["tags"]))
    found = result(assess(sound))
    assert len(rows) == 4
    for one in rows:
        row = next(row for row in found["checks"] if row["part"] == one["link"] and row["mode"] == "working load limit")
        assert one["least"] >= row["demand"] * (1.0 - 1e-12)
        if one["most"] is None and " lb or more" in one["text"]:
            shown = float(re.search(r"([\d,]+) lb or more", one["text"])[1].replace(",", ""))
            assert one["least"] <= shown < one["least"] + 10.0 + 1.0


def test_a_hoist_is_told_its_window_and_every_page_says_the_same(sound, sound_card):
    rig, card = sound, sound_card
    (window,) = hoist_windows(assess(rig))
    told = f"{window.least:,.0f} lb, not over {window.most:,.0f} lb"
    tag = next(one for one in card["tags"] if one["most"] is not None)
    assert tag["text"].endswith(told) and (tag["least"], tag["most"]) == (window.least, window.most)
    found = hardware_result(hardware(rig), case=rig.case)
    choice = next(one for one in found["choices"] if one["part"] == window.part)
    assert (choice["needs_rating"], choice["most_rating"]) == (window.least, window.most)
    assert told in squeezed(hardware_screen(found, look=Look(width=400)))
    answer = assess(rig)
    (one,) = result(answer, extras=extras(answer))["hoists"]
    assert (one["least"], one["most"]) == (window.least, window.most) and told in hoist_sentence(one, unit="lb")
    assert told in read(report_html(packet(rig.case, source=None, text="", curves=False, working=False))).visible


def test_each_strap_is_told_what_pulls_it_on_the_road(sound, sound_card):
    straps = haul_result(haul(sound))["tie_downs"]
    assert max(one["pull"] for one in straps) > 100.0
    for one in straps:
        line = next(line for line in sound_card["road"] if line.startswith(f"{one['name']}:"))
        if one["pull"] > 1.0:
            assert float(re.search(r"marked ([\d,.]+) lb", line)[1].replace(",", "")) >= one["pull"] * (1.0 - 1e-12)


def test_each_strap_is_told_its_own_pull_and_no_other():
    rig = Rig(read_case(HOLDS))
    shown, road = card_of(rig, mark=MARK)["road"], assess(rig).solution.road
    needs = [strap_needs(road, index=i)[0] for i in range(road.strap.shape[-1])]
    told = [re.search(r"marked ([\d,.]+) lb", line) for line in shown[: len(needs)]]
    marks = [0.0 if one is None else float(one[1].replace(",", "")) for one in told]
    assert max(needs) > 1.2 * min(needs)  # else one would do for the other
    for mark, need in zip(marks, needs, strict=True):
        assert need <= mark <= 1.01 * need + 1.0 or (mark == 0.0 and need < 2.0)


def test_the_highest_pull_is_the_largest_of_all_states(sound, sound_card):
    told = result(assess(sound), source=Source("rig.toml", "ab" * 32), system="us")
    pulls = [float(one["line"]["force"]) for one in told["worst_loads"] if one["line"]]
    shown = dict(sound_card["box"])["Highest pull of a line"]
    assert max(pulls) > 1.5 * min(pulls)
    assert max(pulls) <= float(re.match(r"[\d,.]+", shown)[0].replace(",", "")) <= 1.01 * max(pulls) + 1.0


def test_a_card_of_a_rig_that_is_over_gives_no_list_to_work_by():
    shown = card_of(Rig(read_case(OVER)))
    assert shown["verdict"] == "over"
    assert not any(shown[key] for key in ("tags", "steel", "folding", "road", "stop", "before_hang", "before_haul"))


def test_whether_a_plant_that_nobody_described_tips_is_said_before_hanging(sound_card):
    assert any("whether it tips" in line for line in sound_card["before_hang"])


def test_rope_with_clips_is_told_by_its_breaking_force_and_its_clips():
    data = tomllib.loads(starter_text())
    data["fold"].pop("to", None)
    rope = {"kind": "wire rope", "table": "rope_6x19_fc_ips", "diameter": "5/8 in", "length": "14 in"}
    data["line"]["link"].append({**rope, "termination": "clips", "clips": 3, "bend_diameter": "2 1/2 in"})
    card = card_of(Rig(check_case(data)), mark=MARK)
    rope = card["tags"][-1]
    assert rope["text"].startswith("breaking force")
    assert f"{clip_count(0.625).forged} forged clips at each eye" in rope["more"]
    checks = result(assess(Rig(check_case(data))))["checks"]
    row = next(one for one in checks if one["part"] == rope["link"])
    worn = 1.0 - float(Rig(check_case(data)).number("line.wear"))
    assert rope["least"] == pytest.approx(row["demand"] * 5.0 / worn)  # the design factor of rope is 5
    assert card["folding"] == ["Folding is not described: do not fold this box on its lines."]


def test_what_is_not_described_is_said():
    data = tomllib.loads(starter_text())
    data["perch"].pop("post", None)
    data["hanger"].pop("lug", None)
    data["haul"] = {}
    card = card_of(Rig(check_case(data)), mark=MARK)
    told = dict(card["steel"])
    assert told["Perch posts"] == told["Hanger lugs"] == "NOT described"
    assert card["not_assessed"] and card["road"][0].startswith("No tie-down is described")


def test_dates_are_left_blank_and_no_word_judges(card):
    seen = read(card_html(card))
    assert seen.unclosed == []
    assert not set(re.findall(r"[a-z]+", seen.visible.lower())) & {"safe", "safely", "approved", "certified"}
    table = card_html(card)[card_html(card).index("Checked again on") :]
    cells = re.findall(r"<td[^>]*>(.*?)</td>", table.partition("</table>")[0])
    assert len(cells) == 2 * RECHECKS and set(cells) == {""}
    lines = [line for line in card_screen(card).splitlines() if line.startswith("___")]
    assert len(lines) == RECHECKS


def test_nasty_texts_come_out_as_text():
    data = tomllib.loads(starter_text())
    data["title"] = NASTY
    data["line"]["link"][0]["name"] = "<img src=x>"
    page = card_html(card_of(Rig(check_case(data)), mark=MARK))
    assert "<script" not in page and "<img" not in page
    assert NASTY in read(page).texts["h1"]


@pytest.mark.parametrize("width", [60, 80, 120])
def test_screen_keeps_its_width_and_is_plain(card, width):
    text = card_screen(card, look=Look(width=width))
    assert max(map(len, text.splitlines())) <= width
    assert text.isascii()


def test_command_prints_or_writes(tmp_path, capsys):
    assert main(["card", str(HOLDS)]) in (0, 1, 3)
    out, err = capsys.readouterr()
    assert out.startswith("SHOP CARD: Larkspur Bar") and err == ""
    assert "Nothing that was checked is over." in squeezed(out)
    target = tmp_path / "card.html"
    assert main(["card", str(OVER), "-o", str(target)]) == 1
    assert capsys.readouterr().out == "" and target.read_text(encoding="utf-8").endswith("</html>\n")
    assert main(["card", str(OVER), "-o", str(target)]) == 2
    assert "--force" in capsys.readouterr().err
    assert main(["card", str(OVER), "--json", "--units", "si"]) == 1
    assert json.loads(capsys.readouterr().out)["units"]["length"] == "mm"


@pytest.mark.skipif(not CHROMIUM, reason="no chromium here to render the page with")
def test_a_real_browser_shows_the_card_without_overflow(card, tmp_path):
    found = json.loads(browse(card_html(card), folder=tmp_path, width=390))
    assert found["page"] <= 390 and found["over"] == 0
    assert "DO NOT HANG" in squeezed(found["verdict"]) and "INCOMPLETE" in squeezed(found["verdict"])
    assert len(found["figures"]) == 1


def test_a_rig_that_nothing_holds_has_a_card_that_says_so():
    data = tomllib.loads(starter_text())
    data["perch"] |= {"downstream": "110 in", "height": "-4 in"}
    card = card_of(Rig(check_case(data)))
    assert card["first"].startswith("DO NOT HANG") and card["verdict"] == "over"
    json.dumps(card, allow_nan=False)

"""What the packet holds for the one who stamps it: loads by piece, moments at post bases, findings by state, marks."""

import json
import re
import tomllib
from functools import cache
from math import ceil
from pathlib import Path

import numpy as np
import pytest
from jsonschema import Draft202012Validator

from rigcheck.analysis.links.capacity import perch_share
from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import Source, result
from rigcheck.output.html_page import running
from rigcheck.output.report.packet import packet
from rigcheck.output.report.page import report_html
from rigcheck.output.report.tables import place
from rigcheck.output.schemas import command_schema
from rigcheck.tables.load_cases import load_case
from rigcheck.wording.words import state_word
from tests.calculation.working_rigs import changed
from tests.output.old_words import old_words
from tests.output.report_reader import NASTY, read
from tests.output.test_labels import collisions

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
FOUR = ("larkspur-bar", "cinder-fork", "tollgate-riffle", "lower-hatch")


@cache
def made(name):
    path = next(path for path in CASES if path.stem == name)
    source = Source(file=path.name, sha256="3e" * 32)
    text = path.read_text(encoding="utf-8")
    return packet(read_case(path), source=source, text=text, curves=False, working=name == "lower-hatch")


@cache
def told(name):
    return " ".join(read(report_html(made(name))).visible.split())


@pytest.mark.parametrize("name", ["larkspur-bar", "lower-hatch"])
def test_the_packet_is_of_its_schema(name):
    wrong = Draft202012Validator(command_schema("report")).iter_errors(json.loads(json.dumps(made(name))))
    assert [f"{one.json_path}: {one.message[:200]}" for one in wrong] == []
    assert not Draft202012Validator(command_schema("report")).is_valid({**made(name), "limits": "none"})


@pytest.mark.parametrize("name", FOUR)
def test_no_old_word_stands_in_the_report(name):
    assert old_words(told(name)) == []


@pytest.mark.parametrize("name", FOUR)
def test_loads_by_piece_add_up_to_the_weight_of_their_state(name):
    found = made(name)
    for state in found["contents"]:
        alike = [
            row["weight"]
            for row in found["result"]["states"]
            if (row["state"], row["variant"]) == (state["state"], state["variant"])
        ]
        if alike:  # of the fold sweep only some angles are told
            assert sum(one["weight"] for one in state["pieces"]) == pytest.approx(alike[0], rel=1e-9)
    packed = next(one for one in found["contents"] if one["state"] == "packed")
    gravel = next(one for one in packed["pieces"] if one["name"] == "packed gravel")
    assert gravel["factor"] == 1.33 and "packed gravel" in told(name)


@pytest.mark.parametrize("name", FOUR)
def test_moment_at_a_post_base_is_that_of_the_pull_at_its_lug(name):
    path = next(path for path in CASES if path.stem == name)
    rig = Rig(read_case(path))
    loads = made(name)["result"]["plant_loads"]
    height, reach = float(rig.number("perch.post.free_length")), []
    for one in loads:
        for side in ("left", "right"):
            lug, base = one["with_factor"]["perch"][side], one["posts"]["force"][side]
            assert base == pytest.approx(lug)
            moment = one["posts"]["moment"][side]
            assert moment["x"] == pytest.approx(-height * lug["y"], abs=1e-6)
            if abs(lug["z"]) > 1.0:
                reach.append((height * lug["x"] - moment["y"]) / lug["z"])  # arm of the lug's hole off the post axis
    assert np.ptp(reach) == pytest.approx(0.0, abs=1e-9) and reach[0] > 0.0
    assert "Post bases, where the moment is largest in each state" in told(name)


def test_a_perch_under_several_parts_of_line_takes_all_of_them_and_the_lead():
    assessment = changed("two parts of line")
    share = perch_share(assessment.solution.rig)
    assert share > 1.2
    for one in result(assessment)["plant_loads"]:
        if one["posts"] is None:
            continue
        for side in ("left", "right"):
            assert one["with_factor"]["perch"][side] == pytest.approx(one["posts"]["force"][side])


@pytest.mark.parametrize("name", FOUR)
def test_findings_are_told_once_with_all_their_states(name):
    found = made(name)["result"]["findings"]
    for text in {one["text"] for one in found}:
        states = [one["state"] for one in found if one["text"] == text]
        words = ", ".join(dict.fromkeys(state_word(one) if one else "any state" for one in states))
        assert f"{text} ({words})" in told(name)


def test_breaking_set_of_the_road_is_not_told_as_a_parted_line():
    page = report_html(made("larkspur-bar"))
    blocks = re.findall(r"<caption>(.*?)</caption>.*?<tbody>(.*?)</tbody>", page, re.S)
    road = next(body for caption, body in blocks if caption.startswith("On the road, the set checked against breaking"))
    lost = next(body for caption, body in blocks if caption.startswith("If one line breaks"))
    assert "on the road" in road and "line broken" not in road
    assert "line broken" in lost and "on the road" not in lost
    rows = [row for row in made("larkspur-bar")["result"]["checks"] if row["capacity_basis"] != "working"]
    assert road.count("<tr") + lost.count("<tr") <= len(rows)


def test_every_source_of_a_shipped_case_has_a_mark():
    for name in FOUR:
        assert [one["source"] for one in made(name)["sources"] if not one["known"]] == []
    assert "NO MARK" not in told("larkspur-bar")
    marks = {one["source"]: one["known"] for one in made("larkspur-bar")["sources"]}
    assert marks["mark on the part, case file"] == "case file"
    assert marks["AISC Shapes Database V16.0"] in ("source checked", "source not checked")


def test_what_is_over_or_tight_and_not_worked_is_listed():
    found = made("lower-hatch")
    done = {one["title"] for one in found["working"]["sections"] if one["steps"]}
    urgent = [row for row in found["result"]["checks"] if row["verdict"] in ("over", "tight")]
    left = [f"{row['part']}: {row['mode']}" for row in urgent if f"{row['part']}: {row['mode']}" not in done]
    assert {f"{row['part']}: {row['mode']}" for row in urgent[:1]} <= done, "what governs is worked"
    page = told("lower-hatch")
    assert ("Over or tight, and not worked out by hand here" in page) == bool(left)
    assert all(one in page for one in left)


def test_assumptions_say_what_their_keys_mean():
    found = made("cinder-fork")
    assert "person.weight" in found["meanings"] and found["meanings"]["person.weight"] in told("cinder-fork")
    assert found["meanings"]["line.link[2].count"]
    assert '"250 lb"' not in told("cinder-fork").partition("Assumptions")[2].partition("12. Inputs as entered")[0]


def test_printed_pages_carry_title_hash_and_number_and_a_title_stays_text():
    page = report_html(made("larkspur-bar"))
    style = page[page.index("<style>") : page.index("</style>")]
    assert 'content:"Larkspur Bar, fold' in style and "sha256 " + "3e" * 6 in style
    assert 'counter(page) " of " counter(pages)' in style
    hostile = running(f'{NASTY}"}}</style><script>alert(3)</script>\\', mark='"}*{display:none}')
    inside = re.findall(r'content:"((?:[^"\\]|\\[0-9a-f]{6})*)"', hostile)
    assert len(inside) == 3 and inside[2] == "page " and "<" not in hostile and hostile.count('"') == 8
    back = re.sub(r"\\([0-9a-f]{6})", lambda code: chr(int(code[1], 16)), inside[0])
    assert back == f'{NASTY}"}}</style><scr...' or back.startswith(NASTY[:40])


def test_bed_mark_is_told_with_the_depth_of_the_running_box_so_labeled():
    for name, begins in (("cinder-fork", "No bed mark: "), ("larkspur-bar", "Bed mark, all states: ")):
        mark = made(name)["result"]["bed_mark"]
        assert mark["text"].startswith(begins) and mark["text"] in told(name)
        assert mark["running_text"] in told(name) and (mark["depth"] is None) == (mark["running_depth"] is None)


def test_straps_and_stops_are_drawn_on_the_folded_box():
    drawing = made("larkspur-bar")["drawing"]
    assert [one["name"] for one in drawing["tie_downs"]] == ["left strap", "right strap", "front strap"]
    assert drawing["stops"][0]["way"] == [1.0, 0.0]
    x, z = drawing["stops"][0]["at"]
    along, normal = drawing["folded"]["along"], drawing["folded"]["normal"]
    up = 7.0 + 1.5  # the floor lies 1 1/2 in above the pin axis
    assert (x, z) == pytest.approx(tuple(92.0 * along[i] + up * normal[i] for i in range(2)))
    assert "front strap" in told("larkspur-bar") and "stop 1" in told("larkspur-bar")


def test_a_box_that_nothing_holds_on_the_road_is_told_in_the_packet():
    case = tomllib.loads(next(path for path in CASES if path.stem == "cinder-fork").read_text(encoding="utf-8"))
    del case["haul"]
    found = packet(check_case(case), source=None, text="", curves=False, working=False)
    assert "no tie-down and no stop is described" in read(report_html(found)).visible


@pytest.mark.parametrize("name", FOUR)
def test_the_page_says_of_every_check_what_check_itself_says(name):
    """Part, mode and whole per cent, rounded up, of each row of the assessment stand together on the page."""
    path = next(path for path in CASES if path.stem == name)
    rows = json.loads(json.dumps(result(assess(Rig(read_case(path))))["checks"], allow_nan=False))
    assert len(rows) > 60
    page = told(name)
    for row in rows:
        use = "beyond" if row["utilization"] is None else f"{ceil(100.0 * row['utilization'] - 1e-9):,} %"
        place = re.escape(" ".join(f"{row['part']}: {row['mode']}".split()))
        assert re.search(rf"{place} .{{0,400}}?(?<![\d,.]){re.escape(use)}", page), (row["part"], row["mode"], use)


def test_rows_of_the_second_opinion_speak_as_the_checks_do():
    labels = [one["label"] for one in made("larkspur-bar")["confirm"]["rows"]]
    assert any(label.startswith("digging out, person ") and label.endswith("free to twist") for label in labels)
    alone = [label for label in labels if label.startswith("box snagged, one line")]
    assert any(label.endswith(", one line alone on the left") for label in alone)
    assert "under 0.0001 %" in told("larkspur-bar")


def test_charts_are_gray_and_their_axes_have_units():
    found = made("cinder-fork")
    drawn = re.findall(r"<svg.*?</svg>", report_html(found), re.S)
    charts = [svg for svg in drawn if 'class="chart"' in svg]
    assert len(drawn) == 15 and len(charts) == 3
    for svg in drawn:
        for color in re.findall(r"#([0-9a-f]{6}|[0-9a-f]{3})\b", re.sub(r"url\(#[^)]*\)|href=\"#[^\"]*\"", "", svg)):
            third = len(color) // 3
            assert color == color[:third] * 3, "a color that is not a gray"
    titles = [set(re.findall(r">([^<>]+)</text>", svg)) for svg in charts]
    assert {"Load case", "Largest pull of one line, unfactored, lb"} <= titles[2]
    assert {"Line pull, lb", "Line length, in", "Folded up from the deployed box, deg"} <= titles[1]
    assert {"Shear V, lb", "Along the floor from the hinge, in"} <= titles[0]
    assert {"Axial force N, lb, tension up", "Moment M, lb*in, sagging up", "Fall, in, down is down"} <= titles[0]
    assert [hits for svg in charts if (hits := collisions(svg))] == []


def only(page: str, *, until: str) -> str:
    """A report without what stands from a piece of its page on."""
    start = page.index(until)
    return page[:start] + page[page.index("</main>") :]


@pytest.mark.parametrize("name", FOUR)
def test_the_first_page_says_what_decides(name):
    found = made(name)
    page = report_html({**found, "made": "2031-02-03"})
    first = " ".join(read(only(page, until="<nav aria-label")).visible.split())
    result = found["result"]
    five = list(dict.fromkeys(row["part"] for row in result["checks"] if row["group"] != "envelope"))[:5]
    for words in ("2031-02-03", f"rigcheck {found['program']}", result["headline"], result["bed_mark"]["text"],
                  "AISC 360-22", "Design loads", "Not assessed", *five):  # fmt: skip
        assert " ".join(words.split()) in first
    assert ("FIXES IT" in first) == (result["verdict"] == "over")


@pytest.mark.parametrize("name", FOUR)
def test_the_body_leaves_long_lists_to_the_appendices(name):
    """Rows of the tables between the first page and the appendices; a page holds some 30 of them."""
    page = report_html(made(name))
    body = page[page.index("<nav aria-label") : page.index('<section id="checks"')]
    assert body.count("<tr") <= 200
    assert re.findall(r"<h2>(Appendix [A-Z])\.", page) == [f"Appendix {letter}" for letter in "ABCDEFGHIJK"]


@pytest.mark.parametrize("name", FOUR)
def test_free_body_of_the_governing_case_closes(name):
    found = made(name)
    body, top = found["body"], found["result"]["governing"]
    if body["governs"]:
        assert [body[key] for key in ("part", "mode", "state")] == [top[key] for key in ("part", "mode", "state")]
    weight = body["weight"]
    for axis in "xyz":
        assert body["folded"] is None
        forces = (body["unfactored"][part][side][axis] for part in ("line", "hinge") for side in ("left", "right"))
        assert body["loads"]["force"][axis] + sum(forces) == pytest.approx(0.0, abs=1e-9 * weight)
    assert body["loads"]["moment"] + body["loads"]["line_moment"] == pytest.approx(0.0, abs=1e-6 * weight)
    tension = body["unfactored"]["tension"]
    assert sum(tension.values()) * body["lever_arm"] == pytest.approx(-body["loads"]["line_moment"])


def test_wind_is_told_with_pressure_area_and_force():
    """40 mph: 0.00256 x 1600 = 4.096 lb/ft2; a floor of (28 + 2 x 0.1046) x 106 in = 20.76 ft2, C 1.2: 102.1 lb."""
    rows = made("larkspur-bar")["wind"]
    floor = next(row for row in rows if row["key"] == "wind.hung")
    assert floor["pressure"] == pytest.approx(4.096, rel=1e-3)
    assert floor["area"] == pytest.approx(20.76, rel=1e-3)
    assert floor["force"] == pytest.approx(102.1, rel=1e-3)
    for row in rows:
        assert row["force"] == pytest.approx(row["pressure"] * row["coefficient"] * row["area"], rel=1e-3)
    assert "Pressure q" in told("larkspur-bar")


def test_formulas_that_are_cited_travel_along():
    found = made("larkspur-bar")
    cited = set(re.findall(r"docs/method\.md#([a-z0-9-]+)", json.dumps({**found, "formulas": []})))
    assert cited and {one["anchor"] for one in found["formulas"]} == cited
    assert all(one["blocks"] for one in found["formulas"])


def test_a_folded_box_shares_nothing_between_lines_and_counts_have_no_side():
    for row in made("tollgate-riffle")["result"]["checks"]:
        if load_case(row["state"]).folded:
            assert not {"torsionally rigid", "free to twist"} & set(place(row, unit="in").split(", ")), row["part"]
        if row["group"] == "road":
            assert place(row, unit="in") == place({**row, "side": None}, unit="in"), row["part"]

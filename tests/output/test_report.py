"""The report holds what its packet holds, in order, escaped, without scripts or outside requests."""

import json
import re
import tomllib
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from rigcheck.analysis.rows import bound_names
from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.cli import main
from rigcheck.crosscheck.frame import FrameError
from rigcheck.crosscheck.second_opinion import Comparison, Confirmation
from rigcheck.output import charts
from rigcheck.output.check.result import Source
from rigcheck.output.panel import ticks
from rigcheck.output.report.curves import curves
from rigcheck.output.report.data import inputs, rail_diagrams, report_data, sources
from rigcheck.output.report.figures import LONG
from rigcheck.output.report.packet import packet
from rigcheck.output.report.page import APPENDICES, BODY, report_html
from rigcheck.output.report.words import NOT_THERE
from rigcheck.output.report.worked import worked
from rigcheck.studies.vary import follow as vary_follow
from rigcheck.studies.vary.batch import judge
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.marks import Mark, Sourced, marked, marks_of
from rigcheck.wording.scale import Scale
from tests.output.report_reader import CHROMIUM, NASTY, browse, read
from tests.support.whole_rig import starter_text

SHIPPED = Path(__file__).parents[2] / "cases" / "larkspur-bar.toml"
MOST = 1.5 * 1024 * 1024  # bytes, what a report may weigh
SOURCE = Source(file="<b>rig</b>.toml", sha256="5c" * 32)


def nasty_text() -> str:
    text = SHIPPED.read_text(encoding="utf-8")
    title = f"title = {json.dumps(NASTY, ensure_ascii=False)}"
    text = re.sub(r"^title = .*$", lambda _: title, text, count=1, flags=re.M)
    assert NASTY.split("&")[0] in text
    head, link, rest = text.partition("[[line.link]]\n")
    assert link
    rest = re.sub(r"^name = .*\n", "", rest, count=1, flags=re.M)
    return f'{head}{link}name = "<img src=x onerror=alert(2)> $x_1$"\n{rest}'


@pytest.fixture(scope="module")
def text():
    return nasty_text()


@pytest.fixture(scope="module")
def full(text):
    return packet(read_case_text(text), source=SOURCE, text=text)


@pytest.fixture(scope="module")
def page(full):
    return report_html(full)


@pytest.fixture(scope="module")
def seen(page):
    return read(page)


def squeezed(text: str) -> str:
    return " ".join(text.split())


def test_packet_is_json_and_the_page_is_made_from_it_alone(full, page):
    again = json.loads(json.dumps(full, allow_nan=False))
    assert report_html(again) == page


def test_tags_close_and_ids_are_single(seen):
    assert seen.unclosed == []
    ids = seen.ids()
    assert len(ids) == len(set(ids))
    links = {about["href"][1:] for tag, about in seen.tags if tag == "a"}
    assert links == {"verdict", *(name for name, *_ in (*BODY, *APPENDICES))} and links <= set(ids)


def test_sections_stand_in_the_order_of_the_list(seen):
    order = [about["id"] for tag, about in seen.tags if tag == "section"]
    assert order == [
        "verdict", "drawings", "body", "details", "governing", "loads", "weights", "fold", "haul", "plant", "findings",
        "choices", "cautions", "review", "checks", "states", "curves", "road", "working", "formulas", "assumptions",
        "inputs", "sources", "confirm", "limits",
    ]  # fmt: skip


def test_nothing_runs_and_nothing_is_fetched(page, seen):
    assert not {tag for tag, _ in seen.tags} & {"script", "img", "iframe", "link", "object", "embed", "base", "form"}
    for tag, about in seen.tags:
        for name, value in about.items():
            assert not name.startswith("on"), (tag, name)
            if name in ("href", "xlink:href", "src"):
                assert (value or "").startswith("#"), (tag, value)
    outside = re.findall(r"\S*https?://\S*", page)
    assert outside and all(one.startswith(("xmlns", "<svg")) for one in (found.split("=")[0] for found in outside))
    assert "@import" not in page and not re.search(r"url\((?!#)", page)


def test_texts_of_the_case_come_out_as_text(page, seen):
    assert NASTY in seen.texts["h1"] and NASTY in seen.texts["title"]
    assert "<script" not in page and "<img" not in page
    assert "line link 1: <img src=x onerror=alert(2)> $x_1$" in seen.visible
    assert "<b>rig</b>.toml" in seen.visible


def test_verdict_hash_and_hands_are_told(full, seen):
    told = squeezed(seen.visible)
    result = full["result"]
    assert squeezed(result["headline"]) in told
    for sentence in (*result["why"], *result["not_assessed"], *CAUTIONS):
        assert squeezed(sentence) in told
    assert "5c" * 32 in told and "Revision, entered by A, not given" in told
    assert result["bed_mark"]["text"] in told
    assert f"{len(result['defaulted'])} inputs were not given" in told


def test_every_check_and_input_and_assumption_has_its_row(full, seen):
    told = squeezed(seen.visible)
    for row in full["result"]["checks"]:
        assert squeezed(f"{row['part']}: {row['mode']}") in told
    for one in full["inputs"]:
        assert one["key"] in told and squeezed(one["entered"]) in told
    for one in full["result"]["assumptions"]:
        assert squeezed(one["source"]) in told
    assert told.count("DEFAULTED") >= 20


def test_figures_have_captions_and_words_for_those_who_do_not_see_them(page, seen):
    assert seen.count("figure") == 15 == seen.count("figcaption")
    figures = re.findall(r"<figure.*?</figure>", page, re.S)
    for one in figures:
        assert "aria-label=" in one or "aria-labelledby=" in one
        assert "See " in one.partition("<figcaption>")[2]
        assert ElementTree.fromstring(one[one.index("<svg") : one.index("</svg>") + 6]) is not None


def test_review_block_is_empty_and_no_word_judges(seen):
    words = set(re.findall(r"[a-z]+", seen.visible.lower()))
    assert not words & {"safe", "safely", "approved", "approve", "certified"}
    blank = seen.visible[seen.visible.index("For the licensed engineer who reviews") :]
    for field in ("Name", "License number", "Date", "Reviewed / not reviewed", "Remarks", "Seal"):
        assert field in blank


def test_review_fields_hold_nothing(page):
    review = page[page.index('<dl class="blank">') :].partition("</section>")[0]
    assert re.findall(r"<dd>(.*?)</dd>", review) == [""] * 7


def test_size_and_repeatability(full, page):
    assert len(page.encode("utf-8")) <= MOST
    assert report_html(full) == page


def test_si_report_speaks_si(text):
    case = read_case_text(text)
    told = read(report_html(packet(case, source=None, text=text, system="si", curves=False, working=False))).visible
    drawings = told[told.rindex("The rig, to scale") : told.rindex("Governing checks")]  # contents name them first
    assert "kN" in drawings and "mm" in drawings
    assert not re.search(r"\d (lb|in)\b", drawings)


def test_sections_without_a_study_say_so(assessment, us):
    bare = report_data(assessment, result=us, text='title = "x"')
    told = squeezed(read(report_html(bare)).visible)
    for name in ("fold", "length", "haul", "working", "confirm"):
        assert squeezed(NOT_THERE[name]) in told


def test_rail_diagram_closes_and_agrees_with_the_result(assessment, us):
    found = rail_diagrams(assessment, scale=Scale())
    moment, shear = np.array(found["moment"]), np.array(found["shear"])
    same = [row for row in us["rail"] if all(row[key] == found[key] for key in ("state", "variant", "bound", "on"))]
    row = next(row for row in same if found["side"] in (None, row["side"]))
    assert np.abs(moment).max() == pytest.approx(row["max_moment"], rel=2e-3)  # a peak may stand between two stations
    assert np.abs(shear).max() == pytest.approx(row["max_shear"])
    assert np.abs(found["axial"]).max() == pytest.approx(row["max_axial"])
    assert found["stress"] == pytest.approx(row["stress"])
    assert moment[-1] == pytest.approx(0.0, abs=1e-9 * np.abs(moment).max())
    assert moment[0] == pytest.approx(0.0, abs=1e-9)
    assert shear[[0, -1]] == pytest.approx(0.0, abs=1e-9 * np.abs(shear).max())


def test_rail_diagram_jumps_at_the_hanger_by_the_pull_of_the_line(assessment):
    solution = assessment.solution
    found = rail_diagrams(assessment, scale=Scale())
    x = np.array(found["x"])
    here = int(np.flatnonzero(np.isclose(x, found["hanger"], rtol=0.0, atol=1e-9))[0])
    row = next(
        i for i, (one, bound) in enumerate(solution.bent.pairs)
        if solution.rows[one].state == found["state"] and (dict(solution.rows[one].variant) or None) == found["variant"]
        and bound_names(False)[bound] == (found["bound"], found["on"])
    )  # fmt: skip
    side = ("left", "right").index(found["side"])
    pull_s, pull_n = (float(part[row, side]) for part in (solution.bent.forces.pull_s, solution.bent.forces.pull_n))
    above = float(solution.layout.hanger_n - solution.section.axis)
    jumps = {key: found[key][here + 1] - found[key][here] for key in ("axial", "shear", "moment")}
    assert jumps["axial"] == pytest.approx(-pull_s)
    assert jumps["shear"] == pytest.approx(pull_n)
    assert jumps["moment"] == pytest.approx(pull_s * above)


def test_shape_of_the_rail_ends_where_the_result_says(assessment):
    shape = rail_diagrams(assessment, scale=Scale())["shape"]
    x, drop = np.array(shape["x"]), np.array(shape["drop"])
    assert drop[0] == pytest.approx(0.0, abs=1e-12)
    assert drop[-1] == pytest.approx(shape["tail_deflection"])
    hanger = float(assessment.solution.layout.hanger_s)
    between = x <= hanger
    chord = np.interp(hanger, x, drop) * x / hanger
    assert np.abs(drop - chord)[between].max() == pytest.approx(shape["sag"], rel=0.02)


def test_inputs_are_told_as_entered_and_as_read():
    text = 'title = "t"\n[box]\nlength = "9 ft 4 in"\nsheet = "12 ga"\nchannels = 2\n[[line.link]]\nwll = "2 kN"'
    found = inputs(text, system="us")
    assert [(one["key"], one["entered"], one["read_as"]) for one in found] == [
        ("title", '"t"', ""),
        ("box.length", '"9 ft 4 in"', "112 in"),
        ("box.sheet", '"12 ga"', "0.1046 in"),
        ("box.channels", "2", ""),
        ("line.link[1].wll", '"2 kN"', "449.62 lb"),
    ]


def test_marks_of_sources():
    row = {"part": "pin", "clause": "A 1 (source not checked); B 2 (source checked)"}
    result = {"checks": [row, {"part": "lug", "clause": "table, number not seen"}], "take_off": [], "assumptions": []}
    signs = ("A 1 (memory); B 2 (seen)", "table, number not seen")
    marks = {marked(sign): marks_of(sign) for sign in signs}
    assert [(one["known"], one["used_for"]) for one in sources(result, marks=marks)] == [
        ("source not checked, source checked", ["pin"]),
        ("", ["lug"]),
    ]


@pytest.mark.parametrize(
    ("source", "marks"),
    [
        ("AISC 360-22 J2.4 (seen)", (Mark.CHECKED,)),
        ("(seen, memory)", (Mark.IN_PART,)),
        ("chapter K (Eq. K1-12, memory), own derivation", (Mark.NOT_CHECKED,)),
        ("statics (own derivation)", (Mark.DERIVATION,)),
        ("as seen on the part", ()),
        (Sourced("as seen on the part", mark=Mark.CASE_FILE), (Mark.CASE_FILE,)),
    ],
)
def test_a_mark_is_a_sign_in_brackets_or_goes_with_the_clause(source, marks):
    assert marks_of(source) == marks


@pytest.mark.parametrize("existing", [None, "an older report"])
def test_a_second_opinion_that_differs_leaves_no_report_and_ends_in_exit_70(monkeypatch, tmp_path, capsys, existing):
    pair = Comparison(
        name="line tension left", quantity="line tension", kind="force", factored=True, ours=1000.0, frame=1006.0,
        difference=0.006,
    )  # fmt: skip
    bad = Confirmation(state=0, bound=1, label="packed, stiff", comparisons=(pair,), imbalance=1e-7)
    monkeypatch.setattr("rigcheck.output.check.confirm.confirm_governing", lambda _: [bad])
    target = tmp_path / "r.html"
    if existing:
        target.write_text(existing, encoding="utf-8")
    assert main(["report", str(SHIPPED), "-o", str(target), "--json", "--force", "--no-working", "--no-length"]) == 70
    told = capsys.readouterr()
    assert told.out == "" and "independent frame check: line tension left in packed, stiff" in told.err
    assert target.exists() == bool(existing) and (not existing or target.read_text(encoding="utf-8") == existing)
    assert len(list(tmp_path.iterdir())) == bool(existing)


def test_a_frame_that_gives_no_answer_is_told_on_the_page(monkeypatch, text):
    def none(_):
        raise FrameError("it moves")

    monkeypatch.setattr("rigcheck.output.check.confirm.confirm_governing", none)
    found = packet(read_case_text(text), source=None, text=text, curves=False, working=False)
    assert found["confirm"]["agrees"] is None
    assert "none could be had (it moves)" in squeezed(read(report_html(found)).visible)


def test_worked_calculation_stands_in_mathml_and_long_formulas_break(full, seen, page):
    steps = [step for section in full["working"]["sections"] for step in section["steps"]]
    formulas = [one for step in steps for one in (*step["derivation"], step["equation"], step["numbers"]) if one]
    short = [one for one in formulas if len(one["text"]) <= LONG]
    assert 0 < len(short) < len(formulas)
    assert seen.count("math") >= len(short)
    assert all(one["mathml"] in page for one in short)
    told = squeezed(seen.visible)
    for one in formulas:
        if one not in short:
            assert squeezed(one["text"]) in told and one["mathml"] not in page


@pytest.mark.parametrize("measured", [False, True])
def test_curves_pass_through_the_case_itself(measured):
    data = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    if measured:
        data["measured"] = {"empty_weight": "470 lb"}
    found = assess(Rig(check_case(data)))
    highest = float(found.utilization)
    curve, moved = curves(found, scale=Scale())
    here = curve["values"].index(pytest.approx(curve["now"]))
    assert 0 < here < len(curve["values"]) - 1 and curve["values"] == sorted(curve["values"])
    at_it = max(part["utilization"][here] or 0.0 for part in curve["parts"])
    assert at_it == pytest.approx(highest, rel=0.2 if measured else 1e-12)
    assert ("weigh" in " ".join(curve["rules"])) == measured
    assert moved[0]["what"] == "as in the case" and moved[0]["utilization"] == pytest.approx(highest)
    assert len({one["what"] for one in moved}) == len(moved) == 8


def test_curves_are_those_of_each_rig_by_itself(text):
    found = assess(Rig(read_case_text(text)))
    curve, moved = curves(found, scale=Scale())
    rig = found.solution.rig
    alone = judge(varied(rig, {"bed.depth": float(rig.number("bed.depth")) + 1.0}))
    assert moved[-1]["what"] == "bed 1 in deeper"
    assert moved[-1]["utilization"] == pytest.approx(float(alone.highest()[0]))
    long = curve["values"][-1]
    by_itself = judge(vary_follow.moved(rig, key="box.length", values=np.array([long])).rig)
    uses = [part["utilization"][-1] or 0.0 for part in curve["parts"]]
    assert max(uses) == pytest.approx(float(by_itself.highest()[0]))
    assert curve["pass_at"][-1] == bool(by_itself.passes()[0])


def test_chart_ids_are_the_chart_s_own_and_names_stay_text():
    curves = {
        "x": {"title": "x, in", "values": [1.0, 2.0]},
        "y": {"title": "Use, %"},
        "lines": {"<b>$x_1$ \N{GRINNING FACE}": [50.0, None]},
        "level": 100.0,
        "now": 1.5,
    }
    svg = charts.curve_chart(curves, name="one")
    assert svg == charts.curve_chart(curves, name="one"), "the same chart twice is the same text"
    root = ElementTree.fromstring(svg)
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert ids and all(one.startswith("one-chart-") for one in ids)
    for target in re.findall(r'(?:url\(#|href="#)([^")]+)', svg):
        assert target in ids
    assert "<b>$x_1$ \N{GRINNING FACE}" in [one.text for one in root.iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize(
    ("low", "high", "spaces", "expected"),
    [
        (0.0, 10.0, 5, [0, 2, 4, 6, 8, 10]),
        (-2135.0, 90.0, 4, [-2000, -1000, 0]),
        (0.0, 1.0, 4, [0, 0.25, 0.5, 0.75, 1]),
        (75.0, 106.0, 4, [80, 90, 100]),
        (3.0, 3.0, 4, [3]),
    ],
)
def test_ticks_are_round(low, high, spaces, expected):
    assert ticks(low, high, spaces=spaces) == pytest.approx(expected)


def test_command_writes_whole_files_and_never_over_another(tmp_path, capsys):
    target = tmp_path / "report.html"
    assert main(["report", str(SHIPPED), "-o", str(target), "--no-working"]) in (0, 1, 3)
    out, err = capsys.readouterr()
    assert out == "" and err == f"{target}: written\n"
    first = target.read_text(encoding="utf-8")
    assert first.startswith("<!DOCTYPE html>") and first.endswith("</html>\n")
    target.write_text("mine", encoding="utf-8")
    assert main(["report", str(SHIPPED), "-o", str(target)]) == 2
    assert target.read_text(encoding="utf-8") == "mine" and "--force" in capsys.readouterr().err
    assert main(["report", str(SHIPPED), "-o", str(target), "--force", "--no-working"]) in (0, 1, 3)
    assert target.read_text(encoding="utf-8") == first
    assert [one.name for one in tmp_path.iterdir()] == ["report.html"]


def test_command_wants_a_file_or_json(tmp_path, capsys):
    assert main(["report", str(SHIPPED)]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "-o" in err
    assert main(["report", str(SHIPPED), "--json", "--no-working"]) in (0, 1, 3)
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "rigcheck.report/2" and found["result"]["schema"] == "rigcheck.result/2"


@pytest.mark.skipif(not CHROMIUM, reason="no chromium here to render the page with")
@pytest.mark.parametrize("width", [390, 816])
def test_a_real_browser_shows_it_without_overflow(full, page, tmp_path, width):
    found = json.loads(browse(page, folder=tmp_path, width=width))
    assert found["page"] <= width
    assert found["over"] == 0
    assert squeezed(found["verdict"]) == squeezed(full["result"]["headline"])
    assert len(found["figures"]) == 15
    for left, right, tall in found["figures"]:
        assert left >= 0.0 and right <= width and tall > 60.0


@pytest.mark.parametrize("system", ["us", "si"])
def test_a_rig_that_nothing_holds_still_has_its_report_and_says_why(system):
    text = starter_text(title="Dead point")
    data = tomllib.loads(text)
    data["perch"] |= {"downstream": "110 in", "height": "-4 in"}
    found = packet(check_case(data), source=None, text=text, system=system)
    told = squeezed(read(report_html(found)).visible)
    assert found["drawing"]["forces"] is None and "No forces are drawn" in told
    assert found["working"] is None and squeezed(NOT_THERE["working"]) in told
    assert "a line passes through the hinge pin" in told


def test_a_dead_point_has_no_worked_calculation():
    text = re.sub(r'(?m)^downstream = "[^"]*"', 'downstream = "110 in"', starter_text(), count=1)
    text = re.sub(r'(\[perch\][^[]*?)height = "[^"]*"', r'\1height = "-4 in"', text, count=1)
    assert read_case_text(text).perch.downstream == 110.0
    assert worked(assess(Rig(read_case_text(text))), source=None, system="us") is None

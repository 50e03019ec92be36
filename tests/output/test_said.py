"""Sentences made from results that are written down here: nothing left out, turned round or rounded the wrong way."""

import re
import tomllib
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rigcheck.cli.codes import code_for, code_of, gravest
from rigcheck.output.card import sizes as card
from rigcheck.output.card.first import keep_out
from rigcheck.output.check.words import demand_allowable
from rigcheck.output.field.words import field_headline
from rigcheck.output.fold import screen as fold_screen
from rigcheck.output.haul import screen as haul_screen
from rigcheck.output.haul import words as haul
from rigcheck.output.hoist_words import rating_text
from rigcheck.output.plant.words import plant_headline, road_lines
from rigcheck.output.props.words import answer, between
from rigcheck.output.report import decision, figures
from rigcheck.output.report.bodies import body_table
from rigcheck.output.report.body import findings_part
from rigcheck.output.report.curves import neighbors
from rigcheck.output.report.data import rail_diagrams
from rigcheck.output.report.formulas import formulas_part
from rigcheck.output.rig_words import answer_style, rig_sentence
from rigcheck.output.screen import Look, Page
from rigcheck.output.spread import view as spread
from rigcheck.wording.scale import Scale
from tests.output.conftest import assessed
from tests.support.whole_rig import starter_text


@pytest.mark.parametrize(
    ("codes", "worst"),
    [([0, 0], 0), ([0, 3], 3), ([3, 1, 0], 1), ([1, 3], 1), ([0, 1, 2], 2), ([3, 2, 1], 2)],
)
def test_of_several_files_the_gravest_exit_counts(codes, worst):
    # README, exit codes: 2 unusable, then 1 over, then 3 incomplete, then 0
    assert gravest(codes) == worst


def test_exit_codes_of_verdicts():
    assert [code_of(word) for word in ("within", "tight", "over", "incomplete")] == [0, 0, 1, 3]
    assert [code_for(over=over, complete=whole) for over in (True, False) for whole in (True, False)] == [1, 1, 0, 3]


def test_demands_are_rounded_up_and_what_is_allowed_down():
    row = {"unit": "lbf", "demand": 1234.2, "capacity": 1999.9}
    assert demand_allowable(row) == "1,235 / 1,999 lb"
    assert demand_allowable({"unit": "", "demand": 0.801, "capacity": 1.0}) == "ratio 0.81"
    assert rating_text(1234.2, 1999.9, unit="lbf") == "1,235 lb, not over 1,999 lb"
    assert rating_text(2000.2, 1999.9, unit="lbf") == "no mark fits: 2,001 lb or more is needed, 1,999 lb is the most"
    assert between((12.31, 45.61), unit="lbf") == "12.31 to 45.61 lb"
    assert spread._share(0.0012341) == "0.124 %"


@pytest.mark.parametrize(("gap", "said"), [(-1.251, "stand 1.26 in within the width"), (2.349, "lug 2.34 in on each")])
def test_a_gap_is_rounded_to_the_careful_side(gap, said):
    assert said in fold_screen._gap(gap, length="in")


@pytest.mark.parametrize(("allowed", "top", "limit"), [(150.0, "150", 0), (60.0, "100", 4), (300.0, "100", None)])
def test_the_plot_of_a_fold_is_labeled_at_both_ends(allowed, top, limit):
    rows = [{"line_demand": float(i), "hold": "held"} for i in range(101)]
    found = {"one_line": False, "rows": rows, "pull": {"allowed": allowed}, "to": 80.0}
    lines = fold_screen.plot(found, width=80)[:12]
    assert lines[0].split("|")[0].strip() == top and lines[-1].split("|")[0].strip() == "0"
    assert [i for i, line in enumerate(lines) if "---" in line] == ([] if limit is None else [limit])
    labels = [line.split("|")[0].strip() for line in lines[1:-1]]
    assert [one for one in labels if one] == (["60"] if limit == 4 else [])


@pytest.mark.parametrize(("system", "words"), [("us", "12 ft"), ("si", "3.7 m")])
def test_everybody_stays_away_as_far_as_the_box_is_long_and_three_feet(system, words):
    # 106 + 36 = 142 in, which is 11.8 ft or 3.61 m
    rig: Any = SimpleNamespace(number=lambda key: {"box.length": 106.0}[key])
    assert keep_out(rig, scale=Scale(system))["words"] == words


def plant(*ratios: float | None, **more: Any) -> dict[str, Any]:
    rows = [{"ratio": ratio, "words": f"way {i}", "state": "packed"} for i, ratio in enumerate(ratios)]
    return {"not_given": [], "tipping": rows, "needed": 1.5, **more}


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (plant(1.6, 1.4999, None), "OVER: lowest ratio 1.49 way 1"),
        (plant(1.6, 1.5001), "STANDS: lowest ratio 1.5 way 1"),
        (plant(0.9999, 3.0), "TIPS: ratio 0.999 way 0"),
        (plant(None), "PLANT: nothing turns it over"),
        (plant(not_given=["the weight"]), "PLANT: tipping not assessed; the case does not give the weight"),
    ],
)
def test_how_a_plant_stands(found, said):
    assert plant_headline(found).startswith(said)


@pytest.mark.parametrize(
    ("share", "judged"),
    # lifts the hitch; under 5 % it sways; 10 to 15 % is asked for
    [(-0.01, ": LIFTS"), (0.0, ": LIFTS"), (0.049, ": TOO LIGHT"), (0.09, ": light"), (0.12, ""), (0.16, ": heavy")],
)
def test_the_road_lines_of_a_plant_tell_its_tongue(share, judged):
    one = {"gross": 2000.0, "axle": 1800.0, "tongue": 200.0, "left": 880.0, "right": 920.0, "share": share}
    found = {"road": {"folded": one, "bare": None, "guidance": (0.1, 0.15), "light": 0.05}, "units": {"force": "lbf"}}
    assert road_lines(found) == [
        "Box folded: gross 2,000 lb, axle 1,800 lb (left 880 lb, right 920 lb), tongue 200 lb,"
        f" {100.0 * share:.1f} %{judged}.",
        "Common towing guidance: 10 to 15 % on the tongue; under 5 % it may sway.",
    ]


def test_what_a_strap_must_be_marked_for():
    strap = {"name": "left strap", "count": 2, "pull": 812.31, "pull_breaking_set": 1520.4}
    assert haul._need(strap, unit="lbf") == (
        "each of 2 needs a working load limit of at least 812.4 lb and a breaking strength of at least 1,521 lb"
    )
    assert "pulls in no load case" in haul._need({**strap, "pull": 0.0, "pull_breaking_set": 0.0}, unit="lbf")


def test_every_check_of_the_road_stands_on_its_screen():
    rows = [
        {"part": "left strap", "mode": "working load limit", "utilization": 1.031, "verdict": "over", "unit": "lbf",
         "demand": 1649.2, "capacity": 1600.0, "row": "road wind"},
        {"part": "hinge pin", "mode": "shear", "utilization": 0.4, "verdict": "within", "unit": "lbf", "demand": 400.0,
         "capacity": 1000.0, "row": "braking"},
    ]  # fmt: skip
    page = Page(Look(width=100))
    haul_screen._checks(page, {"checks": rows})
    lines = page.text().splitlines()
    assert any("104 %" in line and "OVER" in line and "1,650 / 1,600 lb" in line for line in lines)
    assert any("40 %" in line and "hinge pin: shear" in line and "braking" in line for line in lines)


def test_how_far_a_card_lets_a_box_be_folded():
    fold = {"to": 84.78, "alone": {"verdict": "within"}, "pull": {"largest": 411.21, "largest_alone": 822.31},
            "units": {"force": "lbf"}, "line": {"re_hooks": 2}, "angles": {"slack": [61.26, 80.0]}}  # fmt: skip
    rig: Any = None
    assert card.folding(rig, fold=fold, snub=31.2, scale=Scale()) == [
        "Ratchet up 84.7 deg from the deployed box and no further.",
        "Pull on each line up to 411.3 lb, on one alone up to 822.4 lb; work both lines together.",
        "Re-hooks on the way: 2; hold the box another way meanwhile.",
        "From 61.2 deg the lines go slack: snub line on before that, nobody on the far side.",
        "Snub line: 40 lb or more on the tag.",
        "Latch or pin the folded box before leaving it.",
    ]
    over = {**fold, "alone": {"verdict": "over"}, "headline": "The fold alone: OVER"}
    assert card.folding(rig, fold=over, snub=0.0, scale=Scale())[0] == (
        "Do NOT fold this box on its lines as described."
    )
    assert "do not fold" in card.folding(rig, fold=None, snub=0.0, scale=Scale())[0]


def test_the_reading_that_is_farthest_off_in_its_own_doubt_is_named():
    # 200 lb*in off with a doubt of 100 is twice it, 20 lb with a doubt of 2 ten times
    rows = [
        {"what": "moment", "value": 5200.0, "expected": 5000.0, "uncertainty": 100.0, "ratio": 1.04, "usable": True,
         "agrees": False},
        {"what": "weight", "value": 320.0, "expected": 300.0, "uncertainty": 2.0, "ratio": 16.0 / 15.0, "usable": True,
         "agrees": False},
    ]  # fmt: skip
    check = {"before": {"utilization": 0.801}, "after": None}
    found = {"verdict": "over", "refused": (), "results": rows, "check": check, "not_assessed": []}
    assert field_headline(found) == "OVER: whole empty box is 1.07 times the calculated one; highest utilization 81 %"
    agreeing = [{**one, "agrees": True} for one in rows]
    assert "the case agrees with what was read" in field_headline({**found, "results": agreeing})


def stop(code: str) -> dict[str, Any]:
    return {"code": code, "stops": True, "text": code, "state": "packed"}


@pytest.mark.parametrize(
    ("verdict", "findings", "said"),
    [
        ("over", ["no_tie_downs"], "OVER: stopped by no tie-down holds the box on the road"),
        (
            "incomplete",
            ["no_tie_downs"],
            "INCOMPLETE: as it stands nothing holds it (no tie-down holds the box on the road)",
        ),
        ("tight", [], "TIGHT: left strap, working load limit, 91 %"),
    ],
)
def test_what_the_road_alone_comes_to(verdict, findings, said):
    row = {"part": "left strap", "mode": "working load limit", "utilization": 0.901, "verdict": verdict}
    found = {"alone": {"verdict": verdict, "not_assessed": []}, "findings": [stop(one) for one in findings],
             "checks": [] if findings else [row]}  # fmt: skip
    assert haul.headline(found) == f"The road alone: {said}"


def test_nothing_is_left_out_of_the_findings_of_a_report():
    result = {
        "why": ["The hoist pulls too much."],
        "not_assessed": ["bolts of the hinge"],
        "findings": [stop("clips reversed"), {**stop("worn"), "stops": False, "state": ""}],
        "confirm": {"text": "The frame agrees."},
    }
    text = findings_part({"result": result})
    for said in ("The hoist pulls too much.", "bolts of the hinge", "STOPS: clips reversed (packed", "worn (any state)",
                 "The frame agrees."):  # fmt: skip
        assert said in text, said


@pytest.mark.parametrize(
    ("count", "more"), [(5, ""), (6, "and 1 more, under Findings"), (9, "and 4 more, under Findings")]
)
def test_a_list_that_is_cut_says_how_much_is_missing(count, more):
    text = decision._few([f"part {i}" for i in range(count)], most=5, where="Findings")
    assert text.count("part ") == 5 and (more in text) and ("more" in text) is bool(more)


def forces(left: tuple[float, float, float], right: tuple[float, float, float]) -> dict[str, Any]:
    return {side: dict(zip("xyz", one, strict=True)) for side, one in (("left", left), ("right", right))}


def test_the_first_page_has_the_largest_of_every_load():
    # 3-4-5 and its multiples; the box lifts a hinge where the plant holds it down, below zero
    rows = [
        {"state": "running", "with_factor": {"hinge": forces((6, 0, 8), (3, 0, 4))},
         "hinge": forces((3, 0, 4), (3, 0, 4)), "posts": {"moment": forces((30, 40, 900), (6, 8, 0))}},
        {"state": "packed", "with_factor": {"hinge": forces((9, 12, 0), (0, 0, -7))},
         "hinge": forces((3, 4, 0), (0, 0, -5)), "posts": None},
    ]  # fmt: skip
    amplified, plain, row = decision._worst(rows, part="hinge")
    assert (amplified, plain, row["state"], row["side"]) == (15.0, 5.0, "packed", "left")
    amplified, plain, row = decision._lifted(rows)
    assert (amplified, plain, row["state"], row["side"]) == (7.0, 5.0, "packed", "right")
    assert decision._bases(rows)[0] == 50.0  # about level axes alone
    assert decision._lifted(rows[:1]) is None


def test_the_loads_of_the_first_page_are_in_the_unit_of_their_kind(us):
    rows = re.findall(r"<tr.*?</tr>", decision.design_loads(us))
    cells = [[re.sub(r"<[^>]*>", "", cell) for cell in re.findall(r"<t[dh].*?</t[dh]>", row)] for row in rows]
    told = {row[0]: [one for i, one in enumerate(row) if i in (1, 2, 4, 5) and one != "-"] for row in cells[1:]}
    assert set(told) >= {"perch, all parts of one line", "one hinge group", "post base, moment"}
    for name, values in told.items():
        assert values and all(one.endswith(" lb*in" if "moment" in name else " lb") for one in values), name


def test_a_road_row_that_nothing_holds_is_told():
    held = {"row": "road wind", "held": True, "tie_downs": [812.31, 0.0], "stops": [], "hinge_most": 99.2111,
            "line": {"left": 0.0, "right": 0.0}}  # fmt: skip
    text = figures._road_rows({"units": {"force": "lbf"}, "rows": [held, {"row": "braking", "held": False}]})
    assert "NOTHING holds it" in text and "braking" in text and "812.4 lb" in text and "99.22 lb" in text


def test_a_rig_with_one_input_moved_says_what_stops_it():
    row = {"what": "pitch 1 in/ft", "utilization": 0.801, "over": False, "part": "rail", "mode": "stress",
           "state": "packed", "stops": []}  # fmt: skip
    text = figures.neighbors_part(
        {"neighbors": [row, {**row, "what": "hanger 2 in up", "stops": ["line_slack", "lean"]}]}
    )
    rows = [re.sub(r"<[^>]*>", "|", one) for one in re.findall(r"<tr.*?</tr>", text)]
    assert "81 %" in rows[1] and "|-|" in rows[1] and "line_slack; lean" in rows[2]


@pytest.mark.parametrize(("system", "two", "one"), [("us", "2 in", "1 in"), ("si", "50.8 mm", "25.4 mm")])
def test_what_was_moved_is_told_in_the_units_of_the_report(system, two, one):
    row = SimpleNamespace(part="rail", mode="stress")
    judged: Any = SimpleNamespace(use=np.full((8, 1), 0.5), rows=[row], stops=[], state_of=lambda *_: "packed")
    told = neighbors([(judged, i) for i in range(8)], scale=Scale(system))
    assert [found["what"] for found in told] == [
        "as in the case", f"perch lugs {two} lower", f"perch lugs {two} higher", f"perch lugs {two} upstream",
        f"perch lugs {two} downstream", f"hangers {two} toward the hinge", f"hangers {two} toward the tail",
        f"bed {one} deeper",
    ]  # fmt: skip


def test_the_rail_of_a_report_is_one_at_work():
    links = tomllib.loads(starter_text())["line"]["link"]  # with a hoist that pulls little, a broken line bends it most
    links = [{**one, **({"wll": "1000 lb", "mbf": "4000 lb"} if one["kind"] == "lever hoist" else {})} for one in links]
    rig = assessed(line={"link": links}, factors={"line_broken": 3.0})
    solution, found = rig.solution, rail_diagrams(rig, scale=Scale())
    accidents = {row.state for row in solution.rows if row.ultimate}
    stress = [
        solution.peaks.stress[i].max()
        for i, (row, _) in enumerate(solution.bent.pairs)
        if not solution.rows[row].ultimate and not solution.held.dead[row]
    ]
    assert found["state"] not in accidents and found["stress"] == pytest.approx(float(np.max(stress)))
    assert float(solution.peaks.stress.max()) > 1.01 * found["stress"]


def test_a_further_support_is_held_against_the_worst_bending_of_the_hung_box():
    def values(line, sagging, hogging, extra):
        return {"packed": {"line": line, "sagging": sagging, "hogging": hogging, "extra": extra}}

    hung = {"values": values((900.0, 910.0), (0.0, 1000.0), (0.0, 9000.0), (0.0, 0.0))}
    held = values((300.0, 420.0), (0.0, 4000.0), (0.0, 2500.0), (500.0, 500.0))
    one = {"name": "tail leg", "words": "a leg", "values": held,
           "governing": {"part": "rail", "mode": "stress", "utilization": 0.5, "state": "packed"}}  # fmt: skip
    said = answer(one, hung=hung, units={"force": "lbf", "moment": "lbf*in"})
    assert "a line carries 300 to 420 lb instead of 910 lb and the leg takes 500 lb" in said
    assert "bends with up to 4,000 lb*in instead of 9,000 lb*in" in said


def test_a_packet_says_what_it_was_made_from():
    result = {
        "input": {"file": "rig.toml", "sha256": "ab" * 32},
        "revision": "C",
        "by": "K. L.",
        "note": "after the flood",
    }
    text = decision.identity({"result": result, "made": "4 May", "program": "9.1"})
    for said in ("rig.toml", "C, K. L.", "4 May", "rigcheck 9.1", "ab" * 32, "after the flood"):
        assert said in text, said
    empty = {"input": None, "revision": "", "by": "", "note": ""}
    text = decision.identity({"result": empty, "made": None, "program": "9.1"})
    assert "not read from a file" in text and "date not given" in text and "not given, not given" in text


def test_every_force_on_the_free_body_stands_in_its_table():
    units = {"force": "lbf", "moment": "lbf*in", "length": "in"}
    both = {"line": forces((-101, 11, 201), (-102, 12, 202)), "hinge": forces((103, 13, 203), (104, 14, 204))}
    twice = {key: {side: {axis: 2.0 * v for axis, v in one.items()} for side, one in sides.items()}
             for key, sides in both.items()}  # fmt: skip
    zero = {"x": 0.0, "y": 0.0, "z": 0.0, "moment": 0.0}
    body = {"loads": {"force": {"x": -4.0, "y": 0.0, "z": -810.0}, "residual": zero, "moment": 9000.0,
                      "line_moment": -9000.0},
            "unfactored": both, "amplified": twice, "weight": 810.0, "dynamic_factor": "x 2", "governs": True,
            "state": "packed", "variant": None, "bound": None, "side": "left", "on": None}  # fmt: skip
    text = body_table(body, units=units)
    for value in (101, 102, 103, 104, 201, 202, 203, 204, 11, 12, 13, 14, 810):
        assert f"{value} lb" in text, value
    for value in (202, 204, 206, 208, 402, 404, 406, 408):
        assert f"{value} lb" in text, value
    assert "sum 0 lb*in" in text


@pytest.mark.parametrize(
    ("matters", "most"), [({"a": 0.05, "b": -0.4}, "b"), ({"a": 0.05, "b": -0.09}, "-"), ({}, "-")]
)
def test_the_unknown_that_moves_a_part_most_is_named_where_it_matters(matters, most):
    row = {"part": "rail", "chance_over": 0.0, "now": 0.801, "utilization": [0.7, None], "matters": matters}
    assert spread._line(row) == (["rail", "0", "81", "70", "beyond", most], "")
    assert spread._line({**row, "chance_over": 0.1})[1] == "over"


def test_a_formula_stands_as_it_is_written():
    blocks = [{"kind": "code", "lines": ["    M = w L^2 / 8"]}, {"kind": "prose", "lines": ["An even load."]},
              {"kind": "list", "lines": ["- one", "- two"]}]  # fmt: skip
    text = formulas_part({"formulas": [{"anchor": "beam", "heading": "Beam", "blocks": blocks}]})
    assert '<pre class="formula">M = w L^2 / 8</pre>' in text and "<pre" not in text.partition("</pre>")[2]
    assert text.count("<li>") == 2


def test_an_answer_is_green_only_where_all_is_assessed():
    styles = [answer_style({"complete": whole}, over=over) for whole in (True, False) for over in (False, True)]
    assert styles == ["within", "over", "incomplete", "over"]
    assert rig_sentence("incomplete", tight=True, missing=2) == (
        "The whole rig: INCOMPLETE: nothing checked is over, 2 parts of the load path not assessed; something is tight."
    )
    assert "1 part of the load path not assessed" in rig_sentence("over", tight=False, missing=1)

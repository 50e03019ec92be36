"""One screen: at most 45 lines of 80 letters for every command on every shipped case and on rigs drawn by lot."""

import json
import re
from pathlib import Path

import pytest

from rigcheck.cli.entry import main
from rigcheck.output.check.first_screen import first_screen, fixes
from rigcheck.output.instructions import STOPS, TODO
from rigcheck.output.screen import Look, Page
from rigcheck.output.tables.view import tables_list
from rigcheck.tables.browse import search

ROOT = Path(__file__).parents[2]
CASES = sorted((ROOT / "cases").glob("*.toml"))
LINES, WIDE = 45, 80
METHOD = (ROOT / "docs" / "method.md").read_text(encoding="utf-8")


def told(capsys, *words: str) -> list[str]:
    main(list(words))
    out, err = capsys.readouterr()
    assert not err, err
    return out.splitlines()


def fits(lines: list[str]) -> bool:
    return 0 < len(lines) <= LINES and max(map(len, lines)) <= WIDE


def test_the_order_of_the_first_screen(capsys, monkeypatch):
    """Verdict; why; what fixes it; the highest of each part; bed; what to do; the rest; the verdict once more."""
    monkeypatch.setenv("COLUMNS", str(WIDE))
    text = "\n".join(told(capsys, "check", str(ROOT / "cases" / "quarter-creek.toml")))
    marks = ["OVER: hinge pin", "181 %", "FIXES IT", "HIGHEST UTILIZATION OF EACH PART", "No bed mark", "WHAT TO DO",
             "A check, not a certificate", "Everything: --all", "OVER; highest 181 %, hinge pin"]  # fmt: skip
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)
    assert text.splitlines()[-1].startswith("OVER")


def test_the_list_of_tables_fits_and_holds_every_id():
    blocks = search([])
    text = tables_list(blocks, look=Look())
    assert fits(text.splitlines())
    assert {block.name for block in blocks} <= set(re.findall(r"\w+", text))


def test_more_than_sixty_rows_ask_for_a_size(capsys):
    lines = told(capsys, "tables", "hss")
    assert "Add a size or another word" in " ".join(lines) and len(lines) < 15
    assert "HSS2x2x1/4" in " ".join(told(capsys, "tables", "hss", "2x2x1/4"))
    assert len(told(capsys, "tables", "hss", "--all")) > 60


def test_every_finding_has_something_to_do_and_every_stop_a_clause():
    codes = dict(re.findall(r"(?m)^\| `([a-z_]+)` \| (yes|no) \|", METHOD))
    assert len(codes) > 60
    assert set(codes) <= set(TODO)
    assert {code for code, stops in codes.items() if stops == "yes"} <= set(STOPS)
    assert max(map(len, TODO.values())) <= WIDE - 4


def result_of(lot, *, missing: int, findings: int, rows: int) -> dict:
    """A result with so many entries, its names as long as a case allows."""
    name = lot("part {} of the rig with a long name, as some are")
    row = {"part": "", "mode": "bending both ways, axial, shear and torsion together", "group": "rail", "side": "left",
           "state": "line_broken", "variant": None, "bound": "lost", "demand": 16_430.0, "capacity": 20_830.0,
           "unit": "psi", "utilization": 0.8, "verdict": "within", "dynamic_factor": None, "basis": "b"}  # fmt: skip
    checks = [{**row, "part": name.format(i)} for i in range(rows)]
    codes, stops = [code for code in TODO if code not in STOPS][:findings], list(STOPS)[:missing]
    return {
        "title": "T" * 200, "revision": "R" * 60, "by": "B" * 60, "input": {"file": "f" * 90, "sha256": "a" * 64},
        "basis": "frame", "verdict": "incomplete" if missing else "over", "tight": False, "headline": "H " * 200,
        "highest_utilization": 0.8, "governing": checks[0] if checks else None, "checks": checks,
        "units": {"length": "in"},
        "findings": [
            *({"code": code, "text": code, "stops": False, "state": "packed"} for code in codes),
            *({"code": code, "text": "it stops " * 12, "stops": True, "state": "packed"} for code in stops),
        ],
        "not_assessed": [name.format(i) for i in range(missing)], "remedies": [
            {"changes": [name.format(i)] * 3, "cures": i % 2 == 0, "highest_utilization": 1.3, "part": name.format(i),
             "counted": "check", "stops": []}
            for i in range(missing)],
        "bed_mark": {"text": "mark " * 30, "limit": "", "running_text": ""}, "confirm": None,
    }  # fmt: skip


@pytest.mark.parametrize("size", range(0, 50, 3))
def test_drawn_results_fit_however_much_there_is_to_say(size):
    result = result_of(lambda text: text, missing=size % 13, findings=size, rows=size)
    page = Page(Look(whole=False))
    first_screen(page, result)
    lines = page.text().splitlines()
    assert fits(lines), (len(lines), max(map(len, lines)))
    assert lines[-1].startswith(result["verdict"].upper())


def test_the_whole_screen_is_longer_and_ends_with_the_cautions_in_full(capsys):
    lines = told(capsys, "check", str(CASES[0]), "--all")
    assert len(lines) > 150 and "certificate, a rating" in " ".join(lines[-16:])


def test_json_is_the_same_with_and_without_all(capsys):
    main(["fold", str(CASES[0]), "--json"])
    short = capsys.readouterr().out
    main(["fold", str(CASES[0]), "--json", "--all"])
    assert json.loads(capsys.readouterr().out) == json.loads(short)


def test_what_no_check_counts_is_never_told_as_a_fix():
    plain = {"changes": ["a leg under the tail"], "highest_utilization": 0.9, "part": "rail", "cures": True,
             "counted": "props",
             "stops": []}  # fmt: skip
    (nothing, _), (aside, texts) = fixes([plain])
    assert (nothing, aside) == ("FIXES IT", "Does not fix it alone") and "check goes on without it" in texts[0]
    ((heading, told_of),) = fixes([{**plain, "counted": "check"}])
    assert heading.startswith("FIXES IT") and "rail at 90 %" in told_of[0]
    stopped = {**plain, "cures": False, "stops": ["pull_only_holds"]}
    assert "a pull-only come-along holds the box" in list(fixes([stopped]))[1][1][0]

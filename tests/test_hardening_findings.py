"""Every finding of a check can be reached, and stands in the table of docs/method-findings.md."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from rigcheck.case import check_case, read_case
from rigcheck.case.rig import Rig
from rigcheck.check.assess import assess
from rigcheck.check.geometry_flags import line_cuts
from rigcheck.check.solve import solve
from tests.extreme_rigs import starter_data
from tests.finding_cases import GONE, RAISED_BY, changed

ROOT = Path(__file__).parents[1]
CODE = re.compile(r"[a-z]+(?:_[a-z]+)*")
TABLE = ROOT / "docs" / "method-findings.md"
SOURCES = (*sorted((ROOT / "rigcheck" / "check").glob("*.py")), ROOT / "rigcheck" / "strength" / "links.py")
CASES = sorted((ROOT / "cases").glob("*.toml"))


def text_of(node: ast.AST) -> str:
    """A text as far as it is written out."""
    found = [one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    return "".join(found)


def codes_in(source: str) -> Iterator[str]:
    """Codes that a module raises: code="...", flag("...", ...), and rows of code and sentence."""
    for node in ast.walk(ast.parse(source)):
        first: ast.AST | None = None
        if isinstance(node, ast.Call):
            named = {word.arg: word.value for word in node.keywords}
            local = isinstance(node.func, ast.Name) and node.func.id == "flag"
            first = named.get("code") or (node.args[0] if local and node.args else None)
        elif isinstance(node, ast.Tuple) and len(node.elts) > 1 and any(" " in text_of(one) for one in node.elts[1:]):
            first = node.elts[0]
        word = first.value if isinstance(first, ast.Constant) else None
        if isinstance(word, str) and CODE.fullmatch(word) and ("_" in word or isinstance(node, ast.Call)):
            yield word


def all_codes() -> set[str]:
    found = {code for path in SOURCES for code in codes_in(path.read_text(encoding="utf-8"))}
    solution = solve(Rig(check_case(starter_data())))
    parts = line_cuts(solution.rig, layout=solution.layout, at=solution.pose)
    return found | {"line_cuts_" + part.replace(" ", "_").replace("-", "_") for part, _ in parts}


@cache
def raised_by_cases() -> dict[str, set[str]]:
    """Codes that the shipped cases raise."""
    return {path.stem: {flag.code for flag in assess(Rig(read_case(path))).flags} for path in CASES}


@cache
def raised(code: str) -> dict[str, bool]:
    """Codes that the change for a code raises, and whether they stop; those of the unchanged case for no code."""
    found = assess(Rig(check_case(changed(RAISED_BY.get(code, {}))))).flags
    return {flag.code: flag.stops for flag in found if np.any(flag.where)}


def rows() -> dict[str, list[str]]:
    """Code to the other cells of its row."""
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if line.startswith("| `")]
    cells = [line.strip("| ").split(" | ") for line in lines]
    found = {row[0].strip("`"): row[1:] for row in cells}
    assert len(found) == len(lines)
    return found


def test_the_scan_sees_each_way_of_raising_a_code():
    source = 'Flag(code="a_b", text=t); flag("c_d", "words here"); rows = (("e_f", True, f"some {x} words"), ("g", w))'
    assert sorted(codes_in(source)) == ["a_b", "c_d", "e_f"]


def test_every_code_has_a_case_that_reaches_it():
    assert set(RAISED_BY) == all_codes()


@pytest.mark.parametrize("code", sorted(RAISED_BY))
def test_the_change_raises_the_code(code):
    assert code in raised(code)


@pytest.mark.parametrize("code", sorted(code for code, changes in RAISED_BY.items() if changes))
def test_the_starter_itself_does_not_raise_what_needs_a_change(code):
    assert code not in raised("")


def test_the_table_holds_every_code_once_and_no_other():
    assert sorted(rows()) == sorted(all_codes())


def test_the_table_says_which_findings_stop():
    stops: dict[str, set[bool]] = {code: set() for code in RAISED_BY}
    for code in RAISED_BY:
        for other, stop in raised(code).items():
            stops[other].add(stop)
    words = {frozenset({True}): "yes", frozenset({False}): "no", frozenset({True, False}): "unless snubbed"}
    assert {code: row[0] for code, row in rows().items()} == {
        code: "unless snubbed" if code == "fold_slack_inward" else words[frozenset(found)]
        for code, found in stops.items()
    }


def test_the_table_names_the_shipped_cases_that_raise_a_finding_or_the_change_that_does():
    by_case = raised_by_cases()
    for code, row in rows().items():
        told = row[2]
        shipped = [stem for stem, codes in by_case.items() if code in codes]
        if not shipped:
            assert told == words_of(code), (code, words_of(code))
        elif len(shipped) == len(by_case):
            assert told == "every shipped case", code
        else:
            assert told == ", ".join(f"`{stem}`" for stem in shipped), (code, shipped)


def words_of(code: str) -> str:
    """The change of the starter that raises a code, as the table writes it."""
    def value(given: object) -> str:
        if given is GONE:
            return "left out"
        return "other" if isinstance(given, list) else str(given).lower() if isinstance(given, bool) else str(given)

    told = ", ".join(f"`{numbered(key)}` {value(given)}" for key, given in RAISED_BY[code].items())
    return f"starter with {told}" if told else "starter"


def numbered(key: str) -> str:
    """A key path with repeated tables counted from 1, as people write it."""
    return re.sub(r"\.(\d+)", lambda found: f"[{int(found[1]) + 1}]", key)

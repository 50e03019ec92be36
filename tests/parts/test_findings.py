"""Every finding of a check can be reached, and stands in the table of docs/method.md."""

import ast
from collections.abc import Iterator

import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.parts.line.geometry import line_cuts
from tests.support.extreme_rigs import starter_data
from tests.support.finding_cases import CODE, RAISED_BY, ROOT, raised, raised_where, rows, stops

SOURCES = (
    *sorted((ROOT / "rigcheck" / "analysis").rglob("*.py")),
    *sorted((ROOT / "rigcheck" / "parts").rglob("*.py")),
)


def text_of(node: ast.AST) -> str:
    """A text as far as it is written out."""
    found = [one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    return "".join(found)


def codes_in(source: str) -> Iterator[str]:
    """Codes that a module raises: code="...", flag("...", ...), say("...", ...), and rows of code and sentence."""
    tree = ast.parse(source)
    constants = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        first: ast.AST | None = None
        if isinstance(node, ast.Call):
            named = {word.arg: word.value for word in node.keywords}
            local = isinstance(node.func, ast.Name) and node.func.id in ("flag", "say", "Remark")
            first = named.get("code") or (node.args[0] if local and node.args else None)
        elif isinstance(node, ast.Tuple) and len(node.elts) > 1 and any(" " in text_of(one) for one in node.elts[1:]):
            first = node.elts[0]
        if isinstance(first, ast.Name):
            first = constants.get(first.id)
        word = first.value if isinstance(first, ast.Constant) else None
        if isinstance(word, str) and CODE.fullmatch(word) and ("_" in word or isinstance(node, ast.Call)):
            yield word


def all_codes() -> set[str]:
    found = {code for path in SOURCES for code in codes_in(path.read_text(encoding="utf-8"))}
    solution = solve(Rig(check_case(starter_data())))
    parts = line_cuts(solution.rig, layout=solution.layout, at=solution.pose)
    return found | {"line_cuts_" + part.replace(" ", "_").replace("-", "_") for part, _ in parts}


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


def test_the_table_says_which_findings_stop_and_what_raises_them():
    told = {code: [row[0], row[2]] for code, row in rows().items()}
    made = {code: [stops(code), raised_where(code)] for code in RAISED_BY}
    assert told == made, "python -m tests.support.finding_cases writes these two columns anew"

"""No code decides anything by how something is called: wording is output, identity is an id."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOM = Path(__file__).parents[1] / "rigcheck"
FILES = sorted(path for path in ROOM.rglob("*.py"))
SENTENCES = {"mode", "clause", "title", "text", "words", "heading", "sentence", "intro", "source", "note"}
"""Fields of records, and keys of plain results, that hold what people read."""
NAMES = {"part", "own_name", "about", "label"}
"""Fields that say how a part is called: they may gather what belongs together, not tell which it is."""
SEARCHES = {"startswith", "endswith", "partition", "rpartition", "split", "rsplit", "removeprefix", "removesuffix",
            "casefold", "lower"}  # fmt: skip
PATTERNS = {"match", "fullmatch", "search", "findall", "sub"}
ALLOWED = {
    "calculation/writing.py": "the node of a formula has a text",
    "quantities": "text with units is what that room reads",
    "tables/browse.py": "the search that a person types",
    "case/reading": "what a person wrote",
    "output/report/data.py": "which sources were seen is told by their marks",
    "output/working/screen.py": "the equals signs of an equation stand under each other",
}


def field(node: ast.AST) -> str:
    """The field of a record or the key of a plain result that an expression takes; empty for any other."""
    if isinstance(node, ast.Attribute):
        return node.attr
    if isinstance(node, ast.Subscript) and isinstance(node.slice, ast.Constant) and isinstance(node.slice.value, str):
        return node.slice.value
    return ""


def decisions(tree: ast.AST) -> Iterator[ast.expr]:
    """Comparisons with wording, and searches in it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            sides = {field(side) for side in (node.left, *node.comparators)}
            equal = any(isinstance(op, ast.Eq | ast.NotEq) for op in node.ops)
            among = any(isinstance(op, ast.In | ast.NotIn) for op in node.ops)
            if ((equal or among) and sides & SENTENCES) or (equal and sides & NAMES):
                yield node
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            text = node.func.attr in SEARCHES and field(node.func.value) in SENTENCES | NAMES
            if text or (node.func.attr in PATTERNS and {field(one) for one in node.args} & (SENTENCES | NAMES)):
                yield node


def searched(path: Path) -> list[str]:
    name = path.relative_to(ROOM).as_posix()
    if name.startswith(tuple(ALLOWED)):
        return []
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [f"{name}:{node.lineno}: {ast.unparse(node)}" for node in decisions(tree)]


def test_nothing_is_told_by_its_wording():
    assert [found for path in FILES for found in searched(path)] == []


@pytest.mark.parametrize(
    "line",
    [
        'check.mode == "shear"',
        'check.part.endswith(" weld")',
        '"lug" in spot.check.title',
        'row["mode"] != other',
        're.search("hull", check.clause)',
        'end = spot.check.part.partition(" ")[0]',
        'one.check.part == "rail"',
    ],
)
def test_a_line_that_does_is_found(line):
    assert len(list(decisions(ast.parse(line)))) == 1


@pytest.mark.parametrize(
    "line", ["check.item is Item.RAIL", "row.part in parts", "check.way in WAYS", "one.key == key"]
)
def test_a_line_that_tells_by_id_is_not(line):
    assert list(decisions(ast.parse(line))) == []

"""No test takes from the code the constant that it checks: a number that both sides share can be wrong in silence."""

import ast
from collections.abc import Iterator
from pathlib import Path

TESTS = Path(__file__).parent
ROOMS = tuple(f"rigcheck.{room}" for room in ("strength", "check", "loads", "statics"))
NAMES = {
    "rigcheck.check.folding": {"HELD", "BEHIND", "SLACK", "OUTWARD", "DEAD"},  # names of what the lines do
    "rigcheck.check.few": {"STOPPERS"},  # codes of findings
    "rigcheck.loads.pieces": {"BOUNDS"},  # names of sharings
    "rigcheck.strength.bases": {
        "BASES",
        "FRAME",
        "LIFTING",
        "ULTIMATE",
    },  # which basis; its numbers have tests of their own
    "rigcheck.check.parts": {"FLAGS"},  # which functions look for findings
    "rigcheck.check.missing": {"DECIDES"},  # names of rooms of the rig
    "rigcheck.loads.wind": {"TOWARD"},  # names of directions
    "rigcheck.statics.rail": {"SHARES"},  # names of sharings
    "rigcheck.statics.geometry": {"SIDE"},  # left is +1 and right is -1, as test_geometry writes out
    "rigcheck.strength.members": {"BAR"},  # which family of shapes
    "rigcheck.strength.arrays": {"UNLIMITED"},  # stands for no limit
}
"""Upper-case names that are no numbers, by module: which one is meant, and not how much."""


def taken(path: Path) -> Iterator[tuple[str, str]]:
    """Module and name of every constant of the mechanics that a test file takes, imported or read off its module."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    modules: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("rigcheck"):
            for one in node.names:
                modules[one.asname or one.name] = f"{node.module}.{one.name}"
                if one.name.isupper() and str(node.module).startswith(ROOMS):
                    yield str(node.module), one.name
        elif isinstance(node, ast.Import):
            modules |= {one.asname: one.name for one in node.names if one.asname and one.name.startswith(ROOMS)}
    held = {id(node.left) for node in ast.walk(tree) if isinstance(node, ast.Compare) and _written_out(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr.isupper() and isinstance(node.value, ast.Name):
            module = modules.get(node.value.id, "")
            if module.startswith(ROOMS) and id(node) not in held:
                yield module, node.attr


def _written_out(node: ast.Compare) -> bool:
    """Whether a comparison is with values that stand in the test: then it holds the constant and does not take it."""
    inner = [one for right in node.comparators for one in ast.walk(right)]
    return isinstance(node.ops[0], ast.Eq) and not any(isinstance(one, ast.Name | ast.Attribute) for one in inner)


def test_no_test_takes_its_numbers_from_the_code() -> None:
    files = [one for one in TESTS.rglob("*.py") if "bench" not in one.relative_to(TESTS).parts]
    found = {
        f"{path.relative_to(TESTS)}: {module}.{name}"
        for path in files
        for module, name in taken(path)
        if name not in NAMES.get(module, set())
    }
    assert not found, "write the value and its source into the test:\n" + "\n".join(sorted(found))


def test_both_ways_of_taking_a_constant_are_seen(tmp_path: Path) -> None:
    file = tmp_path / "test_it.py"
    file.write_text(
        "from rigcheck.check import floor\nfrom rigcheck.check.members import SHARE\nimport rigcheck.statics.rail as rail\n"
        "assert floor.FOOT == 4 * width and rail.SHARES and floor.floor_load and floor.FOOT == 4.0\n"
    )
    assert sorted(taken(file)) == [
        ("rigcheck.check.floor", "FOOT"), ("rigcheck.check.members", "SHARE"), ("rigcheck.statics.rail", "SHARES"),
    ]  # fmt: skip

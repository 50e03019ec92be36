"""No test takes from the code the constant that it checks: a number that both sides share can be wrong in silence."""

import ast
from collections.abc import Iterator, Mapping
from enum import Enum
from importlib import import_module
from pathlib import Path

TESTS = Path(__file__).parent
ROOMS = tuple(f"rigcheck.{room}" for room in ("arrays", "strength", "analysis", "parts", "loads", "statics"))
NAMES = {
    "rigcheck.parts.fold.checks": {"HELD", "BEHIND", "SLACK", "OUTWARD", "DEAD"},  # places in a list of words
    "rigcheck.strength.bases": {"BASES", "FRAME", "LIFTING", "ULTIMATE"},  # which basis
    "rigcheck.statics.geometry": {"SIDE"},  # left is +1 and right is -1, as test_geometry writes out
    "rigcheck.strength.members.shapes": {"BAR"},  # which family of shapes
    "rigcheck.arrays.guarded": {"UNLIMITED"},  # stands for no limit
    "rigcheck.parts.registry": {"PARTS", "ROAD"},  # the parts themselves, and the place of the folded box among them
}
"""Names that hold numbers which say which one is meant, and not how much, by module; words need not be listed."""


def amounts(value: object) -> bool:
    """Whether there is a number in a value; words, functions, ways of an enumeration and lists of them have none."""
    if isinstance(value, str | bytes | Enum) or callable(value):
        return False
    if isinstance(value, Mapping):
        return any(amounts(one) for one in (*value, *value.values()))
    return any(amounts(one) for one in value) if isinstance(value, tuple | list | set | frozenset) else True


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


def _value(holder: str, name: str) -> object:
    """What a module, or a class of one, holds under a name."""
    try:
        return getattr(import_module(holder), name)
    except ModuleNotFoundError:
        module, _, kind = holder.rpartition(".")
        return getattr(getattr(import_module(module), kind), name)


def test_no_test_takes_its_numbers_from_the_code() -> None:
    files = [one for one in TESTS.rglob("*.py") if "bench" not in one.relative_to(TESTS).parts]
    found = {
        f"{path.relative_to(TESTS)}: {module}.{name}"
        for path in files
        for module, name in taken(path)
        if name not in NAMES.get(module, set()) and amounts(_value(module, name))
    }
    assert not found, "write the value and its source into the test:\n" + "\n".join(sorted(found))


def test_words_are_no_amounts_and_tables_of_numbers_are() -> None:
    assert not amounts(("left", "right")) and not amounts("text") and not amounts({"a": ("b",)}) and not amounts(print)
    assert amounts(1) and amounts((0.5, 1.25)) and amounts({"a": 2.0}) and amounts(frozenset({1}))


def test_both_ways_of_taking_a_constant_are_seen(tmp_path: Path) -> None:
    file = tmp_path / "test_it.py"
    file.write_text(
        "from rigcheck.parts.floor import checks as floor\nfrom rigcheck.parts.cross_member.checks import SHARE\n"
        "import rigcheck.statics.rail as rail\n"
        "assert floor.FOOT == 4 * width and rail.SHARES and floor.floor_load and floor.FOOT == 4.0\n"
    )
    assert sorted(taken(file)) == [
        ("rigcheck.parts.cross_member.checks", "SHARE"), ("rigcheck.parts.floor.checks", "FOOT"),
        ("rigcheck.statics.rail", "SHARES"),
    ]  # fmt: skip

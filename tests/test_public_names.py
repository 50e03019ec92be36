"""What others build on, written out: a name that is lost or renamed here breaks somebody's script."""

import ast
import importlib
import re
from pathlib import Path

import pytest

from rigcheck.case.models.case import Case
from rigcheck.case.schema.sections import fields_of
from rigcheck.cli import codes
from rigcheck.cli.app import command_names
from rigcheck.output.schemas import result_schema

PACKAGE = Path(__file__).parents[1] / "rigcheck"
API = {
    "rigcheck.case": (
        "Case", "CaseError", "Defaulted", "Entry", "Problem", "check_case", "defaulted_keys", "glossary", "read_case",
        "read_case_text",
    ),
    "rigcheck.quantities": (
        "Bare", "DIMENSIONS", "Dimension", "QuantityError", "Rounding", "System", "accepted_forms", "accepted_units",
        "convert", "exact", "one_of", "plain_text", "read", "tape", "write",
    ),
    "rigcheck.tables": ("ShapeError", "TableError"),
    "rigcheck.cli": ("main",),
    "rigcheck.calculation": (
        "PARTS", "DisagreementError", "Section", "Step", "UnknownStateError", "working", "working_result",
    ),
}  # fmt: skip
FUNCTIONS = {
    "rigcheck.case.rig": ("Rig", "varied"),
    "rigcheck.assessment.assess": ("Assessment", "assess"),
    "rigcheck.analysis.solve": ("Solution", "solve"),
    "rigcheck.studies.fold.study": ("fold",),
    "rigcheck.studies.haul.study": ("haul",),
    "rigcheck.studies.length.study": ("sweep",),
    "rigcheck.output.check.result": ("result", "Source", "Extras"),
    "rigcheck.output.schemas": ("result_schema",),
}
COMMANDS = ("check", "page", "new", "length", "hardware", "materials", "props", "fold", "haul", "plant", "spread",
            "field", "proof", "card", "working", "report", "tables")  # fmt: skip
CONTRACTS = ("card/3", "field/2", "fold/2", "hardware/2", "haul/2", "length/2", "materials/1", "plant/1", "problems/1",
             "proof/2", "props/2", "report/2", "result/2", "spread/2", "working/2")  # fmt: skip
TABLES = ("title", "revision", "by", "note", "basis", "plant", "box", "stretch", "rail", "cross_member",
          "end_tube", "mat", "trap", "gate", "fitting", "hinge", "hanger", "perch", "line", "tail_leg", "second_line",
          "fed_by", "water", "bed", "person", "ice", "wind", "towing", "fold", "haul", "weld", "factors",
          "measured")  # fmt: skip
STATES = ("empty", "running", "surge", "plugged", "packed", "lopsided", "cleanout", "digout", "iced", "folding",
          "towing", "wind_hung", "snagged", "parked", "hauling", "line_broken")  # fmt: skip


@pytest.mark.parametrize("module", API)
def test_a_public_module_names_what_it_gives(module):
    found = importlib.import_module(module)
    assert sorted(found.__all__) == sorted(API[module])
    assert all(hasattr(found, name) for name in found.__all__)


@pytest.mark.parametrize("module", FUNCTIONS)
def test_what_scripts_call_is_where_it_was(module):
    found = importlib.import_module(module)
    assert [name for name in FUNCTIONS[module] if not hasattr(found, name)] == []


def test_commands_and_exit_codes():
    assert tuple(command_names()) == COMMANDS
    numbers = {name: value for name, value in vars(codes).items() if name.isupper() and name[0] != "_"}
    assert numbers == {"NOTHING_OVER": 0, "SOMETHING_OVER": 1, "UNUSABLE_INPUT": 2, "INCOMPLETE": 3, "OUR_BUG": 70,
                       "INTERRUPTED": 130}  # fmt: skip


def test_contracts_of_the_json():
    files = [path for room in ("calculation", "output") for path in sorted((PACKAGE / room).rglob("*.py"))]
    texts = "".join(path.read_text(encoding="utf-8") for path in files)
    assert sorted(set(re.findall(r'^[A-Z]+ = "rigcheck\.([a-z]+/\d+)"$', texts, re.M))) == list(CONTRACTS)


def test_tables_of_a_case():
    assert tuple(field.word for field in fields_of(Case).values()) == TABLES


def test_words_of_states_bounds_and_verdicts():
    defined = result_schema()["$defs"]
    assert tuple(defined["state"]["enum"]) == STATES
    assert defined["bound"]["enum"] == ["limp", "stiff", "loose", "one_line", "lost"]
    assert defined["verdict"]["enum"] == ["within", "tight", "over", "not_assessed"]
    assert result_schema()["properties"]["verdict"]["enum"] == ["within", "tight", "incomplete", "over"]


def by_place(path: Path) -> list[str]:
    """Public functions of a module that take a second argument by its place."""
    found = []
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and len(node.args.args) > 1:
            found.append(node.name)
    return found


def test_numbers_go_in_by_name():
    """Two lengths told apart by their order alone are a wrong answer in waiting."""
    files = [
        path for room in ("arrays", "tables", "statics", "strength") for path in sorted((PACKAGE / room).rglob("*.py"))
    ]
    # numerator and denominator; symbol and heading of a step are texts
    assert [name for path in files for name in by_place(path)] == ["divide", "step"]

"""The glossary, the list of defaults, and the page written from them."""

import tomllib
from pathlib import Path

import pytest

from rigcheck.case import glossary
from rigcheck.case.docs.page import page
from rigcheck.case.reading.rules_line import RULES as LINE_RULES
from rigcheck.case.reading.rules_parts import RULES as PARTS_RULES
from rigcheck.case.schema.keys import Entry, all_key_paths, find_field, kind_of

PAGE = Path(__file__).parents[2] / "docs" / "cases.md"
ENTRIES = {entry.path: entry for entry in glossary()}


def test_the_page_is_the_one_written_from_the_models() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "run: python -m rigcheck.case.docs.page > docs/cases.md"


@pytest.mark.parametrize("entry", ENTRIES.values(), ids=ENTRIES.keys())
def test_every_key_is_explained(entry: Entry) -> None:
    assert entry.meaning
    assert entry.kind
    if entry.required:
        assert entry.example
        assert not entry.default


@pytest.mark.parametrize("entry", ENTRIES.values(), ids=ENTRIES.keys())
def test_every_default_has_a_source_or_says_what_it_takes_over(entry: Entry) -> None:
    _, field = find_field(tuple(entry.path.split(".")))
    assert field is not None
    if not field.required:
        assert bool(field.about.source) == (field.about.default is not None)
        assert not (field.about.source and field.about.derived)


def test_required_keys() -> None:
    required = {path for path, entry in ENTRIES.items() if entry.required}
    assert {"title", "box.length", "hanger.at", "perch.height", "line.link.kind", "water.flow"} <= required
    assert "hinge.height" not in required


@pytest.mark.parametrize("path", [path for path, entry in ENTRIES.items() if entry.example])
def test_every_example_is_accepted(path: str) -> None:
    value = tomllib.loads(f"x = {ENTRIES[path].example}")["x"]
    _, field = find_field(tuple(path.split(".")))
    assert field is not None
    kind = kind_of(field)
    assert kind is not None
    kind.read(value)


def test_paths_of_the_glossary_are_paths_of_the_models() -> None:
    assert set(ENTRIES) <= set(all_key_paths())
    assert "haul.tie_down.from" in ENTRIES
    assert "perch.post.brace.shape" in ENTRIES


def test_every_rule_is_a_sentence_of_its_own() -> None:
    sentences = [rule.sentence for rule in (*PARTS_RULES, *LINE_RULES)]
    assert all(sentence.endswith(".") for sentence in sentences)
    assert len(set(sentences)) == len(sentences)


def test_every_rule_looks_at_parts_that_exist() -> None:
    paths = set(all_key_paths())
    assert all(need in paths for rule in (*PARTS_RULES, *LINE_RULES) for need in rule.needs)


def test_the_page_holds_no_rig_to_copy() -> None:
    text = PAGE.read_text(encoding="utf-8")
    assert "```toml" not in text and "`cases/` holds whole rigs" in text

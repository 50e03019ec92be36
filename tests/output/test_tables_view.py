"""The published tables on a screen and as data: every row with its source, clause, and how it is known."""

import json

import pytest

from rigcheck.output.screen import Look
from rigcheck.output.tables.view import tables_data, tables_list, tables_screen
from rigcheck.tables.browse import blocks, search


@pytest.mark.parametrize("width", [60, 80, 120])
def test_everything_fits(width):
    look = Look(width=width)
    for text in (tables_screen(blocks(), look=look), tables_list(blocks(), look=look)):
        assert max(map(len, text.splitlines())) <= width


def test_every_row_is_there_with_its_origin():
    screen = " ".join(tables_screen(blocks(), look=Look(width=100_000)).split())
    for block in blocks():
        assert block.title in screen
        for row in block.rows:
            assert all(" ".join(cell.split()) in screen for cell in row.cells)
            assert f"({row.known})" in screen
            assert " ".join(row.source.split()) in screen and " ".join(row.clause.split()) in screen


def test_a_search_shows_only_what_holds_the_words():
    found = search(["HSS2x2x1/8"])
    screen = tables_screen(found, look=Look(width=80))
    assert "HSS2x2x1/8: " in screen and "HSS2x2x3/16" not in screen
    assert "source: AISC Shapes Database V16.0" in screen
    assert "source not checked: it was not, look it up" in " ".join(screen.split())
    one = search(["anchor", "shackle", "1/2"])
    rules = [line for line in tables_screen(one, look=Look(width=120)).splitlines() if line and not line.strip("-")]
    assert [len(line) for line in rules] == [len(f"{block.title} [{block.name}]") for block in one] and len(rules) > 0


def test_a_first_column_of_numbers_keeps_its_heading():
    assert "size [in] 0.5: " in tables_screen(search(["anchor", "shackle", "1/2"]), look=Look(width=80))


def test_data_is_the_same_as_the_tables():
    data = json.loads(json.dumps(tables_data(blocks()), allow_nan=False))
    assert len(data) == len(blocks())
    for found, block in zip(data, blocks(), strict=True):
        assert [tuple(row["cells"]) for row in found["rows"]] == [row.cells for row in block.rows]
        assert all(row["known"] for row in found["rows"])


def test_the_list_names_every_table():
    text = tables_list(blocks(), look=Look(width=80))
    words = set(text.replace(",", " ").split())
    assert {block.name for block in blocks()} <= words

"""All tables as text."""

from rigcheck.tables import browse
from rigcheck.tables.loader import NAMES, load


def test_every_row_of_every_file_is_shown_with_its_source():
    shown = browse.blocks()
    assert {block.file for block in shown} == set(NAMES)
    for block in shown:
        assert block.title and block.columns and block.known
        for row in block.rows:
            assert len(row.cells) == len(block.columns)
            assert row.source and row.clause and row.known in ("seen", "memory")
    chain = next(block for block in shown if (block.file, block.name) == ("chain", "wll"))
    assert len(chain.rows) == len(load("chain")["wll"]["row"])
    assert chain.columns[:3] == ("size [in]", "size label", "g30 WLL [lb]")
    assert chain.rows[0].cells[:3] == ("0.125", "1/8", "400")


def test_a_block_of_both_kinds_says_so():
    mixed = next(block for block in browse.blocks() if block.name == "cable_7x19_galvanized")
    assert mixed.known == "seen and memory"


def test_a_ratio_of_lengths_has_no_unit_and_tonnes_stay_tonnes():
    columns = {name for block in browse.blocks() for name in block.columns}
    assert {"h/t", "b/t"} <= columns
    assert {name for name in columns if "tonne" in name} == {"printed [tonne]"}


def test_search_narrows_to_rows():
    found = browse.search(["SHACKLE", "anchor", "7/8"])
    assert [block.name for block in found] == ["anchor_shackle"]
    assert [row.cells[1] for row in found[0].rows] == ["7/8"]


def test_search_by_title_gives_the_whole_table():
    found = browse.search(["bend efficiency"])
    assert [block.name for block in found] == ["bend_efficiency"]
    assert len(found[0].rows) == 2


def test_search_for_everything_and_nothing():
    assert browse.search([]) == browse.blocks()
    assert browse.search(["no such word"]) == ()

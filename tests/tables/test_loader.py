"""The table files: every row carries where it comes from, and long files can be read one row at a time."""

import time
import tomllib

import pytest

from rigcheck.tables import TableError, loader


@pytest.mark.parametrize("name", loader.NAMES)
def test_every_block_says_where_it_comes_from(name):
    data = loader.load(name)
    assert data["title"]
    for key, block in data.items():
        if isinstance(block, str):
            continue
        for one in block if isinstance(block, list) else [block]:
            assert one["source"] and one["clause"], f"{name}.{key}"
            assert one["known"] in ("seen", "memory"), f"{name}.{key}"


@pytest.mark.parametrize("name", loader.NAMES)
def test_no_table_promises_anything(name):
    words = loader.text(name).casefold().replace(",", " ").replace(".", " ").split()
    assert "safe" not in words


def test_one_line_rows_are_the_rows_of_the_whole_file():
    data = loader.load("hss_pipe")
    rows = data["hss"]["section"] + data["pipe"]["section"]
    assert len(rows) == 105
    for row in rows:
        assert loader.one_line_row("hss_pipe", key="name", value=row["name"]) == row
    assert loader.one_line_row("hss_pipe", key="name", value="HSS2x2") is None


@pytest.mark.parametrize("block", ["hss", "pipe"])
def test_block_head_is_the_block_without_its_rows(block):
    whole = dict(loader.load("hss_pipe")[block])
    del whole["section"]
    assert loader.block_head("hss_pipe", block=block, rows="section") == whole


def test_one_row_is_quicker_than_the_file():
    text = loader.text("hss_pipe")

    def best(call):
        times = []
        for _ in range(5):
            start = time.perf_counter()
            call()
            times.append(time.perf_counter() - start)
        return min(times)

    one = best(lambda: loader.one_line_row("hss_pipe", key="name", value="HSS4x4x1/2"))
    assert one < best(lambda: tomllib.loads(text)) / 5.0


def test_unknown_file_lists_the_files():
    with pytest.raises(TableError, match="wire_rope"):
        loader.load("wire")


def test_size_between_two_rows_is_refused_with_its_neighbors():
    rows = [{"d": 0.25}, {"d": 0.375}, {"d": 0.5}]
    assert loader.row_by_size(rows, key="d", size=0.375 + 5e-7, what="thing") is rows[1]
    with pytest.raises(TableError, match=r'no thing "0.3 in"; nearest: 0.25 in, 0.375 in; listed: 0.25 in'):
        loader.row_by_size(rows, key="d", size=0.3, what="thing")

"""Read the published tables that ship with the package."""

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from pkgutil import get_data  # a tenth of the cost of importlib.resources
from typing import Any

from rigcheck.tables.errors import TableError

NAMES = (
    "chain",
    "hss_pipe",
    "manning_n",
    "shackles",
    "sheet_gauge",
    "steel_grades",
    "tiedown_wll",
    "turnbuckles_eyebolts",
    "unit_weights",
    "wire_rope",
)


@cache
def text(name: str) -> str:
    """Return the text of one table file.

    Args:
        name: One of `NAMES`.

    Raises:
        TableError: No such table file.
    """
    if name not in NAMES:
        raise TableError("table file", name, NAMES)
    raw = get_data("rigcheck.tables", f"data/{name}.toml")
    assert raw is not None  # the loaders of files and of archives always have data
    return raw.decode("utf-8")


@cache
def load(name: str) -> Mapping[str, Any]:
    """Return one table file as parsed: block name to block; shared, so never write to it.

    Args:
        name: One of `NAMES`.

    Raises:
        TableError: No such table file.
    """
    return tomllib.loads(text(name))


def one_line_row(name: str, *, key: str, value: str) -> dict[str, Any] | None:
    """Parse the one inline row whose first key has this value; None when there is none.

    Reading one line takes microseconds where the whole file takes milliseconds. It relies on each row of the
    file being one line that starts with `key`; the tests hold the long tables to that.

    Args:
        name: One of `NAMES`.
        key: First key of the rows.
        value: Wanted text.
    """
    whole = text(name)
    start = whole.find(f'{{ {key} = "{value}",')
    if start < 0:
        return None
    line = whole[start : whole.index("\n", start)].rstrip().removesuffix(",")
    row: dict[str, Any] = tomllib.loads(f"row = {line}")["row"]
    return row


def row_by_size(rows: Sequence[Mapping[str, Any]], *, key: str, size: float, what: str) -> Mapping[str, Any]:
    """Return the row of exactly this size; tables are never read between their sizes.

    Args:
        rows: Rows of one block.
        key: Column that holds the size. [in]
        size: Wanted size. [in]
        what: Words for the error.

    Raises:
        TableError: No row within 1e-6 in of the size; lists the sizes.
    """
    for row in rows:
        if abs(row[key] - size) <= 1e-6:
            return row
    near = sorted((row[key] for row in rows), key=lambda listed: float(abs(listed - size)))[:2]
    raise TableError(
        what, f"{size:g} in", (f"{row[key]:g} in" for row in rows), nearest=(f"{listed:g} in" for listed in near)
    )


@cache
def block_head(name: str, *, block: str, rows: str) -> Mapping[str, Any]:
    """Return what a block says about itself, without parsing its rows.

    Args:
        name: One of `NAMES`.
        block: Block in that file.
        rows: Key of its list of rows, which comes last.
    """
    whole = text(name)
    start = whole.index(f"[{block}]")
    head: Mapping[str, Any] = tomllib.loads(whole[start : whole.index(f"\n{rows} = [", start) + 1])[block]
    return head

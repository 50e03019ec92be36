"""The command `tables`: the published tables that ship with the program."""

from __future__ import annotations

from typing import Annotated

import typer

from rigcheck.cli.codes import NOTHING_OVER, UNUSABLE_INPUT
from rigcheck.cli.options import AsJson, Everything, Width, look
from rigcheck.cli.output import complain, say, say_json

Words = Annotated[
    list[str] | None,
    typer.Argument(metavar="[WORDS]...", help="Show the rows that hold all of these words.", show_default=False),
]


def command(words: Words = None, *, as_json: AsJson = False, width: Width = 0, everything: Everything = False) -> int:
    """Search the published tables; without words, list them.

    Each row names its document and clause, and whether that source was checked.
    """
    from rigcheck.output.tables.view import tables_data, tables_list, tables_screen, too_many, too_many_words
    from rigcheck.tables.browse import search

    found = search(words or [])
    if not found:
        complain(f"no table and no row holds all of: {' '.join(words or [])}; `rigcheck tables` lists the tables")
        return UNUSABLE_INPUT
    if as_json:
        say_json(tables_data(found))
    elif words and too_many(found) and not everything:
        say(too_many_words(found, look=look(width)))
    elif words:
        say(tables_screen(found, look=look(width)))
    else:
        say(tables_list(found, look=look(width)))
    return NOTHING_OVER

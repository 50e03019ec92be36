"""The command `page`: the rig on a page of this machine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rigcheck.cli.codes import NOTHING_OVER, UNUSABLE_INPUT
from rigcheck.cli.options import OutputUnits, Units
from rigcheck.cli.output import complain, say

File = Annotated[
    Path | None,
    typer.Argument(metavar="FILE", help="The case file; a blank rig when not given.", show_default=False),
]
Port = Annotated[int, typer.Option("--port", min=0, max=65535, help="Port on this machine; 0 for a free one.")]
NoOpen = Annotated[bool, typer.Option("--no-open", help="Print the address and open no browser.")]
ReadOnly = Annotated[bool, typer.Option("--read-only", help="Show the rig and never write anything.")]


def command(
    file: File = None,
    *,
    port: Port = 0,
    no_open: NoOpen = False,
    read_only: ReadOnly = False,
    units: OutputUnits = Units.us,
) -> int:
    """Show the rig on a local page: drawn to scale, changed in shop units, checked anew at each change, saved back."""
    from rigcheck.page.book import Book
    from rigcheck.page.desk import Desk
    from rigcheck.page.serving import PortError, serve

    book = Book(file)
    book.read()
    desk = Desk(book, system=units.value, read_only=read_only)

    def ready(address: str) -> None:
        say(f"{address}\n")
        if not no_open:
            import webbrowser

            webbrowser.open(address)

    try:
        serve(desk, port=port, ready=ready)
    except PortError as error:
        complain(f"page: {error}")
        return UNUSABLE_INPUT
    return NOTHING_OVER

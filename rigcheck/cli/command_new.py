"""The command `new`: a case to start from, from flags or asked."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any

import typer

from rigcheck.cli.codes import NOTHING_OVER
from rigcheck.cli.options import Force
from rigcheck.cli.output import complain, refuse_existing, say, write_file

_Text = str | None


def _flag(name: str, words: str) -> Any:
    return typer.Option(f"--{name}", help=words, metavar="TEXT")


NewFile = Annotated[
    Path | None, typer.Argument(metavar="FILE", help="File to write; stdout when not given.", show_default=False)
]
Ask = Annotated[
    bool | None,
    typer.Option("--ask/--no-ask", help="Ask for what no flag gives; by itself at a terminal when no flag is given."),
]


def command(  # noqa: PLR0913 (its parameters are the options of the command line)
    file: NewFile = None,
    *,
    force: Force = False,
    ask: Ask = None,
    title: Annotated[_Text, _flag("title", "What the rig is called.")] = None,
    length: Annotated[_Text, _flag("length", "Hinge to tail, such as 9 ft 4 in.")] = None,
    width: Annotated[_Text, _flag("width", "Inside width.")] = None,
    side_height: Annotated[_Text, _flag("side-height", "Floor to top of the side.")] = None,
    pitch: Annotated[_Text, _flag("pitch", "Fall to the tail, such as 1 1/2 in/ft.")] = None,
    sheet: Annotated[_Text, _flag("sheet", "Thickness of the sheet, such as 14 ga.")] = None,
    flow: Annotated[_Text, _flag("flow", "Water, such as 190 gpm.")] = None,
) -> int:
    """Write a commented case to start from; every number in it is there to be replaced."""
    from rigcheck.case.errors import CaseError
    from rigcheck.case.starter import starter_text

    given = {"title": title, "length": length, "width": width, "side_height": side_height, "pitch": pitch,
             "sheet": sheet, "flow": flow}  # fmt: skip
    known = {key: value for key, value in given.items() if value is not None}
    if file is not None:
        refuse_existing(file, force=force)
    if ask or (ask is None and not known and sys.stdin.isatty() and sys.stderr.isatty()):
        known = _asked(list(given), known=known)
    try:
        text = starter_text(**known)
    except CaseError as error:
        raise CaseError(replace(one, file=_option(one.key) or one.file) for one in error.problems) from None
    if file is None:
        say(text)
    else:
        write_file(file, text=text, force=force)
        complain(f"{file}: written. Replace its numbers with what you measured, then: rigcheck check {file}")
    return NOTHING_OVER


def _option(path: str) -> str:
    """The option that gives a key, where there is one."""
    key = path.rpartition(".")[2]
    return f"--{key.replace('_', '-')}" if path in ("title", "water.flow") or path.startswith("box.") else ""


def _asked(keys: list[str], *, known: dict[str, str]) -> dict[str, str]:
    """Answers to questions, asked on stderr so that the case may go to stdout; an empty one takes what is shown."""
    from inspect import signature

    from rigcheck.case import CaseError
    from rigcheck.case.starter import starter_text

    found = dict(known)
    for key in (key for key in keys if key not in known):
        default = signature(starter_text).parameters[key].default
        while True:
            sys.stderr.write(f"{key.replace('_', ' ')} [{default}]: ")
            sys.stderr.flush()
            answer = sys.stdin.readline().strip()
            if not answer:
                break
            try:
                starter_text(**{**found, key: answer})
            except CaseError as error:
                for problem in error.problems:
                    complain(str(problem))
                continue
            found[key] = answer
            break
    return found

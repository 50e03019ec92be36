"""The command `new`: a case of what is said in flags or answers, and of nothing else."""

from __future__ import annotations

import sys
from collections.abc import Sequence
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
    typer.Option("--ask/--no-ask", help="Ask for what no option gives; by itself at a terminal."),
]


Said = Annotated[
    list[str] | None,
    typer.Option("--set", metavar="KEY=VALUE", show_default=False,
                 help="Any key of a case, such as hinge.spacing='25 in' or line.link[1].kind=shackle; repeat it."),
]  # fmt: skip
_FLAGS = {"title": "title", "length": "box.length", "width": "box.width", "side_height": "box.side_height",
          "pitch": "box.pitch", "sheet": "box.sheet", "flow": "water.flow"}  # fmt: skip


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
    said: Said = None,
) -> int:
    """Write a case file of what you say: asked in the order of the job at a terminal, from options elsewhere.

    Nothing is filled in. What you do not say stands in the file as a commented example.
    """
    from rigcheck.case.errors import CaseError
    from rigcheck.case.starter import starter_text

    given = {"title": title, "length": length, "width": width, "side_height": side_height, "pitch": pitch,
             "sheet": sheet, "flow": flow}  # fmt: skip
    known = {_FLAGS[key]: value for key, value in given.items() if value is not None} | _set(said or ())
    if file is not None:
        refuse_existing(file, force=force)
    try:
        if ask or (ask is None and sys.stdin.isatty() and sys.stderr.isatty()):
            from rigcheck.cli.asking import ask as ask_for

            known = ask_for(known)
        text = starter_text(known)
    except CaseError as error:
        raise CaseError(replace(one, file=_option(one.key)) for one in error.problems) from None
    if file is None:
        say(text)
    else:
        write_file(file, text=text, force=force)
        complain(f"{file}: written; what you did not say is not in it. Now: rigcheck check {file}")
    return NOTHING_OVER


def _set(said: Sequence[str]) -> dict[str, str]:
    """Keys and values of the option --set.

    Raises:
        CaseError: One has no equals sign.
    """
    from rigcheck.case.errors import CaseError, Problem, printable_line

    wrong = [Problem("options", "--set", f'"{printable_line(one)}" is not KEY=VALUE') for one in said if "=" not in one]
    if wrong:
        raise CaseError(wrong)
    pairs = (one.partition("=") for one in said)
    return {key.strip(): value.strip() for key, _, value in pairs}


def _option(path: str) -> str:
    """The option that gives a key."""
    flag = next((flag for flag, key in _FLAGS.items() if key == path), None)
    return f"--set {path}=" if flag is None else f"--{flag.replace('_', '-')}"

"""Gather the commands: every module of the folder commands brings one, its function `command`."""

from __future__ import annotations

import pkgutil
import re
from functools import cache
from importlib import import_module
from typing import Annotated, Any

import typer

import rigcheck.cli.commands
from rigcheck import __version__
from rigcheck.cli.codes import INTERRUPTED, NOTHING_OVER, UNUSABLE_INPUT
from rigcheck.cli.output import complain, say

ORDER = ("check", "page", "new", "length", "hardware", "materials", "props", "fold", "haul", "plant", "spread", "field",
         "proof", "card", "working", "report", "tables")  # fmt: skip

EPILOG = (
    "Exit codes: 0 nothing over and all of the load path assessed, 1 something over, 3 nothing over but incomplete, "
    "2 the input is unusable, 70 a bug of rigcheck. "
    "This is a check, not a certificate."
)


def command_names() -> list[str]:
    """Names of all commands, in the order of the job; those without a place come last."""
    names = [module.name for module in pkgutil.iter_modules(rigcheck.cli.commands.__path__)]
    return sorted(names, key=lambda name: (ORDER.index(name) if name in ORDER else len(ORDER), name))


def _version(wanted: bool) -> None:
    if wanted:
        say(f"rigcheck {__version__}\n")
        raise typer.Exit(NOTHING_OVER)


def _about(
    version: Annotated[
        bool, typer.Option("--version", help="Print the version and end.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Statics and part-by-part checks of a hinged, line-hung mobile sluice box."""


def build() -> typer.Typer:
    """The whole command line."""
    app = typer.Typer(
        name="rigcheck",
        add_completion=False,
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["-h", "--help"]},
        epilog=EPILOG,
    )
    app.callback(epilog=EPILOG)(_about)
    for name in command_names():
        command = import_module(f"rigcheck.cli.commands.{name}").command
        app.command(name, short_help=_in_short(command.__doc__ or ""))(command)
    return app


def _in_short(about: str) -> str:
    """What a command does, up to the first stop of its sentence: a line of the list of commands."""
    return re.split(r"[;:]|\.(?: |$)|, (?:and|in|with)\b", " ".join(about.split()))[0]


@cache
def _whole() -> Any:
    """The command line put together; once, for those who call it again and again."""
    return typer.main.get_command(build())


def run(arguments: list[str]) -> int:
    """Run one command.

    Args:
        arguments: What stands after the name of the program.

    Returns:
        Exit code of the command; 2 where the command line itself cannot be understood.
    """
    try:
        code = _whole()(args=arguments, prog_name="rigcheck", standalone_mode=False)
    except typer.Abort:
        return INTERRUPTED
    except Exception as error:
        show = getattr(error, "show", None)  # errors of usage know how to show themselves
        if show is None or not hasattr(error, "exit_code"):
            raise
        from rigcheck.case.reading.renamed import OPTIONS  # only a call that cannot be read pays for it

        new = OPTIONS.get(str(getattr(error, "option_name", "")))
        if new is None:
            show()
        else:
            complain(f"{getattr(error, 'option_name', '')} has a new name; write {new}")
        return UNUSABLE_INPUT
    return code if isinstance(code, int) else NOTHING_OVER

"""The command line: thin commands over the library, one exit code each."""

from rigcheck.cli.entry import main

__all__ = ["main"]

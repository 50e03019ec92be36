"""Write results to stdout and complaints to stderr; files whole or not at all, never over another one unasked."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any, TextIO


class OutputError(Exception):
    """Something cannot be written; the message says what and why."""


def prepare_streams() -> None:
    """A closed stream becomes nothing; letters that a console cannot show become question marks instead of errors."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115 (for the rest of the run)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def say(text: str) -> None:
    """Write text to stdout; a reader that went away is no error."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        _into_nothing(sys.stdout)
    except OSError as error:
        _into_nothing(sys.stdout)
        raise OutputError(f"the output cannot be written: {error.strerror or error}") from None


def say_json(data: Any) -> None:
    """Write data to stdout as UTF-8 JSON, one line for each entry of its top level and of its lists."""
    text = json_text(data)
    raw = getattr(sys.stdout, "buffer", None)
    if raw is None:
        say(text)
        return
    try:
        sys.stdout.flush()
        raw.write(text.encode("utf-8"))
        raw.flush()
    except BrokenPipeError:
        _into_nothing(sys.stdout)
    except OSError as error:
        _into_nothing(sys.stdout)
        raise OutputError(f"the output cannot be written: {error.strerror or error}") from None


def json_text(data: Any) -> str:
    """Data as JSON text; NaN and infinity are refused."""
    import json

    def plain(value: Any) -> str:
        return json.dumps(value, ensure_ascii=False, allow_nan=False)

    def entry(value: Any) -> str:
        if not isinstance(value, list) or not value:
            return plain(value)
        return "[\n  " + ",\n  ".join(plain(one) for one in value) + "\n ]"

    if not isinstance(data, dict):
        return entry(data) + "\n"
    return "{\n " + ",\n ".join(f"{plain(key)}: {entry(value)}" for key, value in data.items()) + "\n}\n"


def complain(text: str) -> None:
    """Write a line to stderr, if anybody listens."""
    try:
        print(text, file=sys.stderr, flush=True)
    except OSError:
        _into_nothing(sys.stderr)


def refuse_existing(path: Path, *, force: bool, case: Path | None = None) -> None:
    """Refuse a place that cannot be written to without harm, before any work is done.

    Args:
        path: Where something is to be written.
        force: Whether a file that is there may be replaced.
        case: The case that is read, which is replaced in no case.

    Raises:
        OutputError: It is a folder, the case itself, or a file that may not be replaced.
    """
    if case is not None and _same(path, case):
        raise OutputError(f"{path}: this is the case itself; name another file")
    if path.is_dir():
        raise OutputError(f"{path}: this is a folder, not a file")
    if not force and os.path.lexists(path):
        raise OutputError(f"{path}: there is a file already; --force replaces it")


def write_file(path: Path, *, text: str, force: bool) -> None:
    """Write a file whole or not at all.

    Args:
        path: Where.
        text: Its text, written as UTF-8.
        force: Whether a file that is there may be replaced.

    Raises:
        OutputError: It is there already, or cannot be written.
    """
    import tempfile

    name = str(path)
    refuse_existing(path, force=force)
    try:
        handle, temporary = tempfile.mkstemp(prefix=".rigcheck-", dir=path.parent)
    except OSError as error:
        raise OutputError(f"{name}: cannot be written: {error.strerror or error}") from None
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        _open_to_all(temporary)
        _put(temporary, name, force=force)
    except OSError as error:
        raise OutputError(f"{name}: cannot be written: {error.strerror or error}") from None
    finally:
        if os.path.lexists(temporary):
            os.unlink(temporary)


def _same(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):  # one of them is not there
        return False


def _put(temporary: str, name: str, *, force: bool) -> None:
    """Give the finished file its name; without force never over one that appeared meanwhile."""
    if force:
        os.replace(temporary, name)
        return
    try:
        os.link(temporary, name)
    except FileExistsError:
        raise OutputError(f"{name}: there is a file already; --force replaces it") from None
    except OSError:  # a file system without links
        os.replace(temporary, name)


def _open_to_all(temporary: str) -> None:
    """The permissions that a new file usually gets; a temporary one is closed to others."""
    mask = os.umask(0)
    os.umask(mask)
    os.chmod(temporary, 0o666 & ~mask)


def _into_nothing(stream: TextIO) -> None:
    """Point a broken stream at nothing, so that closing it at the end raises no second error."""
    try:
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, stream.fileno())
        os.close(nothing)
    except (OSError, ValueError):
        pass

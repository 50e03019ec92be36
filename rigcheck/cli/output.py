"""Write results to stdout and complaints to stderr; files whole or not at all, never over another one unasked."""

from __future__ import annotations

import os
import stat
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
    """Write a line to stderr, if anybody listens; names of files in it cannot move the cursor."""
    plain = "".join(letter if letter.isprintable() else "?" for letter in text)
    try:
        print(plain, file=sys.stderr, flush=True)
    except OSError:
        _into_nothing(sys.stderr)


def refuse_existing(path: Path, *, force: bool, case: Path | None = None) -> None:
    """Refuse a place that cannot be written to without harm, before any work is done.

    Args:
        path: Where something is to be written.
        force: Whether a file that is there may be replaced.
        case: The case that is read, which is replaced in no case.

    Raises:
        OutputError: It is a folder, a device, a pipe, the case itself, or a file that may not be replaced.
    """
    if case is not None and _same(path, case):
        raise OutputError(f"{path}: this is the case itself; name another file")
    try:
        kind = os.stat(path).st_mode
    except (OSError, ValueError):  # nothing is there, or what is there is found out when it is written
        kind = stat.S_IFREG
    if stat.S_ISDIR(kind):
        raise OutputError(f"{path}: this is a folder, not a file")
    if not stat.S_ISREG(kind):
        raise OutputError(f"{path}: this is a device or a pipe, not a file; name a file")
    if not force and os.path.lexists(path):
        raise OutputError(f"{path}: there is a file already; --force replaces it")


def write_file(path: Path, *, text: str, force: bool) -> None:
    """Write a file whole or not at all; one that is replaced keeps its mode, and a link stays and is followed.

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
        place = path.resolve() if force else path
        mode = _mode_of(place) if force else _usual_mode()
        handle, temporary = tempfile.mkstemp(prefix=".rigcheck-", dir=place.parent)
    except (OSError, ValueError, RuntimeError) as error:  # RuntimeError: a link that leads to itself
        raise OutputError(f"{name}: cannot be written: {_reason(error)}") from None
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, mode)
        refuse_existing(path, force=force)
        _put(temporary, place, name=name, force=force)
    except (OSError, ValueError) as error:
        raise OutputError(f"{name}: cannot be written: {_reason(error)}") from None
    finally:
        if os.path.lexists(temporary):
            os.unlink(temporary)


def _reason(error: Exception) -> str:
    if isinstance(error, OSError) and error.strerror:
        return error.strerror
    return "its name leads nowhere"


def _same(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):  # one of them is not there
        return False


def _put(temporary: str, place: Path, *, name: str, force: bool) -> None:
    """Give the finished file its name; without force never over one that appeared meanwhile."""
    if force:
        os.replace(temporary, place)
        return
    try:
        os.link(temporary, place)
    except FileExistsError:
        raise OutputError(f"{name}: there is a file already; --force replaces it") from None
    except OSError:  # a file system without links, or a name that cannot be; that is told by the next line
        os.replace(temporary, place)


def _mode_of(place: Path) -> int:
    """The permissions of a file that is there; else those that a new one usually gets."""
    try:
        return os.stat(place).st_mode & 0o777
    except FileNotFoundError:
        return _usual_mode()


def _usual_mode() -> int:
    """The permissions that a new file usually gets; a temporary one is closed to others."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _into_nothing(stream: TextIO) -> None:
    """Point a broken stream at nothing, so that closing it at the end raises no second error."""
    try:
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, stream.fileno())
        os.close(nothing)
    except (OSError, ValueError):
        pass

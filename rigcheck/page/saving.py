"""Save the page into its file: nothing else in it changes, whole or not at all, never over what somebody else wrote."""

from __future__ import annotations

import os
import tempfile
import tomllib
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rigcheck.case.errors import CaseError, Location
from rigcheck.case.reading.read import check_case
from rigcheck.page.book import Book, Copy, copy_of
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.changes import with_rows as data_with_rows
from rigcheck.page.edits import EditError, edited, edits_between, fresh_text, with_rows
from rigcheck.page.typed import location_of

BOM = b"\xef\xbb\xbf"


class NotSavedError(Exception):
    """Nothing was written; the message says why.

    Attributes:
        conflict: Whether another file stands on the disk than the one the page started from.
    """

    def __init__(self, why: str, *, conflict: bool = False) -> None:
        self.conflict = conflict
        super().__init__(why)


def new_bytes(copy: Copy, changes: Changes, *, name: str) -> bytes:
    """The file as it will be.

    Args:
        copy: The file that the page started from.
        changes: What the page changes.
        name: What problems call it.

    Returns:
        Its bytes: read again they are exactly what the page shows, and a case.

    Raises:
        NotSavedError: They would not be.
    """
    wanted = laid_over(copy.data, changes)
    try:
        check_case(wanted, name=name)
    except CaseError as error:
        raise NotSavedError(f"what stands on the page is no case yet: {error.problems[0]}") from None
    try:
        text = _changed(copy, changes, wanted)
        agrees = _same(tomllib.loads(text), wanted)
    except (EditError, ValueError, KeyError, IndexError, TypeError) as error:
        why = str(error) if isinstance(error, EditError) else "the file is written in a way that it does not change"
        raise NotSavedError(f"this page cannot save into this file: {why}. Save a copy instead.") from None
    if not agrees:
        raise NotSavedError("the new file would not read as what stands on the page. Save a copy instead.")
    return (BOM if copy.raw.startswith(BOM) else b"") + text.encode()


def _changed(copy: Copy, changes: Changes, wanted: dict[str, Any]) -> str:
    if not copy.raw:
        return fresh_text(wanted)
    text = copy.raw.decode("utf-8-sig")
    for table, order in changes.rows.items():
        if list(order) != list(range(1, _rows_of(copy.data, location_of(table)) + 1)):
            text = with_rows(text, table=location_of(table), order=order)
    for edit in edits_between(data_with_rows(copy.data, changes), wanted):
        text = edited(text, edit)
    return text


def _rows_of(data: Any, location: Location) -> int:
    step: Any
    for step in location:
        if not isinstance(data, dict | list) or (isinstance(data, dict) and step not in data):
            return 0
        data = data[step]
    return len(data)


def _fresh(copy: Copy, changes: Changes, *, name: str) -> bytes:
    wanted = laid_over(copy.data, changes)
    text = fresh_text(wanted)
    if not _same(tomllib.loads(text), wanted):
        raise NotSavedError("the copy would not read as what stands on the page")
    check_case(wanted, name=name)
    return text.encode()


def _same(one: Any, other: Any) -> bool:
    """Whether two values are alike, 1 and 1.0 and true being none of them."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(_same(a, b) for a, b in zip(one, other, strict=True))
    return type(one) is type(other) and bool(one == other)


@dataclass(frozen=True, slots=True)
class Saved:
    """What was written.

    Attributes:
        copy: The file as it is now.
        path: Where.
    """

    copy: Copy
    path: Path


def save(book: Book, changes: Changes) -> Saved:
    """Write what stands on the page into the file of the page.

    Args:
        book: The file.
        changes: What the page changes.

    Raises:
        NotSavedError: Nothing was written.
    """
    if book.path is None:
        raise NotSavedError("this rig has no file yet: give it a name")
    copy = book.copies.get(changes.base)
    if copy is None or book.on_disk() != changes.base:
        gone = book.on_disk() == "gone"
        why = "the file is not there any more" if gone else "the file was changed meanwhile"
        raise NotSavedError(f"{why}; nothing was written", conflict=not gone)
    raw = new_bytes(copy, changes, name=book.name)
    write_over(book.path, raw)
    return Saved(book.keep(copy_of(raw)), book.path)


def save_as(book: Book, changes: Changes, *, name: str, folder: Path) -> Saved:
    """Write what stands on the page into a new file in the folder of the case.

    Args:
        book: The file that the page started from.
        changes: What the page changes.
        name: Name of the new file.
        folder: Where a rig without a file goes.

    Raises:
        NotSavedError: Nothing was written.
    """
    plain = name.strip().removesuffix(".toml")
    letters = all(letter.isalnum() or letter in " -_+." for letter in plain)
    if not plain or len(plain) > 80 or not letters or plain.startswith((".", " ")) or not plain.isprintable():
        raise NotSavedError("a name has letters, digits, blanks, - and _ only")
    path = (folder if book.path is None else book.path.parent) / f"{plain}.toml"
    copy = book.copies.get(changes.base)
    if copy is None:
        raise NotSavedError("the page started from a file that is not known any more: load it anew")
    try:
        raw = new_bytes(copy, changes, name=path.name)
    except NotSavedError:
        raw = _copy_bytes(copy, changes, name=path.name)
    _write_new(path, raw)
    return Saved(copy_of(raw), path)


def _copy_bytes(copy: Copy, changes: Changes, *, name: str) -> bytes:
    try:
        return _fresh(copy, changes, name=name)
    except CaseError as error:
        raise NotSavedError(f"what stands on the page is no case yet: {error.problems[0]}") from None
    except (EditError, ValueError, KeyError, IndexError, TypeError):
        raise NotSavedError("the copy cannot be written") from None


def write_over(path: Path, raw: bytes) -> None:
    """Replace a file by a whole new one of the same mode; a link is followed.

    Raises:
        NotSavedError: It cannot be written; the old one is as it was.
    """
    try:
        place = path.resolve(strict=True)
        if not place.is_file():
            raise NotSavedError("this is a device or a pipe, not a file; nothing was changed")
        mode = place.stat().st_mode & 0o7777
        temporary = _temporary(place.parent, raw, mode=mode)
        try:
            os.replace(temporary, place)
        except OSError:
            os.unlink(temporary)
            raise
        _settle(place.parent)
    except OSError as error:
        raise NotSavedError(f"the file cannot be written: {error.strerror or error}; nothing was changed") from None


def _write_new(path: Path, raw: bytes) -> None:
    try:
        mask = os.umask(0)
        os.umask(mask)
        temporary = _temporary(path.parent, raw, mode=0o666 & ~mask)
        try:
            os.link(temporary, path)  # fails where there is one of the name
        finally:
            os.unlink(temporary)
        _settle(path.parent)
    except FileExistsError:
        raise NotSavedError(f"there is a file {path.name} already; give another name") from None
    except OSError as error:
        raise NotSavedError(f"the copy cannot be written: {error.strerror or error}") from None


def _temporary(folder: Path, raw: bytes, *, mode: int) -> str:
    handle, name = tempfile.mkstemp(prefix=".rigcheck-", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, mode)
    except OSError:
        with suppress(OSError):
            os.unlink(name)
        raise
    return name


def _settle(folder: Path) -> None:
    """Put the new name of a file on the disk too."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

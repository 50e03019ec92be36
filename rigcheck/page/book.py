"""The case file of a page: its bytes when they were read, and what stands on the disk now."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from rigcheck.case.errors import CaseError, printable_line
from rigcheck.case.reading.read import file_bytes, file_name, read_case_bytes
from rigcheck.wording.plain import PlainView


@dataclass(frozen=True, slots=True)
class Copy:
    """A file as it was read.

    Attributes:
        raw: Its bytes; none for a blank rig.
        data: Its keys and values, parsed.
        sha256: Of its bytes; empty for a blank rig.
    """

    raw: bytes = b""
    data: PlainView = field(default_factory=dict)
    sha256: str = ""


BLANK = Copy()


def copy_of(raw: bytes) -> Copy:
    """What a page works from.

    Args:
        raw: Bytes of a file that is TOML in UTF-8.
    """
    return Copy(raw, tomllib.loads(raw.decode("utf-8-sig")), sha256(raw).hexdigest())


@dataclass(slots=True)
class Book:
    """The one file of a page.

    Attributes:
        path: Where it is; None for a blank rig that was not saved yet.
        copies: Copies read so far by their hash, the newest last; a page may still stand on an older one.
    """

    path: Path | None
    copies: dict[str, Copy] = field(default_factory=lambda: {"": BLANK})

    @property
    def name(self) -> str:
        """What the page and its problems call the file."""
        return "new rig" if self.path is None else printable_line(file_name(self.path))

    @property
    def newest(self) -> Copy:
        """The copy read last."""
        return next(reversed(self.copies.values()))

    def read(self) -> Copy:
        """Read the file as a case.

        Returns:
            The copy, kept from now on.

        Raises:
            CaseError: It is no case.
        """
        if self.path is None:
            return BLANK
        raw = file_bytes(self.path)
        read_case_bytes(raw, name=self.name)
        return self.keep(copy_of(raw))

    def keep(self, copy: Copy) -> Copy:
        """Remember a copy as the newest."""
        self.copies.pop(copy.sha256, None)
        self.copies[copy.sha256] = copy
        return copy

    def on_disk(self) -> str:
        """Hash of what stands on the disk now; "gone" where nothing can be read there."""
        if self.path is None:
            return ""
        try:
            return sha256(file_bytes(self.path)).hexdigest()
        except CaseError:
            return "gone"

"""The file that a case was read from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """The file a result was made from: its name and the SHA-256 of its bytes."""

    file: str
    sha256: str

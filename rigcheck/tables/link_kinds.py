"""Kinds of link in a line, each one record: what a case may call it and what it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

LinkKind = Literal[
    "shackle",
    "wire rope",
    "chain",
    "hook",
    "turnbuckle",
    "eyebolt",
    "lever hoist",
    "come-along",
    "rated part",
]
"""Words that a case file has for it; the record of each stands in `LINK_KINDS`."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class KindOfLink:
    """What one kind of link is.

    Attributes:
        hoist: Whether it pulls: known only by its mark, which says too whether it may hold a hung load.
        marked: Whether it is known only by the load marked on it.
        stiff: Whether it gives nothing beside rope.
        adjusts: Whether its length can be set.
    """

    hoist: bool = False
    marked: bool = False
    stiff: bool = False
    adjusts: bool = False


LINK_KINDS: dict[LinkKind, KindOfLink] = {
    "shackle": KindOfLink(stiff=True),
    "wire rope": KindOfLink(),
    "chain": KindOfLink(),
    "hook": KindOfLink(stiff=True, marked=True),
    "turnbuckle": KindOfLink(stiff=True, adjusts=True),
    "eyebolt": KindOfLink(stiff=True),
    "lever hoist": KindOfLink(hoist=True, marked=True, adjusts=True),
    "come-along": KindOfLink(hoist=True, marked=True, adjusts=True),
    "rated part": KindOfLink(stiff=True, marked=True),
}
HOISTS: tuple[LinkKind, ...] = tuple(kind for kind, what in LINK_KINDS.items() if what.hoist)

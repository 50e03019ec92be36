"""The first questions of a blank rig, in the order of the job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigcheck.case.errors import Problem
from rigcheck.case.questions import of_link
from rigcheck.page.typed import field_of, found_at, location_of

FIRST = (
    "title",
    "box.length", "box.width", "box.side_height", "box.pitch", "box.sheet",
    "hinge.spacing", "hinge.above_ground",
    "perch.height", "perch.downstream", "perch.spacing",
    "hanger.at", "hanger.height", "hanger.spacing",
    "line.link[1].kind",
    "water.flow", "bed.depth",
)  # fmt: skip
"""Box, hinge, perches, lines, water: the rest is asked by the list of what is not assessed."""
_LATER = ("length",)  # one link alone does not reach
_LINK = "line.link[1]"
FIRST_ROWS = {"line.link": (0,)}
"""Rows that a blank rig begins with, so that there is a field to fill."""


def first_of(data: Mapping[str, Any]) -> tuple[str, ...]:
    """The first questions to what was answered so far: of a link that its kind is asked for."""
    kind = found_at(data, location_of(f"{_LINK}.kind"))
    asked = (
        [f"{_LINK}.{key}" for key in of_link(kind) if key not in _LATER] if isinstance(kind, str) else [f"{_LINK}.wll"]
    )
    place = FIRST.index(f"{_LINK}.kind") + 1
    return (*FIRST[:place], *asked, *FIRST[place:])


def _needed(path: str) -> bool:
    steps = path.split(".")
    return all(field_of(".".join(steps[: n + 1]).removesuffix("[1]")).required for n in range(len(steps)))


NEEDED = tuple(path for path in FIRST if _needed(path))
"""Those that every answer needs."""


def label_of(path: str) -> str:
    """A first question in words, such as `box length` or `line link 1 kind`."""
    return path.replace("[", " ").replace("]", "").replace(".", " ").replace("_", " ")


def still_needed(data: Mapping[str, Any]) -> list[str]:
    """First questions that every answer needs and that have no answer yet, in their order."""
    return [path for path in NEEDED if found_at(data, location_of(path)) is None]


def beside_needed(problems: Sequence[Problem], *, needed: Sequence[str]) -> list[Problem]:
    """Problems that are not just that something needed is not there yet."""

    def awaited(key: str) -> bool:
        return key in needed or any(path.startswith((f"{key}.", f"{key}[")) for path in needed)

    return [one for one in problems if not awaited(one.key)]

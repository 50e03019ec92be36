"""From something that is not assessed to the place of the form where it is described."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.page.typed import BadRequestError, field_of, location_of

_SAID_ELSEWHERE = {"hinge.barrel": "hinge.barrels", "box.twist": "cross_member", "floor.spans": "cross_member"}
"""What is missing, to the key or part that says it, where it is none itself."""


def anchor_of(id: str, *, data: Mapping[str, Any]) -> str:
    """The id of a field or part of the form, of the part that is to be described first; empty for none.

    Args:
        id: Of what is missing, rows counted from 0 as in `line.link.0.mbf`.
        data: The numbers on the page.
    """
    path = _path(_SAID_ELSEWHERE.get(id, id))
    while path:
        try:
            field = field_of(path)
        except BadRequestError:
            path = path.rpartition(".")[0]
            continue
        absent = _absent(path, data)
        return f"p-{absent}" if absent else f"{'p' if field.section is not None else 'k'}-{path}"
    return ""


def _path(id: str) -> str:
    found = ""
    for step in id.split("."):
        found += f"[{int(step) + 1}]" if step.isdigit() else f".{step}" if found else step
    return found


def _absent(path: str, data: Any) -> str:
    """The outermost part on the way to a key that is not described; empty where the way is there."""
    here, way = data, ""
    for step in location_of(path):
        if isinstance(step, int):
            way += f"[{step + 1}]"
            here = here[step] if isinstance(here, list) and step < len(here) else None
        else:
            way = f"{way}.{step}".removeprefix(".")
            field = field_of(way)
            if field.section is None:
                return ""
            here = here.get(step) if isinstance(here, Mapping) else None
            if not isinstance(here, Mapping | list) and field.about.default != {}:
                return way
    return ""

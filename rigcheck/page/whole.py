"""An answer with its picture, everything that the page shows of some numbers at once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.page.answer import Answer
from rigcheck.page.picture import frame_of, picture
from rigcheck.page.telling import answer_html, status_text, why_html
from rigcheck.quantities import System
from rigcheck.wording.plain import Plain


def told_whole(answer: Answer, *, data: Mapping[str, Any], view: str, frame: Any, system: System) -> Plain:
    """An answer as the page shows it.

    Args:
        answer: The answer.
        data: The numbers that it is for, as they stand on the page.
        view: Which drawing.
        frame: What the drawing showed before, so that it stands still; None where it may move.
        system: Units.
    """
    found: Plain = {"hash": answer.hash, "word": answer.word, "status": status_text(answer)}
    found["answer"] = answer_html(answer)
    found["problems"] = problems(answer)
    if answer.found is None:
        return {**found, "code": "unreadable", "why": why_html(answer, data=data), "grips": []}
    shown = picture(answer, view=view, system=system, frame=frame_of(frame), data=data)
    found["why"] = why_html(answer, data=data, loads=shown.pop("loads"))
    return {**found, "code": "ok", **shown}


def problems(answer: Answer) -> dict[str, str]:
    """What is wrong, key by key; what hangs on no key stands under an empty one."""
    found: dict[str, str] = {}
    for one in answer.problems:
        found[one.key] = f"{found[one.key]}; {one.sentence}" if one.key in found else one.sentence
    return found

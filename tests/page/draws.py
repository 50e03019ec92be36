"""Changes drawn by lot, as somebody at the page might make them; a few of them cannot be read."""

import random
import re
from typing import Any

from rigcheck.page.typed import text_of

_NUMBER = re.compile(r"(?:(\d+) ft )?(\d+(?:\.\d+)?(?!/))? ?(?:(\d+)/(\d+))? ?([a-z%][a-z0-9/%]*)?")
_WILD = ("", "8", "nonsense", "-3 in", "1 1/2 in", "400 in", "0 in", "95 %", "unknown", "3")


def drawn_change(draw: random.Random, data: dict[str, Any], *, most: int = 3) -> dict[str, str | None]:
    """Up to so many keys of a case with other texts."""
    keys = [(key, text) for key, text in _texts(data, "") if "[" not in key]
    found: dict[str, str | None] = {}
    for key, text in draw.sample(keys, draw.randint(1, most)):
        found[key] = draw.choice(_WILD) or None if draw.random() < 0.1 else _moved(draw, text)
    return found


def _moved(draw: random.Random, text: str) -> str:
    """The same with its number a little larger or smaller; feet and inches become inches."""
    found = _NUMBER.fullmatch(text)
    if found is None:
        return text
    feet, whole, top, bottom, unit = found.groups()
    value = 12.0 * float(feet or 0) + float(whole or 0) + (float(top) / float(bottom) if top else 0.0)
    return f"{value * draw.uniform(0.8, 1.25):.4g} {unit}".strip()


def _texts(data: Any, path: str) -> list[tuple[str, str]]:
    found = []
    for key, value in data.items():
        below = f"{path}.{key}".removeprefix(".")
        if isinstance(value, dict):
            found += _texts(value, below)
        elif not isinstance(value, list):
            found.append((below, text_of(value)))
    return found

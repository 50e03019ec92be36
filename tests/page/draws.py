"""Changes drawn by lot, as somebody at the page might make them; a few of them cannot be read."""

import random
from typing import Any

from rigcheck.page.typed import text_of

_WILD = ("", "8", "nonsense", "-3 in", "1 1/2 in", "400 in", "0 in", "95 %", "unknown", "3")


def drawn_change(draw: random.Random, data: dict[str, Any], *, most: int = 3) -> dict[str, str | None]:
    """Up to so many keys of a case with other texts."""
    keys = [(key, text) for key, text in _texts(data, "") if "[" not in key]
    found: dict[str, str | None] = {}
    for key, text in draw.sample(keys, draw.randint(1, most)):
        found[key] = draw.choice(_WILD) or None if draw.random() < 0.15 else _moved(draw, text)
    return found


def _moved(draw: random.Random, text: str) -> str:
    """The same with its first number a little larger or smaller."""
    head, _, rest = text.partition(" ")
    if not head.replace(".", "", 1).isdigit():
        return text
    value = float(head) * draw.uniform(0.7, 1.3)
    if "ft" in rest and "in" in rest:
        return f"{max(round(value), 1)} {rest}"
    return f"{value:.3g} {rest}".strip()


def _texts(data: Any, path: str) -> list[tuple[str, str]]:
    found = []
    for key, value in data.items():
        below = f"{path}.{key}".removeprefix(".")
        if isinstance(value, dict):
            found += _texts(value, below)
        elif not isinstance(value, list):
            found.append((below, text_of(value)))
    return found

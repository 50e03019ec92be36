"""A parsed case as somebody would type it into an empty page."""

from typing import Any

from rigcheck.page.typed import text_of


def everything_typed(data: dict[str, Any]) -> tuple[dict[str, str], dict[str, list[int]]]:
    """Keys with their text, and the rows that must be there for them."""
    typed: dict[str, str] = {}
    rows: dict[str, list[int]] = {}

    def walk(here: dict[str, Any], path: str) -> None:
        for key, value in here.items():
            below = f"{path}.{key}".removeprefix(".")
            if isinstance(value, dict):
                walk(value, below)
            elif isinstance(value, list) and isinstance(value[0], dict):
                rows[below] = [0] * len(value)
                for number, row in enumerate(value, 1):
                    walk(row, f"{below}[{number}]")
            else:
                typed[below] = text_of(value)

    walk(data, "")
    return typed, rows

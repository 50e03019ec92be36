"""The JSON Schema of each command's result, as shipped beside what writes them."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any


@cache
def result_schema() -> dict[str, Any]:
    """The schema of `rigcheck.result/2`, JSON Schema 2020-12."""
    return _read("result")


@cache
def command_schema(command: str) -> dict[str, Any]:
    """The schema of what a command gives with `--json`.

    Args:
        command: Its name, such as "fold"; not "report", whose parts are those of the others.
    """
    return result_schema() if command == "check" else _read(command)


def _read(name: str) -> dict[str, Any]:
    import json

    found: dict[str, Any] = json.loads(files(__name__).joinpath(f"{name}.schema.json").read_text(encoding="utf-8"))
    return found

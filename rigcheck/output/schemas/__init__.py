"""The JSON Schema of the results, as shipped beside what writes them."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any


@cache
def result_schema() -> dict[str, Any]:
    """The schema of `rigcheck.result/2`, JSON Schema 2020-12."""
    import json

    found: dict[str, Any] = json.loads(files(__name__).joinpath("result.schema.json").read_text(encoding="utf-8"))
    return found

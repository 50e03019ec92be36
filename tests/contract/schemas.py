"""Write the schema of each command's JSON from what the commands say of every shipped case.

    python -m tests.contract.schemas

writes rigcheck/output/schemas/COMMAND.schema.json; that of `check` is written by hand beside them. Further keys are
allowed everywhere, so that a key may be added; one that is renamed, goes or changes its type breaks the schema.
"""

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from tests.contract.once import asked_once
from tests.support.lot import call

ROOT = Path(__file__).parents[2]
CASES = sorted((ROOT / "cases").glob("*.toml"))
FOLDER = ROOT / "rigcheck" / "output" / "schemas"
QUICK = ("fold", "haul", "proof", "plant", "card", "materials", "working", "props", "field --weight=600lb")
SLOW = ("hardware", "length --points=5", "spread --samples=20")
"""Commands that take seconds: each case is asked one of them, in turn."""
MANY = 25  # different keys from which a table is one by names of the case and not by ours
_TYPES = ((bool, "boolean"), ((int, float), "number"), (str, "string"), (list, "array"), (dict, "object"))
Schema = dict[str, Any]


def commands_of(case: Path) -> tuple[str, ...]:
    """Commands that a case is asked, with their options."""
    return (*QUICK, SLOW[CASES.index(case) % len(SLOW)])


def schema_of(values: Iterable[Any]) -> Schema:
    """What values at one place have in common: their types, the keys that all of them have, what is under each."""
    every = list(values)
    found: Schema = {}
    types = sorted({_type(value) for value in every})
    if types:
        found["type"] = types[0] if len(types) == 1 else types
    tables = [value for value in every if isinstance(value, dict)]
    if tables:
        keys = list(dict.fromkeys(key for one in tables for key in one))
        if len(keys) > MANY and any(len(one) < len(keys) for one in tables):
            found["additionalProperties"] = schema_of(value for one in tables for value in one.values())
        else:
            found["properties"] = {key: schema_of(one[key] for one in tables if key in one) for key in sorted(keys)}
            found["required"] = sorted(key for key in keys if all(key in one for one in tables))
    rows = [row for value in every if isinstance(value, list) for row in value]
    if rows:
        found["items"] = schema_of(rows)
    return found


def _type(value: Any) -> str:
    return next((name for kind, name in _TYPES if isinstance(value, kind)), "null")


def answers() -> Iterator[tuple[str, Any]]:
    """Command and JSON of every call."""
    for case in CASES:
        with asked_once():
            for command in commands_of(case):
                name, *more = command.split()
                _, text, _ = call(name, str(case), *more, "--json")
                yield name, json.loads(text)


def main() -> None:
    """Write the schemas."""
    told: dict[str, list[Any]] = {}
    for name, data in answers():
        told.setdefault(name, []).append(data)
    for name, every in told.items():
        schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": every[0]["schema"]}
        schema |= schema_of(every)
        schema["properties"]["schema"] = {"const": every[0]["schema"]}
        (FOLDER / f"{name}.schema.json").write_text(f"{json.dumps(schema, indent=1)}\n", encoding="utf-8")


if __name__ == "__main__":
    main()

"""Write the schema of each command's JSON from what the commands say of every shipped case.

    python -m tests.contract.schemas
    python -m tests.contract.schemas report

writes rigcheck/output/schemas/COMMAND.schema.json, of all commands or of those named; that of `check` is written by
hand. Further keys are allowed everywhere, so that a key may be added; one that is renamed, goes or changes its type
breaks the schema.
"""

import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from rigcheck.case.reading.read import read_case
from rigcheck.output.report.packet import packet
from rigcheck.studies.vary.case import with_values
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
MAY_LACK = ("body", "rail_diagrams", "fold", "length", "neighbors", "haul", "working", "confirm", "fixes")
"""Parts of a packet that a case may be without."""
Schema = dict[str, Any]


def commands_of(case: Path) -> tuple[str, ...]:
    """Commands that a case is asked, with their options."""
    return (*QUICK, SLOW[CASES.index(case) % len(SLOW)])


def report_of(case: Path) -> str:
    """The call of `report`, which prints no screen: with all that takes time for a few cases alone."""
    return "report" if CASES.index(case) % 4 == 0 else "report --no-length --no-working"


def schema_of(values: Iterable[Any], *, top: bool = False) -> Schema:
    """What values at one place have in common: their types, the keys that all of them have, what is under each.

    The answer of another command inside of one is told by its name alone: it has a schema of its own.
    """
    every = list(values)
    found: Schema = {}
    types = sorted({_type(value) for value in every})
    if types:
        found["type"] = types[0] if len(types) == 1 else types
    tables = [value for value in every if isinstance(value, dict)]
    names = {one.get("schema") for one in tables}
    if len(names) == 1 and None not in names and not top:
        return {**found, "properties": {"schema": {"const": names.pop()}}, "required": ["schema"]}
    if tables:
        keys = list(dict.fromkeys(key for one in tables for key in one))
        if not top and len(keys) > MANY and any(len(one) < len(keys) for one in tables):
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


def answers(wanted: Iterable[str]) -> Iterator[tuple[str, Any]]:
    """Command and JSON of every call; of all commands where none is wanted."""
    named = frozenset(wanted)
    for case in CASES:
        with asked_once():
            for command in (*commands_of(case), report_of(case)):
                name, *more = command.split()
                if named and name not in named:
                    continue
                _, text, _ = call(name, str(case), *more, "--json")
                yield name, json.loads(text)


def hauled() -> Any:
    """The packet of a rig that straps too weak for the gust govern, which no shipped case is."""
    case = read_case(next(path for path in CASES if path.stem == "larkspur-bar"))
    weak = {f"haul.tie_down.{i}.wll": 300.0 for i in range(len(case.haul.tie_down))}
    return packet(with_values(case, weak), source=None, text='title = "weak straps"', curves=False, working=False)


def main() -> None:
    """Write the schemas."""
    told: dict[str, list[Any]] = {}
    for name, data in answers(sys.argv[1:]):
        told.setdefault(name, []).append(data)
    if "report" in told:
        told["report"].append(json.loads(json.dumps(hauled())))
    for name, every in told.items():
        schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": every[0]["schema"]}
        schema |= schema_of(every, top=True)
        schema["properties"]["schema"] = {"const": every[0]["schema"]}
        for key in MAY_LACK if name == "report" else ():
            types = schema["properties"][key]["type"]
            schema["properties"][key]["type"] = sorted({*([types] if isinstance(types, str) else types), "null"})
        (FOLDER / f"{name}.schema.json").write_text(f"{json.dumps(schema, indent=1)}\n", encoding="utf-8")


if __name__ == "__main__":
    main()

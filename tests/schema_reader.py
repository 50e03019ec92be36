"""The part of JSON Schema 2020-12 that our schemas use, so that the tests need no library for it."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

_TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "boolean": (bool,),
    "number": (int, float),
    "null": (type(None),),
}
KNOWN = {
    "$schema", "$defs", "$ref", "title", "description", "type", "properties", "required", "additionalProperties",
    "items", "enum", "const", "anyOf", "pattern", "minimum", "maximum",
}  # fmt: skip


def is_type(value: Any, name: str) -> bool:
    if isinstance(value, bool):
        return name == "boolean"
    return isinstance(value, _TYPES[name])


def problems(value: Any, *, schema: Mapping[str, Any], root: Mapping[str, Any], at: str = "$") -> Iterator[str]:
    """Where a value breaks a schema; a word that this reader does not know is an error of the test."""
    assert not schema.keys() - KNOWN, schema.keys() - KNOWN
    if "$ref" in schema:
        target = root
        for step in schema["$ref"].removeprefix("#/").split("/"):
            target = target[step]
        yield from problems(value, schema=target, root=root, at=at)
    if "type" in schema:
        names = [schema["type"]] if isinstance(schema["type"], str) else schema["type"]
        if not any(is_type(value, name) for name in names):
            yield f"{at}: {value!r} is no {' or '.join(names)}"
            return
    yield from _of_value(value, schema=schema, at=at)
    if "anyOf" in schema:
        tries = [list(problems(value, schema=one, root=root, at=at)) for one in schema["anyOf"]]
        if all(tries):
            yield from min(tries, key=len)
    if isinstance(value, dict):
        yield from _of_object(value, schema=schema, root=root, at=at)
    if isinstance(value, list) and "items" in schema:
        for number, one in enumerate(value):
            yield from problems(one, schema=schema["items"], root=root, at=f"{at}[{number}]")


def _of_value(value: Any, *, schema: Mapping[str, Any], at: str) -> Iterator[str]:
    if "enum" in schema and value not in schema["enum"]:
        yield f"{at}: {value!r} is none of {schema['enum']}"
    if "const" in schema and value != schema["const"]:
        yield f"{at}: {value!r} is not {schema['const']!r}"
    if isinstance(value, str) and "pattern" in schema and not re.search(schema["pattern"], value):
        yield f"{at}: {value!r} does not match {schema['pattern']}"
    if is_type(value, "number") and not schema.get("minimum", value) <= value <= schema.get("maximum", value):
        yield f"{at}: {value!r} is out of range"


def _of_object(value: dict[str, Any], *, schema: Mapping[str, Any], root: Mapping[str, Any], at: str) -> Iterator[str]:
    declared = schema.get("properties", {})
    for name in schema.get("required", ()):
        if name not in value:
            yield f"{at}: {name} is missing"
    for name, inner in value.items():
        if name in declared:
            yield from problems(inner, schema=declared[name], root=root, at=f"{at}.{name}")
        elif schema.get("additionalProperties") is False:
            yield f"{at}: {name} is not in the schema"


def broken(value: Any, *, schema: Mapping[str, Any]) -> list[str]:
    """Everything at which a value breaks a schema."""
    return list(problems(value, schema=schema, root=schema))

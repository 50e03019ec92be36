"""The part of JSON Schema 2020-12 that our schemas use, so that the tests need no library for it.

A schema is put together once into nested functions; each takes a value and gives what is wrong with it, with the steps
that lead there. What is right costs no text.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any, TypeAlias

Step: TypeAlias = str | int
Wrong: TypeAlias = tuple[tuple[Step, ...], str]
Look: TypeAlias = Callable[[Any], list[Wrong]]

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
_FINE: list[Wrong] = []
_MADE: dict[int, tuple[Mapping[str, Any], Look]] = {}


def is_type(value: Any, name: str) -> bool:
    if isinstance(value, bool):
        return name == "boolean"
    return isinstance(value, _TYPES[name])


def broken(value: Any, *, schema: Mapping[str, Any]) -> list[str]:
    """Everything at which a value breaks a schema."""
    if id(schema) not in _MADE:
        _MADE[id(schema)] = schema, _Maker(schema).look(schema)
    return [f"{_path(steps)}: {text}" for steps, text in _MADE[id(schema)][1](value)]


def _path(steps: Iterable[Step]) -> str:
    return "$" + "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps)


class _Maker:
    """Puts the functions of one schema together; a part that is referred to is made once."""

    def __init__(self, root: Mapping[str, Any]) -> None:
        self.root = root
        self.made: dict[str, Look] = {}

    def look(self, schema: Mapping[str, Any]) -> Look:
        """A word that this reader does not know is an error of the test."""
        assert not schema.keys() - KNOWN, schema.keys() - KNOWN
        rest: list[Look] = []
        if "$ref" in schema:
            rest.append(self._reference(schema["$ref"]))
        rest += _of_value(schema)
        if "anyOf" in schema:
            rest.append(_any_of([self.look(one) for one in schema["anyOf"]]))
        if schema.keys() & {"properties", "required", "additionalProperties"}:
            rest.append(self._of_object(schema))
        if "items" in schema:
            rest.append(_of_list(self.look(schema["items"])))
        names = schema.get("type", [])
        allowed = [names] if isinstance(names, str) else names

        kinds = tuple(kind for name in allowed if name != "boolean" for kind in _TYPES[name])

        def whole(value: Any) -> list[Wrong]:
            fits = "boolean" in allowed if isinstance(value, bool) else isinstance(value, kinds)
            if allowed and not fits:
                return [((), f"{value!r} is no {' or '.join(allowed)}")]
            return [one for look in rest for one in look(value)] if rest else _FINE

        return whole

    def _reference(self, name: str) -> Look:
        def later(value: Any) -> list[Wrong]:
            if name not in self.made:
                target: Any = self.root
                for step in name.removeprefix("#/").split("/"):
                    target = target[step]
                self.made[name] = self.look(target)
            return self.made[name](value)

        return later

    def _of_object(self, schema: Mapping[str, Any]) -> Look:
        declared = {name: self.look(inner) for name, inner in schema.get("properties", {}).items()}
        required, closed = schema.get("required", ()), schema.get("additionalProperties") is False

        def look(value: Any) -> list[Wrong]:
            if not isinstance(value, dict):
                return []
            wrong: list[Wrong] = [((), f"{name} is missing") for name in required if name not in value]
            for name, inner in value.items():
                if name in declared:
                    found = declared[name](inner)
                    if found:
                        wrong += [((name, *steps), text) for steps, text in found]
                elif closed:
                    wrong.append(((), f"{name} is not in the schema"))
            return wrong

        return look


def _of_value(schema: Mapping[str, Any]) -> list[Look]:
    found: list[Look] = []
    if "enum" in schema:
        one_of = schema["enum"]
        found.append(lambda value: [] if value in one_of else [((), f"{value!r} is none of {one_of}")])
    if "const" in schema:
        const = schema["const"]
        found.append(lambda value: [] if value == const else [((), f"{value!r} is not {const!r}")])
    if "pattern" in schema:
        pattern = re.compile(schema["pattern"])

        def matches(value: Any) -> list[Wrong]:
            fits = not isinstance(value, str) or pattern.search(value)
            return [] if fits else [((), f"{value!r} does not match {pattern.pattern}")]

        found.append(matches)
    if "minimum" in schema or "maximum" in schema:
        least, most = schema.get("minimum", float("-inf")), schema.get("maximum", float("inf"))

        def within(value: Any) -> list[Wrong]:
            fits = not is_type(value, "number") or least <= value <= most
            return [] if fits else [((), f"{value!r} is out of range")]

        found.append(within)
    return found


def _any_of(looks: list[Look]) -> Look:
    def look(value: Any) -> list[Wrong]:
        tries: list[list[Wrong]] = []
        for one in looks:
            wrong = one(value)
            if not wrong:
                return []
            tries.append(wrong)
        return min(tries, key=len)

    return look


def _of_list(inner: Look) -> Look:
    def look(value: Any) -> list[Wrong]:
        if not isinstance(value, list):
            return []
        return [((number, *steps), text) for number, one in enumerate(value) for steps, text in inner(one)]

    return look

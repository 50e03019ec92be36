"""Wording of what the models refuse: one problem for each, with the key path and what to write."""

from collections.abc import Mapping
from typing import Any

from pydantic_core import ErrorDetails

from rigcheck.case.errors import Problem, key_path, nearest_words, printable, shown
from rigcheck.case.keys import (
    Location,
    all_key_paths,
    declared,
    find_field,
    key_names,
    literal_words,
    model_of,
    toml_text,
)


def problem_of(detail: ErrorDetails, *, file: str) -> Problem:
    """Turn one failure of the models into a problem.

    Args:
        detail: Failure as the models report it.
        file: What the problem calls the file.
    """
    location, kind = detail["loc"], detail["type"]
    if kind == "refused":
        context: Mapping[str, Any] = detail["ctx"]
        return Problem(file, key_path(location), context["why"], context["accepted"], context["nearest"])
    if kind == "missing":
        return _missing(location, file)
    if kind == "extra_forbidden":
        return _unknown(location, file)
    if kind == "literal_error":
        return _choice(location, detail["input"], file)
    return Problem(file, key_path(location), *_plain(location, kind, detail))


def _plain(location: Location, kind: str, detail: ErrorDetails) -> tuple[str, tuple[str, ...]]:
    given = shown(detail["input"])
    opening = _section_name(location)
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return f"{given} stands where the table {opening} belongs", (opening,)
    if kind in ("tuple_type", "list_type"):
        return f"{given} stands where a list of tables belongs", (f"[{opening}]",)
    if kind == "too_short":
        return "needs at least one", (f"[{opening}]",)
    if kind == "bool_type":
        return f"{given} is not true or false; write true or false without quotes", ()
    return f"{given}: {printable(detail['msg'])}", ()


def _choice(location: Location, given: object, file: str) -> Problem:
    _, field = find_field(location)
    words = literal_words(field.annotation) if field is not None else ()
    near = nearest_words(given, words) if isinstance(given, str) else ()
    return Problem(file, key_path(location), f"{shown(given)} is not one of the words for this key", words, near)


def _section_name(location: Location) -> str:
    words = ".".join(step for step in location if isinstance(step, str))
    return f"[[{words}]]" if location and isinstance(location[-1], int) else f"[{words}]"


def _missing(location: Location, file: str) -> Problem:
    path = key_path(location)
    _, field = find_field(location)
    section = None if field is None else model_of(field.annotation)
    if section is not None:
        required = [one.alias or name for name, one in section.model_fields.items() if one.is_required()]
        return Problem(file, path, f"is missing; write the table {_section_name(location)} with {', '.join(required)}")
    example = None if field is None else declared(field)["example"]
    return Problem(file, path, f"is missing; write for example {location[-1]} = {toml_text(example)}")


def _unknown(location: Location, file: str) -> Problem:
    model, _ = find_field(location)
    last = str(location[-1])
    known = key_names(model) if model is not None else ()
    elsewhere = tuple(path for path in all_key_paths() if path.rpartition(".")[2] == last)
    near = (*nearest_words(last, known), *elsewhere)[:3]
    why = "there is no such key" if near else f"there is no such key; this table has {', '.join(known)}"
    return Problem(file, key_path(location), why, (), near)

"""The keys of a case, walked from the models: names, paths, declarations, and which values were defaulted."""

from collections.abc import Iterator
from dataclasses import dataclass
from json import dumps
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from rigcheck.case.fields import Kind
from rigcheck.case.models import Case

Location = tuple[str | int, ...]


def find_field(location: Location) -> tuple[type[BaseModel] | None, FieldInfo | None]:
    """The model that a location stands in and the declaration of its last step, None where there is none."""
    model: type[BaseModel] | None = Case
    inside: type[BaseModel] | None = None
    field: FieldInfo | None = None
    for step in location:
        if isinstance(step, int):
            continue
        inside, field = model, None
        if model is not None:
            field = next((f for n, f in model.model_fields.items() if step in (n, f.alias)), None)
        model = None if field is None else model_of(field.annotation)
    return inside, field


def model_of(annotation: Any) -> type[BaseModel] | None:
    """The section that an annotation holds, alone, optional or repeated; None for a plain value."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for arg in get_args(annotation) if (found := model_of(arg)) is not None), None)


def key_names(model: type[BaseModel]) -> tuple[str, ...]:
    """The keys of a section as they are written in a file."""
    return tuple(field.alias or name for name, field in model.model_fields.items())


def all_key_paths(model: type[BaseModel] = Case, *, above: str = "") -> tuple[str, ...]:
    """Every key path of a case, repeated tables without their number."""
    paths: tuple[str, ...] = ()
    for name, field in model.model_fields.items():
        path = f"{above}{field.alias or name}"
        section = model_of(field.annotation)
        paths += (path,) if section is None else (path, *all_key_paths(section, above=f"{path}."))
    return paths


def literal_words(annotation: Any) -> tuple[str, ...]:
    """The words of a choice, optional or not."""
    found: tuple[str, ...] = ()
    for arg in get_args(annotation):
        found += (arg,) if isinstance(arg, str) else literal_words(arg)
    return found


def toml_text(value: Any) -> str:
    """A value as it is written in a file."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml_text(one) for one in value)}]"
    return dumps(value, ensure_ascii=False) if isinstance(value, str) else str(value)


@dataclass(frozen=True, slots=True)
class Entry:
    """One key of a case file.

    Attributes:
        path: Key path, repeated tables without their number.
        kind: Type in words, with its limits.
        required: Whether its section must have it.
        default: What it is when omitted, as written in a file or in words.
        meaning: One line.
        example: An accepted value as written in a file.
        source: Where the default comes from, or that it is an assumption.
    """

    path: str
    kind: str
    required: bool
    default: str
    meaning: str
    example: str
    source: str


@dataclass(frozen=True, slots=True)
class Defaulted:
    """One key that the user left out.

    Attributes:
        path: Key path, repeated tables counted from 1.
        value: What was taken, as it would be written in a file, or in words.
        source: Where that comes from, or that it is an assumption.
    """

    path: str
    value: str
    source: str


def glossary(model: type[BaseModel] = Case, *, above: str = "") -> tuple[Entry, ...]:
    """Every key that holds a value, in the order of the models."""
    entries: list[Entry] = []
    for name, field in model.model_fields.items():
        path = f"{above}{field.alias or name}"
        section = model_of(field.annotation)
        if section is None:
            entries.append(_entry(path, field))
        else:
            entries.extend(glossary(section, above=f"{path}."))
    return tuple(entries)


def defaulted_keys(case: Case) -> tuple[Defaulted, ...]:
    """Every key whose default was taken, in the order of the models.

    Optional keys that stand for nothing (a name, a part not described) are not defaults and are left out.
    """
    return tuple(_defaulted(case, ""))


def _defaulted(section: BaseModel, above: str) -> Iterator[Defaulted]:
    for name, field in type(section).model_fields.items():
        value = getattr(section, name)
        path = f"{above}{field.alias or name}"
        if isinstance(value, BaseModel):
            yield from _defaulted(value, f"{path}.")
        elif isinstance(value, tuple) and value and isinstance(value[0], BaseModel):
            for number, one in enumerate(value):
                yield from _defaulted(one, f"{path}[{number + 1}].")
        elif name not in section.model_fields_set:
            about = declared(field)
            if about["only"] and about["only"] != getattr(section, "kind", ""):
                continue
            if about["derived"]:
                yield Defaulted(path, about["derived"], "taken over")
            elif about["source"]:
                yield Defaulted(path, default_text(field), about["source"])


def declared(field: FieldInfo) -> dict[str, Any]:
    """What a key says about itself: source, derived, example."""
    extra = field.json_schema_extra
    return dict(extra) if isinstance(extra, dict) else {"source": "", "derived": "", "only": "", "example": None}


def default_text(field: FieldInfo) -> str:
    """The default as it would be written in a file; empty where there is none."""
    return "" if field.is_required() or field.default in (None, ()) else toml_text(field.default)


def kind_of(field: FieldInfo) -> Kind | None:
    """The kind of value that a key holds; None for a choice of words and for true or false."""
    return next((one for one in field.metadata if isinstance(one, Kind)), None) or _kind_in(field.annotation)


def kind_words(field: FieldInfo) -> str:
    """The type of a key in words."""
    kind = kind_of(field)
    if kind is not None:
        return kind.words()
    words = literal_words(field.annotation)
    return " or ".join(f'"{word}"' for word in words) if words else "true or false"


def _kind_in(annotation: Any) -> Kind | None:
    for one in (*getattr(annotation, "__metadata__", ()), *get_args(annotation)):
        found = one if isinstance(one, Kind) else _kind_in(one)
        if found is not None:
            return found
    return None


def _entry(path: str, field: FieldInfo) -> Entry:
    about = declared(field)
    return Entry(
        path=path,
        kind=kind_words(field),
        required=field.is_required(),
        default=default_text(field) or about["derived"],
        meaning=field.description or "",
        example=toml_text(about["example"]) if about["example"] is not None else "",
        source=about["source"],
    )

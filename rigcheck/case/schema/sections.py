"""Tables of a case file as classes: how their keys are declared, and what a section is once it is filled."""

from collections.abc import Mapping
from types import NoneType, UnionType
from typing import (
    Annotated,
    Any,
    ClassVar,
    Literal,
    NamedTuple,
    TypeVar,
    Union,
    dataclass_transform,
    get_args,
    get_origin,
)

from rigcheck.case.schema.kinds import Choice, Flag, Kind

MISSING: Any = ...
MUST_BE_KNOWN: Any = object()
_UNREAD: Any = object()


class Declared(NamedTuple):
    """What a key says about itself.

    Attributes:
        meaning: One line for the page.
        default: What it is when omitted, written as in a file; None for nothing, {} for a table of defaults.
        example: An accepted value.
        source: Where the default comes from, or that it is an assumption.
        derived: What an omitted key takes over, in words, when it depends on other keys.
        only: Kind of link or hinge to which the default applies; all when empty.
        word: The word in the file when it is not a name in Python.
        usual: The least that is usual where less is gentler on the rig, written as in a file; None where none is.
        lowest: What stands where a file says that it is unknown; what is omitted stands where nothing is said.
        built: Least and most size, written as in a file, between which it is built; empty where any is.
        none_at_zero: Whether zero says that there is none, and is not asked about.
    """

    meaning: str = ""
    default: Any = MISSING
    example: Any = None
    source: str = ""
    derived: str = ""
    only: str = ""
    word: str = ""
    usual: Any = None
    lowest: Any = None
    built: tuple[Any, ...] = ()
    none_at_zero: bool = True


def key(
    meaning: str,
    *,
    default: Any = MISSING,
    example: Any = None,
    source: str = "",
    derived: str = "",
    only: str = "",
    word: str = "",
) -> Any:
    """Declare a key: everything the reader, the page and the list of assumptions say about it stands here.

    Args:
        meaning: One line for the page.
        default: What it is when omitted, written as in a file; None for nothing. Without it the key is required.
        example: An accepted value; the default when not given.
        source: Where the default comes from, or that it is an assumption.
        derived: What an omitted key takes over, in words, when it depends on other keys.
        only: Kind of link or hinge to which the default applies; all when empty.
        word: The word in the file when it is not a name in Python.
    """
    return Declared(meaning, default, default if example is None else example, source, derived, only, word)


def usual_key(meaning: str, *, default: Any, source: str, usual: Any = None) -> Any:
    """Declare a key whose smaller values are gentler on the rig: less than is usual is told where it is stated.

    Args:
        meaning: One line for the page.
        default: What it is when omitted, written as in a file.
        source: Where the default comes from, or that it is an assumption.
        usual: The least that is usual, written as in a file; the default when not given.
    """
    return Declared(meaning, default, default, source, usual=default if usual is None else usual)


def or_lowest(lowest: Any, declared: Any) -> Any:
    """Declare a key for which something less than its default stands where a file says that it is unknown.

    Args:
        lowest: What stands then, written as in a file; `MUST_BE_KNOWN` for what is refused then.
        declared: The key.
    """
    return declared._replace(lowest=lowest)


def asked_outside(least: Any, most: Any, declared: Any, *, none_at_zero: bool = True) -> Any:
    """Declare a key that may be what is stated, but is asked about outside what is built.

    Args:
        least: The least size that is built, written as in a file; of a key that may be negative, whichever way.
        most: The most.
        declared: The key.
        none_at_zero: Whether zero says that there is none.
    """
    return declared._replace(built=(least, most), none_at_zero=none_at_zero)


def weighed() -> Any:
    """Declare a table that may be omitted where there is no such thing, but not called unknown: it has weight."""
    return Declared(default=None, lowest=MUST_BE_KNOWN)


def weighed_rows() -> Any:
    """The same of a repeated table."""
    return Declared(default=(), lowest=MUST_BE_KNOWN)


def default_section() -> Any:
    """Declare a table that may be omitted and then stands with all of its defaults."""
    return Declared(default={})


class Rows(NamedTuple):
    """How many rows a repeated table needs at least."""

    least: int


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(key, usual_key))
class Section:
    """A table of the case file: unknown keys refused, nothing converted, nothing changed afterwards.

    Its keys are the annotated names of the class. Called with values in inside units it takes them as they are.
    """

    _fields: ClassVar[Mapping[str, "Field"]]
    _stated: frozenset[str]
    _guessed: frozenset[str]

    def __init__(self, **values: Any) -> None:
        fields = fields_of(type(self))
        name = next((name for name in values if name not in fields), None)
        if name is not None:
            raise TypeError(f"{type(self).__name__} has no key {name}")
        name = next((name for name, field in fields.items() if field.required and name not in values), None)
        if name is not None:
            raise TypeError(f"{type(self).__name__} needs the key {name}")
        _fill(self, values, frozenset(values))

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{type(self).__name__}.{name}: a section is not changed")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__}.{name}: a section is not changed")

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and _values(self) == _values(other)

    def __hash__(self) -> int:
        return hash((type(self), _values(self)))

    def __repr__(self) -> str:
        pairs = (f"{name}={value!r}" for name, value in zip(fields_of(type(self)), _values(self), strict=True))
        return f"{type(self).__name__}({', '.join(pairs)})"


SomeSection = TypeVar("SomeSection", bound=Section)


class Field:
    """One key of a section.

    Attributes:
        name: In Python.
        word: In the file.
        about: What it says about itself.
        section: The section that it holds, alone or repeated; None for a value.
        kind: The kind of value that it holds; None for a section.
        optional: Whether it may hold nothing.
        least: Rows that it needs at least; None where it is not repeated.
    """

    __slots__ = ("_otherwise", "about", "kind", "least", "name", "optional", "section", "word")

    def __init__(self, name: str, annotation: Any, about: Declared) -> None:
        self.name = name
        self.word = about.word or name
        self.about = about
        self.section: type[Section] | None = None
        self.kind: Kind | None = None
        self.optional = False
        self.least: int | None = None
        self._hold(annotation)
        self._otherwise: Any = _UNREAD

    @property
    def required(self) -> bool:
        """Whether its section must have it."""
        return self.about.default is MISSING

    @property
    def repeated(self) -> bool:
        """Whether it is a list of tables."""
        return self.least is not None

    def otherwise(self) -> Any:
        """The value that stands when the key is left out."""
        if self._otherwise is _UNREAD:
            default = self.about.default
            written = default is not None and self.kind is not None
            if self.section is not None and isinstance(default, dict):
                self._otherwise = self.section()
            else:
                self._otherwise = self.kind.read(default) if written and self.kind is not None else default
        return self._otherwise

    def _hold(self, annotation: Any) -> None:
        """Take apart an annotation: optional, a kind of value, a section, rows of sections."""
        origin = get_origin(annotation)
        if origin is Union or origin is UnionType:
            self.optional = True
            annotation = next(one for one in get_args(annotation) if one is not NoneType)
            origin = get_origin(annotation)
        if origin is Annotated:
            for mark in annotation.__metadata__:
                if isinstance(mark, Kind):
                    self.kind = mark
                    return
                self.least = mark.least
            annotation = annotation.__origin__
            origin = get_origin(annotation)
        if origin is Literal:
            self.kind = Choice(*get_args(annotation))
        elif origin is tuple:
            self.section = get_args(annotation)[0]
            self.least = self.least or 0
        elif annotation is bool:
            self.kind = Flag()
        else:
            self.section = annotation


def fields_of(section: type[Section]) -> Mapping[str, Field]:
    """The keys of a section by their name in Python, in the order of the class."""
    found: Mapping[str, Field] | None = section.__dict__.get("_fields")
    if found is None:
        found = {}
        for name, annotation in section.__annotations__.items():
            given = section.__dict__.get(name, MISSING)
            found[name] = Field(name, annotation, given if isinstance(given, Declared) else Declared(default=given))
        section._fields = found
    return found


def stated(section: Section) -> frozenset[str]:
    """Names of the keys that the user gave."""
    return section._stated


def guessed(section: Section) -> frozenset[str]:
    """Names of the keys that the user called unknown and for which the lowest stands, not the default."""
    return section._guessed


def changed(section: SomeSection, values: Mapping[str, Any]) -> SomeSection:
    """The same section with other values under some names, taken as they are; they count as given."""
    new = object.__new__(type(section))
    new.__dict__.update(section.__dict__, **values)
    new.__dict__["_stated"] = section._stated | values.keys()
    new.__dict__["_guessed"] = section._guessed - values.keys()
    return new


def filled(
    section: type[SomeSection], values: Mapping[str, Any], *, given: frozenset[str],
    guessed: frozenset[str] = frozenset(),
) -> SomeSection:  # fmt: skip
    """A new section.

    Args:
        section: Which.
        values: Name in Python to the value inside the program; the others stand with their defaults.
        given: Names of the keys that count as given.
        guessed: Names of the keys that the user called unknown and that have a value here.
    """
    new = object.__new__(section)
    _fill(new, values, given)
    new.__dict__["_guessed"] = guessed
    return new


def _fill(section: Section, values: Mapping[str, Any], given: frozenset[str]) -> None:
    inside = section.__dict__
    for name, field in fields_of(type(section)).items():
        inside[name] = values[name] if name in values else field.otherwise()
    inside["_stated"] = given
    inside["_guessed"] = frozenset()


def _values(section: Any) -> tuple[Any, ...]:
    return tuple(section.__dict__[name] for name in fields_of(type(section)))

"""Kinds of value a key can hold: quantity, whole number, words, shape, steel, point; and how a key is declared."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from rigcheck.case.errors import nearest_words, printable_line, shown
from rigcheck.quantities import Dimension, QuantityError, read

MISSING: Any = ...
LONGEST_WORDS = 200


class Section(BaseModel):
    """A table of the case file: unknown keys refused, nothing converted, nothing changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False, defer_build=True)


def key(
    meaning: str,
    *,
    default: Any = MISSING,
    example: Any = None,
    source: str = "",
    derived: str = "",
    only: str = "",
    alias: str | None = None,
) -> Any:
    """Declare a key: everything the reader, the page and the list of assumptions say about it stands here.

    Args:
        meaning: One line for the page.
        default: What it is when omitted, written as in a file; None for nothing.
        example: An accepted value; the default when not given.
        source: Where the default comes from, or that it is an assumption.
        derived: What an omitted key takes over, in words, when it depends on other keys.
        only: Kind of link to which the default applies; all when empty.
        alias: The word in the file when it is not a name in Python.
    """
    extra = {"source": source, "derived": derived, "only": only, "example": default if example is None else example}
    if default is MISSING:
        return Field(alias=alias, description=meaning, json_schema_extra=extra)
    if default is None:
        return Field(None, alias=alias, description=meaning, json_schema_extra=extra)
    return Field(default, alias=alias, description=meaning, validate_default=True, json_schema_extra=extra)


def default_section() -> Any:
    """Declare a table that may be omitted and then stands with all of its defaults."""
    return Field(default_factory=dict, validate_default=True)


class Kind:
    """A kind of value; its `read` is the whole validation."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def read(self, given: Any) -> Any:
        """The value inside the program."""
        raise NotImplementedError

    def words(self) -> str:
        """The kind in words, with its limits."""
        raise NotImplementedError


@dataclass(frozen=True)
class Quantity(Kind):
    """A number with a unit (or bare, for the dimension "number") between two limits written as in a file."""

    dimension: Dimension
    least: str | float | None = None
    most: str | float | None = None
    above: bool = False  # the least itself is not allowed

    def read(self, given: Any) -> float:
        """The value in inside units."""
        try:
            value = read(given, dimension=self.dimension)
        except QuantityError as error:
            raise refused(printable_line(error.why), accepted=error.accepted) from None
        low, high = self.limits
        if low is not None and (value < low or (self.above and value == low)):
            raise refused(f"{shown(given)} must be {'over' if self.above else 'at least'} {self.least}")
        if high is not None and value > high:
            raise refused(f"{shown(given)} must be at most {self.most}")
        return value

    @cached_property
    def limits(self) -> tuple[float | None, float | None]:
        """Least and most in inside units."""
        return self._limit(self.least), self._limit(self.most)

    def _limit(self, text: str | float | None) -> float | None:
        return None if text is None else read(text, dimension=self.dimension)

    def words(self) -> str:
        """The dimension and its limits."""
        least = "" if self.least is None else f", {'over' if self.above else 'at least'} {self.least}"
        most = "" if self.most is None else f", at most {self.most}"
        return f"{self.dimension}{least}{most}"


@dataclass(frozen=True)
class Whole(Kind):
    """A whole number between two limits."""

    least: int
    most: int

    def read(self, given: Any) -> int:
        """The number itself."""
        if isinstance(given, bool) or not isinstance(given, int) or not self.least <= given <= self.most:
            raise refused(f"{shown(given)} is not a whole number from {self.least} to {self.most}")
        return given

    def words(self) -> str:
        """The kind and its limits."""
        return f"whole number, {self.least} to {self.most}"


@dataclass(frozen=True)
class Words(Kind):
    """A short text on one line."""

    def read(self, given: Any) -> str:
        """The text without blanks at its ends."""
        if not isinstance(given, str):
            raise refused(f"{shown(given)} is not a text", accepted=("in quotes",))
        text = given.strip()
        if not text:
            raise refused("the text is empty")
        if len(text) > LONGEST_WORDS:
            raise refused(f"{shown(text)} is longer than {LONGEST_WORDS} letters")
        if not text.isprintable():
            raise refused(f"{shown(text)} has letters that do not print")
        return text

    def words(self) -> str:
        """The kind."""
        return "text"


@dataclass(frozen=True)
class ShapeName(Kind):
    """Name of a steel shape, such as HSS1-1/2x1-1/2x1/8 or angle 1-1/2x1-1/2x1/8."""

    def read(self, given: Any) -> str:
        """The name, if the tables can find or compute it."""
        name = Words().read(given)
        problem = shape_problem(name)
        if problem is not None:
            raise refused(printable_line(problem))
        return name

    def words(self) -> str:
        """The kind."""
        return "shape name"


@dataclass(frozen=True)
class SteelName(Kind):
    """Name of a steel grade, or unknown."""

    def read(self, given: Any) -> str:
        """The name, if the tables have it."""
        from rigcheck.tables.steel import names  # the table is parsed only when a case names a steel

        name = Words().read(given)
        if name == "unknown":
            return name
        known = {one.casefold(): one for one in names()}
        found = known.get(" ".join(name.split()).casefold())
        if found is None:
            raise refused(f"{shown(name)} is not a known steel", accepted=names(), nearest=nearest_words(name, names()))
        return found

    def words(self) -> str:
        """The kind."""
        return "steel name"


@dataclass(frozen=True)
class Point(Kind):
    """Three lengths, such as ["9 ft", "14 in", "7 in"]."""

    def read(self, given: Any) -> tuple[float, float, float]:
        """The three lengths. [in]"""
        if not isinstance(given, list | tuple) or len(given) != 3:
            raise refused(f"{shown(given)} is not a list of three lengths", accepted=('["9 ft", "14 in", "7 in"]',))
        one, two, three = (Quantity("length", "-1000 in", "1000 in").read(each) for each in given)
        return one, two, three

    def words(self) -> str:
        """The kind."""
        return "three lengths"


def shape_problem(name: str) -> str | None:
    """What is wrong with a shape name, or None."""
    from rigcheck.tables.errors import ShapeError  # shapes are looked up only when a case names one
    from rigcheck.tables.shapes import find

    try:
        find(name)
    except ShapeError as error:
        return str(error)
    return None


def refused(why: str, *, accepted: tuple[str, ...] = (), nearest: tuple[str, ...] = ()) -> PydanticCustomError:
    """The error that carries a problem out of the validation."""
    return PydanticCustomError("refused", "refused", {"why": why, "accepted": accepted, "nearest": nearest})

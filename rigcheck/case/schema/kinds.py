"""Kinds of value a key can hold: quantity, whole number, choice, yes or no, words, shape, steel, point."""

from functools import cached_property
from typing import Any

from rigcheck.case.errors import nearest_words, printable_line, shown
from rigcheck.quantities import Bare, Dimension, QuantityError, read

LONGEST_WORDS = 200
_ROUND = 1e-12  # a limit written in other units is not passed by the last digit of a number


class RefusedError(Exception):
    """A value that its kind does not take.

    Attributes:
        why: What was given and what is wrong with it.
        accepted: What would do.
        nearest: Words that look like what was given.
    """

    def __init__(self, why: str, *, accepted: tuple[str, ...] = (), nearest: tuple[str, ...] = ()) -> None:
        self.why = why
        self.accepted = accepted
        self.nearest = nearest
        super().__init__(why)


class Kind:
    """A kind of value; its `read` is the whole validation."""

    def read(self, given: Any) -> Any:
        """The value inside the program.

        Raises:
            RefusedError: It is not a value of this kind.
        """
        raise NotImplementedError

    def words(self) -> str:
        """The kind in words, with its limits."""
        raise NotImplementedError

    def part_unknown(self, given: Any) -> bool:
        """Whether a value says that a part of it is unknown, for which the lowest is taken."""
        return False


class Quantity(Kind):
    """A number with a unit (or bare, for the dimension "number") between two limits written as in a file.

    Attributes:
        dimension: What it is.
        least: The least that is allowed, None for no limit.
        most: The most that is allowed, None for no limit.
        above: Whether the least itself is not allowed.
    """

    def __init__(
        self,
        dimension: Dimension,
        least: str | float | None = None,
        most: str | float | None = None,
        *,
        above: bool = False,
    ) -> None:
        self.dimension: Dimension = dimension
        self.least = least
        self.most = most
        self.above = above

    def read(self, given: Any) -> float:
        """The value in inside units."""
        try:
            value = read(given, dimension=self.dimension)
        except QuantityError as error:
            raise RefusedError(printable_line(error.why), accepted=self._that_fit(error.accepted)) from None
        low, high = self.limits
        if low is not None and (value < low - _ROUND * abs(low) or (self.above and value <= low)):
            raise RefusedError(f"{shown(given)} must be {'over' if self.above else 'at least'} {self.least}")
        if high is not None and value > high + _ROUND * abs(high):
            raise RefusedError(f"{shown(given)} must be at most {self.most}")
        return value

    def _that_fit(self, forms: tuple[str, ...]) -> tuple[str, ...]:
        """Those of some forms that are between the limits; the limits themselves where none is."""
        low, high = self.limits

        def fits(form: str) -> bool:
            value = read(float(form) if isinstance(form, Bare) else form, dimension=self.dimension)
            return (low is None or value > low or (value == low and not self.above)) and (high is None or value <= high)

        ends = (None if self.above else self.least, self.most)
        told = tuple(Bare(f"{end:g}") if isinstance(end, float | int) else end for end in ends if end is not None)
        return tuple(form for form in forms if fits(form)) or told or forms

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


class Whole(Kind):
    """A whole number between two limits."""

    def __init__(self, least: int, most: int) -> None:
        self.least = least
        self.most = most

    def read(self, given: Any) -> int:
        """The number itself."""
        if isinstance(given, bool) or not isinstance(given, int) or not self.least <= given <= self.most:
            raise RefusedError(f"{shown(given)} is not a whole number from {self.least} to {self.most}")
        return given

    def words(self) -> str:
        """The kind and its limits."""
        return f"whole number, {self.least} to {self.most}"


class Choice(Kind):
    """One of a few words."""

    def __init__(self, *words: str) -> None:
        self.choices = words

    def read(self, given: Any) -> str:
        """The word itself; capitals and blanks around it do not matter."""
        if isinstance(given, str):
            plain = " ".join(given.split()).lower()
            if (word := next((one for one in self.choices if one.lower() == plain), None)) is not None:
                return word
        near = nearest_words(given, self.choices) if isinstance(given, str) else ()
        why = f"{shown(given)} is not one of the words for this key"
        raise RefusedError(why, accepted=self.choices, nearest=near)

    def words(self) -> str:
        """The words, quoted."""
        return " or ".join(f'"{word}"' for word in self.choices)


class Flag(Kind):
    """True or false."""

    def read(self, given: Any) -> bool:
        """The flag itself."""
        if isinstance(given, bool):
            return given
        raise RefusedError(
            f"{shown(given)} is not true or false, without quotes", accepted=(Bare("true"), Bare("false"))
        )

    def words(self) -> str:
        """The two words."""
        return "true or false"


class Text(Kind):
    """A text on one line."""

    def read(self, given: Any) -> str:
        """The text without blanks at its ends."""
        if not isinstance(given, str):
            raise RefusedError(f"{shown(given)} is not a text", accepted=self.examples())
        text = given.strip()
        if not text:
            raise RefusedError("the text is empty", accepted=self.examples())
        if len(text) > LONGEST_WORDS:
            raise RefusedError(f"{shown(text)} is longer than {LONGEST_WORDS} letters")
        if not text.isprintable():
            raise RefusedError(f"{shown(text)} has letters that do not print")
        return text

    def examples(self) -> tuple[str, ...]:
        """Texts that would do."""
        return ("in quotes",)


class Words(Text):
    """A short text on one line."""

    def words(self) -> str:
        """The kind."""
        return "text"


class ShapeName(Text):
    """Name of a steel shape, such as HSS1-1/2x1-1/2x1/8 or angle 1-1/2x1-1/2x1/8."""

    def read(self, given: Any) -> str:
        """The name, if the tables can find or compute it."""
        name = super().read(given)
        from rigcheck.tables.errors import ShapeError  # shapes are looked up only when a case names one
        from rigcheck.tables.shapes import find, thinnest

        try:
            thin = thinnest(name)
            if thin is None:
                find(name)
        except ShapeError as error:
            why = printable_line(f'"{error.given}": {error.reason}')
            raise RefusedError(why, accepted=error.accepted, nearest=error.nearest) from None
        return thin or name

    def examples(self) -> tuple[str, ...]:
        """Shapes of each form."""
        from rigcheck.tables.shape_names import FORMS

        return FORMS

    def words(self) -> str:
        """The kind."""
        return "shape name"

    def part_unknown(self, given: Any) -> bool:
        """Whether its wall is said to be unknown."""
        return isinstance(given, str) and thinnest_of(given) is not None


class SteelName(Text):
    """Name of a steel grade, or unknown."""

    def read(self, given: Any) -> str:
        """The name, if the tables have it."""
        from rigcheck.tables.steel import names  # the table is parsed only when a case names a steel

        name = super().read(given)
        if name == "unknown":
            return name
        known = {one.casefold(): one for one in names()}
        found = known.get(" ".join(name.split()).casefold())
        if found is None:
            near = nearest_words(name, names())
            raise RefusedError(f"{shown(name)} is not a known steel", accepted=names(), nearest=near)
        return found

    def examples(self) -> tuple[str, ...]:
        """Every steel of the tables."""
        from rigcheck.tables.steel import names

        return names()

    def words(self) -> str:
        """The kind."""
        return "steel name"


_THREE = (Bare('["9 ft", "14 in", "7 in"]'),)


class Point(Kind):
    """Three lengths, such as ["9 ft", "14 in", "7 in"]."""

    def read(self, given: Any) -> tuple[float, float, float]:
        """The three lengths. [in]"""
        if not isinstance(given, list | tuple) or len(given) != 3:
            why = f"{shown(given)} is not a list of three lengths"
            raise RefusedError(why, accepted=_THREE)
        length = Quantity("length", "-1000 in", "1000 in")
        try:
            one, two, three = (length.read(each) for each in given)
        except RefusedError as error:
            raise RefusedError(error.why, accepted=_THREE) from None
        return one, two, three

    def words(self) -> str:
        """The kind."""
        return "three lengths"


UNKNOWN = "unknown"


def is_unknown(given: Any) -> bool:
    """Whether a value of a file says that it is not known."""
    return isinstance(given, str) and given.strip().casefold() == UNKNOWN


def thinnest_of(name: str) -> str | None:
    """The thinnest of a shape whose wall is said to be unknown; None of any other, and of what no list has."""
    if UNKNOWN not in name.casefold():
        return None
    from rigcheck.tables.errors import ShapeError
    from rigcheck.tables.shapes import thinnest

    try:
        return thinnest(name)
    except ShapeError:
        return None

"""The one key that a study varies: its place in the case, its kind and limits, and whether anything depends on it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.errors import CaseError, Problem, key_path, nearest_words, printable
from rigcheck.case.models.case import Case
from rigcheck.case.reading.renamed import KEYS
from rigcheck.case.rig import Rig
from rigcheck.case.schema.keys import find_field, glossary, kind_of
from rigcheck.case.schema.kinds import Quantity
from rigcheck.case.schema.sections import Section, fields_of
from rigcheck.quantities import Dimension, QuantityError, read

OPTION = "--vary"
_STEP = re.compile(r"([a-z_]+)(?:\[(\d{1,3})\])?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Variable:
    """A numeric key of a case.

    Attributes:
        key: Path as a rig knows it, repeated tables counted from 0, such as `line.link.1.wll`.
        name: Path as a person writes it, repeated tables counted from 1, such as `line.link[2].wll`.
        meaning: What it is, in a line.
        dimension: Kind of quantity.
        least: Least that the key accepts, None without a limit. [inside units]
        most: Most that it accepts. [inside units]
        value: What the case has. [inside units]
    """

    key: str
    name: str
    meaning: str
    dimension: Dimension
    least: float | None
    most: float | None
    value: float


def variable(case: Case, text: str) -> Variable:
    """Find a numeric key of a case by its path.

    Args:
        case: The case.
        text: Path such as `box.length` or `line.link[2].wll`.

    Returns:
        The key with its kind and value.

    Raises:
        CaseError: No such key, not a quantity, or not in this case.
    """
    location = _location(case, text)
    _, field = find_field(location)
    name = key_path(location)
    kind = kind_of(field) if field is not None else None
    if field is None or not isinstance(kind, Quantity):
        raise _refused(text, "is not a numeric key of a case that can be varied", nearest=_nearest(text))
    steps = ".".join(str(step) for step in location)
    value = Rig(case).value(steps)
    if value is None:
        raise _refused(name, "is not in the case; write it there before you vary it")
    least, most = kind.limits
    return Variable(
        key=steps,
        name=name,
        meaning=field.about.meaning,
        dimension=kind.dimension,
        least=least,
        most=most,
        value=float(value),
    )


def _location(case: Case, text: str) -> tuple[str | int, ...]:
    """Steps of a path, with the number of every repeated table it goes through."""
    location: list[str | int] = []
    here: object = case
    for step in text.split("."):
        found = _STEP.fullmatch(step)
        if found is None or not isinstance(here, Section) or found[1] not in fields_of(type(here)):
            raise _refused(text, _missing(here), nearest=_nearest(text))
        location.append(found[1])
        here = getattr(here, found[1])
        if isinstance(here, tuple) and here and not isinstance(here[0], float):
            number = int(found[2]) if found[2] else (1 if len(here) == 1 else 0)
            if not 1 <= number <= len(here):
                path = key_path(location)
                raise _refused(text, f"is one of {len(here)}; write {path}[1] to {path}[{len(here)}]")
            location.append(number - 1)
            here = here[number - 1]
    return tuple(location)


def _missing(here: object) -> str:
    return "is in a part that the case does not describe" if here is None else "is not a numeric key of a case"


def _nearest(text: str) -> tuple[str, ...]:
    plain = re.sub(r"\[\d*\]", "", text)
    return nearest_words(plain, (entry.path for entry in glossary() if entry.path != plain))


def _refused(text: str, why: str, *, nearest: tuple[str, ...] = ()) -> CaseError:
    new = KEYS.get(re.sub(r"\[\d*\]", "", text))
    if new is not None:
        return CaseError([Problem(OPTION, printable(text), f"has a new name; write {new}")])
    return CaseError([Problem(OPTION, printable(text), why, nearest=nearest)])


def value_of(variable: Variable, text: str, *, option: str) -> float:
    """A value for a key, read as in a case file.

    Args:
        variable: The key.
        text: The value with its unit.
        option: Where it was given.

    Raises:
        CaseError: It cannot be read, or is outside what the key accepts.
    """
    try:
        given: object = float(text) if variable.dimension == "number" else text
        value = read(given, dimension=variable.dimension)
    except QuantityError as error:
        raise CaseError([Problem(option, variable.name, error.why, error.accepted)]) from None
    except ValueError:
        raise CaseError([Problem(option, variable.name, f'"{printable(text)}" is not a number')]) from None
    check_limits(variable, value, option=option, text=text)
    return value


def check_limits(variable: Variable, value: float, *, option: str, text: str) -> None:
    """Refuse a value that the key does not accept in a case file either.

    Args:
        variable: The key.
        value: In inside units.
        option: Where it was given.
        text: As it was given.

    Raises:
        CaseError: It is outside the limits of the key.
    """
    low, high = variable.least, variable.most
    if (low is not None and value < low) or (high is not None and value > high):
        raise CaseError([Problem(option, variable.name, f'"{printable(text)}" is outside what this key accepts')])


class _Listening(Rig):
    """A rig that remembers which keys were read as numbers."""

    heard: set[str]

    def number(self, key: str) -> Array:
        """As the rig's own; remembers the key."""
        self.heard.add(key)
        return Rig(self.case, self.varied).number(key)


def watched(rig: Rig, *, only: frozenset[str] | None = None) -> tuple[Assessment, frozenset[str]]:
    """Assess a rig and see which numeric keys a batch can carry.

    Args:
        rig: One rig.
        only: The states looked at; all of them where not said.

    Returns:
        The assessment, and the keys that were read as numbers: what a batch varies is looked at there.
    """
    spy = _Listening(rig.case, rig.varied)
    object.__setattr__(spy, "heard", set())
    return assess(spy, only=only), frozenset(spy.heard)


def must_matter(variable: Variable, carried: frozenset[str]) -> None:
    """Refuse a key that no check reads as a number: varying it would show nothing.

    Args:
        variable: The key.
        carried: What `watched` saw.

    Raises:
        CaseError: The key is not among them.
    """
    if variable.key not in carried:
        raise _refused(variable.name, "is not a number that a check of this case works with, so it cannot be varied")

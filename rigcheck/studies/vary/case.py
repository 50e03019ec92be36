"""A case with some of its values replaced, and whether the rules between its keys still hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from rigcheck.arrays.types import Array
from rigcheck.case.errors import Location, Problem
from rigcheck.case.models.case import Case, Measured
from rigcheck.case.reading.read import RULES
from rigcheck.case.reading.rules import broken_rules
from rigcheck.case.rig import Rig
from rigcheck.case.schema.sections import Section, changed, fields_of

Value = float | str | bool | Section | None
_BUILT = ("box.", "rail.", "cross_member.", "end_tube.", "mat.", "trap.", "gate.", "fitting.")
_WEIGHTLESS = (".weld", ".steel")
_BISECTIONS = 30
Part = TypeVar("Part", bound=Section)


def other_box(case: Case, key: str) -> Mapping[str, Value]:
    """What changes with a key of the steel of a box that was weighed: it is another box, and the scale is left out.

    Args:
        case: The case.
        key: What is changed.

    Returns:
        Further changes; none where nothing was weighed or the key is not of the box.
    """
    weighs = key.startswith(_BUILT) and not key.endswith(_WEIGHTLESS)
    return {"measured": Measured()} if weighs and case.measured != Measured() else {}


def with_values(case: Case, changes: Mapping[str, Value]) -> Case:
    """The same case with other values under some keys; the old one is untouched.

    Args:
        case: The case.
        changes: Key path as a rig knows it, such as `line.link.1.wll`, to the value in inside units; None takes an
            optional key away.

    Returns:
        The new case, its values not validated again.
    """
    for path, value in changes.items():
        case = _replaced(case, path.split("."), value)
    return case


def _replaced(part: Part, steps: list[str], value: Value) -> Part:
    name, *rest = steps
    if not rest:
        return changed(part, {name: value})
    inside = getattr(part, name)
    if isinstance(inside, tuple):
        place, *rest = rest
        row = _replaced(inside[int(place)], rest, value)
        inside = tuple(row if i == int(place) else one for i, one in enumerate(inside))
        return changed(part, {name: inside})
    return changed(part, {name: _replaced(inside, rest, value)})


def design(rig: Rig, index: int) -> Case:
    """One design of a batch, written out as a case.

    Args:
        rig: The batch; varied values of shape () or (design,).
        index: Which design.

    Returns:
        The case that gives this design by itself.
    """
    return with_values(rig.case, {key: float(_at(values, index)) for key, values in rig.varied.items()})


def _at(values: Array, index: int) -> Array:
    return values if values.ndim == 0 else values[index]


def broken(case: Case, *, name: str) -> list[Problem]:
    """Rules between keys that do not hold.

    Args:
        case: The case.
        name: What the problems call it.
    """
    return broken_rules(RULES, parts=dict(_sections(case, ())), file=name)


def legal_end(case_at: Callable[[float], Case], inside: float, *, end: float) -> float:
    """The value nearest to an end at which the rules between keys hold, by bisection.

    Args:
        case_at: The case with a value.
        inside: A value at which the rules hold.
        end: Where one would like to go.
    """
    if not broken(case_at(end), name="range"):
        return end
    good, bad = inside, end
    for _ in range(_BISECTIONS):
        middle = 0.5 * (good + bad)
        good, bad = (middle, bad) if not broken(case_at(middle), name="range") else (good, middle)
    return good


def _sections(section: Section, location: Location) -> Iterator[tuple[Location, Section]]:
    yield location, section
    for name in fields_of(type(section)):
        value = getattr(section, name)
        for number, one in enumerate(value if isinstance(value, tuple) else (value,)):
            if isinstance(one, Section):
                yield from _sections(one, (*location, name, number) if isinstance(value, tuple) else (*location, name))

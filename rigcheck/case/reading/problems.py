"""Wording of what cannot be read in a case: one problem for each, with the key path and what to write."""

from collections.abc import Iterable
from typing import Any

from rigcheck.case.errors import Location, Problem, key_path, nearest_words, shown
from rigcheck.case.reading.renamed import KEYS, VALUES, old_name_of, plain_path, value_of_today
from rigcheck.case.reading.tables import MOST_ROWS, Failure
from rigcheck.case.schema.keys import all_key_paths, find_field, key_names, toml_text
from rigcheck.case.schema.kinds import RefusedError
from rigcheck.case.schema.sections import MUST_BE_KNOWN, fields_of
from rigcheck.quantities import Bare

NOT_YET = {
    "trough": 'is written as a [[trap]]; write holds = "water and sand" in it',
    "stretch.step": "is not looked at: a floor that drops at a joint moves rails, water and balance point with it; "
    "build it level, or check either part as a box by itself",
}
"""Words of shops for what another key describes, with what to write instead, and for what is not looked at."""


def problems_of(failures: Iterable[Failure], *, file: str) -> list[Problem]:
    """Turn failures into problems; a key that is missing because it stands there under its old name is told once.

    Args:
        failures: What cannot be read.
        file: What the problems call the file.
    """
    return [problem_of(failure, file=file) for failure in failures if not _stands_renamed(failure)]


def _stands_renamed(failure: Failure) -> bool:
    """Whether what is missing stands beside its place under the name that it had."""
    if failure.what != "missing":
        return False
    return old_name_of(plain_path(failure.location)) in failure.given


def problem_of(failure: Failure, *, file: str) -> Problem:
    """Turn one failure into a problem.

    Args:
        failure: What cannot be read.
        file: What the problem calls the file.
    """
    location, what, given = failure
    path, opening = key_path(location), _section_name(location)
    if isinstance(what, RefusedError):
        word = VALUES.get((plain_path(location), given)) if isinstance(given, str) else None
        if word is not None:
            return Problem(file, path, f"{shown(given)} has a new name; write {location[-1]} = {toml_text(word)}")
        return Problem(file, path, what.why, what.accepted, what.nearest)
    if what in ("missing", "not known"):
        return (_missing if what == "missing" else _not_known)(location, file)
    if what == "unknown":
        return _renamed(location, given, file) or _not_yet(location, file) or _unknown(location, file)
    if what == "no table":
        return Problem(file, path, f"{shown(given)} stands where the table {opening} belongs", (Bare(opening),))
    if what == "no list":
        return Problem(file, path, f"{shown(given)} stands where a list of tables belongs", (Bare(f"[{opening}]"),))
    if what == "too many":
        return Problem(file, path, f"stands there {len(given):,} times; a case has at most {MOST_ROWS} of a kind")
    return Problem(file, path, "needs at least one", (Bare(f"[{opening}]"),))


def _section_name(location: Location) -> str:
    words = ".".join(step for step in location if isinstance(step, str))
    return f"[[{words}]]" if location and isinstance(location[-1], int) else f"[{words}]"


def _missing(location: Location, file: str) -> Problem:
    path = key_path(location)
    _, field = find_field(location)
    if field is not None and field.section is not None:
        required = [one.word for one in fields_of(field.section).values() if one.required]
        return Problem(file, path, f"is missing; write the table {_section_name(location)} with {', '.join(required)}")
    example = None if field is None else field.about.example
    return Problem(file, path, f"is missing; write for example {location[-1]} = {toml_text(example)}")


def _not_known(location: Location, file: str) -> Problem:
    """What must be known, said to be unknown: by itself, or for its table to count."""
    path = key_path(location)
    _, field = find_field(location)
    if field is not None and field.about.lowest is MUST_BE_KNOWN:
        return Problem(file, path, "has weight, which must be known: weigh it, or leave it out where there is none")
    _, table = find_field(location[:-1])
    if table is not None and not table.required and table.about.default != {}:
        opening = _section_name(location[:-1])
        why = f"must be known for {opening} to count; measure it, or leave {opening} out, which is not assessed then"
        return Problem(file, path, why)
    return Problem(file, path, "must be known before anything can be computed; measure it")


def _not_yet(location: Location, file: str) -> Problem | None:
    """The problem of a part that another key describes; None for any other key."""
    why = NOT_YET.get(plain_path(location))
    return None if why is None else Problem(file, key_path(location), why)


def _renamed(location: Location, given: Any, file: str) -> Problem | None:
    """The problem of a key that has a new name; None where it never was a key."""
    new = KEYS.get(plain_path(location))
    if new is None:
        return None
    value = given[location[-1]]
    if isinstance(value, list | dict):
        opening = f"[[{new}]]" if isinstance(value, list) else f"[{new}]"
    else:
        opening = f"{new.rpartition('.')[2]} = {toml_text(value_of_today(new, given=value))}"
    return Problem(file, key_path(location), f"has a new name, {new}; write {opening}")


def _unknown(location: Location, file: str) -> Problem:
    section, _ = find_field(location)
    last = str(location[-1])
    known = key_names(section) if section is not None else ()
    elsewhere = tuple(path for path in all_key_paths() if path.rpartition(".")[2] == last)
    near = (*nearest_words(last, known), *elsewhere)[:3]
    why = "there is no such key" if near else f"there is no such key; this table has {', '.join(known)}"
    return Problem(file, key_path(location), why, (), near)

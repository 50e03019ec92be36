"""A case as it stands in a file with one of its optional keys or tables left out, each in turn."""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any, NamedTuple

from rigcheck.case import CaseError, check_case
from rigcheck.case.models.case import Case

Data = dict[str, Any]
Path = tuple[str | int, ...]


class Left(NamedTuple):
    """What was left out, and the case without it."""

    path: str
    case: Case


def paths(data: Any, above: Path = ()) -> Iterator[Path]:
    """Where every key, table and row of a case stands, in the order of the file."""
    if above:
        yield above
    if isinstance(data, dict):
        for word, value in data.items():
            yield from paths(value, (*above, word))
    elif isinstance(data, list) and data and isinstance(data[0], dict):
        for place, value in enumerate(data):
            yield from paths(value, (*above, place))


def without(data: Data, path: Path) -> Case | None:
    """The case without one key; None where it must have it."""
    other = deepcopy(data)
    here: Any = other
    for step in path[:-1]:
        here = here[step]
    del here[path[-1]]
    try:
        return check_case(other, name="left out")
    except CaseError:
        return None


def left_out(data: Data) -> Iterator[Left]:
    """The case without each of what it can do without."""
    for path in paths(data):
        case = without(data, path)
        if case is not None:
            yield Left(".".join(str(step) for step in path), case)

"""Take over into a case what comes from the box that feeds it: its water, its feed, and how far they fall."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from rigcheck.case.errors import CaseError, Problem, printable
from rigcheck.case.fed import fall
from rigcheck.case.models.case import Case
from rigcheck.quantities import QuantityError, write
from rigcheck.quantities import read as measured

TABLE, KEY = "fed_by", "fed_by.case"
TAKEN = ("flow", "feed", "solids_density", "solids_sg")
"""Keys of [water] that come from the other box."""
_HIGHEST = 200.0  # in: most that `water.fall` may be

Read = Callable[[Path], tuple[bytes, Case]]


def fed(
    data: Mapping[str, Any], *, name: str, folder: Path | None, read: Read
) -> tuple[Mapping[str, Any], Case | None]:
    """The data with what comes from the feeding box written into [water].

    Args:
        data: Of a case file that has a table [fed_by].
        name: What problems call the file.
        folder: Where the file is; None where that is not known.
        read: Reads the other file as a case of its own.

    Returns:
        The data and the other case; the data as it is where [fed_by] itself cannot be read.

    Raises:
        CaseError: The other file is not there, is no case, or does not fit.
    """
    table = data.get(TABLE)
    told = table.get("case") if isinstance(table, Mapping) else None
    if not isinstance(table, Mapping) or not isinstance(told, str):
        return data, None
    if folder is None:
        why = "names a file beside this one, and where this one is is not known here; check it as a file by itself"
        raise _problem(name, KEY, why)
    if Path(told).name != told or told in ("", ".", ".."):
        why = f'"{printable(told)}" is not the name of a file in the folder of this one; write the name alone'
        raise _problem(name, KEY, why)
    try:
        raw, other = read(folder / told)
    except CaseError as error:
        first = error.problems[0]
        raise _problem(name, KEY, f'"{printable(told)}" cannot be used: {first}') from None
    if other.water is None:
        raise _problem(name, KEY, f'"{printable(told)}" has no [water], so that nothing runs from it into this box')
    if other.plant.weight is not None or other.plant.foot or other.plant.wheels is not None:
        why = (
            f'"{printable(told)}" describes the plant, which carries both boxes; write plant.weight, its feet and its '
            "wheels in this file alone, from the hinge of this box"
        )
        raise _problem(name, KEY, why)
    return _taken(data, table=table, raw=raw, other=other, name=name), other


def _taken(data: Mapping[str, Any], *, table: Mapping[str, Any], raw: bytes, other: Case, name: str) -> dict[str, Any]:
    """The data with the other box's water, as it is written there, and its fall."""
    water, hinge = data.get("water", {}), data.get("hinge", {})
    if not isinstance(water, Mapping) or not isinstance(hinge, Mapping):
        return dict(data)
    twice = [key for key in (*TAKEN, "fall") if key in water]
    if twice:
        why = "comes from the box that feeds this one; leave it out here"
        raise CaseError([Problem(name, f"water.{key}", why) for key in twice])
    theirs = tomllib.loads(raw.decode("utf-8-sig")).get("water", {})
    own = {key: theirs[key] for key in TAKEN if key in theirs}
    try:
        below = measured(table["below"], dimension="length")
        height = measured(hinge["height"], dimension="length") if "height" in hinge else 0.0
    except (KeyError, TypeError, AttributeError, QuantityError):
        return {**data, "water": {**own, **water}}  # the reader says what is wrong with it
    falls = fall(other, below=below, hinge_height=height)
    if not 0.0 <= falls <= _HIGHEST:
        far = write(abs(falls), dimension="length")
        where = "under" if falls < 0.0 else "over"
        why = f"puts the lip of the other box {far} {where} the floor of this one at its hinge"
        raise _problem(name, "fed_by.below", why)
    return {**data, "water": {**own, **water, "fall": f"{falls:.9f} in"}}


def _problem(name: str, key: str, why: str) -> CaseError:
    return CaseError([Problem(name, key, why)])

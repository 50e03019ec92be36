"""One-key changes of shipped cases that a rigger would refuse, and what a check says of each.

    python -m tests.support.refused [word ...]

prints what each change brings that its base does not have; only those whose id contains a word where words are given.
"""

import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from copy import deepcopy
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case
from rigcheck.case.rig import Rig

ROOT = Path(__file__).parents[2]
LISTED = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
BASES: dict[str, dict[str, Any]] = {one["name"]: one for one in LISTED["base"]}
CHANGES: list[dict[str, Any]] = LISTED["refused"]
WITHIN = 1.0  # demand over allowable
WORSE = 1.05  # times its utilization; a part that is over in the base already must get worse by so much to count as new
SORTS = ("over", "stopped", "incomplete", "refused")
Data = dict[str, Any]


class Told(NamedTuple):
    """What a check says of a rig, each a set of words that name it.

    Attributes:
        over: Parts and modes whose utilization is over one.
        stopped: Codes and sentences of findings that stop the rig.
        incomplete: Parts that are not assessed.
        refused: Problems of the reader.
        use: Utilization of each part and mode.
    """

    over: frozenset[str] = frozenset()
    stopped: frozenset[str] = frozenset()
    incomplete: frozenset[str] = frozenset()
    refused: frozenset[str] = frozenset()
    use: Mapping[str, float] = MappingProxyType({})


def steps(path: str) -> list[str | int]:
    """Steps of a key path as people write it: line.link[2].wll is line, link, 1, wll."""
    found: list[str | int] = []
    for word in path.split("."):
        name, *rows = re.split(r"[\[\]]+", word.removesuffix("]"))
        found += [name, *(int(row) - 1 for row in rows)]
    return found


def put(data: Data, *, path: str, value: Any = None) -> None:
    """Set a key of a case, or take it out where there is no value."""
    *way, last = steps(path)
    here: Any = data
    for step in way:
        here = here[step] if isinstance(step, int) else here.setdefault(step, {})
    if value is None:
        del here[last]
    else:
        here[last] = deepcopy(value)


@cache
def _shipped(case: str) -> Data:
    return tomllib.loads((ROOT / "cases" / f"{case}.toml").read_text(encoding="utf-8"))


def base_data(name: str) -> Data:
    """A base as in a file."""
    base = BASES[name]
    data = deepcopy(_shipped(base["case"]))
    for one in base["set"]:
        put(data, path=one["key"], value=one.get("to"))
    return data


def changed_data(change: dict[str, Any]) -> Data:
    """A changed base as in a file."""
    data = base_data(change["base"])
    put(data, path=change["key"], value=change.get("to"))
    return data


def told(data: Data) -> Told:
    """Read a case and check it."""
    try:
        found = assess(Rig(check_case(data)))
    except CaseError as error:
        return Told(refused=frozenset(f"{one.key}: {one.why}" for one in error.problems))
    use = {f"{one.check.part}: {one.check.mode}": float(one.utilization) for one in found.worst}
    return Told(
        use=use,
        over=frozenset(name for name, value in use.items() if value > WITHIN),
        stopped=frozenset(f"{one.code}: {one.text}" for one in found.flags if one.stops and np.any(one.where)),
        incomplete=frozenset(f"{one.id}: {one}" for one in found.not_assessed),
    )


@cache
def told_of_base(name: str) -> Told:
    """What a check says of a base."""
    return told(base_data(name))


def news(change: dict[str, Any]) -> Told:
    """What a change brings that its base does not have."""
    before, after = told_of_base(change["base"]), told(changed_data(change))
    new = {sort: getattr(after, sort) - getattr(before, sort) for sort in SORTS}
    new["over"] |= {name for name in after.over & before.over if after.use[name] > WORSE * before.use[name]}
    return Told(**new)


def brought(change: dict[str, Any], *, new: Told) -> list[str]:
    """The news that are of the expected sort and about the part that was changed."""
    return [one for one in getattr(new, change["expected"]) if change.get("by", "").lower() in one.lower()]


def _lines(words: list[str]) -> Iterator[str]:
    for name, base in BASES.items():
        was = told_of_base(name)
        if was.over or was.stopped or was.refused:
            over = ", ".join(f"{part} {was.use[part]:.2f}" for part in sorted(was.over))
            yield f"BASE {name} ({base['case']}): {over}; {sorted(was.stopped)}; {sorted(was.refused)}"
    for change in CHANGES:
        if words and not any(word in change["id"] for word in words):
            continue
        new = news(change)
        state = "ok" if brought(change, new=new) else "OTHER" if any(getattr(new, sort) for sort in SORTS) else "PASSES"
        yield f"{state:7}{change['id']} [{change['expected']}] {change['key']} = {change.get('to')}"
        if state != "ok":
            for sort in SORTS:
                for one in sorted(getattr(new, sort))[:3]:
                    yield f"          {sort}: {one[:150]}"


if __name__ == "__main__":
    print("\n".join(_lines(sys.argv[1:])))

"""Every number of every shipped case a hundred times too large and too small: refused by name, found, or over.

A slip of the unit is a factor of 12, 25 or 100; what is a hundred times off must never go through without a word.
"""

import re
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import Case, CaseError, check_case
from rigcheck.case.built import built_keys
from rigcheck.case.rig import Rig, varied
from rigcheck.quantities import exact
from tests.support.extreme_rigs import KINDS, _value
from tests.support.refused import put

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
SOME = ("heron-shelf", "larkspur-bar", "lower-hatch", "sawpit-bend", "two-stone-pit")
"""Two with nothing over, one with a plant, one with a backup, one with further supports; the others are swept by
`python -m tests.bench.nightly`."""
POINTS = ("haul.tie_down.from", "haul.tie_down.to", "haul.stop.at")
TIMES = (100.0, 0.01)
A_PLACE = "a place on rig or plant is as possible as another, and what it does to the rig is checked"
EXCEPTIONS = {
    "fitting.at": A_PLACE,
    "fitting.height": A_PLACE,
    "fitting.across": A_PLACE,
    "hanger.height": A_PLACE,
    "perch.downstream": A_PLACE,
    "hinge.height": "a pin axis in the plane of the floor is the default",
    "plant.cg_height": A_PLACE,
    "plant.cg_across": A_PLACE,
    "plant.foot.across": A_PLACE,
    "plant.foot.downstream": A_PLACE,
    "haul.stop.at": A_PLACE,
    "haul.tie_down.from": A_PLACE,
    "haul.tie_down.to": A_PLACE,
    "second_line.downstream": A_PLACE,
    "second_line.perch_height": "no check counts on a second line",
    "second_line.slack": "no check counts on a second line",
    "second_line.height": "no check counts on a second line",
    "tail_leg.gap": "no check counts on a leg, and a leg set snug is the default",
    "line.backup_slack": "a backup pulled tight is what is asked for; slack is the finding",
    "rail.effective_floor_width": "counting no floor with the rail is the default and the careful choice",
    "rail.roll_reported": "what is reported and not what is allowed",
    "hanger.lug.turned": "a plate in line with the box is the default, and its pull aside is checked",
    "perch.lug.turned": "a plate in line with the box is the default, and its pull aside is checked",
    "perch.post.lug_offset": "a lug on the axis of its post is the default, and the torsion is checked",
    "perch.post.brace.top_below": A_PLACE,
    "line.link.side_angle": "a part pulled in line is the default",
    "line.backup.length": "how long one of several links is; all of them together are held to line and hoist",
    "line.link.proof": "read and kept beside the mark; no capacity comes from it",
}
"""Keys of which another size is as true, with the reason why."""


def numbers(data: Any, above: str = "") -> Iterator[tuple[Any, Any, str]]:
    """Holder, step and dotted path of every number and point of a case as in a file, rows counted from 0."""
    for step, inner in data.items() if isinstance(data, dict) else enumerate(data):
        path = f"{above}.{step}".strip(".")
        if plain(path) in (*KINDS.spans, *KINDS.wholes, *POINTS) and not isinstance(inner, (dict, list)):
            yield data, step, path
        elif isinstance(inner, (dict, list)):
            yield from numbers(inner, path)


def plain(path: str) -> str:
    return re.sub(r"\.\d+", "", path)


def moved(value: Any, path: str, times: float) -> Any:
    """The value a hundred times off, as in a file; None where nothing moves."""
    key = plain(path)
    if key in KINDS.wholes:
        new: Any = int(value * times)
    else:
        dimension = "length" if key in POINTS else KINDS.spans[key].dimension
        size = _value(value, dimension)
        if size == 0.0:
            return None
        new = size * times if dimension == "number" else exact(size * times, dimension=dimension)
    return None if new == value else new


def person(path: str) -> str:
    """A dotted path as a person reads it, without the coordinate of a point."""
    if plain(path) in POINTS:
        path = path.rpartition(".")[0]
    return re.sub(r"\.(\d+)", lambda found: f"[{int(found[1]) + 1}]", path)


def refused_by_name(data: Any, path: str) -> bool | Case:
    """Whether a case is refused and each problem, or the rule between keys that it breaks, names the key or its table.

    Returns:
        The case where it is read.
    """
    try:
        return check_case(data)
    except CaseError as error:
        named = [f"{one.key} {one.why}" for one in error.problems]
        table, _, key = person(path).rpartition(".")
        holders = [one.key for one in error.problems if person(path).startswith(one.key)]
        assert holders or any(key in one or table in one for one in named), (path, named)
        return True


def asked_about(case: Case) -> set[str]:
    """Keys of a case, rows counted from 0, that the check asks about."""
    found = set()
    for one in built_keys(case):
        size = abs(float(Rig(case).number(one.key)))
        if (size > 0.0 or not one.none_at_zero) and not one.least <= size <= one.most:
            found.add(one.key)
    return found


@cache
def swept(name: str) -> tuple[dict[str, set[float]], int]:
    """What of a shipped case was read a hundred times off without being asked about, and how many values were moved."""
    data = tomllib.loads(next(one for one in CASES if one.stem == name).read_text(encoding="utf-8"))
    left: dict[str, set[float]] = {}
    count = 0
    for holder, step, path in list(numbers(data)):
        old = holder[step]
        for times in TIMES:
            new = moved(old, path, times)
            if new is None:
                continue
            holder[step] = new
            count += 1
            case = refused_by_name(data, path)
            if isinstance(case, Case) and path not in asked_about(case):
                left.setdefault(path, set()).add(times)
        holder[step] = old
    return left, count


def told(found: Assessment, row: int) -> set[str]:
    """Parts over and findings of one design of a batch."""
    shape = found.utilization.shape
    parts = {one.check.part for one in found.worst if np.broadcast_to(one.utilization, shape)[row] > 1.0}
    return parts | {flag.code for flag in found.flags if np.broadcast_to(flag.where, found.solution.shape)[row].any()}


@pytest.mark.parametrize("name", SOME)
def test_a_number_a_hundred_times_off_is_refused_found_or_over(name: str) -> None:
    left, count = swept(name)
    assert count > 120
    rig = Rig(check_case(tomllib.loads(next(one for one in CASES if one.stem == name).read_text(encoding="utf-8"))))
    tried = [(path, times) for path, some in left.items() for times in some if plain(path) not in EXCEPTIONS]
    tried = [(path, times) for path, times in tried if path not in _gentle(rig)]
    if not tried:
        return
    values = {path: np.full(len(tried) + 1, float(rig.number(path))) for path, _ in tried}
    for row, (path, times) in enumerate(tried, start=1):
        values[path][row] *= times
    found = assess(varied(rig, values))
    before = told(found, 0)
    assert [one for row, one in enumerate(tried, start=1) if not told(found, row) - before] == []


def _gentle(rig: Rig) -> set[str]:
    """Keys of the case as it is that the check asks about for being gentle."""
    return {flag.text.partition(" ")[0] for flag in assess(rig).flags if flag.code == "gentler_than_usual"}


MORE: dict[str, Any] = {
    "box.divider_height": "6 in", "rail.spacing": "29 in", "hinge.plant_barrel_length": "1 1/2 in",
    "hinge.plant_barrel_wall": "3/8 in", "hanger.lug.pin": "5/8 in", "perch.post.past_lug": "2 in",
    "line.link.1.modulus": "13000000 psi", "line.link.1.area": "0.1 in2", "bed.heap": "1 in", "ice.full": False,
    "ice.depth": "3 in", "haul.tie_down.0.stiffness": "400 lb/in",
}  # fmt: skip
"""Keys that no shipped case states, with a value that one might have."""


def test_keys_that_no_shipped_case_states() -> None:
    """Each is read as it stands, and refused or asked about a hundred times off, or is one of the exceptions."""
    data = tomllib.loads((CASES[0].parent / "larkspur-bar.toml").read_text(encoding="utf-8"))
    silent = []
    for path, value in MORE.items():
        put(data, path=person(path), value=value)
        check_case(data)
        for times in TIMES if not isinstance(value, bool) else ():
            wrong = deepcopy(data)
            put(wrong, path=person(path), value=moved(value, path, times))
            case = refused_by_name(wrong, path)
            if isinstance(case, Case) and path not in asked_about(case):
                silent.append((path, times))
    assert silent == []


NAMED = [
    ("haul.tie_down[1].from", ["33 ft", "14 in", "7 in"]),
    ("haul.stop[1].at", ["33 ft", "0 in", "7 in"]),
    ("line.link[1].wll", "200000 lb"),  # a shackle of 1/2 in
    ("rail.effective_floor_width", "60 in"),  # the box is 28 in wide
    ("hanger.lug.width", "36 in"),  # for 3 in: an inch read as a foot
    ("perch.lug.edge", "15 in"),
    ("haul.tie_down[1].eyelet.width", "30 in"),
    ("hinge.above_ground", "1 in"),  # the tail would be 13 in under it
]


@pytest.mark.parametrize(("path", "value"), NAMED)
def test_what_read_within_once_is_refused(path: str, value: Any) -> None:
    data = tomllib.loads((CASES[0].parent / "larkspur-bar.toml").read_text(encoding="utf-8"))
    put(data, path=path, value=value)
    with pytest.raises(CaseError) as caught:
        check_case(data)
    assert path in [one.key for one in caught.value.problems]


def test_a_hoist_whose_mark_is_its_breaking_force_is_worth_a_quarter_of_it() -> None:
    """What breaks at its mark may hold the mark over 4 (ASME B30.21, memory)."""
    data = tomllib.loads((CASES[0].parent / "larkspur-bar.toml").read_text(encoding="utf-8"))
    at = next(i for i, one in enumerate(data["line"]["link"]) if one["kind"] == "lever hoist")
    data["line"]["link"][at] |= {"wll": "2600 lb", "mbf": "2600 lb"}
    found = assess(Rig(check_case(data)))
    part = f"line link {at + 1}:"
    allowed = min(float(np.min(one.check.capacity)) for one in found.worst
                  if one.check.part.startswith(part) and not one.check.on_accidents)  # fmt: skip
    wear = 1.0 - float(Rig(check_case(data)).number("line.wear"))
    assert allowed <= 2600.0 / 4.0 * wear + 1e-6 and bool(found.over)


def test_a_post_whose_base_is_under_the_ground() -> None:
    """The lug of larkspur-bar hangs `perch.height` above the pin, the pin `above_ground` over the ground."""
    data = tomllib.loads((CASES[0].parent / "larkspur-bar.toml").read_text(encoding="utf-8"))
    high = sum(_value(data[table][key], "length") for table, key in (("perch", "height"), ("hinge", "above_ground")))
    data["perch"]["post"]["free_length"] = f"{high - 0.01} in"
    check_case(data)
    data["perch"]["post"]["free_length"] = f"{high + 0.01} in"
    with pytest.raises(CaseError, match=r"perch\.post\.free_length: .* under the ground"):
        check_case(data)


def test_a_backup_longer_than_its_line_or_shorter_than_a_hoist() -> None:
    data = tomllib.loads((CASES[0].parent / "lower-hatch.toml").read_text(encoding="utf-8"))
    check_case(data)
    for length in ("175 in", "1 in"):
        wrong = deepcopy(data)
        for link in wrong["line"]["backup"]:
            link["length"] = length
        with pytest.raises(CaseError, match=r"line\.backup: its links are"):
            check_case(wrong)


def test_a_foot_off_the_plant_and_a_leg_at_the_hinge() -> None:
    shelf = tomllib.loads((CASES[0].parent / "heron-shelf.toml").read_text(encoding="utf-8"))
    pit = tomllib.loads((CASES[0].parent / "two-stone-pit.toml").read_text(encoding="utf-8"))
    for data, path, value in (
        (shelf, "plant.foot[1].downstream", "-481 in"),
        (shelf, "plant.foot[1].across", "121 in"),
        (pit, "tail_leg.at", "5 in"),
        (pit, "second_line.at", "1 in"),
    ):
        wrong = deepcopy(data)
        put(wrong, path=path, value=value)
        with pytest.raises(CaseError) as caught:
            check_case(wrong)
        assert path in [one.key for one in caught.value.problems]

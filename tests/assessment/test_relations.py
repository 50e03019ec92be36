"""Relations that need no expected number: more metal, a bigger rating, less load never raise a utilization.

Each rig is checked once, as a batch: first as it is, then with one number changed in each design.
"""

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import NamedTuple

import numpy as np
import pytest

from rigcheck.analysis.rows import Check, Worst
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import CaseError, check_case, read_case
from rigcheck.case.rig import Rig, varied
from tests.support.extreme_rigs import Data, Maker, _drawn

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))[::3]
DRAWN = range(2)
HELD_BACK = ("folding", "parked", "hauling", "snagged")
"""States in which more weight may hold the box back; what holds there has tests of its own.

In the fold it may lean inward. Of a box that is caught at its tail the hoist's rating P stands whatever is in it, and
the rail is a beam of length L on hinge and snag, pushed up by P at h: with w an inch of weight on it the moment under
the lug is P h (L - h) / L - w h (L - h) / 2, which w makes smaller.
"""
ROUND = 1e-9


class Change(NamedTuple):
    """One number changed so that the parts concerned are worse off, or at least no better.

    Attributes:
        key: Its key path.
        worse: The value that is worse, from the one that stands there.
        concerns: Whether a check is of a part that must feel it.
    """

    key: str
    worse: Callable[[float], float]
    concerns: Callable[[Check], bool]


def part(*starts: str) -> Callable[[Check], bool]:
    """Checks of parts whose name begins so."""
    return lambda check: check.part.startswith(starts)


def room(*groups: str) -> Callable[[Check], bool]:
    """Checks of a room of the rig, none of those that hold whatever is in the box."""
    return lambda check: check.group in groups and not check.snag


BEYOND = ("single-plane fracture beyond the hole", "double-plane shear beyond the hole")
"""What an edge distance is for; a lug without a stand-off of its own also stands as far off as its edge."""
LESS, MORE = (lambda value: 0.8 * value), (lambda value: 1.15 * value)
HUNG = room("line", "hanger", "perch")
METAL = (
    Change("hanger.lug.plate", LESS, part("hanger lug")),
    Change("hanger.lug.edge", lambda value: 0.9 * value, lambda check: check.mode.startswith(BEYOND)),
    Change("hanger.lug.weld", LESS, part("hanger lug")),
    Change("hanger.lug.weld_length", LESS, part("hanger lug")),
    Change("perch.lug.plate", LESS, part("perch lug")),
    Change("perch.lug.weld", LESS, part("perch lug")),
    Change("perch.lug.weld_length", LESS, part("perch lug")),
    Change("perch.post.weld", LESS, part("perch post base weld")),
    Change("hinge.pin", LESS, part("hinge pin")),
    Change("hinge.gap", MORE, part("hinge pin")),
    Change("hinge.barrel_wall", LESS, lambda check: check.part == "hinge barrel"),
    Change("hinge.weld", LESS, part("hinge barrel weld")),
    Change("hinge.weld_length", LESS, part("hinge barrel weld")),
    Change("cross_member.weld", LESS, lambda check: "end weld" in check.part),
    Change("line.wear", lambda value: value + 0.1, room("line")),
    Change("line.link.0.wll", LESS, part("line link 1:")),
    Change("line.link.1.wll", LESS, part("line link 2:")),
    Change("haul.tie_down.0.wll", LESS, part("tie-down 1:", "tie-downs")),
    Change("haul.tie_down.0.eyelet.plate", LESS, part("eyelet of tie-down 1")),
    Change("haul.tie_down.0.eyelet.weld", LESS, part("eyelet of tie-down 1")),
    Change("fold.snub_wll", LESS, part("snub")),
)
LOAD = (
    Change("bed.density", MORE, HUNG),
    Change("bed.depth", MORE, HUNG),
    Change("person.weight", MORE, HUNG),
    Change("person.people", lambda value: value + 1.0, HUNG),
    Change("mat.weight", MORE, HUNG),
    Change("fitting.0.weight", MORE, HUNG),
    Change("water.flow", MORE, HUNG),
    Change("factors.step_down", MORE, HUNG),
    Change("factors.surge", MORE, HUNG),
    Change("towing.vertical", MORE, HUNG),
    Change("plant.fore_aft_slope", lambda value: value + 0.02, HUNG),
    Change("factors.hung", MORE, HUNG),
    Change("factors.line_broken", MORE, HUNG),
    Change("plant.cross_slope", lambda value: value + 0.02, HUNG),
)


@cache
def drawn(seed: int) -> Rig:
    """A rig of plain sizes, drawn by lot, which holds by its lines."""
    for tries in range(1000 * seed, 1000 * seed + 1000):
        try:
            rig = Rig(check_case(_drawn(Maker(Random(tries), wild=0.0))))
            if not bool(assess(rig).stopped):
                return rig
        except CaseError:
            continue
    raise AssertionError("no rig that holds in a thousand")


def rig_called(name: str) -> Rig:
    return drawn(int(name)) if name.isdigit() else Rig(read_case(next(one for one in CASES if one.stem == name)))


@cache
def checked(name: str) -> tuple[Assessment, tuple[Change, ...]]:
    """A rig as it is and once more for each change that it has a number for."""
    return compared(rig_called(name))


def compared(rig: Rig) -> tuple[Assessment, tuple[Change, ...]]:
    """A rig as it is and once more for each change that it has a number for."""
    changes = tuple(one for one in (*METAL, *LOAD) if has(rig, one.key))
    values = {one.key: np.full(len(changes) + 1, float(rig.number(one.key))) for one in changes}
    for row, one in enumerate(changes, start=1):
        values[one.key][row] = one.worse(float(values[one.key][0]))
    return assess(varied(rig, values)), changes


def has(rig: Rig, key: str) -> bool:
    try:
        return rig.value(key) is not None
    except IndexError:
        return False


def broken_by_more(data: Data) -> list[str]:
    """What of a case less metal, a smaller rating or more load makes better."""
    rig = Rig(check_case(data))
    found, changes = compared(rig)
    if bool(np.ravel(found.stopped)[0]):  # near a dead center nothing has a use that means something
        return []
    return [
        f"{changes[row - 1].key}: {worst.check.part}, {worst.check.mode}: {use}"
        for row, worst, use in raised(found, changes)
        if not (use[0] < 0.0 or use[1] >= use[0] * (1.0 - ROUND))
    ]


def raised(found: Assessment, changes: tuple[Change, ...]) -> Iterator[tuple[int, Worst, Array]]:
    """Each change with each check that it concerns, and its utilization before and after."""
    for row, one in enumerate(changes, start=1):
        for worst in found.worst:
            if one.concerns(worst.check) and not (one in LOAD and held_back(found, worst)):
                yield row, worst, np.broadcast_to(worst.utilization, found.utilization.shape)[[0, row]]


def held_back(found: Assessment, worst: Worst) -> bool:
    """Whether a check is at its worst where weight may relieve it, with the rig as it is."""
    return found.solution.rows[int(np.ravel(worst.state)[0])].state in HELD_BACK


def uses(found: Assessment) -> dict[tuple[str, str], float]:
    """Utilization of each part and mode of one rig."""
    return {(one.check.part, one.check.mode): float(one.utilization) for one in found.worst}


NAMES = [*(one.stem for one in CASES), *(str(seed) for seed in DRAWN)]


@pytest.mark.parametrize("name", NAMES)
def test_less_metal_a_smaller_rating_and_more_load_never_lower_a_utilization(name: str) -> None:
    found, changes = checked(name)
    seen = 0
    for row, worst, use in raised(found, changes):
        seen += 1
        none = use[0] < 0.0  # no check of it applies to the rig as it is
        what = changes[row - 1].key, worst.check.part, worst.check.mode, use
        assert none or use[1] >= use[0] * (1.0 - ROUND), what
    assert seen > 20


@pytest.mark.parametrize("name", NAMES)
def test_more_load_never_turns_over_into_within(name: str) -> None:
    found, changes = checked(name)
    for row, one in enumerate(changes, start=1):
        if one in LOAD:
            assert found.over[row] >= found.over[0], one.key


@pytest.mark.parametrize("name", NAMES)
def test_a_state_added_never_lowers_a_utilization(name: str) -> None:
    rig = rig_called(name)
    whole = assess(rig)
    known, most = sorted({row.state for row in whole.solution.rows}), uses(whole)
    for left in (known[::2], known[1::2]):
        some = uses(assess(rig, only=frozenset(left)))
        assert some.keys() <= most.keys()
        assert all(use <= most[part_and_mode] + ROUND for part_and_mode, use in some.items())


@pytest.mark.parametrize("key", ["box.length", "bed.depth"])
@pytest.mark.parametrize("name", [one.stem for one in CASES])
def test_a_shorter_box_and_a_smaller_bed_never_pull_harder(name: str, key: str) -> None:
    """The lines, and what they hang from, of the hung box with everything else where it was."""
    rig = rig_called(name)
    sizes = float(rig.number(key)) * np.array([1.0, 0.97, 0.94])
    found = assess(varied(rig, {key: sizes}), only=frozenset({"running", "packed", "plugged", "iced", "cleanout"}))
    for worst in found.worst:
        if HUNG(worst.check):
            use = np.broadcast_to(worst.utilization, (3,))
            assert np.all(np.diff(use) <= ROUND), (worst.check.part, worst.check.mode, use)

"""The bed mark is kept: nothing is over with it in the box, and something is with an eighth of an inch more."""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

import rigcheck.assessment.assess as engine
from rigcheck.analysis.rows import Check
from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.studies.bed_mark import search as bed_search
from rigcheck.studies.bed_mark import study as bed_mark_module
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.vary.case import with_values
from tests.studies.rigs import SOUND, rig_of
from tests.support.stand_in import Rows
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
CASES = sorted((ROOT / "cases").glob("*.toml"))


def over_with(case, depth):
    return bool(assess(Rig(with_values(case, {"bed.depth": depth}))).over)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_mark_of_a_shipped_case_holds_and_an_eighth_more_does_not(path):
    case = read_case(path)
    mark = bed_mark(Rig(case))
    if mark.depth is None:
        assert over_with(case, 0.0) and mark.limit and mark.state
        return
    assert not over_with(case, mark.depth)
    assert mark.depth == case.box.side_height or over_with(case, min(mark.depth + 0.125, case.box.side_height))
    assert all(not over_with(case, share * mark.depth) for share in (0.0, 0.5))


def test_the_mark_of_a_rig_with_nothing_over_holds_over_all_its_depths():
    case = read_case_text(starter_text(), name="whole")
    assert not over_with(case, case.bed.depth)  # else nothing is tried here
    mark = bed_mark(Rig(case))
    assert mark.depth is not None and case.bed.depth <= mark.depth < case.box.side_height
    assert not any(over_with(case, share * mark.depth) for share in (0.0, 0.25, 0.5, 0.75, 1.0))
    assert over_with(case, mark.depth + 0.125) and mark.limit and mark.state
    assert mark.running is not None and mark.running >= mark.depth


def test_an_assessment_that_is_there_already_changes_nothing():
    case = read_case_text(starter_text(), name="whole")
    assert bed_mark(Rig(case), found=assess(Rig(case))) == bed_mark(Rig(case))


def test_what_is_over_without_any_bed_leaves_no_mark():
    case = read_case_text(starter_text(), name="whole")
    weak = with_values(case, {"line.link.2.wll": 300.0})
    mark = bed_mark(Rig(weak))
    assert mark.depth is None and "lever hoist" in mark.limit


def looked_at(case, monkeypatch):
    """The mark of a rig, the designs times rows that each look came to, and how many rows there are."""
    rows = []
    real = engine.solve

    def counted(*given, **more):
        found = real(*given, **more)
        rows.append(found.demand.total.size)
        return found

    found = assess(Rig(case))
    with monkeypatch.context() as patch:
        patch.setattr(engine, "solve", counted)
        return bed_mark(Rig(case), found=found), rows, len(found.solution.rows)


@pytest.mark.parametrize("name", ["larkspur-bar", "sawpit-bend"])
def test_a_mark_is_looked_for_in_few_rows_and_once_in_all(name, monkeypatch):
    mark, rows, count = looked_at(read_case(ROOT / "cases" / f"{name}.toml"), monkeypatch)
    assert mark.depth is not None
    assert rows[-1] == count and all(some < count for some in rows[:-1])
    assert len(rows) <= 4 and sum(rows) <= 2 * count


@pytest.mark.parametrize("name", ["larkspur-bar", "sawpit-bend"])
def test_a_mark_does_not_hang_on_the_rows_that_are_looked_at_first(name, monkeypatch):
    case = read_case(ROOT / "cases" / f"{name}.toml")
    mark = bed_mark(Rig(case))
    with monkeypatch.context() as patch:
        patch.setattr(bed_search, "_likely_rows", lambda found: set())
        blind, rows, count = looked_at(case, monkeypatch)
    assert rows.count(count) > 1  # all rows said otherwise at first
    assert (blind.depth, blind.limit, blind.state) == (mark.depth, mark.limit, mark.state)
    with monkeypatch.context() as patch:
        patch.setattr(bed_mark_module, "_ROUNDS", 1)
        patch.setattr(bed_search, "_likely_rows", lambda found: set())
        assert bed_mark(Rig(case)).depth == mark.depth  # halved in all rows


def test_a_mark_of_the_running_box_is_the_last_eighth_at_which_nothing_runs_over():
    case = read_case(ROOT / "cases" / "larkspur-bar.toml")
    running = bed_mark(Rig(case)).running

    def over(depth):
        rig = Rig(with_values(case, {"bed.depth": depth}))
        return bool(assess(rig, only=frozenset({"running"})).over)

    assert running is not None and running < case.box.side_height
    assert not over(running) and over(running + 0.125)


def test_a_finding_that_stops_is_named_before_any_part():
    """A device that may pull but not hold stops the rig with a clean floor as with a bed."""
    device = 'kind = "come-along"\nwll = "1700 lb"\nrated_to_suspend = false\n[[line.link]]\n'
    mark = bed_mark(rig_of(SOUND.replace('kind = "wire rope"', f'{device}kind = "wire rope"', 1)))
    assert (mark.depth, mark.limit) == (None, "pull_only_holds") and mark.state


@pytest.mark.parametrize(("depth", "top"), [(None, False), (5.875, False), (6.0, True)])
def test_a_mark_at_the_top_of_the_sides_says_so(depth, top):
    mark = bed_mark_module.BedMark(depth=depth, side_height=6.0, limit="", state="", running=None)
    assert mark.to_the_top is top


def test_the_running_box_is_over_by_a_check_or_by_what_stops_it():
    """Three depths of two rows, the first one running: a check over at the third, a stop at the second."""
    rows = [SimpleNamespace(state="running", ultimate=False), SimpleNamespace(state="packed", ultimate=False)]
    solution = Rows(rows=rows, shape=(3, 2, 1, 1), allowed=np.ones((2, 1), dtype=bool))

    def worst(uses, **more):
        check = Check(part="pin", group="hinge", mode="m", unit="force", demand=np.array(uses)[..., None, None],
                      capacity=np.array(1.0), basis="", clause="", **more)  # fmt: skip
        return SimpleNamespace(check=check, utilization=np.array(uses).max(-1))

    def over(*checks, flags=()):
        flags = [SimpleNamespace(stops=stops, where=np.array(where)[..., None, None]) for stops, where in flags]
        return bed_search._running_over(SimpleNamespace(solution=solution, worst=checks, flags=flags)).tolist()

    pin = worst([[0.2, 1.4], [0.8, 1.5], [1.1, 1.6]])
    assert over(pin) == [False, False, True]
    assert over(worst([[1.2, 0.1]] * 3, snag=True)) == [False] * 3
    stop, said = (True, [[False, True], [True, False], [False, False]]), (False, [[True, True]] * 3)
    assert over(pin, flags=[stop]) == [False, True, True] and over(pin, flags=[said]) == [False, False, True]
    assert over(flags=[stop, (True, [[False, False]] * 3)]) == [False, True, False]

"""The largest mark of a hoist, looked for on uses that are made up; what a snagged box is held to."""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.analysis.rows import Check
from rigcheck.studies.hoist_window import study
from tests.support.stand_in import Rows


def check(part, demand, *, unit="force", snag=False, ultimate=False):
    values = np.asarray(demand, dtype=float)[..., None, None]
    return Check(part=part, key=part, group="line", mode="m", unit=unit, demand=values, capacity=np.array(1.0),
                 basis="", clause="", snag=snag, ultimate=ultimate)  # fmt: skip


def solution(**more):
    """Three rows: packed, with one line broken, and snagged."""
    rows = [SimpleNamespace(ultimate=False), SimpleNamespace(ultimate=True), SimpleNamespace(ultimate=False)]
    cases = [SimpleNamespace(full_pull=False), SimpleNamespace(full_pull=False), SimpleNamespace(full_pull=True)]
    links = [SimpleNamespace(key="hoist", kind="lever hoist"), SimpleNamespace(key="shackle", kind="shackle")]
    return Rows(rows=rows, links=links, allowed=np.ones((3, 1), dtype=bool), shape=(3, 1, 1),
                           cases=lambda holds: np.array([holds(one) for one in cases]), **more)  # fmt: skip


def test_what_a_snagged_box_is_held_to():
    """The snagged row, all rows of what is held to the full rating; not the hoist, nor how far a thing moves."""
    checks = [check("hoist", [9.0] * 3), check("shackle", [9.0] * 3), check("lug", [9.0] * 3, snag=True),
              check("tail", [9.0] * 3, unit="length"), check("shackle", [9.0] * 3, ultimate=True)]  # fmt: skip
    found = [(one.part, mask[:, 0].tolist()) for one, mask in study._snagged(solution(), iter(checks))]
    assert found == [("shackle", [False, False, True]), ("lug", [True, False, True])]


def test_the_highest_of_what_is_snagged_names_who_it_is(monkeypatch):
    monkeypatch.setattr(study, "solve", lambda rig, *, places: solution())
    checks = [check("shackle", [2.0, 3.0, 0.4]), check("lug", [0.1, 9.0, 0.7], snag=True), check("hoist", [5.0] * 3)]
    monkeypatch.setattr(study, "hung_checks", lambda solved: checks)
    use, names, first = study._highest(None, places=None)
    assert (float(use), names[int(first)]) == (0.7, ("lug", "m"))
    monkeypatch.setattr(study, "hung_checks", lambda solved: checks[2:])
    assert float(study._highest(None, places=None)[0]) == -1.0


@pytest.fixture
def most(monkeypatch):
    def run(few, whole, *, marked, sure=True, power=1.0):
        """A rig that is over from one mark on in the rows that decide, and from another on in all rows."""
        rig = SimpleNamespace(number=lambda key: np.asarray(marked))
        one = check("post", [(marked / few) ** power], snag=True)
        found = SimpleNamespace(solution=SimpleNamespace(rig=rig, shape=(1, 1, 1)), worst=[SimpleNamespace(check=one)],
                                made_by=[0])  # fmt: skip
        every = np.ones((1, 1), dtype=bool)
        monkeypatch.setattr(study, "_snagged", lambda solved, checks: [(one, every) for one in checks])
        monkeypatch.setattr(study, "decisive", lambda found, *, checks: (0,))
        monkeypatch.setattr(study, "varied", lambda rig, values: np.asarray(values["line.link.1.wll"]))

        def highest(marks, *, places):
            use = (marks / (whole if places is None else few)) ** power
            return use, [("post", "few" if places else "all")], np.zeros(marks.shape, dtype=int)

        monkeypatch.setattr(study, "_highest", highest)
        return study._most(found, index=1, sure=sure)

    return run


@pytest.mark.parametrize("marked", [600.0, 2000.0, 2345.0, 9000.0])
@pytest.mark.parametrize("power", [1.0, 1.5])
def test_the_largest_mark_in_whole_tens(most, marked, power):
    assert most(2345.0, 2345.0, marked=marked, power=power)[0] == 2340.0
    assert most(2340.0, 2340.0, marked=marked, power=power)[0] == 2340.0  # used to the full and not over


def test_all_rows_have_the_last_word_where_one_must_be_sure(most):
    assert most(2345.0, 2000.0, marked=1000.0) == (2000.0, ("post", "all"))
    assert most(2345.0, 2000.0, marked=1000.0, sure=False) == (2340.0, ("post", "few"))


def test_what_is_over_however_little_it_pulls_has_no_mark(most):
    assert most(5.0, 5.0, marked=1000.0)[0] == 0.0
    assert most(np.inf, np.inf, marked=1000.0) == (None, ())  # nothing is used

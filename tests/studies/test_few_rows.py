"""Which rows are gone on with: from uses and findings that are made up, worked out by hand."""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.analysis.rows import Check
from rigcheck.parts.registry import ROAD, plain_builders
from rigcheck.studies.spread import few as module_few
from rigcheck.studies.spread import study as spread
from rigcheck.studies.spread import trial as module
from rigcheck.studies.spread.few import FACES, RAILS, Few, Wanted, flagged, highest
from rigcheck.studies.spread.study import _Kept
from rigcheck.studies.spread.trial import Tried, choose, shortfall
from tests.support.stand_in import Rows

BUILDERS = plain_builders()
PLAIN = next(i for i, one in enumerate(BUILDERS) if one not in RAILS)
RAIL = next(i for i, one in enumerate(BUILDERS) if one in RAILS and one not in FACES)
FACE = next(i for i, one in enumerate(BUILDERS) if one in FACES)
ROWS = ("empty", "running", "packed", "folding", "folding", "parked", "parked")  # the last two of the folded box


def cover(*kinds):
    """Rows chosen for uses by kind, each (sample, row) on one bound and side."""
    return module._cover([(kind, np.array(use, dtype=float)[:, :, None, None]) for kind, use in kinds])


def test_rows_are_chosen_until_one_is_near_the_worst_of_each_sample():
    """Row 1 is within 0.2 % of the worst of a sample and row 2 of two; what is not used asks nothing."""
    use = [[0.1, 0.999, 1.0], [0.2, 0.9, 0.5], [0.0, 0.3, 0.8], [0.0, 0.0, 0.0]]
    assert cover(("a", use)) == [("a", 2, 0), ("a", 1, 0)]
    assert cover(("a", [[0.5, 0.4]]), ("b", [[0.1, 0.9]])) == [("b", 1, 0)]
    assert cover(("a", [[0.999, 1.0], [0.9, 0.5]])) == [("a", 0, 0)]
    # of rows that serve as many samples the one that is used most
    assert cover(("a", [[1.0, 0.9985, 0.9995]])) == [("a", 0, 0)]
    assert cover(("a", [[1.0, 0.997]]), ("b", [[0.5, 0.5]])) == [("a", 0, 0)]


def a_trial(uses, **more):
    hung = 5
    none = {
        "uses": {key: [np.broadcast_to(np.array(use, dtype=float)[:, :, None, None], (len(use), len(ROWS), 5, 1)) * [
            [[1.0], [0.5], [0.5], [0.5], [0.5]]]] for key, use in uses.items()},
        "stops": {}, "slack": [np.tile([0.9, 0.8, 0.7, 0.6, 0.9, np.inf, np.inf], (2, 1))], "rows": ROWS, "hung": hung,
        "hangs": frozenset({(0, 0), (2, 0)}), "bent": {(1, 0), (2, 0), (3, 0), (4, 0)}, "flanks": {},
        "strained": {(1, 0), (2, 0), (3, 0)},
        "alike": (("empty", "empty"), ("running", "running"), ("packed", "packed"), ("folding", "folding"),
                  ("folding", "folding"), ("parked", "parked"), ("parked", "parked")),
        "twins": {},
    }  # fmt: skip
    return module.Trial(**{**none, **more})


def use_at(row, count=2):
    use = np.full((count, len(ROWS)), 0.1)
    use[:, row] = 0.8
    return use


def kept(few, places):
    """Places of some rows in the numbers of the whole rig."""
    rows = [*few.keep.hung, *(5 + row for row in few.keep.road)]
    return {(rows[at], bound) for at, bound in places}


def test_what_a_part_needs_is_looked_at_and_what_stops_is_looked_for():
    """Rows where a finding that stops would show first: both ends of the fold, the slackest line, the box at rest."""
    few = choose(a_trial({("pin", (PLAIN, False)): use_at(2)}))
    assert few.keep.hung[: few.stops] == (0, 3, 4) and few.keep.hung[few.stops :] == (2,)
    assert {builder: kept(few, places) for builder, places in few.places.items()} == {PLAIN: {(2, 0)}}
    # no rail is asked for, and one that sags is kept: statics want one to work with
    assert kept(few, few.keep.bent) == set() and kept(few, few.keep.sagged) == {(0, 0)} and not few.road
    stops = {"clash": [np.array([[False, True, False, False, False, False, False]] * 2)]}
    few = choose(a_trial({("pin", (PLAIN, False)): use_at(2)}, stops=stops))
    assert few.keep.hung[: few.stops] == (0, 1, 3, 4)


def test_the_row_with_the_slackest_line_of_any_sample_is_looked_at():
    slack = [np.array([[0.9, 0.8, 0.7, 0.6, 0.9, np.inf, np.inf], [0.9, 0.2, 0.7, 0.6, 0.9, np.inf, np.inf]])]
    few = choose(a_trial({("pin", (PLAIN, False)): use_at(2)}, slack=slack))
    assert few.keep.hung[: few.stops] == (0, 1, 3, 4)


def test_a_finding_on_the_road_keeps_every_row_of_the_road():
    stops = {"loose": [np.array([[False] * 6 + [True]])]}
    few = choose(a_trial({("pin", (PLAIN, False)): use_at(2)}, stops=stops))
    assert few.keep.road == (0, 1) and few.road and few.keep.hung[: few.stops] == (0, 3, 4)


def test_what_asks_how_rails_are_bent_keeps_those_rails():
    few = choose(a_trial({("rail", (RAIL, False)): use_at(2)}))
    assert kept(few, few.keep.bent) == {(2, 0)} and kept(few, few.places[RAIL]) == {(2, 0)}
    # how far they sag is another matter
    few = choose(a_trial({("rail", (RAIL, True)): use_at(2)}))
    assert kept(few, few.keep.bent) == set() and kept(few, few.keep.sagged) == {(2, 0)}
    # one that peaks alone keeps those it is held against
    few = choose(a_trial({("rail", (RAIL, False)): use_at(3)}, flanks={3: (2, 4), 1: (0, 2)}))
    assert kept(few, few.keep.bent) == {(3, 0)} and {2, 4} <= set(few.keep.hung) and 1 not in few.keep.hung
    assert [(few.keep.hung[row], [few.keep.hung[i] for i in both]) for row, both in few.keep.flanks.items()] == [
        (3, [2, 4])
    ]


def test_a_face_where_no_rail_is_bent_keeps_those_that_stand_for_it():
    """Row 0 is bent nowhere: the most strained of its state, or where there is none all under its bound."""
    one = ("hanger lug face", (FACE, False))
    few = choose(a_trial({one: use_at(0)}, strained={(1, 0), (2, 0), (3, 1)}))
    assert kept(few, few.keep.bent) == {(1, 0), (2, 0)}
    alike = (("empty", "running"), *a_trial({one: use_at(0)}).alike[1:])
    few = choose(a_trial({one: use_at(0)}, strained={(1, 0), (2, 0)}, alike=alike))
    assert kept(few, few.keep.bent) == {(1, 0)}


def test_a_row_of_the_road_that_governs_is_kept_with_its_twin():
    few = choose(a_trial({("rail", (ROAD, False)): use_at(5)}, twins={5: 6}))
    assert few.keep.road == (0, 1) and few.road and few.keep.road_bent and few.places == {}
    few = choose(a_trial({("tie-down", (ROAD, False)): use_at(6)}, twins={5: 6}))
    assert few.keep.road == (1,) and not few.keep.road_bent


def test_rows_are_told_in_those_that_are_kept():
    """Rows 4 and 1 are looked at for findings, 2 by a check and 6, 7 on the road, of which the hung ones are 6."""
    wanted = Wanted(looked=(4, 1), places={3: [(2, 0), (1, 1)]}, bent=[(2, 0)], sagged=[(4, 1)], peaking={2: (1, 4)})
    assert wanted.rows == {1, 2, 4}
    few = wanted.few(hung=6, road={7, 6}, road_bent=True)
    assert (few.keep.hung, few.keep.road, few.stops, few.road) == ((4, 1, 2), (0, 1), 2, True)
    assert few.places == {3: ((1, 1), (2, 0))}
    assert (few.keep.bent, few.keep.sagged, few.keep.flanks) == (((2, 0),), ((0, 1),), {2: (1, 0)})


def test_how_far_the_few_rows_fall_short():
    """0.9 for 1.0 is a tenth; what is used nowhere falls short of nothing, what is not there at all by all of it."""
    whole = {"pin": np.array([1.0, 0.5, -1.0]), "lug": np.array([0.4, 0.0, 0.0]), "post": np.array([0.0, -1.0, 0.0])}
    few = {"pin": np.array([0.9, 0.5, 0.2]), "post": np.array([0.3, 0.0, 0.0])}
    assert shortfall(few, whole) == pytest.approx({"pin": 0.1, "lug": 1.0, "post": 0.0})


def test_what_fell_short_is_put_on_top_and_no_more_than_a_hundredth():
    few = Few(keep=SimpleNamespace(hung=(1, 2, 3), road=(0,)), places={}, stops=1, road=True)
    tried = Tried(samples=80, rows=9, few=few, short={"pin": 0.005, "lug": 0.2}, missing=())
    assert tried.raised("pin") == pytest.approx(1.0 / 0.995) and tried.raised("lug") == pytest.approx(1.0 / 0.99)
    assert tried.raised("post") == 1.0 and tried.kept == 4


def a_check(part, demand, *, accident=False):
    return Check(part=part, group="line", mode="m", unit="force", demand=np.array(demand, dtype=float)[:, None, None],
                 capacity=np.array(1.0), basis="", clause="", ultimate=accident)  # fmt: skip


def test_the_highest_of_a_part_is_over_its_checks_and_the_rows_each_looks_at():
    allowed, ultimate = np.ones((3, 1), dtype=bool), np.array([False, False, True])
    checks = [a_check("pin", [0.2, 0.4, 0.9]), a_check("pin", [0.3, 0.1, 0.9]), a_check("pin", [2.0, 2.0, 0.6],
              accident=True), a_check("lug", [0.7, 0.1, 0.1])]  # fmt: skip
    found = highest(checks, allowed=allowed, ultimate=ultimate, shape=(3, 1, 2))
    assert {part: float(use) for part, use in found.items()} == {"pin": 0.6, "lug": 0.7}
    some = np.array([[False], [True], [True]])
    assert float(highest(checks[3:], allowed=some, ultimate=ultimate, shape=(3, 1, 2))["lug"]) == 0.1
    none = highest(checks[2:3], allowed=allowed, ultimate=np.zeros(3, dtype=bool), shape=(3, 1, 2))
    assert none == {}  # no line parts in any row


def test_a_finding_of_a_row_holds_under_any_bound_that_applies():
    allowed = np.array([[True, False], [False, False]])
    everywhere = SimpleNamespace(where=np.array([[[True]], [[True]]]))
    assert flagged(everywhere, allowed=allowed, shape=(2, 2, 1)).tolist() == [True, False]
    other = SimpleNamespace(where=np.array([[[False], [True]], [[True], [True]]]))  # under the second bound alone
    assert flagged(other, allowed=allowed, shape=(2, 2, 1)).tolist() == [False, False]


def test_the_more_of_two_uses_is_kept():
    uses = {"pin": np.array([0.5, 0.9])}
    module_few._merge(uses, {"pin": np.array([0.7, 0.2]), "lug": np.array([0.1, 0.1])})
    assert {part: use.tolist() for part, use in uses.items()} == {"pin": [0.7, 0.9], "lug": [0.1, 0.1]}


def test_a_check_of_strength_looks_at_the_rows_in_which_a_line_parts(monkeypatch):
    rows = [SimpleNamespace(ultimate=False), SimpleNamespace(ultimate=True)]
    allowed = np.array([[True, False], [True, True]])
    solution = Rows(rows=rows, allowed=allowed, road=None)
    checks = [(2, a_check("pin", [0.1, 0.1])), (3, a_check("pin", [0.1, 0.1], accident=True))]
    monkeypatch.setattr(module, "numbered_checks", lambda solution: checks)
    found = [(builder, mask.tolist()) for builder, _, mask in module._all_checks(solution)]
    assert found == [(2, [[True, False], [False, False]]), (3, [[False, False], [True, True]])]


def test_a_look_notes_what_may_decide(monkeypatch):
    """Two samples of two rows of the hung box and two of the folded one, one bound, one side."""
    rows = [SimpleNamespace(state=state, ultimate=False) for state in ("empty", "folding", "parked", "parked")]
    tension = np.array([[40.0, 20.0, 0.0, 0.0], [80.0, 10.0, 0.0, 0.0]])[..., None, None]
    solution = Rows(
        rows=rows, life=SimpleNamespace(loads=SimpleNamespace(rows=rows[:2])), bent=SimpleNamespace(pairs=[(1, 0)]),
        sagged=SimpleNamespace(pairs=[(0, 0)]), road=SimpleNamespace(rows=rows[2:]), allowed=np.full((4, 1), True),
        service=SimpleNamespace(weight=np.array([[100.0, 0.0, 1.0, 1.0]] * 2)), demand=SimpleNamespace(tension=tension),
        hung=np.array([True, True, False, False]), shape=(2, 4, 1, 1),
    )  # fmt: skip

    def checked(part, uses, unit="force"):
        demand = np.array(uses)[..., None, None]
        return Check(part=part, group="rail", mode="m", unit=unit, demand=demand, capacity=np.array(1.0), basis="",
                     clause="")  # fmt: skip

    sags = BUILDERS.index(module.rail_checks)
    one, two = [[0.1, 0.5, 0.0, 0.0], [0.2, 0.3, 0.0, 0.0]], [[0.4, 0.2, 0.0, 0.0], [0.1, 0.1, 0.0, 0.0]]
    all_ = np.ones((4, 1), dtype=bool)
    checks = [(PLAIN, checked("pin", one), all_), (PLAIN, checked("pin", two), all_),
              (sags, checked("rail", one, "length"), all_), (sags, checked("rail", two), all_)]  # fmt: skip
    for name, answer in (
        ("solve", solution), ("flanks", {1: (0, 0)}), ("states_of", ("a", "b")), ("strained", {(1, 0)}),
        ("twins", {0: 1}), ("not_assessed", ["lug"]), ("_all_checks", checks), ("stoppers", []), ("road_flags", []),
    ):  # fmt: skip
        monkeypatch.setattr(module, name, lambda *given, answer=answer, **more: answer)
    trial = module.Trial()
    highest_, stops = trial.look(None, count=2)
    assert {part: use.tolist() for part, use in highest_.items()} == {"pin": [0.5, 0.3], "rail": [0.5, 0.3]}
    assert {key: use[0][..., 0, 0].tolist() for key, use in trial.uses.items()} == {
        ("pin", (PLAIN, False)): [[0.4, 0.5, 0.0, 0.0], [0.2, 0.3, 0.0, 0.0]],
        ("rail", (sags, True)): one, ("rail", (sags, False)): two,
    }  # fmt: skip
    assert (trial.rows, trial.hung, trial.twins) == (("empty", "folding", "parked", "parked"), 2, {2: 3})
    assert (trial.bent, trial.hangs, trial.strained, list(trial.missing)) == ({(1, 0)}, {(0, 0)}, {(1, 0)}, ["lug"])
    # tension over weight; a row without weight counts as a pound, one of the folded box has no lines
    assert trial.slack[0].tolist() == [[0.4, 20.0, np.inf, np.inf], [0.8, 10.0, np.inf, np.inf]] and stops == {}


def test_findings_that_stop_are_noted_sample_by_sample(monkeypatch):
    """A chunk of two without any, then one with a finding of its own; the other one is not found again."""
    solution = Rows(road=None, allowed=np.ones((2, 1), dtype=bool), shape=(2, 2, 1, 1))

    def flag(code, where):
        return SimpleNamespace(code=code, stops=code != "said", where=np.array(where)[..., None, None])

    trial = module.Trial(rows=("a", "b"))
    for flags in ([flag("slack", [[True, False], [False, False]]), flag("said", [[True, True], [True, True]])],
                  [flag("clash", [[False, False], [False, True]])]):  # fmt: skip
        trial.slack.append(np.zeros((2, 2)))
        monkeypatch.setattr(module, "stoppers", lambda flags=flags: [lambda solution: flags])
        found = trial._stopped(solution, count=2)
    assert {code: where.tolist() for code, where in found.items()} == {"clash": [False, True]}
    assert {code: np.concatenate(where).tolist() for code, where in trial.stops.items()} == {
        "slack": [[True, False], [False, False], [False, False], [False, False]],
        "clash": [[False, False], [False, False], [False, False], [False, True]],
    }


class Looks:
    """A trial that finds the same in every sample; one part in the first chunk only."""

    rows, missing, stops = ("a", "b", "c"), {"lug": None}, {}

    def __init__(self):
        self.asked = []

    def look(self, batch, *, count, only):
        self.asked.append(batch)
        first = {"post": np.full(count, 0.2)} if len(self.asked) == 1 else {}
        return {"pin": np.full(count, 0.5), **first}, {"clash": np.arange(count) == 0}


@pytest.fixture
def tried(monkeypatch):
    def run(samples, *seen, short=0.0):
        """Try samples of which the few rows see these findings, one after the other."""
        looks, told, sees = Looks(), [], iter(seen)
        monkeypatch.setattr(module, "Trial", lambda: looks)
        monkeypatch.setattr(module, "some_of", lambda batch, *, start, count: (start, count))
        monkeypatch.setattr(module, "choose", lambda trial: "few")

        def few_uses(batch, few, *, only):
            known = {"pin": np.full(batch[1], 0.5 * (1.0 - short)), "post": np.full(batch[1], 0.2)}
            return known, dict.fromkeys(next(sees, ()))

        monkeypatch.setattr(module, "few_uses", few_uses)
        found, uses, stops = module.few_rows(None, samples=samples, only=None, tell=told.append)
        return found, uses, stops, looks.asked, told

    return run


def test_samples_are_tried_until_the_few_rows_do_for_new_ones_too(tried):
    """Five chunks of 16, then two at a time, the last one of what is left; findings that stop must be seen as well."""
    found, uses, stops, asked, told = tried(100, ["clash"])
    assert told == [16, 16, 16, 16, 16, 16, 4] and asked[-2:] == [(80, 16), (96, 4)]
    assert (found.samples, found.rows, found.few, found.missing) == (100, 3, "few", ("lug",))
    assert uses["pin"].tolist() == [0.5] * 100 and uses["post"].tolist() == [0.2] * 16 + [-1.0] * 84
    assert np.flatnonzero(stops["clash"]).tolist() == [0, 16, 32, 48, 64, 80, 96]
    assert tried(1000, [], ["clash"])[0].samples == 144  # not seen at first
    assert tried(1000, ["clash"])[0].samples == 112


def test_where_no_few_rows_do_none_is_gone_on_with(tried):
    """They fall short by a fiftieth every time: given up after 512, in chunks of 32 behind the first 80."""
    found = tried(1000, *[["clash"]] * 20, short=0.02)[0]
    assert found.few is None and found.samples == 528
    assert tried(1000, ["clash"], short=0.009)[0].short["pin"] == pytest.approx(0.009)


def test_what_is_not_described_is_told_from_the_trial(monkeypatch):
    trial = Tried(samples=10, rows=3, few=None, short={}, missing=("lug",))
    monkeypatch.setattr(spread, "few_rows", lambda *given, **more: (trial, {"pin": np.zeros(10)}, {}))
    found, gone_on = spread._at_few_rows(None, samples=10, only=None, tell=print)
    assert list(found.not_assessed) == ["lug"] and gone_on is None and found.filled == 10


def test_what_is_kept_of_samples_chunk_by_chunk():
    found = _Kept(4)
    found.take({"pin": np.array([0.5, 1.2])}, stops={"clash": np.array([True, False])}, count=2)
    found.take({"lug": np.array([0.4, 0.3])}, stops={"clash": np.array([False, True])}, count=2)
    assert found.highest().tolist() == [0.5, 1.2, 0.4, 0.3] and found.over().tolist() == [True, True, False, True]
    more = _Kept(2)
    more.take({"pin": np.array([0.2, 1.5]), "post": np.array([0.1, 0.1])}, stops={"slack": np.array([True, False])},
              count=2)  # fmt: skip
    found.raise_to(more, at=np.array([0, 2]))
    assert found.use["pin"].tolist() == [0.5, 1.2, 1.5, -1.0] and found.use["post"].tolist() == [0.1, -1.0, 0.1, -1.0]
    assert found.stops["slack"].tolist() == [True, False, False, False]

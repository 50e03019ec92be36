"""Ladders of moves with their words, and the scales that rank changes, each with its arithmetic written out."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.case.rig import Rig
from rigcheck.studies.remedies import study
from rigcheck.studies.remedies.combine import Looked, _pairs, _starts, _thinned
from rigcheck.studies.remedies.moves import brace, ladders
from rigcheck.studies.remedies.record import OTHER_BOX, Remedy, Step
from rigcheck.studies.remedies.trial import Rough, Trials, _number, nearer
from rigcheck.studies.vary import batch
from rigcheck.studies.vary.batch import Finding, Judged, RowKey, chunks
from rigcheck.studies.vary.case import with_values
from rigcheck.studies.vary.follow import moved

from .rigs import SOUND, rig_of

RIG = rig_of()  # 89 in long, hung at 62 in, perch 61 in up, sides 6 in, lip 4 1/4 in, cross-members 10 in apart


@pytest.fixture(scope="module")
def rungs():
    return {ladder[0].family: ladder for ladder in ladders(RIG)}


@pytest.mark.parametrize(
    ("family", "first", "last", "key", "moves"),
    [
        ("perch.height up", "raise the perch 1 in, to 62 in above the hinge",
         "raise the perch 36 in, to 97 in above the hinge", "perch.height", (1.0, 36.0)),
        ("perch.downstream up", "move the perch 1 in toward the tail", "move the perch 24 in toward the tail",
         "perch.downstream", (1.0, 24.0)),
        ("perch.downstream down", "move the perch 1 in toward the head", "move the perch 24 in toward the head",
         "perch.downstream", (-1.0, -24.0)),
        ("hanger.at up", "move the hanger 1 in toward the tail, to 63 in",
         "move the hanger 24 in toward the tail, to 86 in", "hanger.at", (1.0, 24.0)),
        ("hanger.at down", "move the hanger 1 in toward the head, to 61 in",
         "move the hanger 24 in toward the head, to 38 in", "hanger.at", (-1.0, -24.0)),
        # whole inches within two fifths of 89 in
        ("box.length down", "shorten the box by 1 in, to 88 in", "shorten the box by 35 in, to 54 in", "box.length",
         (-1.0, -35.0)),
        ("box.side_height down", "lower the sides by 0.25 in, to 5.75 in", "lower the sides by 3 in, to 3 in",
         "box.side_height", (-0.25, -3.0)),
        # quarter inches within four fifths of 4 1/4 in
        ("water.lip down", "lower the lip at the tail by 0.25 in, to 4 in",
         "lower the lip at the tail by 3.25 in, to 1 in", "water.lip", (-0.25, -3.25)),
        ("cross_member.spacing down", "set the cross-members 1 in closer, 9 in apart",
         "set the cross-members 6 in closer, 4 in apart", "cross_member.spacing", (-1.0, -6.0)),
    ],
)  # fmt: skip
def test_each_ladder_says_what_it_moves_from_its_first_rung_to_its_last(rungs, family, first, last, key, moves):
    ladder = rungs[family]
    assert (ladder[0].words, ladder[-1].words) == (first, last)
    now = float(RIG.number(key))
    assert [ladder[i].changes[key] - now for i in (0, -1)] == pytest.approx(moves)


def test_there_is_a_ladder_for_each_thing_that_can_be_moved_and_no_more(rungs):
    assert len(rungs) == 9
    assert all(3 < len(ladder) <= 8 for ladder in rungs.values())
    dry = SOUND.partition("[water]")[0] + SOUND[SOUND.index("[bed]") :]
    assert {ladder[0].family for ladder in ladders(rig_of(dry))} == rungs.keys() - {"water.lip down"}


def test_effort_is_a_hundredth_of_the_length_and_sides_and_lip_count_half_of_theirs(rungs):
    """An inch of 89 in counts 1.124, cut off it twice that; a quarter inch of 6 in of side half of 4.17 %."""
    assert rungs["perch.height up"][0].effort == pytest.approx(100.0 / 89.0)
    assert rungs["box.length down"][0].effort == pytest.approx(200.0 / 89.0)
    assert rungs["box.side_height down"][0].effort == pytest.approx(0.5 * 100.0 * 0.25 / 6.0)
    assert rungs["water.lip down"][0].effort == pytest.approx(0.5 * 100.0 * 0.25 / 6.0)
    assert rungs["cross_member.spacing down"][0].effort == pytest.approx(0.5 * 100.0 * 1.0 / 10.0)


@pytest.mark.parametrize(("free", "top", "run"), [(38.0, 6.0, 19), (16.0, 4.0, 8)])
def test_a_brace_ends_no_lower_than_a_quarter_of_its_post(free, top, run):
    step = brace(Rig(with_values(RIG.case, {"perch.post.free_length": free})))
    told = step.changes["perch.post.brace"]
    assert (told.top_below, told.foot_below, told.foot_downstream) == (top, free, -run)
    assert f"its foot {run} in behind the base of the post" in step.words


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("box.length", ("the hanger stays at 69.66 % of the length", "the perch stays where it is")),  # 62 of 89 in
        ("box.width", ("hinge, hanger, perch: spacings keep their distance from the sides",)),
        ("box.side_height", ("the hanger keeps its distance from the top of the sides",)),
        ("perch.height", ("the post grows with its lug, its base stays",)),
    ],
)
def test_what_moves_along_is_told(key, words):
    told = moved(RIG, key=key, values=np.array([80.0])).words
    assert told[: len(words)] == words and "everything else" in told[-1]


def test_dividers_keep_their_share_of_the_sides():
    """4 in of 6 in: 6 of 9 in."""
    two = Rig(with_values(RIG.case, {"box.channels": 2, "box.divider_height": 4.0}))
    found = moved(two, key="box.side_height", values=np.array([9.0]))
    assert float(found.rig.number("box.divider_height")[0]) == pytest.approx(6.0)
    assert "dividers keep their share of the side height" in found.words


def step(name, effort=1.0, **changes):
    return Step(family=name, words=name, changes=changes, effort=effort)


def remedy(*steps, use=0.5, stops=(), cures=True):
    return Remedy(steps=steps, utilization=use, part="", mode="", state="", stops=stops, cures=cures)


def test_what_the_rows_that_decide_say_of_a_trial():
    rough = Rough({"rail": 1.4, "pin": 0.3}, frozenset({"a", "b"}))
    assert (rough.use, rough.over, rough.cures) == (1.4, {"rail"}, False)
    after = rough.without(parts=frozenset({"rail"}), codes=frozenset({"b"}))
    assert (after.use, after.codes, after.cures) == (0.3, {"a"}, False)
    assert Rough({"pin": 0.3}, frozenset()).cures and Rough({}, frozenset()).use == 0.0
    assert Rough({"pin": 0.3}, frozenset({"a"})).height > 1e3 > Rough({"pin": 9.0}, frozenset()).height


@pytest.mark.parametrize(
    ("use", "stops", "now", "stops_now", "answer"),
    [
        (0.9, 0, 1.2, 0, True), (1.2, 0, 1.2, 0, False), (1.2 - 1e-11, 0, 1.2, 0, False),  # rounding is no help
        (1.2, 1, 1.2, 2, True), (1.3, 1, 1.2, 2, False), (0.9, 1, 1.2, 1, False), (0.9, 2, 1.2, 1, False),
    ],
)  # fmt: skip
def test_less_is_left_to_cure(use, stops, now, stops_now, answer):
    assert nearer(use, stops=stops, now=now, stops_now=stops_now) is answer


def test_another_box_is_weighed_anew_once_and_only_where_it_was_weighed():
    longer, raised = step("box", **{"box.sheet": 0.2}), step("perch", **{"perch.height": 70.0})
    trials = Trials(RIG, rows=0, few=None)
    assert trials._whole((longer, raised)) == (longer, raised)
    weighed = Trials(Rig(with_values(RIG.case, {"measured.empty_weight": 300.0})), rows=0, few=None)
    assert weighed._whole((raised,)) == (raised,)
    assert weighed._whole((longer,)) == (longer, OTHER_BOX) == weighed._whole((longer, OTHER_BOX))
    assert [_number(value) for value in (1, 2.5, True, "A36", None)] == [True, True, False, False, False]


def test_pairs_are_put_together_of_moves_that_leave_less_than_either():
    """Of two parts over by a half each move halves one; a third of the same key, or one that stops, is no partner."""
    now = Rough({"rail": 1.5, "pin": 1.5}, frozenset())
    one = (step("up", 2.0, **{"perch.height": 62.0}), Rough({"rail": 0.7, "pin": 1.5}, frozenset()))
    two = (step("out", 3.0, **{"hanger.at": 63.0}), Rough({"rail": 1.5, "pin": 0.7}, frozenset()))
    same = (step("down", 1.0, **{"perch.height": 60.0}), Rough({"rail": 1.5, "pin": 0.7}, frozenset()))
    bad = (step("in", 1.0, **{"hanger.at": 61.0}), Rough({"rail": 1.5, "pin": 0.7}, frozenset({"clash"})))
    assert _pairs(Looked(now, [[one], [two], [same], [bad]])) == [(one[0], two[0])]
    useless = (step("idle", 1.0, **{"bed.depth": 1.0}), now)
    assert _pairs(Looked(now, [[one], [useless]])) == []


def test_six_ladders_that_help_most_are_put_in_pairs():
    now = Rough({"rail": 1.5, "pin": 1.5}, frozenset())
    ladders = [
        [(step(f"m{i}", 1.0, **{f"k{i}": 1.0}), Rough({"rail": 0.7, "pin": 1.1 + 0.05 * i}, frozenset())),
         (step(f"m{i}", 2.0, **{f"k{i}": 2.0}), Rough({"rail": 0.7, "pin": 3.0 - 0.1 * i}, frozenset()))]
        for i in range(8)
    ]  # fmt: skip
    names = {one.family for pair in _pairs(Looked(now, ladders)) for one in pair}
    assert names == {f"m{i}" for i in range(6)}  # by the best rung of each


@pytest.mark.parametrize(("count", "kept"), [(1, [0]), (3, [0, 1, 2]), (4, [0, 1, 2, 3]), (10, [0, 3, 6, 9])])
def test_four_rungs_of_a_ladder_are_put_in_pairs(count, kept):
    assert _thinned([(i, i) for i in range(count)]) == [(i, i) for i in kept]


def test_moves_that_leave_least_are_tried_first():
    now = Rough({"rail": 1.5, "pin": 1.5}, frozenset())
    parts = [Step(family="p", words="", changes={}, effort=3.0, clears=frozenset({"rail", "pin"}))]
    small, middle, large = step("small", 1.0), step("middle", 4.0), step("large", 9.0)
    well = Rough({"rail": 0.5, "pin": 0.5}, frozenset())
    looked = Looked(now, [[(large, well), (step("none", 0.5), now)], [(small, Rough({"rail": 0.5, "pin": 1.5},
                    frozenset()))], [(middle, well)]])  # fmt: skip
    trials = SimpleNamespace(roughly=lambda pairs: [now] * len(pairs))
    # one change before two, the move and the pin that it leaves; of one the least; what helps nothing is left out
    assert _starts(trials, looked, most=4, parts=parts) == [(middle,), (large,), (small,)]
    assert _starts(trials, looked, most=1, parts=parts) == [(middle,)]


STEEL = SimpleNamespace(cost=lambda trial: (0.0, sum(one.effort for one in trial)))
"""Changes that take no steel, so that the least moved comes first."""


class Tried:
    """Trials whose answers in all rows are known; it keeps what was asked, round by round."""

    def __init__(self, **cures):
        self.cures, self.asked = cures, []

    def wholly(self, trials):
        self.asked.append([trial[0].words for trial in trials])
        return [remedy(*trial, cures=self.cures.get(trial[0].words, False)) for trial in trials]


def family(*steps, good=True, by_part=False):
    rough = Rough({"rail": 0.9 if good else 1.3}, frozenset())
    return study._Family([(one,) for one in steps], [rough] * len(steps), by_part)


def test_the_least_change_of_each_family_is_looked_at_and_the_next_one_where_it_fails():
    trials = Tried(b=True, c=True)
    found = study._cures(
        trials, [family(step("a", 1.0), step("b", 4.0)), family(step("c", 2.0))], steel=STEEL, most=None
    )
    assert [one.words for one in found] == ["c", "b"] and trials.asked == [["a", "c"], ["b"]]


def test_what_takes_less_steel_is_looked_at_before_what_moves_less():
    trials = Tried(a=True, b=True)
    steel = SimpleNamespace(cost=lambda trial: (5.0 if trial[0].words == "a" else 0.0, trial[0].effort))
    found = study._cures(trials, [family(step("a", 1.0)), family(step("b", 9.0))], steel=steel, most=1)
    assert [one.words for one in found] == ["b"] and trials.asked == [["b"]]


def test_a_family_of_which_nothing_is_left_is_given_up():
    trials = Tried(b=True)
    found = study._cures(
        trials, [family(step("a", 1.0)), family(step("b", 2.0)), family(step("d"), good=False)], steel=STEEL, most=None
    )
    assert [one.words for one in found] == ["b"] and trials.asked == [["a", "b"]]


def test_a_short_list_looks_at_no_change_that_is_greater_than_those_it_has():
    trials = Tried(a=True, b=True)
    families = [family(step("b", 2.0), step("e", 5.0)), family(step("a", 1.0)), family(step("c", 3.0), step("f", 6.0))]
    found = study._cures(trials, families, steel=STEEL, most=2)
    assert [one.words for one in found] == ["a", "b"] and trials.asked == [["a", "b"]]


def test_what_comes_nearest_is_told_of_families_that_do_not_cure_by_themselves():
    now = SimpleNamespace(highest=lambda: np.array([1.5]), stops=[])
    families = [family(step("a"), good=False), family(step("b"), good=False), family(step("c"), good=False)]
    families[2].rough = [Rough({"rail": 1.6}, frozenset())]  # worse than now
    trials = Tried()
    alone, pair = remedy(step("a"), OTHER_BOX), remedy(step("b"), step("x"))
    study._nearest(trials, families, besides=[alone, pair], most=None, now=now)
    assert trials.asked == [["b"]]  # `a` cures by itself; `b` in a pair only
    several = family(step("d1"), step("d2"), step("d3"))
    several.rough = [Rough({"rail": use}, frozenset()) for use in (1.3, 1.2, 1.25)]
    study._nearest(trials, [several], besides=[], most=None, now=now)
    assert trials.asked[-1] == ["d2"]  # of a family the one that comes nearest
    study._nearest(trials, families, besides=[alone, pair], most=2, now=now)
    assert trials.asked[-1] == []


def test_numbers_are_tried_in_the_rows_that_decide_and_names_taken_for_what_they_are_there_for():
    named = Step(family="post", words="post", changes={}, effort=1.0, clears=frozenset({"post"}))
    size, move = step("pin"), step("move")
    taken = Rough({"post": 1.4}, frozenset())
    trials = SimpleNamespace(
        numeric=lambda one: one is not named,
        roughly=lambda every: [Rough({one[0].words: 0.5}, frozenset()) for one in every],
    )
    by_name, moves, by_size = study._families(trials, moves=[[move]], parts=[named, size], taken=taken)
    assert (by_name.by_part, moves.by_part, by_size.by_part) == (True, False, True)
    assert (by_name.rough[0].cures, moves.rough[0].uses, by_size.rough[0].uses) == (True, {"move": 0.5}, {"pin": 0.5})
    every = study._families(trials, moves=[[move]], parts=[named, size], taken=None)
    assert [one.trials[0][0] for one in every] == [move, named, size]  # none of them is taken on trust


def test_the_rig_as_it_is_by_the_parts_that_are_over():
    found = judged([0.9, 1.2, 1.4], groups=("line", "rail", "rail"))
    stop = SimpleNamespace(code="clash")
    base = SimpleNamespace(judged=SimpleNamespace(rows=found.rows, use=found.use, stops=[stop, stop]))
    assert study._now(base) == Rough({"rail": 1.4}, frozenset({"clash"}))


def test_trials_that_a_batch_can_carry_go_together_and_each_other_by_itself():
    """Numbers under keys that the case has; a name, or a key that it does not have, makes a rig of its own."""
    trials = Trials(RIG, rows=0, few=None)
    up, out = step("up", **{"perch.height": 70.0}), step("out", **{"perch.downstream": -9.0})
    named, new = step("named", **{"perch.post.shape": "HSS3x3x1/4"}), step("new", **{"tail_leg.at": 80.0})
    assert [trials.numeric(one) for one in (up, named, new)] == [True, False, False]
    found = [(rig.value("perch.post.shape"), members) for rig, members in trials._grouped([(up,), (named,), (out,),
             (named, up)])]  # fmt: skip
    assert found == [("HSS4x4x3/8", [0, 2]), ("HSS3x3x1/4", [1, 3])]


def judged(*uses, groups=("line", "envelope")):
    rows = tuple(RowKey(group, "", group, False, False) for group in groups)
    state = np.zeros((len(uses), len(rows)), dtype=np.intp)
    return Judged(rows, np.array(uses), state, ("empty",), (), ())


def test_a_legal_size_ranks_only_where_it_is_over():
    found = judged([0.5, 0.9], [0.5, 1.2], [1.3, 1.2])
    assert found.highest().tolist() == [0.5, 1.2, 1.3]
    assert [found.governing(i) for i in range(3)] == [0, 1, 0]
    assert found.highest(aside=frozenset(found.rows[:1])).tolist() == [-1.0, 1.2, 1.2]


def test_chunks_are_put_together_with_what_each_has_of_its_own():
    """A check and a finding that a chunk does not have hold for none of its designs."""
    one, other = judged([0.5, 0.9]), judged([0.7], [0.8], groups=("rail",))
    clash = Finding("clash", "it is", np.array([True]), frozenset({"running"}), True, "pin")
    again = Finding("clash", "it is", np.array([False, True]), frozenset({"packed"}), True, "pin")
    slack = Finding("slack", "so it is", np.array([True, True]), frozenset({"packed"}), False, "")
    whole = batch._joined([replace(one, findings=(clash,)), replace(other, findings=(again, slack))])
    assert [row.part for row in whole.rows] == ["line", "envelope", "rail"]
    assert whole.use.tolist() == [[0.5, 0.9, -1.0], [-1.0, -1.0, 0.7], [-1.0, -1.0, 0.8]]
    first, second = whole.findings
    assert (first.code, first.where.tolist(), first.states) == ("clash", [True, False, True], {"running", "packed"})
    assert (second.code, second.where.tolist(), second.stops) == ("slack", [False, True, True], False)


def test_chunks_are_the_batch_in_its_order_and_none_is_longer_than_the_rest(monkeypatch):
    monkeypatch.setattr(batch, "ROWS_AT_ONCE", 6)
    whole = moved(RIG, key="perch.height", values=np.arange(60.0, 65.0)).rig
    parts = list(chunks(whole, rows=3))  # two designs of three rows at once
    assert [count for _, count in parts] == [2, 2, 1]
    assert [list(part.number("perch.height")) for part, _ in parts] == [[60.0, 61.0], [62.0, 63.0], [64.0]]

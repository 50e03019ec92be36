"""What is tried for a rig that is over, and in which order, on a rig of which everything is made up."""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.studies.remedies import combine, study
from rigcheck.studies.remedies.record import Remedy, Step
from rigcheck.studies.remedies.trial import Rough


def step(name, effort=1.0, clears=()):
    return Step(family=name, words=name, changes={name: 1.0}, effort=effort, clears=frozenset(clears))


def remedy(*steps, use=0.9, cures=True, stops=()):
    return Remedy(steps=steps, utilization=use, part="", mode="", state="", stops=stops, cures=cures)


MOVE, PLANT, PART = step("move", 2.0), step("plant", 3.0), step("part", 1.0)
PROP, NEAR, PAIR = step("prop"), step("near"), step("pair")


class Made:
    """Trials whose answers are known, and what was asked of the rest of the study."""

    def __init__(self, *good):
        self.good, self.combined, self.looked = good, [], []

    def cures(self, trial):
        return all(one.words in self.good for one in trial)

    def roughly(self, trials):
        return [Rough({"rail": 0.9 if self.cures(trial) else 1.3}, frozenset()) for trial in trials]

    def wholly(self, trials):
        return [remedy(*trial, cures=self.cures(trial), use=0.9 if self.cures(trial) else 1.3) for trial in trials]

    def numeric(self, _):
        return True


@pytest.fixture
def look(monkeypatch):
    def run(*good, stops=(), tacked=False, **how):
        made = Made(*good)
        codes = [SimpleNamespace(code=code) for code in stops]
        judged = SimpleNamespace(stops=codes, highest=lambda: np.array([1.4]), rows=[], use=np.zeros((1, 0)))
        over = SimpleNamespace(over=True, solution=SimpleNamespace(rows=[]))
        base = SimpleNamespace(found=over, judged=judged)

        def combined(trials, looked, **more):
            made.combined.append(
                ([ladder[0][0].words for ladder in looked.ladders], [one.words for one in more["parts"]])
            )
            return [remedy(PAIR, cures="pair" in good, use=0.95 if "pair" in good else 1.2)]

        monkeypatch.setattr(study, "Base", SimpleNamespace(of=lambda *given, **more: base))
        monkeypatch.setattr(study, "Trials", lambda rig, *, rows, few: made)
        steel = SimpleNamespace(of=lambda steps: 0.0, cost=lambda steps: (0.0, sum(one.effort for one in steps)))
        monkeypatch.setattr(study, "Steel", lambda case: steel)
        for name, answer in (("is_tacked", tacked), ("sieve", None), ("ladders", [[MOVE]]),
                             ("_plant_ladders", [[PLANT]]), ("stopped", False),
                             ("part_steps", [PART])):  # fmt: skip
            monkeypatch.setattr(study, name, lambda *given, answer=answer, **more: answer)
        monkeypatch.setattr(
            study, "_props", lambda base: made.looked.append("props") or [remedy(PROP, use=1.1, cures=False)]
        )
        monkeypatch.setattr(
            study,
            "_nearest",
            lambda *given, **more: made.looked.append("nearest") or [remedy(NEAR, use=1.05, cures=False)],
        )
        monkeypatch.setattr(combine, "combined", combined)
        return [one.words for one in study.remedies(SimpleNamespace(case=None), found=over, **how)], made

    return run


def test_every_single_change_is_tried_the_least_first_and_all_that_comes_near_is_told(look):
    assert look("plant", "move", "part")[0] == ["part", "move", "plant", "near", "prop"]
    assert look("plant")[0] == ["plant", "near", "prop"]


def test_a_box_that_is_only_tacked_is_to_be_welded(look):
    assert look("plant", "move", "part", tacked=True)[0] == []


def test_a_short_list_tells_what_cures_and_looks_no_further(look):
    found, made = look("plant", "part", most=2)
    assert found == ["part", "plant"] and made.looked == [] and made.combined == []
    found, made = look(most=3)
    assert found == ["near", "prop", "pair"] and made.looked == ["props", "nearest"]
    assert look("pair", most=3)[0] == ["pair"]


def test_several_changes_at_once_are_tried_where_none_cures_by_itself_and_where_asked(look):
    assert look()[1].combined == [(["move", "plant"], ["part"])]
    assert look("plant")[1].combined == [] and look(pairs=False)[1].combined == []


def test_where_a_part_alone_can_lift_what_stops_moves_wait_for_the_several(look):
    """A pull-only device is cured by no move: in a short list moves are looked at in combinations only."""
    found, made = look("part", "move", stops=["pull_only_holds"], most=3)
    assert found == ["part"]
    found, made = look(stops=["pull_only_holds"], most=3)
    assert made.combined == [(["move", "plant"], ["part"])]


@pytest.mark.parametrize(
    ("cures", "reaches", "room", "told"),
    [
        (True, True, [], ["move"]),  # the move does it alone
        (False, False, [], ["move"]),  # something is over that no part clears
        (False, True, [], ["move", "move, and part"]),
        (False, True, [remedy(PAIR)], ["move", "pair"]),  # with a hoist that can be bought
    ],
)
def test_after_a_move_a_part_is_looked_for_for_all_that_is_over(monkeypatch, cures, reaches, room, told):
    rows = [SimpleNamespace(part="pin"), SimpleNamespace(part="lug"), SimpleNamespace(part="rail")]
    judged = SimpleNamespace(rows=rows, use=np.array([[1.2, 1.1, 0.8]]))
    base = SimpleNamespace(judged=judged)
    part = step("part", clears=("pin", "lug") if reaches else ("pin",))
    after = SimpleNamespace(solution=SimpleNamespace(rig=None))
    trials = SimpleNamespace(
        alone=lambda start: (remedy(*start, cures=cures), after), wholly=lambda some: [remedy(*one) for one in some]
    )
    monkeypatch.setattr(combine, "Base", SimpleNamespace(of=lambda *given, **more: base))
    monkeypatch.setattr(combine, "stopped", lambda base: False)
    monkeypatch.setattr(combine, "part_steps", lambda base: [part])
    monkeypatch.setattr(combine, "_with_room", lambda *given: room)
    assert [one.words for one in combine._with_parts(trials, (MOVE,))] == told

"""Each remedy, carried out and checked anew, comes to what it states; the least change that cures stands first."""

import json
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path
from random import Random
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rigcheck.assessment import assess as engine
from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case
from rigcheck.case.models.case import Measured
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.loads.measured import first_moment, total
from rigcheck.loads.steel import take_off
from rigcheck.output.remedies.view import NONE, remedies_data, remedy_lines
from rigcheck.studies.hardware.study import hardware
from rigcheck.studies.hoist_window import study as hoists
from rigcheck.studies.props import propped
from rigcheck.studies.remedies.combine import Looked, _starts
from rigcheck.studies.remedies.moves import brace, ladders
from rigcheck.studies.remedies.record import Remedy, Step, applied
from rigcheck.studies.remedies.study import FEW, remedies
from rigcheck.studies.remedies.trial import Rough, Trials
from rigcheck.studies.sieve import sieve
from rigcheck.studies.spread import few as in_few_rows
from rigcheck.studies.vary.case import with_values
from tests.support.extreme_rigs import extreme_case
from tests.support.left_out import paths, without
from tests.support.lot import worked_once

from .rigs import SOUND, case_of, rig_of

SMALL_SHACKLE = SOUND.replace('kind = "shackle"\nsize = "1/2 in"', 'kind = "shackle"\nsize = "1/4 in"', 1)
THIN_PIN = SOUND.replace('pin = "1 1/4 in"', 'pin = "1/2 in"')
TWO_FAULTS = THIN_PIN.replace('kind = "shackle"\nsize = "1/2 in"', 'kind = "shackle"\nsize = "3/16 in"', 1)
FOUR_FAULTS = TWO_FAULTS.replace("HSS4x4x3/8", "HSS2x2x1/8").replace('weld = "3/8 in"', 'weld = "1/8 in"')
PULL_ONLY = SOUND.replace(
    'kind = "wire rope"',
    'kind = "come-along"\nwll = "1500 lb"\nrated_to_suspend = false\n[[line.link]]\nkind = "wire rope"',
    1,
)
HEAVY = SOUND.replace('height = "61 in"', 'height = "23 in"').replace("128 lb/ft3", "140 lb/ft3")
WEAK_BASE = SOUND.replace("HSS4x4x3/8", "HSS3x3x1/4")
STRONG_HOIST = PULL_ONLY.replace("come-along", "lever hoist").replace("1500 lb", "9000 lb").replace("false", "true")
FAULTY = {"shackle": SMALL_SHACKLE, "pin": THIN_PIN, "two": TWO_FAULTS, "four": FOUR_FAULTS, "pull only": PULL_ONLY,
          "low perch": HEAVY, "strong hoist": STRONG_HOIST}  # fmt: skip


ROOT = Path(__file__).parents[2]
CASES = sorted((ROOT / "cases").glob("*.toml"))
WORK, SOLVES = 5, 7  # rows, in those of a whole rig, and solves that the short list of a shipped rig may cost
SHIPPED_ROWS = 399  # rows of a shipped rig, which the work of a drawn one is told in
FAR_OUT, FAR_OUT_SOLVES = 12, 20  # the same of a rig drawn by lot, with everything wrong with it at once


@cache
def cured(text: str) -> list[Remedy]:
    return remedies(rig_of(text))


@pytest.fixture(params=list(FAULTY))
def faulty(request) -> tuple[Rig, list[Remedy]]:
    text = FAULTY[request.param]
    return rig_of(text), cured(text)


def by_check(found: list[Remedy]) -> list[Remedy]:
    """Those that a check counts with; the others are held to what they state among the further supports."""
    return [one for one in found if one.counted == "check"]


def test_each_remedy_carried_out_comes_to_what_it_states(faulty):
    rig, found = faulty
    assert found
    for one in by_check(found):
        after = assess(Rig(applied(rig.case, one)))
        assert float(after.utilization) == pytest.approx(one.utilization, rel=1e-9), one.words
        assert one.cures == (not bool(after.over)), one.words
        assert set(one.stops) == {flag.code for flag in after.flags if flag.stops}, one.words
        top = after.worst[int(after.governing)].check
        if one.cures:
            assert (top.part, top.mode) == (one.part, one.mode)


def test_those_that_cure_stand_first_and_the_least_change_before_the_greater(faulty):
    _, found = faulty
    cures = [one.cures for one in found]
    assert cures == sorted(cures, reverse=True)
    changes = [(one.count, one.steel, one.effort) for one in found if one.cures]
    assert changes == sorted(changes)


def test_of_single_changes_that_cure_the_one_of_least_steel_stands_first():
    """A perch moved takes none; each brace HSS2x2x3/16 is sqrt(19^2 + (38 - 6)^2) = 37.216 in at 4.32 lb/ft (AISC)."""
    found = [one for one in by_check(cured(WEAK_BASE)) if one.cures]
    assert all(one.count == 1 for one in found)
    first, second, third = found
    assert first.words.startswith("move the perch") and first.steel == 0.0 and first.effort > second.effort
    assert second.words.startswith("add a knee brace")
    assert second.steel == pytest.approx(2.0 * 37.216 * 4.32 / 12.0, abs=0.06)
    assert third.words.startswith("shorten the box by 13 in")
    # cut off: 13 in of floor 23 in and two sides 6 in, 10 ga at 0.1345 in, of two stiffeners at 4.32 lb/ft
    cut = 13.0 * (23.0 + 2.0 * 6.0) * 0.1345 * 0.2836 + 2.0 * 13.0 * 4.32 / 12.0
    members = (third.steel - cut) / ((23.0 + 2.0 * 0.1345) * 4.32 / 12.0)  # and a cross-member each ten inches
    assert members == pytest.approx(round(members), abs=0.03) and 0.0 <= members < 2.5
    with_fewer = remedies(rig_of(WEAK_BASE), most=2)
    assert [one.words for one in with_fewer] == [first.words, second.words]


def test_a_remedy_that_does_not_cure_still_helps(faulty):
    rig, found = faulty
    now = assess(rig)
    stops = {flag.code for flag in now.flags if flag.stops}
    for one in found:
        if not one.cures:
            assert len(one.stops) < len(stops) or one.utilization < float(now.utilization)


def test_nothing_over_needs_no_remedy():
    assert remedies(rig_of()) == []


def test_one_weak_part_is_cured_by_the_next_size_that_carries():
    found = cured(SMALL_SHACKLE)
    assert any(one.cures and "carbon shackle" in one.words and len(one.steps) == 1 for one in found)
    found = cured(THIN_PIN)
    assert any(one.cures and "round bar" in one.words for one in found)


def test_a_pull_only_device_is_cured_by_one_marked_for_holding():
    found = cured(PULL_ONLY)
    assert found[0].cures and "marked for holding a load up" in found[0].words


def test_a_hoist_stronger_than_its_anchors_is_cured_by_a_weaker_one_that_carries():
    found = cured(STRONG_HOIST)
    assert any(one.cures and "and no more" in one.words for one in found)


def test_two_faults_are_cured_by_a_pair_where_no_single_change_does():
    found = cured(TWO_FAULTS)
    singles = [one for one in by_check(found) if len(one.steps) == 1 and one.cures]
    pairs = [one for one in found if len(one.steps) == 2]
    assert not singles and pairs and pairs[0].cures and found[0] is pairs[0]
    assert remedies(rig_of(TWO_FAULTS), pairs=False)[0].cures is False


def test_many_faults_are_told_together():
    found = cured(FOUR_FAULTS)
    assert any(len(one.steps) > 2 for one in found)


def test_ladders_go_from_small_to_large_and_keep_the_rules():
    rig = rig_of()
    found = ladders(rig)
    assert len(found) >= 8
    for ladder in found:
        efforts = [step.effort for step in ladder]
        assert efforts == sorted(efforts) and efforts[0] > 0.0
        assert len({step.family for step in ladder}) == 1
        for step in ladder:
            assert all(np.isfinite(value) for value in step.changes.values() if isinstance(value, float))
    shorten = next(ladder for ladder in found if ladder[0].family.startswith("box.length"))
    assert all(float(step.changes["hanger.at"]) < float(step.changes["box.length"]) for step in shorten)


def test_a_brace_is_offered_to_a_post_without_one():
    step = brace(rig_of())
    assert step is not None and "knee brace" in step.words
    assert brace(rig_of(SOUND.partition("[perch.post]")[0] + "[line]" + SOUND.partition("[line]")[2])) is None


def test_lines_say_what_is_left_and_never_more_than_three():
    data = remedies_data(cured(TWO_FAULTS))
    json.dumps(data, allow_nan=False)
    lines = remedy_lines(data)
    assert 1 <= len(lines) <= 3 and "nothing is over then" in lines[0]
    assert len(remedy_lines(data, most=None)) == len(data)
    nothing = [one for one in data if not one["cures"]]
    assert remedy_lines(nothing)[0] == NONE and "does not fix it alone" in remedy_lines(nothing)[1]
    assert case_of(TWO_FAULTS).title in case_of().title


@pytest.mark.parametrize(("name", "words"), [("windlass-flat", "snub line"), ("tollgate-riffle", "side by side")])
def test_shipped_rigs_that_a_line_or_a_strap_cures(name, words):
    rig = Rig(read_case(ROOT / "cases" / f"{name}.toml"))
    found = remedies(rig, pairs=False)
    assert found[0].cures and words in found[0].words
    assert not bool(assess(Rig(applied(rig.case, found[0]))).over)


@pytest.mark.parametrize("name", list(FAULTY))
def test_the_short_list_is_no_worse_than_the_whole_and_as_true(name):
    rig = rig_of(FAULTY[name])
    few, whole = remedies(rig, most=FEW), cured(FAULTY[name])
    cures = [one.steel for one in by_check(whole) if one.cures]
    assert 1 <= len(few) <= FEW
    assert [one.steel for one in by_check(few) if one.cures] == pytest.approx(cures[:FEW])
    for one in by_check(few):
        after = assess(Rig(applied(rig.case, one)))
        assert float(after.utilization) == pytest.approx(one.utilization, rel=1e-9), one.words
        assert one.cures == (not bool(after.over)), one.words


@pytest.fixture
def solved(monkeypatch) -> list[int]:
    """Rows, over all designs, of every solve of the statics from here on."""
    rows: list[int] = []
    real = engine.solve

    def counted(*given, **more):
        found = real(*given, **more)
        rows.append(found.demand.total.size)
        return found

    for module in (engine, in_few_rows, hoists, propped):
        monkeypatch.setattr(module, "solve", counted)
    return rows


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_plain_check_of_a_shipped_rig_that_is_over_says_what_would_cure_it(path, capsys, solved):
    case = read_case(path)
    found = assess(Rig(case))
    if not bool(found.over):
        assert main(["check", str(path), "--json"]) == 0
        assert "remedies" not in json.loads(capsys.readouterr().out)
        return
    solved.clear()
    few = remedies(Rig(case), found=found, most=FEW)
    assert sum(solved) <= WORK * len(found.solution.rows) and len(solved) <= SOLVES
    assert few[0].cures, "every shipped rig that is over has something that cures it"
    with worked_once():
        assert main(["check", str(path), "--json"]) == 1
        told = json.loads(capsys.readouterr().out)["remedies"]
        assert told == remedies_data(few) and 1 <= len(told) <= FEW
        main(["check", str(path), "--all"])
    screen = " ".join(capsys.readouterr().out.split())
    assert all(" ".join(line.split()) in screen for line in remedy_lines(told, most=None))
    for one in by_check(few):
        after = assess(Rig(applied(case, one)))
        assert float(after.utilization) == pytest.approx(one.utilization, rel=1e-9), one.words


def far_out(first: int) -> tuple[Rig, Any]:
    """The first drawn rig that is over, from a seed on, with its assessment."""
    for seed in range(first, first + 50):
        rig = Rig(check_case(extreme_case(Random(seed))))
        try:
            found = assess(rig)
        except CaseError:  # nothing weighs what was weighed
            continue
        if bool(found.over):
            return rig, found
    raise AssertionError("no rig of fifty is over")


@pytest.mark.parametrize("seed", [0, 100])
def test_a_short_list_for_a_rig_far_out_is_little_more_work_than_for_a_shipped_one(seed, solved):
    rig, found = far_out(seed)
    solved.clear()
    remedies(rig, found=found, most=FEW)
    assert sum(solved) <= FAR_OUT * SHIPPED_ROWS and len(solved) <= FAR_OUT_SOLVES


def test_a_rig_that_is_not_over_does_not_load_the_study():
    code = (
        "import io, sys; from rigcheck.cli import main; out, sys.stdout = sys.stdout, io.StringIO();"
        "code = main(['check', sys.argv[1]]); sys.stdout = out;"
        "print(code, *(name for name in sys.modules if name.startswith('rigcheck.studies.')))"
    )
    command = [sys.executable, "-c", code, str(ROOT / "cases" / "larkspur-bar.toml")]
    code, *names = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split()
    known = {"bed_mark", "decisive"}  # the mark, and what decides
    assert code == "0" and {name.split(".")[2] for name in names} == known


def test_a_snub_line_over_its_mark_is_cured_by_a_stronger_one():
    rig = Rig(with_values(read_case(ROOT / "cases" / "larkspur-bar.toml"), {"fold.snub_wll": 10.0}))
    use = next(float(one.utilization) for one in assess(rig).worst if one.check.part == "snub line")
    step = next(one for one in remedies(rig, pairs=False) if "snub line" in one.words)
    assert use > 1.0
    stronger = assess(Rig(applied(rig.case, step)))
    assert next(float(one.utilization) for one in stronger.worst if one.check.part == "snub line") <= 1.0


def weighed(text: str, share: float) -> Rig:
    """A faulty rig whose scale read so much of its take-off."""
    case = case_of(text)
    return Rig(with_values(case, {"measured.empty_weight": share * float(total(take_off(Rig(case))))}))


@pytest.mark.parametrize("share", [0.75, 1.2])
def test_another_box_than_the_one_that_was_weighed_counts_by_its_take_off(share):
    rig = weighed(HEAVY, share)
    found = remedies(rig, pairs=False)
    assert found
    for one in by_check(found):
        other = any(key.startswith(("box.", "cross_member.", "rail.")) for step in one.steps for key in step.changes)
        assert ("weigh the box anew" in one.words) == other, one.words
        after = applied(rig.case, one)
        assert (after.measured == Measured()) == other
        assert float(assess(Rig(after)).utilization) == pytest.approx(one.utilization, rel=1e-9), one.words
    assert any("weigh the box anew" in one.words for one in found)


def test_a_tail_lift_at_the_end_of_what_a_box_can_give_does_not_keep_from_looking():
    case = read_case(ROOT / "cases" / "cinder-fork.toml")
    moment = 0.712 * float(first_moment(Rig(case), pieces=take_off(Rig(case))))
    rig = Rig(with_values(case, {"measured.tail_lift": moment / 90.0, "measured.tail_lift_at": 90.0}))
    few = remedies(rig, most=FEW)
    assert few and all(np.isfinite(one.utilization) for one in few)
    bought = hardware(rig)
    note = "weighed anew"
    heavier = [one for one in bought.choices if one.chosen is not None and "measured" in one.chosen.changes]
    assert heavier and all(note in one.note for one in heavier)


def without_strength_of_a_strap() -> dict[str, Any]:
    """A shipped rig whose pin and straps are too weak and whose straps do not say what breaks them."""
    data = tomllib.loads((ROOT / "cases" / "tollgate-riffle.toml").read_text(encoding="utf-8"))
    data["hinge"]["pin"] = "1/4 in"
    for strap in data["haul"]["tie_down"]:
        strap["wll"] = "60 lb"
        del strap["mbf"]
    return data


def test_over_rigs_whose_straps_have_no_breaking_strength_are_offered_straps_that_have_it():
    rig = Rig(check_case(without_strength_of_a_strap(), name="test"))
    found = remedies(rig)
    assert any(key.endswith(".mbf") for one in found for step in one.steps for key in step.changes)


@pytest.mark.parametrize("place", range(4))
def test_whatever_is_left_out_of_a_rig_that_is_over_remedies_are_looked_for(place):
    """Four keys by lot; `python -m tests.bench.left_out` leaves out every one of every shipped rig."""
    data = without_strength_of_a_strap()
    every = list(paths(data))
    Random(f"left out {place}").shuffle(every)
    case = next(case for path in every if (case := without(data, path)) is not None)
    assert remedies(Rig(case), most=FEW)


def test_a_change_that_leaves_what_stops_the_rig_is_not_told():
    """Cutting the box down lowers what its parts see, and a pull-only puller still holds it up."""
    rig = rig_of(PULL_ONLY)
    stops = {flag.code for flag in assess(rig).flags if flag.stops}
    assert stops == {"pull_only_holds"}
    assert all(set(one.stops) < stops for one in by_check(cured(PULL_ONLY)))


def test_a_rig_beside_its_dead_center_is_moved_away_and_then_given_the_part_that_is_over_there():
    """No part that is sized for the pull beside a dead center tells anything: the hoist is chosen after the move."""
    rig = Rig(read_case(ROOT / "cases" / "fallow-ditch.toml"))
    best = remedies(rig, most=FEW)[0]
    assert best.cures and len(best.steps) == 3  # the pin too, so that the hoist's window has room
    after = assess(Rig(applied(rig.case, best)))
    assert not bool(after.over)
    for step in best.steps:  # neither of them does it alone
        assert bool(assess(Rig(with_values(rig.case, step.changes))).over), step.words


def test_what_is_tried_in_few_rows_is_never_over_where_all_rows_are_not():
    """A row left out can only hide what is over, so that what the few rows give up is given up rightly."""
    rig = Rig(read_case(ROOT / "cases" / "cinder-fork.toml"))
    found = assess(rig)
    trials = Trials(rig, rows=len(found.solution.rows), few=sieve(found))
    some = [(step,) for ladder in ladders(rig) for step in ladder[-2:]]
    for rough, whole in zip(trials.roughly(some), trials.wholly(some), strict=True):
        assert rough.use <= whole.utilization * (1.0 + 1e-9), whole.words
        assert rough.codes <= set(whole.stops), whole.words
    own = trials.roughly([()])[0]
    assert own.use == pytest.approx(float(found.utilization), rel=1e-9)


def test_a_pair_that_breaks_a_rule_between_keys_is_no_remedy():
    rig = rig_of(THIN_PIN)
    found = assess(rig)
    trials = Trials(rig, rows=len(found.solution.rows), few=sieve(found))
    length = float(rig.number("box.length"))
    beyond = Step(
        family="hanger.at up", words="hang it beyond its tail", changes={"hanger.at": 2.0 * length}, effort=1.0
    )
    assert trials.wholly([(beyond,)])[0].utilization == np.inf


def test_a_part_that_a_change_takes_out_of_the_rows_looked_at_counts_as_before_it():
    """A drawn rig whose side wall was over had no side wall in those rows after a move, and `check` ended in 70."""
    lower = Step(family="lower", words="lower the bed", changes={}, effort=1.0)
    gone = Step(family="gone", words="take the rail off", changes={}, effort=2.0)
    now = Rough({"side wall": 1.5, "line": 0.5}, frozenset())
    moves = [
        [(lower, Rough({"side wall": 1.2, "line": 0.5}, frozenset()))],
        [(gone, Rough({"line": 0.4}, frozenset()))],
    ]
    part = Step(family="part", words="a part", changes={}, effort=1.0, clears=frozenset({"line"}))
    trials = SimpleNamespace(roughly=lambda pairs: [Rough({"line": 0.4}, frozenset())] * len(pairs))
    found = _starts(trials, Looked(now, moves), most=4, parts=[part])
    assert found[0] == (lower,)

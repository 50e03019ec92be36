"""The fold study: energy, closed forms against the sweep, peaks between its angles, remedies, batches."""

from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import layout
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.fold.checks import BEHIND, HELD, OUTWARD, SLACK
from rigcheck.statics.geometry import pose
from rigcheck.studies.fold.record import FoldStudy
from rigcheck.studies.fold.remedy import FINE, STEP, obstacle, remedies, workable
from rigcheck.studies.fold.study import fold, fold_of
from tests.statics.random_rigs import FOLDING, PLAIN, rig_of, varied_rig

CASES = Path(__file__).parents[2] / "cases"
COUNT = 60
LEAN = 2.0  # deg, the default of plant.fore_aft_slope


@pytest.fixture(scope="module")
def many() -> FoldStudy:
    """Random rigs on level ground folded to random angles, dead points and balance points among them."""
    rig = varied(varied_rig(FOLDING, COUNT, seed=11), {"plant.fore_aft_slope": np.zeros(COUNT)})
    return fold(varied(rig, {"fold.to": np.radians(np.random.default_rng(3).uniform(40.0, 175.0, COUNT))}))


def shipped(name: str) -> FoldStudy:
    return fold(Rig(read_case(CASES / f"{name}.toml")))


def test_the_lines_work_is_the_rise_of_the_weight(many):
    sweep = many.sweep
    smooth = ((sweep.hold == HELD) & (sweep.arm > 0.15 * sweep.radius)).cumprod(-1)[..., 1:] > 0
    assert smooth.sum() > 40 * COUNT  # the test has something to look at
    work = 2.0 * 0.5 * (sweep.tension[..., 1:] + sweep.tension[..., :-1]) * -np.diff(sweep.line_length, axis=-1)
    s, n = many.center[..., :1], many.center[..., 2:] - many.assessment.solution.layout.hinge_height[..., None]
    height = s * np.sin(sweep.floor) + n * np.cos(sweep.floor)
    rise = many.weight[..., None] * np.diff(height, axis=-1)
    done, raised = (np.where(smooth, one, 0.0).sum(-1) for one in (work, rise))
    np.testing.assert_allclose(done, raised, rtol=1e-3, atol=1e-6)


def crossings(values: np.ndarray) -> np.ndarray:
    return np.signbit(values[..., 1:]) != np.signbit(values[..., :-1])


@pytest.mark.parametrize(("curve", "closed"), [("arm", "dead"), ("moment", "over_center")])
def test_closed_forms_lie_where_the_sweep_changes_sign(many, curve, closed):
    sweep = many.sweep
    angle = np.broadcast_to(getattr(many.angles, closed)[..., None], sweep.fold[..., 1:].shape)
    between = (sweep.fold[..., :-1] <= angle) & (angle <= sweep.fold[..., 1:])
    downward = crossings(getattr(sweep, curve)) & (getattr(sweep, curve)[..., :-1] > 0.0)
    assert downward.any(-1).sum() > COUNT // 4
    np.testing.assert_array_equal(downward.any(-1), between.any(-1))
    np.testing.assert_array_equal(downward.argmax(-1), between.argmax(-1))


def test_everything_is_a_number(many):
    for part in (many.sweep, many.angles, many.line, many):
        for field in fields(part):
            value = getattr(part, field.name)
            if isinstance(value, np.ndarray):
                assert np.isfinite(value).all(), field.name


def test_one_rig_is_its_row_in_the_batch(many):
    rig = many.assessment.solution.rig
    for i in (0, 7, COUNT - 1):
        alone = fold(varied(rig, {key: values[i] for key, values in rig.varied.items()}))
        for part in ("sweep", "angles"):
            one, batch = getattr(alone, part), getattr(many, part)
            for field in fields(one):
                whole = np.broadcast_to(getattr(batch, field.name), (COUNT, *getattr(one, field.name).shape))
                np.testing.assert_allclose(getattr(one, field.name), whole[i], rtol=1e-9, atol=1e-9, err_msg=field.name)
        assert alone.reachable == many.reachable[i]
        assert alone.over == many.over[i]
        assert alone.largest == pytest.approx(many.largest[i], rel=1e-9)


def pulls(study: FoldStudy, *, folds: np.ndarray) -> np.ndarray:
    """Pull of each of two lines at given fold angles, zero in the dead band."""
    points = study.assessment.solution.layout
    at = pose(points, fold=folds)
    s, n = study.center[..., :1], study.center[..., 2:] - points.hinge_height[..., None]
    moment = study.weight[..., None] * (s * np.cos(at.angle) - n * np.sin(at.angle))
    usable = np.abs(at.arm) >= 0.05 * at.radius
    return np.where(usable, 0.5 * moment / np.where(usable, at.arm, 1.0), 0.0)


def test_a_fold_is_over_for_each_reason_by_itself():
    """Not reached, something struck, a finding that stops it, a check that is over: one of them is enough."""
    well = shipped("larkspur-bar")
    assert not well.over
    rows = well.assessment.solution
    stop = Flag(code="made up", text="", stops=True, where=np.ones(rows.shape, dtype=np.bool_))
    struck = [("post", np.ones_like(well.kept))]
    for bad in (
        replace(well, reachable=np.asarray(False)),
        replace(well, cuts=struck),
        replace(well, fouls=struck),
        replace(well, assessment=replace(well.assessment, flags=[stop])),
        replace(well, checks=[replace(well.checks[0], utilization=np.asarray(1.01))]),
    ):
        assert bad.over


def test_the_largest_pull_is_not_missed_between_angles(many):
    first = np.minimum(many.kept.cumprod(-1).sum(-1), many.kept.shape[-1] - 1)[..., None]
    end = np.take_along_axis(many.sweep.fold, first, axis=-1)
    dense = pulls(many, folds=end * np.linspace(0.0, 1.0, 20_001)).max(-1)
    assert (many.largest >= dense * (1.0 - 1e-5)).all()
    at_peak = np.maximum(pulls(many, folds=many.angles.peak[..., None])[..., 0], 0.0)
    np.testing.assert_allclose(many.largest, at_peak, rtol=1e-9, atol=1e-6)
    assert (many.largest > 1.05 * np.where(many.kept.cumprod(-1) > 0, many.sweep.tension, 0.0).max(-1)).sum() > 5


def test_the_largest_pull_on_a_slope_is_that_of_the_worse_end():
    """Gravity turned by hand: 3 deg nose-down or nose-up, W (x cos a + z sin a) about the hinge over d."""
    study = fold(varied(rig_of(FOLDING), {"plant.fore_aft_slope": np.radians(3.0), "plant.cross_slope": 0.0}))
    points = study.assessment.solution.layout
    at = pose(points, fold=study.sweep.fold)
    s, n = study.center[0], study.center[2] - points.hinge_height
    x, z = s * np.cos(at.angle) - n * np.sin(at.angle), s * np.sin(at.angle) + n * np.cos(at.angle)
    both = [study.weight * (x * np.cos(a) + z * np.sin(a)) / (2.0 * at.arm) for a in np.radians((3.0, -3.0))]
    worse = np.maximum(*both)
    np.testing.assert_allclose(study.sweep.tension, worse / np.cos(np.radians(3.0)), rtol=1e-9)
    most = study.sweep.tension.max()
    assert most * (1.0 - 1e-12) <= study.largest < 1.01 * most
    assert study.largest_alone == pytest.approx(2.0 * study.largest)  # one alone carries what both do together
    assert np.abs(both[0] - both[1]).max() > 0.05 * worse.max()


def test_error_of_the_perch_against_moving_it():
    rig = varied(rig_of(FOLDING), {"perch.downstream": 14.0, "perch.height": 44.0, "fold.to": np.radians(52.0)})
    study, step = fold(rig), 1e-3
    way = np.radians(np.arange(0.0, 360.0, 3.0))
    moved = varied(rig, {"perch.downstream": 14.0 + step * np.cos(way), "perch.height": 44.0 + step * np.sin(way)})
    change = np.abs(study.sweep.moment / (2.0 * pose(layout(moved), fold=study.sweep.fold).arm) - study.sweep.tension)
    assert (study.sweep.hold == HELD).all()
    np.testing.assert_allclose(study.sweep.per_inch, change.max(0) / step, rtol=3e-3)


def test_shortest_line_and_take_up(many):
    sweep, line = many.sweep, many.line
    assert (line.shortest <= sweep.line_length.min(-1) + 1e-9).all()
    coarse = sweep.line_length.min(-1) - line.shortest
    assert coarse.max() < 0.25  # a step of the sweep is a degree at most
    np.testing.assert_allclose(line.take_up, sweep.line_length[..., 0] - line.shortest)


def test_one_line_alone_pulls_what_both_do_together(many):
    sweep = many.sweep
    np.testing.assert_allclose(sweep.alone, 2.0 * sweep.tension, rtol=1e-12)
    np.testing.assert_allclose(sweep.peak_alone, 2.0 * sweep.peak_tension, rtol=1e-12)


def test_snub_line_holds_the_moment(many):
    inward = many.sweep.moment < 0.0
    assert inward.any()
    np.testing.assert_allclose((many.sweep.snub * many.sweep.radius)[inward], -many.sweep.moment[inward])
    assert (many.sweep.snub[~inward] == 0.0).all()


def test_hinge_and_lines_carry_the_weight(many):
    sweep, at = many.sweep, many.assessment.solution
    by_lines = (sweep.hold == HELD) | (sweep.hold == BEHIND)
    uz = pose(at.layout, fold=sweep.fold).uz
    up = sweep.hinge[..., 2].sum(-1) + 2.0 * sweep.tension * uz
    np.testing.assert_allclose(up[by_lines], np.broadcast_to(many.weight[..., None], up.shape)[by_lines], rtol=1e-9)


def test_a_case_that_does_not_fold_is_refused():
    with pytest.raises(ValueError, match=r"fold\.to"):
        fold(rig_of(PLAIN))


def test_what_the_example_rigs_show():
    peak, never, falls = shipped("sawpit-bend"), shipped("fallow-ditch"), shipped("windlass-flat")
    assert bool(peak.reachable) and bool(peak.clear)
    end = peak.sweep.fold[-1]
    assert peak.angles.peak == pytest.approx(end) and peak.largest > 2.4 * peak.sweep.tension[0]
    assert obstacle(never) == "dead_point" and (never.sweep.hold == OUTWARD).any()
    assert never.angles.reached < never.angles.dead < never.angles.over_center
    assert obstacle(falls) == "slack_inward" and falls.sweep.hold[-1] == SLACK
    assert falls.angles.reached < falls.angles.over_center < falls.angles.dead
    lean = np.radians(LEAN)
    assert falls.angles.slack_from == pytest.approx(falls.angles.over_center - lean)
    assert falls.angles.free_arc == pytest.approx(2.0 * (falls.angles.dead - falls.angles.over_center + lean))
    assert falls.angles.slack_to == pytest.approx(falls.sweep.fold[-1])


def test_a_remedy_works_and_a_shorter_move_does_not():
    study = shipped("fallow-ditch")
    found = remedies(study)
    assert found and [abs(one.move) for one in found] == sorted(abs(one.move) for one in found)
    for one in found:
        then = fold(varied(study.assessment.solution.rig, {one.key: one.value}))
        assert bool(then.reachable) and bool(then.clear) and one.within and not one.snub
        less = np.sign(one.move) * np.array([abs(one.move) - STEP / FINE])
        assert not workable(study, key=one.key, moves=less, snub=study.snub, rated=True)[0]


def test_a_move_is_rated_with_the_factor_of_folding():
    """A hand ratchet jerks: 1.1 on the static pull. A weakest link of 1.05 of that is not enough, one of 1.15 is."""
    study = shipped("fallow-ditch")
    solution, move = study.assessment.solution, remedies(study)[0]
    then = fold(varied(solution.rig, {move.key: move.value}))
    weakest = min(float(np.min(link.working)) / link.share for link in solution.links)
    marks = {
        f"line.link.{i}.wll": float(solution.rig.number(f"line.link.{i}.wll"))
        for i in range(len(solution.links))
        if solution.rig.has(f"line.link.{i}.wll")
    }
    pull = float(then.largest) * (2.0 if solution.rig.value("fold.one_line") else 1.0)
    for spare, good in ((1.05, False), (1.15, True)):
        scale = spare * pull / weakest
        weak = fold(varied(solution.rig, {key: scale * mark for key, mark in marks.items()}))
        left = min(float(np.min(link.working)) / link.share for link in weak.assessment.solution.links)
        assert left == pytest.approx(spare * pull)
        assert bool(workable(weak, key=move.key, moves=np.array([move.move]), snub=study.snub, rated=True)[0]) is good


def test_a_box_that_only_falls_inward_needs_a_snub_and_no_move():
    (only,) = remedies(shipped("windlass-flat"))
    assert only.key == "fold.snub" and only.snub and only.move == 0.0
    text = (CASES / "windlass-flat.toml").read_text(encoding="utf-8")
    with_snub = fold(rig_of(text.replace("[fold]\n", "[fold]\nsnub = true\n")))
    assert bool(with_snub.reachable) and remedies(with_snub) == []


def test_a_line_too_long_for_the_fold_is_named():
    rig = varied(rig_of(FOLDING), {"fold.to": np.radians(80.0), "line.link.1.length": 70.0})
    study = fold(rig)
    assert obstacle(study) == "line_too_short" and not bool(study.reachable)
    assert study.angles.reached < study.sweep.fold[-1]


def test_remedies_are_for_one_rig(many):
    with pytest.raises(ValueError, match="batch"):
        remedies(many)


def test_the_study_of_an_assessment_is_the_study_of_its_rig():
    study = shipped("sawpit-bend")
    again = fold_of(study.assessment)
    np.testing.assert_array_equal(again.sweep.tension, study.sweep.tension)

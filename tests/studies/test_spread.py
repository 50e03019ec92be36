"""Spread: nothing spread is the check, a linear case is the closed form, the same seed is the same answer."""

import json

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.rig import varied
from rigcheck.output.screen import Look
from rigcheck.output.spread.view import spread_result, spread_screen
from rigcheck.studies.spread import study
from rigcheck.studies.spread.sampling import (
    CUT,
    centered_ranks,
    even,
    extremes_first,
    latin_hypercube,
    normal,
    rank_correlation,
    ranks,
)
from rigcheck.studies.spread.study import QUANTILES, spread, upper_end
from rigcheck.studies.spread.unknowns import USUAL, given, usual
from rigcheck.studies.vary.batch import judge

from .rigs import SOUND, case_of, rig_of

CASE = case_of()
RIG = rig_of()
EMPTY = frozenset({"empty"})
PACKED = frozenset({"packed"})


def test_nothing_spread_is_the_check():
    unknowns = given(CASE, ["bed.density=+-0 %", "box.length=89 in..89 in"])
    found = spread(RIG, unknowns=unknowns, samples=20)
    checked = assess(RIG)
    assert found.highest.now == pytest.approx(float(checked.utilization), rel=1e-12)
    for value in found.highest.quantiles:
        assert value == pytest.approx(float(checked.utilization), rel=1e-9)
    for part in found.parts:
        expected = max(float(one.utilization) for one in checked.worst if one.check.part == part.name)
        assert part.quantiles == pytest.approx((expected,) * len(QUANTILES), rel=1e-9)
        assert part.over == float(expected > 1.0) and part.matters == (0.0, 0.0)


def test_a_linear_case_is_the_closed_form():
    """The pull of the empty box is linear in the weight of its tail lip, so quantiles are those of the weight."""
    low, high = 10.0, 900.0
    found = spread(RIG, unknowns=given(CASE, [f"fitting.weight={low} lb..{high} lb"]), samples=1000, only=EMPTY)
    rope = next(part for part in found.parts if "wire rope" in part.name)
    ends = judge(varied(RIG, {"fitting.0.weight": np.array([low, high])}), only=EMPTY)
    rows = [i for i, row in enumerate(ends.rows) if row.part == rope.name and not row.accident]
    first, last = ends.use[:, rows].max(-1)
    for share, value in zip(QUANTILES, rope.quantiles, strict=True):
        assert value == pytest.approx(first + share * (last - first), abs=2.0 * (last - first) / 1000.0)
    assert rope.matters == pytest.approx((1.0,), abs=1e-12)


def test_the_chance_of_a_linear_case_is_the_closed_form():
    """Pushed until the shackle is over in part of the range; the chance is the share of the range past its limit."""
    text = SOUND.replace('kind = "shackle"\nsize = "1/2 in"', 'kind = "shackle"\nsize = "3/16 in"', 1)
    rig = rig_of(text)
    low, high = 10.0, 1400.0
    found = spread(rig, unknowns=given(rig.case, [f"fitting.weight={low} lb..{high} lb"]), samples=1000, only=EMPTY)
    part = next(part for part in found.parts if part.name.startswith("line link 1"))
    ends = judge(varied(rig, {"fitting.0.weight": np.array([low, high])}), only=EMPTY)
    rows = [i for i, row in enumerate(ends.rows) if row.part == part.name and not row.accident]
    first, last = ends.use[:, rows].max(-1)
    assert first < 1.0 < last
    assert part.over == pytest.approx((last - 1.0) / (last - first), abs=1.0 / 500.0)


def test_the_same_seed_is_the_same_answer_and_another_is_not():
    unknowns = usual(CASE)
    one, two, other = (spread(RIG, unknowns=unknowns, samples=60, seed=seed, only=PACKED) for seed in (3, 3, 4))
    assert one == two
    assert one.highest.quantiles != other.highest.quantiles


def test_what_moves_the_answer_most_is_told():
    texts = ["bed.density=+-20 %", "water.flow=+-1 %", "perch.spacing=+-0.1 in"]
    found = spread(RIG, unknowns=given(CASE, texts), samples=200, only=PACKED)
    assert found.highest.matters[0] > 0.95 and max(map(abs, found.highest.matters[1:])) < 0.3
    told = spread_result(found, case=CASE)
    assert told["matters"][0]["key"] == "bed.density"


def test_progress_counts_every_sample():
    counts: list[int] = []
    spread(RIG, unknowns=usual(CASE), samples=150, only=PACKED, done=counts.append)
    assert sum(counts) == 150


def test_a_stop_is_counted_as_over():
    device = 'kind = "come-along"\nwll = "1700 lb"\nrated_to_suspend = false\n[[line.link]]\n'
    text = SOUND.replace('kind = "wire rope"', f'{device}kind = "wire rope"', 1)
    rig = rig_of(text)
    found = spread(rig, unknowns=given(rig.case, ["bed.density=+-1 %"]), samples=12, only=PACKED)
    assert found.highest.quantiles[-1] < 1.0  # nothing else is over
    assert found.over == 1.0 and found.stopped == {"pull_only_holds": 1.0}


@pytest.mark.parametrize(
    ("text", "low", "high", "deviation"),
    [
        ("hanger.at=+-2 in", 60.0, 64.0, 0.0),
        ("hanger.at=\u00b12 in", 60.0, 64.0, 0.0),
        ("hanger.at=5 ft..64 in", 60.0, 64.0, 0.0),
        ("hanger.at=+-10 %", 55.8, 68.2, 0.0),
        ("hanger.at=normal 1 in", 62.0 - CUT, 62.0 + CUT, 1.0),
        ("line.wear=+-2 %", 0.03, 0.07, 0.0),
        ("factors.hung=1.2..1.5", 1.2, 1.5, 0.0),
    ],
)
def test_spreads_are_read(text, low, high, deviation):
    (found,) = given(CASE, [text])
    assert (found.low, found.high, found.deviation) == pytest.approx((low, high, deviation))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("hanger.at", "not a key with its spread"),
        ("hanger.at=", "not a key with its spread"),
        ("hanger.at=wide", "is no spread"),
        ("hanger.at=+-2", "has no unit"),
        ("hanger.at=64 in..60 in", "runs downward"),
        ("hanger.at=60 in..95 in", "at or past the tail"),
        ("line.wear=+-20 %", "outside what this key accepts"),
        ("hanger.att=+-2 in", "nearest: hanger.at"),
        ("hanger.at=+--2 in", "outside what this key accepts|not a number|no unit"),
    ],
)
def test_what_is_no_spread_is_refused(text, message):
    with pytest.raises(CaseError, match=message):
        given(CASE, [text])


def test_a_key_is_given_once():
    with pytest.raises(CaseError, match="given twice"):
        given(CASE, ["hanger.at=+-2 in", "hanger.at=+-1 in"])


def test_what_is_usual_leaves_out_what_is_stated_or_not_described():
    names = [one.variable.name for one in usual(CASE, leave=["bed.depth"])]
    plant = {"plant.weight", "plant.cg_downstream"}  # which this case does not describe
    assert names == [key for key, _, _ in USUAL if key not in {"bed.depth", *plant}]
    dry = SOUND.partition("[water]")[0] + SOUND[SOUND.index("[bed]") :]
    assert "water.flow" not in [one.variable.name for one in usual(case_of(dry))]


def test_what_is_usual_is_cut_where_a_case_ends():
    shallow = SOUND.replace('depth = "1 1/2 in"', 'depth = "1/2 in"').replace('at = "5 ft 2 in"', 'at = "7 ft 4 in"')
    found = {one.variable.name: one for one in usual(case_of(shallow))}
    assert (found["bed.depth"].low, found["bed.depth"].clipped) == (0.0, True)
    assert found["hanger.at"].high < 89.0 and found["hanger.at"].clipped
    assert not found["perch.height"].clipped


def test_a_key_that_touches_nothing_is_refused():
    text = SOUND.replace("[hinge]", '[hinge]\nabove_ground = "50 in"')
    rig = rig_of(text)
    with pytest.raises(CaseError, match="cannot be varied"):
        spread(rig, unknowns=given(rig.case, ["hinge.above_ground=+-2 in"]), samples=10)


def test_a_latin_hypercube_has_one_sample_in_every_stratum():
    found = latin_hypercube(500, unknowns=4, seed=9)
    for column in found.T:
        assert sorted(np.floor(column * 500).astype(int)) == list(range(500))
    assert abs(np.corrcoef(found.T)[0, 1]) < 0.2
    np.testing.assert_array_equal(found, latin_hypercube(500, unknowns=4, seed=9))


def test_distributions_have_their_moments():
    share = latin_hypercube(20000, unknowns=1, seed=2)[:, 0]
    flat = even(share, low=3.0, high=9.0)
    assert (flat.mean(), flat.var()) == pytest.approx((6.0, 3.0), rel=1e-3)
    bell = normal(share, middle=5.0, deviation=2.0)
    # a normal distribution cut at three deviations: variance 1 - 2 c phi(c) / (2 Phi(c) - 1) = 0.97334
    assert (bell.mean(), bell.var() / 4.0) == pytest.approx((5.0, 0.97334), rel=1e-3)
    assert np.abs(bell - 5.0).max() <= CUT * 2.0


def test_ranks_share_ties_and_correlation_follows_order_alone():
    np.testing.assert_array_equal(ranks(np.array([3.0, 1.0, 3.0, 2.0])), [3.5, 1.0, 3.5, 2.0])
    x = np.linspace(0.0, 4.0, 50)
    up, down, flat = (centered_ranks(values) for values in (np.exp(x), -(x**3), np.ones(50)))
    assert rank_correlation(centered_ranks(x), other=up) == pytest.approx(1.0)
    assert rank_correlation(centered_ranks(x), other=down) == pytest.approx(-1.0)
    assert rank_correlation(centered_ranks(x), other=flat) == 0.0


def test_rank_correlation_is_that_of_an_outside_program():
    stats = pytest.importorskip("scipy.stats")
    draw = np.random.default_rng(6)
    one, other = draw.integers(0, 9, 200).astype(float), draw.normal(size=200)
    other = other + 0.3 * one
    found = rank_correlation(centered_ranks(one), other=centered_ranks(other))
    assert found == pytest.approx(stats.spearmanr(one, other).statistic, rel=1e-12)


def test_the_interval_of_a_chance():
    assert upper_end(0, samples=1000) == 0.003
    assert upper_end(1000, samples=1000) == 1.0
    # Wilson's score, 1.96 for 95 %: (0.5 + 0.00192 + 1.96 sqrt(0.00025 + 9.6e-7)) / 1.00384, and for 10 of 100
    assert upper_end(500, samples=1000) == pytest.approx(0.53093, abs=1e-5)
    assert upper_end(10, samples=100) == pytest.approx(0.17437, abs=1e-5)
    assert upper_end(0, samples=2) == 1.0


def test_the_result_is_json_and_reads_at_70_columns():
    found = spread(RIG, unknowns=usual(CASE), samples=40, only=PACKED)
    for system in ("us", "si"):
        told = spread_result(found, case=CASE, system=system)
        json.dumps(told, allow_nan=False)
        screen = spread_screen(told, look=Look(70))
        assert screen.isascii() and max(map(len, screen.splitlines())) <= 70
    assert found.not_assessed and "Nothing checked is over in any of 40 samples" in screen  # the rig is not whole


def test_samples_at_the_ends_of_what_is_not_known_stand_first():
    """One unknown: the lowest two and the highest two. Two: also the four that are furthest out in both."""
    values = np.random.default_rng(5).permutation(100).astype(float)
    order = extremes_first(values[:, None], most=80)
    assert set(values[order[:4]]) == {0.0, 1.0, 98.0, 99.0} and sorted(order) == list(range(100))
    grid = np.stack(np.meshgrid(np.arange(11.0), np.arange(11.0)), axis=-1).reshape(-1, 2)
    grid += 1e-3 * np.arange(121.0)[:, None] * [1.0, -1.0]  # no two alike
    first = {tuple(np.round(grid[i]).astype(int)) for i in extremes_first(grid, most=80)[:12]}
    assert first >= {(0, 0), (0, 10), (10, 0), (10, 10)}
    assert len(set(extremes_first(grid, most=5)[:5])) == 5


@pytest.mark.parametrize("seed", range(4))
def test_of_each_two_unknowns_those_furthest_out_in_both_stand_first(seed):
    """Behind the four ends of each of two: by rank, as an outside program has it, the most of the lesser, four ways."""
    stats = pytest.importorskip("scipy.stats")
    values = np.random.default_rng(seed).normal(size=(20_000, 2))
    out = np.stack([stats.rankdata(column) - 10_000.5 for column in values.T], axis=-1)
    ends = [int(np.argsort(column)[place]) for place in (0, -1, 1, -2) for column in values.T]
    both = [int((out * way).min(-1).argmax()) for way in ((1, 1), (1, -1), (-1, 1), (-1, -1))]
    assert set(extremes_first(values, most=80)[:12].tolist()) >= {*ends, *both}


def test_a_row_that_governs_in_the_tail_alone_is_not_missed(monkeypatch):
    """However bad the choice of rows: what the few rows leave under 100 % and all rows do not is looked at again.

    The few rows are made to forget every part of the line, which is what governs; the chance must be that of all rows.
    """
    unknowns = given(CASE, ["line.wear=0 %..88 %"])
    honest = study.few_uses

    def forgetful(batch, few, **more):
        uses, stops = honest(batch, few, **more)
        return {part: 0.9 * use for part, use in uses.items()}, stops

    whole = spread(RIG, unknowns=unknowns, samples=640, only=PACKED, whole=True)
    monkeypatch.setattr(study, "few_uses", forgetful)
    few = spread(RIG, unknowns=unknowns, samples=640, only=PACKED)
    assert few.tried is not None and 0.0 < whole.over < 1.0 and few.over == whole.over

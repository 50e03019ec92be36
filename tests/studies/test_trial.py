"""The few rows of a long spread study come to what all rows come to, from above."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.output.spread.view import spread_result, spread_screen
from rigcheck.parts import registry as parts
from rigcheck.studies.spread.few import few_uses, flagged
from rigcheck.studies.spread.study import WORTH, spread
from rigcheck.studies.spread.trial import FIRST, MOST_SHORT, NEXT, Trial, choose, few_rows, shortfall
from rigcheck.studies.spread.unknowns import given, usual

CASES = Path(__file__).parents[2] / "cases"
NAMES = sorted(path.stem for path in CASES.glob("*.toml"))


def drawn(name: str, *, count: int, seed: int) -> Rig:
    case = read_case(CASES / f"{name}.toml")
    draw = np.random.default_rng(seed)
    return varied(Rig(case), {one.variable.key: one.values(draw.random(count)) for one in usual(case)})


def highest_uses(rig: Rig, *, count: int) -> dict[str, np.ndarray]:
    """Highest use of each part by the assessment that `check` makes."""
    found: dict[str, np.ndarray] = {}
    for one in assess(rig).worst:
        here = np.broadcast_to(one.utilization, (count,))
        found[one.check.part] = np.maximum(found.get(one.check.part, here), here)
    return found


@pytest.mark.parametrize("name", ["lower-hatch"])
def test_a_trial_sees_what_the_check_says(name):
    rig = drawn(name, count=6, seed=4)
    uses, stops = Trial().look(rig, count=6)
    for part, expected in highest_uses(rig, count=6).items():
        np.testing.assert_allclose(uses[part], expected, rtol=1e-9, err_msg=part)
    found = assess(rig)
    codes = {flag.code: flag.where.any((-3, -2, -1)) for flag in found.flags if flag.stops}
    assert {code for code, where in stops.items() if where.any()} == set(codes)
    for code, where in stops.items():
        np.testing.assert_array_equal(where, np.broadcast_to(codes[code], (6,)), err_msg=code)


@pytest.mark.parametrize("name", ["sawpit-bend"])
def test_few_rows_are_never_above_all_rows_and_hardly_below(name):
    """At the kept rows the very same checks are made, so no use can be higher there than over all rows."""
    tried, _, _ = few_rows(drawn(name, count=600, seed=1), samples=600, only=None, tell=lambda _: None)
    assert tried.few is not None and tried.kept < tried.rows / 4
    other = drawn(name, count=40, seed=2)
    whole = highest_uses(other, count=40)
    few, _ = few_uses(other, tried.few)
    for part, use in few.items():
        assert np.all(use <= whole[part] * (1.0 + 1e-9) + 1e-12), part
    assert max(shortfall(few, whole).values()) <= MOST_SHORT


def test_kept_rows_of_one_design_are_those_of_its_check():
    """Nothing spread: the worst row of every part is among the kept ones, so the uses are those of the check."""
    case = read_case(CASES / "larkspur-bar.toml")
    found = spread(Rig(case), unknowns=given(case, ["bed.density=+-0 %"]), samples=WORTH)
    assert found.tried is not None and found.tried.samples < WORTH
    now = highest_uses(Rig(case), count=1)
    for part in found.parts:
        assert part.quantiles == pytest.approx((float(now[part.name][0]),) * 4, rel=1e-9), part.name


def test_chances_and_quantiles_are_those_of_every_row_from_above():
    case = read_case(CASES / "larkspur-bar.toml")
    unknowns = usual(case)
    few, whole = (spread(Rig(case), unknowns=unknowns, samples=WORTH, whole=one) for one in (False, True))
    assert whole.tried is None and few.tried is not None
    assert few.over >= whole.over
    assert few.over - whole.over <= 0.01
    assert few.stopped == whole.stopped
    parts_of = {part.name: part for part in few.parts}
    for part in whole.parts:
        for here, there in zip(parts_of[part.name].quantiles, part.quantiles, strict=True):
            assert there * (1.0 - 1e-9) <= here <= there * (1.0 + 2.0 * MOST_SHORT), part.name
        assert parts_of[part.name].matters == pytest.approx(part.matters, abs=0.02)


def test_choice_that_fails_is_made_anew():
    """Rows chosen in a box that is never heavy fall short where it is; the trial sees that and says how much."""
    case = read_case(CASES / "larkspur-bar.toml")
    light, heavy = (varied(Rig(case), {"bed.density": np.full(8, d), "bed.depth": np.full(8, e)})
                    for d, e in ((0.03, 0.1), (0.12, 5.0)))  # fmt: skip
    trial = Trial()
    trial.look(light, count=8)
    few, whole = few_uses(heavy, choose(trial))[0], highest_uses(heavy, count=8)
    assert max(shortfall(few, whole).values()) > MOST_SHORT
    both, batch = {}, (light, heavy)
    for key in ("bed.density", "bed.depth"):
        parts_ = [np.repeat(rig.varied[key][:1], count) for rig, count in zip(batch, (FIRST, 200), strict=True)]
        both[key] = np.concatenate(parts_)
    tried, uses, _ = few_rows(varied(Rig(case), both), samples=FIRST + 200, only=None, tell=lambda _: None)
    assert tried.few is not None and tried.samples > FIRST + NEXT
    assert max(shortfall(few_uses(heavy, tried.few)[0], whole).values()) <= MOST_SHORT
    assert all(len(use) == tried.samples for use in uses.values())


def test_no_other_builder_of_findings_stops_a_rig():
    """Findings that stop come from the builders that a long study looks at."""
    for name in NAMES:
        solution = solve(Rig(read_case(CASES / f"{name}.toml")))
        for build in (build for part in parts.PARTS for build in part.findings):
            stops = [flag.code for flag in build(solution) if flag.stops]
            assert build in parts.stoppers() or not stops, (name, build.__name__, stops)


def test_finding_counts_only_under_bounds_that_apply():
    solution = solve(Rig(read_case(CASES / "larkspur-bar.toml")), only=frozenset({"empty", "packed"}))
    flags = [flag for build in parts.stoppers() for flag in build(solution)]
    for flag in flags:
        plain = (np.broadcast_to(flag.where, solution.shape) & solution.allowed[..., None]).any((-2, -1))
        np.testing.assert_array_equal(flagged(flag, allowed=solution.allowed, shape=solution.shape), plain)


def test_the_screen_says_in_how_many_rows():
    case = read_case(CASES / "larkspur-bar.toml")
    found = spread(Rig(case), unknowns=usual(case), samples=WORTH)
    told = spread_result(found, case=case)
    assert told["tried"]["kept"] < told["tried"]["rows"] and told["tried"]["samples"] < WORTH
    assert str(told["tried"]["rows"]) in spread_screen(told)
    few = spread_result(spread(Rig(case), unknowns=usual(case), samples=12, only=frozenset({"packed"})), case=case)
    assert few["tried"] is None and "every load case" in " ".join(spread_screen(few).split())

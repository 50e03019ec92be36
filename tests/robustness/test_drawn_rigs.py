"""Rigs drawn by lot, plain ones and ones at every limit, through the whole check: numbers, balance, JSON.

A few of them; tests/bench/many_rigs.py and length_rigs.py draw at length.
"""

from random import Random

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.haul.study import haul
from rigcheck.studies.length.study import sweep
from rigcheck.studies.vary.variable import variable
from tests.bench.many_rigs import COMMANDS, WIDTHS
from tests.support.extreme_rigs import extreme_case, toml_of
from tests.support.lot import batch_of, call, nan_in, run_once, run_whole, unlike_its_row, worked_once, wrong_with
from tests.support.strategies import extreme_cases
from tests.support.trapped_rigs import with_traps
from tests.support.whole_rig import starter_text

STRUCTURES, SIZES = 4, 11


@pytest.mark.parametrize("seed", range(STRUCTURES))
def test_a_batch_of_rigs_is_all_numbers_in_balance_and_each_is_its_row(seed):
    batch, cases = batch_of(seed, size=SIZES)
    found = assess(batch)
    assert found.utilization.shape == (SIZES,)
    assert wrong_with(found) == []
    for row in (0, SIZES - 1):
        assert unlike_its_row(found, row=row, alone=assess(Rig(cases[row]))) == []
    if batch.has("fold.to"):
        assert nan_in(fold_of(found)) == [] and nan_in(haul(batch)) == []


@pytest.mark.parametrize("seed", range(2))
def test_the_length_of_a_rig_comes_out_in_bands_of_numbers(seed):
    _, cases = batch_of(seed, size=1)
    found = sweep(Rig(cases[0]), variable=variable(cases[0], "box.length"), points=5)
    assert nan_in(found) == [] and np.isfinite(found.judged.use).all() and (np.diff(found.values) > 0.0).all()
    for band in found.bands:
        assert found.values[0] <= band.low <= band.high <= found.values[-1]


@pytest.mark.parametrize("start", [8])
def test_single_rigs_come_out_of_check_fold_haul_and_length_readable(start, tmp_path):
    for seed in range(start, start + 4):
        data, width = extreme_case(Random(f"single {seed}")), WIDTHS[seed % len(WIDTHS)]
        assert run_once(data, folder=tmp_path, commands=COMMANDS, width=width, cures=seed % 10 == 0) == [], seed


def test_a_rig_with_traps_and_a_gate_comes_out_of_check_fold_and_haul_readable(tmp_path):
    data = with_traps(extreme_case(Random("single 9")), seed=9)
    assert data is not None and "gate" in data and len(data["trap"]) > 1
    assert run_once(data, folder=tmp_path, commands=("check", "fold", "haul"), width=80, cures=False) == []


@pytest.mark.parametrize("command", [one for one in COMMANDS if not one.startswith("length")])
def test_a_rig_worked_out_once_tells_the_same(command, tmp_path):
    name, *more = command.split()
    file = tmp_path / "rig.toml"
    file.write_text(starter_text())
    anew = [call(name, str(file), *more, *last) for last in ((), ("--json",))]
    with worked_once():
        once = [call(name, str(file), *more, *last) for last in ((), ("--json",), (), ("--json",))]
    assert once == [*anew, *anew]
    assert all(code in (0, 1, 3) and told and not wrong for code, told, wrong in anew)


@pytest.mark.parametrize("start", [4])
def test_the_other_commands_bear_them_and_the_worked_calculation_agrees(start, tmp_path):
    commands = ("working", "card", "proof", "spread --samples 10")
    for seed in range(start, start + 2):
        assert run_whole(extreme_case(Random(f"other {seed}")), folder=tmp_path, commands=commands) == [], seed


@given(extreme_cases())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_case_written_to_a_file_reads_as_the_same_case(data):
    assert read_case_text(toml_of(data)) == check_case(data)


def test_the_lot_reaches_far():
    """Each kind of state, verdict and stop is met, or the drawing has gone tame."""
    drawn = [extreme_case(Random(f"single {seed}")) for seed in range(200)]
    assert {data.get("basis") for data in drawn} >= {"lifting", "frame"}
    for table in ("water", "fold", "measured", "cross_member"):
        assert 10 < sum(table in data for data in drawn) < 200
    lengths = [check_case(data).box.length for data in drawn]
    assert min(lengths) < 30.0 and max(lengths) > 300.0


def test_what_is_wrong_is_seen():
    found = assess(Rig(check_case(extreme_case(Random("seen")))))
    assert wrong_with(found) == []
    found.solution.held.tension[0, 0, 0] = np.nan
    found.solution.demand.residual[0, 0] = 1e9
    told = " ".join(wrong_with(found))
    assert "NaN in .solution.held.tension" in told and "held is not finite" in told and "left over" in told

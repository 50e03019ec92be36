"""Parked rows on lines and on tie-downs: paired by wind and lean, whichever of them are there and in whatever order."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.folded import folded, twins
from rigcheck.analysis.rail_section import rail_section
from rigcheck.analysis.solve import layout
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig
from rigcheck.loads.steel import take_off
from rigcheck.parts.tie_down.checks import folded_flags
from rigcheck.studies.spread.study import spread
from rigcheck.studies.spread.unknowns import given

CASES = Path(__file__).parents[2] / "cases"
RIG = Rig(read_case(CASES / "larkspur-bar.toml"))


def some(places=None):
    found = folded(RIG, layout=layout(RIG), pieces=take_off(RIG), section=rail_section(RIG), places=places)
    assert found is not None
    return found


def parked(code: str, places=None) -> dict[frozenset, bool]:
    found = some(places)
    flag = next(one for one in folded_flags(found, before=0) if one.code == code)
    where = np.broadcast_to(flag.where, (len(found.rows), 1, 1))[:, 0, 0]
    return {frozenset(row.variant.items()): bool(on) for row, on in zip(found.rows, where, strict=True)}


def test_the_ground_leans_with_the_wind_and_both_ways_across_it():
    rows = [row for row in some().rows if row.state == "parked"]
    assert len(rows) == 16
    for row in rows:
        x, y, z = (float(part) for part in row.gravity)
        assert (abs(x), abs(y), z) == pytest.approx((np.tan(np.radians(2.0)), np.tan(np.radians(2.0)), -1.0))
        wind = row.variant["wind_to"]
        assert np.sign({"x": x, "y": y}[wind[1]]) == {"+": 1.0, "-": -1.0}[wind[0]]


def test_rows_are_paired_by_name():
    rows = some().rows
    for order in (rows, rows[::-1], (*rows[5:], *rows[:5])):
        for lined, strapped in twins(order).items():
            one, other = dict(order[lined].variant), dict(order[strapped].variant)
            assert one.pop("held_by") == "lines" and other.pop("held_by") == "tie-downs" and one == other
    assert len(twins(rows)) == 8 and twins(rows[:8]) == {}


@pytest.mark.parametrize("code", ["parked_needs_tie_downs", "parked_falls_inward", "parked_falls_outward"])
def test_a_few_rows_say_what_all_of_them_say(code):
    whole = parked(code)
    few = parked(code, places=[9, 1, 8, 0, 20])
    assert few == {name: whole[name] for name in few}


def test_spread_goes_on_with_unequal_numbers_of_parked_rows():
    found = spread(RIG, unknowns=given(RIG.case, ["wind.parked=60 mph..120 mph", "mat.weight=+-30 %"]), samples=520)
    assert found.samples == 520 and found.tried is not None

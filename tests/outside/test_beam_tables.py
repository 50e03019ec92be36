"""The beam tables against one published beam and against integration of their own moments."""

import numpy as np
import pytest

from tests.outside import beam_tables
from tests.outside.values import check, inputs

SPAN, OVER, STIFF = 70.0, 40.0, 3.0e7


def test_f6_simple_beam():
    example = "aisc_f6_square_hss_beam"
    given = inputs(example)
    span = given["span_ft"] * 12.0
    limit = span / given["limit_divisor"]
    whole = beam_tables.simple_even(given["w_total_kip_per_ft"], span=given["span_ft"], stiffness=1.0)
    live = beam_tables.simple_even(given["w_live_kip_per_ft"] / 12.0, span=span, stiffness=given["e_ksi"])
    check(f"{example}.ma_kip_ft", whole["moment"])
    check(f"{example}.limit_in", limit)
    check(f"{example}.i_required_in4", live["sag"] / limit)


def _deflect(moment, x):
    """Deflection, down positive, from a sagging-positive moment, zero at 0 and SPAN."""
    step = np.diff(x)
    turn = np.concatenate([[0.0], np.cumsum((moment[1:] + moment[:-1]) / 2.0 * step)])
    drop = np.concatenate([[0.0], np.cumsum((turn[1:] + turn[:-1]) / 2.0 * step)]) / STIFF
    return -(drop - np.interp(SPAN, x, drop) / SPAN * x)


X = np.linspace(0.0, SPAN + OVER, 110001)


def _reaction_moment(first, second):
    return first * X + second * np.maximum(X - SPAN, 0.0)


@pytest.mark.parametrize("case", ["tip_load", "even_on_overhang", "even_everywhere"])
def test_overhang_against_integration(case):
    size = 300.0 if case == "tip_load" else 4.0
    table = getattr(beam_tables, case)(size, span=SPAN, over=OVER, stiffness=STIFF)
    load = {
        "tip_load": 0.0 * X,
        "even_on_overhang": -size * np.maximum(X - SPAN, 0.0) ** 2 / 2.0,
        "even_everywhere": -size * X**2 / 2.0,
    }[case]
    moment = _reaction_moment(table["first"], table["second"]) + load
    assert moment[-1] == pytest.approx(0.0, abs=1e-6 * size)
    support = table.get("moment", table.get("moment_support"))
    assert -np.interp(SPAN, X, moment) == pytest.approx(support, rel=1e-6)
    drop = _deflect(moment, X)
    assert drop[-1] == pytest.approx(table["tip"], rel=1e-5)
    if case == "tip_load":
        assert -drop.min() == pytest.approx(table["rise"], rel=1e-5)
        assert X[drop.argmin()] == pytest.approx(table["rise_at"], abs=0.01)
    if case == "even_everywhere":
        assert moment.max() == pytest.approx(table["moment_span"], rel=1e-6)


def test_simple_beams_against_integration():
    x = np.linspace(0.0, SPAN, 70001)
    table = beam_tables.simple_even(4.0, span=SPAN, stiffness=STIFF)
    moment = beam_tables.simple_even_moment(4.0, span=SPAN, x=x)
    assert moment.max() == pytest.approx(table["moment"])
    assert _deflect(moment, x).max() == pytest.approx(table["sag"], rel=1e-6)
    center = beam_tables.simple_center(300.0, span=SPAN, stiffness=STIFF)
    moment = 150.0 * np.minimum(x, SPAN - x)
    assert moment.max() == pytest.approx(center["moment"])
    assert center["reaction"] == 150.0
    assert _deflect(moment, x).max() == pytest.approx(center["sag"], rel=1e-6)

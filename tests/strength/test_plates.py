"""Thin sheet: effective width, crippling, floor strips and feet."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.bases import FRAME, LIFTING
from rigcheck.strength.members import plates, strips

E = 29.0e6


def test_effective_width_by_hand():
    critical = 4.0 * np.pi**2 * E / (12.0 * 0.91) * (0.1 / 8.0) ** 2
    slenderness = np.sqrt(30.0e3 / critical)
    found = plates.effective_width(8.0, thickness=0.1, stress=30.0e3)
    assert plates.plate_slenderness(8.0, thickness=0.1, stress=-30.0e3) == pytest.approx(slenderness)
    assert found == pytest.approx(8.0 * (1.0 - 0.22 / slenderness) / slenderness)
    free = plates.effective_width(
        8.0, thickness=0.1, stress=30.0e3, edges=0.43
    )  # plate buckling coefficient of one free edge, AISI S100 (memory)
    lean = slenderness * np.sqrt(4.0 / 0.43)
    assert free == pytest.approx(8.0 * (1.0 - 0.22 / lean) / lean)


def test_full_width_up_to_its_limit():
    stress = 0.673**2 * 4.0 * np.pi**2 * E / (12.0 * 0.91) * (0.1 / 3.0) ** 2
    assert plates.effective_width(3.0, thickness=0.1, stress=stress * 0.999) == 3.0
    assert plates.effective_width(3.0, thickness=0.1, stress=stress * 1.02) < 3.0
    assert plates.effective_width(3.0, thickness=0.1, stress=stress * 1.001) == pytest.approx(3.0, rel=2e-3)
    assert plates.effective_width(3.0, thickness=0.1, stress=stress * 1.0001) <= 3.0
    assert plates.effective_width(3.0, thickness=0.1, stress=0.0) == 3.0
    assert plates.effective_width(3.0, thickness=0.0, stress=1.0) == pytest.approx(0.0, abs=1e-3)


WEB = plates.Web(thickness=0.0747, height=7.0, bearing=2.0, bend_radius=0.0747, fy=33.0e3)


def test_crippling_by_hand():
    t = 0.0747
    inside = 13.0 * t**2 * 33.0e3 * (1.0 - 0.32) * (1.0 + 0.10 * np.sqrt(2.0 / t)) * (1.0 - 0.01 * np.sqrt(7.0 / t))
    end = 4.0 * t**2 * 33.0e3 * (1.0 - 0.40) * (1.0 + 0.60 * np.sqrt(2.0 / t)) * (1.0 - 0.03 * np.sqrt(7.0 / t))
    assert plates.web_crippling(WEB, basis=FRAME) == pytest.approx(inside / 1.80)
    assert plates.web_crippling(replace(WEB, at_end=True), basis=FRAME) == pytest.approx(end / 1.80)
    assert plates.web_crippling(WEB, basis=LIFTING) == pytest.approx(inside / 1.80 * 1.67 / 3.0)


def test_crippling_limits():
    long = plates.web_crippling(replace(WEB, bearing=np.array([14.0, 40.0])), basis=FRAME)
    assert long[0] == long[1]
    spread = plates.web_crippling(replace(WEB, height=14.9, bearing=np.array([210.0, 400.0]) * 0.0747), basis=FRAME)
    assert spread[1] == pytest.approx(spread[0])
    assert plates.web_crippling(replace(WEB, bend_radius=1.0), basis=FRAME) == 0.0
    assert plates.web_crippling(replace(WEB, thickness=0.0), basis=FRAME) == 0.0


def _moments(spans, *, count=4000):
    """Largest moment and sag over w L^2 and w L^4/EI of equal spans on knife edges, by the three-moment equation."""
    over = np.zeros(spans + 1)
    if spans > 1:
        matrix = 4.0 * np.eye(spans - 1) + np.eye(spans - 1, k=1) + np.eye(spans - 1, k=-1)
        over[1:-1] = np.linalg.solve(matrix, np.full(spans - 1, -0.5))
    x = np.linspace(0.0, 1.0, count)
    largest, sag = 0.0, 0.0
    for left, right in pairwise(over):
        moment = left * (1.0 - x) + right * x + x * (1.0 - x) / 2.0
        largest = max(largest, np.abs(moment).max())
        step = x[1]
        turn = np.concatenate([[0.0], np.cumsum((moment[1:] + moment[:-1]) / 2.0 * step)])
        drop = np.concatenate([[0.0], np.cumsum((turn[1:] + turn[:-1]) / 2.0 * step)])
        sag = max(sag, np.abs(drop - drop[-1] * x).max())
    return largest, sag


@pytest.mark.parametrize(("spans", "digits"), [(1, 1e-6), (2, 2e-3), (3, 0.08), (4, 0.07), (5, 0.08), (9, 0.08)])
def test_strip_factors_against_continuous_beams(spans, digits):
    moment, sag = _moments(spans)
    ours = strips.strip_moment(1.0, span=1.0, spans=spans)
    assert moment <= ours * (1.0 + 1e-3)
    assert ours <= moment * (1.0 + digits)
    stiff = strips.strip_sag(1.0, span=1.0, spans=spans, thickness=1.0) * E / 12.0
    assert sag <= stiff * (1.0 + 2e-3)
    assert stiff <= sag * (1.0 + max(digits, 6e-3))


def test_worst_strip_factors_are_met():
    assert strips.strip_moment(1.0, span=1.0, spans=4) == pytest.approx(_moments(4)[0], rel=1e-3)
    assert strips.strip_sag(-1.0, span=2.0, spans=3, thickness=0.5) == pytest.approx(
        _moments(3)[1] * 16.0 * 12.0 / (E * 0.125), rel=3e-3
    )


def test_feet():
    assert strips.foot_width(4.0, span=20.0, floor=30.0) == pytest.approx(16.0)
    assert strips.foot_width(4.0, span=20.0, floor=14.0) == pytest.approx(14.0)
    assert strips.foot_moment(-250.0, foot=4.0, span=20.0, floor=30.0) == pytest.approx(1250.0 / 16.0)


@given(st.floats(0.5, 20.0), st.floats(0.02, 0.3), st.floats(1e3, 50e3), st.floats(1.0, 2.0))
def test_thicker_sheet_works_over_more_width(width, thickness, stress, more):
    before = plates.effective_width(width, thickness=thickness, stress=stress)
    assert plates.effective_width(width, thickness=thickness * more, stress=stress) >= before * (1.0 - 1e-12)
    assert plates.effective_width(width * more, thickness=thickness, stress=stress) >= before * (1.0 - 1e-12)
    assert before <= width


@given(st.floats(0.03, 0.3), st.floats(1.0, 2.0), st.floats(0.1, 10.0), st.booleans())
def test_thicker_walls_cripple_later(thickness, more, bearing, at_end):
    web = replace(WEB, thickness=thickness, bearing=bearing, at_end=at_end)
    before = plates.web_crippling(web, basis=FRAME)
    assert plates.web_crippling(replace(web, thickness=thickness * more), basis=FRAME) >= before * (1.0 - 1e-12)
    assert plates.web_crippling(replace(web, bearing=bearing * more), basis=FRAME) >= before * (1.0 - 1e-12)

"""Top chord held by U-frames: against an eigenvalue solution of the same bar, and its limits."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.bases import ULTIMATE
from rigcheck.strength.members import chord

E = 29.0e6
FRAME = chord.UFrame(height=7.0, wall=0.1046, stiffener=0.0, width=30.0, cross_member=0.188, spacing=20.0)
BAR = chord.Chord(area=0.608, inertia=0.188, length=110.0, ends_held=1.0, fy=46.0e3)


def test_stiffness_by_hand():
    upright = 20.0 * 0.1046**3 / 12.0
    give = 343.0 / (3.0 * E * upright) + 49.0 * 30.0 / (2.0 * E * 0.188)
    assert chord.side_stiffness(FRAME) == pytest.approx(1.0 / (20.0 * give))
    stiffer = replace(FRAME, stiffener=0.05)
    give = 343.0 / (3.0 * E * (upright + 0.05)) + 49.0 * 30.0 / (2.0 * E * 0.188)
    assert chord.side_stiffness(stiffer) == pytest.approx(1.0 / (20.0 * give))
    # a wall alone on a rigid cross-member: a plate strip fixed at its foot
    assert chord.side_stiffness(replace(FRAME, cross_member=1e9)) == pytest.approx(E * 0.1046**3 / 4.0 / 343.0)
    assert chord.side_stiffness(replace(FRAME, wall=0.0)) == pytest.approx(0.0, abs=1e-6)


def _eigenvalue(*, stiffness, inertia, length, free=False, count=96):
    """Smallest buckling load of a bar on an even foundation, finite elements of beam, written out here."""
    h = length / count
    unit = np.diag([1.0, h, 1.0, h])  # rotations times the element length
    bend = [[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]]
    push = [[36, 3, -36, 3], [3, 4, -3, -1], [-36, -3, 36, -3], [3, -1, -3, 4]]
    base = [[156, 22, 54, -13], [22, 4, 13, -3], [54, 13, 156, -22], [-13, -3, -22, 4]]
    holds = unit @ (E * inertia / h**3 * np.array(bend) + stiffness * h / 420.0 * np.array(base)) @ unit
    pushes = unit @ np.array(push) @ unit / (30.0 * h)
    size = 2 * (count + 1)
    elastic, geometric = np.zeros((size, size)), np.zeros((size, size))
    for element in range(count):
        at = slice(2 * element, 2 * element + 4)
        elastic[at, at] += holds
        geometric[at, at] += pushes
    keep = np.arange(size) if free else np.delete(np.arange(size), [0, size - 2])
    lower = np.linalg.cholesky(elastic[np.ix_(keep, keep)])
    inner = np.linalg.solve(lower, np.linalg.solve(lower, geometric[np.ix_(keep, keep)]).T)
    return 1.0 / np.linalg.eigvalsh(inner).max()


@pytest.mark.parametrize("length", [60.0, 110.0, 200.0])
def test_ends_held_against_eigenvalues(length):
    bar = replace(BAR, length=length)
    wide_open = replace(FRAME, spacing=20.0)
    stiffness = chord.side_stiffness(wide_open)
    exact = _eigenvalue(stiffness=stiffness, inertia=0.188, length=length)
    ours = chord.chord_buckling(bar, frame=wide_open)
    # 2 sqrt(k E I) is the floor of all half-wave numbers: never over, and near it once two half-waves fit
    assert ours <= exact * (1.0 + 1e-6)
    assert ours == pytest.approx(2.0 * np.sqrt(stiffness * E * 0.188))
    if length >= 2.0 * np.pi * (E * 0.188 / stiffness) ** 0.25:
        assert exact <= ours * 1.14


def test_free_end_against_eigenvalues():
    # a long bar on its foundation with ends that nothing holds
    stiffness = chord.side_stiffness(FRAME)
    exact = _eigenvalue(stiffness=stiffness, inertia=0.188, length=800.0, free=True, count=128)
    ours = chord.chord_buckling(replace(BAR, length=800.0, ends_held=0.0), frame=FRAME)
    assert ours == pytest.approx(exact, rel=0.02)
    assert ours == pytest.approx(np.sqrt(stiffness * E * 0.188))


def test_limits():
    stiff = replace(FRAME, wall=2.0, cross_member=1e6)
    assert chord.chord_buckling(BAR, frame=stiff) == pytest.approx(np.pi**2 * E * 0.188 / 400.0)
    loose = replace(FRAME, wall=1e-4)
    assert chord.chord_buckling(BAR, frame=loose) == pytest.approx(np.pi**2 * E * 0.188 / 110.0**2)
    free = replace(BAR, ends_held=0.0)
    assert chord.chord_buckling(free, frame=loose) == pytest.approx(0.25 * np.pi**2 * E * 0.188 / 110.0**2)


def test_stress_is_the_column_curve():
    load = chord.chord_buckling(BAR, frame=FRAME)
    elastic = load / 0.608
    expected = 0.658 ** (46.0e3 / elastic) * 46.0e3 if elastic * 2.25 >= 46.0e3 else 0.877 * elastic
    assert chord.chord_allowable(BAR, frame=FRAME, basis=ULTIMATE) == pytest.approx(expected)
    assert chord.chord_allowable(replace(BAR, area=0.0), frame=FRAME, basis=ULTIMATE) == 0.0


def nominal(bar, *, frame):
    return chord.chord_allowable(bar, frame=frame, basis=ULTIMATE)


@given(st.floats(0.02, 0.4), st.floats(1.0, 2.0), st.floats(2.0, 16.0), st.floats(5.0, 60.0))
def test_more_holding_never_hurts(wall, more, height, spacing):
    frame = replace(FRAME, wall=wall, height=height, spacing=spacing)
    before = nominal(BAR, frame=frame)
    for name, factor in (("wall", more), ("cross_member", more), ("stiffener", more), ("height", 1.0 / more)):
        changed = replace(frame, **{name: getattr(frame, name) * factor})
        assert nominal(BAR, frame=changed) >= before * (1.0 - 1e-9), name
    assert nominal(BAR, frame=replace(frame, spacing=spacing / more)) >= before * (1.0 - 1e-9)
    assert nominal(replace(BAR, inertia=BAR.inertia * more), frame=frame) >= before * (1.0 - 1e-9)

"""Several actions at once."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength import interaction

SHARE = st.floats(-2.0, 2.0)


def test_axial_force_with_bending():
    found = interaction.axial_and_bending(np.array([0.1, -0.1, 0.2, 0.5]), major=0.3, minor=-0.2)
    assert found == pytest.approx([0.55, 0.55, 0.2 + 8.0 / 9.0 * 0.5, 0.5 + 8.0 / 9.0 * 0.5])
    # both branches meet on the limit itself; over it the second one holds the first up
    assert interaction.axial_and_bending(0.2, major=1.8) == pytest.approx(1.9)
    assert interaction.axial_and_bending(0.2, major=0.45) == pytest.approx(0.6)
    assert interaction.axial_and_bending(0.199, major=0.45) == pytest.approx(0.5495)
    low = interaction.axial_and_bending(0.19999, major=0.9)
    assert low == pytest.approx(interaction.axial_and_bending(0.2, major=0.9), abs=1e-4)


def test_stress_sum_and_torsion():
    assert interaction.stresses(-0.2, major=0.3, minor=-0.1) == pytest.approx(0.6)
    assert interaction.with_torsion(0.1, bending=-0.2, shear=0.3, torsion=-0.4) == pytest.approx(0.3 + 0.49)


def test_member_counts_torsion_from_a_fifth():
    def found(torsion):
        return interaction.member(0.1, major=0.3, minor=0.0, shear=0.4, torsion=torsion)

    assert found(0.2) == pytest.approx(0.4)  # shear alone is the worst
    assert found(0.2002) == pytest.approx(0.4 + 0.6002**2)
    assert found(-0.5) == pytest.approx(0.4 + 0.81)
    assert interaction.member(0.0, major=0.0, minor=0.0, shear=0.0, torsion=0.5) == 0.5


@given(SHARE, SHARE, SHARE, SHARE, SHARE, st.floats(1.0, 1.5))
def test_more_of_anything_never_helps(axial, major, minor, shear, torsion, more):
    parts = {"axial": axial, "major": major, "minor": minor, "shear": shear, "torsion": torsion}
    before = interaction.member(**parts)
    assert before >= max(abs(shear), abs(torsion), abs(axial) / 2.0, abs(major) * 8.0 / 9.0) * (1.0 - 1e-12)
    for name in parts:
        assert interaction.member(**{**parts, name: parts[name] * more}) >= before * (1.0 - 1e-12)

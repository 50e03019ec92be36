"""Several actions at once."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.strength.bases import FRAME, LIFTING
from rigcheck.strength.members import interaction

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


def test_torsion():
    assert interaction.with_torsion(0.1, bending=-0.2, shear=0.3, torsion=-0.4) == pytest.approx(0.3 + 0.49)


def test_member_counts_torsion_from_a_fifth():
    def found(torsion):
        return interaction.member(0.1, major=0.3, minor=0.0, shear=0.4, torsion=torsion, basis=FRAME)

    assert found(0.2) == pytest.approx(0.4)  # shear alone is the worst
    assert found(0.2002) == pytest.approx(0.4 + 0.6002**2)
    assert found(-0.5) == pytest.approx(0.4 + 0.81)
    assert interaction.member(0.0, major=0.0, minor=0.0, shear=0.0, torsion=0.5, basis=FRAME) == 0.5


def test_a_lifting_device_adds_its_shares_whole():
    """BTH-1 3-2.4 adds axial force and bending at any size; 3-2.5 puts sqrt(f^2 + 3 fv^2) over Fy/Nd (memory)."""

    def found(basis, **shares):
        parts = {"axial": 0.0, "major": 0.0, "minor": 0.0, "shear": 0.0, "torsion": 0.0} | shares
        return interaction.member(**parts, basis=basis)

    assert found(LIFTING, axial=0.1, major=0.5, minor=0.3) == pytest.approx(0.9)
    assert found(FRAME, axial=0.1, major=0.5, minor=0.3) == pytest.approx(0.85)
    assert found(LIFTING, axial=0.4, major=0.5) == pytest.approx(0.9)
    assert found(FRAME, axial=0.4, major=0.5) == pytest.approx(0.4 + 8.0 / 9.0 * 0.5)
    assert found(LIFTING, major=0.6, shear=0.5, torsion=0.1) == pytest.approx(np.hypot(0.6, 0.6))
    assert found(FRAME, major=0.6, shear=0.5, torsion=0.1) == pytest.approx(0.6)
    # where torsion counts, H3-6 can be the more: (0.6) + (0.9)^2 against sqrt(0.36 + 0.81)
    assert found(LIFTING, major=0.6, shear=0.5, torsion=0.4) == pytest.approx(0.6 + 0.81)


@given(SHARE, SHARE, SHARE, SHARE, SHARE)
def test_the_lifting_basis_never_reads_less_of_the_same_shares(axial, major, minor, shear, torsion):
    parts = {"axial": axial, "major": major, "minor": minor, "shear": shear, "torsion": torsion}
    assert interaction.member(**parts, basis=LIFTING) >= interaction.member(**parts, basis=FRAME)


@pytest.mark.parametrize("basis", [FRAME, LIFTING], ids=["frame", "lifting"])
@given(SHARE, SHARE, SHARE, SHARE, SHARE, st.floats(1.0, 1.5))
def test_more_of_anything_never_helps(basis, axial, major, minor, shear, torsion, more):
    parts = {"axial": axial, "major": major, "minor": minor, "shear": shear, "torsion": torsion, "basis": basis}
    before = interaction.member(**parts)
    assert before >= max(abs(shear), abs(torsion), abs(axial) / 2.0, abs(major) * 8.0 / 9.0) * (1.0 - 1e-12)
    for name in ("axial", "major", "minor", "shear", "torsion"):
        assert interaction.member(**{**parts, name: parts[name] * more}) >= before * (1.0 - 1e-12)

"""Bolts against the published tables of AISC, and bare sheet that is stressed along its plane as well."""

import numpy as np
import pytest

from rigcheck.strength.bases import FRAME
from rigcheck.strength.connections.bolts import bolt_strength
from rigcheck.strength.connections.sheets import plastic_moment


@pytest.mark.parametrize(
    ("grade", "tension", "shear"), [("A307", 9.94, 5.97), ("A325", 19.9, 11.9), ("A490", 25.0, 15.0)]
)
def test_three_quarter_bolts_by_the_manual(grade: str, tension: float, shear: float) -> None:
    """AISC Manual Tables 7-2 and 7-1, ASD, 3/4 in, threads in the shear plane, single shear [kip] (memory)."""
    bolt = bolt_strength(0.75, grade=grade, basis=FRAME)
    assert float(bolt.tension) / 1000.0 == pytest.approx(tension, abs=0.051)
    assert float(bolt.shear) / 1000.0 == pytest.approx(shear, abs=0.051)


def test_a_sheet_that_yields_along_its_plane_bends_no_more() -> None:
    """1/10 in of 36 ksi: 90 lb; at 0.6 of yield 1 - 0.36 of it is left, at yield and past it nothing."""
    left = plastic_moment(0.1, fy=36.0e3, stressed=np.array([0.0, 0.6, -0.6, 1.0, 1.5]))
    assert left.tolist() == pytest.approx([90.0, 57.6, 57.6, 0.0, 0.0])
    assert np.all(left >= 0.0)

"""An angle hung below a floor by both edges, from its corners: L3x3x1/4, open and closed by a plate of 3/8 in."""

from math import sqrt

import numpy as np
import pytest

from rigcheck.strength.members.trough import vee

LEGS = (((0.0, 3.0), (0.0, 0.25)), ((0.0, 0.25), (0.25, 3.0)))  # two rectangles, by the outside of both legs


def integral(of) -> float:
    """Over both legs, two points of Gauss each way: exact for squares."""
    total = 0.0
    for (x0, x1), (y0, y1) in LEGS:
        at = np.array([-1.0, 1.0]) / sqrt(3.0)
        x, y = 0.5 * (x0 + x1 + (x1 - x0) * at), 0.5 * (y0 + y1 + (y1 - y0) * at)
        total += 0.25 * (x1 - x0) * (y1 - y0) * float(of(x[:, None], y[None, :]).sum())
    return total


def test_an_angle_by_its_rectangles():
    """Up is (x + y)/sqrt 2 from its heel; the manual has 1.44 in2 and r_z = 0.592 in, with its fillets."""
    found = vee(3.0, wall=0.25)
    area = integral(lambda x, y: 1.0 + 0.0 * (x + y))
    middle = integral(lambda x, y: (x + y) / sqrt(2.0)) / area
    inertia = integral(lambda x, y: ((x + y) / sqrt(2.0) - middle) ** 2)
    assert float(found.area) == pytest.approx(area) == pytest.approx(1.4375)
    assert sqrt(inertia / area) == pytest.approx(0.592, rel=0.01)
    assert float(found.modulus) == pytest.approx(inertia / max(middle, 3.25 / sqrt(2.0) - middle))
    assert float(found.sheared) == pytest.approx(1.4375 * sqrt(2.0) / 3.0)
    # thin strip: A t^2/3, and t times less of it for the stress; 0.71 E (t/b)^2, F10-8 (memory)
    assert (float(found.constant), float(found.twisted)) == pytest.approx((1.4375 / 48.0, 1.4375 / 12.0))
    assert float(found.buckling) == pytest.approx(0.71 * 29.0e6 / 144.0) and not found.closed


def test_an_angle_closed_by_a_plate_is_a_cell():
    """Middles of the legs 2.875 in long, the plate 4.066 in: a cell of 2.875^2/2 = 4.1328 in2. Bredt."""
    found = vee(3.0, wall=0.25, cover=0.375)
    assert float(found.cell) == pytest.approx(4.1328125) and found.closed
    around = 5.75 / 0.25 + 2.875 * sqrt(2.0) / 0.375
    assert float(found.constant) == pytest.approx(4.0 * 4.1328125**2 / around)
    assert float(found.twisted) == pytest.approx(2.0 * 4.1328125 * 0.25)

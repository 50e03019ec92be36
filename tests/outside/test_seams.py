"""Shear flow along the joints of a beam of pieces, by a textbook's nailed planks."""

import numpy as np

from rigcheck.strength.members.sections import composite, first_moment, rectangles, shear_flow
from tests.outside.values import check


def test_three_nailed_planks():
    planks = rectangles(
        bottom=np.array([0.0, 20.0, 120.0]), depth=np.array([20.0, 100.0, 20.0]), width=np.array([100.0, 20.0, 100.0])
    )
    whole = composite(planks)
    moment = first_moment(planks, section=whole, level=120.0)
    flow = shear_flow(500.0, first_moment=moment, inertia=whole.inertia)
    check("planks_first_moment", moment)
    check("planks_second_moment", whole.inertia)
    check("planks_flow", flow)
    check("planks_nail", flow * 25.0)

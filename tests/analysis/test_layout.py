"""Points of a rig that the case does not give: where they are taken to be."""

import pytest

from rigcheck.analysis.solve import layout
from tests.statics.random_rigs import PLAIN, rig_of


def test_rails_stand_in_the_middle_of_the_side_walls_and_the_hinge_under_the_width():
    """27 in inside and walls of 12 ga: the middles of the walls are 27.1046 in apart."""
    found = layout(rig_of(PLAIN.replace('spacing = "25 in"\n', "", 1)))
    assert float(found.rail_spacing) == pytest.approx(27.0 + 0.1046, abs=1e-4)
    assert float(found.hinge_spacing) == 27.0
    assert float(layout(rig_of(PLAIN)).hinge_spacing) == 25.0

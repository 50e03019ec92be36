"""Unit weights and gauges."""

import pytest

from rigcheck.tables import TableError, materials


def test_gauges():
    sheet = materials.gauge(12)
    assert (sheet.thickness, sheet.weight_per_area * 144.0) == pytest.approx((0.1046, 4.375))
    with pytest.raises(TableError, match="16"):
        materials.gauge(13)


def test_sheet_stands_a_little_above_plate():
    assert materials.sheet_density() / materials.steel_density() == pytest.approx(41.82 / (490.0 / 12.0))


def test_unit_weights_are_per_cubic_inch():
    assert materials.material("water, fresh").unit_weight * 231.0 == pytest.approx(8.34, abs=0.005)  # lb per gallon
    assert materials.material("Gravel, wet").unit_weight * 1728.0 == pytest.approx(125.0)
    assert materials.specific_gravity("Quartz") == 2.65


def test_what_is_not_listed():
    with pytest.raises(TableError, match="gravel, wet"):
        materials.material("gravel")
    with pytest.raises(TableError, match="quartz"):
        materials.specific_gravity("jade")
